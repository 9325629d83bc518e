//! The worked examples of the kitchen's arithmetic, exact to the gram and the cent: trim, a class
//! of fourteen at the shop, and what it costs.

use std::collections::BTreeMap;
use std::sync::Arc;

use dovetray::domain::card;
use dovetray::domain::cost::{Cost, Fee, FixedCosts, Prices, cost, price_at, read_prices};
use dovetray::domain::keeps::{Prefer, ahead};
use dovetray::domain::larder::{Figure, Food, FoodKey, Larder};
use dovetray::domain::menu::Laid;
use dovetray::domain::quantity::{Amount, Portions, Unit};
use dovetray::domain::school::Currency;
use dovetray::domain::shopping::{Purchase, Row, ShoppingList};
use dovetray::domain::table::{shopping_list, shopping_list_with};
use num_rational::BigRational;

use crate::demo;

fn whole(figure: i64) -> BigRational {
    BigRational::from_integer(figure.into())
}

fn hundredths(figure: i64) -> BigRational {
    BigRational::new(figure.into(), 100.into())
}

/// A food of the example, with the trim, the packs and the step of the scale that it gives.
fn food(name: &str, edible: i64, packs: &[Amount], loose: bool) -> Food {
    let larder = Larder::shipped();
    let key = larder.find(name).known().unwrap_or_else(|| panic!("{name}")).clone();
    Food {
        edible: Some(Figure { value: hundredths(edible), source: "worked example".into() }),
        packs: packs.to_vec(),
        loose_step: loose.then(|| grams(1)),
        is_cupboard: false,
        ..larder.food(&key).unwrap().clone()
    }
}

fn grams(figure: u32) -> Amount {
    Amount::exactly(figure, 1, Unit::Gram).unwrap()
}

/// The larder of the examples: prices and packs are theirs, not ours.
fn larder() -> Larder {
    let butter = Amount::exactly(4536, 10, Unit::Gram).unwrap();
    let twelve = Amount::exactly(12, 1, Unit::Each).unwrap();
    Larder::shipped().with([
        food("all-purpose flour", 100, &[grams(2268)], false),
        food("butter", 100, &[butter], false),
        food("butternut squash", 84, &[], true),
        food("brown lentils", 100, &[grams(454)], false),
        food("yellow onion", 90, &[], true),
        food("egg", 88, &[twelve], false),
        food("feta", 100, &[grams(200)], false),
        food("carrot", 89, &[], true),
        food("leek", 44, &[], true),
    ])
}

/// One card for this table.
fn laid(text: &str) -> Laid {
    let mut laid = demo::laid('a');
    laid.larder = Arc::new(larder());
    laid.dishes.truncate(1);
    let reading = card::read_with_bases(text, &laid.larder, &[]);
    assert_eq!(reading.remarks, [], "{text}");
    laid.dishes[0].card = Arc::new(reading.card);
    laid
}

fn list(text: &str, guests: u32) -> ShoppingList {
    shopping_list(&laid(text), &demo::sitting(guests, "2027-06-26T13:00", "Europe/Oslo"))
}

fn row<'a>(list: &'a ShoppingList, key: &str) -> &'a Row {
    list.rows().find(|row| row.key.0 == key).unwrap_or_else(|| panic!("no {key}"))
}

fn weighed(list: &ShoppingList, key: &str) -> BigRational {
    match &row(list, key).buy {
        Purchase::Weigh(amount) => amount.high().clone(),
        other => panic!("{key}: {other:?}"),
    }
}

/// Packs in all, and what stays over.
fn packs(list: &ShoppingList, key: &str) -> (u64, BigRational) {
    match &row(list, key).buy {
        Purchase::Packs { packs, left } => {
            (packs.iter().map(|(_, count)| count).sum(), left.clone())
        }
        other => panic!("{key}: {other:?}"),
    }
}

/// 9.6: edible part to what is bought, and the price of the part that is eaten.
#[test]
fn trim_turns_what_is_eaten_into_what_is_bought() {
    let text = "dish: Trim\nfor: 4\n\n1. Cook. [10 min]\n   + 2000 g carrots\n   \
                + 1800 g butternut squash\n   + 600 g leeks\n";
    let list = list(text, 4);
    for (key, bought) in [("carrot", 2247), ("butternut squash", 2143), ("leek", 1364)] {
        let exact = row(&list, key).as_bought.as_ref().unwrap().high().clone();
        assert_eq!(exact.round(), whole(bought), "{key}: {exact}");
        // The scale goes by whole grams here, upwards.
        assert_eq!(weighed(&list, key), exact.ceil(), "{key}");
    }
    let larder = larder();
    let price = read_prices(
        "leeks; 1 kg; 5.90",
        &larder,
        Currency::default(),
        jiff::civil::date(2027, 6, 1),
    );
    let prices = Prices::of("EUR", price.unwrap());
    let paid = cost(&list, &prices, Portions::new(4).unwrap());
    assert_eq!(paid.used, 805, "leeks cost 8.05");
    // 5.90 ÷ 0.44 = 13.41 for a kilogram that is eaten.
    assert_eq!((whole(590) / hundredths(44)).round(), whole(1341));
}

/// 9.8: five batches of turnovers for fourteen students and the table of the demonstration.
const TURNOVERS: &str = "dish: Squash and lentil turnovers\nfor: 4\n\n1. Fill and bake. [30 min]\n   \
    + 250 g all-purpose flour\n   + 113 g butter\n   + 300 g butternut squash\n   \
    + 96 g brown lentils\n   + 110 g yellow onions\n   + 1 egg\n   + 75 g feta\n";

/// Stations of four, the last one smaller, and one more at the front.
const BATCHES: u32 = 14_u32.div_ceil(4) + 1;

fn turnovers() -> ShoppingList {
    list(TURNOVERS, 4 * BATCHES)
}

#[test]
fn fourteen_students_and_a_table_in_front_buy_for_five_batches() {
    let list = turnovers();
    assert_eq!(BATCHES, 5);
    assert_eq!(packs(&list, "all-purpose flour"), (1, whole(2268 - 1250)));
    assert_eq!(packs(&list, "unsalted butter").0, 2);
    assert_eq!(
        row(&list, "butternut squash").as_bought.as_ref().unwrap().high().round(),
        whole(1786)
    );
    assert_eq!(packs(&list, "brown lentils"), (2, whole(2 * 454 - 480)), "one bag is 26 g short");
    assert_eq!(row(&list, "yellow onion").as_bought.as_ref().unwrap().high().round(), whole(611));
    assert_eq!(row(&list, "egg").pieces, Some(5));
    assert_eq!(packs(&list, "egg"), (1, whole(7)));
    assert_eq!(packs(&list, "feta"), (2, whole(25)));
    // Of the flour, 89.3 g a student.
    assert_eq!((whole(12_500) / whole(14)).round() / whole(10), whole(893) / whole(10));
}

fn costs() -> Cost {
    let lines = "all-purpose flour; 2268 g; 3.60\nbutter; 453.6 g; 4.80\n\
                 butternut squash; 1 kg; 2.60\nbrown lentils; 454 g; 1.85\n\
                 yellow onion; 1 kg; 1.60\neggs; 12; 3.60\nfeta; 200 g; 3.10";
    let day = jiff::civil::date(2027, 6, 1);
    let prices = read_prices(lines, &larder(), Currency::default(), day).unwrap();
    let prices = Prices::of("EUR", prices);
    cost(&turnovers(), &prices, Portions::new(14).unwrap())
}

/// 9.9: used 22.852, 23.99 with 5 % for waste, 1.714 a student; bought whole 32.32, 2.309 a student.
#[test]
fn the_turnovers_cost_what_the_book_says_to_the_cent() {
    let cost = costs();
    assert_eq!(cost.not_priced, []);
    assert_eq!(cost.till + cost.till_check, 3232);
    assert_eq!(cost.used, 2285);
    assert_eq!(cost.till_per_head, 231, "2.309");
    assert_eq!(cost.with_waste(5), (2399, 171), "1.714 a student");
    // 30 pieces: 0.800 each; at 30 % of the price, 2.67.
    assert_eq!(price_at(2399, 30, 30), Some(267));
    assert_eq!(price_at(2399, 0, 30), None);
}

/// Stage 9 of the job: what a class must take to pay for itself.
#[test]
fn a_fee_pays_from_so_many_students_on() {
    let fixed = FixedCosts { hall: 12_000, helpers: 8_000, printing: 600 };
    let costs = costs();
    // Paid for butter, squash, eggs and feta: 9.60 + 4.64 + 3.60 + 6.20. Used of flour, lentils and
    // onions, which go back on the shelf: 1.984 + 1.956 + 0.978.
    assert_eq!(costs.ingredients, 2896);
    let fee = Fee::of(&costs, fixed, Some(3_500));
    assert_eq!(fee.per_head, 1678, "(28.96 + 206) ÷ 14");
    assert_eq!(fee.variable_per_head, 207);
    assert_eq!(fee.break_even, Some(7), "206 ÷ (35 − 2.07) = 6.3");
    assert_eq!(Fee::of(&costs, fixed, Some(200)).break_even, None, "a student costs more");
    assert_eq!(Fee::of(&costs, fixed, None).break_even, None);
}

#[test]
fn what_is_at_home_is_taken_off_before_packs_are_counted() {
    let laid = laid(TURNOVERS);
    let sitting = demo::sitting(4 * BATCHES, "2027-06-26T13:00", "Europe/Oslo");
    let ahead = ahead(&laid, &sitting, Prefer::Late);
    let home = BTreeMap::from([(FoodKey::new("brown lentils"), grams(30))]);
    let list = shopping_list_with(&laid, &sitting, &ahead, &home);
    assert_eq!(packs(&list, "brown lentils"), (1, whole(4)), "480 − 30 = 450 of 454");
}
