//! Pages about the larder: what is known of each food, and a school's own rows on top.

mod form;
mod import;
mod page;
mod prices;
mod words;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use serde::Deserialize;

use self::form::FoodForm;
use self::page::{FoodPage, LarderPage};
use super::extract::{Form, Instructor, Query};
use super::frame::{Frame, Section};
use super::routes::{Route, Who, row};
use super::{AppState, PageError};
use crate::domain::larder::FoodKey;

pub const ROUTES: &[Route] = &[
    row("GET", "/larder", Who::Instructor, || get(list)),
    row("GET", "/larder/food", Who::Instructor, || get(show)),
    row("POST", "/larder/food", Who::Instructor, || post(save)),
    row("POST", "/larder/drop", Who::Instructor, || post(drop_row)),
    row("GET", "/larder/prices", Who::Instructor, || get(prices::show)),
    row("POST", "/larder/prices", Who::Instructor, || post(prices::add)),
    row("GET", "/larder/words", Who::Instructor, || get(words::show)),
    row("POST", "/larder/words", Who::Instructor, || post(words::add)),
    row("POST", "/larder/words/drop", Who::Instructor, || post(words::drop_words)),
    row("GET", "/larder/import", Who::Instructor, || get(import::show)),
    row("POST", "/larder/import", Who::Instructor, || post(import::take)),
];

/// Every state of every page here, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    [page::samples(), prices::samples(), import::samples(), words::samples()].concat()
}

/// What the sieve sends; all may be empty.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct LarderSieve {
    pub words: String,
    pub aisle: String,
    /// `own`, `open` (allergens not known), or empty.
    pub only: String,
}

/// Which food a page is about; an unknown name opens a new row with that name.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
struct Which {
    key: String,
}

async fn list(
    State(state): State<AppState>,
    who: Instructor,
    Query(sieve): Query<LarderSieve>,
) -> Result<Response, PageError> {
    let larder = state.storage.larder(who.school.id).await?;
    let own = state.storage.own_foods(who.school.id).await?;
    let frame = Frame::of(&state, &who, Section::Larder);
    let page = LarderPage::new(frame, sieve, &larder, &own);
    Ok(Html(page.render()?).into_response())
}

async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Query(which): Query<Which>,
) -> Result<Response, PageError> {
    let larder = state.storage.larder(who.school.id).await?;
    let own = state.storage.own_foods(who.school.id).await?;
    let food = larder.food(&FoodKey::new(&which.key));
    let is_own = own.iter().any(|it| it.key.0.as_ref() == which.key);
    let form = food.map_or_else(|| FoodForm::named(&which.key), FoodForm::of);
    let frame = Frame::of(&state, &who, Section::Larder);
    let page = FoodPage::new(frame, form, food, is_own);
    Ok(Html(page.render()?).into_response())
}

async fn save(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<FoodForm>,
) -> Result<Response, PageError> {
    let larder = state.storage.larder(who.school.id).await?;
    let before = larder.food(&FoodKey::new(&form.key));
    let (food, problems) = form.check(before);
    let frame = Frame::of(&state, &who, Section::Larder);
    let Some(food) = food else {
        let page = FoodPage::new(frame, form, before, false).with_problems(problems);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    let address = state.paths.food(&food.key);
    state.storage.save_foods(who.school.id, &[food], state.clock.now()).await?;
    Ok(Redirect::to(&address).into_response())
}

async fn drop_row(
    State(state): State<AppState>,
    who: Instructor,
    Form(which): Form<Which>,
) -> Result<Response, PageError> {
    state.storage.drop_food(who.school.id, &FoodKey::new(&which.key)).await?;
    Ok(Redirect::to(&state.paths.larder()).into_response())
}
