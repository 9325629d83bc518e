//! The page of a class, and joining it: how many, and when.

use std::sync::Arc;

use askama::Template;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode, Uri};
use axum::response::{Html, IntoResponse, Redirect, Response};

use super::form::JoinForm;
use super::holder::{LinkHolder, SheetName, Visitor, paper_of};
use super::page::ClassPage;
use crate::domain::home::{Arrangement, Home, HomeId};
use crate::domain::menu::{Laid, Sitting, TableRule};
use crate::domain::publication::Published;
use crate::drawing::qr;
use crate::web::extract::{Form, hash_of};
use crate::web::frame::Frame;
use crate::web::pages::Page;
use crate::web::sheets::{Asked, Door, SheetKind, sheet};
use crate::web::{AppState, PageError};

/// The public page, from memory while nothing it shows has changed.
pub async fn show(
    State(state): State<AppState>,
    visitor: Visitor,
    headers: HeaderMap,
) -> Result<Response, PageError> {
    let (holder, turn) = match visitor {
        Visitor::Known(page) => return Ok(page.answer(&headers)),
        Visitor::New(holder, turn) => (holder, turn),
    };
    let published = published(&state, &holder).await?;
    let form = JoinForm::first(&holder.open.class);
    let html = page_of(&state, &holder, &published, form).render()?;
    let page = Page::new(holder.open.class.menu, holder.open.until, html);
    Ok(state.pages.keep(turn, holder.hash, page).answer(&headers))
}

/// Makes a home with a key of its own and leads there.
pub async fn join(
    State(state): State<AppState>,
    holder: LinkHolder,
    Form(form): Form<JoinForm>,
) -> Result<Response, PageError> {
    let published = published(&state, &holder).await?;
    let (checked, problems) = form.check(&holder.open.class.serve.zone);
    let Some((guests, serve)) = checked else {
        let page = page_of(&state, &holder, &published, form).with_problems(problems);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
    };
    let at = state.clock.now();
    let key = state.chance.signs::<26>();
    let home = Home {
        id: HomeId(state.chance.key(at)),
        class: holder.open.class.id,
        name: String::new(),
        guests,
        serve,
        arrangement: Arrangement::default(),
        shares_name: false,
        seen_number: published.laid.publication.as_ref().map_or(0, |it| it.number),
    };
    if !state.storage.join(holder.open.school, &home, hash_of(&key), at).await? {
        return Err(PageError::NotFound);
    }
    Ok(Redirect::to(&state.paths.home(&key)).into_response())
}

/// The class menu on paper, with the picture of its own address.
pub async fn print_sheet(
    State(state): State<AppState>,
    holder: LinkHolder,
    SheetName(word): SheetName,
    uri: Uri,
) -> Result<Response, PageError> {
    let kind = SheetKind::parse(&word).ok_or(PageError::NotFound)?;
    let published = published(&state, &holder).await?;
    let asked = Asked::of(&uri, paper_of(&state, holder.open.school).await?);
    let address = format!("{}{}", state.public_url.origin(), state.paths.class_page(&holder.token));
    let drawn = qr(&address, "The address of this menu, to be read by a telephone");
    let back = (state.paths.class_page(&holder.token), published.laid.name.clone());
    let sitting = class_sitting(&published, &holder);
    let door = Door { address, qr: drawn };
    let around = asked.around(&state.paths, Some(back));
    sheet(kind, &published.laid, &sitting, asked, &around, Some(door))
}

async fn published(state: &AppState, holder: &LinkHolder) -> Result<Arc<Published>, PageError> {
    let id = holder.open.class.publication.ok_or(PageError::NotFound)?;
    let published = state.fixed.publication(&state.storage, holder.open.school, id).await?;
    published.ok_or(PageError::NotFound)
}

/// The class itself as a table.
fn class_sitting(published: &Published, holder: &LinkHolder) -> Sitting {
    Sitting {
        name: "The class".to_owned(),
        guests: holder.open.class.seats,
        serve: holder.open.class.serve.clone(),
        choices: published.laid.choices.clone(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    }
}

fn page_of(
    state: &AppState,
    holder: &LinkHolder,
    published: &Published,
    form: JoinForm,
) -> ClassPage {
    let laid: &Laid = &published.laid;
    let frame = Frame::for_student(state, &laid.school);
    let action = state.paths.class_page(&holder.token);
    let paper = format!("{action}/sheets/menu");
    let sitting = class_sitting(published, holder);
    let dishes = state.class_rows.of(holder.open.class.publication, laid, &sitting);
    ClassPage::new(frame, laid, &sitting, dishes, form, action, paper)
}
