//! Who can eat what: for each dish and allergen one cell, never a blank and never a promise.
//!
//! What a food carries is entered by hand in the larder. A name that is only perhaps a food of the
//! larder, or a food whose allergens nobody entered, leaves the cell "not known"; optional and
//! alternative foods are said as such. Cross-contact is not derived: it is a statement of the kitchen.

mod choices;
mod entries;
mod rule;
mod words;

use self::entries::Entry;
use std::collections::{BTreeMap, BTreeSet};

use crate::domain::dish::DishId;
use crate::domain::larder::{Allergen, Allergens, Certainty, Found, Larder};
use crate::domain::menu::{Choices, Laid, LaidDish, Letter, Sitting};
pub use choices::AllergenChoice;
pub use rule::{DishVerdict, Finding, Forbidden, RuleCheck, Verdict, rule_check};
pub use words::list_words;

/// Dishes and bases of one table, in the order of the menu.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AllergenSheet {
    pub dishes: Vec<DishAllergens>,
}

impl AllergenSheet {
    pub fn of(&self, dish: DishId) -> Option<&DishAllergens> {
        self.dishes.iter().find(|it| it.dish == dish)
    }
}

/// One dish: a cell for each allergen, in the order of [`Allergen::ALL`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DishAllergens {
    pub dish: DishId,
    pub letter: Letter,
    pub title: String,
    pub is_base: bool,
    pub cells: Vec<(Allergen, Cell)>,
    /// Labels to read, by food, with the strongest word for each allergen.
    pub labels: BTreeMap<String, BTreeMap<Allergen, Certainty>>,
    /// Foods that nobody has entered, or that the larder does not know.
    pub not_known: BTreeSet<String>,
    /// What the alternatives that are not used would change.
    pub choices: Vec<AllergenChoice>,
}

impl DishAllergens {
    pub fn cell(&self, allergen: Allergen) -> &Cell {
        let cell = self.cells.iter().find(|(it, _)| *it == allergen);
        cell.map_or(&Cell::NothingListed, |(_, cell)| cell)
    }
}

/// What is said of one allergen in one dish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    Contains {
        from: Vec<Carrier>,
    },
    /// It hangs on an alternative that nobody has chosen yet.
    Choice {
        /// Foods with which the dish contains it.
        with: Vec<Carrier>,
        /// Foods that stand in for them.
        without: Vec<String>,
        /// The food written first is one of `with`.
        is_as_written: bool,
        /// What is said when none of `with` is used.
        otherwise: Box<Cell>,
    },
    /// Nobody entered what these foods carry, or the larder does not know their names.
    NotKnown {
        foods: Vec<String>,
    },
    /// Not in the recipe; a label says more. `certainty` is the strongest word of all labels.
    CheckLabel {
        what: Vec<Label>,
        certainty: Certainty,
    },
    /// Neither in the recipe nor on the list of labels to read for it.
    NothingListed,
}

/// A food that carries the allergen.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Carrier {
    pub food: String,
    /// The base it comes with.
    pub via: Option<String>,
    /// The dish may be made without it.
    pub is_optional: bool,
}

/// A label to read, with everything it is read for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    pub carrier: Carrier,
    pub read_for: Vec<Allergen>,
    pub certainty: Certainty,
    /// Only when this alternative is chosen.
    pub is_if_chosen: bool,
}

pub fn sheet(laid: &Laid, sitting: &Sitting) -> AllergenSheet {
    let choices = [&sitting.choices, &laid.choices];
    let eaten: Vec<&LaidDish> =
        laid.eaten().filter(|dish| !sitting.without.contains(&dish.id)).collect();
    let bases = entries::bases_used(laid, &eaten);
    let dishes = eaten.into_iter().chain(bases).map(|dish| of_dish(dish, laid, choices)).collect();
    AllergenSheet { dishes }
}

/// One dish with its bases, under these choices: the table's first, then the menu's.
pub fn of_dish(dish: &LaidDish, laid: &Laid, choices: [&Choices; 2]) -> DishAllergens {
    let entries = entries::of_dish(dish, laid, choices);
    let larder = &laid.larder;
    let open = || entries.iter().flat_map(Entry::open);
    let mut labels: BTreeMap<String, BTreeMap<Allergen, Certainty>> = BTreeMap::new();
    for food in open() {
        for (allergen, certainty) in checks(&food.found, larder) {
            let label = labels.entry(food.name.clone()).or_default();
            let strongest = label.entry(*allergen).or_insert(*certainty);
            *strongest = (*strongest).max(*certainty);
        }
    }
    let not_known = open()
        .filter(|food| says(&food.found, Allergen::ALL[0], larder) == Says::NotKnown)
        .map(|food| food.name.clone())
        .collect();
    let mut choices: Vec<AllergenChoice> =
        entries.iter().flat_map(|entry| choices::of_entry(entry, larder)).collect();
    choices.sort_unstable();
    choices.dedup();
    DishAllergens {
        dish: dish.id,
        letter: dish.letter,
        title: dish.title.clone(),
        is_base: dish.is_base,
        cells: Allergen::ALL.into_iter().map(|it| (it, cell(it, &entries, larder))).collect(),
        labels,
        not_known,
        choices,
    }
}

/// What one food says of one allergen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Says {
    Contains,
    Check(Certainty),
    NotKnown,
    Nothing,
}

fn says(found: &Found, allergen: Allergen, larder: &Larder) -> Says {
    let Some(food) = found.known().and_then(|key| larder.food(key)) else { return Says::NotKnown };
    let Allergens::Entered { contains, check, .. } = &food.allergens else {
        return Says::NotKnown;
    };
    if contains.iter().any(|it| is_kind_of(*it, allergen)) {
        return Says::Contains;
    }
    let certainty =
        check.iter().filter(|(it, _)| is_kind_of(*it, allergen)).map(|(_, word)| *word).max();
    certainty.map_or(Says::Nothing, Says::Check)
}

/// Wheat is a cereal with gluten (rule book 3.3); of the others each stands for itself.
fn is_kind_of(carried: Allergen, asked: Allergen) -> bool {
    carried == asked || (carried == Allergen::Wheat && asked == Allergen::Gluten)
}

/// What the label of a food is read for; nothing where nobody entered it.
fn checks<'a>(found: &Found, larder: &'a Larder) -> &'a [(Allergen, Certainty)] {
    match found.known().and_then(|key| larder.food(key)).map(|food| &food.allergens) {
        Some(Allergens::Entered { check, .. }) => check,
        _ => &[],
    }
}

/// The same in the order of the list, each once.
fn read_for(found: &Found, larder: &Larder) -> Vec<Allergen> {
    sorted(checks(found, larder).iter().map(|(allergen, _)| *allergen).collect())
}

fn cell(allergen: Allergen, entries: &[Entry], larder: &Larder) -> Cell {
    let contains = |food: &crate::domain::choice::Allowed| {
        says(&food.found, allergen, larder) == Says::Contains
    };
    // For good: whoever chooses what is open, these stay.
    let (mut fixed, mut with, mut without) = (Vec::new(), Vec::new(), Vec::new());
    let mut is_as_written = false;
    for entry in entries {
        let open: Vec<_> = entry.open().collect();
        if !open.iter().any(|food| contains(food)) {
            continue;
        }
        if open.iter().all(|food| contains(food)) {
            fixed.push(entry.carrier(entry.options.now()));
            continue;
        }
        is_as_written |= contains(entry.options.now());
        with.extend(open.iter().filter(|it| contains(it)).map(|it| entry.carrier(it)));
        without.extend(open.iter().filter(|it| !contains(it)).map(|it| it.name.clone()));
    }
    if !fixed.is_empty() {
        return Cell::Contains { from: sorted(fixed) };
    }
    let otherwise = otherwise(allergen, entries, larder);
    if with.is_empty() {
        return otherwise;
    }
    let otherwise = Box::new(otherwise);
    Cell::Choice { with: sorted(with), without: sorted(without), is_as_written, otherwise }
}

/// What is said when no food that contains the allergen is used.
fn otherwise(allergen: Allergen, entries: &[Entry], larder: &Larder) -> Cell {
    let (mut not_known, mut what) = (Vec::new(), Vec::new());
    for entry in entries {
        for food in entry.open() {
            match says(&food.found, allergen, larder) {
                Says::NotKnown => not_known.push(food.name.clone()),
                Says::Check(certainty) => what.push(Label {
                    carrier: entry.carrier(food),
                    read_for: read_for(&food.found, larder),
                    certainty,
                    is_if_chosen: food != entry.options.now(),
                }),
                Says::Contains | Says::Nothing => {}
            }
        }
    }
    if !not_known.is_empty() {
        return Cell::NotKnown { foods: sorted(not_known) };
    }
    what.sort_by(|one: &Label, other| one.carrier.cmp(&other.carrier));
    what.dedup();
    match what.iter().map(|label| label.certainty).max() {
        Some(certainty) => Cell::CheckLabel { what, certainty },
        None => Cell::NothingListed,
    }
}

fn sorted<T: Ord>(mut items: Vec<T>) -> Vec<T> {
    items.sort_unstable();
    items.dedup();
    items
}
