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
    shopping_list_for(laid, sitting, &ahead(laid, sitting, Prefer::Late))
}

/// The same where the days of the work are known already.
pub fn shopping_list_for(laid: &Laid, sitting: &Sitting, ahead: &Ahead) -> ShoppingList {
    shopping_list_with(laid, sitting, ahead, &BTreeMap::new())
}

/// The same for a table that has some of it at home.
pub fn shopping_list_with(
    laid: &Laid,
    sitting: &Sitting,
    ahead: &Ahead,
    at_home: &BTreeMap<FoodKey, Amount>,
) -> ShoppingList {
    let scale = scale(laid, sitting);
    let all = needs(laid, sitting, &scale);
    let serving = sitting.serve.local.date();
    let of_step = days_of_steps(laid, ahead);
    let shopping = sitting.shop_on.unwrap_or_else(|| shopping_day(serving, &of_step));
    let days = Days { of_step: &of_step, serving, shopping };
    let mut list = combine_with(&all, &laid.larder, &days, at_home);
    list.problems.extend(scale.problems);
    list
}

/// Where nobody chose: the first day of work, at the latest the day before the table.
fn shopping_day(serving: Date, of_step: &BTreeMap<StepKey, Date>) -> Date {
    let eve = serving.yesterday().unwrap_or(serving);
    of_step.values().copied().min().map_or(eve, |first| first.min(eve))
}

/// On which day each step stands in the plan by days.
fn days_of_steps(laid: &Laid, ahead: &Ahead) -> BTreeMap<StepKey, Date> {
    let mut found = BTreeMap::new();
    for day in &ahead.days {
        for job in &day.jobs {
            let dishes = laid.dishes.iter().filter(|dish| dish.letter == job.letter);
            let Some(dish) = dishes.into_iter().find(|dish| dish.title == job.dish) else {
                continue;
            };
            for (part, it) in dish.card.parts.iter().enumerate() {
                for (step, it) in it.steps.iter().enumerate() {
                    if job
                        .steps
                        .iter()
                        .any(|(number, words)| *number == it.number && *words == it.text)
                    {
                        let key = StepKey { dish: dish.id, part, step };
                        let date = found.entry(key).or_insert(day.date);
                        *date = (*date).min(day.date);
                    }
                }
            }
        }
    }
    found
}
