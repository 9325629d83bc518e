//! A card as it was read, in JSON: for snapshots, and for `read-card`.
//!
//! Exact figures are text (`"3/2"`), times are minutes, degrees are text with their scale (`"200 C"`).

mod written;

pub use written::{WrittenAmount, WrittenCard, WrittenLink, WrittenRemark, fraction};

use crate::domain::card::{Card, Reading, links};
use serde::Serialize;

/// What `read-card` prints.
#[derive(Debug, Serialize)]
pub struct ReadCard {
    card: WrittenCard,
    /// Which step must be done before which, by part and number.
    links: Vec<WrittenLink>,
    remarks: Vec<WrittenRemark>,
}

impl From<&Reading> for ReadCard {
    fn from(reading: &Reading) -> Self {
        let card = &reading.card;
        Self {
            card: WrittenCard::from(card),
            links: links(card).iter().map(|link| WrittenLink::of(card, *link)).collect(),
            remarks: reading.remarks.iter().map(WrittenRemark::from).collect(),
        }
    }
}

/// One card as compact JSON.
pub fn write(card: &Card) -> String {
    serde_json::to_string(&WrittenCard::from(card)).expect("these structs have text keys only")
}

/// Reads what [`write`] wrote.
pub fn read(text: &str) -> Result<Card, super::document::DocumentError> {
    let wrong = |reason: String| super::document::DocumentError::new(reason);
    let written: WrittenCard = serde_json::from_str(text).map_err(|e| wrong(e.to_string()))?;
    Card::try_from(written).map_err(wrong)
}
