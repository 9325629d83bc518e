//! The two schools of the demonstration. People, dishes, hours and prices are invented.
//!
//! Dates are those the menus were written for; `found` moves them by whole weeks.

use crate::domain::kitchen::{ColdRoom, Machines};
use crate::domain::larder::Allergen;
use crate::domain::school::Measures;

pub struct DemoSchool {
    pub name: &'static str,
    pub zone: &'static str,
    pub measures: Measures,
    pub currency: &'static str,
    pub login: &'static str,
    pub instructor_words: &'static str,
    /// Titles and kinds are read from the cards; bases first.
    pub cards: &'static [&'static str],
    pub foods: &'static str,
    /// A line a price; empty for a school that wrote none down.
    pub prices: &'static str,
    pub menu: DemoMenu,
    pub class: DemoClass,
    pub homes: &'static [DemoHome],
}

pub struct DemoMenu {
    pub name: &'static str,
    pub guests: u32,
    pub serve: &'static str,
    pub rule_words: &'static str,
    pub allergens: &'static [Allergen],
    pub sweet_after_minutes: u32,
}

pub struct DemoClass {
    pub serve: &'static str,
    pub from: &'static str,
    pub to: &'static str,
    pub kitchen: DemoKitchen,
    pub seats: u32,
    pub fee_minor: u32,
}

pub struct DemoKitchen {
    pub name: &'static str,
    /// The shelves of each.
    pub ovens: &'static [u32],
    pub preheat_minutes: u32,
    pub rings: u32,
    pub hands: u32,
    pub fridge: ColdRoom,
    pub freezer: ColdRoom,
    pub machines: Machines,
}

pub struct DemoHome {
    pub name: &'static str,
    pub guests: u32,
    pub serve: &'static str,
    pub zone: &'static str,
    pub shop_on: &'static str,
    /// Days before the table on which it can cook.
    pub cook_days_before: &'static [i64],
    pub kitchen: DemoKitchen,
    pub choices: &'static [(&'static str, &'static str)],
    /// What, and whether traces count.
    pub allergies: &'static [(&'static str, bool)],
}

const TARNWICK_SCHOOL: DemoKitchen = DemoKitchen {
    name: "School kitchen",
    ovens: &[2, 2],
    preheat_minutes: 15,
    rings: 8,
    hands: 9,
    fridge: ColdRoom::Shelf,
    freezer: ColdRoom::Shelf,
    machines: Machines { processors: 2, blenders: 2, mortars: 4, mixers: 2 },
};

/// Its freezer is full.
const SMALL_HOME: DemoKitchen = DemoKitchen {
    name: "Small home",
    ovens: &[1],
    preheat_minutes: 20,
    rings: 2,
    hands: 1,
    fridge: ColdRoom::HalfShelf,
    freezer: ColdRoom::None,
    machines: Machines { processors: 1, blenders: 1, mortars: 1, mixers: 0 },
};

const TWO_OVEN_HOME: DemoKitchen = DemoKitchen {
    name: "Two-oven home",
    ovens: &[2, 2],
    preheat_minutes: 15,
    rings: 5,
    hands: 2,
    fridge: ColdRoom::Shelf,
    freezer: ColdRoom::Shelf,
    machines: Machines { processors: 1, blenders: 1, mortars: 1, mixers: 0 },
};

const USUAL_HOME: DemoKitchen = DemoKitchen {
    name: "Usual home",
    ovens: &[2],
    preheat_minutes: 15,
    rings: 4,
    hands: 1,
    fridge: ColdRoom::Shelf,
    freezer: ColdRoom::HalfShelf,
    machines: Machines { processors: 1, blenders: 1, mortars: 1, mixers: 0 },
};

const QUILLFEN_SCHOOL: DemoKitchen = DemoKitchen {
    name: "School kitchen",
    ovens: &[3, 3],
    preheat_minutes: 15,
    rings: 10,
    hands: 8,
    fridge: ColdRoom::Shelf,
    freezer: ColdRoom::Shelf,
    machines: Machines { processors: 2, blenders: 2, mortars: 3, mixers: 2 },
};

const THREE_SHELF_HOME: DemoKitchen = DemoKitchen {
    name: "Usual home",
    ovens: &[3],
    preheat_minutes: 15,
    rings: 4,
    hands: 1,
    fridge: ColdRoom::Shelf,
    freezer: ColdRoom::HalfShelf,
    machines: Machines { processors: 1, blenders: 1, mortars: 1, mixers: 1 },
};

/// Two litres are left in its freezer: no room for a box.
const FULL_FREEZER_HOME: DemoKitchen =
    DemoKitchen { freezer: ColdRoom::None, machines: THREE_SHELF_HOME.machines, ..TWO_OVEN_HOME };

pub const TARNWICK: DemoSchool = DemoSchool {
    name: "Tarnwick Cookery Room",
    zone: "Europe/Copenhagen",
    measures: Measures::Metric,
    currency: "EUR",
    login: "tarnwick",
    instructor_words: "ladle",
    cards: &[
        include_str!("cards/a-green-sauce.txt"),
        include_str!("cards/a-chilled-pea-and-lettuce-soup.txt"),
        include_str!("cards/a-lemon-and-fennel-chicken-thighs.txt"),
        include_str!("cards/a-courgette-and-tomato-bake.txt"),
        include_str!("cards/a-roast-new-potatoes-and-carrots.txt"),
        include_str!("cards/a-chickpea-flat-loaf.txt"),
        include_str!("cards/a-two-colour-fruit-ice-loaf.txt"),
    ],
    foods: include_str!("foods-a.json"),
    prices: include_str!("prices-a.txt"),
    menu: DemoMenu {
        name: "Midsummer lunch",
        guests: 8,
        serve: "2027-06-26T13:00",
        rule_words: "No gluten, no milk",
        allergens: &[Allergen::Gluten, Allergen::Milk],
        sweet_after_minutes: 45,
    },
    class: DemoClass {
        serve: "2027-06-16T20:15",
        from: "2027-06-16T18:00",
        to: "2027-06-16T21:00",
        kitchen: TARNWICK_SCHOOL,
        seats: 8,
        fee_minor: 6_200,
    },
    homes: &[
        DemoHome {
            name: "Ines and three guests",
            guests: 4,
            serve: "2027-06-26T17:00",
            zone: "America/Halifax",
            shop_on: "2027-06-24",
            cook_days_before: &[2, 1],
            kitchen: SMALL_HOME,
            choices: &[("ground almond", "ground sunflower seed")],
            allergies: &[("nuts", true)],
        },
        DemoHome {
            name: "Bram",
            guests: 6,
            serve: "2027-06-26T13:00",
            zone: "Europe/Brussels",
            shop_on: "2027-06-24",
            cook_days_before: &[6, 2, 1],
            kitchen: TWO_OVEN_HOME,
            choices: &[],
            allergies: &[],
        },
        DemoHome {
            name: "Sunniva",
            guests: 8,
            serve: "2027-06-26T13:00",
            zone: "Europe/Oslo",
            shop_on: "2027-06-25",
            cook_days_before: &[3, 1],
            kitchen: USUAL_HOME,
            choices: &[("duck fat", "sunflower oil")],
            allergies: &[],
        },
    ],
};

pub const QUILLFEN: DemoSchool = DemoSchool {
    name: "Quillfen Evening Kitchen",
    zone: "America/Chicago",
    measures: Measures::Us,
    currency: "USD",
    login: "quillfen",
    instructor_words: "barley",
    cards: &[
        include_str!("cards/b-soft-leeks.txt"),
        include_str!("cards/b-celeriac-and-leek-soup.txt"),
        include_str!("cards/b-caraway-mustard-pork-loin.txt"),
        include_str!("cards/b-barley-with-mushrooms.txt"),
        include_str!("cards/b-potato-and-leek-gratin.txt"),
        include_str!("cards/b-winter-root-salad.txt"),
        include_str!("cards/b-frozen-orange-cream-loaf.txt"),
    ],
    foods: include_str!("foods-b.json"),
    prices: "",
    menu: DemoMenu {
        name: "Winter supper",
        guests: 6,
        serve: "2027-01-23T19:30",
        rule_words: "No egg, nuts, peanut or sesame",
        allergens: &[Allergen::Egg, Allergen::Nuts, Allergen::Peanut, Allergen::Sesame],
        sweet_after_minutes: 45,
    },
    class: DemoClass {
        serve: "2027-01-14T20:00",
        from: "2027-01-14T17:30",
        to: "2027-01-14T20:45",
        kitchen: QUILLFEN_SCHOOL,
        seats: 6,
        fee_minor: 7_800,
    },
    homes: &[
        DemoHome {
            name: "Marisol",
            guests: 6,
            serve: "2027-01-23T19:30",
            zone: "America/Chicago",
            shop_on: "2027-01-20",
            cook_days_before: &[13, 3, 2, 1],
            kitchen: THREE_SHELF_HOME,
            choices: &[],
            allergies: &[],
        },
        DemoHome {
            name: "Tavita",
            guests: 6,
            serve: "2027-01-24T17:00",
            zone: "Pacific/Auckland",
            shop_on: "2027-01-22",
            cook_days_before: &[8, 2, 1],
            kitchen: FULL_FREEZER_HOME,
            choices: &[
                ("lard", "canola oil"),
                ("butter", "olive oil"),
                ("dry cider", "apple juice"),
            ],
            allergies: &[("milk", false)],
        },
        DemoHome {
            name: "Odile",
            guests: 12,
            serve: "2027-01-23T19:30",
            zone: "America/Chicago",
            shop_on: "2027-01-21",
            cook_days_before: &[2, 1],
            kitchen: THREE_SHELF_HOME,
            choices: &[],
            allergies: &[("nuts", true)],
        },
    ],
};
