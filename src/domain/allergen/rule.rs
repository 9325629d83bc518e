//! Whether each dish keeps the rule of the table, under the alternates that are chosen.

use std::collections::BTreeSet;

use super::{Cell, DishAllergens, known, of_dish};
use crate::domain::card::Source;
use crate::domain::larder::{Allergen, Food};
use crate::domain::menu::{Laid, LaidDish, Letter, Sitting, TableRule};
use crate::domain::shopping::chosen;

/// The menu's rule and this table's own together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rules {
    pub allergens: BTreeSet<Allergen>,
    pub others: BTreeSet<String>,
    pub strict: bool,
}

impl Rules {
    pub fn of(rules: [&TableRule; 2]) -> Self {
        let mut all = Self::default();
        for rule in rules {
            all.allergens.extend(&rule.allergens);
            all.others.extend(rule.others.iter().map(|it| it.trim().to_lowercase()));
            all.strict |= rule.strict;
        }
        all.others.remove("");
        all
    }

    pub fn is_empty(&self) -> bool {
        self.allergens.is_empty() && self.others.is_empty()
    }
}

/// One dish against one thing that must not be in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Breach {
    pub letter: Letter,
    pub title: String,
    /// `milk`, `kiwi`.
    pub what: String,
    pub weight: BreachWeight,
    /// The food that brings it, or whose label is to be read.
    pub foods: Vec<String>,
    /// An alternate of the card with which it would not be in the recipe.
    pub instead: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BreachWeight {
    /// It is in the recipe.
    Contains,
    /// Nobody has entered some food of the dish.
    NotKnown,
    /// A label has to be read before the dish is made.
    ReadLabel,
}

impl Breach {
    /// The finished sentence.
    pub fn words(&self) -> String {
        let Self { letter, title, what, foods, .. } = self;
        let foods = foods.join(", ");
        let mut words = match self.weight {
            BreachWeight::Contains => format!("{letter} {title} contains {what}: {foods}"),
            BreachWeight::NotKnown => format!("{letter} {title}: {what} not known for {foods}"),
            BreachWeight::ReadLabel => {
                format!("{letter} {title}: read the label for {what}: {foods}")
            }
        };
        if let Some(instead) = &self.instead {
            words += &format!(". With {instead} it is not in the recipe; read that label too");
        }
        words
    }
}

/// Everything in the menu that breaks the rule or leaves it open, worst first within each dish.
///
/// A label to read is said whether or not traces count: the packet decides, not the program.
pub fn rule_check(laid: &Laid, sitting: &Sitting) -> Vec<Breach> {
    let rules = Rules::of([&laid.rule, &sitting.rule]);
    let choices = [&sitting.choices, &laid.choices];
    let mut found = Vec::new();
    for dish in laid.eaten().filter(|dish| !sitting.without.contains(&dish.id)) {
        let carries = of_dish(dish, laid, choices);
        for allergen in &rules.allergens {
            found.extend(of_allergen(&carries, *allergen));
        }
        for other in &rules.others {
            found.extend(of_food(dish, laid, sitting, other));
        }
    }
    found
}

fn of_allergen(dish: &DishAllergens, allergen: Allergen) -> Option<Breach> {
    let (weight, foods) = match dish.cell(allergen) {
        Cell::Contains { from } => (BreachWeight::Contains, from),
        Cell::CheckLabel { of } => {
            (BreachWeight::ReadLabel, of.into_iter().map(|(food, _)| food).collect())
        }
        Cell::NotKnown { foods } => (BreachWeight::NotKnown, foods),
        Cell::NothingListed => return None,
    };
    let instead = dish
        .choices
        .iter()
        .find(|choice| choice.takes_away.contains(&allergen) && foods.contains(&choice.now))
        .map(|choice| choice.other.clone());
    Some(Breach {
        letter: dish.letter,
        title: dish.title.clone(),
        what: allergen.word().to_owned(),
        weight,
        foods,
        instead,
    })
}

/// A food or group left out by name: compared with the food's names and its groups.
fn of_food(dish: &LaidDish, laid: &Laid, sitting: &Sitting, other: &str) -> Option<Breach> {
    let mut foods = BTreeSet::new();
    let mut instead = None;
    let mut cards = vec![dish];
    let mut at = 0;
    while let Some(&card) = cards.get(at) {
        at += 1;
        for entry in card.card.steps().flat_map(|(_, step)| &step.goes_in) {
            if let Some(Source::Base(title)) = &entry.source {
                let base = laid.base(title);
                cards.extend(base.filter(|base| !cards.iter().any(|it| it.id == base.id)));
                continue;
            }
            let line = &entry.what;
            let now = chosen(line, [&sitting.choices, &laid.choices]);
            let (name, found) = now.map_or((&line.food, &line.found), |it| (&it.food, &it.found));
            if is_named(other, name, known(name, found, laid)) {
                foods.insert(name.clone());
                let way = line.alternatives.iter().map(|it| (&it.food, &it.found));
                let way = way.chain([(&line.food, &line.found)]);
                instead = way
                    .filter(|(way, found)| !is_named(other, way, known(way, found, laid)))
                    .map(|(way, _)| way.clone())
                    .next();
            }
        }
    }
    (!foods.is_empty()).then(|| Breach {
        letter: dish.letter,
        title: dish.title.clone(),
        what: other.to_owned(),
        weight: BreachWeight::Contains,
        foods: foods.into_iter().collect(),
        instead,
    })
}

fn is_named(other: &str, name: &str, food: Option<&Food>) -> bool {
    let one = other.strip_suffix('s').unwrap_or(other);
    let same = |word: &str| {
        let word = word.to_lowercase();
        word == other
            || word.split(|c: char| !c.is_alphanumeric()).any(|it| it == one || it == other)
    };
    same(name)
        || food.is_some_and(|food| {
            same(&food.name) || food.groups.iter().any(|group| same(&group.replace('_', " ")))
        })
}
