//! Publishing a menu, its private links, and what was fixed under each revision.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use jiff::{Span, Timestamp};

use super::{find, laid_out};
use crate::domain::class::{Class, ClassId, LINK_DAYS, Link, LinkId, purge_day};
use crate::domain::difference;
use crate::domain::dish::DishRevisionId;
use crate::domain::menu::{Menu, MenuId, PublicationId};
use crate::domain::moment::ServiceTime;
use crate::domain::publication::Published;
use crate::domain::remark::Weight;
use crate::drawing::{Svg, qr};
use crate::exchange::snapshot;
use crate::storage::{NewPublication, Publishing};
use crate::web::extract::{Form, Id, Instructor, Numbered, hash_of};
use crate::web::frame::{Frame, Section};
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
        quiet: Some(quiet_class(&state, &kept.menu, at)),
    };
    match state.storage.publish(who.school.id, new).await? {
        Publishing::Done { .. } => {
            state.pages.forget(kept.menu.id);
            Ok(Redirect::to(&state.paths.menu_links(kept.menu.id)).into_response())
        }
        Publishing::Stale => Ok(back()),
    }
}

/// A class without hours, for a menu that is published without a lesson, and its first link.
fn quiet_class(state: &AppState, menu: &Menu, at: Timestamp) -> (Class, Link, [u8; 32]) {
    let class = Class {
        id: ClassId(state.chance.key(at)),
        menu: menu.id,
        publication: None,
        serve: menu.draft.serve.clone(),
        lesson: None,
        kitchen: None,
        seats: menu.draft.guests,
        fee_minor: None,
        purge_on: purge_day(menu.draft.serve.local.date()),
    };
    let (link, hash) = new_link(state, &menu.draft.serve, String::new(), at);
    (class, link, hash)
}

/// 26 signs of 5 bits: 130 bits of chance.
pub fn new_link(
    state: &AppState,
    serve: &ServiceTime,
    note: String,
    at: Timestamp,
) -> (Link, [u8; 32]) {
    let token = state.chance.signs::<26>();
    let hash = hash_of(&token);
    let days = Span::new().hours(24 * i64::from(LINK_DAYS));
    let expires_at = serve.instant().max(at).checked_add(days).unwrap_or(at);
    let id = LinkId(state.chance.key(at));
    (Link { id, token, note, made_at: at, expires_at, revoked_at: None }, hash)
}

#[derive(Template)]
#[template(path = "menus/links.html")]
struct LinksPage {
    frame: Frame,
    name: String,
    menu: String,
    action: String,
    newest: Option<(String, Option<Svg>)>,
    links: Vec<LinkRow>,
    homes: Vec<(String, u32)>,
}

struct LinkRow {
    id: String,
    address: String,
    note: String,
    until: String,
    is_open: bool,
}

/// Every link of every class of this menu.
pub async fn links(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let now = state.clock.now();
    let mut links = Vec::new();
    let mut homes = Vec::new();
    for class in classes_of(&state, &who, kept.menu.id).await? {
        for home in state.storage.homes(who.school.id, class).await? {
            let name = if home.home.shares_name && !home.home.name.is_empty() {
                home.home.name.clone()
            } else {
                "A home".to_owned()
            };
            homes.push((name, home.home.guests.count()));
        }
        links.extend(state.storage.links(who.school.id, class).await?);
    }
    let address = |link: &Link| {
        format!("{}{}", state.public_url.origin(), state.paths.class_page(&link.token))
    };
    let newest = links.iter().rev().find(|link| link.opens_at(now)).map(|link| {
        let address = address(link);
        let drawn = qr(&address, "The address of the menu, to be read by a telephone");
        (address, drawn)
    });
    let row = |link: &Link| LinkRow {
        id: link.id.0.to_string(),
        address: address(link),
        note: link.note.clone(),
        until: match link.revoked_at {
            Some(at) => format!("closed on {}", who.school.zone.date_of(at)),
            None => format!("opens until {}", who.school.zone.date_of(link.expires_at)),
        },
        is_open: link.opens_at(now),
    };
    let page = LinksPage {
        frame: Frame::of(&state, &who, Section::Menus),
        name: kept.menu.name.to_string(),
        menu: state.paths.menu(kept.menu.id),
        action: state.paths.menu_links(kept.menu.id),
        newest,
        links: links.iter().map(row).collect(),
        homes,
    };
    Ok(Html(page.render()?).into_response())
}

/// `close` with a link's id closes it; anything else makes another link.
pub async fn change_links(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let kept = find(&state, &who, id).await?;
    let at = state.clock.now();
    let classes = classes_of(&state, &who, kept.menu.id).await?;
    let value = |key: &str| pairs.iter().find(|(it, _)| it == key).map(|(_, value)| value.as_str());
    if let Some(link) = value("close").and_then(|id| id.parse().ok()).map(LinkId) {
        let mut is_closed = false;
        for class in &classes {
            is_closed |= state.storage.revoke_link(who.school.id, *class, link, at).await?;
        }
        if !is_closed {
            return Err(PageError::NotFound);
        }
        state.pages.forget(kept.menu.id);
    } else if let Some(class) = classes.first() {
        let note: String = value("note").unwrap_or_default().trim().chars().take(80).collect();
        let (link, hash) = new_link(&state, &kept.menu.draft.serve, note, at);
        state.storage.give_link(who.school.id, *class, &link, hash).await?;
    }
    Ok(Redirect::to(&state.paths.menu_links(kept.menu.id)).into_response())
}

async fn classes_of(
    state: &AppState,
    who: &Instructor,
    menu: MenuId,
) -> Result<Vec<ClassId>, PageError> {
    let classes = state.storage.classes(who.school.id).await?;
    Ok(classes.iter().filter(|it| it.class.menu == menu).map(|it| it.class.id).collect())
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
    let address = "http://kitchen.example/c/abcdefghjkmnpqrstuvwxyz234";
    let link = |note: &str, is_open| LinkRow {
        id: "00000000-0000-0000-0000-000000000000".to_owned(),
        address: address.to_owned(),
        note: note.to_owned(),
        until: "opens until 26 July 2027".to_owned(),
        is_open,
    };
    let links = LinksPage {
        frame: Frame::sample(),
        name: "Midsummer lunch".to_owned(),
        menu: "/base/menus/0".to_owned(),
        action: "/base/menus/0/links".to_owned(),
        newest: Some((address.to_owned(), qr(address, "The address of the menu"))),
        links: vec![link("Wednesday class", true), link("", false)],
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
