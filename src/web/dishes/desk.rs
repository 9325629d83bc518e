//! The desk on which a card is written: text beside its reading, or the same card in rows.
//!
//! One handler serves the page without script, and its live part to the script.

use std::sync::Arc;

use askama::Template;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{Html, IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::desk_page::{ConflictPage, DeskPage};
use super::form::{DeskForm, Fields, Press, View, check};
use super::limits::{self, LimitsView};
use super::lines;
use super::reading::ReadingView;
use super::rows;
use super::rows_page::RowsPage;
use crate::domain::card::{self, Reading};
use crate::domain::dish::{Dish, DishId};
use crate::domain::larder::{Found, Larder};
use crate::domain::offer;
use crate::domain::reading;
use crate::storage::{AddDishError, SaveDishError};
use crate::web::extract::{Form, Id, Instructor};
use crate::web::frame::{Frame, Section};
use crate::web::{AppState, PageError};

/// Set by our script: it wants the live part only.
const PART: &str = "x-dovetray-part";

const TITLE_TAKEN: &str =
    "You already have a dish with this name, perhaps put away; choose another";

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct DeskQuery {
    view: String,
}

pub async fn show_new(
    State(state): State<AppState>,
    who: Instructor,
) -> Result<Response, PageError> {
    let desk = Desk::open(state, who, None).await?;
    desk.page(&DeskForm::of(Fields::default()), View::Text, &[], &Rows::default(), StatusCode::OK)
}

/// A card made elsewhere, to be finished and saved.
pub async fn show_draft(
    state: AppState,
    who: Instructor,
    text: String,
) -> Result<Response, PageError> {
    let desk = Desk::open(state, who, None).await?;
    let form = DeskForm { text, ..DeskForm::of(Fields::default()) };
    desk.page(&form, View::Text, &[], &Rows::default(), StatusCode::OK)
}

pub async fn show_edit(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(query): Form<DeskQuery>,
) -> Result<Response, PageError> {
    let dish = state.storage.dish(who.school.id, DishId(id)).await?.ok_or(PageError::NotFound)?;
    let mut form = DeskForm::of(Fields::default());
    dish.card.as_str().clone_into(&mut form.text);
    form.version = dish.version;
    let desk = Desk::open(state, who, Some(dish)).await?;
    desk.page(&form, View::parse(&query.view), &[], &Rows::default(), StatusCode::OK)
}

pub async fn post_new(
    State(state): State<AppState>,
    who: Instructor,
    headers: HeaderMap,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    Desk::open(state, who, None).await?.post(&headers, fields).await
}

pub async fn post_edit(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    headers: HeaderMap,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let dish = state.storage.dish(who.school.id, DishId(id)).await?.ok_or(PageError::NotFound)?;
    Desk::open(state, who, Some(dish)).await?.post(&headers, fields).await
}

/// What came of the fields of rows.
#[derive(Debug, Default)]
struct Rows {
    /// Field and sentence.
    problems: Vec<(String, String)>,
    open: Option<usize>,
}

/// What is open: a new card, or a stored dish.
struct Desk {
    state: AppState,
    who: Instructor,
    dish: Option<Dish>,
    /// Titles of the school's bases.
    bases: Vec<String>,
    larder: Arc<Larder>,
    profile: Arc<crate::domain::limit::Profile>,
}

impl Desk {
    async fn open(state: AppState, who: Instructor, dish: Option<Dish>) -> Result<Self, PageError> {
        let bases = state.storage.base_titles(who.school.id).await?;
        let larder = state.storage.larder(who.school.id).await?;
        let profile = state.storage.profile(who.school.id).await?;
        Ok(Self { state, who, dish, bases, larder, profile })
    }

    async fn post(
        &self,
        headers: &HeaderMap,
        fields: Vec<(String, String)>,
    ) -> Result<Response, PageError> {
        let mut form = DeskForm::of(Fields(fields));
        let mut rows = Rows::default();
        if form.view == View::Rows {
            let reading = self.read(&form.text);
            let changed = rows::apply(&form.text, &reading, &form.fields, &form.press);
            form.text = changed.text;
            rows = Rows { problems: changed.problems, open: changed.open };
        }
        let reading = self.read(&form.text);
        if headers.contains_key(PART) {
            let part = ReadingView::of(&form.text, &reading);
            let part = part.for_editor(&form.text, &reading).with_lines(&reading, &self.larder);
            let part = part.with_limits(self.limits(&reading));
            return Ok(Html(part.render()?).into_response());
        }
        let status = if rows.problems.is_empty() {
            StatusCode::OK
        } else {
            StatusCode::UNPROCESSABLE_ENTITY
        };
        let view = match form.press {
            Press::Save => return self.save(&form, &reading, &rows).await,
            Press::Means(line, place) => {
                return self.keep_meaning(&form, &reading, line, place).await;
            }
            // Fields that were not understood would be lost in the other view.
            Press::Show(view) if rows.problems.is_empty() => view,
            _ => form.view,
        };
        match form.press {
            Press::Write(index) => {
                let remark = reading.remarks.get(index);
                let written = remark.and_then(|it| card::put_in(&form.text, &reading, it));
                form.text = written.unwrap_or(form.text);
            }
            Press::Keep(which) => {
                let mut offers = offer::offers(&form.text, &reading);
                if let Some(index) = which {
                    offers = offers.into_iter().skip(index).take(1).collect();
                }
                form.text = offer::keep_all(&form.text, &offers);
            }
            _ => {}
        }
        self.page(&form, view, &[], &rows, status)
    }

    /// A correction of one line is kept for the school, and the card read again with it.
    async fn keep_meaning(
        &self,
        form: &DeskForm,
        reading: &Reading,
        line: usize,
        place: Option<usize>,
    ) -> Result<Response, PageError> {
        let mut entries = reading.card.steps().flat_map(|(_, step)| &step.goes_in);
        let Some(entry) = entries.find(|it| it.line == line) else {
            return self.page(form, form.view, &[], &Rows::default(), StatusCode::OK);
        };
        let what = &entry.what;
        let meaning = match (place, &what.found) {
            (Some(place), Found::Perhaps(keys)) => {
                let food = keys.get(place).and_then(|key| self.larder.food(key));
                let name = food.map(|it| it.name.as_str()).unwrap_or_default();
                reading::meaning(&what.food, name, &self.larder)
            }
            _ => {
                let typed = form.fields.get(&lines::meant_name(line)).unwrap_or_default();
                reading::meaning(&what.text, typed, &self.larder)
            }
        };
        match meaning {
            Ok(meaning) => {
                let (school, at) = (self.who.school.id, self.state.clock.now());
                self.state.storage.save_meaning(school, &meaning, at).await?;
                let again =
                    Self::open(self.state.clone(), self.who.clone(), self.dish.clone()).await?;
                again.page(form, form.view, &[], &Rows::default(), StatusCode::OK)
            }
            Err(error) => {
                let problem = format!("Line {line}: {error}");
                let status = StatusCode::UNPROCESSABLE_ENTITY;
                self.page(form, form.view, &[problem], &Rows::default(), status)
            }
        }
    }

    /// Stores what can be stored; shows everything that is in the way otherwise.
    async fn save(
        &self,
        form: &DeskForm,
        reading: &Reading,
        rows: &Rows,
    ) -> Result<Response, PageError> {
        let refuse = |problems: &[String]| {
            self.page(form, form.view, problems, rows, StatusCode::UNPROCESSABLE_ENTITY)
        };
        let new = match check(&form.text, reading) {
            Ok(new) if rows.problems.is_empty() => new,
            Ok(_) => return refuse(&[]),
            Err(problems) => return refuse(&problems),
        };
        let (storage, school) = (&self.state.storage, self.who.school.id);
        let at = self.state.clock.now();
        let Some(dish) = &self.dish else {
            let id = DishId(self.state.chance.key(at));
            let (title, kind, card) = (new.title, new.kind, new.card);
            let dish =
                Dish { id, title, kind, card, written_at: at, archived_at: None, version: 1 };
            return match storage.add_dish(school, &dish).await {
                Ok(()) => Ok(Redirect::to(&self.state.paths.dish(id)).into_response()),
                Err(AddDishError::TitleTaken) => refuse(&[TITLE_TAKEN.to_owned()]),
                Err(AddDishError::Storage(error)) => Err(error.into()),
            };
        };
        match storage.save_dish(school, dish.id, &new, form.version, at).await {
            Ok(_) => Ok(Redirect::to(&self.state.paths.dish(dish.id)).into_response()),
            Err(SaveDishError::TitleTaken) => refuse(&[TITLE_TAKEN.to_owned()]),
            Err(SaveDishError::Stale(newer)) => self.conflict(&newer, form),
            Err(SaveDishError::NotThere) => Err(PageError::NotFound),
            Err(SaveDishError::Storage(error)) => Err(error.into()),
        }
    }

    /// Somebody saved meanwhile: both texts, and which of them shall stand.
    fn conflict(&self, newer: &Dish, form: &DeskForm) -> Result<Response, PageError> {
        let page = ConflictPage::new(self.frame(), &self.who.school.zone, newer, &form.text);
        Ok((StatusCode::CONFLICT, Html(page.render()?)).into_response())
    }

    fn page(
        &self,
        form: &DeskForm,
        view: View,
        problems: &[String],
        rows: &Rows,
        status: StatusCode,
    ) -> Result<Response, PageError> {
        let reading = self.read(&form.text);
        let zone = &self.who.school.zone;
        let mut page =
            DeskPage::new(self.frame(), zone, self.dish.as_ref(), form, &reading, problems);
        page.reading =
            page.reading.with_lines(&reading, &self.larder).with_limits(self.limits(&reading));
        let html = match view {
            View::Text => page.render()?,
            View::Rows => {
                RowsPage::new(page, &reading, form, &rows.problems, rows.open).render()?
            }
        };
        Ok((status, Html(html)).into_response())
    }

    fn read(&self, text: &str) -> Arc<Reading> {
        self.state.cards.read(text, &self.larder, &self.bases)
    }

    fn limits(&self, reading: &Reading) -> Option<LimitsView> {
        let card = Arc::new(reading.card.clone());
        let now = self.state.clock.now();
        limits::of(&card, &self.who.school, &self.larder, &self.profile, now)
    }

    fn frame(&self) -> Frame {
        Frame::of(&self.state, &self.who, Section::Dishes)
    }
}
