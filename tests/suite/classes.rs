//! Classes and the kitchens they cook in: links, homes, and one list for all.

use crate::demo;
use crate::house;

use std::collections::BTreeMap;

use crate::house::{House, dish, links, menu};
use axum::http::StatusCode;
use num_bigint::BigInt;
use num_rational::BigRational;

/// What each food needs, in whole numbers of its unit, from the table for a spreadsheet.
fn needed(csv: &str) -> BTreeMap<(String, String), BigRational> {
    let mut sums = BTreeMap::new();
    let mut lines = csv::Reader::from_reader(csv.as_bytes());
    for line in lines.records() {
        let line = line.unwrap();
        for part in line[2].split(" + ").filter(|part| !part.is_empty()) {
            let (figure, unit) = part.split_once(' ').unwrap_or((part, ""));
            let sum = sums.entry((line[1].to_owned(), unit.to_owned()));
            *sum.or_insert_with(|| BigRational::from_integer(BigInt::ZERO)) +=
                figure.parse::<BigRational>().unwrap();
        }
    }
    sums
}

fn added(
    mut sums: BTreeMap<(String, String), BigRational>,
    more: BTreeMap<(String, String), BigRational>,
) -> BTreeMap<(String, String), BigRational> {
    for (food, figure) in more {
        *sums.entry(food).or_insert_with(|| BigRational::from_integer(BigInt::ZERO)) += figure;
    }
    sums
}

/// A class of so many seats, and the private link that opens it.
async fn class(house: &House, key: &str, menu: &str, seats: u32) -> (String, String) {
    let form = format!("serve=2027-06-16T20%3A15&from=18%3A00&to=21%3A00&seats={seats}");
    let made = house.ask(key, &format!("{menu}/class"), Some(&form)).await;
    assert_eq!(made.status, StatusCode::SEE_OTHER, "{}", made.page);
    let link = links(&house.ask(key, &made.leads_to, None).await.page).pop().unwrap();
    (made.leads_to, link)
}

async fn csv_of(house: &House, key: &str, class: &str, of: &str) -> String {
    let csv = house.ask(key, &format!("{class}/shopping.csv{of}"), None).await;
    assert_eq!(csv.status, StatusCode::OK);
    csv.page
}

#[tokio::test]
async fn story_06_the_list_of_a_class_is_the_sum_of_its_dishes_and_of_its_homes() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let mut dishes = Vec::new();
    for card in
        ["a-lemon-and-fennel-chicken-thighs", "a-courgette-and-tomato-bake", "a-chickpea-flat-loaf"]
    {
        dishes.push(dish(&house, &key, &demo::text(card)).await);
    }
    let mut sum = BTreeMap::new();
    for one in &dishes {
        let menu = menu(&house, &key, &[one]).await;
        let (class, _) = class(&house, &key, &menu, 8).await;
        let needs = needed(&csv_of(&house, &key, &class, "").await);
        assert!(needs.len() > 2, "{one}: {needs:?}");
        sum = added(sum, needs);
    }
    let all: Vec<&str> = dishes.iter().map(String::as_str).collect();
    let menu = menu(&house, &key, &all).await;
    let (class, link) = class(&house, &key, &menu, 8).await;
    let seats = needed(&csv_of(&house, &key, &class, "").await);
    assert_eq!(seats, sum);
    // Some food stands in two dishes, on one row.
    let page = house.ask(&key, &format!("{class}/shopping"), None).await.page;
    assert_eq!(page.matches(">olive oil</th>").count(), 1, "{page}");

    // Homes of three and five, each with its own hour, eat what eight eat.
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    for (guests, hour) in [(3, "2027-06-19T13%3A00"), (5, "2027-06-26T19%3A30")] {
        let form = format!("guests={guests}&serve={hour}");
        assert!(house.ask("", &link, Some(&form)).await.leads_to.starts_with("/h/"));
    }
    let homes = needed(&csv_of(&house, &key, &class, "?of=homes").await);
    assert_eq!(homes, sum);
    let shown = house.ask(&key, &format!("{class}/shopping?of=homes"), None).await.page;
    assert!(shown.contains("For 8 in all homes together."), "{shown}");
}

#[tokio::test]
async fn story_30_publish_by_private_link() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Leek soup\nfor: 4\n+ 400 g leeks\n+ 50 g hazelnuts").await;
    let menu = menu(&house, &key, &[&soup]).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    let (class, link) = class(&house, &key, &menu, 8).await;

    // Without an account: no cookie is held, and none is set.
    let opened = house.ask("", &link, None).await;
    assert_eq!((opened.status, opened.cookie.as_str()), (StatusCode::OK, ""));
    let join = Some("guests=4&serve=2027-06-16T20%3A15");
    let ines = house.ask("", &link, join).await.leads_to;
    let bram = house.ask("", &link, join).await.leads_to;
    assert_ne!(ines, bram);

    let tell = "version=1&guests=4&serve=2027-06-16T20%3A15&zone=Europe%2FOslo&name=Ines&allergen=nuts&others=quince&consents=yes";
    let told = house.ask("", &ines, Some(tell)).await;
    assert_eq!(told.leads_to, ines, "no allergy is in the address: {}", told.page);
    let page = house.ask("", &ines, None).await.page;
    assert!(page.contains("quince"), "{page}");
    for address in page.split(['"', '\'']).filter(|it| it.contains("/h/")) {
        assert!(!address.contains("nuts") && !address.contains("quince"), "{address}");
    }

    // Every sign of the key counts: with one changed it opens nothing, and never the other home.
    for place in 3..ines.len() {
        let old = ines.as_bytes()[place];
        let new = if old == b'7' { '6' } else { '7' };
        let changed = format!("{}{new}{}", &ines[..place], &ines[place + 1..]);
        let answer = house.ask("", &changed, None).await;
        assert!(!answer.status.is_success(), "{changed}");
        assert!(!answer.page.contains("quince") && !answer.page.contains("Ines"), "{changed}");
    }
    let other = house.ask("", &bram, None).await.page;
    assert!(!other.contains("quince") && !other.contains("Ines"), "{other}");

    // The school sees how many told what, never who; and no name that is not shared.
    for page in [class.clone(), format!("{class}/shopping")] {
        let page = house.ask(&key, &page, None).await.page;
        assert!(page.contains("nuts: 1 home; quince: 1 home"), "{page}");
        assert!(!page.contains("Ines"), "{page}");
    }

    let page = house.ask(&key, &class, None).await.page;
    let close = &page.split("name=\"close\" value=\"").nth(1).unwrap()[..36];
    let links = format!("{class}/links");
    // Not by a stranger, and not by a word that names no link.
    let stranger = house.school("Quillfen Evening Kitchen").await;
    let tried = house.ask(&stranger, &links, Some(&format!("close={close}"))).await;
    assert_eq!(tried.status, StatusCode::NOT_FOUND);
    assert_eq!(house.ask(&key, &links, Some("close=all")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.ask("", &link, None).await.status, StatusCode::OK);
    house.ask(&key, &links, Some(&format!("close={close}"))).await;
    assert_eq!(house.ask("", &link, None).await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.ask("", &link, join).await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.ask("", &ines, None).await.status, StatusCode::OK, "the home stays");
}

#[tokio::test]
async fn no_link_opens_longer_than_its_homes_are_kept() {
    const DAY: i64 = 24 * 3_600;
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Soup\n+ 400 g leeks").await;
    let menu = menu(&house, &key, &[&soup]).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    // It is 25 November 2026. Homes go three days after the table, not the usual thirty.
    let form = "serve=2026-11-28T19%3A00&from=&to=&seats=4&purge_on=2026-12-01";
    let class = house.ask(&key, &format!("{menu}/class"), Some(form)).await.leads_to;
    let page = house.ask(&key, &class, None).await.page;
    assert!(page.contains("opens until 30 November 2026"), "{page}");
    let link = links(&page).pop().unwrap();
    // Shown once, so that the page is in memory.
    assert_eq!(house.ask("", &link, None).await.status, StatusCode::OK);
    let house = house.later(5 * DAY).await;
    assert_eq!(house.ask("", &link, None).await.status, StatusCode::OK);
    let house = house.later(DAY).await;
    assert_eq!(house.ask("", &link, None).await.status, StatusCode::NOT_FOUND, "from memory too");
    let page = house.ask(&key, &class, None).await.page;
    assert!(page.contains("ran out after 30 November 2026"), "{page}");
    assert!(!page.contains("Make another link"), "{page}");
    // Homes are not kept longer than was promised to them, whatever is typed.
    let later = form.replace("purge_on=2026-12-01", "purge_on=2027-03-01");
    let later = format!("version=1&{later}");
    let refused = house.ask(&key, &format!("{class}/edit"), Some(&later)).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_menu_of_last_summer_keeps_its_new_homes() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Soup\n+ 400 g leeks").await;
    let id = house::id(&soup);
    let old = format!("name=Lunch&serve=2026-06-26T13%3A00&guests=6&dish={id}");
    let menu = house.ask(&key, "/menus/new", Some(&old)).await.leads_to;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    let shared = house.ask(&key, &format!("{menu}/links"), None).await.page;
    let link = links(&shared).pop().unwrap();
    let home = house.ask("", &link, Some("guests=4&serve=2026-12-01T13%3A00")).await.leads_to;
    let storage = &house.state().storage;
    assert_eq!(storage.purge_due(house.state().clock.now()).await.unwrap(), 0);
    assert_eq!(house.ask("", &home, None).await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_class_begins_with_a_menu_and_a_dish_says_its_menus() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let begin = house.ask(&key, "/dishes", None).await.page;
    for address in ["/menus/new", "/menus"] {
        let link = format!("class=\"btn\" href=\"/classes{address}\"");
        assert!(begin.contains(&link), "{link} in {begin}");
    }
    assert!(!begin.contains("disabled"), "{begin}");
    assert!(house.ask(&key, "/menus/new", None).await.page.contains("There is no dish yet"));
    assert!(house.ask(&key, "/classes/new", None).await.page.contains("There is no menu yet"));
    let soup = dish(&house, &key, "Soup\n+ 400 g leeks\n1. Whip. [use mixer]").await;
    assert!(house.ask(&key, &soup, None).await.page.contains("In none yet."));
    let menu = menu(&house, &key, &[&soup]).await;
    let shown = house.ask(&key, &soup, None).await.page;
    assert!(shown.contains(&format!("href=\"/classes{menu}\">Lunch</a>")), "{shown}");
    let choose = house.ask(&key, "/classes/new", None).await.page;
    assert!(choose.contains(&format!("href=\"/classes{menu}/class\"")), "{choose}");
    // The usual home has no mixer; its class says so.
    let edit = house.ask(&key, &format!("{menu}/class"), None).await.page;
    let usual = edit.split("<option value=\"").find(|it| it.contains("Usual home")).unwrap();
    let form = format!("serve=2027-06-16T20%3A15&from=&to=&seats=4&kitchen={}", &usual[..36]);
    let class = house.ask(&key, &format!("{menu}/class"), Some(&form)).await.leads_to;
    let page = house.ask(&key, &class, None).await.page;
    assert!(
        page.contains("<dt>Not in this kitchen</dt><dd>mixer; the cards use it</dd>"),
        "{page}"
    );
}

#[tokio::test]
async fn a_class_has_its_own_link_homes_and_one_list_for_all() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Soup\nfor: 4\n+ 400 g leeks\n+ 2 onions").await;
    let menu = menu(&house, &key, &[&soup]).await;
    let form = "serve=2027-06-16T20%3A15&from=18%3A00&to=21%3A00&seats=8&fee=62&kitchen=&purge_on=";
    let wrong =
        house.ask(&key, &format!("{menu}/class"), Some("serve=&from=18&seats=0&fee=x")).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(wrong.page.matches("class=\"err\"").count(), 4, "{}", wrong.page);
    let class = house.ask(&key, &format!("{menu}/class"), Some(form)).await.leads_to;
    let page = house.ask(&key, &class, None).await.page;
    for words in ["18:00 to 21:00, eating at 20:15, for 8", "62.00\u{a0}EUR", "Not published yet"] {
        assert!(page.contains(words), "{words} in {page}");
    }
    let link = links(&page).pop().unwrap();
    assert_eq!(
        house.ask("", &link, None).await.status,
        StatusCode::NOT_FOUND,
        "nothing is published"
    );
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    assert_eq!(house.ask("", &link, None).await.status, StatusCode::OK);

    for guests in [3, 5] {
        let form = format!("guests={guests}&serve=2027-06-16T20%3A15");
        assert!(house.ask("", &link, Some(&form)).await.leads_to.starts_with("/h/"));
    }
    let page = house.ask(&key, &class, None).await.page;
    assert_eq!(page.matches("A home</th>").count(), 2, "no name is shown unasked: {page}");
    // Three and five eat what eight eat.
    let seats = house.ask(&key, &format!("{class}/shopping.csv"), None).await.page;
    let homes = house.ask(&key, &format!("{class}/shopping.csv?of=homes"), None).await.page;
    assert!(seats.contains("800 g"), "{seats}");
    assert_eq!(seats, homes);
    let shown = house.ask(&key, &format!("{class}/shopping?of=homes"), None).await.page;
    assert!(shown.contains("For 8 in all homes together."), "{shown}");

    // A change made from an old page does not run over a newer one.
    let edit = format!("{class}/edit");
    let newer = form.replace("seats=8", "seats=10");
    let saved = house.ask(&key, &edit, Some(&format!("version=1&{newer}"))).await;
    assert_eq!(saved.leads_to, class, "{}", saved.page);
    let stale = house.ask(&key, &edit, Some(&format!("version=1&{form}"))).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(house.ask(&key, &class, None).await.page.contains("for 10"));
}

#[tokio::test]
async fn a_student_sees_what_the_list_costs_only_where_the_school_lets_them() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Soup\nfor: 4\n+ 400 g leeks\n+ 2 onions").await;
    let menu = menu(&house, &key, &[&soup]).await;
    let (_, link) = class(&house, &key, &menu, 8).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    let home = house.ask("", &link, Some("guests=4&serve=2027-06-16T20%3A15")).await.leads_to;
    let written = house.ask(&key, "/larder/prices", Some("lines=leeks%3B+1+kg%3B+5.00")).await;
    assert_eq!(written.status, StatusCode::SEE_OTHER, "{}", written.page);
    let pages = [format!("{home}/list"), format!("{home}/sheets/shopping")];
    for page in &pages {
        let shown = house.ask("", page, None).await.page;
        assert!(shown.contains("leeks"), "{page}: {shown}");
        assert!(!shown.contains("EUR") && !shown.contains("at the till"), "{page}: {shown}");
    }
    let settings = "name=Tarnwick&zone=Europe/Oslo&paper=A4&measures=metric&currency=EUR\
                    &spoons=round&prices_shown=yes&version=1";
    let saved = house.ask(&key, "/school", Some(settings)).await;
    assert_eq!(saved.leads_to, "/school", "{}", saved.page);
    for page in &pages {
        let shown = house.ask("", page, None).await.page;
        // The pack that has a price is bought whole.
        for words in
            ["About 5.00\u{a0}EUR at the till", "One food has no price and is not counted."]
        {
            assert!(shown.contains(words), "{words} in {page}: {shown}");
        }
    }
}

#[tokio::test]
async fn a_new_school_finds_three_kitchens_and_changes_them() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let list = house.ask(&key, "/kitchens", None).await.page;
    for name in ["Usual home", "Small home", "Two-oven home"] {
        assert!(list.contains(name), "{name} in {list}");
    }
    let form =
        "name=Hall+kitchen&shelves=2+%2B+1&preheat=20&rings=8&hands=9&fridge=shelf&freezer=none";
    let taken = form.replace("Hall+kitchen", "usual+home");
    let taken = house.ask(&key, "/kitchens/new", Some(&taken)).await;
    assert_eq!(taken.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(taken.page.contains("already have a kitchen with this name"));
    assert_eq!(house.ask(&key, "/kitchens/new", Some(form)).await.leads_to, "/kitchens");
    let list = house.ask(&key, "/kitchens", None).await.page;
    assert!(list.contains("2 ovens of 2 + 1 shelves, 8 rings, 9 pairs of hands, freezer full"));
    // The other school has its own three and not this one.
    let other = house.school("Quillfen Evening Kitchen").await;
    assert!(!house.ask(&other, "/kitchens", None).await.page.contains("Hall kitchen"));
}

#[tokio::test]
async fn ticks_of_many_homes_at_once_are_kept_and_one_of_a_home_that_has_gone_is_not_there() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let soup = dish(&house, &key, "Soup\nfor: 4\n+ 400 g leeks\n+ 2 onions").await;
    let menu = menu(&house, &key, &[&soup]).await;
    house.ask(&key, &format!("{menu}/publish"), Some("")).await;
    let form = "serve=2027-06-16T20%3A15&from=18%3A00&to=21%3A00&seats=8&fee=&kitchen=&purge_on=";
    let class = house.ask(&key, &format!("{menu}/class"), Some(form)).await.leads_to;
    let link = links(&house.ask(&key, &class, None).await.page).pop().unwrap();
    let mut homes = Vec::new();
    for _ in 0..3 {
        let joined = house.ask("", &link, Some("guests=3&serve=2027-06-16T20%3A15")).await;
        homes.push(joined.leads_to.split('?').next().unwrap().to_owned());
    }
    let ticking = |home: &str, row: &str| {
        let (list, form) = (format!("{home}/list"), format!("key=buy%7C{row}%7Ceach&is=on"));
        let house = &house;
        async move { house.ask("", &list, Some(&form)).await.status }
    };
    for home in &homes {
        assert_eq!(ticking(home, "leek").await, StatusCode::SEE_OTHER);
    }
    house.ask("", &format!("{}/leave", homes[1]), Some("sure=yes")).await;
    let (first, gone, last) = tokio::join!(
        ticking(&homes[0], "onion"),
        ticking(&homes[1], "onion"),
        ticking(&homes[2], "onion"),
    );
    assert_eq!([first, last], [StatusCode::SEE_OTHER; 2]);
    assert_eq!(gone, StatusCode::NOT_FOUND);
    let storage = &house.state().storage;
    let school = house.school_id(&key).await;
    let class = storage.classes(school).await.unwrap().remove(0).class.id;
    for kept in storage.homes(school, class).await.unwrap() {
        let events = storage.home_events(school, kept.home.id).await.unwrap();
        let keys: Vec<_> = events.iter().map(|event| event.key.as_str()).collect();
        assert_eq!(keys, ["buy|leek|each", "buy|onion|each"]);
    }
}
