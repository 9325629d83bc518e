//! Another pan than the card's: for an instructor's dish, and for a student's table.

mod page;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use serde::Deserialize;

pub use self::page::samples;
use self::page::{Of, PanPage};
use super::extract::{Id, Instructor, Query};
use super::frame::{Frame, HomeAt, Section};
use super::homes::{AtTable, KeyHolder};
use super::routes::{Route, Who, row};
use super::{AppState, PageError};
use crate::domain::card::Card;
use crate::domain::dish::DishId;

pub const ROUTES: &[Route] = &[
    row("GET", "/dishes/{id}/pan", Who::Instructor, || get(of_dish)),
    row("GET", "/h/{key}/pan", Who::Holder, || get(of_home)),
];

/// What the address asks; nothing is kept.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct Asked {
    /// Letter of the dish, on the page of a home.
    pub dish: String,
    pub from: String,
    pub from_count: String,
    pub lay: String,
    pub to: String,
    pub to_count: String,
    pub filling: String,
}

/// The vessels that a card names, each as a pan to go from.
fn vessels(card: &Card) -> Vec<String> {
    card.vessels.iter().map(|vessel| vessel.what.clone()).collect()
}

async fn of_dish(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let dish = state.storage.dish(who.school.id, DishId(id)).await?.ok_or(PageError::NotFound)?;
    let larder = state.storage.larder(who.school.id).await?;
    let card = state.cards.read(dish.card.as_str(), &larder, &[]).card.clone();
    let of = Of {
        title: dish.title.to_string(),
        back: (state.paths.dish(dish.id), "Back to the card".to_owned()),
        address: state.paths.dish_pan(dish.id),
        letter: String::new(),
        others: Vec::new(),
    };
    answered(PanPage::new(Frame::of(&state, &who, Section::Dishes), of, &vessels(&card), asked))
}

async fn of_home(
    State(state): State<AppState>,
    holder: KeyHolder,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let home = state.paths.home(&holder.key);
    let address = format!("{home}/pan");
    let with: Vec<_> = at.laid().dishes.iter().filter(|it| !it.card.vessels.is_empty()).collect();
    let named = with.iter().find(|dish| dish.letter.to_string() == asked.dish);
    let chosen = named.or_else(|| with.first().filter(|_| asked.dish.is_empty()));
    if chosen.is_none() && !asked.dish.is_empty() {
        return Err(PageError::NotFound);
    }
    let letter = chosen.map(|dish| dish.letter.to_string()).unwrap_or_default();
    let others = with.iter().filter(|dish| dish.letter.to_string() != letter).map(|dish| {
        (format!("{address}?dish={}", dish.letter), format!("{}, {}", dish.letter, dish.title))
    });
    let of = Of {
        title: chosen.map(|dish| dish.title.clone()).unwrap_or_default(),
        back: (home, "Your table".to_owned()),
        others: others.collect(),
        address,
        letter,
    };
    let frame = Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::Table);
    let vessels = chosen.map(|dish| vessels(&dish.card)).unwrap_or_default();
    answered(PanPage::new(frame, of, &vessels, asked))
}

fn answered(page: PanPage) -> Result<Response, PageError> {
    let status = if page.is_refused() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}
