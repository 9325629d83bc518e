//! Every state of the pages for students, for the golden files.

use std::sync::Arc;

use askama::Template;
use jiff::Timestamp;
use uuid::Uuid;

use super::form::{JoinForm, TableForm};
use super::holder::AtTable;
use super::page::{AheadPage, ChangesPage, ClassPage, LeftPage, ListPage, TablePage};
use super::rows::ClassRows;
use crate::domain::card::DishKind;
use crate::domain::class::ClassId;
use crate::domain::dish::DishId;
use crate::domain::event::{EventKey, EventKind, EventValue, KitchenEvent};
use crate::domain::handout::Measures;
use crate::domain::home::{Allergy, Arrangement, Home, HomeId};
use crate::domain::keeps::{Prefer, ahead};
use crate::domain::larder::Larder;
use crate::domain::layout::{DraftDish, Facts, lay_out};
use crate::domain::limit::Profile;
use crate::domain::menu::{MenuDraft, MenuId, PublicationId, Revision};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::progress::Progress;
use crate::domain::publication::Published;
use crate::domain::quantity::Portions;
use crate::domain::school::SchoolId;
use crate::domain::table::shopping_list;
use crate::storage::KeptHome;
use crate::web::frame::{Frame, HomeAt};

const SOUP: &str = "dish: Leek soup\nfor: 4\nwhy: Warms the evening.\n\
   1. Sweat the leeks. [10 min] [hob 20 min]\n   + 1 kg leeks, sliced\n   + 2 tbsp butter or olive oil\n\
   2. Box it cold. [2 min] [box 2 l] [stop fridge 3 days quality: flavour]\n\
   3. Warm it through. [3 min] [day of]\n   + 1 pinch of sea moss\n";

fn at_table() -> AtTable {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let serve = ServiceTime::parse("2027-06-26T13:00", zone.clone()).expect("an hour");
    let guests = Portions::new(4).expect("a number");
    let draft = MenuDraft::new(guests, serve.clone());
    let dish = DraftDish {
        id: DishId(Uuid::from_u128(1)),
        title: "Leek soup".to_owned(),
        kind: DishKind::Dish,
        card: SOUP.to_owned(),
    };
    let mut out = lay_out(&Facts {
        school: "Tarnwick Cookery Room",
        zone: &zone,
        name: "Midsummer lunch",
        draft: &draft,
        dishes: &[dish],
        bases: &[],
        larder: &Larder::shipped(),
        profile: &Arc::new(Profile::default()),
    });
    out.laid.publication = Some(Revision {
        number: 2,
        check_word: "plover".to_owned(),
        at: Timestamp::from_second(1_813_000_000).expect("an instant"),
    });
    let sitting = kept().home.sitting(&[]);
    let published = Published { laid: out.laid, guests, serve, texts: Vec::new() };
    AtTable { published: Arc::new(published), sitting, number: 2 }
}

fn kept() -> KeptHome {
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let home = Home {
        id: HomeId(Uuid::nil()),
        class: ClassId(Uuid::nil()),
        name: "Ines".to_owned(),
        guests: Portions::new(4).expect("a number"),
        serve: ServiceTime::parse("2027-06-26T13:00", zone).expect("an hour"),
        arrangement: Arrangement::default(),
        shares_name: false,
        seen_number: 1,
    };
    KeptHome {
        school: SchoolId(Uuid::nil()),
        home,
        version: 1,
        allergies: Vec::new(),
        menu: MenuId(Uuid::nil()),
        publication: Some((PublicationId(Uuid::nil()), 2)),
    }
}

fn frame(at: HomeAt) -> Frame {
    let home = Some(("/base/h/key".to_owned(), at));
    Frame { section: None, home, paper: "", ..Frame::sample() }
}

fn milk() -> Allergy {
    let what = "milk".to_owned();
    Allergy { what, strict: true, consent_at: Timestamp::UNIX_EPOCH, words_version: 1 }
}

/// A table that told an allergy which a dish of the menu breaks.
fn warned() -> TablePage {
    let at = AtTable { sitting: kept().home.sitting(&[milk()]), ..at_table() };
    let form = TableForm::from(&kept());
    TablePage::new(frame(HomeAt::Table), &kept(), &at, form, "/base/h/key/sheets")
}

fn ticked(key: &str) -> KitchenEvent {
    KitchenEvent {
        id: Uuid::nil(),
        kind: EventKind::Tick,
        key: EventKey::parse(key).expect("a key"),
        value: EventValue::Nothing,
        client_at: Timestamp::UNIX_EPOCH,
        received_at: Timestamp::UNIX_EPOCH,
    }
}

pub fn samples() -> Vec<(&'static str, String)> {
    let at = at_table();
    let list = shopping_list(at.laid(), &at.sitting);
    let leek = list.rows().next().expect("the soup needs something").key.0.clone();
    let progress = Progress::of(&[ticked(&leek)]);
    let plan = ahead(at.laid(), &at.sitting, Prefer::Late);
    let class = |form: JoinForm| {
        let address = "/base/c/token".to_owned();
        let frame = Frame { section: None, paper: "", ..Frame::sample() };
        ClassPage::new(
            frame,
            at.laid(),
            &at.sitting,
            ClassRows::default().of(None, at.laid(), &at.sitting),
            form,
            address.clone(),
            address + "/sheets/menu",
        )
    };
    let first = JoinForm {
        guests: "8".to_owned(),
        serve: "2027-06-26T13:00".to_owned(),
        ..JoinForm::default()
    };
    let problems = JoinForm::default().check(&at.sitting.serve.zone).1;
    let table =
        |form| TablePage::new(frame(HomeAt::Table), &kept(), &at, form, "/base/h/key/sheets");
    let broken = TableForm {
        guests: "none".to_owned(),
        others: "kiwi".to_owned(),
        at_home: "olive oil; 400 ml\nsea kale; some".to_owned(),
        ..TableForm::from(&kept())
    };
    let table_problems = broken.check(&kept().home, &at.laid().larder).1;
    let address = "/base/h/key/list".to_owned();
    let progress = (&progress, Measures::default());
    let shopping = ListPage::new(frame(HomeAt::List), &at, &list, progress, address, String::new());
    let changes =
        ChangesPage::new(frame(HomeAt::Table), &at, Some(&at_table().published), "/base/h/key");
    let all = vec![
        ("class-page", render(&class(first))),
        ("class-page-problems", render(&class(JoinForm::default()).with_problems(problems))),
        ("home", render(&table(TableForm::from(&kept())))),
        ("home-warned", render(&warned())),
        ("home-problems", render(&table(broken).with_problems(table_problems))),
        ("home-list", render(&shopping)),
        ("home-ahead", render(&AheadPage::new(frame(HomeAt::Ahead), &at, &plan, "/base/h/key"))),
        ("home-changes", render(&changes)),
        (
            "home-deleted",
            render(&LeftPage { frame: Frame { school: None, section: None, ..Frame::sample() } }),
        ),
    ];
    all.into_iter().chain(super::plan_samples::samples(&frame(HomeAt::Plan), &at)).collect()
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}
