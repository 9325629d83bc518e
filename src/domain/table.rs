//! The whole errand of one table: its list, with the buying days that the limits ask for.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::keeps::{Ahead, Prefer, ahead};
use super::larder::FoodKey;
use super::menu::{Laid, Sitting};
use super::quantity::Amount;
use super::shopping::{Days, ShoppingList, StepKey, combine_with, needs, scale};

/// The combined list of a menu for one table, by aisle, each row with its first use.
pub fn shopping_list(laid: &Laid, sitting: &Sitting) -> ShoppingList {
    let ahead = ahead(laid, sitting, Prefer::Late);
    shopping_list_with(laid, sitting, &ahead, &BTreeMap::new())
}

/// The same where the days of the work are known, for a table that has some of it at home.
pub fn shopping_list_with(
    laid: &Laid,
    sitting: &Sitting,
    ahead: &Ahead,
    at_home: &BTreeMap<FoodKey, Amount>,
) -> ShoppingList {
    let scale = scale(laid, sitting);
    let all = needs(laid, sitting, &scale);
    let days = Days {
        of_step: &step_days(laid, ahead),
        serving: sitting.serve.local.date(),
        shopping: shopping_day(sitting),
    };
    let mut list = combine_with(&all, &laid.larder, &days, at_home);
    list.problems.extend(scale.problems);
    list
}

/// The trip to the shop: the day this table named, or the day before it eats.
pub fn shopping_day(sitting: &Sitting) -> Date {
    let serving = sitting.serve.local.date();
    sitting.shop_on.unwrap_or_else(|| serving.yesterday().unwrap_or(serving))
}

/// On which day each step is worked, as the plan by days lays it out; the rest falls on the day of
/// the table.
pub fn step_days(laid: &Laid, ahead: &Ahead) -> BTreeMap<StepKey, Date> {
    let mut days = BTreeMap::new();
    for (day, job) in ahead.days.iter().flat_map(|day| day.jobs.iter().map(move |job| (day, job))) {
        let Some(dish) = laid.dishes.iter().find(|dish| dish.letter == job.letter) else {
            continue;
        };
        for (place, part) in dish.card.parts.iter().enumerate() {
            for (at, step) in part.steps.iter().enumerate() {
                let is_in =
                    |(number, words): &(u32, String)| *number == step.number && *words == step.text;
                if job.steps.iter().any(is_in) {
                    let date = days.entry(StepKey { dish: dish.id, part: place, step: at });
                    let date: &mut Date = date.or_insert(day.date);
                    *date = (*date).min(day.date);
                }
            }
        }
    }
    days
}
