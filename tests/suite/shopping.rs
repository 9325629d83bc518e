//! The combined shopping list: the stories of the two demonstration menus, and its laws.

use crate::demo;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use dovetray::domain::card;
use dovetray::domain::cost::{Price, Prices, cost};
use dovetray::domain::handout::{Measures, RecipeFor, recipe_sheet, shopping_sheet};
use dovetray::domain::larder::FoodKey;
use dovetray::domain::menu::{Laid, Sitting};
use dovetray::domain::quantity::{Amount, MixedAmount, Unit};
use dovetray::domain::shopping::{
    Days, Need, Purchase, Row, ShoppingList, combine, combine_with, needs, scale,
};
use dovetray::exchange::menu_file::{MenuFile, read_menu};
use num_rational::BigRational;
use proptest::prelude::*;

fn list(laid: &Laid, sitting: &Sitting) -> ShoppingList {
    combine_for(&needs(laid, sitting, &scale(laid, sitting)), laid, sitting)
}

fn combine_for(needs: &[Need], laid: &Laid, sitting: &Sitting) -> ShoppingList {
    let serving = sitting.serve.local.date();
    let of_step = BTreeMap::new();
    let shopping = sitting.shop_on.unwrap_or(serving.yesterday().unwrap());
    combine(needs, &laid.larder, &Days { of_step: &of_step, serving, shopping })
}

fn row<'a>(list: &'a ShoppingList, key: &str) -> &'a Row {
    list.rows().find(|row| row.key.0 == key).unwrap_or_else(|| panic!("no {key}"))
}

fn packs(row: &Row) -> u64 {
    match &row.buy {
        Purchase::Packs { packs, .. } => packs.iter().map(|(_, count)| count).sum(),
        other => panic!("{}: {other:?}", row.key.0),
    }
}

fn grams(row: &Row) -> BigRational {
    match &row.buy {
        Purchase::Weigh(amount) => {
            amount.high()
                * amount.unit().in_base(dovetray::domain::quantity::Spoons::Round).unwrap()
        }
        other => panic!("{}: {other:?}", row.key.0),
    }
}

#[test]
fn story_06_one_shopping_list_for_the_class() {
    let laid = demo::laid('a');
    let list = list(&laid, &demo::sitting(8, "2027-06-16T20:15", "Europe/Copenhagen"));
    assert!(list.unknown.is_empty(), "{:?}", list.unknown);
    assert_eq!(
        list.rows().count(),
        31,
        "{:#?}",
        list.rows().map(|it| &it.key.0).collect::<Vec<_>>()
    );
    // Zest of two, 105 ml of juice: three fruits, not five.
    assert_eq!(packs(row(&list, "lemon")), 3);
    assert_eq!(packs(row(&list, "spring onions")), 3);
    let at_home: Vec<&str> = list.check.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(at_home, ["chilli flakes", "dried thyme", "fennel seed", "fine salt"]);
    for row in list.aisles.iter().flat_map(|aisle| &aisle.rows) {
        let whole = matches!(row.buy, Purchase::Packs { .. } | Purchase::Weigh(_));
        assert!(whole, "{}: {:?}", row.name, row.buy);
    }
    // 300 g of onions at 88 %: 341 g, sold by 100 g.
    assert_eq!(grams(row(&list, "onions")), BigRational::from_integer(400.into()));
}

#[test]
fn story_18_a_shared_base_is_made_once() {
    let (a, b) = (demo::laid('a'), demo::laid('b'));
    let at = |guests| demo::sitting(guests, "2027-01-23T19:30", "America/New_York");
    let base = |laid: &Laid, sitting: &Sitting| {
        let base = laid.dishes.iter().find(|dish| dish.is_base).unwrap();
        let makes = base.card.makes.clone().unwrap();
        let scaled = scale(laid, sitting).of(base.id).unwrap().factor.clone();
        makes.scaled_by(&scaled).high().clone()
    };
    assert_eq!(base(&a, &at(8)), BigRational::from_integer(340.into()));
    let mut without_soup = at(8);
    without_soup.without.push(a.dishes[0].id);
    assert_eq!(base(&a, &without_soup), BigRational::from_integer(280.into()));
    assert_eq!(base(&b, &at(6)), BigRational::from_integer(625.into()));
}

#[test]
fn story_15_a_range_scales_at_both_ends_and_buys_the_upper() {
    let laid = demo::laid('a');
    for (guests, low, high) in [(4, 20, 30), (6, 30, 45)] {
        let sitting = demo::sitting(guests, "2027-06-26T13:00", "Europe/Oslo");
        let all = needs(&laid, &sitting, &scale(&laid, &sitting));
        let oil = all.iter().find(|need| {
            need.food == "olive oil" && need.amount.as_ref().is_some_and(|it| it.is_range())
        });
        let amount = oil.unwrap().amount.clone().unwrap();
        let whole = |n: i32| BigRational::from_integer(n.into());
        assert_eq!(
            (amount.low(), amount.high(), amount.unit()),
            (&whole(low), &whole(high), Unit::Millilitre)
        );
    }
}

#[test]
fn story_16_an_alternate_of_taste_changes_what_is_bought() {
    let laid = demo::laid('a');
    let mut sitting = demo::sitting(8, "2027-06-26T13:00", "Europe/Oslo");
    assert!(list(&laid, &sitting).rows().any(|row| row.key.0 == "duck fat"));
    sitting.choices.insert("duck fat".to_owned(), "sunflower oil".to_owned());
    let list = list(&laid, &sitting);
    assert!(!list.rows().any(|row| row.key.0 == "duck fat"));
    assert_eq!(packs(row(&list, "sunflower oil")), 1);
}

#[test]
fn raw_poultry_is_bought_the_day_before_it_is_roasted() {
    let laid = demo::laid('a');
    let mut sitting = demo::sitting(4, "2027-06-26T17:00", "America/Halifax");
    sitting.shop_on = Some("2027-06-24".parse().unwrap());
    let chicken = row(&list(&laid, &sitting), "chicken thighs").day;
    assert!(chicken.is_second_trip);
    assert_eq!(chicken.not_before, Some("2027-06-25".parse().unwrap()));
}

#[test]
fn a_table_with_no_freezer_buys_fruit_for_its_guests_and_not_for_the_tin() {
    let laid = demo::laid('a');
    let mut sitting = demo::sitting(4, "2027-06-26T17:00", "America/Halifax");
    let peaches = |sitting: &Sitting| grams(row(&list(&laid, sitting), "ripe peaches"));
    assert_eq!(peaches(&sitting), BigRational::from_integer(700.into()));
    sitting.freezer_litres = Some(0);
    // The step skins and stones them, so the card weighs them as bought: 350 g, sold by 100 g.
    assert_eq!(peaches(&sitting), BigRational::from_integer(400.into()));
}

#[test]
fn every_food_of_the_winter_supper_is_known() {
    let laid = demo::laid('b');
    let list = list(&laid, &demo::sitting(6, "2027-01-23T19:30", "America/New_York"));
    assert!(list.unknown.is_empty(), "{:#?}", list.unknown);
    assert_eq!(packs(row(&list, "oranges")), 3);
    assert_eq!(packs(row(&list, "sweetened condensed milk")), 1);
    assert_eq!(packs(row(&list, "vegetable stock")), 3);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn the_order_of_what_is_needed_does_not_matter(seed in any::<u64>(), guests in 1..40_u32) {
        let laid = demo::laid('a');
        let sitting = demo::sitting(guests, "2027-06-26T13:00", "Europe/Oslo");
        let mut all = needs(&laid, &sitting, &scale(&laid, &sitting));
        let once = combine_for(&all, &laid, &sitting);
        let mut state = seed | 1;
        for at in (1..all.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            all.swap(at, usize::try_from(state >> 33).unwrap() % (at + 1));
        }
        prop_assert_eq!(combine_for(&all, &laid, &sitting), once);
    }

    #[test]
    fn a_class_needs_what_its_tables_need_together(one in 1..20_u32, other in 1..20_u32) {
        let laid = demo::laid('b');
        let at = |guests| demo::sitting(guests, "2027-01-23T19:30", "America/New_York");
        let all = |guests| needs(&laid, &at(guests), &scale(&laid, &at(guests)));
        // Loaves come whole, so only what is cut to the table adds up.
        let cut = |need: &Need| need.letter.0 != 'F';
        let tables: Vec<Need> = all(one).into_iter().chain(all(other)).filter(cut).collect();
        let class: Vec<Need> = all(one + other).into_iter().filter(cut).collect();
        let needed = |list: ShoppingList| -> Vec<_> {
            list.rows().map(|row| (row.key.clone(), row.needed.clone())).collect()
        };
        prop_assert_eq!(
            needed(combine_for(&tables, &laid, &at(one))),
            needed(combine_for(&class, &laid, &at(one)))
        );
    }
}

/// `2 x 40 g`, `400 g`: a purchase as the tables of `demo/expected.rs` write it.
fn words(row: &Row) -> String {
    let figure = |amount: &Amount| format!("{} {}", amount.high(), amount.unit().word());
    match &row.buy {
        Purchase::Packs { packs, .. } => {
            let pack = |(size, count): &(Amount, u64)| format!("{count} x {}", figure(size));
            packs.iter().map(pack).collect::<Vec<_>>().join(" + ")
        }
        Purchase::Weigh(amount) => figure(amount),
        Purchase::AtLeast(all) => all.parts().map(figure).collect::<Vec<_>>().join(" + "),
        Purchase::Some => "some".to_owned(),
    }
}

fn differences(list: &ShoppingList, expected: &[(&str, &str)]) -> Vec<String> {
    let found: BTreeMap<&str, String> =
        list.rows().map(|row| (row.key.0.as_str(), words(row))).collect();
    let expected: BTreeMap<&str, &str> = expected.iter().copied().collect();
    let keys: BTreeSet<&str> = found.keys().chain(expected.keys()).copied().collect();
    let say = |key: &str| {
        let (here, there) = (found.get(key).map(String::as_str), expected.get(key).copied());
        (here != there).then(|| format!("{key}: {here:?} for {there:?}"))
    };
    keys.into_iter().filter_map(say).collect()
}

#[test]
fn the_homes_of_both_menus_buy_what_a_simple_sum_buys() {
    let (a, b) = (demo::laid('a'), demo::laid('b'));
    let with = |mut sitting: Sitting, choices: &[(&str, &str)]| {
        for (food, other) in choices {
            sitting.choices.insert((*food).to_owned(), (*other).to_owned());
        }
        sitting
    };
    let none: [&str; 0] = [];
    let at = demo::sitting(8, "2027-06-26T13:00", "Europe/Oslo");
    let sunniva = with(at, &[("duck fat", "sunflower oil")]);
    assert_eq!(differences(&list(&a, &sunniva), &demo::expected::SUNNIVA), none);
    let bram = demo::sitting(6, "2027-06-26T13:00", "Europe/Brussels");
    assert_eq!(differences(&list(&a, &bram), &demo::expected::BRAM), none);
    let at = demo::sitting(4, "2027-06-26T17:00", "America/Halifax");
    let mut ines = with(at, &[("ground almonds", "ground sunflower seeds")]);
    ines.freezer_litres = Some(0);
    assert_eq!(differences(&list(&a, &ines), &demo::expected::INES), none);
    // 2 2/3 lb of potatoes for 8 are 2 lb for 6 exactly; a simple sum in decimals weighs out a step more.
    let exact = |guests: u32| {
        let [here, there] = if guests == 6 { ["2 lb", "21/10 lb"] } else { ["4 lb", "41/10 lb"] };
        [format!("waxy potatoes: Some({here:?}) for Some({there:?})")]
    };
    let marisol = demo::sitting(6, "2027-01-23T19:30", "America/Chicago");
    assert_eq!(differences(&list(&b, &marisol), &demo::expected::MARISOL), exact(6));
    let odile = demo::sitting(12, "2027-01-23T19:30", "America/Chicago");
    assert_eq!(differences(&list(&b, &odile), &demo::expected::ODILE), exact(12));
    let tavita = with(
        demo::sitting(6, "2027-01-24T17:00", "Pacific/Auckland"),
        &[("lard", "canola oil"), ("butter", "olive oil"), ("dry cider", "apple juice")],
    );
    assert_eq!(differences(&list(&b, &tavita), &demo::expected::TAVITA), exact(6));
}

#[test]
fn story_08_nine_guests_eat_fourteen_thighs_from_two_trays() {
    let laid = demo::laid('a');
    let bram = demo::sitting(9, "2027-06-26T13:00", "Europe/Brussels");
    let thighs = list(&laid, &bram);
    let thighs = row(&thighs, "chicken thighs");
    assert_eq!((thighs.pieces, packs(thighs)), (Some(14), 3));
    let over = |dish: &&dovetray::domain::menu::LaidDish| {
        let scale = scale(&laid, &bram);
        let vessels = &scale.of(dish.id).unwrap().vessels;
        vessels.iter().map(|(_, count)| count).sum::<u64>() > 1
    };
    let letters: String = laid.eaten().filter(over).map(|dish| dish.letter.0).collect();
    assert_eq!(letters, "BCDEF");
}

#[test]
fn story_36_the_second_vessel_is_the_smaller_one_where_that_serves() {
    let laid = demo::laid('b');
    let scale = scale(&laid, &demo::sitting(12, "2027-01-23T19:30", "America/Chicago"));
    let gratin = laid.dishes.iter().find(|dish| dish.title.contains("gratin")).unwrap();
    let vessels: Vec<(&str, u64)> =
        scale.of(gratin.id).unwrap().vessels.iter().map(|(it, n)| (it.what.as_str(), *n)).collect();
    assert_eq!(vessels, [("baking dish 11x8 in", 1), ("baking dish 8x8 in", 1)]);
}

/// The menu with the card of dish A replaced, and `bases` behind it.
fn with_card(text: &str, bases: &[&str]) -> Laid {
    let mut laid = demo::laid('a');
    laid.dishes.truncate(1);
    let read = |text: &str, names: &[String]| card::read_with_bases(text, &laid.larder, names).card;
    let names: Vec<String> = bases.iter().map(|text| read(text, &[]).title).collect();
    let cards: Vec<_> = bases.iter().map(|text| read(text, &names)).collect();
    let own = read(text, &names);
    for (place, card) in cards.into_iter().enumerate() {
        let mut base = laid.dishes[0].clone();
        base.id = dovetray::domain::dish::DishId(uuid::Uuid::from_u128(100 + place as u128));
        base.letter =
            dovetray::domain::menu::Letter(char::from(b'S' + u8::try_from(place).unwrap()));
        base.is_base = true;
        base.title.clone_from(&card.title);
        base.card = Arc::new(card);
        laid.dishes.push(base);
    }
    laid.dishes[0].title.clone_from(&own.title);
    laid.dishes[0].card = Arc::new(own);
    laid
}

fn for_eight() -> Sitting {
    demo::sitting(8, "2027-06-26T13:00", "Europe/Oslo")
}

#[test]
fn a_base_within_a_base_is_made_for_all_that_use_it() {
    let oil = "base: Herb oil\nmakes: 100 ml\n\n1. Mix. [2 min]\n   + 100 ml olive oil\n";
    let sauce =
        "base: Sauce\nmakes: 200 g\n\n1. Mix. [2 min]\n   + 50 ml Herb oil\n   + 20 g dill\n";
    let dish = "dish: Plate\nfor: 8\n\n1. Plate. [2 min]\n   + 400 g Sauce\n   + 25 ml Herb oil\n";
    let laid = with_card(dish, &[oil, sauce]);
    let list = list(&laid, &for_eight());
    // Two sauces take 100 ml of herb oil, the plate 25 ml.
    let needed = row(&list, "olive oil").needed.parts().next().unwrap().clone();
    assert_eq!(needed, Amount::exactly(125, 1, Unit::Millilitre).unwrap());
}

#[test]
fn bases_in_a_circle_and_bases_that_are_missing_are_said() {
    let one = "base: One\nmakes: 100 g\n\n1. Mix. [2 min]\n   + 50 g Two\n";
    let two = "base: Two\nmakes: 100 g\n\n1. Mix. [2 min]\n   + 50 g One\n";
    let dish = "dish: Plate\nfor: 8\n\n1. Plate. [2 min]\n   + 40 g One\n";
    let laid = with_card(dish, &[one, two]);
    let problems = scale(&laid, &for_eight()).problems;
    assert_eq!(problems, ["One and Two need each other; none can be made first"]);

    let mut laid = with_card(dish, &[one]);
    laid.dishes.retain(|dish| !dish.is_base);
    let list = list(&laid, &for_eight());
    assert_eq!(list.unknown.iter().map(|row| row.name.as_str()).collect::<Vec<_>>(), ["One"]);
}

#[test]
fn a_base_measured_unlike_its_use_is_counted_whole_and_said() {
    let base = "base: Stock\nmakes: 2 l\n\n1. Boil. [2 min]\n   + 100 g onions\n";
    let dish = "dish: Plate\nfor: 8\n\n1. Plate. [2 min]\n   + 400 g Stock\n";
    let laid = with_card(dish, &[base]);
    let scale = scale(&laid, &for_eight());
    assert!(
        scale.problems[0].starts_with("Plate takes Stock in a measure"),
        "{:?}",
        scale.problems
    );
}

#[test]
fn unlike_things_stand_side_by_side_under_their_food() {
    let dish = "dish: Plate\nfor: 8\n\n1. Plate. [2 min]\n   + 100 g capers in brine\n   \
                + 2 tbsp capers in brine\n   + a pinch of chilli flakes\n   + dill\n";
    let list = list(&with_card(dish, &[]), &for_eight());
    // No density is known for capers: 30 ml stay 30 ml.
    assert_eq!(words(row(&list, "capers in brine")), "100 g + 30 ml");
    assert_eq!(row(&list, "chilli flakes").buy, Purchase::Some);
    assert_eq!(row(&list, "dill").buy, Purchase::Some);
}

#[test]
fn what_is_added_behind_a_plus_is_bought_too() {
    let dish = |line: &str| {
        let text = format!("dish: Plate\nfor: 8\n\n1. Stir. [2 min]\n   + {line}\n");
        with_card(&text, &[])
    };
    // A cup of 240 ml and two tablespoons of 15.
    for line in ["1 cup plus 2 tbsp capers in brine", "1 cup + 2 tbsp capers in brine"] {
        let found = list(&dish(line), &for_eight());
        assert_eq!(words(row(&found, "capers in brine")), "270 ml", "{line}");
    }
    // Unlike things stand side by side, both scaled.
    let mut sixteen = for_eight();
    sixteen.guests = demo::sitting(16, "2027-06-26T13:00", "Europe/Oslo").guests;
    let found = list(&dish("100 g plus 2 tbsp capers in brine"), &sixteen);
    assert_eq!(words(row(&found, "capers in brine")), "200 g + 60 ml");
}

#[test]
fn an_alternate_with_its_own_amount_takes_nothing_of_the_sum_it_replaces() {
    let text = "dish: Plate\nfor: 8\n\n1. Stir. [2 min]\n   \
                + 100 g plus 2 tbsp capers in brine or 50 g rocket\n";
    let laid = with_card(text, &[]);
    let mut sitting = for_eight();
    assert_eq!(words(row(&list(&laid, &sitting), "capers in brine")), "100 g + 30 ml");
    sitting.choices.insert("capers in brine".to_owned(), "rocket".to_owned());
    let found = needs(&laid, &sitting, &scale(&laid, &sitting));
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].name, "rocket");
}

#[test]
fn zest_and_juice_share_their_fruit_and_wedges_come_on_top() {
    let dish = "dish: Plate\nfor: 8\n\n1. Plate. [2 min]\n   + 1 lemon, zest and juice\n   \
                + 60 ml lemon juice\n   + 2 lemons, in wedges\n   + 1 lemon, zest only\n";
    let list = list(&with_card(dish, &[]), &for_eight());
    // Zest of two; juice of one and of 60 ml at 40 ml a fruit: two and a half. Two in wedges.
    assert_eq!(packs(row(&list, "lemon")), 5);
}

#[test]
fn what_is_at_home_is_not_bought_again() {
    let laid = demo::laid('a');
    let sitting = for_eight();
    let needs = needs(&laid, &sitting, &scale(&laid, &sitting));
    let none = BTreeMap::new();
    let days = Days {
        of_step: &none,
        serving: "2027-06-26".parse().unwrap(),
        shopping: "2027-06-25".parse().unwrap(),
    };
    let home: BTreeMap<FoodKey, Amount> = [
        ("lemon", Amount::exactly(1, 1, Unit::Each)),
        ("spring onions", Amount::exactly(120, 1, Unit::Gram)),
        ("olive oil", Amount::exactly(1, 1, Unit::Litre)),
    ]
    .map(|(key, amount)| (FoodKey::new(key), amount.unwrap()))
    .into();
    let list = combine_with(&needs, &laid.larder, &days, &home);
    // Juice of 2 5/8 lemons less one.
    assert_eq!(packs(row(&list, "lemon")), 2);
    assert_eq!(packs(row(&list, "spring onions")), 2);
    assert_eq!(
        list.at_home.iter().map(|row| row.key.0.as_str()).collect::<Vec<_>>(),
        ["olive oil"]
    );
}

#[test]
fn chicken_that_is_rubbed_a_day_ahead_is_still_bought_at_most_a_day_before_it_is_roasted() {
    let laid = demo::laid('a');
    let sitting = demo::sitting(4, "2027-06-26T17:00", "America/Halifax");
    let needs = needs(&laid, &sitting, &scale(&laid, &sitting));
    let rubbed = needs.iter().find(|need| need.food.starts_with("chicken thigh")).unwrap().at;
    let day = |text: &str| text.parse::<jiff::civil::Date>().unwrap();
    let of_step = BTreeMap::from([(rubbed, day("2027-06-25"))]);
    let days = Days { of_step: &of_step, serving: day("2027-06-26"), shopping: day("2027-06-24") };
    let list = combine(&needs, &laid.larder, &days);
    let chicken = row(&list, "chicken thighs").day;
    assert!(chicken.is_second_trip);
    assert_eq!(
        (chicken.first_use, chicken.buy_on, chicken.last_day),
        (day("2027-06-25"), day("2027-06-25"), Some(day("2027-06-26")))
    );
}

#[test]
fn an_alternate_nobody_chose_is_named_and_one_that_was_says_what_it_replaces() {
    let laid = demo::laid('a');
    let mut sitting = for_eight();
    assert_eq!(row(&list(&laid, &sitting), "duck fat").or, ["sunflower oil"]);
    sitting.choices.insert("duck fat".to_owned(), "sunflower oil".to_owned());
    let list = list(&laid, &sitting);
    let oil = row(&list, "sunflower oil");
    assert_eq!(
        (oil.instead_of.as_slice(), oil.or.is_empty()),
        (&["duck fat".to_owned()][..], true)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_dish_serves_the_table_and_every_pack_covers_the_need(guests in 1..=500_u32) {
        for which in ['a', 'b'] {
            let laid = demo::laid(which);
            let sitting = demo::sitting(guests, "2027-06-26T13:00", "Europe/Oslo");
            for scaled in scale(&laid, &sitting).dishes {
                let serves: u64 = scaled.vessels.iter().map(|(it, n)| u64::from(it.serves) * n).sum();
                prop_assert!(scaled.vessels.is_empty() || serves >= u64::from(guests));
                let dish = laid.dishes.iter().find(|dish| dish.id == scaled.dish).unwrap();
                if let Some(written) = dish.card.serves {
                    let made = scaled.factor.as_fraction()
                        * BigRational::from_integer(written.high.count().into());
                    prop_assert!(made >= BigRational::from_integer(guests.into()));
                }
            }
            for row in list(&laid, &sitting).rows() {
                if let Purchase::Packs { left, .. } = &row.buy {
                    prop_assert!(*left >= BigRational::default(), "{}", row.name);
                }
            }
        }
    }

    #[test]
    fn the_list_holds_what_its_dishes_hold(guests in 1..60_u32) {
        let laid = demo::laid('b');
        let sitting = demo::sitting(guests, "2027-01-23T19:30", "America/Chicago");
        let all = needs(&laid, &sitting, &scale(&laid, &sitting));
        let mut apart: BTreeMap<String, MixedAmount> = BTreeMap::new();
        for dish in &laid.dishes {
            let own: Vec<Need> = all.iter().filter(|it| it.at.dish == dish.id).cloned().collect();
            for row in combine_for(&own, &laid, &sitting).rows() {
                let sum = apart.entry(row.key.0.clone()).or_default();
                row.needed.parts().for_each(|part| sum.add(part.clone()));
            }
        }
        let whole: BTreeMap<String, MixedAmount> = combine_for(&all, &laid, &sitting)
            .rows()
            .map(|row| (row.key.0.clone(), row.needed.clone()))
            .collect();
        prop_assert_eq!(apart, whole);
    }
}

/// The menu file of the first demonstration, as `shop` reads it.
fn midsummer_file() -> MenuFile {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/demo/midsummer-lunch.json");
    read_menu(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// The demonstration's own sums, done apart in decimals: till 94.62, used 67.58, 8.45 a head.
#[test]
fn story_32_the_cost_at_the_till_and_of_what_is_eaten() {
    let file = midsummer_file();
    assert!(file.remarks.is_empty(), "{:?}", file.remarks);
    let list = list(&file.laid, &file.sitting);
    let prices = file.prices.unwrap();
    let found = cost(&list, &prices, file.sitting.guests);
    assert_eq!(found.not_priced, []);
    assert_eq!(found.till + found.till_check, 9462);
    assert_eq!((found.used, found.used_per_head), (6758, 845));
    // A newer price holds; a pack without one is said and counted nowhere.
    let price = |minor: u64, on: &str| Price {
        food: FoodKey::new("lemon"),
        pack: Amount::exactly(1, 1, Unit::Each).unwrap(),
        minor,
        on: on.parse().unwrap(),
    };
    let newer = Prices::of("EUR", vec![price(50, "2027-06-01"), price(45, "2027-05-01")]);
    let found = cost(&list, &newer, file.sitting.guests);
    assert_eq!((found.till, found.not_priced.len()), (150, 30));
}

#[test]
fn the_shop_command_prints_what_the_pages_show() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/demo/midsummer-lunch.json");
    let shop = |args: &[&str]| {
        let done = std::process::Command::new(env!("CARGO_BIN_EXE_dovetray"))
            .arg("shop")
            .args(args)
            .output()
            .unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        String::from_utf8(done.stdout).unwrap()
    };
    let printed: serde_json::Value = serde_json::from_str(&shop(&[path])).unwrap();
    let rows = |value: &serde_json::Value| value.as_array().unwrap().len();
    let in_aisles: usize =
        printed["aisles"].as_array().unwrap().iter().map(|aisle| rows(&aisle["rows"])).sum();
    let optional = rows(&printed["optional_or_garnish"]);
    assert_eq!((in_aisles + rows(&printed["check_you_have"]), optional), (30, 1));
    assert_eq!(rows(&printed["not_in_the_larder"]), 0);
    assert_eq!(rows(&printed["problems"]), 0);
    assert_eq!(printed["cost"]["currency"], "EUR");
    let greens = printed["aisles"].as_array().unwrap().iter().find(|it| it["aisle"] == "greens");
    let onions = greens.unwrap()["rows"].as_array().unwrap().last().unwrap();
    assert_eq!(onions["key"], "spring onions");
    assert_eq!(onions["buy"]["packs"]["packs"][0]["count"], 3);
    let verdicts = printed["rule"].as_array().unwrap();
    assert!(verdicts.iter().all(|it| it["verdict"] == "ask"), "{verdicts:#?}");
    let table = shop(&[path, "--csv"]);
    assert_eq!(table.lines().count(), 32);
}

#[test]
fn a_menu_file_that_cannot_be_read_says_where() {
    let read = |text: &str| read_menu(text).unwrap_err().to_string();
    let with = |more: &str| {
        format!(
            r#"{{"serve":"2027-06-26T13:00","zone":"Europe/Oslo","guests":8,"cards":[]{more}}}"#
        )
    };
    assert!(read_menu(&with("")).is_ok());
    assert!(read(&with(r#","at_home":{"moon dust":"1 g"}"#)).contains("moon dust"));
    assert!(read(&with(r#","at_home":{"butter":"some"}"#)).contains("write an amount"));
    assert!(read(&with(r#","gests":8"#)).contains("gests"));
    assert!(read(&with("").replace("2027", "9999")).contains("9998"));
    assert!(read(&with("").replace(":8", ":501")).contains("501"));
}

#[test]
fn a_tin_is_never_added_to_the_fresh_food() {
    let text = "dish: Plate\nfor: 8\n\n1. Plate. [2 min]\n   + 2 x 400 g tins chopped tomatoes\n   \
                + 300 g tomatoes\n   + 3 tbsp olive oil\n";
    let mut laid = with_card(text, &[]);
    laid.larder = dovetray::domain::larder::Larder::shipped();
    let card = card::read_with_bases(text, &laid.larder, &[]).card;
    laid.dishes[0].card = Arc::new(card);
    let list = list(&laid, &for_eight());
    let tins = list.rows().filter(|row| row.key.0.contains("tomato")).count();
    assert_eq!(tins, 2, "{:#?}", list.rows().map(|row| &row.key).collect::<Vec<_>>());
    // No pack of oil is known: the cook's own measure says it best.
    assert_eq!(words(row(&list, "olive oil")), "3 tbsp");
}

/// The second trip of Ines: her chicken is bought on the Friday, or frozen on the Thursday.
#[test]
fn a_shopping_day_that_is_too_early_sends_raw_meat_to_a_second_trip_or_the_freezer() {
    let laid = demo::laid('a');
    let mut ines = demo::sitting(4, "2027-06-26T17:00", "America/Halifax");
    ines.shop_on = Some("2027-06-24".parse().unwrap());
    let list = list(&laid, &ines);
    let thighs = row(&list, "chicken thighs").day;
    assert!(thighs.is_second_trip && thighs.may_be_frozen && !thighs.is_needed_before);
    assert_eq!(
        (thighs.buy_on.to_string(), thighs.last_day.unwrap().to_string()),
        ("2027-06-25".to_owned(), "2027-06-26".to_owned())
    );
    let sheet = shopping_sheet(&laid, &ines, &list, Measures::default());
    let second = sheet.groups.iter().find(|group| group.title == "Second trip").unwrap();
    let thighs = second.lines.iter().find(|line| line.name.contains("thigh")).unwrap();
    let notes = thighs.notes.join("; ");
    for words in ["buy Fri 25 June, not sooner", "last day Sat 26 June", "bought frozen"] {
        assert!(notes.contains(words), "{notes}");
    }
    let rare = &sheet.groups[0];
    assert_eq!(rare.title, "Find first");
    assert!(
        rare.lines.iter().all(|line| line.notes.iter().any(|it| it.starts_with("none there"))
            || line.notes.iter().any(|it| it.starts_with("or "))),
        "{rare:#?}"
    );
}

/// What is wanted as a garnish alone, or is optional, stands apart; packs say what is over.
#[test]
fn garnish_and_optional_things_stand_apart_and_packs_say_what_is_over() {
    let text = "dish: Plate\nfor: 8\n\n1. Plate. [2 min]\n   + 30 g dill, optional\n   + 600 g frozen broccoli\n";
    let mut laid = with_card(text, &[]);
    laid.larder = dovetray::domain::larder::Larder::shipped();
    laid.dishes[0].card = Arc::new(card::read_with_bases(text, &laid.larder, &[]).card);
    let list = list(&laid, &for_eight());
    assert_eq!(list.optional.iter().map(|row| row.key.0.as_str()).collect::<Vec<_>>(), ["dill"]);
    assert!(list.to_buy().any(|row| row.key.0 == "dill"));
    let sheet = shopping_sheet(&laid, &for_eight(), &list, Measures::default());
    let titles: Vec<&str> = sheet.groups.iter().map(|group| group.title.as_str()).collect();
    assert_eq!(titles, ["Frozen", "Garnish and optional"]);
    let frozen = &sheet.groups[0].lines[0];
    assert!(frozen.notes.iter().any(|note| note.ends_with("over")), "{frozen:?}");
}

/// Rule book 7.3: what does not grow in step is said, nothing of it is changed.
#[test]
fn what_does_not_grow_with_the_amounts_is_advised_and_the_amounts_stay_exact() {
    let text = "dish: Puffs\nfor: 4\n\n1. Brown the onions, then reduce. [20 min]\n   \
                + 100 g yellow onions\n   + 4 g table salt\n2. Whisk and bake. [10 min]\n   \
                + 3 eggs\n   + 1 tsp baking powder\n   + 37 g all-purpose flour\n";
    let mut laid = with_card(text, &[]);
    laid.larder = dovetray::domain::larder::Larder::shipped();
    laid.dishes[0].card = Arc::new(card::read_with_bases(text, &laid.larder, &[]).card);
    let sheet = |guests: u32| {
        let sitting = demo::sitting(guests, "2027-06-26T13:00", "Europe/Oslo");
        recipe_sheet(&RecipeFor::table(&laid, &laid.dishes[0], &sitting, Measures::Written))
    };
    assert_eq!((sheet(4).advice.len(), sheet(7).advice.len()), (0, 0));
    let twice = sheet(8).advice.join(" ");
    for words in ["Taste table salt", "Reducing takes longer", "several loads", "by the look"] {
        assert!(twice.contains(words), "{twice}");
    }
    let four = sheet(16).advice.join(" ");
    assert!(four.contains("Begin with three quarters of table salt"), "{four}");
    assert!(four.contains("trial of baking powder"), "{four}");
    let goes_in = |guests: u32| {
        let all = sheet(guests).goes_in;
        let all = all.iter().map(|it| format!("{} {}", it.amount.as_deref().unwrap(), it.name));
        all.map(|it| it.replace('\u{a0}', " ")).collect::<Vec<_>>()
    };
    assert_eq!(goes_in(16)[1], "16 g table salt", "four times, not less");
    // For six: 4 1/2 eggs are five, and 55.5 g are 55; what is off by more than a twentieth is said.
    assert_eq!(goes_in(6)[2], "5 eggs");
    let exactly: Vec<_> = sheet(6).goes_in.into_iter().map(|it| it.exactly).collect();
    assert_eq!(exactly[2].as_deref(), Some("4\u{a0}1/2"));
    assert_eq!(exactly[4], None);
    assert_eq!(goes_in(6)[4], "55 g all-purpose flour");
    assert_eq!(goes_in(4)[4], "37 g all-purpose flour", "as the card has it");
}
