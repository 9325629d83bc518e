//! Pages about classes: the list, a class made from a menu, its links and homes, and the shopping
//! for all of them together.

mod form;
mod log;
mod page;
mod samples;
mod shopping;

use std::collections::BTreeSet;

use askama::Template;
use axum::extract::State;
use axum::http::{StatusCode, Uri};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};

use self::form::{ClassForm, made_on};
use self::page::{ChoosePage, ClassPage, ClassesPage, EditClassPage, Shown};
pub use self::samples::samples;
use super::extract::{Form, Id, Instructor, Named};
use super::frame::{Frame, Section};
use super::limits::of_menu;
use super::links::{self, new_link};
use super::menus;
use super::routes::{Route, Who, row};
use super::sheets::{Asked, Door, SheetKind, sheet};
use super::{AppState, PageError};
use crate::domain::class::{Class, ClassId};
use crate::domain::menu::{Laid, Sitting, TableRule};
use crate::drawing::qr;
use crate::storage::{ClassSaved, KeptClass};

pub const ROUTES: &[Route] = &[
    row("GET", "/classes", Who::Instructor, || get(list)),
    row("GET", "/classes/new", Who::Instructor, || get(choose)),
    row("GET", "/menus/{id}/class", Who::Instructor, || get(show_new)),
    row("POST", "/menus/{id}/class", Who::Instructor, || post(create)),
    row("GET", "/classes/{id}", Who::Instructor, || get(show)),
    row("GET", "/classes/{id}/edit", Who::Instructor, || get(show_edit)),
    row("POST", "/classes/{id}/edit", Who::Instructor, || post(change)),
    row("POST", "/classes/{id}/links", Who::Instructor, || post(change_links)),
    row("GET", "/classes/{id}/shopping", Who::Instructor, || get(shopping::show)),
    row("GET", "/classes/{id}/shopping.csv", Who::Instructor, || get(shopping::csv)),
    row("GET", "/classes/{id}/limits", Who::Instructor, || get(limits)),
    row("GET", "/classes/{id}/log", Who::Instructor, || get(log::show)),
    row("POST", "/classes/{id}/log", Who::Instructor, || post(log::change)),
    row("GET", "/classes/{id}/sheets/{name}", Who::Instructor, || get(print_sheet)),
];

async fn list(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let classes = state.storage.classes(who.school.id).await?;
    let today = who.school.zone.local(state.clock.now()).date();
    let page = ClassesPage::new(frame(&state, &who), &classes, today);
    Ok(Html(page.render()?).into_response())
}

async fn choose(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let menus = state.storage.menus(who.school.id).await?;
    Ok(Html(ChoosePage::new(frame(&state, &who), &menus).render()?).into_response())
}

async fn show_new(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let menu = menus::find(&state, &who, id).await?.menu;
    let kitchens = state.storage.kitchens(who.school.id).await?;
    let page = EditClassPage::new_of(frame(&state, &who), &menu, ClassForm::of_menu(&menu));
    Ok(Html(page.beside(&kitchens, &who.school).render()?).into_response())
}

async fn create(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(form): Form<ClassForm>,
) -> Result<Response, PageError> {
    let menu = menus::find(&state, &who, id).await?.menu;
    let kitchens = state.storage.kitchens(who.school.id).await?;
    let at = state.clock.now();
    let today = who.school.zone.local(at).date();
    let (checked, problems) = form.check(&who.school, &menu.draft.serve.zone, &kitchens, today);
    let Some(checked) = checked else {
        let page = EditClassPage::new_of(frame(&state, &who), &menu, form).with(problems);
        return again(StatusCode::UNPROCESSABLE_ENTITY, &page.beside(&kitchens, &who.school));
    };
    let class = checked.class(ClassId(state.chance.key(at)), menu.id);
    let (link, hash) = new_link(&state, &class, String::new(), at);
    match state.storage.add_class(who.school.id, &class, &link, hash, at).await? {
        ClassSaved::Saved => Ok(Redirect::to(&state.paths.class(class.id)).into_response()),
        ClassSaved::Stale | ClassSaved::Strange => Err(PageError::NotFound),
    }
}

async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let (school, now) = (who.school.id, state.clock.now());
    let links = links::of_class(&state, school, &kept.class).await?;
    let homes = state.storage.homes(school, kept.class.id).await?;
    let kitchens = state.storage.kitchens(school).await?;
    let origin = state.public_url.origin();
    let laid = laid_of(&state, &who, &kept).await?;
    let shown = Shown {
        kept: &kept,
        links: &links,
        homes: &homes,
        kitchens: &kitchens,
        school: &who.school,
        letters: laid.dishes.iter().map(|dish| (dish.letter, dish.is_base)).collect(),
        tools: tools_of(&laid),
        origin: &origin,
        now,
    };
    let page = ClassPage::new(frame(&state, &who), &shown);
    Ok(Html(page.render()?).into_response())
}

async fn show_edit(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let kitchens = state.storage.kitchens(who.school.id).await?;
    let form = ClassForm::from(&kept, &who.school);
    let page = EditClassPage::change_of(frame(&state, &who), &kept, form);
    Ok(Html(page.beside(&kitchens, &who.school).render()?).into_response())
}

async fn change(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(form): Form<ClassForm>,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let kitchens = state.storage.kitchens(who.school.id).await?;
    let (checked, problems) =
        form.check(&who.school, &kept.class.serve.zone, &kitchens, made_on(&kept.class));
    let version = form.version();
    let page = |form| EditClassPage::change_of(frame(&state, &who), &kept, form);
    let Some(checked) = checked else {
        let page = page(form).with(problems).beside(&kitchens, &who.school);
        return again(StatusCode::UNPROCESSABLE_ENTITY, &page);
    };
    let class = checked.class(kept.class.id, kept.class.menu);
    let (storage, school, saving) = (state.storage.clone(), who.school.id, class.clone());
    let save = async move { storage.save_class(school, &saving, version).await };
    match state.pages.forget_after(class.menu, save).await? {
        ClassSaved::Saved => Ok(Redirect::to(&state.paths.class(class.id)).into_response()),
        ClassSaved::Strange => Err(PageError::NotFound),
        ClassSaved::Stale => {
            let form = form.at_version(kept.version);
            let page = page(form).with_newer().beside(&kitchens, &who.school);
            again(StatusCode::CONFLICT, &page)
        }
    }
}

async fn change_links(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let class = find(&state, &who, id).await?.class;
    let back = Redirect::to(&state.paths.class(class.id)).into_response();
    links::change(&state, &who, &[class], &pairs).await?;
    Ok(back)
}

/// Any sheet, for as many as the class has seats. Its class menu bears the newest open link.
async fn print_sheet(
    State(state): State<AppState>,
    who: Instructor,
    Named(id, word): Named,
    uri: Uri,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let kind = SheetKind::parse(&word).ok_or(PageError::NotFound)?;
    let laid = laid_of(&state, &who, &kept).await?;
    let asked = Asked::of(&uri, who.school.settings.paper);
    let mut sitting = sitting_of(&kept.class, &laid);
    sitting.guests = asked.guests.unwrap_or(sitting.guests);
    let links = links::of_class(&state, who.school.id, &kept.class).await?;
    let newest = links.iter().rev().find(|link| link.opens_at(state.clock.now()));
    let door = newest.map(|link| {
        let page = state.paths.class_page(&link.token);
        let address = format!("{}{page}", state.public_url.origin());
        let drawn = qr(&address, "The address of this menu, to be read by a telephone");
        Door { address, qr: drawn }
    });
    let back = (state.paths.class(kept.class.id), kept.menu_name.clone());
    sheet(kind, &laid, &sitting, asked, &asked.around(&state.paths, Some(back)), door)
}

/// What limits the class: by the rules it was published with, for its seats.
async fn limits(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let laid = laid_of(&state, &who, &kept).await?;
    let sitting = sitting_of(&kept.class, &laid);
    let published = if kept.class.publication.is_some() { "As published." } else { "A draft." };
    let around = of_menu::Around {
        frame: frame(&state, &who),
        about: format!("{published} At the table {}.", sitting.serve.in_words()),
        title: format!("{}, class", kept.menu_name),
        back: (state.paths.class(kept.class.id), "The class".to_owned()),
        paper: state.paths.class_sheet(kept.class.id, "rules"),
        change: Some(state.paths.limits()),
    };
    Ok(Html(of_menu::page(around, &laid, &sitting)?).into_response())
}

/// The class of this school under `id`; a stranger's is not there.
async fn find(state: &AppState, who: &Instructor, id: uuid::Uuid) -> Result<KeptClass, PageError> {
    state.storage.class(who.school.id, ClassId(id)).await?.ok_or(PageError::NotFound)
}

/// What the class cooks: what was published, or the draft while nothing is.
async fn laid_of(state: &AppState, who: &Instructor, kept: &KeptClass) -> Result<Laid, PageError> {
    if let Some(id) = kept.class.publication {
        let published = state.fixed.publication(&state.storage, who.school.id, id).await?;
        return Ok(published.ok_or(PageError::NotFound)?.laid.clone());
    }
    let menu = menus::find(state, who, kept.class.menu.0).await?;
    Ok(menus::laid_out(state, who, &menu).await?.laid)
}

/// The words by which the cards name what they use.
fn tools_of(laid: &Laid) -> BTreeSet<&str> {
    let steps = laid.dishes.iter().flat_map(|dish| dish.card.steps());
    steps.flat_map(|(_, step)| &step.tools).map(|tool| tool.name.as_str()).collect()
}

/// The table of the class itself: a portion a seat.
fn sitting_of(class: &Class, laid: &Laid) -> Sitting {
    Sitting {
        name: "the class".to_owned(),
        guests: class.seats,
        serve: class.serve.clone(),
        choices: laid.choices.clone(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    }
}

fn frame(state: &AppState, who: &Instructor) -> Frame {
    Frame::of(state, who, Section::Classes)
}

fn again(status: StatusCode, page: &EditClassPage) -> Result<Response, PageError> {
    Ok((status, Html(page.render()?)).into_response())
}
