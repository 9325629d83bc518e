//! The school's own page: how it likes things shown, the password, and who is signed in.

mod page;

use askama::Template;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use serde::Deserialize;

use self::page::{PasswordPage, SchoolPage};
pub use self::page::{sample, sample_account, samples};
use super::extract::{Form, Id, Instructor};
use super::form::Field;
use super::frame::{Frame, Section};
use super::hasher::Verdict;
use super::peer::{CountedTry, Peer};
use super::routes::{Route, Who, row};
use super::{AppState, PageError};
use crate::domain::account::{Password, SessionId};
use crate::domain::moment::Zone;
use crate::domain::quantity::Spoons;
use crate::domain::school::{Currency, Measures, Paper, School, SchoolName, SchoolSettings};

pub const ROUTES: &[Route] = &[
    row("GET", "/school", Who::Instructor, || get(show)),
    row("POST", "/school", Who::Instructor, || post(change)),
    row("GET", "/school/password", Who::Instructor, || get(show_password)),
    row("POST", "/school/password", Who::Instructor, || post(change_password)),
    row("POST", "/school/browsers/{id}/end", Who::Instructor, || post(end_one)),
    row("POST", "/school/browsers/end-all", Who::Instructor, || post(end_all)),
];

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct SchoolForm {
    name: String,
    zone: String,
    paper: String,
    measures: String,
    currency: String,
    spoons: String,
    prices_shown: String,
    version: String,
}

/// One of a few, sent by a select of ours; anything else is said beside the field.
fn pick<T: Copy>(typed: String, known: &[(T, &str)]) -> (Option<T>, Field) {
    Field::check(typed, |typed| {
        let found = known.iter().find(|(_, word)| *word == typed);
        found.map(|(value, _)| *value).ok_or("Choose one of the list")
    })
}

async fn page_of(state: &AppState, who: &Instructor) -> Result<SchoolPage, PageError> {
    let sessions = state.storage.sessions(&who.account, state.clock.now()).await?;
    let frame = Frame::of(state, who, Section::School);
    let deeds = state.storage.deeds(who.school.id).await?;
    let page = SchoolPage::new(frame, &who.school, &who.account, who.session, &sessions);
    Ok(page.with_deeds(&who.school.zone, &deeds))
}

async fn show(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    Ok(Html(page_of(&state, &who).await?.render()?).into_response())
}

async fn change(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<SchoolForm>,
) -> Result<Response, PageError> {
    let mut page = page_of(&state, &who).await?;
    let (name, zone, paper, measures, currency, spoons);
    (name, page.name) = Field::check(form.name, SchoolName::parse);
    (zone, page.zone) = Field::check(form.zone, Zone::parse);
    (paper, page.paper) = pick(form.paper, &Paper::ALL.map(|it| (it, it.word())));
    (measures, page.measures) = pick(form.measures, &Measures::ALL.map(|it| (it, it.word())));
    (currency, page.currency) = Field::check(form.currency, Currency::parse);
    let both = [(Spoons::Round, "round"), (Spoons::Customary, "customary")];
    (spoons, page.spoons) = pick(form.spoons, &both);
    let prices_shown = !form.prices_shown.is_empty();
    page.prices_shown = prices_shown;
    let read = name.zip(zone).zip(paper.zip(measures)).zip(currency.zip(spoons));
    let Some((((name, zone), (paper, measures)), (currency, spoons))) = read else {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    let settings = SchoolSettings { paper, measures, currency, spoons, prices_shown };
    let version = form.version.parse().unwrap_or(0);
    let school = School { id: who.school.id, name, zone, settings, version };
    if state.storage.change_school(&school).await? {
        return Ok(Redirect::to(&state.paths.school()).into_response());
    }
    page.name.problem = Some(CHANGED_ELSEWHERE.to_owned());
    Ok((StatusCode::CONFLICT, Html(page.render()?)).into_response())
}

const CHANGED_ELSEWHERE: &str = "Somebody changed the school meanwhile. What you typed is still here; save again to put it in place";

async fn show_password(
    State(state): State<AppState>,
    who: Instructor,
) -> Result<Response, PageError> {
    let page = PasswordPage::new(Frame::of(&state, &who, Section::School), &who.account);
    Ok(Html(page.render()?).into_response())
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct PasswordForm {
    current: String,
    password: String,
}

/// Every other browser is signed out; this one gets a new cookie.
async fn change_password(
    State(state): State<AppState>,
    peer: Peer,
    who: Instructor,
    headers: axum::http::HeaderMap,
    Form(form): Form<PasswordForm>,
) -> Result<Response, PageError> {
    let mut page = PasswordPage::new(Frame::of(&state, &who, Section::School), &who.account);
    let context = [who.school.name.as_str(), who.account.login.as_str()];
    let new = Password::parse(&form.password, &context);
    page.password.problem = new.as_ref().err().map(ToString::to_string);
    let counted = CountedTry::begin(&state, peer, &who.account.login.folded()).await?;
    let kept = state.storage.credentials(&who.account.login).await?;
    let kept = kept.map(|it| it.password_hash);
    if state.hasher.verify(&form.current, kept.as_deref()).await? == Verdict::Wrong {
        page.current.problem = Some("Enter the password you sign in with now".to_owned());
    } else {
        counted.succeeded(&state).await?;
    }
    let (Ok(new), None) = (new, &page.current.problem) else {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    let hash = state.hasher.hash(&new, state.chance.bytes()).await?;
    state.storage.change_password(&who.account, hash, None).await?;
    let cookie = super::enter::let_in(&state, &who.account, &headers).await?;
    Ok(([(header::SET_COOKIE, cookie)], Redirect::to(&state.paths.school())).into_response())
}

async fn end_one(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    if !state.storage.end_one_session(&who.account, SessionId(id)).await? {
        return Err(PageError::NotFound);
    }
    Ok(Redirect::to(&state.paths.school()).into_response())
}

async fn end_all(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    state.storage.end_all_sessions(&who.account).await?;
    Ok(Redirect::to(&state.paths.enter()).into_response())
}
