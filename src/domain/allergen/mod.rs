//! What each dish contains, as far as it is known, and whether it keeps the rule of the table.
//!
//! The union over everything that goes in, through parts and bases, under the alternates this table
//! chose. Nothing here clears an allergen: a food that nobody entered, or that the larder only
//! supposes, makes the answer "not known", and a label always has to be read (rule book 3.9).

mod rule;

use std::collections::{BTreeMap, BTreeSet};

use super::card::Source;
use super::dish::DishId;
use super::larder::{Allergen, Allergens, Certainty, Food, Found};
use super::menu::{Choices, Laid, LaidDish, Letter, Sitting};
use super::reading::IngredientLine;
use super::shopping::chosen;

pub use rule::{Breach, Rules, rule_check};

/// The sheet of a menu: one row a dish, bases behind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AllergenSheet {
    pub dishes: Vec<DishAllergens>,
}

/// One dish with everything said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DishAllergens {
    pub dish: DishId,
    pub letter: Letter,
    pub title: String,
    /// In the order of [`Allergen::ALL`], with the foods that bring it.
    pub contains: BTreeMap<Allergen, BTreeSet<String>>,
    /// Labels to read, by food: each allergen with the strongest word for it.
    pub labels: BTreeMap<String, BTreeMap<Allergen, Certainty>>,
    /// Foods that nobody has entered, or that the larder does not know.
    pub not_known: BTreeSet<String>,
    /// What other alternates would change.
    pub choices: Vec<AllergenChoice>,
}

/// An alternate that this table did not choose, and what it carries.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct AllergenChoice {
    /// The food that is in now.
    pub now: String,
    pub other: String,
    /// What `other` contains that `now` does not.
    pub brings: Vec<Allergen>,
    /// What `now` contains that `other` does not.
    pub takes_away: Vec<Allergen>,
    /// Labels of `other` to read.
    pub labels: Vec<Allergen>,
    /// True when nothing is entered for `other`.
    pub is_not_known: bool,
}

/// What one cell of the sheet says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    Contains {
        from: Vec<String>,
    },
    CheckLabel {
        of: Vec<(String, Certainty)>,
    },
    /// In neither recipe nor label list, but some food of the dish is not known.
    NotKnown {
        foods: Vec<String>,
    },
    /// Nothing listed in the recipe. Never shown as a promise.
    NothingListed,
}

impl DishAllergens {
    pub fn cell(&self, allergen: Allergen) -> Cell {
        if let Some(foods) = self.contains.get(&allergen) {
            return Cell::Contains { from: foods.iter().cloned().collect() };
        }
        let of: Vec<(String, Certainty)> = self
            .labels
            .iter()
            .filter_map(|(food, labels)| {
                labels.get(&allergen).map(|certainty| (food.clone(), *certainty))
            })
            .collect();
        if !of.is_empty() {
            return Cell::CheckLabel { of };
        }
        if self.not_known.is_empty() {
            Cell::NothingListed
        } else {
            Cell::NotKnown { foods: self.not_known.iter().cloned().collect() }
        }
    }

    /// The allergens whose labels have to be read and that the recipe does not contain.
    pub fn to_read(&self) -> BTreeSet<Allergen> {
        let all = self.labels.values().flat_map(BTreeMap::keys).copied();
        all.filter(|allergen| !self.contains.contains_key(allergen)).collect()
    }

    /// The whole dish in one sentence: what it contains, what to read, what nobody knows.
    pub fn words(&self) -> String {
        let contains: Vec<&str> = self.contains.keys().map(|it| it.word()).collect();
        let labels: Vec<&str> = self.to_read().into_iter().map(Allergen::word).collect();
        let mut words = if contains.is_empty() {
            "no listed allergen in the recipe; read label".to_owned()
        } else {
            format!("contains {}", contains.join(", "))
        };
        if !labels.is_empty() {
            words += if contains.is_empty() { ": " } else { "; read label: " };
            words += &labels.join(", ");
        }
        if !self.not_known.is_empty() {
            let foods: Vec<&str> = self.not_known.iter().map(String::as_str).collect();
            words += &format!("; not known: {}", foods.join(", "));
        }
        words
    }
}

/// The sheet for one table.
pub fn sheet(laid: &Laid, sitting: &Sitting) -> AllergenSheet {
    let choices = [&sitting.choices, &laid.choices];
    let here = laid.dishes.iter().filter(|dish| !sitting.without.contains(&dish.id));
    AllergenSheet { dishes: here.map(|dish| of_dish(dish, laid, choices)).collect() }
}

/// One dish with its bases.
pub fn of_dish(dish: &LaidDish, laid: &Laid, choices: [&Choices; 2]) -> DishAllergens {
    let mut found = DishAllergens {
        dish: dish.id,
        letter: dish.letter,
        title: dish.title.clone(),
        contains: BTreeMap::new(),
        labels: BTreeMap::new(),
        not_known: BTreeSet::new(),
        choices: Vec::new(),
    };
    let mut seen = BTreeSet::new();
    gather(dish, laid, choices, &mut seen, &mut found);
    found.choices.sort();
    found.choices.dedup();
    found
}

/// Everything that goes in, each base once, so that bases in a ring end.
fn gather(
    dish: &LaidDish,
    laid: &Laid,
    choices: [&Choices; 2],
    seen: &mut BTreeSet<DishId>,
    found: &mut DishAllergens,
) {
    if !seen.insert(dish.id) {
        return;
    }
    for entry in dish.card.steps().flat_map(|(_, step)| &step.goes_in) {
        match &entry.source {
            Some(Source::Part(_)) => {}
            Some(Source::Base(title)) => match laid.base(title) {
                Some(base) => gather(base, laid, choices, seen, found),
                None => drop(found.not_known.insert(title.clone())),
            },
            None if entry.what.is_heading => {}
            None => of_line(&entry.what, laid, choices, found),
        }
    }
}

fn of_line(line: &IngredientLine, laid: &Laid, choices: [&Choices; 2], found: &mut DishAllergens) {
    let chosen = chosen(line, choices);
    let now = chosen.map_or((&line.food, &line.found), |other| (&other.food, &other.found));
    let food = known(now.0, now.1, laid);
    match food.map(|food| &food.allergens) {
        Some(Allergens::Entered { contains, check, .. }) => {
            for allergen in contains {
                found.contains.entry(*allergen).or_default().insert(now.0.clone());
            }
            for (allergen, certainty) in check {
                let labels = found.labels.entry(now.0.clone()).or_default();
                let strongest = labels.entry(*allergen).or_insert(*certainty);
                *strongest = (*strongest).max(*certainty);
            }
        }
        Some(Allergens::NotKnown) | None => drop(found.not_known.insert(now.0.clone())),
    }
    let first = (&line.food, &line.found);
    let others = line.alternatives.iter().map(|other| (&other.food, &other.found));
    for other in std::iter::once(first).chain(others).filter(|other| other.0 != now.0) {
        found.choices.extend(choice(now.0, food, other.0, known(other.0, other.1, laid)));
    }
}

/// Only a food the larder knows by its whole name; a supposition is as good as nothing.
fn known<'a>(name: &str, found: &Found, laid: &'a Laid) -> Option<&'a Food> {
    let again = laid.larder.find(name);
    laid.larder.food(found.known().or(again.known())?)
}

fn choice(
    now: &str,
    food: Option<&Food>,
    name: &str,
    other: Option<&Food>,
) -> Option<AllergenChoice> {
    let listed = |food: Option<&Food>| match food.map(|food| &food.allergens) {
        Some(Allergens::Entered { contains, check, .. }) => {
            let labels = check.iter().map(|(allergen, _)| *allergen).collect::<Vec<_>>();
            Some((contains.clone(), labels))
        }
        _ => None,
    };
    let here = listed(food).unwrap_or_default().0;
    let there = listed(other);
    let is_not_known = there.is_none();
    let (contains, labels) = there.unwrap_or_default();
    let brings: Vec<Allergen> = contains.iter().filter(|it| !here.contains(it)).copied().collect();
    let takes_away: Vec<Allergen> = match is_not_known {
        true => Vec::new(),
        false => here.iter().filter(|it| !contains.contains(it)).copied().collect(),
    };
    let differs =
        is_not_known || !brings.is_empty() || !takes_away.is_empty() || !labels.is_empty();
    differs.then(|| AllergenChoice {
        now: now.to_owned(),
        other: name.to_owned(),
        brings,
        takes_away,
        labels,
        is_not_known,
    })
}
