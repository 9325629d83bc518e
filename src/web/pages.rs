//! Rendered class pages, kept plain and gzipped until what they show changes.
//!
//! A page is found by the hash of its link, so that a page kept here cannot be reached without one.

use std::collections::HashMap;
use std::io::Write;
use std::sync::{Arc, Mutex, PoisonError};

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

#[derive(Clone, Debug, Default)]
pub struct Pages(Arc<Mutex<HashMap<[u8; 32], Arc<Page>>>>);

#[derive(Debug)]
pub struct Page {
    menu: MenuId,
    /// The link opens no longer from here on.
    until: Timestamp,
    tag: String,
    plain: Bytes,
    gzip: Bytes,
}

impl Pages {
    /// The page of a link while that still opens.
    pub fn known(&self, link: &[u8; 32], now: Timestamp) -> Option<Arc<Page>> {
        self.locked(|pages| pages.get(link).filter(|page| now < page.until).cloned())
    }

    pub fn keep(&self, link: [u8; 32], menu: MenuId, until: Timestamp, html: String) -> Arc<Page> {
        let sum = Sha256::digest(html.as_bytes());
        let tag =
            sum[..12].iter().fold("\"".to_owned(), |tag, byte| format!("{tag}{byte:02x}")) + "\"";
        let mut encoder = GzEncoder::new(Vec::new(), Compression::default());
        let gzip = encoder.write_all(html.as_bytes()).and_then(|()| encoder.finish());
        let gzip = Bytes::from(gzip.expect("memory takes every byte"));
        let page = Arc::new(Page { menu, until, tag, plain: html.into(), gzip });
        self.locked(|pages| {
            if pages.len() >= PAGES_MAX {
                pages.clear();
            }
            pages.insert(link, Arc::clone(&page));
        });
        page
    }

    /// Whatever shows this menu is made anew when it is asked for.
    pub fn forget(&self, menu: MenuId) {
        self.locked(|pages| pages.retain(|_, page| page.menu != menu));
    }

    fn locked<T>(&self, look: impl FnOnce(&mut HashMap<[u8; 32], Arc<Page>>) -> T) -> T {
        look(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Page {
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
            return ([tag, vary, kind, packed], self.gzip.clone()).into_response();
        }
        ([tag, vary, kind], self.plain.clone()).into_response()
    }
}
