//! The forecast of a roast on the card and at a table: what it asks, what it refuses, its caution.

use axum::http::StatusCode;

use crate::house::{House, dish};

const LOIN: &str = "dish: Pork loin\nfor: 6\n\n1. Tie it. [5 min] [raw meat]\n   + 3.3 lb pork loin, in one piece\n2. Roast. [oven 375F 65 min] [core 145F]\n3. Rest. [rest 15 min to 40 min]\n";
const THIGHS: &str = "dish: Thighs\nfor: 4\n\n1. Roast. [oven 200C 40 min] [core 75C]\n   + 8 chicken thighs, about 1 kg\n";

#[tokio::test]
async fn a_roast_says_when_to_look_and_an_end_point_below_the_least_its_caution() {
    let house = House::open().await;
    let own = house.school("Tarnwick Cookery Room").await;
    let loin = dish(&house, &own, LOIN).await;
    assert!(house.ask(&own, &loin, None).await.page.contains("/roast?step="));
    let page = house.ask(&own, &format!("{loin}/roast"), None).await.page;
    for words in [
        "Look first after 55\u{a0}min; likely 55",
        "Resting usually adds",
        "3\u{a0}min uncut",
        "value=\"3.3 lb\"",
    ] {
        assert!(page.contains(words), "{words} in {page}");
    }
    let low = house.ask(&own, &format!("{loin}/roast?ask=1&across=6.5cm&pull=120F"), None).await;
    assert!(low.page.contains("Undercooked by the limits"), "{}", low.page);
    let bad = house.ask(&own, &format!("{loin}/roast?ask=1&across=2m&pull=145C"), None).await;
    assert_eq!(bad.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["href=\"#across\"", "href=\"#pull\"", "id=\"pull-problem\""] {
        assert!(bad.page.contains(words), "{words} in {}", bad.page);
    }
    assert!(!bad.page.contains("Look first after") && bad.page.contains("value=\"2m\""));
}

#[tokio::test]
async fn poultry_stays_poultry_whatever_the_address_says() {
    let house = House::open().await;
    let own = house.school("Tarnwick Cookery Room").await;
    let thighs = dish(&house, &own, THIGHS).await;
    let asked = house.ask(&own, &format!("{thighs}/roast"), None).await;
    assert_eq!(asked.status, StatusCode::OK);
    assert!(asked.page.contains("The card gives no size"));
    let ask = format!("{thighs}/roast?ask=1&food=meat&across=5cm&pull=150F");
    assert!(house.ask(&own, &ask, None).await.page.contains("165\u{a0}°F"));
}
