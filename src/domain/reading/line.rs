//! What one ingredient line says, once read.

use std::ops::Range;

use crate::domain::larder::Found;
use crate::domain::quantity::{Amount, Unit};

/// One pasted or typed line. Every byte of `text` lies in exactly one of `spans`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IngredientLine {
    pub text: String,
    pub spans: Vec<Span>,
    pub is_heading: bool,
    /// None when the line gives no figure (`salt`, `a few sprigs`).
    pub amount: Option<Amount>,
    /// `up to 200 ml`: the low end is open and `amount` holds the high end twice.
    pub is_up_to: bool,
    /// The unit, also where there is no figure; [`Unit::Each`] for a bare count, none for none.
    pub unit: Option<Unit>,
    /// `about`, `roughly`: the figure is not changed.
    pub is_approximate: bool,
    /// Size of one pack: `2 x 400 g tins` has 2 can, and 400 g here.
    pub packs: Vec<Amount>,
    /// The same amount said another way: `250 g / 9 oz`.
    pub equivalents: Vec<Amount>,
    /// Another use of the same food in the same line: `plus 1 tbsp for the tin`.
    pub plus: Vec<Amount>,
    /// `about 2 kg` after a count: weight of the whole, edible or as bought as the author says.
    pub about: Option<Amount>,
    /// As the author wrote it: `lemons`.
    pub name: String,
    /// Singular, as a shopper names it: `lemon`.
    pub food: String,
    pub preparation: String,
    pub alternatives: Vec<Alternative>,
    /// Foods that are all wanted, where the line names several: `salt and pepper`.
    pub together: Vec<String>,
    pub is_optional: bool,
    pub is_garnish: bool,
    /// `to taste`, `for frying`, `divided`: words that say what for.
    pub purpose: String,
    /// Words that are neither work nor purpose: `such as kale`, `see recipe`.
    pub remark: String,
    /// What the larder says to `food`.
    pub found: Found,
}

/// A food that may stand in for the first; without an amount of its own it takes the first's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alternative {
    pub name: String,
    pub food: String,
    pub amount: Option<Amount>,
    pub found: Found,
}

/// Bytes of the line and what they were taken for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    pub bytes: Range<usize>,
    pub is: SpanKind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpanKind {
    Amount,
    Unit,
    Pack,
    Equivalent,
    Plus,
    Food,
    Preparation,
    Alternative,
    Flag,
    Purpose,
    Remark,
    Size,
    Heading,
    /// Bullets, joining words, spaces.
    Between,
    /// Not understood; kept as words.
    Words,
}
