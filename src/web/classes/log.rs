//! The logs of a class: readings in the school's kitchen.

use axum::extract::State;
use axum::response::Response;

use super::{find, frame, laid_of};
use crate::domain::menu::Laid;
use crate::storage::{KeptClass, KitchenOf};
use crate::web::extract::{Form, Id, Instructor};
use crate::web::logs::{self, Book, LogForm};
use crate::web::{AppState, PageError};

pub async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let laid = laid_of(&state, &who, &kept).await?;
    logs::show(&state, frame(&state, &who), &book(&state, &who, &kept, &laid)).await
}

pub async fn change(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(form): Form<LogForm>,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let laid = laid_of(&state, &who, &kept).await?;
    logs::change(&state, frame(&state, &who), &book(&state, &who, &kept, &laid), form).await
}

fn book<'a>(state: &AppState, who: &Instructor, kept: &'a KeptClass, laid: &'a Laid) -> Book<'a> {
    Book {
        school: who.school.id,
        kitchen: KitchenOf::Class(kept.class.id),
        laid,
        zone: &kept.class.serve.zone,
        address: state.paths.class_log(kept.class.id),
        back: (
            state.paths.class_sheet(kept.class.id, "cooling-log"),
            "Blank log on paper".to_owned(),
        ),
    }
}
