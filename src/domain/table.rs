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

/// One list for several tables that are shopped for together: what each needs, added up before
/// packs are counted. A food is bought for the table that uses it first.
pub fn shopping_list_of_all(laid: &Laid, sittings: &[Sitting]) -> ShoppingList {
    let serving = sittings.iter().map(|sitting| sitting.serve.local.date()).min();
    let Some((serving, shopping)) = serving.zip(sittings.iter().map(shopping_day).min()) else {
        return ShoppingList::default();
    };
    let mut all = Vec::new();
    let mut problems: Vec<String> = Vec::new();
    let mut of_step: BTreeMap<StepKey, Date> = BTreeMap::new();
    for sitting in sittings {
        let scale = scale(laid, sitting);
        all.extend(needs(laid, sitting, &scale));
        for problem in scale.problems {
            if !problems.contains(&problem) {
                problems.push(problem);
            }
        }
        for (step, date) in step_days(laid, &ahead(laid, sitting, Prefer::Late)) {
            let first = of_step.entry(step).or_insert(date);
            *first = (*first).min(date);
        }
    }
    let days = Days { of_step: &of_step, serving, shopping };
    let mut list = combine_with(&all, &laid.larder, &days, &BTreeMap::new());
    list.problems.extend(problems);
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
