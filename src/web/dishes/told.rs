//! A menu told in running speech: taken apart into draft cards, then saved as dishes.

use std::collections::{BTreeMap, BTreeSet};

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};

use super::form::{Fields, check};
use super::told_page::{TellPage, ToldForm, ToldPage};
use crate::domain::card;
use crate::domain::dish::{Dish, DishId};
use crate::domain::larder::Larder;
use crate::domain::menu::{Letter, Menu, MenuDraft, MenuId};
use crate::domain::quantity::Portions;
use crate::domain::text::Name;
use crate::domain::told::{self, Draft, LENGTH_MAX, Told};
use crate::storage::{AddDishError, MenuSaved};
use crate::web::extract::{Form, Instructor};
use crate::web::form::Field;
use crate::web::frame::{Frame, Section};
use crate::web::menus::next_table;
use crate::web::{AppState, PageError};

pub async fn show(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let frame = Frame::of(&state, &who, Section::Dishes);
    Ok(Html(TellPage { frame, told: Field::default() }.render()?).into_response())
}

pub async fn post(
    State(state): State<AppState>,
    who: Instructor,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let form = ToldForm::of(Fields(fields));
    let larder = state.storage.larder(who.school.id).await?;
    let frame = Frame::of(&state, &who, Section::Dishes);
    if let Some(problem) = problem(&form.text) {
        let told = Field { typed: form.text, problem: Some(problem) };
        let page = TellPage { frame, told };
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    }
    let told = told::tell_with(&form.text, &larder, &form.moved);
    if form.is_reading() || told.dishes.is_empty() {
        let page = ToldPage::new(frame, &form, &told, &BTreeMap::new());
        return Ok(Html(page.render()?).into_response());
    }
    let taken = taken_titles(&state, &who).await?;
    let made = match made(&form, &told, &larder, &taken) {
        Ok(made) => made,
        Err(problems) => {
            let page = ToldPage::new(frame, &form, &told, &problems);
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
        }
    };
    save(&state, &who, &form, made).await
}

fn problem(text: &str) -> Option<String> {
    let length = text.chars().count();
    if text.trim().is_empty() {
        return Some("Tell a menu first: the dishes, what goes in, what is done".to_owned());
    }
    (length > LENGTH_MAX).then(|| {
        format!("The text must be {LENGTH_MAX} characters or fewer; this one has {length}. Tell it in parts")
    })
}

/// Folded titles of the school, those put away among them.
async fn taken_titles(state: &AppState, who: &Instructor) -> Result<BTreeSet<String>, PageError> {
    let mut dishes = state.storage.dishes(who.school.id).await?;
    dishes.append(&mut state.storage.archived_dishes(who.school.id).await?);
    Ok(dishes.iter().map(|dish| dish.title.folded()).collect())
}

/// What will be stored.
struct Made {
    dishes: Vec<crate::domain::dish::NewDish>,
    serves: Option<u32>,
    menu: Option<Name>,
}

/// The cards with what was chosen, or every problem by the field it belongs to.
fn made(
    form: &ToldForm,
    told: &Told,
    larder: &Larder,
    taken: &BTreeSet<String>,
) -> Result<Made, BTreeMap<String, String>> {
    const TAKEN: &str = "You already have a dish with this name, perhaps put away; choose another";
    let mut problems = BTreeMap::new();
    let mut dishes = Vec::new();
    let mut serves = None;
    let mut seen = taken.clone();
    for draft in &told.dishes {
        if form.is_left_out(draft) {
            continue;
        }
        let reading = card::read(&form.card(draft), larder);
        serves = serves.or(reading.card.serves.map(|it| it.high.count()));
        match check(&form.card(draft), &reading) {
            Ok(new) if !seen.insert(new.title.folded()) => {
                problems.insert(ToldForm::title_name(draft), TAKEN.to_owned());
            }
            Ok(new) => dishes.push(new),
            Err(sentences) => {
                problems.insert(ToldForm::title_name(draft), sentences.join(". "));
            }
        }
    }
    let menu = match form.menu.trim() {
        "" => None,
        typed => match Name::parse(typed) {
            Ok(name) => Some(name),
            Err(error) => {
                problems.insert("menu".to_owned(), error.to_string());
                None
            }
        },
    };
    if dishes.is_empty() && problems.is_empty() {
        problems.insert("menu".to_owned(), "Every dish is left out; keep at least one".to_owned());
    }
    if problems.is_empty() { Ok(Made { dishes, serves, menu }) } else { Err(problems) }
}

async fn save(
    state: &AppState,
    who: &Instructor,
    form: &ToldForm,
    made: Made,
) -> Result<Response, PageError> {
    let at = state.clock.now();
    let school = who.school.id;
    let dishes = made.dishes.into_iter().map(|new| Dish {
        id: DishId(state.chance.key(at)),
        title: new.title,
        kind: new.kind,
        card: new.card,
        written_at: at,
        archived_at: None,
        version: 1,
    });
    let dishes: Vec<Dish> = dishes.collect();
    match state.storage.add_dishes(school, &dishes).await {
        Ok(()) => {}
        // Somebody saved one of these names a moment ago; the titles are looked up anew.
        Err(AddDishError::TitleTaken) => {
            let larder = state.storage.larder(school).await?;
            let told = told::tell_with(&form.text, &larder, &form.moved);
            let frame = Frame::of(state, who, Section::Dishes);
            let problem = "One of these names was taken meanwhile; look at them and save again";
            let problems = BTreeMap::from([("menu".to_owned(), problem.to_owned())]);
            let page = ToldPage::new(frame, form, &told, &problems);
            return Ok((StatusCode::CONFLICT, Html(page.render()?)).into_response());
        }
        Err(AddDishError::Storage(error)) => return Err(error.into()),
    }
    let Some(name) = made.menu else {
        let path = match dishes.as_slice() {
            [only] => state.paths.dish(only.id),
            _ => state.paths.dishes(),
        };
        return Ok(Redirect::to(&path).into_response());
    };
    let guests = made.serves.map(|count| Portions::parse(&count.to_string()));
    let (serve, six) = next_table(&who.school.zone, at).ok_or(PageError::NotFound)?;
    let guests = guests.and_then(Result::ok).unwrap_or(six);
    let draft = MenuDraft { spoons: who.school.settings.spoons, ..MenuDraft::new(guests, serve) };
    let ids = dishes.iter().take(Letter::MOST).map(|dish| dish.id).collect();
    let menu = Menu { id: MenuId(state.chance.key(at)), name, draft, dishes: ids };
    match state.storage.add_menu(school, &menu, at).await? {
        MenuSaved::Saved => Ok(Redirect::to(&state.paths.menu(menu.id)).into_response()),
        MenuSaved::Stale | MenuSaved::StrangeDish => Err(PageError::NotFound),
    }
}

impl ToldForm {
    /// The card of a dish with what was kept of the offers.
    fn card(&self, draft: &Draft) -> String {
        draft.keep(
            &self.title(draft),
            |place| self.keeps_line(draft, place),
            |place| self.keeps_note(draft, place),
        )
    }
}
