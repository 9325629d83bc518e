//! Many rows as one: the arrays that a statement gathers, so that a page costs one row.
//!
//! The database driver's cost is per row (`tests/bench`); a page asks for one row with arrays in it.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::domain::card::DishKind;
use crate::domain::dish::DishId;
use crate::domain::home::Allergy;
use crate::domain::layout::DraftDish;
use crate::domain::menu::Revision;

/// `[[id, title, kind, card], …]` with ids in hexadecimal.
pub fn draft_dishes(json: &str) -> Result<Vec<DraftDish>, String> {
    #[derive(Deserialize)]
    struct Row(String, String, String, String);
    let row = |Row(id, title, kind, card): Row| {
        let kind = DishKind::parse(&kind).map_err(|error| error.to_string())?;
        Ok(DraftDish { id: DishId(id_of(&id)?), title, kind, card })
    };
    rows::<Row>(json)?.into_iter().map(row).collect()
}

/// `[[number, check word, seconds], …]`.
pub fn revisions(json: &str) -> Result<Vec<Revision>, String> {
    #[derive(Deserialize)]
    struct Row(u32, String, i64);
    let row = |Row(number, check_word, seconds): Row| {
        let at = jiff::Timestamp::from_second(seconds).map_err(|error| error.to_string())?;
        Ok(Revision { number, check_word, at })
    };
    rows::<Row>(json)?.into_iter().map(row).collect()
}

/// `[[what, strict, seconds of consent, version of its words], …]`; strict is 0 or 1.
pub fn allergies(json: &str) -> Result<Vec<Allergy>, String> {
    #[derive(Deserialize)]
    struct Row(String, u8, i64, u32);
    let row = |Row(what, strict, seconds, words_version): Row| {
        let consent_at =
            jiff::Timestamp::from_second(seconds).map_err(|error| error.to_string())?;
        Ok(Allergy { what, strict: strict != 0, consent_at, words_version })
    };
    rows::<Row>(json)?.into_iter().map(row).collect()
}

/// Rows on their way in, for `json_each`.
pub fn write(rows: &[impl Serialize]) -> String {
    serde_json::to_string(rows).expect("rows are lists of text and numbers")
}

fn rows<T: for<'a> Deserialize<'a>>(json: &str) -> Result<Vec<T>, String> {
    serde_json::from_str(json).map_err(|error| error.to_string())
}

fn id_of(hexadecimal: &str) -> Result<Uuid, String> {
    Uuid::parse_str(hexadecimal).map_err(|error| error.to_string())
}
