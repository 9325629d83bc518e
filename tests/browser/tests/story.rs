//! One evening of a new instructor and one of her students, from an empty folder to paper.

use browser::{Browser, House, PASSWORD, Printed, print_page};
use thirtyfour::prelude::*;

const RECIPE: &str = "Barley and leek pot
Serves 6
300 g pearl barley
750 g leeks, sliced
45 ml olive oil
1.5 l vegetable stock
1 1/2 tsp fine salt
6 eggs

Soften the leeks in the oil for 12 minutes.
Add the barley, the stock and the salt and simmer for 35 minutes.
Let it cool, cover and keep in the fridge for up to 2 days.
Boil the eggs for 8 minutes and put one on each plate.
";

/// The recipe is for 6: each figure here is two thirds of it.
const FOR_FOUR: [&str; 6] = [
    "pearl barley A need 200 g",
    "leeks A need 500 g",
    "30 ml olive oil",
    "vegetable stock A Read the label: celery, fish, gluten, milk, soya, wheat need 1 l",
    "fine salt A need 1 tsp",
    "6 eggs A need 4",
];

async fn has(browser: &Browser, words: &[&str]) -> WebDriverResult<()> {
    let page = browser.words().await?;
    for it in words {
        assert!(page.contains(it), "no {it} in {page}");
    }
    Ok(())
}

/// Pastes the recipe, keeps what is offered, and finishes the card.
async fn write_the_dish(ada: &Browser) -> WebDriverResult<()> {
    ada.press("a", "Paste a recipe").await?;
    ada.write("pasted", RECIPE).await?;
    ada.press("button", "Read it back").await?;
    ada.see("h1", "Read it back").await?;
    let quoted = "Keep stop fridge 2 days from “keep in the fridge for up to 2 days”";
    has(ada, &["12 lines.", "0 are kept as words", quoted]).await?;
    ada.press("button", "Make it and keep all 4 notes").await?;
    ada.see("h1", "Write a dish").await?;
    let card = ada.page.find(By::Id("card")).await?;
    let text = card.prop("value").await?.unwrap_or_default();
    for note in ["[hob 12 min]", "[hob 35 min]", "[stop fridge 2 days]", "[hob 8 min]"] {
        assert!(text.contains(note), "no {note} in {text}");
    }
    card.send_keys("5. Ladle into warm bowls. [4 min] [straight on]").await?;
    ada.press("button", "Save the dish").await?;
    ada.see("h1", "Barley and leek pot").await.map(drop)
}

/// Makes the menu for nine and publishes it; the address a student is given.
async fn publish_the_menu(ada: &Browser) -> WebDriverResult<String> {
    ada.press("a", "Menus").await?;
    ada.press("a", "Make a menu").await?;
    ada.write("name", "Barley supper").await?;
    ada.fill("serve", "2027-11-06T18:30").await?;
    ada.fill("guests", "9").await?;
    ada.press("button", "Make the menu").await?;
    ada.see("h1", "Barley supper").await?;
    has(ada, &["1 dish for 9, at the table Saturday 6 November 2027, 18:30"]).await?;
    ada.press("button", "Publish").await?;
    ada.see("h1", "Private links").await?;
    let link = ada.page.query(By::Css(".private-link")).first().await?;
    Ok(link.attr("href").await?.unwrap_or_default())
}

async fn tick(browser: &Browser, food: &str) -> WebDriverResult<()> {
    let row = format!("//form[.//*[@class='nm'][normalize-space()='{food}']]//button");
    browser.page.query(By::XPath(row)).first().await?.click().await
}

async fn ticked(browser: &Browser) -> WebDriverResult<Vec<String>> {
    let ask = "return [...document.querySelectorAll('.tickrow.done .nm')].map(it => it.innerText);";
    let mut names: Vec<String> = browser.page.execute(ask, vec![]).await?.convert()?;
    names.sort();
    Ok(names)
}

/// Two rows are ticked and still are when the page is opened again.
async fn shop(student: &Browser) -> WebDriverResult<()> {
    tick(student, "leeks").await?;
    student.see("span", "1 of 6 in the basket").await?;
    tick(student, "eggs").await?;
    student.see("span", "2 of 6 in the basket").await?;
    student.page.refresh().await?;
    student.see("span", "2 of 6 in the basket").await?;
    assert_eq!(ticked(student).await?, ["eggs", "leeks"]);
    tick(student, "eggs").await?;
    student.see("span", "1 of 6 in the basket").await?;
    student.page.refresh().await?;
    assert_eq!(ticked(student).await?, ["leeks"]);
    Ok(())
}

async fn join(student: &Browser, door: &str) -> WebDriverResult<String> {
    student.page.goto(door).await?;
    student.see("h1", "Barley supper").await?;
    student.fill("guests", "4").await?;
    student.press("button", "Make my list").await?;
    student.see("h2", "Your table").await?;
    Ok(student.page.current_url().await?.to_string())
}

/// What paper says, without the gaps and breaks of its columns.
fn closed(words: &str) -> String {
    words.chars().filter(|it| !it.is_whitespace()).collect()
}

fn paper(home: &str, sheet: &str, size: &str, check_word: &str, words: &[&str]) {
    let Printed { pages, width_points, height_points } =
        print_page(&format!("{home}/sheets/{sheet}?paper={size}"));
    let (short, long) = if size == "a4" { (595.0, 842.0) } else { (612.0, 792.0) };
    let found = (width_points.min(height_points), width_points.max(height_points));
    assert!((found.0 - short).abs() < 2.0 && (found.1 - long).abs() < 2.0, "{sheet}: {found:?}");
    let word = closed(&format!("check word {check_word}"));
    for (index, page) in pages.iter().enumerate() {
        let text = closed(page);
        if sheet == "labels" {
            // A label has room for the word alone, and is cut from its page.
            assert!(text.contains(check_word), "{sheet}: {page}");
            continue;
        }
        // A recipe carries the word of its own text.
        assert!(sheet.starts_with("recipe") || text.contains(&word), "{sheet}: {page}");
        assert!(text.contains("checkword"), "{sheet}: {page}");
        let count = closed(&format!("page {} of {}", index + 1, pages.len()));
        assert!(text.contains(&count), "{sheet}: {page}");
    }
    let text = closed(&pages.concat());
    for it in words {
        assert!(text.contains(&closed(it)), "{sheet} on {size}: no {it} in {}", pages.concat());
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn from_an_empty_folder_to_paper() -> WebDriverResult<()> {
    let (_house, link) = House::new();
    let ada = Browser::open(1280, 900).await?;
    ada.page.goto(link).await?;
    ada.write("school", "Tarnwick Cookery Room").await?;
    ada.write("login", "ada").await?;
    ada.write("password", PASSWORD).await?;
    ada.press("button", "Make the school").await?;
    // The first thing is a dish; hers lies in a letter, so she pastes it.
    ada.see("h1", "Write a dish").await?;
    ada.press("a", "Dishes").await?;
    ada.see("h1", "Begin with one dish").await?;
    write_the_dish(&ada).await?;
    let door = publish_the_menu(&ada).await?;
    ada.close().await?;

    let ines = Browser::open(390, 844).await?;
    let home = join(&ines, &door).await?;
    let page = ines.words().await?;
    let check_word = page.split("check word ").nth(1).and_then(|it| it.split(' ').next());
    let check_word = check_word.expect("a check word on the page of the table");
    ines.press("a", "Shopping list").await?;
    ines.see("h1", "Shopping list").await?;
    has(&ines, &["for 4.", "0 of 6 in the basket"]).await?;
    has(&ines, &FOR_FOUR).await?;
    assert!(!ines.overflows().await?);
    assert_eq!(ines.faults().await?, Vec::<String>::new());
    shop(&ines).await?;
    ines.press("a", "What when").await?;
    ines.see("h1", "What to make when").await?;
    let keep = "Keep until Sunday 7 November, 08:00";
    has(&ines, &["For 4 at the table on Saturday 6 November 2027, 18:30", keep]).await?;
    assert!(!ines.overflows().await?);
    ines.close().await?;

    let list =
        ["500 g, sliced", "need 200 g", "need 1 l", "need 4", "30 ml", "need 1 tsp", "for 4."];
    let recipe = ["for 4", "500 g leeks, sliced", "1 l vegetable stock", "at most 2 days"];
    let ahead = ["Barley and leek pot", "steps 1 to 3", "Sun 7 November,", "08:00", "18:30"];
    let labels = ["Barley and leek pot", "keep until Sun 7 November, 08:00", "gluten, egg"];
    let menu = ["Barley supper", "At the table at 18:30", "Contains gluten, egg"];
    // Her browser spoke of pounds and cups, so the school was given Letter; nobody has to ask.
    let unasked = print_page(&format!("{home}/sheets/shopping"));
    assert!((unasked.width_points - 612.0).abs() < 2.0, "{}", unasked.width_points);
    for size in ["a4", "letter"] {
        paper(&home, "shopping", size, check_word, &list);
    }
    paper(&home, "recipe-a", "a4", check_word, &recipe);
    paper(&home, "ahead", "a4", check_word, &ahead);
    paper(&home, "labels", "a4", check_word, &labels);
    paper(&home, "allergens", "a4", check_word, &["gluten contains", "egg contains"]);
    paper(&door, "menu", "a4", check_word, &menu);
    Ok(())
}

#[tokio::test(flavor = "multi_thread")]
async fn all_of_it_works_where_no_script_runs() -> WebDriverResult<()> {
    let house = House::open();
    let browser = Browser::open(390, 844).await?;
    browser.without_scripts().await?;
    browser.enter(&house).await?;
    browser.press("a", "Write a dish").await?;
    browser.write("card", "Soft leeks\n1. Slice.\n+ 2 leeks").await?;
    // The keys for notes are put there by the script.
    let keys = browser.page.find(By::Css(".keysrow")).await?;
    assert!(!keys.is_displayed().await?, "a script ran");
    browser.press("button", "Read it again").await?;
    browser.see("td", "leeks").await?;
    browser.press("a", "Leave it").await?;
    browser.see("h1", "Begin with one dish").await?;
    write_the_dish(&browser).await?;
    let door = publish_the_menu(&browser).await?;
    join(&browser, &door).await?;
    browser.press("a", "Shopping list").await?;
    browser.see("h1", "Shopping list").await?;
    shop(&browser).await?;
    browser.close().await
}
