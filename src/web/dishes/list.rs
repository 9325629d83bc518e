//! The list of dishes: a sieve, what it found, what it left out and why, and what was put away.

use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};
use serde::Deserialize;

use askama::Template;

use super::page::{BeginPage, DishesPage, Listed};
use crate::domain::card::{Card, DishKind};
use crate::domain::dish::Dish;
use crate::web::extract::{Form, Instructor};
use crate::web::frame::{Frame, Section};
use crate::web::{AppState, PageError};

/// What the sieve sends; all may be empty.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct SieveForm {
    pub words: String,
    pub kind: String,
}

pub async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Form(sieve): Form<SieveForm>,
) -> Result<Response, PageError> {
    let dishes = state.storage.dishes(who.school.id).await?;
    let archived = state.storage.archived_dishes(who.school.id).await?;
    let frame = Frame::of(&state, &who, Section::Dishes);
    if dishes.is_empty() && archived.is_empty() {
        return Ok(Html(BeginPage { frame }.render()?).into_response());
    }
    let larder = state.storage.larder(who.school.id).await?;
    let bases = state.storage.base_titles(who.school.id).await?;
    let listed = dishes.into_iter().map(|dish| {
        let reading = state.cards.read(dish.card.as_str(), &larder, &bases);
        let left_out = why_left_out(&sieve, &dish, &reading.card);
        Listed { dish, reading, left_out }
    });
    let listed: Vec<_> = listed.collect();
    let page = DishesPage::new(frame, &who.school.zone, sieve, &listed, &archived);
    Ok(Html(page.render()?).into_response())
}

/// The reason, if the sieve holds the dish back; worded to follow its name.
fn why_left_out(sieve: &SieveForm, dish: &Dish, card: &Card) -> Option<String> {
    if let Ok(kind) = DishKind::parse(&sieve.kind)
        && dish.kind != kind
    {
        return Some(match dish.kind {
            DishKind::Base => "is a base".to_owned(),
            DishKind::Dish => "is a dish".to_owned(),
        });
    }
    let mut text = dish.title.folded();
    for (_, step) in card.steps() {
        for line in &step.goes_in {
            text.push('\n');
            text.push_str(&line.what.text.to_lowercase());
        }
    }
    let words = sieve.words.to_lowercase();
    let missing = words.split_whitespace().find(|word| !text.contains(word))?;
    Some(format!("has no “{missing}” in its name or in what goes in"))
}
