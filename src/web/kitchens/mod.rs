//! Pages about the kitchens of a school: the list, a new one, one that is changed.

mod form;
mod page;

use askama::Template;
use axum::extract::State;
use axum::http::{StatusCode, Uri};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};

use self::form::KitchenForm;
pub use self::page::samples;
use self::page::{KitchenPage, KitchensPage};
use super::extract::{Form, Id, Instructor};
use super::frame::{Frame, Section};
use super::routes::{Route, Who, row};
use super::{AppState, PageError};
use crate::domain::kitchen::{KitchenId, usual_kitchens};
use crate::storage::{KeptKitchen, KitchenSaved};

pub const ROUTES: &[Route] = &[
    row("GET", "/kitchens", Who::Instructor, || get(list)),
    row("GET", "/kitchens/new", Who::Instructor, || get(show_new)),
    row("POST", "/kitchens/new", Who::Instructor, || post(create)),
    row("GET", "/kitchens/{id}", Who::Instructor, || get(show)),
    row("POST", "/kitchens/{id}", Who::Instructor, || post(change)),
];

async fn list(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let kitchens = state.storage.kitchens(who.school.id).await?;
    let page = KitchensPage::new(frame(&state, &who), &kitchens);
    Ok(Html(page.render()?).into_response())
}

/// Begun from a kitchen of the school, `?from=` its id, else from the usual home.
async fn show_new(
    State(state): State<AppState>,
    who: Instructor,
    uri: Uri,
) -> Result<Response, PageError> {
    let kitchens = state.storage.kitchens(who.school.id).await?;
    let from = uri.query().and_then(|query| query.strip_prefix("from="));
    let from = from.and_then(|id| id.parse().ok()).map(KitchenId);
    let usual = usual_kitchens().into_iter().next();
    let is_usual = |kept: &&KeptKitchen| Some(&kept.kitchen) == usual.as_ref();
    let begun = kitchens.iter().find(|kept| Some(kept.id) == from);
    let begun = begun.or_else(|| kitchens.iter().find(is_usual));
    let form = begun.map(|kept| KitchenForm::like(&kept.kitchen)).unwrap_or_default();
    let page = KitchenPage::new(frame(&state, &who), None, form).beside(&kitchens, begun);
    Ok(Html(page.render()?).into_response())
}

async fn create(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<KitchenForm>,
) -> Result<Response, PageError> {
    let (kitchen, problems) = form.check();
    let Some(kitchen) = kitchen else {
        let page = KitchenPage::new(frame(&state, &who), None, form).with(problems);
        return again(StatusCode::UNPROCESSABLE_ENTITY, &page);
    };
    let id = KitchenId(state.chance.key(state.clock.now()));
    match state.storage.add_kitchen(who.school.id, id, &kitchen).await? {
        KitchenSaved::Saved => Ok(Redirect::to(&state.paths.kitchens()).into_response()),
        KitchenSaved::NameTaken => {
            let page = KitchenPage::new(frame(&state, &who), None, form).with_name_taken();
            again(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
        KitchenSaved::Stale => Err(PageError::NotFound),
    }
}

async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let form = KitchenForm::from(&kept.kitchen, kept.version);
    let page = KitchenPage::new(frame(&state, &who), Some(kept.id), form);
    Ok(Html(page.render()?).into_response())
}

async fn change(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(form): Form<KitchenForm>,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let (kitchen, problems) = form.check();
    let page = |form| KitchenPage::new(frame(&state, &who), Some(kept.id), form);
    let Some(kitchen) = kitchen else {
        return again(StatusCode::UNPROCESSABLE_ENTITY, &page(form).with(problems));
    };
    let saved = state.storage.save_kitchen(who.school.id, kept.id, &kitchen, form.version());
    match saved.await? {
        KitchenSaved::Saved => Ok(Redirect::to(&state.paths.kitchens()).into_response()),
        KitchenSaved::NameTaken => {
            again(StatusCode::UNPROCESSABLE_ENTITY, &page(form).with_name_taken())
        }
        KitchenSaved::Stale => {
            let newer = find(&state, &who, id).await?;
            let form = form.at_version(newer.version);
            again(StatusCode::CONFLICT, &page(form).with_newer(&newer.kitchen))
        }
    }
}

async fn find(
    state: &AppState,
    who: &Instructor,
    id: uuid::Uuid,
) -> Result<KeptKitchen, PageError> {
    state.storage.kitchen(who.school.id, KitchenId(id)).await?.ok_or(PageError::NotFound)
}

fn frame(state: &AppState, who: &Instructor) -> Frame {
    Frame::of(state, who, Section::School)
}

fn again(status: StatusCode, page: &KitchenPage) -> Result<Response, PageError> {
    Ok((status, Html(page.render()?)).into_response())
}
