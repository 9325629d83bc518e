//! A recipe pasted from elsewhere: read back line by line, then a card on the desk.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};

use super::desk;
use super::form::Fields;
use super::paste_page::{PastePage, ReadBackPage, keep_name};
use crate::domain::larder::Larder;
use crate::domain::offer;
use crate::domain::paste::{self, Draft, LENGTH_MAX};
use crate::exchange::schema_org;
use crate::web::extract::{Form, Instructor};
use crate::web::form::Field;
use crate::web::frame::{Frame, Section};
use crate::web::{AppState, PageError};

pub async fn show(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let frame = Frame::of(&state, &who, Section::Dishes);
    Ok(Html(PastePage { frame, pasted: Field::default() }.render()?).into_response())
}

pub async fn post(
    State(state): State<AppState>,
    who: Instructor,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let fields = Fields(fields);
    let pasted = fields.get("pasted").unwrap_or_default().replace("\r\n", "\n");
    let bases = state.storage.base_titles(who.school.id).await?;
    let larder = state.storage.larder(who.school.id).await?;
    let draft = match read(&pasted, &larder, &bases) {
        Ok(draft) => draft,
        Err(problem) => {
            let pasted = Field { typed: pasted, problem: Some(problem) };
            let frame = Frame::of(&state, &who, Section::Dishes);
            let page = PastePage { frame, pasted };
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
        }
    };
    let press = fields.get("do").unwrap_or("read");
    let is_kept = |index: usize| match press {
        "all" => true,
        _ => fields.get(&keep_name(index)).is_some(),
    };
    if press == "read" {
        let reading = state.cards.read(&draft.text, &larder, &bases);
        let frame = Frame::of(&state, &who, Section::Dishes);
        let page = ReadBackPage::new(frame, pasted, &draft, &reading);
        return Ok(Html(page.render()?).into_response());
    }
    let offers = draft.offers.into_iter().enumerate().filter(|(index, _)| is_kept(*index));
    let offers: Vec<_> = offers.map(|(_, offer)| offer).collect();
    desk::show_draft(state, who, offer::keep_all(&draft.text, &offers)).await
}

/// A draft of a document or of plain text; the problem where there is nothing to read.
fn read(pasted: &str, larder: &Larder, bases: &[String]) -> Result<Draft, String> {
    if pasted.trim().is_empty() {
        return Err("Paste a text first: a name, what goes in, what is done".to_owned());
    }
    let sorted = match schema_org::find(pasted) {
        Some(sorted) => sorted,
        None if pasted.chars().count() > LENGTH_MAX => {
            return Err(format!("The text must be {LENGTH_MAX} characters or fewer; paste less"));
        }
        None => paste::parse(pasted),
    };
    Ok(paste::draft(&sorted, larder, bases))
}
