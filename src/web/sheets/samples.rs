//! Every sheet in the states that matter, for the golden files.

use std::sync::Arc;

use jiff::Timestamp;
use uuid::Uuid;

use super::asked::Asked;
use super::show::{Door, SheetKind, html};
use crate::domain::card::{self, DishKind};
use crate::domain::dish::DishId;
use crate::domain::handout::{Measures, RecipeFor, recipe_sheet};
use crate::domain::larder::{Allergen, Larder};
use crate::domain::limit::Profile;
use crate::domain::menu::{Laid, LaidDish, Letter, Revision, Sitting, TableRule};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::{Portions, Spoons};
use crate::domain::school::Paper;
use crate::print::{self, Around, Type};

const ROAST: &str = "dish: Pears in cider
for: 6
portion: half a pear
course: sweet
vessel: oval dish 30x20 cm = 6, shelf 1/2
no freezer: keep them in the fridge, at most 2 days
why: The syrup is better on the second day.

part: syrup
1. Boil the cider down by half. [2 min] [hob 12 min watch] [use wide pan]
   + 600 ml dry cider or apple juice
   + 80-100 g brown sugar
2. Cool it open, then box it. [1 min] [chill 21C 2 h] [wait 1 h to 12 h in fridge] [box 0.4 l] [stop fridge 3 days quality: aroma] [stop freezer 30 days quality: aroma, thaw 24 h]
finish:
3. Bake the pears in the syrup, cut side down. [4 min] [day of] [oven 180C 35 min] [or oven 160C 50 min] [at 20 min: turn, 2 min] [rest 10 min to 30 min]
   + syrup
   + 3 pears, halved
4. Scatter the nuts. [1 min] [last] [serve within 40 min]
   + 40 g hazelnuts, chopped (for garnish)
";

const WORDS: &str =
    "dish: Soft leeks & <mustard>\n1. Slice the leeks.\n   + 2 leeks\n2. Stew them soft.\n";

/// A menu of one dish, published or not.
fn laid(text: &str, is_fixed: bool) -> Laid {
    let larder = Larder::shipped();
    let card = Arc::new(card::read(text, &larder).card);
    let revision = is_fixed.then(|| Revision {
        number: 2,
        check_word: "PLOVER".to_owned(),
        at: Timestamp::from_second(1_795_563_000).expect("an instant"),
    });
    Laid {
        school: "Tarnwick Cookery Room".to_owned(),
        zone: Zone::parse("Europe/Oslo").expect("the zone is known"),
        name: "Midsummer lunch".to_owned(),
        publication: revision.clone(),
        dishes: vec![LaidDish {
            id: DishId(Uuid::nil()),
            letter: Letter('B'),
            is_base: false,
            title: card.title.clone(),
            revision,
            card,
        }],
        rule: TableRule::default(),
        choices: std::collections::BTreeMap::default(),
        sweet_after_minutes: 0,
        larder,
        profile: Arc::new(Profile::default()),
        spoons: Spoons::default(),
    }
}

fn sitting(guests: u32) -> Sitting {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    Sitting {
        name: "Ines".to_owned(),
        guests: Portions::new(guests).expect("a count"),
        serve: ServiceTime { local: jiff::civil::date(2027, 6, 26).at(13, 0, 0, 0), zone },
        choices: std::collections::BTreeMap::default(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    }
}

/// The cards of a whole menu, as its author typed them.
const CARDS: [&str; 7] = [
    include_str!("../../cli/demo/cards/a-chilled-pea-and-lettuce-soup.txt"),
    include_str!("../../cli/demo/cards/a-lemon-and-fennel-chicken-thighs.txt"),
    include_str!("../../cli/demo/cards/a-courgette-and-tomato-bake.txt"),
    include_str!("../../cli/demo/cards/a-roast-new-potatoes-and-carrots.txt"),
    include_str!("../../cli/demo/cards/a-chickpea-flat-loaf.txt"),
    include_str!("../../cli/demo/cards/a-two-colour-fruit-ice-loaf.txt"),
    include_str!("../../cli/demo/cards/a-green-sauce.txt"),
];

/// Six dishes and their base, published.
fn lunch() -> Laid {
    let mut laid = laid(WORDS, true);
    let revision = laid.publication.clone();
    let bases = ["Green sauce".to_owned()];
    let letters = ['A', 'B', 'C', 'D', 'E', 'F', 'S'];
    let dish = |(letter, text): (char, &str)| {
        let card = card::read_with_bases(text, &laid.larder, &bases).card;
        LaidDish {
            id: DishId(Uuid::from_u128(letter as u128)),
            letter: Letter(letter),
            is_base: card.kind == DishKind::Base,
            title: card.title.clone(),
            revision: revision.clone(),
            card: Arc::new(card),
        }
    };
    laid.dishes = letters.into_iter().zip(CARDS).map(dish).collect();
    laid.rule = TableRule {
        words: "No gluten, no milk".to_owned(),
        allergens: vec![Allergen::Gluten, Allergen::Milk],
        others: Vec::new(),
        strict: true,
    };
    laid
}

pub fn samples() -> Vec<(&'static str, String)> {
    [recipes(), menus(), limits()].concat()
}

/// The page of all limits of a menu stands here, with the menu that the sheets show.
fn limits() -> Vec<(&'static str, String)> {
    let page = |laid: &Laid, guests| {
        let around = crate::web::limits::of_menu::Around {
            frame: crate::web::frame::Frame::sample(),
            title: laid.name.clone(),
            about: "At the table Saturday 26 June 2027, 13:00.".to_owned(),
            back: ("/base/menus/1".to_owned(), "The menu".to_owned()),
            paper: "/base/menus/1/sheets/rules".to_owned(),
            change: Some("/base/limits".to_owned()),
        };
        crate::web::limits::of_menu::page(around, laid, &sitting(guests)).expect("complete")
    };
    vec![
        ("limits-of-menu", page(&lunch(), 8)),
        ("limits-of-menu-none", page(&laid(WORDS, false), 4)),
    ]
}

fn recipes() -> Vec<(&'static str, String)> {
    let recipe = |text, is_fixed, guests, measures, paper, size| {
        let laid = laid(text, is_fixed);
        let order = RecipeFor::table(&laid, &laid.dishes[0], &sitting(guests), measures);
        print::recipe(&Around::sample(paper, size), &recipe_sheet(&order)).expect("complete")
    };
    let alone = |text| {
        let laid = laid(text, false);
        let order = RecipeFor::alone(&laid, &laid.dishes[0], Measures::Written);
        let around = Around::sample(Paper::A4, Type::Normal);
        print::recipe(&around, &recipe_sheet(&order)).expect("complete")
    };
    let (a4, letter) = (Paper::A4, Paper::Letter);
    vec![
        ("sheet-recipe", recipe(ROAST, true, 6, Measures::Written, a4, Type::Normal)),
        ("sheet-recipe-large-us", recipe(ROAST, true, 9, Measures::American, letter, Type::Large)),
        ("sheet-recipe-draft", recipe(ROAST, false, 4, Measures::Metric, a4, Type::Normal)),
        ("sheet-recipe-lacking", alone(WORDS)),
    ]
}

fn menus() -> Vec<(&'static str, String)> {
    let of = |laid: &Laid, kind: SheetKind, paper: Paper, size: Type| {
        let measures = Measures::Written;
        let asked = Asked { paper, size, measures, own: Measures::Written, guests: None, grid: 21 };
        let address = "https://kitchen.example/h/midsummer".to_owned();
        let door = Some(Door { address, qr: None });
        html(kind, laid, &sitting(8), asked, &Around::sample(paper, size), door).expect("complete")
    };
    let (lunch, draft) = (lunch(), laid(WORDS, false));
    let full = |kind| of(&lunch, kind, Paper::A4, Type::Normal);
    let large = |kind| of(&lunch, kind, Paper::Letter, Type::Large);
    let lacking = |kind| of(&draft, kind, Paper::A4, Type::Normal);
    vec![
        ("sheet-menu", full(SheetKind::Menu)),
        ("sheet-menu-draft", lacking(SheetKind::Menu)),
        ("sheet-shopping", full(SheetKind::Shopping)),
        ("sheet-shopping-large-letter", large(SheetKind::Shopping)),
        ("sheet-ahead", full(SheetKind::Ahead)),
        ("sheet-ahead-large-letter", large(SheetKind::Ahead)),
        ("sheet-ahead-lacking", lacking(SheetKind::Ahead)),
        ("sheet-labels", full(SheetKind::Labels)),
        ("sheet-labels-large-letter", large(SheetKind::Labels)),
        ("sheet-labels-lacking", lacking(SheetKind::Labels)),
        ("sheet-allergens", full(SheetKind::Allergens)),
        ("sheet-cooling-log", full(SheetKind::CoolingLog)),
        ("sheet-cooling-log-large-letter", large(SheetKind::CoolingLog)),
        ("sheet-allergens-lacking", lacking(SheetKind::Allergens)),
        ("sheet-rules", full(SheetKind::Rules)),
        ("sheet-rules-large-letter", large(SheetKind::Rules)),
        ("sheet-recipe-in-menu", full(SheetKind::Recipe(Letter('B')))),
        ("sheet-recipe-base", full(SheetKind::Recipe(Letter('S')))),
    ]
}
