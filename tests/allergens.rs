//! The allergen sheet of the two demonstration menus, and the rule of the table.

#![allow(clippy::unwrap_used)]

mod demo;

use dovetray::domain::allergen::{Cell, rule_check, sheet};
use dovetray::domain::larder::Allergen;
use dovetray::domain::menu::Laid;

fn words(laid: &Laid, choice: Option<(&str, &str)>) -> Vec<String> {
    let mut sitting = demo::sitting(8, "2027-06-26T13:00", "Europe/Oslo");
    sitting.choices.extend(choice.map(|(from, to)| (from.to_owned(), to.to_owned())));
    sheet(laid, &sitting)
        .dishes
        .iter()
        .map(|dish| format!("{} {}", dish.letter, dish.words()))
        .collect()
}

#[test]
fn story_07_who_can_eat_what() {
    let laid = demo::laid('a');
    let default = words(&laid, None);
    let with_nuts: Vec<&String> =
        default.iter().filter(|it| it.contains("contains nuts")).collect();
    assert_eq!(with_nuts.len(), 1, "{default:#?}");
    assert!(with_nuts[0].starts_with('C'));
    let mustard = default.iter().filter(|it| it.split(';').next().unwrap().contains("mustard"));
    // Soup, chicken and potatoes by the sauce, and the sauce itself.
    assert_eq!(mustard.count(), 4, "{default:#?}");
    let seeds = words(&laid, Some(("ground almond", "ground sunflower seed")));
    let bake = seeds.iter().find(|it| it.starts_with('C')).unwrap();
    assert!(bake.starts_with("C no listed allergen in the recipe; read label: "), "{bake}");
    for word in ["nuts", "peanut", "sesame"] {
        assert!(bake.contains(word), "{bake}");
    }
    assert_eq!(seeds[4], "E no listed allergen in the recipe; read label: gluten");
}

#[test]
fn the_winter_supper_lists_no_nut_and_no_egg_in_its_recipes() {
    let laid = demo::laid('b');
    let sitting = demo::sitting(6, "2027-01-23T19:30", "America/New_York");
    for dish in sheet(&laid, &sitting).dishes {
        for allergen in [Allergen::Nuts, Allergen::Peanut, Allergen::Sesame, Allergen::Egg] {
            let cell = dish.cell(allergen);
            assert!(!matches!(cell, Cell::Contains { .. }), "{} {cell:?}", dish.title);
            assert!(!matches!(cell, Cell::NotKnown { .. }), "{} {cell:?}", dish.title);
        }
    }
    let salad = words(&laid, None).into_iter().find(|it| it.starts_with('E')).unwrap();
    assert!(salad.contains("read label: nuts, peanut, sesame"), "{salad}");
}

#[test]
fn story_17_an_alternate_that_breaks_the_rule_is_named_with_the_one_that_does_not() {
    let laid = demo::laid('a');
    let mut sitting = demo::sitting(4, "2027-06-26T17:00", "America/Halifax");
    sitting.rule.allergens = vec![Allergen::Nuts];
    let breaches = rule_check(&laid, &sitting);
    let nuts = breaches.iter().find(|it| it.what == "nuts").unwrap();
    assert_eq!(
        nuts.words(),
        "C Courgette and tomato bake contains nuts: ground almond. With ground sunflower seed it is \
         not in the recipe; read that label too"
    );
    sitting.choices.insert("ground almond".to_owned(), "ground sunflower seed".to_owned());
    let open = rule_check(&laid, &sitting);
    let nuts = open.iter().find(|it| it.what == "nuts").unwrap().words();
    assert_eq!(nuts, "C Courgette and tomato bake: read the label for nuts: ground sunflower seed");
    sitting.rule.others = vec!["peas".to_owned()];
    let peas = rule_check(&laid, &sitting).into_iter().find(|it| it.what == "peas").unwrap();
    assert_eq!(peas.letter.to_string(), "A");
}

#[test]
fn what_nobody_entered_is_not_known_and_never_clear() {
    let mut laid = demo::laid('a');
    laid.larder = dovetray::domain::larder::Larder::shipped();
    let found = words(&laid, None);
    let sauce = found.iter().find(|it| it.starts_with('S')).unwrap();
    assert!(sauce.contains("not known: "), "{sauce}");
}
