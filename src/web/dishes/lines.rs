//! Each line that goes in as it was read, with what a person may say to it.

use crate::domain::card::Reading;
use crate::domain::larder::{Found, Larder};
use crate::domain::reading::IngredientLine;

use super::says;

/// One line of a card, and what was understood of it.
#[derive(Debug)]
pub struct LineView {
    pub line: usize,
    pub typed: String,
    /// `2 tins of 400 g`, or empty.
    pub amount: String,
    /// The food as a list would call it.
    pub food: String,
    /// Work, alternatives, flags: what else was read.
    pub more: String,
    /// The food of the larder; none where it is not known.
    pub known: Option<String>,
    /// Place among the suggestions, and their names.
    pub perhaps: Vec<(usize, String)>,
    /// Foods that are all wanted, which a list can only buy from lines of their own.
    pub together: String,
}

pub fn of(reading: &Reading, larder: &Larder) -> Vec<LineView> {
    let entries = reading.card.steps().flat_map(|(_, step)| &step.goes_in);
    let entries = entries.filter(|entry| entry.source.is_none() && !entry.what.is_heading);
    entries.map(|entry| view(entry.line, &entry.what, larder)).collect()
}

fn view(line: usize, what: &IngredientLine, larder: &Larder) -> LineView {
    let name = |key| larder.food(key).map(|food| food.name.clone());
    let perhaps = match &what.found {
        Found::Perhaps(keys) if what.together.is_empty() => {
            keys.iter().enumerate().filter_map(|(at, key)| Some((at, name(key)?))).collect()
        }
        _ => Vec::new(),
    };
    let packs: Vec<String> = what.packs.iter().map(says::amount).collect();
    let mut amount = what.amount.as_ref().map(says::amount).unwrap_or_default();
    if !packs.is_empty() {
        amount = format!("{amount} of {}", packs.join(", "));
    }
    let mut more: Vec<String> = Vec::new();
    more.extend((!what.preparation.is_empty()).then(|| what.preparation.clone()));
    more.extend(what.alternatives.iter().map(|it| format!("or {}", it.food)));
    more.extend(what.equivalents.iter().map(|it| format!("that is {}", says::amount(it))));
    more.extend(what.plus.iter().map(|it| format!("and {} more", says::amount(it))));
    more.extend(what.is_optional.then(|| "optional".to_owned()));
    more.extend(what.is_garnish.then(|| "garnish".to_owned()));
    more.extend([&what.purpose, &what.remark].into_iter().filter(|it| !it.is_empty()).cloned());
    LineView {
        line,
        typed: what.text.clone(),
        amount,
        food: what.food.clone(),
        more: more.join("; "),
        known: what.found.known().and_then(name),
        perhaps,
        together: what.together.join(", "),
    }
}

/// The field in which a line is corrected.
pub fn meant_name(line: usize) -> String {
    format!("{line}.meant")
}
