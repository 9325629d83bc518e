//! A school's own words: what was corrected once, read so ever after, until it is taken away.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use serde::Deserialize;

use crate::domain::larder::{FoodKey, Larder, Meaning, Meant};
use crate::domain::reading;
use crate::web::extract::{Form, Instructor};
use crate::web::form::Field;
use crate::web::frame::{Frame, Section};
use crate::web::{AppState, PageError};

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct WordsForm {
    said: String,
    meant: String,
}

pub async fn show(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let larder = state.storage.larder(who.school.id).await?;
    let meanings = state.storage.meanings(who.school.id).await?;
    let frame = Frame::of(&state, &who, Section::Larder);
    let page = WordsPage::new(frame, &meanings, &larder, WordsForm::default(), None);
    Ok(Html(page.render()?).into_response())
}

pub async fn add(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<WordsForm>,
) -> Result<Response, PageError> {
    let (school, at) = (who.school.id, state.clock.now());
    let larder = state.storage.larder(school).await?;
    match reading::meaning(&form.said, &form.meant, &larder) {
        Ok(meaning) => {
            state.storage.save_meaning(school, &meaning, at).await?;
            Ok(Redirect::to(&state.paths.words()).into_response())
        }
        Err(error) => {
            let meanings = state.storage.meanings(school).await?;
            let frame = Frame::of(&state, &who, Section::Larder);
            let problem = Some(error.to_string());
            let page = WordsPage::new(frame, &meanings, &larder, form, problem);
            Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
        }
    }
}

pub async fn drop_words(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<WordsForm>,
) -> Result<Response, PageError> {
    state.storage.drop_meaning(who.school.id, &form.said).await?;
    Ok(Redirect::to(&state.paths.words()).into_response())
}

#[derive(Template)]
#[template(path = "larder/words.html")]
pub struct WordsPage {
    frame: Frame,
    rows: Vec<WordsRow>,
    said: Field,
    meant: Field,
}

struct WordsRow {
    said: String,
    meant: String,
    /// Of the food; none for a line.
    address: Option<String>,
}

impl WordsPage {
    fn new(
        frame: Frame,
        meanings: &[Meaning],
        larder: &Larder,
        form: WordsForm,
        problem: Option<String>,
    ) -> Self {
        let named = |key: &FoodKey| match larder.food(key) {
            Some(food) => food.name.clone(),
            None => format!("{key}, which is no food here any more"),
        };
        let row = |meaning: &Meaning| {
            let (meant, address) = match &meaning.is {
                Meant::Food(key) => (named(key), Some(frame.paths.food(key))),
                Meant::Line(line) => (line.clone(), None),
            };
            WordsRow { said: meaning.said.clone(), meant, address }
        };
        let rows = meanings.iter().map(row).collect();
        let said = Field { typed: form.said, problem };
        let meant = Field { typed: form.meant, problem: None };
        Self { frame, rows, said, meant }
    }
}

/// Both states, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let larder = Larder::shipped();
    let kept = [("nan’s oil", "olive oil"), ("2 onoins", "2 onions")]
        .map(|(said, meant)| reading::meaning(said, meant, &larder).expect("both are read"));
    let wrong = WordsForm { said: "butter".to_owned(), meant: "vegetable oil".to_owned() };
    let problem = reading::meaning(&wrong.said, &wrong.meant, &larder).err();
    let page = |meanings: &[Meaning], form: WordsForm, problem: Option<String>| {
        let page = WordsPage::new(Frame::sample(), meanings, &larder, form, problem);
        page.render().expect("samples are complete")
    };
    vec![
        ("words", page(&kept, WordsForm::default(), None)),
        ("words-none-with-problem", page(&[], wrong, problem.map(|it| it.to_string()))),
    ]
}
