//! Every state of every page about dishes, for the golden files.

use std::sync::Arc;

use askama::Template;
use jiff::Timestamp;
use uuid::Uuid;

use super::desk_page::{ConflictPage, DeskPage};
use super::form::{DeskForm, Fields, Press};
use super::limits;
use super::list::SieveForm;
use super::page::{BeginPage, DishPage, DishesPage, Listed, RevisionPage};
use super::paste_page::{PastePage, ReadBackPage};
use super::reading::ReadingView;
use super::rows;
use super::rows_page::RowsPage;
use super::told_page::{TellPage, ToldForm, ToldPage};
use crate::domain::card::{self, DishKind, Reading};
use crate::domain::dish::{Dish, DishId, DishRevision, DishRevisionId};
use crate::domain::larder::Larder;
use crate::domain::menu::MenuId;
use crate::domain::moment::Zone;
use crate::domain::paste;
use crate::domain::school::{School, SchoolId, SchoolName, SchoolSettings};
use crate::domain::text::{CardText, DishTitle};
use crate::domain::told::tell_with;
use crate::web::form::Field;
use crate::web::frame::Frame;

const BASE: &str = "base: Leeks & mustard\nmakes: 400 g\n\n1. Soften <slowly>. [6 min] [hob 20 min] [stop fridge 2 days]\n   + 3 leeks, sliced\n   + 1 tbsp mustard\n";

const DISH: &str = "dish: Barley bowl\nfor: 6\ncourse: main\n\npart: barley\n1. Boil until tender. [4 min] [hob 30 min] [stop fridge 2 days quality: it dries]\n   + 300 g barley\n   + 1.2 l water\n2. Drain 10 minutes and wash the pan. [3 min] [meanwhile] [singing]\nfinish:\n1. Warm through and fold the leeks in. [5 min] [oven 190C 20 min] [at 40 min: stir, 1 min] [day of]\n   + 400 g Leeks & mustard\n";

fn dish(text: &str, title: &str, kind: DishKind) -> Dish {
    Dish {
        id: DishId(Uuid::nil()),
        title: DishTitle::parse(title).expect("a title"),
        kind,
        card: CardText::parse(text).expect("a card"),
        written_at: Timestamp::from_second(1_795_563_000).expect("an instant"),
        archived_at: None,
        version: 3,
    }
}

fn school() -> School {
    School {
        id: SchoolId(Uuid::nil()),
        name: SchoolName::parse("Tarnwick Cookery Room").expect("a name"),
        zone: Zone::parse("Europe/Oslo").expect("the zone is known"),
        settings: SchoolSettings::default(),
        version: 1,
    }
}

fn read(text: &str) -> Reading {
    card::read_with_bases(text, &Larder::shipped(), &["Leeks & mustard".to_owned()])
}

pub fn samples() -> Vec<(&'static str, String)> {
    [lists(), desks(), in_rows(), pasted(), told(), shown()].concat()
}

fn lists() -> Vec<(&'static str, String)> {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let listed = |text: &str, title: &str, kind, left_out: Option<&str>| Listed {
        dish: dish(text, title, kind),
        reading: Arc::new(read(text)),
        left_out: left_out.map(str::to_owned),
    };
    let both = [
        listed(DISH, "Barley bowl", DishKind::Dish, None),
        listed(BASE, "Leeks & mustard", DishKind::Base, None),
    ];
    let sieved = [
        listed(DISH, "Barley bowl", DishKind::Dish, None),
        listed(BASE, "Leeks & mustard", DishKind::Base, Some("is a base")),
    ];
    let archived = Dish {
        archived_at: Timestamp::from_second(1_795_563_000).ok(),
        ..dish("Old soup", "Old soup", DishKind::Dish)
    };
    let sieve = SieveForm { words: "barley".to_owned(), kind: "dish".to_owned() };
    let list = |sieve, listed: &[Listed], archived: &[Dish]| {
        render(&DishesPage::new(Frame::sample(), &zone, sieve, listed, archived))
    };
    vec![
        ("dishes-none", render(&BeginPage { frame: Frame::sample() })),
        ("dishes", list(SieveForm::default(), &both, &[])),
        ("dishes-sieved", list(sieve, &sieved, std::slice::from_ref(&archived))),
    ]
}

fn desks() -> Vec<(&'static str, String)> {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let form = |text: &str| DeskForm { text: text.to_owned(), ..DeskForm::of(Fields::default()) };
    let page = |dish: Option<&Dish>, text: &str, problems: &[String]| {
        let form = DeskForm { version: dish.map_or(0, |dish| dish.version), ..form(text) };
        DeskPage::new(Frame::sample(), &zone, dish, &form, &read(text), problems)
    };
    let stored = dish(DISH, "Barley bowl", DishKind::Dish);
    let newer = dish(&DISH.replace("300 g", "320 g"), "Barley bowl", DishKind::Dish);
    let problems = ["Enter the name of the dish: it stands on the first line".to_owned()];
    vec![
        ("dish-new", render(&page(None, "", &[]))),
        ("dish-new-problem", render(&page(None, "dish:\n1. Boil it.", &problems))),
        ("dish-edit", render(&page(Some(&stored), DISH, &[]))),
        (
            "dish-edit-part",
            render(
                &ReadingView::of(DISH, &read(DISH))
                    .for_editor(DISH, &read(DISH))
                    .with_lines(&read(DISH), &Larder::shipped()),
            ),
        ),
        ("dish-edit-conflict", render(&ConflictPage::new(Frame::sample(), &zone, &newer, DISH))),
    ]
}

fn in_rows() -> Vec<(&'static str, String)> {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let stored = dish(DISH, "Barley bowl", DishKind::Dish);
    let page = |fields: &[(&str, &str)], open: Option<usize>| {
        let fields = fields.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned()));
        let form = DeskForm {
            text: DISH.to_owned(),
            version: stored.version,
            ..DeskForm::of(Fields(fields.collect()))
        };
        let reading = read(DISH);
        let press = Press::Row("read 6".to_owned());
        let changed = rows::apply(DISH, &reading, &form.fields, &press);
        let desk = DeskPage::new(Frame::sample(), &zone, Some(&stored), &form, &reading, &[]);
        render(&RowsPage::new(desk, &reading, &form, &changed.problems, open))
    };
    let typed = [("6.do", "Boil."), ("6.hands.0.0", "a while"), ("6.hands.0.1", "")];
    vec![("dish-rows", page(&[], Some(0))), ("dish-rows-problem", page(&typed, None))]
}

const PASTED: &str = "Barley pot\nServes 4\n\nIngredients\n250 g barley\n1 onion, chopped\na few leaves of <sage>\n\nMethod\nSoften the onion for 10 minutes.\nAdd the barley and simmer 30 minutes.\n\nNotes\nMy aunt swears by it.\n";

fn pasted() -> Vec<(&'static str, String)> {
    let draft = paste::draft(&paste::parse(PASTED), &Larder::shipped(), &[]);
    let reading = read(&draft.text);
    let back = ReadBackPage::new(Frame::sample(), PASTED.to_owned(), &draft, &reading);
    let problem = Some("Paste a text first: a name, what goes in, what is done".to_owned());
    let page = |pasted| render(&PastePage { frame: Frame::sample(), pasted });
    vec![
        ("dish-paste", page(Field::default())),
        ("dish-paste-problem", page(Field { typed: String::new(), problem })),
        ("dish-paste-back", render(&back)),
    ]
}

fn shown() -> Vec<(&'static str, String)> {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let frame = Frame::sample;
    let stored = dish(DISH, "Barley bowl", DishKind::Dish);
    let revision = |number: u32, text: &str, word: &str| DishRevision {
        id: DishRevisionId(Uuid::nil()),
        dish: stored.id,
        number,
        card: CardText::parse(text).expect("a card"),
        hash: [0; 32],
        check_word: word.to_owned(),
        published_at: stored.written_at,
    };
    let first = revision(1, &DISH.replace("300 g", "280 g"), "wren");
    let second = revision(2, DISH, "plover");
    let bare = dish("Lentil soup\nBoil the lentils.", "Lentil soup", DishKind::Dish);
    let away = Dish { archived_at: Some(stored.written_at), ..stored.clone() };
    let page = |dish: &Dish, revisions: &[DishRevision]| {
        let reading = read(dish.card.as_str());
        let card = Arc::new(reading.card.clone());
        let rules = Arc::default();
        let limits = limits::of(&card, &school(), &Larder::shipped(), &rules, dish.written_at);
        let menus = revisions.iter().map(|_| (MenuId(Uuid::nil()), "Midsummer lunch".to_owned()));
        let page = DishPage::new(frame(), &zone, dish, &reading, revisions).with_limits(limits);
        render(&page.with_menus(menus.take(1).collect()))
    };
    let both = [second.clone(), first.clone()];
    vec![
        ("dish", page(&stored, std::slice::from_ref(&first))),
        ("dish-bare", page(&bare, &[])),
        ("dish-put-away", page(&away, &both)),
        ("dish-revision", render(&RevisionPage::new(frame(), &zone, &stored, &first, None))),
        (
            "dish-revision-changed",
            render(&RevisionPage::new(frame(), &zone, &stored, &second, Some(&first))),
        ),
    ]
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}

const TOLD: &str = "Hello everyone. Supper for six: a leek & barley soup and a date cake.\n\nFor the soup, sweat three leeks, <sliced>, in a couple of tablespoons of oil for ten minutes. Add a cup and a half of barley and two litres of water and simmer for forty minutes. It keeps three days in the fridge.\n\nThe cake. Beat half a dozen eggs with half a pound of sugar, fold in 200 g of flour and bake at 180C for forty-five minutes. Take it out of the tin half an hour before serving.\n";

/// A told menu: empty, refused, read back, with a name that is taken, and with nothing to cook.
fn told() -> Vec<(&'static str, String)> {
    let frame = Frame::sample;
    let form = |pairs: &[(&str, &str)]| {
        let pairs = pairs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned()));
        ToldForm::of(Fields(pairs.collect()))
    };
    let tell = |told: Field| render(&TellPage { frame: frame(), told });
    let back = |pairs: &[(&str, &str)], problems: &[(&str, &str)]| {
        let form = form(pairs);
        let told = tell_with(&form.text, &Larder::shipped(), &form.moved);
        let problems = problems.iter().map(|(name, it)| ((*name).to_owned(), (*it).to_owned()));
        render(&ToldPage::new(frame(), &form, &told, &problems.collect()))
    };
    let refused = Field { typed: " ".to_owned(), problem: Some("Tell a menu first".to_owned()) };
    let moved =
        [("told", TOLD), ("title.1", "Soup"), ("menu", "Tuesday"), ("to.0", "1"), ("all.0", "on")];
    vec![
        ("dishes-told", tell(Field::default())),
        ("dishes-told-refused", tell(refused)),
        ("dishes-told-back", back(&[("told", TOLD)], &[])),
        (
            "dishes-told-problem",
            back(&moved, &[("title.1", "You already have a dish with this name")]),
        ),
        ("dishes-told-nothing", back(&[("told", "Hello. What a day.")], &[])),
    ]
}
