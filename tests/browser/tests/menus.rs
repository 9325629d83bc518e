//! From a dish to a class as a person goes: pressed, read, and nothing wrong for anybody's senses.

use browser::{Browser, House};
use thirtyfour::prelude::*;

/// Nothing is found by the accessibility rules, and nothing scrolls sideways.
async fn is_fit(browser: &Browser, shot: &str) -> WebDriverResult<()> {
    browser.shot(shot).await?;
    assert_eq!(browser.faults().await?, Vec::<String>::new(), "{shot}");
    assert!(!browser.overflows().await?, "{shot} scrolls sideways");
    Ok(())
}

async fn walk(width: u32) -> WebDriverResult<()> {
    let house = House::open();
    let browser = Browser::open(width, 900).await?;
    let shot = |name: &str| format!("{name}-{width}");
    browser.enter(&house).await?;
    browser.press("a", "Write a dish").await?;
    let card = "dish: Leek soup\nfor: 4\n1. Sweat. [10 min] [stop fridge 2 days]\n+ 1 kg leeks\n+ 2 tbsp butter or olive oil";
    browser.write("card", card).await?;
    browser.press("button", "Save the dish").await?;
    browser.see("h1", "Leek soup").await?;

    browser.press("a", "Menus").await?;
    browser.press("a", "Make a menu").await?;
    is_fit(&browser, &shot("menu-new")).await?;
    browser.press("button", "Make the menu").await?;
    browser.see("a", "Enter a name").await?;
    is_fit(&browser, &shot("menu-new-problem")).await?;
    browser.write("name", "Midsummer lunch").await?;
    browser.press("button", "Make the menu").await?;
    browser.see("h1", "Midsummer lunch").await?;
    is_fit(&browser, &shot("menu")).await?;
    browser.press("button", "Publish").await?;
    browser.see("h1", "Private links").await?;
    is_fit(&browser, &shot("menu-links")).await?;
    browser.press("a", "Midsummer lunch").await?;
    browser.press("a", "Make a class from this menu").await?;
    browser.see("h1", "Make a class").await?;
    is_fit(&browser, &shot("class-new")).await?;
    browser.press("button", "Make the class").await?;
    browser.see("h2", "Homes").await?;
    is_fit(&browser, &shot("class")).await?;
    browser.press("a", "Shopping for the class").await?;
    browser.see("h1", "Shopping").await?;
    browser.see("th", "leeks").await?;
    is_fit(&browser, &shot("class-shopping")).await?;

    browser.press("a", "Classes").await?;
    browser.see("h1", "Classes").await?;
    is_fit(&browser, &shot("classes")).await?;
    browser.press("a", "Make a class").await?;
    browser.see("a", "Midsummer lunch").await?;
    is_fit(&browser, &shot("class-choose")).await?;
    browser.press("a", "Dishes").await?;
    browser.press("a", "Leek soup").await?;
    browser.see("h2", "In menus").await?;
    is_fit(&browser, &shot("dish-in-menus")).await?;
    browser.press("a", "Classes").await?;
    browser.press("a", "Kitchens").await?;
    browser.see("a", "Small home").await?;
    is_fit(&browser, &shot("kitchens")).await?;
    browser.press("a", "Add a kitchen").await?;
    browser.press("button", "Keep this kitchen").await?;
    browser.see("a", "Enter a name").await?;
    is_fit(&browser, &shot("kitchen-problem")).await?;
    browser.close().await
}

#[tokio::test(flavor = "multi_thread")]
async fn a_menu_becomes_a_class_on_a_telephone() -> WebDriverResult<()> {
    walk(390).await
}

#[tokio::test(flavor = "multi_thread")]
async fn a_menu_becomes_a_class_on_the_narrowest_screen() -> WebDriverResult<()> {
    walk(320).await
}

#[tokio::test(flavor = "multi_thread")]
async fn a_menu_becomes_a_class_on_a_desk() -> WebDriverResult<()> {
    walk(1280).await
}
