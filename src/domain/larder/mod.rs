//! The larder: what is known of each food, shipped with the program, with a school's own on top.
//!
//! A name is looked up with its state. An exact name is [`Found::Known`]; anything weaker is a
//! suggestion to confirm, and no allergen is ever taken from a suggestion.

mod food;
mod meaning;
mod shipped;
mod slip;

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::Arc;

pub use food::{Allergen, Allergens, Certainty, Figure, Food, FoodKey, FromFruit, Raw};
pub use meaning::{Meaning, Meant, as_said};

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
    by_last_word: HashMap<String, Vec<usize>>,
    /// Names of five letters and more, for slips of the pen.
    by_first_letter: HashMap<char, Vec<(slip::Name, usize)>>,
    /// Lines that a school reads as others.
    lines: HashMap<String, String>,
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
    pub fn shipped() -> Arc<Self> {
        shipped::shipped()
    }

    /// This larder with a school's own rows on top: a row with a key already here replaces it.
    #[must_use]
    pub fn with(&self, own: impl IntoIterator<Item = Food>) -> Self {
        let mut larder = self.clone();
        for food in own {
            larder.put(food);
        }
        larder
    }

    /// This larder with a school's corrections. The name of a food never comes to mean another.
    #[must_use]
    pub fn with_meanings(&self, meanings: &[Meaning]) -> Self {
        let mut larder = self.clone();
        for Meaning { said, is } in meanings {
            match is {
                Meant::Line(line) => drop(larder.lines.insert(said.clone(), line.clone())),
                Meant::Food(key) => {
                    if let Some(&place) = larder.by_key.get(key) {
                        larder.by_name.entry(folded(said).into_owned()).or_insert(place);
                    }
                }
            }
        }
        larder
    }

    /// What this line is read as, where somebody corrected it.
    pub fn line_meant(&self, line: &str) -> Option<&str> {
        if self.lines.is_empty() || line.len() > 4 * Meaning::WORDS_MAX {
            return None;
        }
        self.lines.get(&as_said(line)).map(String::as_str)
    }

    fn put(&mut self, food: Food) {
        let place = *self.by_key.entry(food.key.clone()).or_insert(self.foods.len());
        for name in [&food.name, &food.plural].into_iter().chain(&food.aliases) {
            let name = folded(name).into_owned();
            if let Some(first) = name.chars().next().filter(|_| name.len() >= slip::LETTERS_MIN) {
                self.by_first_letter.entry(first).or_default().push((slip::Name::of(&name), place));
            }
            if let Some((_, last)) = name.rsplit_once(' ') {
                self.by_last_word.entry(last.to_owned()).or_default().push(place);
            }
            // A school's own name wins over a shipped alias, never over a shipped name.
            let is_own_name = name == folded(&food.name) || name == folded(&food.plural);
            if is_own_name {
                self.by_name.insert(name, place);
            } else {
                self.by_name.entry(name).or_insert(place);
            }
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

    /// Whether the whole name is that of a food here.
    pub fn knows(&self, words: &str) -> bool {
        self.known(words).is_some()
    }

    /// The food of which this is the whole name.
    pub fn known(&self, words: &str) -> Option<&FoodKey> {
        let place = self.by_name.get(&*folded(words.trim()))?;
        Some(&self.foods[*place].key)
    }

    /// Whether a name is known, or shares its last words with one that is; slips are not looked for.
    pub fn suggests(&self, words: &str) -> bool {
        let folded = folded(words.trim());
        self.by_name.contains_key(&*folded) || !self.perhaps(&folded).is_empty()
    }

    /// Looks a name up. Only the whole name, in the singular or plural, is a match; a name that
    /// shares its last word, or holds a known one, is a suggestion.
    pub fn find(&self, words: &str) -> Found {
        let folded = folded(words.trim());
        if let Some(&place) = self.by_name.get(&*folded) {
            return Found::Known(self.foods[place].key.clone());
        }
        let mut keys: Vec<FoodKey> = Vec::new();
        for place in self.slips(&folded).into_iter().chain(self.perhaps(&folded)) {
            let key = &self.foods[place].key;
            if !keys.contains(key) && keys.len() < SUGGESTIONS_MAX {
                keys.push(key.clone());
            }
        }
        if keys.is_empty() { Found::Unknown } else { Found::Perhaps(keys) }
    }

    /// Foods that share the last words of a name.
    fn perhaps(&self, folded: &str) -> Vec<usize> {
        let mut perhaps = Vec::new();
        // A name longer than any has nothing in common with one.
        if folded.len() > NAME_MAX {
            return perhaps;
        }
        let mut rest = folded;
        // `large red onion`: without its first words it may be known.
        while let Some((dropped, shorter)) = rest.split_once(' ') {
            // Oat milk is no milk: nothing behind such a word is worth a suggestion.
            if MAKES_ANOTHER.contains(&dropped) {
                break;
            }
            perhaps.extend(self.by_name.get(shorter));
            rest = shorter;
        }
        perhaps.extend(self.by_last_word.get(rest).into_iter().flatten().take(SUGGESTIONS_MAX));
        perhaps
    }
}

impl Larder {
    /// Names a letter or two away, nearest first.
    fn slips(&self, folded: &str) -> Vec<usize> {
        let first = folded.chars().next().filter(|_| folded.len() >= slip::LETTERS_MIN);
        let names = first.and_then(|first| self.by_first_letter.get(&first));
        let typed = slip::Name::of(folded);
        let near = |(name, place): &(slip::Name, usize)| {
            let is_near = typed.may_be(name);
            is_near.then(|| slip::distance(folded, &name.text)).flatten().map(|away| (away, *place))
        };
        let mut near: Vec<(usize, usize)> = names.into_iter().flatten().filter_map(near).collect();
        near.sort_unstable();
        near.into_iter().map(|(_, place)| place).collect()
    }
}

/// A name as it is looked up: in lower case, without accents, with plain apostrophes.
fn folded(name: &str) -> Cow<'_, str> {
    if name.bytes().all(|it| it.is_ascii() && !it.is_ascii_uppercase()) {
        return Cow::Borrowed(name);
    }
    let plain = |sign: char| match sign {
        'à' | 'â' | 'ä' | 'á' | 'å' | 'ã' => 'a',
        'è' | 'ê' | 'ë' | 'é' => 'e',
        'ì' | 'î' | 'ï' | 'í' => 'i',
        'ò' | 'ô' | 'ö' | 'ó' | 'õ' => 'o',
        'ù' | 'û' | 'ü' | 'ú' => 'u',
        'ç' => 'c',
        'ñ' => 'n',
        '’' | '‘' => '\'',
        other => other,
    };
    Cow::Owned(name.to_lowercase().chars().map(plain).collect())
}

/// No name of a food is longer, in bytes.
const NAME_MAX: usize = 100;

/// Words that make another food of the one behind them.
const MAKES_ANOTHER: [&str; 18] = [
    "soy",
    "soya",
    "oat",
    "almond",
    "coconut",
    "rice",
    "vegan",
    "plant-based",
    "dairy-free",
    "garlic",
    "onion",
    "celery",
    "corn",
    "quail",
    "duck",
    "self-raising",
    "self-rising",
    "peanut",
];

/// More suggestions than this are no help.
const SUGGESTIONS_MAX: usize = 5;
