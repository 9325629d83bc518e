//! The pages behind one-time links: founding a school, joining one, choosing a new password.
//!
//! Opening a page changes nothing; only its form uses the link up.

use askama::Template;
use axum::extract::{RawPathParams, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::locale::Guess;
use super::page::{JoinPage, NewPasswordPage, SetUpPage};
use super::session::let_in;
use crate::domain::account::{Account, AccountId, Login, Password};
use crate::domain::moment::Zone;
use crate::domain::school::{School, SchoolId, SchoolName};
use crate::storage::{LinkPurpose, NewAccount, UseLinkError};
use crate::web::deeds::note_at_door;
use crate::web::extract::{Form, hash_of};
use crate::web::form::Field;
use crate::web::frame::Frame;
use crate::web::peer::{Peer, count_dead_link};
use crate::web::{AppState, PageError};

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct OpenForm {
    school: String,
    login: String,
    password: String,
    /// Filled by a script; without one it is empty.
    zone: String,
}

/// A link that is open now.
struct OpenLink {
    token: String,
    hash: [u8; 32],
    purpose: LinkPurpose,
}

/// What stands behind the address; a link that is unknown, used or over is no page at all.
async fn open(state: &AppState, peer: Peer, params: &RawPathParams) -> Result<OpenLink, PageError> {
    let token = params.iter().find(|(name, _)| *name == "link").map(|(_, token)| token.to_owned());
    let token = token.unwrap_or_default();
    let hash = hash_of(&token);
    match state.storage.link(hash, state.clock.now()).await? {
        Some(purpose) => Ok(OpenLink { token, hash, purpose }),
        None => Err(count_dead_link(state, peer).await?),
    }
}

fn again(page: &impl Template) -> Result<Response, PageError> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
}

pub async fn show_set_up(
    State(state): State<AppState>,
    peer: Peer,
    headers: HeaderMap,
    params: RawPathParams,
) -> Result<Response, PageError> {
    let link = open(&state, peer, &params).await?;
    if link.purpose != LinkPurpose::SetUp {
        return Err(PageError::NotFound);
    }
    let frame = Frame::for_anyone(&state);
    let page = SetUpPage::new(frame, &link.token, &Guess::of(&headers));
    Ok(Html(page.render()?).into_response())
}

pub async fn set_up(
    State(state): State<AppState>,
    peer: Peer,
    headers: HeaderMap,
    params: RawPathParams,
    Form(form): Form<OpenForm>,
) -> Result<Response, PageError> {
    let link = open(&state, peer, &params).await?;
    if link.purpose != LinkPurpose::SetUp {
        return Err(PageError::NotFound);
    }
    let guess = Guess::of(&headers);
    let context = [form.school.as_str(), form.login.as_str()];
    let (password, password_field) = hidden(Password::parse(&form.password, &context));
    let (name, school) = Field::check(form.school, SchoolName::parse);
    let (login, login_field) = Field::check(form.login, Login::parse);
    let frame = Frame::for_anyone(&state);
    let mut page = SetUpPage::new(frame, &link.token, &guess);
    (page.school, page.login, page.password) = (school, login_field, password_field);
    let (Some(name), Some(login), Some(password)) = (name, login, password) else {
        return again(&page);
    };
    let at = state.clock.now();
    let school = School {
        id: SchoolId(state.chance.key(at)),
        name,
        zone: Zone::parse(&form.zone).unwrap_or(guess.zone),
        settings: guess.settings,
        version: 1,
    };
    let first = new_account(&state, school.id, login, &password).await?;
    match state.storage.found_by_link(link.hash, &school, &first).await {
        Ok(()) => enter_as(&state, first, &headers).await,
        Err(UseLinkError::LoginTaken) => {
            page.login.problem = Some(LOGIN_TAKEN.to_owned());
            again(&page)
        }
        Err(UseLinkError::Ended) => Err(PageError::NotFound),
        Err(UseLinkError::Storage(error)) => Err(error.into()),
    }
}

const LOGIN_TAKEN: &str = "Somebody here signs in with this name; choose another";

/// A password is checked like any field and never shown again.
fn hidden<E: std::fmt::Display>(parsed: Result<Password, E>) -> (Option<Password>, Field) {
    match parsed {
        Ok(password) => (Some(password), Field::default()),
        Err(error) => (None, Field { typed: String::new(), problem: Some(error.to_string()) }),
    }
}

async fn new_account(
    state: &AppState,
    school: SchoolId,
    login: Login,
    password: &Password,
) -> Result<NewAccount, PageError> {
    let at = state.clock.now();
    let password_hash = state.hasher.hash(password, state.chance.bytes()).await?;
    Ok(NewAccount { id: AccountId(state.chance.key(at)), school, login, password_hash, at })
}

/// Lets the new instructor in, to where the first dish is written.
async fn enter_as(
    state: &AppState,
    new: NewAccount,
    headers: &HeaderMap,
) -> Result<Response, PageError> {
    let account = Account { id: new.id, school: new.school, login: new.login, disabled_at: None };
    let cookie = let_in(state, &account, headers).await?;
    Ok(([(header::SET_COOKIE, cookie)], Redirect::to(&state.paths.dish_new())).into_response())
}

pub async fn show_join(
    State(state): State<AppState>,
    peer: Peer,
    params: RawPathParams,
) -> Result<Response, PageError> {
    let link = open(&state, peer, &params).await?;
    let school = school_joined(&state, &link).await?;
    let page = JoinPage::new(Frame::for_anyone(&state), &link.token, &school);
    Ok(Html(page.render()?).into_response())
}

pub async fn join(
    State(state): State<AppState>,
    peer: Peer,
    headers: HeaderMap,
    params: RawPathParams,
    Form(form): Form<OpenForm>,
) -> Result<Response, PageError> {
    let link = open(&state, peer, &params).await?;
    let school = school_joined(&state, &link).await?;
    let context = [school.name.as_str(), form.login.as_str()];
    let (password, password_field) = hidden(Password::parse(&form.password, &context));
    let (login, login_field) = Field::check(form.login, Login::parse);
    let mut page = JoinPage::new(Frame::for_anyone(&state), &link.token, &school);
    (page.login, page.password) = (login_field, password_field);
    let (Some(login), Some(password)) = (login, password) else { return again(&page) };
    let new = new_account(&state, school.id, login, &password).await?;
    match state.storage.join_by_link(link.hash, &new).await {
        Ok(()) => enter_as(&state, new, &headers).await,
        Err(UseLinkError::LoginTaken) => {
            page.login.problem = Some(LOGIN_TAKEN.to_owned());
            again(&page)
        }
        Err(UseLinkError::Ended) => Err(PageError::NotFound),
        Err(UseLinkError::Storage(error)) => Err(error.into()),
    }
}

async fn school_joined(state: &AppState, link: &OpenLink) -> Result<School, PageError> {
    let LinkPurpose::Invite(id) = link.purpose else { return Err(PageError::NotFound) };
    state.storage.school(id).await?.ok_or(PageError::NotFound)
}

pub async fn show_new_password(
    State(state): State<AppState>,
    peer: Peer,
    params: RawPathParams,
) -> Result<Response, PageError> {
    let link = open(&state, peer, &params).await?;
    let account = account_reset(&state, &link).await?;
    let page = NewPasswordPage::new(Frame::for_anyone(&state), &link.token, &account);
    Ok(Html(page.render()?).into_response())
}

/// Whoever chose a new password signs in with it: the link alone opens nothing.
pub async fn set_new_password(
    State(state): State<AppState>,
    peer: Peer,
    params: RawPathParams,
    Form(form): Form<OpenForm>,
) -> Result<Response, PageError> {
    let link = open(&state, peer, &params).await?;
    let account = account_reset(&state, &link).await?;
    let school = state.storage.school(account.school).await?.ok_or(PageError::NotFound)?;
    let context = [school.name.as_str(), account.login.as_str()];
    let (password, field) = hidden(Password::parse(&form.password, &context));
    let Some(password) = password else {
        let mut page = NewPasswordPage::new(Frame::for_anyone(&state), &link.token, &account);
        page.password = field;
        return again(&page);
    };
    let hash = state.hasher.hash(&password, state.chance.bytes()).await?;
    match state.storage.reset_by_link(link.hash, &account, hash, state.clock.now()).await {
        Ok(()) => {
            note_at_door(&state, &account, "chose a new password by a link").await?;
            Ok(Redirect::to(&state.paths.enter()).into_response())
        }
        Err(UseLinkError::Storage(error)) => Err(error.into()),
        Err(UseLinkError::Ended | UseLinkError::LoginTaken) => Err(PageError::NotFound),
    }
}

async fn account_reset(state: &AppState, link: &OpenLink) -> Result<Account, PageError> {
    let LinkPurpose::Reset(school, id) = link.purpose else { return Err(PageError::NotFound) };
    let accounts = state.storage.accounts(school).await?;
    accounts.into_iter().find(|account| account.id == id).ok_or(PageError::NotFound)
}
