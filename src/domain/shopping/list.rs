//! The list a person takes to the shop.

use std::sync::Arc;

use jiff::civil::Date;
use num_rational::BigRational;

use crate::domain::larder::{Allergen, Certainty, FoodKey};
use crate::domain::menu::Letter;
use crate::domain::quantity::{Amount, MixedAmount};

/// By aisle in the order of the shop. Every food of the menu stands in exactly one place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShoppingList {
    /// Rare things to look for first; they stand in their aisle as well, marked.
    pub find_first: Vec<RowKey>,
    pub aisles: Vec<Aisle>,
    /// Only for garnish, or only where a card says optional: a dish stands without it.
    pub optional: Vec<Row>,
    /// What most kitchens have: check, and buy when it is not there.
    pub check: Vec<Row>,
    /// Foods the larder does not know. Nothing is merged or guessed here.
    pub unknown: Vec<Row>,
    /// Nothing more is bought: what this table said it has at home is enough.
    pub at_home: Vec<Row>,
    /// Sentences on what could not be worked out.
    pub problems: Vec<String>,
}

impl ShoppingList {
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        let aisles = self.aisles.iter().flat_map(|aisle| &aisle.rows);
        aisles.chain(&self.optional).chain(&self.check).chain(&self.unknown).chain(&self.at_home)
    }

    /// Rows to buy: without the box of what is at home.
    pub fn to_buy(&self) -> impl Iterator<Item = &Row> {
        let aisles = self.aisles.iter().flat_map(|aisle| &aisle.rows);
        aisles.chain(&self.optional).chain(&self.unknown)
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aisle {
    pub name: Arc<str>,
    pub rows: Vec<Row>,
}

/// Names a row by its meaning, so that a tick finds it again after a change: food and purpose.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RowKey(pub String);

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    pub key: RowKey,
    /// Plural, as it stands on a list.
    pub name: String,
    pub food: Option<FoodKey>,
    /// What the dishes need, unlike things side by side.
    pub needed: MixedAmount,
    /// Summed and untrimmed, before the shop's sizes: grams, or pieces; none where neither adds up.
    pub as_bought: Option<Amount>,
    pub buy: Purchase,
    /// Which dishes, in order, each once; true where all of it is garnish there.
    pub letters: Vec<(Letter, bool)>,
    /// The cuts and uses, for whoever shops for a cook: `sliced`, `zest only`.
    pub notes: Vec<String>,
    /// Whole pieces, where every dish counts them: 14 thighs.
    pub pieces: Option<u64>,
    /// Written as, where another food was chosen: `ground almonds`.
    pub instead_of: Vec<String>,
    /// Other foods that would do, where nobody chose.
    pub or: Vec<String>,
    /// What cards name in its place, chosen or not: the fallback where the shop has none.
    pub else_take: Vec<String>,
    pub labels: Vec<(Allergen, Certainty)>,
    /// Nobody entered what it carries.
    pub is_allergen_not_known: bool,
    pub contains: Vec<Allergen>,
    pub is_garnish: bool,
    pub is_optional: bool,
    pub is_rare: bool,
    /// Keeps for weeks: what is over goes back on the shelf, and is no loss of this menu.
    pub is_stock: bool,
    pub day: BuyingDay,
    /// Names that the larder offers for an unknown food; nothing is taken from them.
    pub perhaps: Vec<String>,
}

/// What goes into the basket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Purchase {
    /// Whole packs, each size with its count, and what is left over in the unit of the pack.
    Packs { packs: Vec<(Amount, u64)>, left: BigRational },
    /// Sold loose: weigh out so much.
    Weigh(Amount),
    /// No pack is known: at least so much of each kind.
    AtLeast(MixedAmount),
    /// The card gives no figure.
    Some,
}

/// Between these days; none where the food keeps as long as any menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BuyingDay {
    /// The first day it is used.
    pub first_use: Date,
    /// Bought before this day it would not keep until then.
    pub not_before: Option<Date>,
    /// It cannot be bought on the day of the shopping: it stands on the second trip.
    pub is_second_trip: bool,
    /// The day of the shopping, or of the second trip: the first that keeps.
    pub buy_on: Date,
    /// Bought then, its last day; none where that is not known.
    pub last_day: Option<Date>,
    /// A dish asks for it before the day of the shopping.
    pub is_needed_before: bool,
    /// Raw meat or fish that may be bought frozen on the first trip and thawed in the fridge: its
    /// days count from the thawing (rule book 2.8c).
    pub may_be_frozen: bool,
}
