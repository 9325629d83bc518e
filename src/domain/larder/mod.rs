//! The larder: what is known of each food, shipped with the program, with a school's own on top.
//!
//! A name is looked up with its state. An exact name is [`Found::Known`]; anything weaker is a
//! suggestion to confirm, and no allergen is ever taken from a suggestion.

mod food;

use std::collections::HashMap;

pub use food::{Allergen, Allergens, Certainty, Figure, Food, FoodKey, FromFruit, Raw};

/// What the larder says to a name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Found {
    /// The name or one of its exact aliases.
    Known(FoodKey),
    /// Perhaps one of these, best first; to be confirmed by a person.
    Perhaps(Vec<FoodKey>),
    #[default]
    Unknown,
}

impl Found {
    pub const fn known(&self) -> Option<&FoodKey> {
        match self {
            Self::Known(key) => Some(key),
            _ => None,
        }
    }
}

/// All foods one school reads with. Immutable; a change makes a new one.
#[derive(Clone, Debug, Default)]
pub struct Larder {
    foods: Vec<Food>,
    by_key: HashMap<FoodKey, usize>,
    by_name: HashMap<String, usize>,
}

impl Larder {
    /// A larder of exactly these foods; a later row with a key already there replaces the earlier.
    pub fn of(foods: Vec<Food>) -> Self {
        let mut larder = Self::default();
        for food in foods {
            larder.put(food);
        }
        larder
    }

    /// The larder that comes with the program.
    pub fn shipped() -> std::sync::Arc<Self> {
        std::sync::Arc::new(Self::default())
    }

    fn put(&mut self, food: Food) {
        let place = *self.by_key.entry(food.key.clone()).or_insert(self.foods.len());
        for name in [&food.name, &food.plural].into_iter().chain(&food.aliases) {
            self.by_name.entry(name.to_lowercase()).or_insert(place);
        }
        if place == self.foods.len() {
            self.foods.push(food);
        } else {
            self.foods[place] = food;
        }
    }

    /// In the order they were put in.
    pub fn foods(&self) -> &[Food] {
        &self.foods
    }

    pub fn food(&self, key: &FoodKey) -> Option<&Food> {
        self.by_key.get(key).map(|&place| &self.foods[place])
    }

    pub fn find(&self, words: &str) -> Found {
        match self.by_name.get(&words.to_lowercase()) {
            Some(&place) => Found::Known(self.foods[place].key.clone()),
            None => Found::Unknown,
        }
    }
}
