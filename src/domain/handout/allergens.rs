//! The allergen sheet: a cell for each allergen and dish, each with its word, none left blank.

use super::foot::Foot;
use crate::domain::allergen::{AllergenSheet, Cell, DishAllergens};
use crate::domain::larder::Allergen;
use crate::domain::menu::{Laid, Letter, Sitting};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AllergenTable {
    pub foot: Foot,
    pub title: String,
    /// The day of the table.
    pub day: String,
    pub rule: Option<String>,
    /// Letter, whether it is a base, title.
    pub dishes: Vec<(Letter, bool, String)>,
    pub rows: Vec<AllergenRow>,
    /// Foods that nobody entered, dish by dish, and what other choices change.
    pub mind: Vec<(Letter, String)>,
    /// Products whose labels the assistant reads and notes.
    pub products: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AllergenRow {
    pub name: &'static str,
    /// The rule of the table forbids it.
    pub is_ruled_out: bool,
    pub cells: Vec<CellWords>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellWords {
    /// How the styles call it: `has`, `chk`, `cho`, `unk`, `not`.
    pub kind: &'static str,
    pub words: String,
}

pub fn allergen_table(laid: &Laid, sitting: &Sitting, sheet: &AllergenSheet) -> AllergenTable {
    let ruled = |allergen: Allergen| {
        laid.rule.allergens.contains(&allergen) || sitting.rule.allergens.contains(&allergen)
    };
    let traces = if laid.rule.strict { ", strict" } else { "" };
    let rule = (!laid.rule.words.is_empty())
        .then(|| format!("{}{traces}.", laid.rule.words.trim_end_matches('.')));
    let row = |allergen: Allergen| AllergenRow {
        name: allergen.word(),
        is_ruled_out: ruled(allergen),
        cells: sheet.dishes.iter().map(|dish| cell(dish, allergen)).collect(),
    };
    let labels = sheet.dishes.iter().flat_map(|dish| dish.labels.keys());
    let mut products: Vec<String> = labels.cloned().collect();
    products.sort();
    products.dedup();
    AllergenTable {
        foot: Foot::of_menu(laid),
        title: laid.name.clone(),
        day: sitting.serve.local.strftime("%a %-d %B %Y").to_string(),
        rule,
        dishes: sheet
            .dishes
            .iter()
            .map(|dish| (dish.letter, dish.is_base, dish.title.clone()))
            .collect(),
        rows: Allergen::ALL.into_iter().map(row).collect(),
        mind: sheet.dishes.iter().flat_map(mind).collect(),
        products,
    }
}

fn cell(dish: &DishAllergens, allergen: Allergen) -> CellWords {
    let cell = dish.cell(allergen);
    let kind = match cell {
        Cell::Contains { .. } => "has",
        Cell::Choice { .. } => "cho",
        Cell::NotKnown { .. } => "unk",
        Cell::CheckLabel { .. } => "chk",
        Cell::NothingListed => "not",
    };
    CellWords { kind, words: cell.short() }
}

/// What does not fit a cell: foods that are not known, and what a choice changes.
fn mind(dish: &DishAllergens) -> Vec<(Letter, String)> {
    let mut words = Vec::new();
    let unknown: Vec<&str> = dish.not_known.iter().map(String::as_str).collect();
    if !unknown.is_empty() {
        words.push(format!("not known: {}.", unknown.join(", ")));
    }
    for (allergen, cell) in &dish.cells {
        if matches!(cell, Cell::Choice { .. }) {
            words.push(format!("{} {}.", allergen.word(), cell.words()));
        }
    }
    words.into_iter().map(|it| (dish.letter, it)).collect()
}
