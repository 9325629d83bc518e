//! Pages about menus: put together, checked, published, and the private links that show them.

mod form;
mod page;
mod publish;
mod samples;

use askama::Template;
use axum::extract::State;
use axum::http::{StatusCode, Uri};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};

pub use self::form::next_table;
use self::form::{MenuForm, NewMenuForm};
use self::page::{MenuPage, MenusPage, NewMenuPage};
pub use self::publish::ChangesShown;
pub use self::samples::samples;
use super::extract::{Form, Id, Instructor, Named};
use super::frame::{Frame, Section};
use super::limits::of_menu;
use super::routes::{Route, Who, row};
use super::sheets::{Asked, SheetKind, sheet};
use super::{AppState, PageError};
use crate::domain::layout::{Facts, LaidOut, lay_out};
use crate::domain::menu::{Menu, MenuDraft, MenuId, Sitting, TableRule};
use crate::storage::{MenuFacts, MenuSaved};

pub const ROUTES: &[Route] = &[
    row("GET", "/menus", Who::Instructor, || get(list)),
    row("GET", "/menus/new", Who::Instructor, || get(show_new)),
    row("POST", "/menus/new", Who::Instructor, || post(create)),
    row("GET", "/menus/{id}", Who::Instructor, || get(show)),
    row("POST", "/menus/{id}", Who::Instructor, || post(change)),
    row("GET", "/menus/{id}/sheets/{name}", Who::Instructor, || get(print_sheet)),
    row("GET", "/menus/{id}/limits", Who::Instructor, || get(limits)),
    row("POST", "/menus/{id}/publish", Who::Instructor, || post(publish::publish)),
    row("GET", "/menus/{id}/links", Who::Instructor, || get(publish::links)),
    row("POST", "/menus/{id}/links", Who::Instructor, || post(publish::change_links)),
    row("GET", "/menus/{id}/fixed/{number}", Who::Instructor, || get(publish::fixed)),
];

async fn list(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let menus = state.storage.menus(who.school.id).await?;
    let has_dish = !state.storage.dishes(who.school.id).await?.is_empty();
    let page = MenusPage::new(Frame::of(&state, &who, Section::Menus), &menus, has_dish);
    Ok(Html(page.render()?).into_response())
}

async fn show_new(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let dishes = state.storage.dishes(who.school.id).await?;
    let today = who.school.zone.local(state.clock.now()).date();
    let form = NewMenuForm::first(today, &dishes);
    let page = NewMenuPage::new(Frame::of(&state, &who, Section::Menus), form, &dishes);
    Ok(Html(page.render()?).into_response())
}

async fn create(
    State(state): State<AppState>,
    who: Instructor,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let dishes = state.storage.dishes(who.school.id).await?;
    let form = NewMenuForm::of(&pairs);
    let (checked, problems) = form.check(&who.school.zone, &dishes);
    let page = NewMenuPage::new(Frame::of(&state, &who, Section::Menus), form, &dishes);
    let Some((name, guests, serve, dishes)) = checked else {
        return again(&page.with_problems(problems));
    };
    let at = state.clock.now();
    let id = MenuId(state.chance.key(at));
    let draft = MenuDraft { spoons: who.school.settings.spoons, ..MenuDraft::new(guests, serve) };
    let menu = Menu { id, name, draft, dishes };
    match state.storage.add_menu(who.school.id, &menu, at).await? {
        MenuSaved::Saved => Ok(Redirect::to(&state.paths.menu(id)).into_response()),
        MenuSaved::Stale | MenuSaved::StrangeDish => Err(PageError::NotFound),
    }
}

async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let page = page_of(&state, &who, &kept, None).await?;
    Ok(Html(page.render()?).into_response())
}

/// Saves the fields, and then does what the pressed button says: up, down, take out, put in.
async fn change(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let form = MenuForm::of(&pairs);
    let (menu, problems) = form.check(&kept.menu);
    let Some(menu) = menu else {
        let page = page_of(&state, &who, &kept, Some((form, problems))).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    let saved = state.storage.save_menu(who.school.id, &menu, form.version, state.clock.now());
    match saved.await? {
        MenuSaved::Saved => Ok(Redirect::to(&state.paths.menu(menu.id)).into_response()),
        MenuSaved::StrangeDish => Err(PageError::NotFound),
        MenuSaved::Stale => {
            let newer = find(&state, &who, id).await?;
            let problem = "The menu was changed elsewhere meanwhile; look at it and press again";
            let form = MenuForm { version: newer.version, ..form };
            let problems = vec![("name", problem.to_owned())];
            let page = page_of(&state, &who, &newer, Some((form, problems))).await?;
            Ok((StatusCode::CONFLICT, Html(page.render()?)).into_response())
        }
    }
}

/// Any sheet of the draft, for the table it was written for.
async fn print_sheet(
    State(state): State<AppState>,
    who: Instructor,
    Named(id, word): Named,
    uri: Uri,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let kind = SheetKind::parse(&word).ok_or(PageError::NotFound)?;
    let out = laid_out(&state, &who, &kept).await?;
    let asked = Asked::of(&uri, who.school.settings.paper);
    let mut sitting = sitting_of(&kept.menu);
    sitting.guests = asked.guests.unwrap_or(sitting.guests);
    let back = (state.paths.menu(kept.menu.id), kept.menu.name.to_string());
    sheet(kind, &out.laid, &sitting, asked, &asked.around(&state.paths, Some(back)), None)
}

/// What limits the draft, by the rules of the school as they stand.
async fn limits(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let out = laid_out(&state, &who, &kept).await?;
    let sitting = sitting_of(&kept.menu);
    let name = kept.menu.name.to_string();
    let around = of_menu::Around {
        frame: Frame::of(&state, &who, Section::Menus),
        about: format!("At the table {}, {}.", sitting.serve.in_words(), sitting.serve.zone.name()),
        title: name.clone(),
        back: (state.paths.menu(kept.menu.id), "The menu".to_owned()),
        paper: state.paths.menu_sheet(kept.menu.id, "rules"),
        change: Some(state.paths.limits()),
    };
    Ok(Html(of_menu::page(around, &out.laid, &sitting)?).into_response())
}

/// The menu of this school under `id`; a stranger's is not there.
pub async fn find(
    state: &AppState,
    who: &Instructor,
    id: uuid::Uuid,
) -> Result<MenuFacts, PageError> {
    state.storage.menu(who.school.id, MenuId(id)).await?.ok_or(PageError::NotFound)
}

/// The draft as its students would get it.
pub async fn laid_out(
    state: &AppState,
    who: &Instructor,
    kept: &MenuFacts,
) -> Result<LaidOut, PageError> {
    let larder = state.storage.larder(who.school.id).await?;
    let profile = state.storage.profile(who.school.id).await?;
    Ok(lay_out(&Facts {
        school: who.school.name.as_str(),
        zone: &who.school.zone,
        name: kept.menu.name.as_str(),
        draft: &kept.menu.draft,
        dishes: &kept.dishes,
        bases: &kept.bases,
        larder: &larder,
        profile: &profile,
    }))
}

/// The table the menu is written for.
fn sitting_of(menu: &Menu) -> Sitting {
    Sitting {
        name: String::new(),
        guests: menu.draft.guests,
        serve: menu.draft.serve.clone(),
        choices: menu.draft.choices.clone(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    }
}

async fn page_of(
    state: &AppState,
    who: &Instructor,
    kept: &MenuFacts,
    again: Option<(MenuForm, form::Problems)>,
) -> Result<MenuPage, PageError> {
    let out = laid_out(state, who, kept).await?;
    let all = state.storage.dishes(who.school.id).await?;
    let publications = state.storage.publications(who.school.id, kept.menu.id).await?;
    let (form, problems) =
        again.unwrap_or_else(|| (MenuForm::from(&kept.menu, kept.version), Vec::new()));
    let frame = Frame::of(state, who, Section::Menus);
    let sitting = sitting_of(&kept.menu);
    let page = MenuPage::new(frame, &kept.menu, &out, &sitting, form, &all, &publications);
    Ok(page.with_problems(problems))
}

fn again(page: &impl Template) -> Result<Response, PageError> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response())
}
