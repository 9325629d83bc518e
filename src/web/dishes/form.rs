//! What the dish form sends, and how it becomes a dish.

use serde::Deserialize;

use super::page::EditDishPage;
use crate::domain::card::DishKind;
use crate::domain::dish::NewDish;
use crate::domain::text::{CardText, DishTitle};
use crate::web::form::Field;
use crate::web::frame::Frame;

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub struct DishForm {
    title: String,
    kind: String,
    card: String,
}

impl DishForm {
    /// Checks every field, so that the instructor sees all the problems at once.
    pub fn check(self, frame: Frame) -> (Option<NewDish>, EditDishPage) {
        let (title, title_field) = Field::check(self.title, DishTitle::parse);
        let (kind, kind_field) = Field::check(self.kind, DishKind::parse);
        let (card, card_field) = Field::check(self.card, CardText::parse);
        let new = title.zip(kind).zip(card);
        let new = new.map(|((title, kind), card)| NewDish { title, kind, card });
        (new, EditDishPage { frame, title: title_field, kind: kind_field, card: card_field })
    }
}
