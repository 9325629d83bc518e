//! A home's own pages: its table, what to make ahead, what changed, its sheets.

use askama::Template;
use axum::extract::State;
use axum::http::{StatusCode, Uri};
use axum::response::{Html, IntoResponse, Redirect, Response};

use super::form::{Problems, TableForm};
use super::holder::{AtTable, KeyHolder, SheetName, paper_of};
use super::list::{cost_of, list_of, measures_of};
use super::page::{AheadPage, ChangesPage, LeftPage, TablePage};
use crate::domain::handout::shopping_sheet;
use crate::domain::home::Allergy;
use crate::domain::keeps::{Prefer, ahead};
use crate::domain::kitchen::{ColdRoom, Kitchen, usual_kitchens};
use crate::storage::HomeSaved;
use crate::web::extract::Form;
use crate::web::frame::{Frame, HomeAt};
use crate::web::limits::of_menu;
use crate::web::sheets::{Asked, SheetKind, sheet};
use crate::web::{AppState, PageError};

pub async fn show(State(state): State<AppState>, holder: KeyHolder) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    Ok(Html(page(&state, &holder, &at, None).render()?).into_response())
}

fn page(
    state: &AppState,
    holder: &KeyHolder,
    at: &AtTable,
    again: Option<(TableForm, Problems)>,
) -> TablePage {
    let frame = Frame::for_home(state, &at.laid().school, &holder.key, HomeAt::Table);
    let (form, problems) = again.unwrap_or_else(|| (TableForm::from(&holder.kept), Vec::new()));
    let sheets = format!("{}/sheets", state.paths.home(&holder.key));
    let page = TablePage::new(frame, &holder.kept, at, form, &sheets);
    page.with_problems(problems)
}

pub async fn change(
    State(state): State<AppState>,
    holder: KeyHolder,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let form = TableForm::of(&pairs);
    let (home, problems) = form.check(&holder.kept.home, &at.laid().larder);
    let Some(mut home) = home else {
        let page = page(&state, &holder, &at, Some((form, problems)));
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    let left_out = |letter: &String| {
        let dish = at.laid().eaten().find(|dish| dish.letter.to_string() == *letter);
        dish.map(|dish| dish.id)
    };
    home.arrangement.without = form.without.iter().filter_map(left_out).collect();
    home.arrangement.kitchen = kitchen(home.arrangement.kitchen.as_ref(), &form.freezer);
    match state.storage.save_home(holder.kept.school, &home, form.version).await? {
        HomeSaved::Stale => {
            let problem = "The table was changed on another device; look at it and press again";
            let form = TableForm { version: holder.kept.version, ..form };
            let page =
                page(&state, &holder, &at, Some((form, vec![("guests", problem.to_owned())])));
            return Ok((StatusCode::CONFLICT, Html(page.render()?)).into_response());
        }
        HomeSaved::Saved => {}
    }
    let consent_at = state.clock.now();
    let told: Vec<Allergy> = form
        .told()
        .into_iter()
        .map(|what| Allergy {
            what,
            strict: form.strict,
            consent_at,
            words_version: Allergy::CONSENT_VERSION,
        })
        .collect();
    state.storage.tell_allergies(holder.kept.school, home.id, &told).await?;
    Ok(Redirect::to(&state.paths.home(&holder.key)).into_response())
}

/// The usual kitchen with the room in the freezer that was answered.
fn kitchen(before: Option<&Kitchen>, freezer: &str) -> Option<Kitchen> {
    let room = ColdRoom::parse(freezer);
    match (before, room) {
        (before, None) => before.cloned(),
        (Some(kitchen), Some(freezer)) => Some(Kitchen { freezer, ..kitchen.clone() }),
        (None, Some(freezer)) => {
            usual_kitchens().into_iter().next().map(|kitchen| Kitchen { freezer, ..kitchen })
        }
    }
}

pub async fn ahead_page(
    State(state): State<AppState>,
    holder: KeyHolder,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let plan = ahead(at.laid(), &at.sitting, Prefer::Late);
    let frame = Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::Ahead);
    let page = AheadPage::new(frame, &at, &plan, &state.paths.home(&holder.key));
    Ok(Html(page.render()?).into_response())
}

/// What limits this table, by the rules the menu was published with.
pub async fn limits(
    State(state): State<AppState>,
    holder: KeyHolder,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let home = state.paths.home(&holder.key);
    let around = of_menu::Around {
        frame: Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::Limits),
        about: format!("At the table {}.", at.sitting.serve.in_words()),
        title: at.laid().name.clone(),
        back: (format!("{home}/log"), "Write a reading".to_owned()),
        paper: format!("{home}/sheets/rules"),
        change: None,
    };
    Ok(Html(of_menu::page(around, at.laid(), &at.sitting)?).into_response())
}

pub async fn changes(
    State(state): State<AppState>,
    holder: KeyHolder,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let kept = &holder.kept;
    let seen = kept.home.seen_number;
    let was = match state.storage.publication_numbered(kept.school, kept.menu, seen).await? {
        Some(id) if seen < at.number => {
            state.fixed.publication(&state.storage, kept.school, id).await?
        }
        _ => None,
    };
    let frame = Frame::for_home(&state, &at.laid().school, &holder.key, HomeAt::Table);
    let page = ChangesPage::new(frame, &at, was.as_deref(), &state.paths.home(&holder.key));
    Ok(Html(page.render()?).into_response())
}

pub async fn read_changes(
    State(state): State<AppState>,
    holder: KeyHolder,
) -> Result<Response, PageError> {
    let kept = &holder.kept;
    if let Some((_, number)) = kept.publication {
        state.storage.read_changes(kept.school, kept.home.id, number).await?;
    }
    Ok(Redirect::to(&state.paths.home(&holder.key)).into_response())
}

pub async fn print_sheet(
    State(state): State<AppState>,
    holder: KeyHolder,
    SheetName(word): SheetName,
    uri: Uri,
) -> Result<Response, PageError> {
    let kind = SheetKind::parse(&word).ok_or(PageError::NotFound)?;
    let at = AtTable::of(&state, &holder).await?;
    let arrangement = &holder.kept.home.arrangement;
    let paper = paper_of(&state, holder.kept.school).await?;
    let asked = Asked::of_table(&uri, paper, measures_of(arrangement));
    let mut sitting = at.sitting.clone();
    sitting.guests = asked.guests.unwrap_or(sitting.guests);
    let back = (state.paths.home(&holder.key), "Your table".to_owned());
    let around = asked.around(&state.paths, Some(back));
    if kind == SheetKind::Shopping {
        let list = list_of(&AtTable { sitting: sitting.clone(), ..at.clone() }, arrangement).0;
        let mut sheet = shopping_sheet(at.laid(), &sitting, &list, asked.measures);
        let costed = cost_of(&state, holder.kept.school, (&list, sitting.guests)).await?;
        sheet.about.extend(costed);
        return Ok(Html(crate::print::shopping(&around, &sheet)?).into_response());
    }
    sheet(kind, at.laid(), &sitting, asked, &around, None)
}

/// Deletes the home and everything it told; its address opens nothing from then on.
pub async fn leave(
    State(state): State<AppState>,
    holder: KeyHolder,
) -> Result<Response, PageError> {
    state.storage.leave(holder.kept.school, holder.kept.home.id).await?;
    let page = LeftPage { frame: Frame::for_anyone(&state) };
    Ok(Html(page.render()?).into_response())
}
