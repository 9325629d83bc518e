//! A home's shopping list, with ticks that are kept.

use askama::Template;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{Html, IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::form::units_word;
use super::holder::{AtTable, KeyHolder, LogHolder, settings_of};
use super::page::ListPage;
use crate::domain::cost::{at_home, cost};
use crate::domain::event::{EventKey, EventKind, EventValue, KitchenEvent};
use crate::domain::handout::Measures;
use crate::domain::home::Arrangement;
use crate::domain::keeps::{Prefer, ahead};
use crate::domain::progress::Progress;
use crate::domain::quantity::Portions;
use crate::domain::school::SchoolId;
use crate::domain::shopping::ShoppingList;
use crate::domain::table::shopping_list_with;
use crate::storage::KitchenOf;
use crate::web::extract::Form;
use crate::web::frame::{Frame, HomeAt};
use crate::web::{AppState, PageError};

pub async fn show(State(state): State<AppState>, holder: KeyHolder) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let (list, measures) = list_of(&at, &holder.kept.home.arrangement);
    let events = state.storage.home_events(holder.kept.school, holder.kept.home.id).await?;
    let progress = Progress::of(&events);
    let frame = Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::List);
    let action = format!("{}/list", state.paths.home(&holder.key));
    let paper = format!("{}/sheets/shopping", state.paths.home(&holder.key));
    let cost = cost_of(&state, holder.kept.school, (&list, at.sitting.guests)).await?;
    let page = ListPage::new(frame, &at, &list, (&progress, measures), action, paper);
    let page = page.costing(cost);
    Ok(Html(page.render()?).into_response())
}

/// What the list costs, in words, where the school lets its students see that.
pub async fn cost_of(
    state: &AppState,
    school: SchoolId,
    (list, guests): (&ShoppingList, Portions),
) -> Result<Option<String>, PageError> {
    let settings = settings_of(state, school).await?;
    if !settings.prices_shown {
        return Ok(None);
    }
    let prices = state.storage.prices(school, settings.currency).await?;
    Ok(cost(list, &prices, guests).words(settings.currency))
}

/// The list of a table without what it has at home, in the units it thinks in.
pub fn list_of(at: &AtTable, arrangement: &Arrangement) -> (ShoppingList, Measures) {
    let laid = at.laid();
    let home = at_home(&arrangement.at_home, &laid.larder).0;
    let plan = ahead(laid, &at.sitting, Prefer::Late);
    let list = shopping_list_with(laid, &at.sitting, &plan, &home);
    (list, measures_of(arrangement))
}

/// As a sheet is asked for in an address.
pub fn measures_of(arrangement: &Arrangement) -> Measures {
    Measures::parse(units_word(arrangement.measures)).unwrap_or_default()
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
