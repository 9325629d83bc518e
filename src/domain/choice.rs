//! Which of several foods on one line is used: the table's choice, then the menu's, then as written.

use crate::domain::larder::{Found, Larder};
use crate::domain::menu::Choices;
use crate::domain::reading::{Alternative, IngredientLine};

/// The choice that was made for this line, whichever food it names; none where nobody chose.
pub fn made<'a>(line: &IngredientLine, choices: [&'a Choices; 2]) -> Option<&'a str> {
    let names = [line.food.to_lowercase(), line.name.to_lowercase()];
    choices.iter().find_map(|it| names.iter().find_map(|name| it.get(name))).map(String::as_str)
}

/// The alternative that was chosen for this line; none for the first food.
pub fn chosen<'a>(line: &'a IngredientLine, choices: [&Choices; 2]) -> Option<&'a Alternative> {
    let choice = made(line, choices)?.to_lowercase();
    line.alternatives
        .iter()
        .find(|other| other.food.to_lowercase() == choice || other.name.to_lowercase() == choice)
}

/// One of the foods that a line allows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Allowed {
    /// As the author wrote it: `ground almonds`.
    pub name: String,
    pub found: Found,
}

/// All foods a line allows, which of them is used, and whether somebody chose it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Options {
    /// As written: the first food, then the alternatives.
    pub foods: Vec<Allowed>,
    pub now: usize,
    pub is_chosen: bool,
}

impl Options {
    pub fn now(&self) -> &Allowed {
        &self.foods[self.now]
    }

    /// The foods that could stand in for the one that is used.
    pub fn others(&self) -> impl Iterator<Item = &Allowed> {
        self.foods.iter().enumerate().filter(|(at, _)| *at != self.now).map(|(_, food)| food)
    }
}

pub fn options(line: &IngredientLine, larder: &Larder, choices: [&Choices; 2]) -> Options {
    let allowed = |name: &str, food: &str, found: &Found| Allowed {
        name: name.to_owned(),
        found: found_now(food, found, larder),
    };
    let first = std::iter::once(allowed(&line.name, &line.food, &line.found));
    let rest =
        line.alternatives.iter().map(|other| allowed(&other.name, &other.food, &other.found));
    let foods: Vec<Allowed> = first.chain(rest).collect();
    let is = |name: &str, choice: &str| name.to_lowercase() == choice.to_lowercase();
    let place = made(line, choices).and_then(|choice| {
        let first = is(&line.food, choice) || is(&line.name, choice);
        let rest =
            line.alternatives.iter().position(|it| is(&it.food, choice) || is(&it.name, choice));
        if first { Some(0) } else { rest.map(|at| at + 1) }
    });
    Options { foods, now: place.unwrap_or(0), is_chosen: place.is_some() }
}

/// The larder may have learnt the food since the card was read.
pub fn found_now(food: &str, found: &Found, larder: &Larder) -> Found {
    match found {
        Found::Known(key) if larder.food(key).is_some() => Found::Known(key.clone()),
        _ => larder.find(food),
    }
}
