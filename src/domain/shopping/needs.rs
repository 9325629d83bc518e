//! What every step asks for at this table: foods with their scaled amounts, choices made.

use num_rational::BigRational;

use super::scale::{Scale, Scaled};
use crate::domain::choice::{chosen, found_now};
use crate::domain::dish::DishId;
use crate::domain::larder::Found;
use crate::domain::menu::{Choices, Laid, LaidDish, Letter, Sitting};
use crate::domain::quantity::{Amount, Unit};
use crate::domain::reading::IngredientLine;

/// Names one step of one dish: what a plan gives a day and an hour to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepKey {
    pub dish: DishId,
    pub part: usize,
    pub step: usize,
}

/// One food at one step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    pub at: StepKey,
    pub letter: Letter,
    /// Singular, as a shopper names it; the chosen one where there are alternatives.
    pub food: String,
    pub found: Found,
    /// Scaled, both ends; none where the card gives no figure.
    pub amount: Option<Amount>,
    /// What the card says the counted pieces weigh in all, scaled: bought weight.
    pub about: Option<Amount>,
    pub preparation: String,
    pub part_of_fruit: Option<FruitPart>,
    pub is_optional: bool,
    pub is_garnish: bool,
    /// What it was written as, where another food was chosen.
    pub instead_of: Option<String>,
}

/// Juice and zest share a fruit; everything else of it is bought on top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FruitPart {
    Zest,
    Juice,
}

/// Everything that goes in, dish by dish, bases as their own. Alternates follow the table's choices,
/// then the menu's.
pub fn needs(laid: &Laid, sitting: &Sitting, scale: &Scale) -> Vec<Need> {
    let mut found = Vec::new();
    for dish in &laid.dishes {
        let Some(scaled) = scale.of(dish.id) else { continue };
        of_dish(dish, scaled, [&sitting.choices, &laid.choices], laid, &mut found);
    }
    found
}

fn of_dish(
    dish: &LaidDish,
    scaled: &Scaled,
    choices: [&Choices; 2],
    laid: &Laid,
    found: &mut Vec<Need>,
) {
    for (part_at, part) in dish.card.parts.iter().enumerate() {
        for (step_at, step) in part.steps.iter().enumerate() {
            let at = StepKey { dish: dish.id, part: part_at, step: step_at };
            for entry in step.goes_in.iter().filter(|entry| entry.source.is_none()) {
                if entry.what.is_heading {
                    continue;
                }
                found.extend(of_line(&entry.what, at, dish, scaled, choices, laid));
            }
        }
    }
}

fn of_line(
    line: &IngredientLine,
    at: StepKey,
    dish: &LaidDish,
    scaled: &Scaled,
    choices: [&Choices; 2],
    laid: &Laid,
) -> Vec<Need> {
    let chosen = chosen(line, choices);
    let (food, found, own) = match chosen {
        Some(other) => (&other.food, &other.found, other.amount.as_ref()),
        None => (&line.food, &line.found, None),
    };
    let scaled_amount = |amount: &Amount| amount.scaled_by(&scaled.factor);
    let amount = own.or(line.amount.as_ref()).map(scaled_amount);
    let mut need = Need {
        at,
        letter: dish.letter,
        food: food.clone(),
        found: found_now(food, found, &laid.larder),
        amount,
        about: chosen.is_none().then(|| line.about.as_ref().map(scaled_amount)).flatten(),
        preparation: line.preparation.clone(),
        part_of_fruit: part_of_fruit(line),
        is_optional: line.is_optional,
        is_garnish: line.is_garnish,
        instead_of: chosen.map(|_| line.food.clone()),
    };
    let more: Vec<Need> = line
        .plus
        .iter()
        .map(|plus| Need { amount: Some(scaled_amount(plus)), about: None, ..need.clone() })
        .collect();
    if let Some(packed) = packed(line, &need) {
        need.amount = Some(packed);
    }
    std::iter::once(need).chain(more).collect()
}

/// `2 x 400 g tins`: bought as weight where the larder does not sell the food by the tin.
fn packed(line: &IngredientLine, need: &Need) -> Option<Amount> {
    let [pack] = line.packs.as_slice() else { return None };
    let count = need.amount.as_ref()?;
    pack.unit().in_base(crate::domain::quantity::Spoons::Round)?;
    Some(Amount::between(count.low() * pack.low(), count.high() * pack.high(), pack.unit()))
}

/// `2 lemons, zest only`; `zest and juice of 1 lime` needs the fruit once.
fn part_of_fruit(line: &IngredientLine) -> Option<FruitPart> {
    if !matches!(line.unit, Some(Unit::Each)) {
        return None;
    }
    let words = line.preparation.to_lowercase();
    let starts = |word: &str| words.starts_with(word);
    if starts("zest") {
        Some(FruitPart::Zest)
    } else if starts("juice") {
        Some(FruitPart::Juice)
    } else {
        None
    }
}

/// The figure to buy by, in grams, millilitres or pieces.
pub(super) fn most(amount: &Amount) -> (BigRational, Unit) {
    (amount.high().clone(), amount.unit())
}
