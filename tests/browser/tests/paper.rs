//! Every sheet, printed: pages that count themselves, a foot on each, and no word cut off.
//!
//! The sheets are the approved pages of `tests/golden/pages`; paper and type are only styles.

use browser::{Browser, Printed, print, project, stand_alone};
use thirtyfour::prelude::*;

const SHEETS: [&str; 7] = [
    "sheet-menu",
    "sheet-shopping",
    "sheet-ahead",
    "sheet-allergens",
    "sheet-rules",
    "sheet-recipe",
    "sheet-recipe-in-menu",
];

fn approved(name: &str) -> String {
    let path = project().join(format!("tests/golden/pages/{name}.html"));
    std::fs::read_to_string(path).expect("an approved page")
}

fn on(html: &str, paper: &str, size: &str) -> String {
    let html = html.replace("css/a4.css", &format!("css/{paper}.css"));
    let html = html.replace("css/letter.css", &format!("css/{paper}.css"));
    let html = html.replace("css/normal.css", &format!("css/{size}.css"));
    html.replace("css/large.css", &format!("css/{size}.css"))
}

/// The words of the sheet itself, without what only a screen shows.
fn words(html: &str) -> Vec<String> {
    let main = html.split("<main").nth(1).expect("a main part");
    let main = main.split("</main>").next().expect("its end");
    let mut text = String::new();
    for piece in main.split('<').skip(1) {
        text.push_str(piece.split_once('>').map_or("", |(_, text)| text));
        text.push(' ');
    }
    let text =
        ["&nbsp;", "&emsp;", "&ensp;"].iter().fold(text, |text, sign| text.replace(sign, " "));
    let text = text.replace("&#38;", "&").replace("&#60;", "<").replace("&#62;", ">");
    let text = text.replace("&#39;", "'").replace("&#34;", "\"");
    // A line may end behind a hyphen, and the text of the print then leaves it out.
    text.split(|it: char| it.is_whitespace() || it == '-').map(str::to_owned).collect()
}

fn closed(text: &str) -> String {
    text.chars().filter(|it| !it.is_whitespace()).collect::<String>().to_lowercase()
}

fn check(name: &str, html: &str, printed: &Printed) {
    let count = printed.pages.len();
    for (index, page) in printed.pages.iter().enumerate() {
        let page_of = closed(&format!("page {} of {count}", index + 1));
        let text = closed(page);
        assert!(text.contains(&page_of), "{name}: no {page_of} in {page}");
        assert!(text.contains("plover"), "{name}, page {}: no check word", index + 1);
        let within = closed("within the limits the school chose");
        assert!(text.contains(&within), "{name}, page {}: {page}", index + 1);
    }
    let text = closed(&printed.pages.concat());
    for word in words(html) {
        assert!(text.contains(&closed(&word)), "{name}: {word} is cut off");
    }
}

#[test]
fn story_40_large_print_and_black_and_white() {
    for name in SHEETS {
        let html = approved(name);
        let normal = on(&html, "a4", "normal");
        let printed = print(&normal);
        check(name, &normal, &printed);
        let (short, long) = (595.0, 842.0);
        let (width, height) = if name == "sheet-allergens" { (long, short) } else { (short, long) };
        assert!((printed.width_points - width).abs() < 2.0, "{name}: {}", printed.width_points);
        assert!((printed.height_points - height).abs() < 2.0, "{name}: {}", printed.height_points);
        let large = on(&html, "letter", "large");
        let printed = print(&large);
        check(name, &large, &printed);
        let edge = if name == "sheet-allergens" { 792.0 } else { 612.0 };
        assert!((printed.width_points - edge).abs() < 2.0, "{name}: {}", printed.width_points);
    }
}

#[test]
fn a_recipe_sheet_fits_both_papers_and_splits_no_step() {
    let html = approved("sheet-recipe-in-menu");
    for paper in ["a4", "letter"] {
        let printed = print(&on(&html, paper, "normal"));
        assert!(printed.pages.len() <= 2, "{paper}: {} pages", printed.pages.len());
        // The stop of a step stands on the page of its words.
        let page = printed.pages.iter().find(|it| it.contains("Crush the fennel seed"));
        assert!(page.is_some_and(|it| it.contains("raw garlic in oil")), "{paper}");
    }
}

#[test]
fn labels_fill_whole_pages_on_both_papers() {
    let html = approved("sheet-labels");
    let boxes = html.matches("made Fri").count();
    for paper in ["a4", "letter"] {
        let printed = print(&on(&html, paper, "normal"));
        assert_eq!(printed.pages.len(), 1, "{paper}");
        assert_eq!(printed.pages[0].matches("made Fri").count(), boxes, "{paper}");
        let text = closed(&printed.pages[0]);
        assert_eq!(text.matches("plover").count(), boxes, "{paper}");
    }
    let large = approved("sheet-labels-large-letter");
    let printed = print(&large);
    assert_eq!(printed.pages.len(), large.matches("class=\"labels\"").count());
}

#[tokio::test(flavor = "multi_thread")]
async fn sheets_are_good_pages_on_a_phone_and_no_label_is_too_full() -> WebDriverResult<()> {
    let folder = tempfile::tempdir().expect("a folder");
    let browser = Browser::open(390, 844).await?;
    for name in SHEETS.into_iter().chain(["sheet-labels"]) {
        let page = stand_alone(&approved(name), folder.path());
        browser.page.goto(format!("file://{}", page.display())).await?;
        let wide = "return document.documentElement.scrollWidth - innerWidth;";
        let over: i64 = browser.page.execute(wide, vec![]).await?.convert()?;
        assert!(over <= 0, "{name} is {over} px too wide");
        assert_eq!(browser.faults().await?, Vec::<String>::new(), "{name}");
        browser.shot(&format!("{name}-390")).await?;
    }
    browser.close().await?;
    let browser = Browser::open(1280, 900).await?;
    for name in ["sheet-labels", "sheet-labels-large-letter"] {
        let page = stand_alone(&approved(name), folder.path());
        browser.page.goto(format!("file://{}", page.display())).await?;
        let ask = "return [...document.querySelectorAll('.label')]
            .filter(it => it.scrollHeight > it.clientHeight + 1).map(it => it.innerText);";
        let full: Vec<String> = browser.page.execute(ask, vec![]).await?.convert()?;
        assert_eq!(full, Vec::<String>::new(), "{name}");
    }
    browser.close().await
}
