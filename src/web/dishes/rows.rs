//! The same card in rows: what the fields say is written back into the text, and nothing else.

use super::form::{Fields, Press};
use crate::domain::larder::Larder;
use crate::domain::remark::Remark;

/// The text after the fields of its rows, and what could not be taken over.
pub struct Changed {
    pub text: String,
    pub problems: Vec<String>,
}

pub fn apply(text: &str, fields: &Fields, press: &Press, larder: &Larder) -> Changed {
    let _ = (fields, press, larder);
    Changed { text: text.to_owned(), problems: Vec::new() }
}

pub fn put_in(text: &str, remark: &Remark) -> Option<String> {
    let _ = (text, remark);
    None
}
