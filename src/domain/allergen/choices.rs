//! What an alternative that is not used would change.

use super::{Says, entries::Entry, read_for, says};
use crate::domain::choice::Allowed;
use crate::domain::larder::{Allergen, Larder};

/// A food that could stand in for the one that is used.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct AllergenChoice {
    /// The food that is in now.
    pub now: String,
    pub other: String,
    /// What `other` contains that `now` does not.
    pub brings: Vec<Allergen>,
    /// What `now` contains that `other` does not; empty where `other` is not known.
    pub takes_away: Vec<Allergen>,
    /// What the label of `other` is read for.
    pub labels: Vec<Allergen>,
    /// Nobody entered what `other` carries.
    pub is_not_known: bool,
}

impl AllergenChoice {
    fn is_worth_saying(&self) -> bool {
        let changes = [&self.brings, &self.takes_away, &self.labels];
        self.is_not_known || changes.iter().any(|it| !it.is_empty())
    }
}

pub fn of_entry(entry: &Entry, larder: &Larder) -> Vec<AllergenChoice> {
    let now = entry.options.now();
    let others = entry.options.others().map(|other| choice(now, other, larder));
    others.filter(AllergenChoice::is_worth_saying).collect()
}

fn choice(now: &Allowed, other: &Allowed, larder: &Larder) -> AllergenChoice {
    let contains = |food: &Allowed, allergen| says(&food.found, allergen, larder) == Says::Contains;
    let is_not_known = says(&other.found, Allergen::ALL[0], larder) == Says::NotKnown;
    let only_in = |one: &Allowed, two: &Allowed| -> Vec<Allergen> {
        let all = Allergen::ALL.into_iter();
        all.filter(|it| contains(one, *it) && !contains(two, *it)).collect()
    };
    AllergenChoice {
        now: now.name.clone(),
        other: other.name.clone(),
        brings: only_in(other, now),
        takes_away: if is_not_known { Vec::new() } else { only_in(now, other) },
        labels: read_for(&other.found, larder),
        is_not_known,
    }
}
