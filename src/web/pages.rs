//! Rendered class pages, kept plain and gzipped until what they show changes.
//!
//! A page is found by the hash of its link, so that a page kept here cannot be reached without one.

use std::collections::HashMap;
use std::io::Write;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use axum::body::Bytes;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use flate2::Compression;
use flate2::write::GzEncoder;
use jiff::Timestamp;
use sha2::{Digest, Sha256};

use crate::domain::menu::MenuId;

/// Beyond this many pages all are forgotten and made anew: simple, and rare.
const PAGES_MAX: usize = 500;

/// The memory of the house. Cheap to clone.
#[derive(Clone, Debug)]
pub struct Pages {
    held: Arc<Mutex<Held>>,
    pages_max: usize,
}

#[derive(Debug, Default)]
struct Held {
    of_link: HashMap<[u8; 32], Arc<Page>>,
    /// Rises whenever something is forgotten.
    turn: Turn,
}

/// What was read from storage in an earlier turn may be out of date, and is not kept.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Turn(u64);

#[derive(Debug)]
pub struct Page {
    menu: MenuId,
    /// The link opens no longer from here on.
    until: Timestamp,
    tag: String,
    plain: Bytes,
    /// Packed when the first browser asks for it so.
    gzip: OnceLock<Bytes>,
}

impl Default for Pages {
    fn default() -> Self {
        Self::holding(PAGES_MAX)
    }
}

impl Pages {
    pub fn holding(pages_max: usize) -> Self {
        Self { held: Arc::default(), pages_max }
    }

    /// The page of a link while that still opens; else the turn in which it is to be made.
    pub fn known(&self, link: &[u8; 32], now: Timestamp) -> Result<Arc<Page>, Turn> {
        self.locked(|held| {
            let page = held.of_link.get(link).filter(|page| now < page.until);
            page.cloned().ok_or(held.turn)
        })
    }

    /// Keeps a page that was made from what stood in storage in `turn`.
    pub fn keep(&self, turn: Turn, link: [u8; 32], page: Page) -> Arc<Page> {
        let page = Arc::new(page);
        self.locked(|held| {
            if held.turn != turn || self.pages_max == 0 {
                return;
            }
            if held.of_link.len() >= self.pages_max {
                held.of_link.clear();
            }
            held.of_link.insert(link, Arc::clone(&page));
        });
        page
    }

    /// Whatever shows this menu is made anew when it is asked for.
    fn forget(&self, menu: MenuId) {
        self.locked(|held| {
            held.of_link.retain(|_, page| page.menu != menu);
            held.turn.0 += 1;
        });
    }

    /// Runs a write that changes what pages of this menu show, or who may see them, and forgets
    /// them after it; both are done even when the request that asked goes away meanwhile.
    pub async fn forget_after<T: Send + 'static>(
        &self,
        menu: MenuId,
        write: impl Future<Output = T> + Send + 'static,
    ) -> T {
        let pages = self.clone();
        let both = async move {
            let done = write.await;
            pages.forget(menu);
            done
        };
        tokio::spawn(both).await.unwrap_or_else(|end| std::panic::resume_unwind(end.into_panic()))
    }

    fn locked<T>(&self, look: impl FnOnce(&mut Held) -> T) -> T {
        look(&mut self.held.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Page {
    pub fn new(menu: MenuId, until: Timestamp, html: String) -> Self {
        let sum = Sha256::digest(html.as_bytes());
        let tag =
            sum[..12].iter().fold("\"".to_owned(), |tag, byte| format!("{tag}{byte:02x}")) + "\"";
        Self { menu, until, tag, plain: html.into(), gzip: OnceLock::new() }
    }

    fn gzip(&self) -> Bytes {
        let pack = || {
            let mut encoder = GzEncoder::new(Vec::new(), Compression::default());
            let packed = encoder.write_all(&self.plain).and_then(|()| encoder.finish());
            Bytes::from(packed.expect("memory takes every byte"))
        };
        self.gzip.get_or_init(pack).clone()
    }

    /// 304 when the browser has it, else the page in the form the browser takes.
    pub fn answer(&self, asked: &HeaderMap) -> Response {
        let has = |name, words: &str| {
            let values = asked.get_all(name).iter().filter_map(|value| value.to_str().ok());
            values.flat_map(|value| value.split(',')).any(|value| value.trim().starts_with(words))
        };
        let tag = (header::ETAG, self.tag.clone());
        let vary = (header::VARY, "accept-encoding".to_owned());
        if has(header::IF_NONE_MATCH, &self.tag) {
            return (StatusCode::NOT_MODIFIED, [tag, vary]).into_response();
        }
        let kind = (header::CONTENT_TYPE, "text/html; charset=utf-8".to_owned());
        if has(header::ACCEPT_ENCODING, "gzip") {
            let packed = (header::CONTENT_ENCODING, "gzip".to_owned());
            return ([tag, vary, kind, packed], self.gzip()).into_response();
        }
        ([tag, vary, kind], self.plain.clone()).into_response()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(until: Timestamp) -> Page {
        Page::new(MenuId(uuid::Uuid::nil()), until, "<p>Leeks</p>".to_owned())
    }

    #[test]
    fn a_page_made_from_what_was_forgotten_meanwhile_is_not_kept() {
        let (pages, link) = (Pages::default(), [1; 32]);
        let (now, until) = (Timestamp::UNIX_EPOCH, Timestamp::MAX);
        let turn = pages.known(&link, now).unwrap_err();
        // The link is closed while the page is made.
        pages.forget(MenuId(uuid::Uuid::nil()));
        pages.keep(turn, link, page(until));
        let turn = pages.known(&link, now).unwrap_err();
        pages.keep(turn, link, page(until));
        assert!(pages.known(&link, now).is_ok());
        pages.forget(MenuId(uuid::Uuid::nil()));
        assert!(pages.known(&link, now).is_err());
    }

    #[test]
    fn a_page_ends_with_its_link_and_the_memory_is_bounded() {
        let pages = Pages::holding(2);
        let (now, soon) = (Timestamp::UNIX_EPOCH, Timestamp::from_second(60).unwrap());
        let turn = pages.known(&[0; 32], now).unwrap_err();
        for link in 0..5 {
            pages.keep(turn, [link; 32], page(soon));
            assert!(pages.known(&[link; 32], now).is_ok());
            assert!(pages.known(&[link; 32], soon).is_err());
        }
        assert!(pages.locked(|held| held.of_link.len()) <= 2);
    }
}
