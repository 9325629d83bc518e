//! The two demonstration menus, laid out from their cards and their schools' own foods.

pub mod expected;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use dovetray::domain::card::{self, DishKind};
use dovetray::domain::dish::DishId;
use dovetray::domain::larder::{Allergen, Larder};
use dovetray::domain::menu::{Choices, Laid, LaidDish, Letter, Sitting, TableRule};
use dovetray::domain::moment::{ServiceTime, Zone};
use dovetray::domain::quantity::{Portions, Spoons};
use dovetray::exchange::food::read_foods;
use uuid::Uuid;

/// Where the cards and foods of the demonstration stand.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src/cli/demo")
}

pub fn text(card: &str) -> String {
    fs::read_to_string(folder().join("cards").join(format!("{card}.txt"))).unwrap()
}

pub fn larder(which: char) -> Arc<Larder> {
    let own = fs::read_to_string(folder().join(format!("foods-{which}.json"))).unwrap();
    Arc::new(Larder::shipped().with(read_foods(&own).unwrap()))
}

const A: [&str; 7] = [
    "a-chilled-pea-and-lettuce-soup",
    "a-lemon-and-fennel-chicken-thighs",
    "a-courgette-and-tomato-bake",
    "a-roast-new-potatoes-and-carrots",
    "a-chickpea-flat-loaf",
    "a-two-colour-fruit-ice-loaf",
    "a-green-sauce",
];

const B: [&str; 7] = [
    "b-celeriac-and-leek-soup",
    "b-caraway-mustard-pork-loin",
    "b-barley-with-mushrooms",
    "b-potato-and-leek-gratin",
    "b-winter-root-salad",
    "b-frozen-orange-cream-loaf",
    "b-soft-leeks",
];

/// Demonstration A: midsummer lunch, no gluten and no milk. B: winter supper.
pub fn laid(which: char) -> Laid {
    let (cards, bases, name, zone) = match which {
        'a' => (A, "Green sauce", "Midsummer lunch", "Europe/Copenhagen"),
        _ => (B, "Soft leeks", "Winter supper", "America/New_York"),
    };
    let rule = match which {
        'a' => vec![Allergen::Gluten, Allergen::Milk],
        _ => vec![Allergen::Egg, Allergen::Nuts, Allergen::Peanut, Allergen::Sesame],
    };
    of_cards(&cards, &[bases.to_owned()], larder(which), name, zone, rule)
}

fn of_cards(
    cards: &[&str],
    bases: &[String],
    larder: Arc<Larder>,
    name: &str,
    zone: &str,
    allergens: Vec<Allergen>,
) -> Laid {
    let dish = |(place, card): (usize, &&str)| {
        let reading = card::read_with_bases(&text(card), &larder, bases);
        let is_base = reading.card.kind == DishKind::Base;
        LaidDish {
            id: DishId(Uuid::from_u128(place as u128 + 1)),
            letter: if is_base { Letter('S') } else { Letter::at(place).unwrap() },
            is_base,
            title: reading.card.title.clone(),
            revision: None,
            card: Arc::new(reading.card),
        }
    };
    let dishes = cards.iter().enumerate().map(dish).collect();
    Laid {
        school: "Tarnwick Cookery Room".to_owned(),
        zone: Zone::parse(zone).unwrap(),
        name: name.to_owned(),
        publication: None,
        dishes,
        rule: TableRule { words: String::new(), allergens, others: Vec::new(), strict: true },
        choices: Choices::default(),
        sweet_after_minutes: 45,
        larder,
        profile: Arc::default(),
        spoons: Spoons::Round,
    }
}

pub fn sitting(guests: u32, local: &str, zone: &str) -> Sitting {
    Sitting {
        name: String::new(),
        guests: Portions::new(guests).unwrap(),
        serve: ServiceTime { local: local.parse().unwrap(), zone: Zone::parse(zone).unwrap() },
        choices: Choices::default(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    }
}
