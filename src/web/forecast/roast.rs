//! The forecast of one roast, asked by the instructor for a card or by a student for a table.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use serde::Deserialize;

use super::page::Of;
use super::roast_page::RoastPage;
use super::roast_steps::roast_steps;
use crate::domain::dish::DishId;
use crate::domain::warmth::AskRoast;
use crate::web::extract::{Id, Instructor, Query};
use crate::web::frame::{Frame, HomeAt, Section};
use crate::web::homes::{AtTable, KeyHolder};
use crate::web::{AppState, PageError};

/// Everything may be missing: then the card fills the form in.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct Asked {
    /// Letter of the dish, on the page of a home.
    dish: String,
    /// Line of the step.
    step: String,
    /// Sent by the form; without it the figures of the card stand.
    ask: String,
    across: String,
    long: String,
    weight: String,
    start: String,
    oven: String,
    fan: String,
    pull: String,
    rest: String,
    foil: String,
}

impl Asked {
    fn typed(&self) -> Option<AskRoast> {
        if self.ask.is_empty() {
            return None;
        }
        let it = self.clone();
        Some(AskRoast {
            // What kind of meat it is says the card, so that no minimum is lowered by a choice.
            food: String::new(),
            across: it.across,
            long: it.long,
            weight: it.weight,
            start: it.start,
            oven: it.oven,
            fan: it.fan == "yes",
            pull: it.pull,
            rest_minutes: it.rest,
            foil: it.foil == "yes",
        })
    }

    fn line(&self) -> Option<usize> {
        self.step.parse().ok()
    }
}

pub async fn of_dish(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let dish = state.storage.dish(who.school.id, DishId(id)).await?.ok_or(PageError::NotFound)?;
    let larder = state.storage.larder(who.school.id).await?;
    let profile = state.storage.profile(who.school.id).await?;
    let reading = state.cards.read(dish.card.as_str(), &larder, &[]);
    let page = RoastPage::new(
        Frame::of(&state, &who, Section::Dishes),
        Of {
            title: dish.title.to_string(),
            back: (state.paths.dish(dish.id), "Back to the card".to_owned()),
            address: state.paths.dish_roast(dish.id),
            others: Vec::new(),
            dish: String::new(),
        },
        roast_steps(&reading.card, &larder),
        asked.line(),
        asked.typed(),
        &profile,
    );
    answered(&page)
}

pub async fn of_home(
    State(state): State<AppState>,
    holder: KeyHolder,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let laid = at.laid();
    let address = format!("{}/roast", state.paths.home(&holder.key));
    let with: Vec<_> = laid
        .dishes
        .iter()
        .map(|dish| (dish, roast_steps(&dish.card, &laid.larder)))
        .filter(|(_, steps)| !steps.is_empty())
        .collect();
    let chosen = with
        .iter()
        .find(|(dish, _)| dish.letter.to_string() == asked.dish)
        .or_else(|| with.first().filter(|_| asked.dish.is_empty()));
    let (title, dish, steps) = match chosen {
        Some((dish, steps)) => (dish.title.clone(), dish.letter.to_string(), steps.clone()),
        None if asked.dish.is_empty() => (String::new(), String::new(), Vec::new()),
        None => return Err(PageError::NotFound),
    };
    let others = with
        .iter()
        .filter(|it| it.0.letter.to_string() != dish)
        .map(|(dish, _)| {
            (format!("{address}?dish={}", dish.letter), format!("{}, {}", dish.letter, dish.title))
        })
        .collect();
    let ahead = format!("{}/ahead", state.paths.home(&holder.key));
    let page = RoastPage::new(
        Frame::for_home(&state, &laid.school, &holder.key, HomeAt::Ahead),
        Of { title, back: (ahead, "What to make when".to_owned()), address, others, dish },
        steps,
        asked.line(),
        asked.typed(),
        &laid.profile,
    );
    answered(&page)
}

fn answered(page: &RoastPage) -> Result<Response, PageError> {
    let status = if page.is_refused() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}
