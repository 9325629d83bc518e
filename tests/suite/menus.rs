//! From a dish to a private link: menus, what is published of them, and the classes made of them.

use std::sync::Arc;

use crate::house::{Answer, House, dish, id, links, menu, sent};
use axum::http::StatusCode;
use dovetray::domain::card::{self, DishKind};
use dovetray::domain::dish::DishId;
use dovetray::domain::keeps::keeps;
use dovetray::domain::larder::Larder;
use dovetray::domain::layout::{DraftDish, Facts, LaidOut, lay_out};
use dovetray::domain::limit::Profile;
use dovetray::domain::menu::{Laid, MenuDraft, Revision, Sitting, TableRule};
use dovetray::domain::moment::{ServiceTime, Zone};
use dovetray::domain::quantity::Portions;
use dovetray::domain::table::{shopping_list, shopping_list_of_all};
use dovetray::exchange::shopping::to_csv;
use dovetray::exchange::snapshot;
use proptest::prelude::*;

async fn open(house: &House, link: &str) -> Answer {
    house.ask("", link, None).await
}

const SOUP: &str = "Leek soup\n+ 1 kg leeks\n+ 2 onions\nSweat the leeks, then boil all of it.";

#[tokio::test]
async fn story_01_from_a_dish_without_brackets_to_a_private_link() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    assert_eq!(house.ask(&key, "/", None).await.leads_to, "/menus");
    assert!(house.ask(&key, "/menus", None).await.page.contains("Begin with one dish"));
    let soup = dish(&house, &key, SOUP).await;
    assert!(house.ask(&key, "/menus", None).await.page.contains("Now a menu"));
    // The only dish is ticked already; day, hour and guests are the questions.
    let new = house.ask(&key, "/menus/new", None).await.page;
    assert!(new.contains(&format!("value=\"{}\" checked", id(&soup))), "{new}");
    let menu = menu(&house, &key, &[&soup]).await;
    let published = house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    assert_eq!(published.leads_to, format!("{menu}/links"));
    let shared = house.ask(&key, &published.leads_to, None).await.page;
    assert!(shared.contains("<svg"), "the picture of the address");
    let link = links(&shared).pop().unwrap();
    let page = open(&house, &link).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.page.contains("Leek soup"), "{}", page.page);
    let classes = house.ask(&key, "/classes", None).await.page;
    assert!(classes.contains("Without a lesson"), "{classes}");
}

#[tokio::test]
async fn every_problem_of_a_new_menu_is_shown_at_once_and_nothing_typed_is_lost() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, SOUP).await;
    let other = house.school("Quillfen Evening Kitchen").await;
    let strange = dish(&house, &other, "Their soup\n+ 1 leek").await;
    let form = format!("name=&serve=2027-13-01T25%3A00&guests=many&dish={}", id(&strange));
    let answer = house.ask(&key, "/menus/new", Some(&form)).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["Enter a name", "is not read", "is not one", "Tick at least one dish", "many"] {
        assert!(answer.page.contains(words), "{words} in {}", answer.page);
    }
    assert!(!answer.page.contains("Their soup"));
    // A stranger's dish cannot be put in beside one's own either.
    let own = menu(&house, &key, &[&soup]).await;
    let put = format!(
        "version=1&name=Lunch&serve=2027-06-26T13%3A00&guests=6&press=in&add={}",
        id(&strange)
    );
    assert_eq!(house.ask(&key, &own, Some(&put)).await.status, StatusCode::NOT_FOUND);
    assert!(!house.ask(&key, &own, None).await.page.contains("Their soup"));
}

#[tokio::test]
async fn what_was_published_stays_and_the_next_revision_says_what_changed() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Soup\n+ 1 kg leeks\n+ 1 1/2 tbsp salt").await;
    let loaf = dish(&house, &key, "Loaf\n+ 500 g chickpea flour").await;
    let menu = menu(&house, &key, &[&soup, &loaf]).await;
    let publish = format!("{menu}/publish");
    house.ask(&key, &publish, Some("")).await;
    let link = links(&house.ask(&key, &format!("{menu}/links"), None).await.page).pop().unwrap();
    let first = house.ask(&key, &format!("{menu}/fixed/1"), None).await.page;
    let seen = open(&house, &link).await.page;

    // A changed draft changes nothing that was published.
    let text = sent("Soup\n+ 1 kg leeks\n+ 1 1/2 tsp salt");
    let saved = house
        .ask(&key, &format!("{soup}/edit"), Some(&format!("card={text}&version=1&do=save")))
        .await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.page);
    assert_eq!(open(&house, &link).await.page, seen);
    assert_eq!(house.ask(&key, &format!("{menu}/fixed/1"), None).await.page, first);

    house.ask(&key, &publish, Some("")).await;
    let second = house.ask(&key, &format!("{menu}/fixed/2"), None).await;
    assert_eq!(second.status, StatusCode::OK);
    let second = second.page;
    for words in ["Changed since revision 1", "1 1/2 tbsp salt", "1 1/2 tsp salt", "A Soup"] {
        assert!(second.contains(words), "{words} in {second}");
    }
    assert!(!second.contains("500 g chickpea flour"), "the loaf did not change");
    assert_ne!(open(&house, &link).await.page, seen, "the old address shows the new revision");
    assert_eq!(house.ask(&key, &format!("{menu}/fixed/1"), None).await.page, first);
    // The loaf kept its text, so it is one revision under both, with one check word.
    let loaf_row = |page: &str| {
        page.split("<b>Loaf</b>").nth(1).and_then(|it| it.split("</p>").next()).unwrap().to_owned()
    };
    assert_eq!(loaf_row(&first), loaf_row(&second));
    assert!(house.ask(&key, &soup, None).await.page.contains("Revision 2"));

    // The same words again are the same publication.
    house.ask(&key, &publish, Some("")).await;
    let third = house.ask(&key, &format!("{menu}/fixed/3"), None).await;
    assert_eq!(third.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_home_is_told_what_changed_until_it_has_read_it() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Soup\n+ 1 kg leeks\n+ 1 1/2 tbsp salt").await;
    let menu = menu(&house, &key, &[&soup]).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    let link = links(&house.ask(&key, &format!("{menu}/links"), None).await.page).pop().unwrap();
    let joined = house.ask("", &link, Some("guests=4&serve=2027-06-26T17%3A00")).await;
    let home = joined.leads_to;
    assert!(home.starts_with("/h/"), "{}", joined.page);
    let text = sent("Soup\n+ 1 kg leeks\n+ 1 1/2 tsp salt");
    house.ask(&key, &format!("{soup}/edit"), Some(&format!("card={text}&version=1&do=save"))).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    assert!(house.ask("", &home, None).await.page.contains("/changes"));
    let changes = house.ask("", &format!("{home}/changes"), None).await.page;
    assert!(changes.contains("1 1/2 tbsp salt") && changes.contains("1 1/2 tsp salt"), "{changes}");
    house.ask("", &format!("{home}/changes"), Some("")).await;
    assert!(!house.ask("", &home, None).await.page.contains("/changes"), "it was read");
}

#[tokio::test]
async fn a_closed_or_old_link_opens_nothing_and_another_one_still_does() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, SOUP).await;
    let menu = menu(&house, &key, &[&soup]).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    let page = format!("{menu}/links");
    house.ask(&key, &page, Some("note=For+the+hall")).await;
    let shown = house.ask(&key, &page, None).await.page;
    assert!(shown.contains("For the hall"));
    let both = links(&shown);
    assert_eq!(both.len(), 2);
    for link in &both {
        assert_eq!(open(&house, link).await.status, StatusCode::OK);
    }
    let joined = house.ask("", &both[0], Some("guests=4&serve=2027-06-26T17%3A00")).await.leads_to;
    // The row of the first link holds its id.
    let row = shown.split("name=\"close\" value=\"").find(|it| it.contains(&both[0])).unwrap();
    let after = shown.split(row).nth(1).unwrap();
    let close = &after["name=\"close\" value=\"".len()..][..36];
    house.ask(&key, &page, Some(&format!("close={close}"))).await;
    let states: Vec<_> =
        [open(&house, &both[0]).await.status, open(&house, &both[1]).await.status].into();
    assert!(
        states.contains(&StatusCode::NOT_FOUND) && states.contains(&StatusCode::OK),
        "{states:?}"
    );
    assert_eq!(house.ask("", &joined, None).await.status, StatusCode::OK, "the home stays");
    // Thirty days after the table no link opens.
    let house = house.later(3_600 * 24 * 365).await;
    for link in &both {
        assert_eq!(open(&house, link).await.status, StatusCode::NOT_FOUND);
    }
}

#[tokio::test]
async fn a_home_and_all_it_told_are_deleted_on_the_day_its_class_names() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, SOUP).await;
    let menu = menu(&house, &key, &[&soup]).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    let link = links(&house.ask(&key, &format!("{menu}/links"), None).await.page).pop().unwrap();
    let home = house.ask("", &link, Some("guests=4&serve=2027-06-26T17%3A00")).await.leads_to;
    house.ask("", &format!("{home}/list"), Some("key=leek&is=on")).await;
    // Thirty days after the table of 26 June: not on the 25th of July, but on the 26th, in Oslo.
    let at = |text: &str| text.parse::<jiff::Timestamp>().unwrap();
    let storage = &house.state().storage;
    assert_eq!(storage.purge_due(at("2027-07-25T21:59:59Z")).await.unwrap(), 0);
    assert_eq!(house.ask("", &home, None).await.status, StatusCode::OK);
    assert_eq!(storage.purge_due(at("2027-07-25T22:00:00Z")).await.unwrap(), 1);
    assert_eq!(house.ask("", &home, None).await.status, StatusCode::NOT_FOUND);
    assert_eq!(storage.purge_due(at("2027-07-25T22:00:00Z")).await.unwrap(), 0);
}

/// The fourteen cards of the two demonstration menus.
fn demonstration() -> Vec<DraftDish> {
    let folder = crate::demo::folder().join("cards");
    let mut files: Vec<_> =
        std::fs::read_dir(folder).unwrap().map(|it| it.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|it| it == "txt"));
    files.sort();
    let dish = |(place, path): (usize, std::path::PathBuf)| {
        let card = std::fs::read_to_string(path).unwrap();
        let read = card::read(&card, &Larder::default()).card;
        let id = DishId(uuid::Uuid::from_u128(place as u128));
        DraftDish { id, title: read.title, kind: read.kind, card }
    };
    files.into_iter().enumerate().map(dish).collect()
}

fn laid_out(picked: &[usize], draft: &MenuDraft) -> LaidOut {
    let (bases, dishes): (Vec<_>, Vec<_>) =
        demonstration().into_iter().partition(|dish| dish.kind == DishKind::Base);
    let dishes: Vec<_> = picked.iter().map(|&place| dishes[place].clone()).collect();
    lay_out(&Facts {
        school: "Tarnwick Cookery Room",
        zone: &draft.serve.zone,
        name: "Lunch",
        draft,
        dishes: &dishes,
        bases: &bases,
        larder: &Larder::shipped(),
        profile: &Arc::new(Profile::default()),
    })
}

fn written_and_read(out: &LaidOut, draft: &MenuDraft) -> Laid {
    let at = jiff::Timestamp::UNIX_EPOCH;
    let revision = Revision { number: 1, check_word: "plover".to_owned(), at };
    let revisions = vec![revision.clone(); out.laid.dishes.len()];
    let text = snapshot::write(&out.laid, &out.texts, draft);
    snapshot::read(&text, revision, &revisions).unwrap().laid
}

fn sitting(guests: u32, draft: &MenuDraft) -> Sitting {
    Sitting {
        name: "Ines".to_owned(),
        guests: Portions::new(guests).unwrap(),
        serve: draft.serve.clone(),
        choices: draft.choices.clone(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    }
}

fn draft() -> MenuDraft {
    let zone = Zone::parse("Europe/Copenhagen").unwrap();
    let serve = ServiceTime::parse("2027-06-26T13:00", zone).unwrap();
    MenuDraft::new(Portions::new(8).unwrap(), serve)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// A snapshot needs neither reader nor larder: the same list and the same limits come out.
    #[test]
    fn a_snapshot_gives_the_same_list_and_limits(
        picked in proptest::sample::subsequence((0..12).collect::<Vec<usize>>(), 1..=12),
        guests in 1_u32..40,
    ) {
        let draft = draft();
        let out = laid_out(&picked, &draft);
        let back = written_and_read(&out, &draft);
        let table = sitting(guests, &draft);
        let lists = [&out.laid, &back].map(|laid| to_csv(&shopping_list(laid, &table)));
        prop_assert_eq!(&lists[0], &lists[1]);
        prop_assert_eq!(keeps(&out.laid, &table), keeps(&back, &table));
    }

    /// Shopping for all homes of a class is, with one home, shopping for that home.
    #[test]
    fn a_list_of_one_home_is_its_own_list(guests in 1_u32..40) {
        let draft = draft();
        let laid = laid_out(&[0, 1, 2, 3], &draft).laid;
        let table = sitting(guests, &draft);
        let together = shopping_list_of_all(&laid, std::slice::from_ref(&table));
        prop_assert_eq!(to_csv(&together), to_csv(&shopping_list(&laid, &table)));
    }
}
