//! One list over all dishes: same food and state summed exactly, unlike things kept apart.

use std::collections::{BTreeMap, BTreeSet};

use jiff::ToSpan;
use jiff::civil::Date;
use num_rational::BigRational;

use super::list::{Aisle, BuyingDay, Purchase, Row, RowKey, ShoppingList};
use super::needs::{FruitPart, Need, StepKey, most};
use super::purchase;
use crate::domain::larder::{Allergens, Food, FoodKey, Found, Larder, Raw};
use crate::domain::menu::Letter;
use crate::domain::quantity::{Amount, Kind, MixedAmount, Spoons, Unit};

/// Aisles as a shop is walked; what is not here comes behind, by name.
const SHOP_ORDER: [&str; 12] = [
    "vegetables and fruit",
    "vegetables",
    "greens",
    "fruit",
    "bakery",
    "meat and fish",
    "meat",
    "dairy and eggs",
    "dairy",
    "chilled",
    "dry goods",
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

/// Everything of one food so far.
#[derive(Default)]
struct Sum<'a> {
    food: Option<&'a Food>,
    name: String,
    perhaps: Vec<String>,
    needed: MixedAmount,
    /// Edible grams, grams as bought, millilitres, and pieces: what arithmetic may add.
    edible_g: BigRational,
    bought_g: BigRational,
    pieces: BigRational,
    zest: BigRational,
    juice: BigRational,
    apart: MixedAmount,
    has_figure: bool,
    letters: BTreeMap<Letter, bool>,
    notes: BTreeSet<String>,
    garnish_only: bool,
    optional_only: bool,
    first_use: Option<Date>,
}

/// Combines needs into a list; the order of the needs does not matter.
pub fn combine(needs: &[Need], larder: &Larder, days: &Days<'_>) -> ShoppingList {
    let mut sums: BTreeMap<String, Sum<'_>> = BTreeMap::new();
    for need in needs {
        add(need, larder, days, &mut sums);
    }
    let mut list = ShoppingList::default();
    let mut aisles: BTreeMap<(usize, std::sync::Arc<str>), Vec<Row>> = BTreeMap::new();
    for (key, sum) in sums {
        let row = row(key, &sum, days);
        match sum.food {
            None => list.unknown.push(row),
            Some(food) if is_free(food) => {}
            Some(food) if food.is_cupboard => list.check.push(row),
            Some(food) => {
                if food.is_rare {
                    list.find_first.push(row.key.clone());
                }
                aisles.entry((place(&food.aisle), food.aisle.clone())).or_default().push(row);
            }
        }
    }
    let aisle = |((_, name), rows): ((usize, std::sync::Arc<str>), Vec<Row>)| Aisle { name, rows };
    list.aisles = aisles.into_iter().map(aisle).collect();
    list
}

fn place(aisle: &str) -> usize {
    SHOP_ORDER.iter().position(|it| *it == aisle).unwrap_or(SHOP_ORDER.len())
}

/// Comes from the tap.
fn is_free(food: &Food) -> bool {
    &*food.key.0 == "water" || &*food.aisle == "tap"
}

/// The food that is bought: of lemon juice, the lemon.
fn bought<'a>(need: &Need, larder: &'a Larder) -> Option<(&'a Food, Option<&'a Food>)> {
    let food = larder.food(need.found.known()?)?;
    match food.from.as_ref().and_then(|from| larder.food(&from.fruit)) {
        Some(fruit) => Some((fruit, Some(food))),
        None => Some((food, None)),
    }
}

fn add<'a>(need: &Need, larder: &'a Larder, days: &Days<'_>, sums: &mut BTreeMap<String, Sum<'a>>) {
    let known = bought(need, larder);
    let key = known.map_or_else(|| format!("? {}", need.food), |(food, _)| food.key.to_string());
    let sum = sums.entry(key).or_insert_with(|| Sum {
        food: known.map(|(food, _)| food),
        name: known.map_or_else(|| need.food.clone(), |(food, _)| food.plural.clone()),
        garnish_only: true,
        optional_only: true,
        ..Sum::default()
    });
    if let Found::Perhaps(keys) = &need.found {
        sum.perhaps = keys.iter().map(ToString::to_string).collect();
    }
    let day = days.of_step.get(&need.at).copied().unwrap_or(days.serving);
    sum.first_use = Some(sum.first_use.map_or(day, |first| first.min(day)));
    *sum.letters.entry(need.letter).or_insert(true) &= need.is_garnish;
    sum.garnish_only &= need.is_garnish;
    sum.optional_only &= need.is_optional;
    if !need.preparation.is_empty() {
        sum.notes.insert(need.preparation.clone());
    }
    let Some(amount) = &need.amount else { return };
    sum.has_figure = true;
    sum.needed.add(Amount::of(amount.high().clone(), amount.unit()));
    match known {
        Some((fruit, Some(juice))) => add_juice(amount, fruit, juice, sum),
        Some((food, None)) => add_food(need, amount, food, sum),
        None => sum.apart.add(Amount::of(amount.high().clone(), amount.unit())),
    }
}

/// Juice or zest by volume: so many fruits of it.
fn add_juice(amount: &Amount, fruit: &Food, juice: &Food, sum: &mut Sum<'_>) {
    let each = juice.from.as_ref().and_then(|from| from.ml_each.as_ref());
    let _ = fruit;
    match (in_kind(amount, Kind::Volume), each) {
        (Some(ml), Some(each)) => sum.juice += ml / &each.value,
        _ => sum.apart.add(Amount::of(amount.high().clone(), amount.unit())),
    }
}

fn add_food(need: &Need, amount: &Amount, food: &Food, sum: &mut Sum<'_>) {
    let (figure, unit) = most(amount);
    match need.part_of_fruit {
        Some(FruitPart::Zest) => {
            sum.zest += figure;
            return;
        }
        Some(FruitPart::Juice) => {
            sum.juice += figure;
            return;
        }
        None => {}
    }
    if let Some(grams) = need.about.as_ref().and_then(|about| in_kind(about, Kind::Mass)) {
        sum.bought_g += grams;
    } else if let Some(grams) = in_kind(amount, Kind::Mass) {
        sum.edible_g += grams;
    } else if let Some(ml) = in_kind(amount, Kind::Volume) {
        match &food.g_per_ml {
            Some(density) => sum.edible_g += ml * &density.value,
            None => sum.apart.add(Amount::of(ml, Unit::Millilitre)),
        }
    } else if is_piece(unit) {
        match &food.g_each {
            Some(each) if !sold_by_piece(food) => sum.edible_g += figure * &each.value,
            _ => sum.pieces += figure,
        }
    } else {
        sum.apart.add(Amount::of(figure, unit));
    }
}

/// Parts that the figure "grams of one" speaks of.
const fn is_piece(unit: Unit) -> bool {
    matches!(unit, Unit::Each | Unit::Clove | Unit::Sprig | Unit::Leaf | Unit::Stalk)
}

fn sold_by_piece(food: &Food) -> bool {
    food.packs.iter().any(|pack| pack.unit() == Unit::Each)
}

/// The upper end in grams or millilitres; none when it measures something else.
fn in_kind(amount: &Amount, kind: Kind) -> Option<BigRational> {
    let unit = amount.unit();
    (unit.kind() == kind)
        .then(|| unit.in_base(Spoons::Round))
        .flatten()
        .map(|base| amount.high() * base)
}

fn row(key: String, sum: &Sum<'_>, days: &Days<'_>) -> Row {
    let fruits = sum.zest.clone().max(sum.juice.clone()) + &sum.pieces;
    let first_use = sum.first_use.unwrap_or(days.serving);
    let edible = sum.food.and_then(|food| food.edible.as_ref());
    let grams = match edible {
        Some(edible) => &sum.edible_g / &edible.value + &sum.bought_g,
        None => &sum.edible_g + &sum.bought_g,
    };
    let buy = match sum.food {
        Some(food) if sum.has_figure => purchase::buy(food, &grams, &fruits, &sum.apart),
        _ if !sum.apart.is_empty() => Purchase::AtLeast(sum.apart.clone()),
        _ => Purchase::Some,
    };
    let (contains, labels) = match sum.food.map(|food| &food.allergens) {
        Some(Allergens::Entered { contains, check, .. }) => (contains.clone(), check.clone()),
        _ => (Vec::new(), Vec::new()),
    };
    Row {
        key: RowKey(key),
        name: sum.name.clone(),
        food: sum.food.map(|food| food.key.clone()),
        needed: sum.needed.clone(),
        buy,
        letters: sum.letters.iter().map(|(letter, garnish)| (*letter, *garnish)).collect(),
        notes: sum.notes.iter().cloned().collect(),
        labels,
        contains,
        is_garnish: sum.garnish_only,
        is_optional: sum.optional_only,
        is_rare: sum.food.is_some_and(|food| food.is_rare),
        day: buying_day(sum.food, first_use, days),
        perhaps: sum.perhaps.clone(),
    }
}

/// `first use - keeps <= buy <= first use`. Raw poultry, mince and fish: at most one day before
/// (rule book 2.8c), whatever the larder says of their keeping.
fn buying_day(food: Option<&Food>, first_use: Date, days: &Days<'_>) -> BuyingDay {
    let keeps = food.and_then(|food| match food.raw {
        Some(Raw::Poultry | Raw::Mince | Raw::Fish) => Some(food.keeps_days.unwrap_or(1).min(1)),
        _ => food.keeps_days,
    });
    let not_before = keeps.and_then(|keeps| first_use.checked_sub(i64::from(keeps).days()).ok());
    let is_second_trip = not_before.is_some_and(|day| days.shopping < day);
    BuyingDay { first_use, not_before, is_second_trip }
}

/// The key of the row that a food stands in.
pub fn key_of(food: &FoodKey) -> RowKey {
    RowKey(food.to_string())
}
