//! What foods cost: the newest price of each pack, and a box that takes many at once.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::form::pack_words;
use crate::domain::cost::{Price, PriceId, Prices, read_prices};
use crate::domain::larder::Larder;
use crate::domain::school::Currency;
use crate::web::extract::{Form, Instructor};
use crate::web::form::Field;
use crate::web::frame::{Frame, Section};
use crate::web::{AppState, PageError};

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct PriceForm {
    lines: String,
}

pub async fn show(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let currency = who.school.settings.currency;
    let larder = state.storage.larder(who.school.id).await?;
    let prices = state.storage.prices(who.school.id, currency).await?;
    let frame = Frame::of(&state, &who, Section::Larder);
    let page = PricesPage::new(frame, &prices, &larder, currency, Field::default());
    Ok(Html(page.render()?).into_response())
}

pub async fn add(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<PriceForm>,
) -> Result<Response, PageError> {
    let (currency, at) = (who.school.settings.currency, state.clock.now());
    let larder = state.storage.larder(who.school.id).await?;
    let today = who.school.zone.local(at).date();
    match read_prices(&form.lines, &larder, currency, today) {
        Ok(prices) => {
            let prices: Vec<_> =
                prices.into_iter().map(|it| (PriceId(state.chance.key(at)), it)).collect();
            state.storage.add_prices(who.school.id, currency, &prices).await?;
            Ok(Redirect::to(&state.paths.prices()).into_response())
        }
        Err(problems) => {
            let problems: Vec<String> = problems.iter().map(ToString::to_string).collect();
            let field = Field { typed: form.lines, problem: Some(problems.join(". ")) };
            let prices = state.storage.prices(who.school.id, currency).await?;
            let frame = Frame::of(&state, &who, Section::Larder);
            let page = PricesPage::new(frame, &prices, &larder, currency, field);
            Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
        }
    }
}

#[derive(Template)]
#[template(path = "larder/prices.html")]
pub struct PricesPage {
    frame: Frame,
    currency: &'static str,
    lines: Field,
    rows: Vec<PriceRow>,
}

struct PriceRow {
    food: String,
    address: String,
    pack: String,
    price: String,
    on: String,
}

impl PricesPage {
    fn new(
        frame: Frame,
        prices: &Prices,
        larder: &Larder,
        currency: Currency,
        lines: Field,
    ) -> Self {
        let row = |price: &Price| PriceRow {
            food: larder
                .food(&price.food)
                .map_or_else(|| price.food.to_string(), |food| food.name.clone()),
            address: frame.paths.food(&price.food),
            pack: pack_words(&price.pack),
            price: currency.figure(u32::try_from(price.minor).unwrap_or(u32::MAX)),
            on: price.on.strftime("%-d %B %Y").to_string(),
        };
        let rows = prices.newest().into_iter().map(row).collect();
        Self { rows, currency: currency.code(), lines, frame }
    }
}

/// Both states, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let larder = Larder::shipped();
    let (currency, on) = (Currency::default(), jiff::civil::date(2027, 5, 1));
    let typed = "leeks; 1 kg; 2.40\nsea kale; 200 g; 3.10\nolive oil; a lot; 9";
    let good = read_prices("leeks; 1 kg; 2.40\nolive oil; 1 l; 9.80", &larder, currency, on);
    let prices = Prices::of(currency.code(), good.unwrap_or_default());
    let wrong = read_prices(typed, &larder, currency, on).err().unwrap_or_default();
    let wrong: Vec<String> = wrong.iter().map(ToString::to_string).collect();
    let field = Field { typed: typed.to_owned(), problem: Some(wrong.join(". ")) };
    let page = |prices: &Prices, field| {
        let page = PricesPage::new(Frame::sample(), prices, &larder, currency, field);
        page.render().expect("samples are complete")
    };
    vec![
        ("prices", page(&prices, Field::default())),
        ("prices-none-with-problems", page(&Prices::default(), field)),
    ]
}
