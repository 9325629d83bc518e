//! One list over all dishes: same food and state summed exactly, unlike things kept apart.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::ToSpan;
use jiff::civil::Date;

use super::list::{Aisle, BuyingDay, Row, RowKey, ShoppingList};
use super::needs::{Need, StepKey};
use super::sum::Sum;
use crate::domain::larder::{Allergens, Food, FoodKey, Larder, Raw};
use crate::domain::quantity::Amount;

/// Aisles as a shop is walked: what stands warm first, what is cold last. What is not here comes
/// behind, by name.
const SHOP_ORDER: [&str; 19] = [
    "special shelf",
    "vegetables and fruit",
    "vegetables",
    "greens",
    "fruit",
    "bakery",
    "biscuits",
    "baking",
    "dry goods",
    "tins and jars",
    "oils and vinegars",
    "spices",
    "drinks",
    "meat and fish",
    "meat",
    "dairy and eggs",
    "dairy",
    "chilled",
    "frozen",
];

/// When things are needed and bought.
#[derive(Clone, Debug)]
pub struct Days<'a> {
    /// Civil day of each step that a plan has placed.
    pub of_step: &'a BTreeMap<StepKey, Date>,
    /// Where no plan says otherwise.
    pub serving: Date,
    pub shopping: Date,
}

impl Days<'_> {
    fn of(&self, step: StepKey) -> Date {
        self.of_step.get(&step).copied().unwrap_or(self.serving)
    }
}

/// The days one food is used.
#[derive(Clone, Copy, Debug)]
struct Used {
    first: Date,
    /// Earliest day on which any of it is cooked, and latest: raw meat keeps until it is.
    cooked_last: Date,
}

impl Used {
    fn with(self, other: Self) -> Self {
        Self {
            first: self.first.min(other.first),
            cooked_last: self.cooked_last.max(other.cooked_last),
        }
    }
}

/// Combines needs into a list; the order of the needs does not matter.
pub fn combine(needs: &[Need], larder: &Larder, days: &Days<'_>) -> ShoppingList {
    combine_with(needs, larder, days, &BTreeMap::new())
}

/// The same for a table that has some of it at home.
pub fn combine_with(
    needs: &[Need],
    larder: &Larder,
    days: &Days<'_>,
    at_home: &BTreeMap<FoodKey, Amount>,
) -> ShoppingList {
    let mut sums: BTreeMap<String, (Sum<'_>, Used)> = BTreeMap::new();
    for need in needs {
        let bought = bought(need, larder);
        let key = bought.map_or_else(
            || format!("? {}", need.food.to_lowercase()),
            |it| it.food.key.to_string(),
        );
        let first = days.of(need.at);
        let cooked_last = need.cooked_at.map_or(first, |step| days.of(step)).max(first);
        let used = Used { first, cooked_last };
        let entry = sums.entry(key);
        let (sum, all) = entry.or_insert_with(|| (Sum::of(need, bought), used));
        *all = all.with(used);
        sum.add(need, bought);
    }
    let mut list = ShoppingList::default();
    let mut aisles: BTreeMap<(usize, Arc<str>), Vec<Row>> = BTreeMap::new();
    for (key, (sum, used)) in sums {
        let home = sum.food.and_then(|food| at_home.get(&food.key));
        let row = row(key, &sum, used, days, home);
        match sum.food {
            None => list.unknown.push(row),
            Some(food) if is_free(food) => {}
            Some(_) if sum.is_covered_by(home) => list.at_home.push(row),
            Some(food) if food.is_cupboard => list.check.push(row),
            Some(_) if row.is_garnish || row.is_optional => list.optional.push(row),
            Some(food) => {
                if food.is_rare {
                    list.find_first.push(row.key.clone());
                }
                aisles.entry((place(&food.aisle), food.aisle.clone())).or_default().push(row);
            }
        }
    }
    list.aisles = aisles.into_iter().map(|((_, name), rows)| Aisle { name, rows }).collect();
    list
}

fn place(aisle: &str) -> usize {
    SHOP_ORDER.iter().position(|it| *it == aisle).unwrap_or(SHOP_ORDER.len())
}

/// Comes from the tap.
fn is_free(food: &Food) -> bool {
    &*food.key.0 == "water" || &*food.aisle == "tap"
}

/// Days from which on a food is kept in store rather than bought for a menu.
const STOCK_DAYS: u32 = 60;

/// Where nobody entered how long it keeps, only the cupboard is trusted.
fn is_stock(food: &Food) -> bool {
    food.is_cupboard || food.keeps_days.is_some_and(|days| days >= STOCK_DAYS)
}

/// What is bought for a need.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bought<'a> {
    pub food: &'a Food,
    /// The juice or zest that is wanted of it.
    pub part: Option<&'a Food>,
}

/// Of lemon juice, the lemon.
fn bought<'a>(need: &Need, larder: &'a Larder) -> Option<Bought<'a>> {
    let food = larder.food(need.found.known()?)?;
    let fruit = food.from.as_ref().and_then(|from| larder.food(&from.fruit));
    Some(match fruit {
        Some(fruit) => Bought { food: fruit, part: Some(food) },
        None => Bought { food, part: None },
    })
}

fn row(key: String, sum: &Sum<'_>, used: Used, days: &Days<'_>, home: Option<&Amount>) -> Row {
    let allergens = sum.food.map(|food| &food.allergens);
    let (contains, labels) = match allergens {
        Some(Allergens::Entered { contains, check, .. }) => (contains.clone(), check.clone()),
        _ => (Vec::new(), Vec::new()),
    };
    Row {
        key: RowKey(key),
        name: sum.name(),
        food: sum.food.map(|food| food.key.clone()),
        needed: sum.needed.clone(),
        as_bought: sum.as_bought(),
        buy: sum.purchase(home),
        pieces: sum.pieces_to_count(),
        letters: sum.letters.iter().map(|(letter, garnish)| (*letter, *garnish)).collect(),
        notes: sum.notes.iter().cloned().collect(),
        instead_of: sum.instead_of.iter().cloned().collect(),
        or: sum.or.iter().cloned().collect(),
        else_take: sum.else_take.iter().cloned().collect(),
        labels,
        contains,
        is_allergen_not_known: !matches!(allergens, Some(Allergens::Entered { .. })),
        is_garnish: sum.is_garnish_only,
        is_optional: sum.is_optional_only,
        is_rare: sum.food.is_some_and(|food| food.is_rare),
        is_stock: sum.food.is_some_and(is_stock),
        day: buying_day(sum.food, used, days),
        perhaps: sum.perhaps.clone(),
    }
}

/// `first use - keeps <= buy <= first use`. Raw poultry, mince and fish: at most one day before it
/// is cooked (rule book 2.8c), whatever the larder says of their keeping.
fn buying_day(food: Option<&Food>, used: Used, days: &Days<'_>) -> BuyingDay {
    let is_raw =
        food.is_some_and(|food| matches!(food.raw, Some(Raw::Poultry | Raw::Mince | Raw::Fish)));
    let keeps = food.and_then(|food| food.keeps_days);
    let keeps = if is_raw { Some(keeps.unwrap_or(1).min(1)) } else { keeps };
    let span = |keeps: u32| i64::from(keeps).days();
    let until = if is_raw { used.cooked_last } else { used.first };
    let not_before = keeps.and_then(|keeps| until.checked_sub(span(keeps)).ok());
    let is_second_trip = not_before.is_some_and(|day| days.shopping < day);
    let buy_on = not_before.filter(|_| is_second_trip).unwrap_or(days.shopping);
    BuyingDay {
        first_use: used.first,
        not_before,
        is_second_trip,
        buy_on,
        last_day: keeps.and_then(|keeps| buy_on.checked_add(span(keeps)).ok()),
        is_needed_before: used.first < days.shopping,
        may_be_frozen: is_second_trip && food.is_some_and(|food| food.raw.is_some()),
    }
}

/// The key of the row that a food stands in.
pub fn key_of(food: &FoodKey) -> RowKey {
    RowKey(food.to_string())
}
