//! Another pan than the card's: for an instructor's dish, and for a student's table.

use axum::extract::State;
use axum::response::Response;
use serde::Deserialize;

use super::of::{Of, answered};
use super::pan_page::PanPage;
use crate::domain::card::Card;
use crate::domain::dish::DishId;
use crate::domain::menu::LaidDish;
use crate::web::extract::{Id, Instructor, Query};
use crate::web::frame::{Frame, HomeAt, Section};
use crate::web::homes::{AtTable, KeyHolder};
use crate::web::{AppState, PageError};

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

pub async fn of_dish(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let dish = state.storage.dish(who.school.id, DishId(id)).await?.ok_or(PageError::NotFound)?;
    let larder = state.storage.larder(who.school.id).await?;
    let reading = state.cards.read(dish.card.as_str(), &larder, &[]);
    let of = Of::card(&state, &dish, state.paths.dish_pan(dish.id));
    let frame = Frame::of(&state, &who, Section::Dishes);
    let page = PanPage::new(frame, of, &vessels(&reading.card), asked);
    answered(&page, page.is_refused())
}

pub async fn of_home(
    State(state): State<AppState>,
    holder: KeyHolder,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let home = state.paths.home(&holder.key);
    let address = format!("{home}/pan");
    let found = |dish: &LaidDish| Some(vessels(&dish.card)).filter(|it| !it.is_empty());
    let back = (home, "Your table".to_owned());
    let (of, vessels) = Of::table(&at, &asked.dish, address, back, found)?;
    let frame = Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::Table);
    let page = PanPage::new(frame, of, &vessels.unwrap_or_default(), asked);
    answered(&page, page.is_refused())
}
