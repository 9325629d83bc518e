//! A dish as the author wrote it: a title, a kind and the text of its card.

use jiff::Timestamp;
use uuid::Uuid;

use super::card::DishKind;
use super::text::{CardText, DishTitle};

/// Names one dish, for ever and in every house it moves to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DishId(pub Uuid);

/// Can exist only if every part of it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewDish {
    pub title: DishTitle,
    pub kind: DishKind,
    pub card: CardText,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dish {
    pub id: DishId,
    pub title: DishTitle,
    pub kind: DishKind,
    pub card: CardText,
    pub written_at: Timestamp,
    /// Since when it is put away; none while it is in use.
    pub archived_at: Option<Timestamp>,
    /// Counts the savings. Who saves says which one was changed, so that nobody's words are lost.
    pub version: u32,
}

/// Names one fixed text of a dish.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DishRevisionId(pub Uuid);

/// The text of a dish, fixed at one hour; never changed afterwards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DishRevision {
    pub id: DishRevisionId,
    pub dish: DishId,
    /// Counted from 1 for each dish.
    pub number: u32,
    pub card: CardText,
    /// Checksum of the text (SHA-256).
    pub hash: [u8; 32],
    /// The word on paper by which the text is found again.
    pub check_word: String,
    pub published_at: Timestamp,
}
