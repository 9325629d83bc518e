//! Every state of the pages about menus, for the golden files.

use std::sync::Arc;

use askama::Template;
use jiff::Timestamp;
use uuid::Uuid;

use super::form::{MenuForm, NewMenuForm};
use super::page::{MenuPage, MenusPage, NewMenuPage};
use super::{publish, sitting_of};
use crate::domain::card::DishKind;
use crate::domain::dish::{Dish, DishId};
use crate::domain::larder::{Allergen, Larder};
use crate::domain::layout::{DraftDish, Facts, lay_out};
use crate::domain::limit::Profile;
use crate::domain::menu::{Menu, MenuDraft, MenuId};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::text::{CardText, DishTitle, Name};
use crate::storage::MenuLine;
use crate::web::frame::Frame;

const SOUP: &str = "dish: Leek soup\nfor: 4\ncourse: first\n1. Sweat the leeks. [10 min] [hob 20 min]\n\
   + 1 kg leeks, sliced\n   + 2 tbsp butter or olive oil\n2. Box it cold. [2 min] [box 2 l] \
   [stop fridge 3 days quality: flavour]\n3. Warm it through. [3 min] [day of]\n   + 60 g Green oil\n";
const OIL: &str =
    "base: Green oil\nmakes: 100 g\n1. Blend. [5 min] [stop fridge 2 days]\n   + 30 g parsley\n";

pub fn samples() -> Vec<(&'static str, String)> {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let serve = ServiceTime::parse("2027-06-26T13:00", zone.clone()).expect("an hour");
    let guests = Portions::new(8).expect("a number");
    let mut draft = MenuDraft::new(guests, serve);
    draft.rule.allergens = vec![Allergen::Milk];
    let soup = DishId(Uuid::from_u128(1));
    let name = Name::parse("Midsummer lunch").expect("a name");
    let menu = Menu { id: MenuId(Uuid::nil()), name: name.clone(), draft, dishes: vec![soup] };
    let one = |id, title: &str, kind, card: &str| DraftDish {
        id,
        title: title.to_owned(),
        kind,
        card: card.to_owned(),
    };
    let dishes = [one(soup, "Leek soup", DishKind::Dish, SOUP)];
    let bases = [one(DishId(Uuid::from_u128(2)), "Green oil", DishKind::Base, OIL)];
    let out = lay_out(&Facts {
        school: "Tarnwick Cookery Room",
        zone: &zone,
        name: name.as_str(),
        draft: &menu.draft,
        dishes: &dishes,
        bases: &bases,
        larder: &Larder::shipped(),
        profile: &Arc::new(Profile::default()),
    });
    let all = [dish(soup, "Leek soup", SOUP), dish(DishId(Uuid::from_u128(3)), "Flat loaf", "x")];
    let line = MenuLine {
        id: menu.id,
        name,
        draft: menu.draft.clone(),
        dishes: 1,
        classes: 0,
        published: Some((2, "plover".to_owned())),
    };
    let form = MenuForm::from(&menu, 1);
    let page = |form, problems| {
        let sitting = sitting_of(&menu);
        let page = MenuPage::new(Frame::sample(), &menu, &out, &sitting, form, &all, &[]);
        render(&page.with_problems(problems))
    };
    let broken = MenuForm { guests: "many".to_owned(), ..form.clone() };
    let problems = broken.check(&menu).1;
    let empty = NewMenuForm::default();
    let empty_problems = empty.check(&zone, &all).1;
    let new = NewMenuPage::new(Frame::sample(), empty, &all).with_problems(empty_problems);
    let first = NewMenuForm::first("2027-06-14".parse().expect("a day"), &all[..1]);
    let mut found = vec![
        ("menus", render(&MenusPage::new(Frame::sample(), &[line], true))),
        ("menus-none", render(&MenusPage::new(Frame::sample(), &[], true))),
        ("menus-no-dish", render(&MenusPage::new(Frame::sample(), &[], false))),
        ("menu-new", render(&NewMenuPage::new(Frame::sample(), first, &all[..1]))),
        ("menu-new-problems", render(&new)),
        ("menu", page(form, Vec::new())),
        ("menu-problem", page(broken, problems)),
    ];
    found.extend(publish::samples());
    found
}

fn dish(id: DishId, title: &str, card: &str) -> Dish {
    Dish {
        id,
        title: DishTitle::parse(title).expect("a title"),
        kind: DishKind::Dish,
        card: CardText::parse(card).expect("a card"),
        written_at: Timestamp::UNIX_EPOCH,
        archived_at: None,
        version: 1,
    }
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}
