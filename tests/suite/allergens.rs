//! The allergen sheet and the rule of the table, on the two demonstration menus and against traps.

use crate::demo;

use std::sync::Arc;

use dovetray::domain::allergen::{
    AllergenSheet, Cell, DishAllergens, DishVerdict, Forbidden, Verdict, rule_check, sheet,
};
use dovetray::domain::card;
use dovetray::domain::larder::{Allergen, Allergens, Certainty};
use dovetray::domain::menu::{Laid, Sitting, TableRule};

fn midsummer() -> Sitting {
    demo::sitting(8, "2027-06-26T13:00", "Europe/Oslo")
}

fn winter() -> Sitting {
    demo::sitting(6, "2027-01-23T19:30", "America/Chicago")
}

fn with_seeds(mut sitting: Sitting) -> Sitting {
    sitting.choices.insert("ground almonds".to_owned(), "ground sunflower seeds".to_owned());
    sitting
}

fn dish<'a>(sheet: &'a AllergenSheet, title: &str) -> &'a DishAllergens {
    sheet.dishes.iter().find(|dish| dish.title.contains(title)).unwrap()
}

/// Dishes that contain it, as written, by letter.
fn contain(sheet: &AllergenSheet, allergen: Allergen) -> String {
    let has = |dish: &&DishAllergens| !dish.is_base && dish.cell(allergen).is_contained();
    sheet.dishes.iter().filter(has).map(|dish| dish.letter.0).collect()
}

/// The menu with the card of one dish replaced.
fn with_card(mut laid: Laid, letter: char, text: &str) -> Laid {
    let card = card::read_with_bases(text, &laid.larder, &["Green sauce".to_owned()]).card;
    let place = laid.dishes.iter().position(|dish| dish.letter.0 == letter).unwrap();
    laid.dishes[place].title.clone_from(&card.title);
    laid.dishes[place].card = Arc::new(card);
    laid
}

#[test]
fn story_07_who_can_eat_what() {
    let laid = demo::laid('a');
    let as_written = sheet(&laid, &midsummer());
    assert_eq!(contain(&as_written, Allergen::Nuts), "C");
    assert_eq!(contain(&as_written, Allergen::Mustard), "ABD");
    assert_eq!(contain(&as_written, Allergen::Celery), "A");
    assert_eq!(contain(&as_written, Allergen::Gluten), "");
    let nuts = dish(&as_written, "bake").cell(Allergen::Nuts);
    assert_eq!(nuts.short(), "choice: ground almonds");
    assert_eq!(
        nuts.words(),
        "contains, as written, with ground almonds; with ground sunflower seeds: no listed allergen \
         in the recipe; read label: nuts, peanut, sesame"
    );

    let seeds = sheet(&laid, &with_seeds(midsummer()));
    assert_eq!(contain(&seeds, Allergen::Nuts), "");
    assert_eq!(
        dish(&seeds, "bake").cell(Allergen::Nuts).words(),
        "no listed allergen in the recipe; read label: nuts, peanut, sesame"
    );
    assert_eq!(
        dish(&seeds, "flat loaf").words(),
        "no listed allergen in the recipe; read label: gluten"
    );
    let mustard = dish(&seeds, "chicken").cell(Allergen::Mustard);
    assert_eq!(mustard.words(), "contains: gluten-free mustard, in Green sauce, optional");
}

#[test]
fn story_07_the_winter_supper_has_labels_to_read_and_no_nut_is_guessed_from_a_name() {
    let laid = demo::laid('b');
    let sheet = sheet(&laid, &winter());
    for allergen in [Allergen::Nuts, Allergen::Peanut, Allergen::Sesame, Allergen::Egg] {
        assert_eq!(contain(&sheet, allergen), "", "{}", allergen.word());
    }
    // Nutmeg is no nut.
    assert_eq!(dish(&sheet, "soup").cell(Allergen::Nuts), &Cell::NothingListed);
    for title in ["root salad", "cream loaf"] {
        let cell = dish(&sheet, title).cell(Allergen::Nuts);
        assert!(matches!(cell, Cell::CheckLabel { .. }), "{title}: {cell:?}");
    }
    assert_eq!(contain(&sheet, Allergen::Milk), "ADF");
    assert_eq!(contain(&sheet, Allergen::Gluten), "CF");
    assert_eq!(contain(&sheet, Allergen::Sulphites), "BEF");
    // Butter may be oil, cider may be juice: both cells say so, and the base carries its own.
    let leeks = dish(&sheet, "leeks").cell(Allergen::Milk);
    assert!(matches!(leeks, Cell::Choice { is_as_written: true, .. }), "{leeks:?}");
    let pork = dish(&sheet, "pork").cell(Allergen::Sulphites);
    assert!(pork.words().contains("Dijon mustard"), "{pork:?}");
}

#[test]
fn a_food_that_is_not_known_leaves_every_cell_open_that_nothing_else_fills() {
    let text = "dish: Mystery toast\nfor: 8\n\n1. Spread. [5 min]\n   + 40 g ground almonds\n   \
                + 20 g grandmother's spice\n";
    let laid = with_card(demo::laid('a'), 'E', text);
    let sheet = sheet(&laid, &midsummer());
    let toast = dish(&sheet, "toast");
    assert!(matches!(toast.cell(Allergen::Nuts), Cell::Contains { .. }));
    for allergen in Allergen::ALL.into_iter().filter(|it| *it != Allergen::Nuts) {
        let foods = vec!["grandmother's spice".to_owned()];
        assert_eq!(toast.cell(allergen), &Cell::NotKnown { foods }, "{}", allergen.word());
    }
    assert_eq!(toast.words(), "contains nuts; not known: grandmother's spice");
}

#[test]
fn a_name_that_is_perhaps_a_food_clears_nothing() {
    let text = "dish: Odd tin\nfor: 8\n\n1. Stir. [5 min]\n   + 40 g wild marsh onions\n";
    let laid = with_card(demo::laid('a'), 'E', text);
    assert!(laid.larder.find("wild marsh onions").known().is_none());
    let sheet = sheet(&laid, &midsummer());
    let all = &dish(&sheet, "Odd").cells;
    assert!(all.iter().all(|(_, cell)| matches!(cell, Cell::NotKnown { .. })), "{all:?}");
}

#[test]
fn a_base_that_is_not_on_the_menu_is_not_known() {
    let mut laid = demo::laid('a');
    laid.dishes.retain(|dish| !dish.is_base);
    let sheet = sheet(&laid, &midsummer());
    let cell = dish(&sheet, "potatoes").cell(Allergen::Milk);
    assert_eq!(cell, &Cell::NotKnown { foods: vec!["Green sauce".to_owned()] });
}

#[test]
fn two_bases_in_a_circle_are_walked_once() {
    let mut laid = demo::laid('a');
    let text = "base: Green sauce\nmakes: 340 g\n\n1. Stir. [5 min]\n   + 10 g ground almonds\n   \
                + 40 g Green sauce\n";
    let card = card::read_with_bases(text, &laid.larder, &["Green sauce".to_owned()]).card;
    laid.dishes.last_mut().unwrap().card = Arc::new(card);
    assert_eq!(contain(&sheet(&laid, &midsummer()), Allergen::Nuts), "ABCD");
}

#[test]
fn no_word_on_the_sheet_clears_a_dish() {
    for (laid, sitting) in [(demo::laid('a'), midsummer()), (demo::laid('b'), winter())] {
        for dish in sheet(&laid, &sitting).dishes {
            assert_eq!(dish.cells.len(), Allergen::ALL.len());
            for words in dish.cells.iter().map(|it| it.1.words()).chain([dish.words()]) {
                let folded =
                    words.to_lowercase().replace("gluten-free", "").replace("egg-free", "");
                assert!(!words.is_empty());
                for claim in ["none", "free", "safe", "without any"] {
                    assert!(!folded.contains(claim), "{words}");
                }
            }
        }
    }
}

/// Law: a dish carries what its lines carry, through bases, whoever cooks it.
#[test]
fn a_dish_with_all_choices_made_contains_the_union_of_its_foods() {
    let laid = demo::laid('a');
    let sitting = with_seeds(midsummer());
    let sheet = sheet(&laid, &sitting);
    for dish in &laid.dishes {
        let mut union: Vec<Allergen> = Vec::new();
        let mut cards = vec![dish.card.clone()];
        while let Some(card) = cards.pop() {
            for line in card.steps().flat_map(|(_, step)| &step.goes_in) {
                if let Some(card::Source::Base(title)) = &line.source {
                    cards.push(laid.base(title).unwrap().card.clone());
                }
                let chosen =
                    line.what.alternatives.iter().find(|it| it.food.contains("sunflower seed"));
                let found = chosen.map_or(&line.what.found, |it| &it.found);
                let food = found.known().and_then(|key| laid.larder.food(key));
                if let Some(Allergens::Entered { contains, .. }) = food.map(|it| &it.allergens) {
                    union.extend(contains);
                }
            }
        }
        let said = sheet.of(dish.id).unwrap();
        for allergen in Allergen::ALL {
            let contained = said.cell(allergen).is_contained();
            assert_eq!(contained, union.contains(&allergen), "{}: {}", dish.title, allergen.word());
        }
    }
}

#[test]
fn story_17_the_rule_names_the_dish_the_food_and_what_fits() {
    let laid = demo::laid('a');
    let mut ines = midsummer();
    ines.rule = TableRule { allergens: vec![Allergen::Nuts], strict: true, ..TableRule::default() };
    let check = rule_check(&laid, &ines);
    let nuts: Vec<_> = check
        .findings
        .iter()
        .filter(|it| it.forbidden == Forbidden::Allergen(Allergen::Nuts))
        .collect();
    let [almonds] = nuts.as_slice() else { panic!("{nuts:#?}") };
    assert_eq!((almonds.letter.0, almonds.verdict), ('C', Verdict::Breaks));
    assert_eq!(almonds.fits_with, ["ground sunflower seeds"]);
    assert_eq!(
        almonds.sentence(),
        "Courgette and tomato bake has nuts: ground almonds. Choose ground sunflower seeds instead."
    );
    let bake = laid.dishes.iter().find(|dish| dish.letter.0 == 'C').unwrap().id;
    assert!(check.dishes.contains(&(bake, DishVerdict::CanBeAdapted)));

    let check = rule_check(&laid, &with_seeds(ines));
    let seeds = check.findings.iter().find(|it| it.food == "ground sunflower seeds").unwrap();
    assert_eq!(seeds.verdict, Verdict::Ask(Certainty::Depends));
}

#[test]
fn the_default_menus_break_no_rule_of_their_own_and_ask_about_labels() {
    for (laid, sitting) in [(demo::laid('a'), midsummer()), (demo::laid('b'), winter())] {
        let check = rule_check(&laid, &sitting);
        assert!(check.findings.iter().all(|it| matches!(it.verdict, Verdict::Ask(_))));
        assert!(!check.findings.is_empty());
    }
}

#[test]
fn a_guest_who_takes_no_milk_cannot_be_served_three_dishes_of_the_winter_supper() {
    let laid = demo::laid('b');
    let mut tavita = winter();
    for (food, other) in
        [("lard", "canola oil"), ("butter", "olive oil"), ("dry cider", "apple juice")]
    {
        tavita.choices.insert(food.to_owned(), other.to_owned());
    }
    tavita.rule = TableRule { allergens: vec![Allergen::Milk], ..TableRule::default() };
    let check = rule_check(&laid, &tavita);
    let broken: String = laid
        .eaten()
        .filter(|dish| check.dishes.contains(&(dish.id, DishVerdict::DoesNotFit)))
        .map(|dish| dish.letter.0)
        .collect();
    assert_eq!(broken, "ADF");
    // Not strict: a label is read, nobody is asked.
    let milk = Forbidden::Allergen(Allergen::Milk);
    assert!(
        !check
            .findings
            .iter()
            .any(|it| it.forbidden == milk && matches!(it.verdict, Verdict::Ask(_)))
    );
}

#[test]
fn other_foods_and_groups_are_found_by_the_larder_and_not_by_letters() {
    let laid = demo::laid('a');
    let letters = |word: &str| -> String {
        let mut sitting = midsummer();
        sitting.rule = TableRule { others: vec![word.to_owned()], ..TableRule::default() };
        let check = rule_check(&laid, &sitting);
        let other = Forbidden::Other(word.to_lowercase());
        let broken = |letter: char| {
            check.findings.iter().any(|it| {
                it.letter.0 == letter && it.forbidden == other && it.verdict == Verdict::Breaks
            })
        };
        laid.eaten().map(|dish| dish.letter.0).filter(|letter| broken(*letter)).collect()
    };
    assert_eq!(letters("Basil"), "C");
    // The juice of a lemon is lemon; it comes to D with the sauce.
    assert_eq!(letters("lemons"), "ABDF");
    assert_eq!(letters("kiwi"), "");
    let text = "dish: Pot\nfor: 4\n\n1. Boil. [5 min]\n   + 200 g red lentils\n";
    let pot = with_card(demo::laid('a'), 'E', text);
    let mut sitting = midsummer();
    sitting.rule = TableRule { others: vec!["Pulses".to_owned()], ..TableRule::default() };
    let check = rule_check(&pot, &sitting);
    assert!(check.unknown_words.is_empty());
    let lentils = check.findings.iter().find(|it| it.forbidden.word() == "pulses").unwrap();
    assert_eq!(lentils.sentence(), "Pot has pulses: red lentils.");
    let mut sitting = midsummer();
    sitting.rule = TableRule { others: vec!["moonberry".to_owned()], ..TableRule::default() };
    assert_eq!(rule_check(&laid, &sitting).unknown_words, ["moonberry"]);
}
