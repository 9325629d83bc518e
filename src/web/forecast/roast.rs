//! The forecast of one roast, asked by the instructor for a card or by a student for a table.

use axum::extract::State;
use axum::response::Response;
use serde::Deserialize;

use super::of::{Of, answered};
use super::roast_page::RoastPage;
use super::roast_steps::roast_steps;
use crate::domain::dish::DishId;
use crate::domain::menu::LaidDish;
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
        Of::card(&state, &dish, state.paths.dish_roast(dish.id)),
        roast_steps(&reading.card, &larder),
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
    let found = |dish: &LaidDish| {
        Some(roast_steps(&dish.card, &at.laid().larder)).filter(|it| !it.is_empty())
    };
    let (of, steps) = Of::table(&at, &asked.dish, format!("{home}/roast"), back, found)?;
    let page = RoastPage::new(
        Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::Ahead),
        of,
        steps.unwrap_or_default(),
        asked.line(),
        asked.typed(),
        &at.laid().profile,
    );
    answered(&page, page.is_refused())
}
