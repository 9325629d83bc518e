//! Reading one ingredient line: pasted, typed in a form, or after the `+` of a card.

mod line;

use super::larder::Larder;
pub use line::{Alternative, IngredientLine, Span, SpanKind};

/// Reads `text` in one pass. Never fails: what is not understood stays as words.
pub fn read_line(text: &str, larder: &Larder) -> IngredientLine {
    let food = text.trim().to_owned();
    IngredientLine {
        text: text.to_owned(),
        spans: vec![Span { bytes: 0..text.len(), is: SpanKind::Words }],
        is_heading: false,
        amount: None,
        is_up_to: false,
        unit: None,
        is_approximate: false,
        packs: Vec::new(),
        equivalents: Vec::new(),
        plus: Vec::new(),
        about: None,
        name: food.clone(),
        found: larder.find(&food),
        food,
        preparation: String::new(),
        alternatives: Vec::new(),
        is_optional: false,
        is_garnish: false,
        purpose: String::new(),
    }
}
