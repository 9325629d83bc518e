//! The logs of a home: readings at its stove and of its fridge.

use axum::extract::State;
use axum::response::Response;

use super::holder::{AtTable, KeyHolder};
use crate::storage::KitchenOf;
use crate::web::extract::Form;
use crate::web::frame::{Frame, HomeAt};
use crate::web::logs::{self, Book, LogForm};
use crate::web::{AppState, PageError};

pub async fn show(State(state): State<AppState>, holder: KeyHolder) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    logs::show(&state, frame(&state, &holder, &at), &book(&state, &holder, &at)).await
}

pub async fn change(
    State(state): State<AppState>,
    holder: KeyHolder,
    Form(form): Form<LogForm>,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    logs::change(&state, frame(&state, &holder, &at), &book(&state, &holder, &at), form).await
}

fn frame(state: &AppState, holder: &KeyHolder, at: &AtTable) -> Frame {
    Frame::for_home(state, &at.laid().school, &holder.key, HomeAt::Log)
}

fn book<'a>(state: &AppState, holder: &KeyHolder, at: &'a AtTable) -> Book<'a> {
    let home = state.paths.home(&holder.key);
    Book {
        school: holder.kept.school,
        kitchen: KitchenOf::Home(holder.kept.home.id),
        laid: at.laid(),
        zone: &at.sitting.serve.zone,
        address: format!("{home}/log"),
        back: (format!("{home}/sheets/cooling-log"), "Blank log on paper".to_owned()),
    }
}
