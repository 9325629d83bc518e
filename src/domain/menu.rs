//! A menu laid out for reading: its dishes with their letters, and all the facts sheets are made of.
//!
//! The same [`Laid`] is made from a draft and from a publication, so that a draft shows exactly what
//! its students will get.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::Timestamp;
use uuid::Uuid;

use super::card::Card;
use super::dish::DishId;
use super::kitchen::KitchenId;
use super::larder::{Allergen, Larder};
use super::limit::Profile;
use super::moment::{ServiceTime, Zone};
use super::quantity::{Portions, Spoons};
use super::text::Name;

/// Names one menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MenuId(pub Uuid);

/// Names one fixed menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PublicationId(pub Uuid);

/// What an instructor decides of a menu beside its name and dishes; kept as one document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MenuDraft {
    pub guests: Portions,
    pub serve: ServiceTime,
    pub rule: TableRule,
    pub choices: Choices,
    /// Minutes after the main course that a sweet is eaten.
    pub sweet_after_minutes: u32,
    pub spoons: Spoons,
    pub kitchen: Option<KitchenId>,
}

impl MenuDraft {
    /// A draft in which only the two questions of a first menu are answered.
    pub fn new(guests: Portions, serve: ServiceTime) -> Self {
        Self {
            guests,
            serve,
            rule: TableRule::default(),
            choices: Choices::new(),
            sweet_after_minutes: 0,
            spoons: Spoons::Round,
            kitchen: None,
        }
    }
}

/// A menu as it is being put together. A dish's letter is its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Menu {
    pub id: MenuId,
    pub name: Name,
    pub draft: MenuDraft,
    pub dishes: Vec<DishId>,
}

/// A to Z for the dishes of a menu, in its order; bases count from S in their own plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Letter(pub char);

impl Letter {
    /// The most dishes a menu may hold.
    pub const MOST: usize = 26;

    /// The letter of the dish at `place`, counted from 0.
    pub fn at(place: usize) -> Option<Self> {
        let place = u8::try_from(place).ok().filter(|&place| usize::from(place) < Self::MOST)?;
        Some(Self(char::from(b'A' + place)))
    }

    /// The letter of the base at `place`, counted from 0: S to Z, then the letters before S.
    pub fn of_base(place: usize) -> Option<Self> {
        Self::at(if place < 8 { place + 18 } else { place.checked_sub(8)? })
    }

    /// Which of the six patterns its badge carries: 0 to 5, repeating from G on.
    pub fn pattern(self) -> usize {
        (self.0 as usize).saturating_sub('A' as usize) % 6
    }

    /// The letter whose pattern it carries: A for A, and again for G.
    pub fn patterned(self) -> char {
        char::from(b'A' + u8::try_from(self.pattern()).unwrap_or(0))
    }
}

impl std::fmt::Display for Letter {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// A dish of the menu with its text fixed or as drafted.
#[derive(Clone, Debug)]
pub struct LaidDish {
    pub id: DishId,
    pub letter: Letter,
    pub is_base: bool,
    pub title: String,
    /// None while the text is a draft.
    pub revision: Option<Revision>,
    pub card: Arc<Card>,
}

/// A fixed text of a dish, or a fixed menu: what the foot of a sheet says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    pub number: u32,
    pub check_word: String,
    pub at: Timestamp,
}

/// What must not be on the table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TableRule {
    /// In the audience's own words: `No gluten, no milk`.
    pub words: String,
    pub allergens: Vec<Allergen>,
    /// Foods or food groups, as typed: `kiwi`, `pulses`.
    pub others: Vec<String>,
    /// Traces count.
    pub strict: bool,
}

/// Chosen alternates: for a food as the first name writes it, the one used instead. Both folded.
pub type Choices = BTreeMap<String, String>;

/// A whole menu with everything its sheets are computed from.
#[derive(Clone, Debug)]
pub struct Laid {
    pub school: String,
    pub zone: Zone,
    pub name: String,
    /// None while it is a draft.
    pub publication: Option<Revision>,
    /// The dishes in menu order, then the bases they use, each once.
    pub dishes: Vec<LaidDish>,
    pub rule: TableRule,
    /// The menu's own choices; a home may choose otherwise.
    pub choices: Choices,
    /// Minutes after the main course that a sweet is eaten.
    pub sweet_after_minutes: u32,
    pub larder: Arc<Larder>,
    pub profile: Arc<Profile>,
    pub spoons: Spoons,
}

impl Laid {
    /// The dishes without the bases.
    pub fn eaten(&self) -> impl Iterator<Item = &LaidDish> {
        self.dishes.iter().filter(|dish| !dish.is_base)
    }

    /// The base of a title, compared without regard to letter size.
    pub fn base(&self, title: &str) -> Option<&LaidDish> {
        let folded = title.trim().to_lowercase();
        self.dishes.iter().find(|dish| dish.is_base && dish.title.to_lowercase() == folded)
    }
}

/// Who eats, when, and what they chose: the input of every list, limit and sheet.
#[derive(Clone, Debug)]
pub struct Sitting {
    /// Whose table: a home's name, or the class.
    pub name: String,
    pub guests: Portions,
    pub serve: ServiceTime,
    /// On top of the menu's choices.
    pub choices: Choices,
    /// Dishes this table leaves out.
    pub without: Vec<DishId>,
    /// Civil date of the shopping trip; none: the day before.
    pub shop_on: Option<jiff::civil::Date>,
    /// Room in this kitchen's freezer, in litres; none when not asked.
    pub freezer_litres: Option<u32>,
    /// What this table must not have, on top of the menu's rule.
    pub rule: TableRule,
}
