//! The forecast of one step, asked by the instructor for a card or by a student for a table.

use axum::extract::State;
use axum::response::Response;
use serde::Deserialize;

use super::of::{Of, answered};
use super::page::CoolingPage;
use super::steps::cooling_steps;
use crate::domain::dish::DishId;
use crate::domain::menu::LaidDish;
use crate::domain::warmth::AskCool;
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
    food: String,
    depth: String,
    pan: String,
    vessel: String,
    cover: String,
    start: String,
    place: String,
    place_at: String,
    first: String,
    first_minutes: String,
    ice: String,
}

impl Asked {
    fn typed(&self) -> Option<AskCool> {
        if self.ask.is_empty() {
            return None;
        }
        let it = self.clone();
        Some(AskCool {
            food: it.food,
            depth: it.depth,
            pan: it.pan,
            vessel: it.vessel,
            cover: it.cover,
            start: it.start,
            place: it.place,
            place_at: it.place_at,
            first: it.first,
            first_minutes: it.first_minutes,
            ice: it.ice,
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
    let page = CoolingPage::new(
        Frame::of(&state, &who, Section::Dishes),
        Of::card(&state, &dish, state.paths.dish_cooling(dish.id)),
        cooling_steps(&reading.card),
        asked.line(),
        asked.typed(),
        &profile,
    );
    answered(&page, page.is_refused())
}

pub async fn of_home(
    State(state): State<AppState>,
    holder: KeyHolder,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let home = state.paths.home(&holder.key);
    let back = (format!("{home}/ahead"), "What to make when".to_owned());
    let found = |dish: &LaidDish| Some(cooling_steps(&dish.card)).filter(|it| !it.is_empty());
    let (of, steps) = Of::table(&at, &asked.dish, format!("{home}/cooling"), back, found)?;
    let page = CoolingPage::new(
        Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::Ahead),
        of,
        steps.unwrap_or_default(),
        asked.line(),
        asked.typed(),
        &at.laid().profile,
    );
    answered(&page, page.is_refused())
}
