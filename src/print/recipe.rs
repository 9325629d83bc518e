//! The recipe sheet on paper.

use askama::Template;

use super::Around;
use crate::domain::handout::RecipeSheet;

#[derive(Template)]
#[template(path = "print/recipe.html")]
struct RecipePage<'a> {
    around: &'a Around,
    sheet: &'a RecipeSheet,
}

pub fn recipe(around: &Around, sheet: &RecipeSheet) -> askama::Result<String> {
    RecipePage { around, sheet }.render()
}
