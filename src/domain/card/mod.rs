//! The card: a dish typed as plain text, read without loss.
//!
//! The text is the truth. [`read`] never fails and never drops a word: what it cannot place is kept
//! and said in a remark by line.

pub mod change;
pub mod from_cold;
pub mod links;
mod named;
pub mod note;
mod noted;
mod read;
mod remarks;
mod shape;
mod step;
pub mod words;

use num_rational::BigRational;

use super::quantity::{Amount, Portions};
pub use change::{Edit, change, heads, put_in};
pub use links::{Link, StepAt, links};
pub use read::{LineKind, Reading, read, read_with_bases};
pub use step::{
    By, Check, Chill, Core, FromFreezer, GoesIn, Hands, Hob, Mark, Place, Rest, ServeWithin,
    Setting, Source, Stage, Step, StepRef, Stop, Tool, ToolUse, Touch, Wait,
};

/// Whether it is eaten as it is or goes into other dishes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DishKind {
    #[default]
    Dish,
    Base,
}

impl DishKind {
    /// The word for it, on cards, on pages and in documents alike.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Dish => "dish",
            Self::Base => "base",
        }
    }

    pub fn parse(typed: &str) -> Result<Self, DishKindError> {
        [Self::Dish, Self::Base]
            .into_iter()
            .find(|kind| kind.word() == typed)
            .ok_or_else(|| DishKindError { typed: typed.to_owned() })
    }
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("Choose dish or base; “{typed}” is neither")]
pub struct DishKindError {
    typed: String,
}

/// What a card says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Card {
    pub kind: DishKind,
    pub title: String,
    pub serves: Option<Serves>,
    /// What a base, or the whole dish, makes: `340 g`.
    pub makes: Option<Amount>,
    pub portion: Option<String>,
    pub course: Option<String>,
    pub vessels: Vec<Vessel>,
    pub why: Option<String>,
    pub no_freezer: Option<String>,
    pub no_oven_room: Option<String>,
    /// Heads that are not on the list, kept as words.
    pub more: Vec<Head>,
    pub parts: Vec<Part>,
}

impl Card {
    /// Every step with its part, in the order of the card.
    pub fn steps(&self) -> impl Iterator<Item = (&Part, &Step)> {
        self.parts.iter().flat_map(|part| part.steps.iter().map(move |step| (part, step)))
    }
}

/// `for: 6-8 with leftovers`. Scaling starts from `high`: that many portions come out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Serves {
    pub low: Portions,
    pub high: Portions,
    pub with_leftovers: bool,
}

/// A dish, tray or tin, how many it serves, and the share of an oven shelf it takes.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Vessel {
    pub what: String,
    pub serves: u32,
    /// Over 0 up to 1; none when the author did not say.
    pub shelf: Option<BigRational>,
}

#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Head {
    pub line: usize,
    pub name: String,
    pub words: String,
}

/// A piece made on its own. The finish joins the others and stands last.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Part {
    /// `method` when the card names no part; the title when it is a base without parts; `finish`.
    pub name: String,
    pub line: usize,
    pub is_finish: bool,
    pub makes: Option<Amount>,
    pub steps: Vec<Step>,
}
