//! Pages about limits: every row in force, whose it is, and how a school tightens one.

mod form;
pub mod of_menu;
mod page;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use serde::Deserialize;

use self::form::{BaseForm, RowFields, RowForm};
pub use self::page::samples;
use self::page::{LimitPage, LimitsPage};
use super::extract::{Form, Instructor, Query};
use super::frame::{Frame, Section};
use super::routes::{Route, Who, row};
use super::{AppState, PageError};
use crate::domain::limit::Profile;
use crate::storage::ChangeRulesError;

pub const ROUTES: &[Route] = &[
    row("GET", "/limits", Who::Instructor, || get(list)),
    row("GET", "/limits/row", Who::Instructor, || get(show)),
    row("POST", "/limits/row", Who::Instructor, || post(change)),
    row("POST", "/limits/base", Who::Instructor, || post(change_base)),
];

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
struct Which {
    key: String,
}

async fn list(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let profile = state.storage.profile(who.school.id).await?;
    let page = LimitsPage::new(Frame::of(&state, &who, Section::Limits), &profile);
    Ok(Html(page.render()?).into_response())
}

async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Query(which): Query<Which>,
) -> Result<Response, PageError> {
    if which.key.is_empty() {
        return Ok(Redirect::to(&state.paths.limits()).into_response());
    }
    let profile = state.storage.profile(who.school.id).await?;
    let frame = Frame::of(&state, &who, Section::Limits);
    let page = LimitPage::new(frame, &profile, &which.key, RowFields::default());
    Ok(Html(page.ok_or(PageError::NotFound)?.render()?).into_response())
}

async fn change(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<RowForm>,
) -> Result<Response, PageError> {
    let profile = state.storage.profile(who.school.id).await?;
    let frame = Frame::of(&state, &who, Section::Limits);
    let on = who.school.zone.local(state.clock.now()).date();
    let mut fields = match form.check(&profile, on) {
        Ok(next) => match keep(&state, &who, &next).await {
            Ok(()) => return Ok(Redirect::to(&state.paths.limits()).into_response()),
            Err(ChangeRulesError::Storage(error)) => return Err(error.into()),
            Err(ChangeRulesError::Moved) => moved(&form),
        },
        Err(fields) => *fields,
    };
    form.what.clone_into(&mut fields.what.typed);
    let page = LimitPage::new(frame, &profile, &form.key, fields).ok_or(PageError::NotFound)?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
}

async fn change_base(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<BaseForm>,
) -> Result<Response, PageError> {
    let profile = state.storage.profile(who.school.id).await?;
    let on = who.school.zone.local(state.clock.now()).date();
    let mut page = LimitsPage::new(Frame::of(&state, &who, Section::Limits), &profile);
    match form.check(&profile, on) {
        Ok(next) => match keep(&state, &who, &next).await {
            Ok(()) => return Ok(Redirect::to(&state.paths.limits()).into_response()),
            Err(ChangeRulesError::Storage(error)) => return Err(error.into()),
            Err(ChangeRulesError::Moved) => {
                page.base_field.problem = Some(MOVED.to_owned());
            }
        },
        Err(fields) => (page.base_field, page.by, page.reason) = *fields,
    }
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
}

const MOVED: &str = "The rules were changed meanwhile; look at them and send again";

fn moved(form: &RowForm) -> RowFields {
    let mut fields = RowFields::default();
    fields.most.typed.clone_from(&form.most);
    fields.scale.typed.clone_from(&form.scale);
    fields.by.typed.clone_from(&form.by);
    fields.reason.typed.clone_from(&form.reason);
    fields.what.problem = Some(MOVED.to_owned());
    fields
}

async fn keep(state: &AppState, who: &Instructor, next: &Profile) -> Result<(), ChangeRulesError> {
    let at = state.clock.now();
    state.storage.change_rules(who.school.id, state.chance.key(at), next, at).await
}
