//! A home's shopping list, with ticks that are kept.

use askama::Template;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{Html, IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::holder::{AtTable, KeyHolder, LogHolder};
use super::page::ListPage;
use crate::domain::event::{EventKey, EventKind, EventValue, KitchenEvent};
use crate::domain::progress::Progress;
use crate::domain::table::shopping_list;
use crate::storage::KitchenOf;
use crate::web::extract::Form;
use crate::web::frame::{Frame, HomeAt};
use crate::web::{AppState, PageError};

pub async fn show(State(state): State<AppState>, holder: KeyHolder) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let list = shopping_list(at.laid(), &at.sitting);
    let events = state.storage.home_events(holder.kept.school, holder.kept.home.id).await?;
    let progress = Progress::of(&events);
    let frame = Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::List);
    let action = format!("{}/list", state.paths.home(&holder.key));
    let paper = format!("{}/sheets/shopping", state.paths.home(&holder.key));
    let page = ListPage::new(frame, &at, &list, &progress, action, paper);
    Ok(Html(page.render()?).into_response())
}

/// One row ticked or not. The key names the food, never its place.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct TickForm {
    key: String,
    is: String,
}

pub async fn tick(
    State(state): State<AppState>,
    holder: LogHolder,
    headers: HeaderMap,
    Form(form): Form<TickForm>,
) -> Result<Response, PageError> {
    let key = EventKey::parse(&form.key).ok_or(PageError::NotFound)?;
    let kind = if form.is == "off" { EventKind::Untick } else { EventKind::Tick };
    let at = state.clock.now();
    let anchor = form.key.bytes().fold(String::from("r"), |id, byte| format!("{id}{byte:02x}"));
    let event = KitchenEvent {
        id: state.chance.key(at),
        kind,
        key,
        value: EventValue::Nothing,
        client_at: at,
        received_at: at,
    };
    let of = KitchenOf::Home(holder.home);
    if !state.storage.record_events(holder.school, of, &[event]).await? {
        return Err(PageError::NotFound);
    }
    if headers.contains_key("dovetray-script") {
        return Ok(StatusCode::NO_CONTENT.into_response());
    }
    let back = format!("{}/list#{anchor}", state.paths.home(&holder.key));
    Ok(Redirect::to(&back).into_response())
}
