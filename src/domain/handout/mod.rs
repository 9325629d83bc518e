//! What each sheet for paper says: data and words, before there is any page.
//!
//! A sheet never fails for want of a figure; it says what it lacks and prints the rest.

mod foot;
mod recipe;
mod scale;
mod shown;
mod step;
mod text;

pub use foot::Foot;
pub use recipe::{Answer, Ingredient, RecipeFor, RecipePart, RecipeSheet, recipe_sheet};
pub use shown::Measures;
pub use step::RecipeStep;
pub use text::{Piece, pieces};
