//! Publishing a menu, its private links, and what was fixed under each revision.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use jiff::Timestamp;
use jiff::civil::Date;

use super::{find, laid_out};
use crate::domain::class::{Class, ClassId, Link, purge_day};
use crate::domain::difference;
use crate::domain::dish::DishRevisionId;
use crate::domain::menu::{Menu, MenuId, PublicationId};
use crate::domain::publication::Published;
use crate::domain::remark::Weight;
use crate::exchange::snapshot;
use crate::storage::{KeptHome, NewPublication, Publishing};
use crate::web::extract::{Form, Id, Instructor, Numbered};
use crate::web::frame::{Frame, Section};
use crate::web::links::{LinksView, Seen, change, new_link, of_class};
use crate::web::{AppState, PageError};

/// Fixes the menu as it stands and leads to its link. A figure that cannot be true holds it back.
pub async fn publish(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let out = laid_out(&state, &who, &kept).await?;
    let back = || Redirect::to(&state.paths.menu(kept.menu.id)).into_response();
    let has_fault = out.remarks.iter().any(|(_, remark)| remark.weight == Weight::Fault);
    if has_fault || kept.menu.dishes.is_empty() {
        return Ok(back());
    }
    let at = state.clock.now();
    let today = who.school.zone.local(at).date();
    let dishes = out.laid.dishes.iter().zip(&out.texts);
    let new = NewPublication {
        id: PublicationId(state.chance.key(at)),
        menu: kept.menu.id,
        version: kept.version,
        snapshot: snapshot::write(&out.laid, &out.texts, &kept.menu.draft),
        dishes: dishes
            .map(|(dish, text)| (dish.id, text.clone(), DishRevisionId(state.chance.key(at))))
            .collect(),
        at,
        quiet: Some(quiet_class(&state, &kept.menu, today, at)),
    };
    let (storage, school) = (state.storage.clone(), who.school.id);
    let publish = async move { storage.publish(school, new).await };
    match state.pages.forget_after(kept.menu.id, publish).await? {
        Publishing::Done { .. } => {
            Ok(Redirect::to(&state.paths.menu_links(kept.menu.id)).into_response())
        }
        Publishing::Stale => Ok(back()),
    }
}

/// A class without hours, for a menu that is published without a lesson, and its first link.
fn quiet_class(
    state: &AppState,
    menu: &Menu,
    today: Date,
    at: Timestamp,
) -> (Class, Link, [u8; 32]) {
    let class = Class {
        id: ClassId(state.chance.key(at)),
        menu: menu.id,
        publication: None,
        serve: menu.draft.serve.clone(),
        lesson: None,
        kitchen: None,
        seats: menu.draft.guests,
        fee_minor: None,
        purge_on: purge_day(menu.draft.serve.local.date(), today),
    };
    let (link, hash) = new_link(state, &class, String::new(), at);
    (class, link, hash)
}

#[derive(Template)]
#[template(path = "menus/links.html")]
struct LinksPage {
    frame: Frame,
    name: String,
    menu: String,
    links: LinksView,
    homes: Vec<(String, u32)>,
}

/// Every link of every class of this menu.
pub async fn links(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let classes = classes_of(&state, &who, kept.menu.id).await?;
    let mut links = Vec::new();
    let mut homes = Vec::new();
    for class in &classes {
        for KeptHome { home, .. } in state.storage.homes(who.school.id, class.id).await? {
            homes.push((home.name_for_school().to_owned(), home.guests.count()));
        }
        links.extend(of_class(&state, who.school.id, class).await?);
    }
    links.sort_by_key(|link| link.made_at);
    let now = state.clock.now();
    let origin = state.public_url.origin();
    let seen = Seen { origin: &origin, zone: &who.school.zone, now };
    let action = state.paths.menu_links(kept.menu.id);
    let is_over = classes.iter().all(|class| class.closes_at() <= now);
    let page = LinksPage {
        frame: Frame::of(&state, &who, Section::Menus),
        name: kept.menu.name.to_string(),
        menu: state.paths.menu(kept.menu.id),
        links: LinksView::of(&state.paths, &links, &seen, action, is_over),
        homes,
    };
    Ok(Html(page.render()?).into_response())
}

pub async fn change_links(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let menu = find(&state, &who, id).await?.menu.id;
    let classes = classes_of(&state, &who, menu).await?;
    change(&state, &who, &classes, &pairs).await?;
    Ok(Redirect::to(&state.paths.menu_links(menu)).into_response())
}

async fn classes_of(
    state: &AppState,
    who: &Instructor,
    menu: MenuId,
) -> Result<Vec<Class>, PageError> {
    let classes = state.storage.classes(who.school.id).await?;
    Ok(classes.into_iter().map(|it| it.class).filter(|it| it.menu == menu).collect())
}

#[derive(Template)]
#[template(path = "menus/fixed.html")]
struct FixedPage {
    frame: Frame,
    name: String,
    menu: String,
    about: String,
    dishes: Vec<(String, bool, String, String)>,
    changes: ChangesShown,
    before: Option<u32>,
}

/// What a publication changed against the one before, in words and lines.
#[derive(Clone, Debug, Default)]
pub struct ChangesShown {
    pub terms: Vec<(String, String, String)>,
    pub added: Vec<String>,
    pub left_out: Vec<String>,
    /// Dish, lines that went, lines that came.
    pub texts: Vec<(String, Vec<String>, Vec<String>)>,
}

impl ChangesShown {
    pub fn of(now: &Published, was: &Published) -> Self {
        let changes = now.changes_since(was);
        let title =
            |it: &crate::domain::publication::FixedText| format!("{} {}", it.letter, it.title);
        let mut terms: Vec<_> = changes
            .terms
            .iter()
            .map(|it| (it.what.to_owned(), it.was.clone(), it.now.clone()))
            .collect();
        terms.extend(changes.moved.iter().map(|(it, letter)| {
            (format!("Letter of {}", it.title), letter.to_string(), it.letter.to_string())
        }));
        let text = |it: &crate::domain::publication::TextChange| {
            let (mut went, mut came) = (Vec::new(), Vec::new());
            for change in difference::between(&it.was.card, &it.now.card) {
                match (change.was, change.now) {
                    (Some(was), None) => went.push(was.text.to_owned()),
                    (None, Some(now)) => came.push(now.text.to_owned()),
                    _ => {}
                }
            }
            (title(&it.now), went, came)
        };
        Self {
            terms,
            added: changes.added.iter().map(title).collect(),
            left_out: changes.left_out.iter().map(title).collect(),
            texts: changes.texts.iter().map(text).collect(),
        }
    }

    pub fn is_empty(&self) -> bool {
        self.terms.is_empty()
            && self.added.is_empty()
            && self.left_out.is_empty()
            && self.texts.is_empty()
    }
}

/// One revision of the menu, read from its snapshot alone.
pub async fn fixed(
    State(state): State<AppState>,
    who: Instructor,
    Numbered(id, number): Numbered,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let published =
        numbered(&state, &who, kept.menu.id, number).await?.ok_or(PageError::NotFound)?;
    let was = match number {
        0 | 1 => None,
        later => numbered(&state, &who, kept.menu.id, later - 1).await?,
    };
    let revision = published.laid.publication.clone();
    let about = revision.map_or_else(String::new, |it| {
        let date = who.school.zone.date_of(it.at);
        format!(
            "Revision {}, {date}, check word {}. It is never changed.",
            it.number, it.check_word
        )
    });
    let page = FixedPage {
        frame: Frame::of(&state, &who, Section::Menus),
        name: published.laid.name.clone(),
        menu: state.paths.menu(kept.menu.id),
        about,
        dishes: published
            .texts
            .iter()
            .map(|it| {
                let is_base = published.laid.dishes.iter().any(|d| d.id == it.dish && d.is_base);
                let words = format!("revision {}, check word {}", it.number, it.check_word);
                (it.letter.to_string(), is_base, it.title.clone(), words)
            })
            .collect(),
        before: was.as_ref().map(|_| number - 1),
        changes: was.map(|was| ChangesShown::of(&published, &was)).unwrap_or_default(),
    };
    Ok((StatusCode::OK, Html(page.render()?)).into_response())
}

async fn numbered(
    state: &AppState,
    who: &Instructor,
    menu: MenuId,
    number: u32,
) -> Result<Option<Published>, PageError> {
    let id = state.storage.publication_numbered(who.school.id, menu, number).await?;
    match id {
        Some(id) => Ok(state.storage.publication(who.school.id, id).await?),
        None => Ok(None),
    }
}

/// Both pages in their states, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let links = LinksPage {
        frame: Frame::sample(),
        name: "Midsummer lunch".to_owned(),
        menu: "/base/menus/0".to_owned(),
        links: LinksView::sample("/base/menus/0/links"),
        homes: vec![("A home".to_owned(), 4)],
    };
    let fixed = FixedPage {
        frame: Frame::sample(),
        name: "Midsummer lunch".to_owned(),
        menu: "/base/menus/0".to_owned(),
        about: "Revision 2, 18 June 2027, check word plover. It is never changed.".to_owned(),
        dishes: vec![("A".to_owned(), false, "Soup".to_owned(), "revision 1".to_owned())],
        changes: ChangesShown {
            terms: vec![("Name".to_owned(), "Lunch".to_owned(), "Midsummer lunch".to_owned())],
            added: vec!["B Loaf".to_owned()],
            left_out: vec![],
            texts: vec![(
                "A Soup".to_owned(),
                vec!["+ 1 tbsp salt".to_owned()],
                vec!["+ 1 tsp salt".to_owned()],
            )],
        },
        before: Some(1),
    };
    vec![
        ("menu-links", links.render().expect("samples are complete")),
        ("menu-fixed", fixed.render().expect("samples are complete")),
    ]
}
