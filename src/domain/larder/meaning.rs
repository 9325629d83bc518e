//! What a school's own words mean: a name that stands for a food, or a line that is read as another.

use super::FoodKey;

/// One correction that a person made, kept for every later reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// As [`as_said`] writes it.
    pub said: String,
    pub is: Meant,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meant {
    /// The name is one more name of this food.
    Food(FoodKey),
    /// The whole line is read as if this were written.
    Line(String),
}

impl Meaning {
    /// Longer words are no name and no line of a list.
    pub const WORDS_MAX: usize = 200;
}

/// Words as they are compared: small letters, one space between.
pub fn as_said(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
