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
}
