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
    let is_base =
        |it: &DishAllergens| laid.dishes.iter().any(|dish| dish.is_base && dish.id == it.dish);
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
    let mut products: Vec<String> =
        sheet.dishes.iter().flat_map(|dish| dish.labels.keys().cloned()).collect();
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
            .map(|dish| (dish.letter, is_base(dish), dish.title.clone()))
            .collect(),
        rows: Allergen::ALL.into_iter().map(row).collect(),
        mind: sheet.dishes.iter().flat_map(mind).collect(),
        products,
    }
}

fn cell(dish: &DishAllergens, allergen: Allergen) -> CellWords {
    let choice = dish.choices.iter().find(|it| it.brings.contains(&allergen));
    let of = |kind, words: String| CellWords { kind, words };
    match (dish.cell(allergen), choice) {
        (Cell::Contains { .. }, _) => of("has", "contains".to_owned()),
        (_, Some(choice)) => of("cho", format!("choice: {}", choice.other)),
        (Cell::CheckLabel { .. }, None) => of("chk", "check label".to_owned()),
        (Cell::NotKnown { .. }, None) => of("unk", "not known".to_owned()),
        (Cell::NothingListed, None) => of("not", "not listed".to_owned()),
    }
}

fn mind(dish: &DishAllergens) -> Vec<(Letter, String)> {
    let mut words = Vec::new();
    if !dish.not_known.is_empty() {
        let foods: Vec<&str> = dish.not_known.iter().map(String::as_str).collect();
        words.push(format!("not known: {}.", foods.join(", ")));
    }
    let said = |allergens: &[Allergen]| {
        allergens.iter().map(|it| it.word()).collect::<Vec<_>>().join(", ")
    };
    for choice in &dish.choices {
        let mut parts = Vec::new();
        if !choice.brings.is_empty() {
            parts.push(format!("brings {}", said(&choice.brings)));
        }
        if !choice.takes_away.is_empty() {
            parts.push(format!("is without the {} of {}", said(&choice.takes_away), choice.now));
        }
        if !choice.labels.is_empty() {
            parts.push(format!("read label: {}", said(&choice.labels)));
        }
        if choice.is_not_known {
            parts.push("not known".to_owned());
        }
        if !parts.is_empty() {
            words.push(format!(
                "{} in place of {}: {}.",
                choice.other,
                choice.now,
                parts.join("; ")
            ));
        }
    }
    words.into_iter().map(|it| (dish.letter, it)).collect()
}
