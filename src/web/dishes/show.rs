//! One dish: its text as read, its fixed texts, and putting it away.

use std::sync::Arc;

use askama::Template;
use axum::extract::State;
use axum::response::{Html, IntoResponse, Redirect, Response};

use super::limits;
use super::page::{DishPage, RevisionPage};
use crate::domain::dish::{Dish, DishId, DishRevisionId};
use crate::domain::remark::Weight;
use crate::web::extract::{Id, Instructor, Numbered};
use crate::web::frame::{Frame, Section};
use crate::web::{AppState, PageError};

pub async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let dish = find(&state, &who, id).await?;
    let revisions = state.storage.dish_revisions(who.school.id, dish.id).await?;
    let bases = state.storage.base_titles(who.school.id).await?;
    let larder = state.storage.larder(who.school.id).await?;
    let reading = state.cards.read(dish.card.as_str(), &larder, &bases);
    let card = Arc::new(reading.card.clone());
    let profile = state.storage.profile(who.school.id).await?;
    let limits = limits::of(&card, &who.school, &larder, &profile, state.clock.now());
    let frame = Frame::of(&state, &who, Section::Dishes);
    let page = DishPage::new(frame, &who.school.zone, &dish, &reading, &revisions);
    let menus = state.storage.menus_with(who.school.id, dish.id).await?;
    let page = page.with_roasts(&card, &larder, dish.id);
    Ok(Html(page.with_limits(limits).with_menus(menus).render()?).into_response())
}

/// Fixes the text as it stands. A figure that cannot be true holds it back: the page says which.
pub async fn publish(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Redirect, PageError> {
    let dish = find(&state, &who, id).await?;
    let bases = state.storage.base_titles(who.school.id).await?;
    let reading =
        state.cards.read(dish.card.as_str(), &state.storage.larder(who.school.id).await?, &bases);
    if !reading.remarks.iter().any(|remark| remark.weight == Weight::Fault) {
        let at = state.clock.now();
        let new = DishRevisionId(state.chance.key(at));
        state.storage.publish_dish_revision(who.school.id, dish.id, new, at).await?;
    }
    Ok(Redirect::to(&state.paths.dish(dish.id)))
}

pub async fn archive(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Redirect, PageError> {
    let at = state.clock.now();
    let done = state.storage.archive_dish(who.school.id, DishId(id), at).await?;
    if done { Ok(Redirect::to(&state.paths.dishes())) } else { Err(PageError::NotFound) }
}

pub async fn bring_back(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Redirect, PageError> {
    let done = state.storage.bring_back_dish(who.school.id, DishId(id)).await?;
    if done { Ok(Redirect::to(&state.paths.dish(DishId(id)))) } else { Err(PageError::NotFound) }
}

/// One fixed text, and what it changed against the one before.
pub async fn revision(
    State(state): State<AppState>,
    who: Instructor,
    Numbered(id, number): Numbered,
) -> Result<Response, PageError> {
    let dish = find(&state, &who, id).await?;
    let revisions = state.storage.dish_revisions(who.school.id, dish.id).await?;
    let find = |number: u32| revisions.iter().find(|revision| revision.number == number);
    let revision = find(number).ok_or(PageError::NotFound)?;
    let before = number.checked_sub(1).and_then(find);
    let frame = Frame::of(&state, &who, Section::Dishes);
    let page = RevisionPage::new(frame, &who.school.zone, &dish, revision, before);
    Ok(Html(page.render()?).into_response())
}

async fn find(state: &AppState, who: &Instructor, id: uuid::Uuid) -> Result<Dish, PageError> {
    state.storage.dish(who.school.id, DishId(id)).await?.ok_or(PageError::NotFound)
}
