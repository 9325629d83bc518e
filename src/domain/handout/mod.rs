//! What each sheet for paper says: data and words, before there is any page.
//!
//! A sheet never fails for want of a figure; it says what it lacks and prints the rest.

mod advice;
mod ahead;
mod allergens;
mod class_menu;
mod cooling_log;
mod foot;
mod recipe;
mod rounding;
mod rules;
mod shopping;
mod shown;
mod step;
mod text;

pub use ahead::{AheadSheet, Label, LabelSheet, ahead_sheet, label_sheet};
pub use allergens::{AllergenTable, allergen_table};
pub use class_menu::{ClassMenu, class_menu};
pub use cooling_log::{CoolingLogSheet, LogRow, cooling_log_sheet};
pub use foot::Foot;
pub use recipe::{Answer, Ingredient, RecipeFor, RecipePart, RecipeSheet, recipe_sheet};
pub use rules::{RuleSheet, rule_sheet};
pub use shopping::{ShoppingSheet, shopping_sheet};
pub use shown::{Measures, litres};
pub use step::RecipeStep;
pub use text::{Piece, pieces};
