//! Whoever holds a secret address: the class or the home behind it. A wrong one is not there, and
//! whoever guesses is stopped.

use std::sync::Arc;

use axum::extract::{FromRequestParts, RawPathParams};
use axum::http::request::Parts;

use crate::domain::home::HomeId;
use crate::domain::menu::{Laid, Sitting};
use crate::domain::publication::Published;
use crate::domain::school::{Paper, SchoolId, SchoolSettings};
use crate::storage::{KeptHome, OpenClass};
use crate::web::extract::hash_of;
use crate::web::pages::{Page, Turn};
use crate::web::peer::{Peer, count_dead_link};
use crate::web::{AppState, PageError};

/// The holder of a class link.
#[derive(Clone, Debug)]
pub struct LinkHolder {
    pub token: String,
    pub hash: [u8; 32],
    pub open: OpenClass,
}

/// Whoever asks for the page of a class. A page from memory needs nothing of storage: closing a
/// link, or changing what it shows, is forgotten there at once, and so is its end.
pub enum Visitor {
    Known(Arc<Page>),
    New(Box<LinkHolder>, Turn),
}

/// The holder of a home's key.
#[derive(Clone, Debug)]
pub struct KeyHolder {
    pub key: String,
    pub kept: KeptHome,
}

/// Whoever writes into the log of a home and needs nothing else of it.
#[derive(Clone, Debug)]
pub struct LogHolder {
    pub key: String,
    pub school: SchoolId,
    pub home: HomeId,
}

impl FromRequestParts<AppState> for LinkHolder {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &AppState) -> Result<Self, PageError> {
        let token = param(parts, state, "token").await?;
        let hash = hash_of(&token);
        match state.storage.class_of_link(hash, state.clock.now()).await? {
            Some(open) => Ok(Self { token, hash, open }),
            None => Err(dead(parts, state).await?),
        }
    }
}

impl FromRequestParts<AppState> for Visitor {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &AppState) -> Result<Self, PageError> {
        let hash = hash_of(&param(parts, state, "token").await?);
        match state.pages.known(&hash, state.clock.now()) {
            Ok(page) => Ok(Self::Known(page)),
            Err(turn) => {
                let holder = LinkHolder::from_request_parts(parts, state).await?;
                Ok(Self::New(Box::new(holder), turn))
            }
        }
    }
}

impl FromRequestParts<AppState> for KeyHolder {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &AppState) -> Result<Self, PageError> {
        let key = param(parts, state, "key").await?;
        match state.storage.home_of_key(hash_of(&key)).await? {
            Some(kept) => Ok(Self { key, kept }),
            None => Err(dead(parts, state).await?),
        }
    }
}

impl FromRequestParts<AppState> for LogHolder {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &AppState) -> Result<Self, PageError> {
        let key = param(parts, state, "key").await?;
        let hash = hash_of(&key);
        if let Some((school, home)) = state.keys.known(&hash) {
            return Ok(Self { key, school, home });
        }
        let KeyHolder { kept, .. } = KeyHolder::from_request_parts(parts, state).await?;
        state.keys.keep(hash, (kept.school, kept.home.id));
        Ok(Self { key, school: kept.school, home: kept.home.id })
    }
}

/// The last part of an address, where it names a sheet.
#[derive(Clone, Debug)]
pub struct SheetName(pub String);

impl FromRequestParts<AppState> for SheetName {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &AppState) -> Result<Self, PageError> {
        param(parts, state, "name").await.map(Self)
    }
}

async fn param(parts: &mut Parts, state: &AppState, name: &str) -> Result<String, PageError> {
    let params = RawPathParams::from_request_parts(parts, state).await;
    let params = params.map_err(|_| PageError::NotFound)?;
    let found = params.iter().find(|(it, _)| *it == name).map(|(_, value)| value.to_owned());
    found.ok_or(PageError::NotFound)
}

async fn dead(parts: &mut Parts, state: &AppState) -> Result<PageError, PageError> {
    let Ok(peer) = Peer::from_request_parts(parts, state).await;
    count_dead_link(state, peer).await
}

/// What the class of a home shows now, with this home's table.
#[derive(Clone)]
pub struct AtTable {
    pub published: Arc<Published>,
    pub sitting: Sitting,
    pub number: u32,
}

/// How the school likes things now, whatever was published when.
pub async fn settings_of(state: &AppState, school: SchoolId) -> Result<SchoolSettings, PageError> {
    let school = state.storage.school(school).await?.ok_or(PageError::NotFound)?;
    Ok(school.settings)
}

/// What the school prints on, unless the student asks for another.
pub async fn paper_of(state: &AppState, school: SchoolId) -> Result<Paper, PageError> {
    Ok(settings_of(state, school).await?.paper)
}

impl AtTable {
    pub async fn of(state: &AppState, holder: &KeyHolder) -> Result<Self, PageError> {
        let kept = &holder.kept;
        let (id, number) = kept.publication.ok_or(PageError::NotFound)?;
        let published = state.fixed.publication(&state.storage, kept.school, id).await?;
        let published = published.ok_or(PageError::NotFound)?;
        let mut sitting = kept.home.sitting(&kept.allergies);
        if sitting.name.is_empty() {
            "Your table".clone_into(&mut sitting.name);
        }
        Ok(Self { published, sitting, number })
    }

    pub fn laid(&self) -> &Laid {
        &self.published.laid
    }
}
