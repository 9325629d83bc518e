//! The words of the allergen sheet. None of them clears a dish.

use super::{Carrier, Cell, DishAllergens, Label};
use crate::domain::larder::Allergen;

/// Said of what is not in the recipe.
const NOTHING: &str = "no listed allergen in the recipe";

impl Cell {
    /// The few words that fit a table.
    pub fn short(&self) -> String {
        match self {
            Self::Contains { .. } => "contains".to_owned(),
            Self::Choice { with, .. } => format!("choice: {}", carriers(with)),
            Self::NotKnown { .. } => "not known".to_owned(),
            Self::CheckLabel { .. } => "check label".to_owned(),
            Self::NothingListed => "not in the recipe".to_owned(),
        }
    }

    /// The whole sentence.
    pub fn words(&self) -> String {
        match self {
            Self::Contains { from } => format!("contains: {}", carriers(from)),
            Self::Choice { with, without, is_as_written, otherwise } => {
                let now =
                    if *is_as_written { "contains, as written, with" } else { "contains with" };
                let without = without.join(" or ");
                format!("{now} {}; with {without}: {}", carriers(with), otherwise.words())
            }
            Self::NotKnown { foods } => format!("not known: {}", foods.join(", ")),
            Self::CheckLabel { what, .. } => format!("{NOTHING}; read label: {}", read_for(what)),
            Self::NothingListed => NOTHING.to_owned(),
        }
    }

    pub const fn is_contained(&self) -> bool {
        matches!(self, Self::Contains { .. } | Self::Choice { is_as_written: true, .. })
    }

    /// Labels that are read for it.
    pub fn labels(&self) -> &[Label] {
        match self {
            Self::CheckLabel { what, .. } => what,
            Self::Choice { otherwise, .. } => otherwise.labels(),
            _ => &[],
        }
    }
}

impl DishAllergens {
    /// The dish in one sentence, as under its name on the class page.
    pub fn words(&self) -> String {
        let contained = |(allergen, cell): &(Allergen, Cell)| {
            cell.is_contained().then(|| match cell {
                Cell::Choice { without, .. } => {
                    format!("{} (or choose {})", allergen.word(), without.join(" or "))
                }
                _ => allergen.word().to_owned(),
            })
        };
        let contains: Vec<String> = self.cells.iter().filter_map(contained).collect();
        let not_known: Vec<&str> = self.not_known.iter().map(String::as_str).collect();
        let labels: Vec<&str> = self.labels_to_read().into_iter().map(Allergen::word).collect();
        let first = match (contains.is_empty(), not_known.is_empty()) {
            (false, _) => format!("contains {}", contains.join(", ")),
            (true, true) => NOTHING.to_owned(),
            (true, false) => String::new(),
        };
        let unknown = if not_known.is_empty() {
            String::new()
        } else {
            format!("not known: {}", not_known.join(", "))
        };
        let read = if labels.is_empty() {
            // Nothing listed is no promise: a packet may say more than a recipe.
            if first == NOTHING { "read label".to_owned() } else { String::new() }
        } else {
            format!("read label: {}", labels.join(", "))
        };
        let parts: Vec<String> =
            [first, unknown, read].into_iter().filter(|it| !it.is_empty()).collect();
        parts.join("; ")
    }

    /// Allergens for which a label of this dish is read, in the order of the list.
    pub fn labels_to_read(&self) -> Vec<Allergen> {
        let asked = |(_, cell): &&(Allergen, Cell)| !cell.labels().is_empty();
        self.cells.iter().filter(asked).map(|(allergen, _)| *allergen).collect()
    }
}

impl Carrier {
    /// `gluten-free mustard, in Green sauce, optional`.
    pub fn words(&self) -> String {
        let mut words = self.food.clone();
        if let Some(base) = &self.via {
            words = format!("{words}, in {base}");
        }
        if self.is_optional { format!("{words}, optional") } else { words }
    }
}

fn carriers(carriers: &[Carrier]) -> String {
    carriers.iter().map(Carrier::words).collect::<Vec<_>>().join("; ")
}

/// Everything these labels are read for, in the order of the list.
fn read_for(labels: &[Label]) -> String {
    let mut all: Vec<Allergen> = labels.iter().flat_map(|it| it.read_for.clone()).collect();
    all.sort_unstable();
    all.dedup();
    list_words(&all)
}

pub fn list_words(allergens: &[Allergen]) -> String {
    allergens.iter().map(|it| it.word()).collect::<Vec<_>>().join(", ")
}
