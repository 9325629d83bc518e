//! Every state of the pages about classes, for the golden files.

use askama::Template;
use jiff::Timestamp;
use jiff::civil::date;
use uuid::Uuid;

use super::form::ClassForm;
use super::page::{ChoosePage, ClassPage, ClassesPage, EditClassPage, Shown, told};
use super::shopping::{Asked, ClassShoppingPage, Of};
use crate::domain::class::{Class, ClassId, Lesson, Link, LinkId, purge_day};
use crate::domain::cost::{Prices, cost, read_prices};
use crate::domain::handout::{Measures, shopping_sheet};
use crate::domain::home::{Allergy, Arrangement, Home, HomeId};
use crate::domain::kitchen::{KitchenId, usual_kitchens};
use crate::domain::larder::Larder;
use crate::domain::layout::{DraftDish, Facts, lay_out};
use crate::domain::menu::{Laid, Letter, Menu, MenuDraft, MenuId, PublicationId};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::school::Currency;
use crate::domain::school::{School, SchoolId, SchoolName, SchoolSettings};
use crate::domain::shopping::ShoppingList;
use crate::domain::table::shopping_list;
use crate::domain::text::Name;
use crate::storage::{KeptClass, KeptHome, KeptKitchen, MenuLine};
use crate::web::frame::{Frame, Section};

fn zone() -> Zone {
    Zone::parse("Europe/Oslo").expect("the zone is known")
}

fn instant(text: &str) -> Timestamp {
    text.parse().expect("an instant")
}

fn seats() -> Portions {
    Portions::new(8).expect("a number")
}

fn serve() -> ServiceTime {
    ServiceTime::parse("2027-06-16T20:15", zone()).expect("an hour")
}

fn kept() -> KeptClass {
    let day = date(2027, 6, 16);
    let class = Class {
        id: ClassId(Uuid::nil()),
        menu: MenuId(Uuid::nil()),
        publication: Some(PublicationId(Uuid::nil())),
        serve: serve(),
        lesson: Lesson::new(day.at(18, 0, 0, 0), day.at(21, 0, 0, 0)),
        kitchen: Some(KitchenId(Uuid::nil())),
        seats: seats(),
        fee_minor: Some(6_200),
        purge_on: purge_day(day, day),
    };
    let (menu_name, published) = ("Midsummer lunch".to_owned(), Some((2, "plover".to_owned())));
    KeptClass { class, version: 1, menu_name, published, homes: 2 }
}

/// The same menu without a lesson, not published.
fn quiet() -> KeptClass {
    let kept = kept();
    let class = Class { publication: None, lesson: None, fee_minor: None, ..kept.class };
    KeptClass { class, published: None, homes: 0, ..kept }
}

fn home(id: u128, name: &str, shares_name: bool, seen_number: u32) -> KeptHome {
    let home = Home {
        id: HomeId(Uuid::from_u128(id)),
        class: ClassId(Uuid::nil()),
        name: name.to_owned(),
        guests: Portions::new(4).expect("a number"),
        serve: ServiceTime::parse("2027-06-26T17:00", zone()).expect("an hour"),
        arrangement: Arrangement { kitchen: usual_kitchens().pop(), ..Arrangement::default() },
        shares_name,
        seen_number,
    };
    let allergy = Allergy {
        what: "nuts".to_owned(),
        strict: true,
        consent_at: Timestamp::UNIX_EPOCH,
        words_version: 1,
    };
    KeptHome {
        school: SchoolId(Uuid::nil()),
        home,
        version: 1,
        allergies: vec![allergy],
        menu: MenuId(Uuid::nil()),
        publication: Some((PublicationId(Uuid::nil()), 2)),
    }
}

fn link(id: u128, note: &str, closed: Option<&str>) -> Link {
    Link {
        id: LinkId(Uuid::from_u128(id)),
        token: "token".to_owned(),
        note: note.to_owned(),
        made_at: instant("2027-06-01T10:00:00Z"),
        expires_at: instant("2027-07-16T18:15:00Z"),
        revoked_at: closed.map(instant),
    }
}

fn menu() -> Menu {
    Menu {
        id: MenuId(Uuid::nil()),
        name: Name::parse("Midsummer lunch").expect("a name"),
        draft: MenuDraft::new(seats(), serve()),
        dishes: Vec::new(),
    }
}

fn line() -> MenuLine {
    let Menu { id, name, draft, .. } = menu();
    MenuLine { id, name, draft, dishes: 6, classes: 0, published: None }
}

fn laid() -> Laid {
    let card = "dish: Leek soup\nfor: 4\n1. Sweat the leeks. [10 min]\n   + 1 kg leeks, sliced\n   \
                + 2 tbsp butter or olive oil\n   + 1 pinch of sea moss\n";
    let dish = DraftDish {
        id: crate::domain::dish::DishId(Uuid::nil()),
        title: "Leek soup".to_owned(),
        kind: crate::domain::card::DishKind::Dish,
        card: card.to_owned(),
    };
    let out = lay_out(&Facts {
        school: "Tarnwick Cookery Room",
        zone: &zone(),
        name: "Midsummer lunch",
        draft: &menu().draft,
        dishes: &[dish],
        bases: &[],
        larder: &Larder::shipped(),
        profile: &std::sync::Arc::default(),
    });
    out.laid
}

const PRICES: &str = "leeks; 1 kg; 2.40";

pub fn samples() -> Vec<(&'static str, String)> {
    let frame = || Frame { section: Some(Section::Classes), ..Frame::sample() };
    let school = School {
        id: SchoolId(Uuid::nil()),
        name: SchoolName::parse("Tarnwick Cookery Room").expect("a name"),
        zone: zone(),
        settings: SchoolSettings::default(),
        version: 1,
    };
    let kitchens: Vec<_> = (0..)
        .zip(usual_kitchens())
        .map(|(id, kitchen)| KeptKitchen {
            id: KitchenId(Uuid::from_u128(id)),
            kitchen,
            version: 1,
        })
        .collect();
    let homes = [home(1, "Ines", true, 2), home(2, "Bram", false, 1)];
    let links = [link(1, "Wednesday class", None), link(2, "", Some("2027-06-02T10:00:00Z"))];
    let page = |kept: &KeptClass, links: &[Link], homes: &[KeptHome]| {
        let shown = Shown {
            kept,
            links,
            homes,
            kitchens: &kitchens,
            school: &school,
            letters: vec![(Letter('A'), false), (Letter('S'), true)],
            tools: ["mixer", "whisk"].into(),
            origin: "http://kitchen.example",
            now: instant("2027-06-10T10:00:00Z"),
        };
        render(&ClassPage::new(frame(), &shown))
    };
    let wrong = ClassForm {
        serve: "soon".to_owned(),
        from: "18:00".to_owned(),
        seats: "0".to_owned(),
        fee: "6.205".to_owned(),
        ..ClassForm::default()
    };
    let (_, problems) = wrong.check(&school, &zone(), &kitchens, date(2027, 6, 1));
    let new = |form| EditClassPage::new_of(frame(), &menu(), form).beside(&kitchens, &school);
    let change = EditClassPage::change_of(frame(), &kept(), ClassForm::from(&kept(), &school));
    vec![
        ("classes-none", render(&ClassesPage::new(frame(), &[], date(2027, 6, 10)))),
        ("classes", render(&ClassesPage::new(frame(), &[kept(), quiet()], date(2027, 6, 10)))),
        ("classes-held", render(&ClassesPage::new(frame(), &[kept()], date(2027, 6, 17)))),
        ("class-choose", render(&ChoosePage::new(frame(), &[line()]))),
        ("class-choose-none", render(&ChoosePage::new(frame(), &[]))),
        ("class", page(&kept(), &links, &homes)),
        ("class-quiet", page(&quiet(), &[], &[])),
        ("class-new", render(&new(ClassForm::of_menu(&menu())))),
        ("class-new-problems", render(&new(wrong).with(problems))),
        ("class-conflict", render(&change.with_newer().beside(&kitchens, &school))),
        ("class-shopping", shopping(frame(), Of::Seats, "120")),
        ("class-shopping-problems", shopping(frame(), Of::Seats, "a hundred")),
        ("class-shopping-no-home", shopping(frame(), Of::Homes, "")),
    ]
}

fn shopping(frame: Frame, of: Of, hall: &str) -> String {
    let (laid, kept) = (laid(), kept());
    let homes = match of {
        Of::Seats => vec![home(1, "Ines", true, 2)],
        Of::Homes => Vec::new(),
    };
    let sitting = super::sitting_of(&kept.class, &laid);
    let list = match of {
        Of::Seats => shopping_list(&laid, &sitting),
        Of::Homes => ShoppingList::default(),
    };
    let sheet = shopping_sheet(&laid, &sitting, &list, Measures::default());
    let (currency, on) = (Currency::default(), date(2027, 5, 1));
    let read = read_prices(PRICES, &laid.larder, currency, on).expect("the prices are read");
    let prices = Prices::of(currency.code(), read);
    let page = ClassShoppingPage::new(frame, &kept, sheet, of, (homes.len(), told(&homes)));
    let asked = Asked { hall: hall.to_owned(), ..Asked::default() };
    render(&page.costing(&cost(&list, &prices, sitting.guests), currency, asked))
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}
