//! Private links of classes as their instructor sees them: which open and until when, closing one,
//! making another.

use jiff::{SignedDuration, Span, Timestamp};

use super::extract::{Instructor, hash_of};
use super::paths::Paths;
use super::{AppState, PageError};
use crate::domain::class::{Class, LINK_DAYS, Link, LinkId};
use crate::domain::moment::Zone;
use crate::domain::school::SchoolId;
use crate::drawing::{Svg, qr};

/// All links of a class or a menu, the newest open one drawn.
#[derive(Debug)]
pub struct LinksView {
    pub action: String,
    /// Its homes are deleted, or there is no class yet: another link would open nothing.
    pub is_over: bool,
    pub newest: Option<(String, Option<Svg>)>,
    pub rows: Vec<LinkRow>,
}

#[derive(Debug)]
pub struct LinkRow {
    pub id: String,
    pub note: String,
    pub address: String,
    pub until: String,
    pub is_open: bool,
}

/// Whence links are looked at.
pub struct Seen<'a> {
    pub origin: &'a str,
    pub zone: &'a Zone,
    pub now: Timestamp,
}

impl LinksView {
    pub fn of(paths: &Paths, links: &[Link], seen: &Seen, action: String, is_over: bool) -> Self {
        let address = |link: &Link| format!("{}{}", seen.origin, paths.class_page(&link.token));
        let newest = links.iter().rev().find(|link| link.opens_at(seen.now)).map(|link| {
            let address = address(link);
            let drawn = qr(&address, "The address of the menu, to be read by a telephone");
            (address, drawn)
        });
        let row = |link: &Link| LinkRow {
            id: link.id.0.to_string(),
            note: link.note.clone(),
            address: address(link),
            until: until(link, seen),
            is_open: link.opens_at(seen.now),
        };
        Self { action, is_over, newest, rows: links.iter().map(row).collect() }
    }

    /// One that opens, one that is closed and one that ran out.
    pub fn sample(action: &str) -> Self {
        let at = |text: &str| text.parse::<Timestamp>().expect("an instant");
        let link = |id, note: &str, expires, closed: Option<&str>| Link {
            id: LinkId(uuid::Uuid::from_u128(id)),
            token: "abcdefghjkmnpqrstuvwxyz234".to_owned(),
            note: note.to_owned(),
            made_at: at("2027-06-01T10:00:00Z"),
            expires_at: at(expires),
            revoked_at: closed.map(at),
        };
        let links = [
            link(1, "", "2027-06-05T22:00:00Z", None),
            link(2, "", "2027-07-15T22:00:00Z", Some("2027-06-02T10:00:00Z")),
            link(3, "Wednesday class", "2027-07-15T22:00:00Z", None),
        ];
        let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
        let now = at("2027-06-10T10:00:00Z");
        let seen = Seen { origin: "http://kitchen.example", zone: &zone, now };
        Self::of(&Paths::sample(), &links, &seen, action.to_owned(), false)
    }
}

fn until(link: &Link, seen: &Seen) -> String {
    // The last day on which it opens, not the midnight that ends it.
    let last = link.expires_at - SignedDuration::from_secs(1);
    match link.revoked_at {
        Some(at) => format!("closed on {}", seen.zone.date_of(at)),
        None if link.opens_at(seen.now) => format!("opens until {}", seen.zone.date_of(last)),
        None => format!("ran out after {}", seen.zone.date_of(last)),
    }
}

/// The links of a class, oldest first; none opens longer than its homes are kept.
pub async fn of_class(
    state: &AppState,
    school: SchoolId,
    class: &Class,
) -> Result<Vec<Link>, PageError> {
    let links = state.storage.links(school, class.id).await?;
    let closes_at = class.closes_at();
    let bounded = |link: Link| Link { expires_at: link.expires_at.min(closes_at), ..link };
    Ok(links.into_iter().map(bounded).collect())
}

/// 26 signs of 5 bits: 130 bits of chance.
pub fn new_link(state: &AppState, class: &Class, note: String, at: Timestamp) -> (Link, [u8; 32]) {
    let token = state.chance.signs::<26>();
    let hash = hash_of(&token);
    let days = Span::new().hours(24 * i64::from(LINK_DAYS));
    let expires_at = class.serve.instant().max(at).checked_add(days).unwrap_or(at);
    let expires_at = expires_at.min(class.closes_at());
    let id = LinkId(state.chance.key(at));
    (Link { id, token, note, made_at: at, expires_at, revoked_at: None }, hash)
}

/// `close` with a link's id closes it; anything else makes another, for the first class that is not
/// over.
pub async fn change(
    state: &AppState,
    who: &Instructor,
    classes: &[Class],
    pairs: &[(String, String)],
) -> Result<(), PageError> {
    let (school, at) = (who.school.id, state.clock.now());
    let value = |key: &str| pairs.iter().find(|(it, _)| it == key).map(|(_, value)| value.as_str());
    if let Some(id) = value("close") {
        let link = id.parse().map(LinkId).map_err(|_| PageError::NotFound)?;
        for class in classes {
            let (storage, class, menu) = (state.storage.clone(), class.id, class.menu);
            let close = async move { storage.revoke_link(school, class, link, at).await };
            if state.pages.forget_after(menu, close).await? {
                return Ok(());
            }
        }
        return Err(PageError::NotFound);
    }
    let Some(class) = classes.iter().find(|class| at < class.closes_at()) else { return Ok(()) };
    let note = value("note").unwrap_or_default().trim().chars().take(80).collect();
    let (link, hash) = new_link(state, class, note, at);
    let is_given = state.storage.give_link(school, class.id, &link, hash).await?;
    is_given.then_some(()).ok_or(PageError::NotFound)
}
