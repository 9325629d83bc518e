//! Sheets for paper through the whole program: what each says, and what it never leaves out.

use std::fmt::Write;

use crate::house::House;
use axum::http::StatusCode;

/// A field of a form, as a browser writes it.
fn escaped(text: &str) -> String {
    text.bytes().fold(String::new(), |mut written, byte| {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' => written.push(char::from(byte)),
            byte => write!(written, "%{byte:02X}").unwrap(),
        }
        written
    })
}

/// Saves a card; the answer is the address of its dish.
async fn add(house: &House, key: &str, card: &str) -> String {
    let form = format!("card={}&do=save", escaped(card));
    let saved = house.ask(key, "/dishes/new", Some(&form)).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.page);
    saved.leads_to
}

fn card(name: &str) -> String {
    let folder = crate::demo::folder().join("cards");
    std::fs::read_to_string(folder.join(name)).unwrap()
}

/// What a reader sees: no tags, one space between words.
fn words(page: &str) -> String {
    let mut text = String::new();
    for piece in page.split('<') {
        text.push_str(piece.split_once('>').map_or(piece, |(_, text)| text));
        text.push(' ');
    }
    let text = text
        .replace("&nbsp;", " ")
        .replace("&ensp;", " ")
        .replace("&emsp;", " ")
        .replace(['\u{a0}', '\u{2003}'], " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[tokio::test]
async fn story_13_every_dish_has_a_recipe_sheet_with_every_step_and_amount() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let folder = crate::demo::folder().join("cards");
    let mut cards: Vec<_> =
        std::fs::read_dir(folder).unwrap().map(|it| it.unwrap().path()).collect();
    cards.retain(|path| path.extension().is_some_and(|it| it == "txt"));
    assert_eq!(cards.len(), 14);
    for path in cards {
        let text = std::fs::read_to_string(&path).unwrap();
        let dish = add(&house, &key, &text).await;
        let answer = house.ask(&key, &format!("{dish}/sheet"), None).await;
        assert_eq!(answer.status, StatusCode::OK);
        let sheet = words(&answer.page);
        let closed = sheet.replace(' ', "");
        for line in text.lines().map(str::trim) {
            let is_step =
                line.split_once(". ").is_some_and(|(number, _)| number.parse::<u32>().is_ok());
            if is_step {
                let sentence = line.split_once(". ").unwrap().1.split('[').next().unwrap();
                for word in sentence.split_whitespace().filter(|word| word.is_ascii()) {
                    let word = word.replace('\'', "&#39;");
                    assert!(closed.contains(&word), "{}: {word} is missing", path.display());
                }
            }
            if let Some(goes_in) = line.strip_prefix("+ ") {
                let name = goes_in.split(" (").next().unwrap().split(',').next().unwrap();
                assert!(sheet.contains(name), "{}: {name} is missing in {sheet}", path.display());
            }
        }
        assert!(sheet.contains("Draft"), "nothing is published yet");
        assert!(sheet.contains("within the limits the school chose, see rule sheet"));
        house.ask(&key, &format!("{dish}/publish"), Some("")).await;
        let sheet = words(&house.ask(&key, &format!("{dish}/sheet"), None).await.page);
        assert!(sheet.contains("revision 1, 25 November 2026, check word"), "{sheet}");
    }
}

#[tokio::test]
async fn story_33_units_as_the_reader_thinks() {
    let house = House::open().await;
    let key = house.school("Quillfen Evening Kitchen").await;
    let barley = add(&house, &key, &card("b-barley-with-mushrooms.txt")).await;
    let sheet = words(&house.ask(&key, &format!("{barley}/sheet?units=metric"), None).await.page);
    assert!(sheet.contains("304 g pearl barley"), "{sheet}");
    assert!(sheet.contains("Oven 190 °C, 35 min, timed from the fridge"), "{sheet}");
    assert!(sheet.contains("middle at least 74 °C"), "{sheet}");
    let pork = add(&house, &key, &card("b-caraway-mustard-pork-loin.txt")).await;
    let sheet = words(&house.ask(&key, &format!("{pork}/sheet?units=metric"), None).await.page);
    assert!(sheet.contains("Oven 190 °C, 65 min"), "{sheet}");
    assert!(sheet.contains("Middle at least 63 °C"), "{sheet}");
    assert!(sheet.contains("230 °C, 15 min, then 190 °C, 42 min"), "{sheet}");
    let soup = add(&house, &key, &card("a-chilled-pea-and-lettuce-soup.txt")).await;
    let sheet = words(&house.ask(&key, &format!("{soup}/sheet?units=us"), None).await.page);
    assert!(sheet.contains("2 lb frozen peas"), "{sheet}");
}

#[tokio::test]
async fn a_card_of_bare_words_prints_and_says_what_it_lacks() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let dish =
        add(&house, &key, "dish: Soft leeks\n+ 2 leeks\n1. Slice the leeks <thinly>.\n").await;
    let answer = house.ask(&key, &format!("{dish}/sheet"), None).await;
    assert_eq!(answer.status, StatusCode::OK);
    let sheet = words(&answer.page);
    assert!(sheet.contains("2 leeks") && sheet.contains("Slice the leeks"), "{sheet}");
    assert!(sheet.contains("The card does not say how many it is for"), "{sheet}");
    assert!(sheet.contains("Not yet tested."), "{sheet}");
    assert!(!answer.page.contains("<thinly>"));
}

#[tokio::test]
async fn a_base_brings_its_allergens_to_the_sheet_of_a_dish_alone() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    add(&house, &key, "base: Egg sauce\nmakes: 300 g\n1. Stir.\n   + 3 eggs\n").await;
    let leeks = "dish: Leeks\n1. Dress the leeks.\n   + 1 kg leeks\n   + 100 g Egg sauce\n";
    let dish = add(&house, &key, leeks).await;
    let sheet = words(&house.ask(&key, &format!("{dish}/sheet"), None).await.page);
    assert!(sheet.contains("Contains egg"), "{sheet}");
}

#[tokio::test]
async fn ranges_scale_at_both_ends_and_hands_more_slowly_than_amounts() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let bake = add(&house, &key, &card("a-courgette-and-tomato-bake.txt")).await;
    let sheet = words(&house.ask(&key, &format!("{bake}/sheet?guests=4"), None).await.page);
    assert!(sheet.contains("20-30 ml olive oil"), "{sheet}");
    assert!(sheet.contains("Begin with the smaller amount."), "{sheet}");
    assert!(sheet.contains("worked out from 8: our estimate"), "{sheet}");
    assert!(sheet.contains("Oblong dish 26x17x6 cm"), "the smaller vessel serves four: {sheet}");
}

async fn menu(house: &House, key: &str, dishes: &[&str]) -> String {
    let ids = dishes.iter().map(|it| format!("&dish={}", it.rsplit('/').next().unwrap()));
    let form = format!("name=Lunch&serve=2027-06-26T13%3A00&guests=8{}", ids.collect::<String>());
    let made = house.ask(key, "/menus/new", Some(&form)).await;
    assert_eq!(made.status, StatusCode::SEE_OTHER, "{}", made.page);
    made.leads_to
}

/// Publishes and opens the link as a student does: for so many, at this hour.
async fn home(house: &House, key: &str, menu: &str, guests: u32) -> String {
    house.ask(key, &format!("{menu}/publish"), Some("")).await;
    let page = house.ask(key, &format!("{menu}/links"), None).await.page;
    let link = page.split("/classes/c/").nth(1).unwrap()[..26].to_owned();
    let form = format!("guests={guests}&serve=2027-06-26T13%3A00");
    house.ask("", &format!("/c/{link}"), Some(&form)).await.leads_to
}

/// The label whose name this is.
fn label<'a>(page: &'a str, name: &str) -> &'a str {
    let found =
        page.split("<section class=\"label").find(|it| it.contains(&format!(">{name}</h2>")));
    found.unwrap_or_else(|| panic!("no label {name}"))
}

#[tokio::test]
async fn story_29_container_labels() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let cards = [card("a-courgette-and-tomato-bake.txt"), card("a-chickpea-flat-loaf.txt")];
    let stops: usize =
        cards.iter().map(|text| text.lines().filter(|line| line.contains("[stop ")).count()).sum();
    let (bake, loaf) = (add(&house, &key, &cards[0]).await, add(&house, &key, &cards[1]).await);
    let menu = menu(&house, &key, &[&bake, &loaf]).await;
    let draft = house.ask(&key, &format!("{menu}/sheets/labels"), None).await.page;
    assert!(words(label(&draft, "Crumb")).contains("Draft"));
    let home = home(&house, &key, &menu, 4).await;
    let labels = house.ask("", &format!("{home}/sheets/labels"), None).await;
    assert_eq!(labels.status, StatusCode::OK);
    let boxes = labels.page.matches(">keep until</small> ").count();
    assert_eq!(boxes, stops, "a label for each stop that is used");
    let all = labels.page.matches("<section class=\"label").count();
    assert_eq!(all, 21, "a whole page; what no box needs is blank");
    let crumb = words(label(&labels.page, "Crumb"));
    for said in
        ["A", "keep until Wed 30 June, ", "made Fri 25, next step 5; cool place, 0.2 l", "box "]
    {
        assert!(crumb.contains(said), "{said}: {crumb}");
    }
    assert!(
        crumb.contains("nuts") && crumb.contains("not known: gluten-free breadcrumbs"),
        "{crumb}"
    );
    assert!(!crumb.contains("Draft"), "{crumb}");
    let sheet = words(&house.ask("", &format!("{home}/sheets/recipe-a"), None).await.page);
    let word = sheet.split("check word ").nth(1).unwrap().split(' ').next().unwrap();
    assert!(!word.is_empty(), "{sheet}");
    // Twenty-four to a page where the grid is the other one, eight in the large edition.
    for (query, slots) in [("?grid=24", 24), ("?type=large", 8), ("?grid=24&paper=letter", 21)] {
        let page = house.ask("", &format!("{home}/sheets/labels{query}"), None).await.page;
        assert_eq!(page.matches("<section class=\"label").count(), slots, "{query}");
        assert_eq!(page.matches(">keep until</small> ").count(), stops, "{query}");
    }
    // The prep-ahead sheet has the same boxes.
    let ahead = house.ask("", &format!("{home}/sheets/ahead"), None).await.page;
    assert_eq!(ahead.matches("<span class=\"k\">box ").count(), stops);
}

#[tokio::test]
async fn every_sheet_of_a_menu_prints_and_a_strange_one_is_not_there() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let bare = add(&house, &key, "dish: Soft leeks\n+ 2 leeks\n1. Slice the leeks.\n").await;
    let menu = menu(&house, &key, &[&bare]).await;
    let kinds = ["menu", "shopping", "ahead", "labels", "allergens", "rules", "recipe-a"];
    for kind in kinds {
        for query in ["", "?paper=letter&type=large&units=metric", "?paper=x&type=%00&units="] {
            let asked = format!("{menu}/sheets/{kind}{query}");
            let answer = house.ask(&key, &asked, None).await;
            assert_eq!(answer.status, StatusCode::OK, "{asked}");
            let sheet = words(&answer.page);
            assert!(kind == "labels" || sheet.contains("Draft , not yet published"), "{asked}");
            let claims = [" safe ", " safe. ", " none ", "free from"];
            assert!(!claims.iter().any(|it| sheet.contains(it)), "{asked}: {sheet}");
        }
    }
    for kind in ["recipe-b", "recipe-", "recipe-ab", "cake", "Menu"] {
        let answer = house.ask(&key, &format!("{menu}/sheets/{kind}"), None).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{kind}");
    }
}
