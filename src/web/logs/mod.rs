//! Logs of readings, typed at the stove or in class: one page for a home and for a class, by their own
//! handlers.

mod form;
mod page;

use askama::Template;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use jiff::Timestamp;

pub use self::form::LogForm;
use self::form::Typed;
pub use self::page::samples;
use self::page::{Around, LogPage};
use super::frame::Frame;
use super::{AppState, PageError};
use crate::domain::event::KitchenEvent;
use crate::domain::limit::Profile;
use crate::domain::logbook::logbook;
use crate::domain::menu::Laid;
use crate::domain::moment::Zone;
use crate::domain::school::SchoolId;
use crate::storage::KitchenOf;

/// Whose logs, and by which rules: those the menu was published with.
pub struct Book<'a> {
    pub school: SchoolId,
    pub kitchen: KitchenOf,
    pub laid: &'a Laid,
    pub zone: &'a Zone,
    /// Address of the page, and of what it belongs to.
    pub address: String,
    pub back: (String, String),
}

impl Book<'_> {
    fn profile(&self) -> &Profile {
        &self.laid.profile
    }

    async fn events(&self, state: &AppState) -> Result<Vec<KitchenEvent>, PageError> {
        Ok(match self.kitchen {
            KitchenOf::Home(home) => state.storage.home_events(self.school, home).await?,
            KitchenOf::Class(class) => state.storage.class_events(self.school, class).await?,
        })
    }
}

pub async fn show(state: &AppState, frame: Frame, book: &Book<'_>) -> Result<Response, PageError> {
    let page = page(state, frame, book, LogForm::default(), Vec::new()).await?;
    Ok(Html(page.render()?).into_response())
}

/// One reading, minutes of rest, or a reading struck out; a log begins with its first reading.
pub async fn change(
    state: &AppState,
    frame: Frame,
    book: &Book<'_>,
    form: LogForm,
) -> Result<Response, PageError> {
    let now = state.clock.now();
    let logs = logbook(&book.events(state).await?);
    match form.check(&logs, book.laid, book.zone, now) {
        Ok(Typed { key, kind, value, at }) => {
            let event = KitchenEvent {
                id: state.chance.key(now),
                kind,
                key,
                value,
                client_at: at,
                received_at: now,
            };
            state.storage.record_events(book.school, book.kitchen, &[event]).await?;
            Ok(Redirect::to(&book.address).into_response())
        }
        Err(problems) => {
            let page = page(state, frame, book, form, problems).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
        }
    }
}

async fn page(
    state: &AppState,
    frame: Frame,
    book: &Book<'_>,
    form: LogForm,
    problems: form::Problems,
) -> Result<LogPage, PageError> {
    let logs = logbook(&book.events(state).await?);
    let now: Timestamp = state.clock.now();
    let around = Around {
        frame,
        profile: book.profile(),
        zone: book.zone,
        laid: book.laid,
        address: book.address.clone(),
        back: book.back.clone(),
        now,
    };
    Ok(LogPage::new(&around, &logs, form, problems))
}
