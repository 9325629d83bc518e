//! Corrections of how a line is read: kept at the desk, used from then on, listed, taken back.

use crate::house::House;
use axum::http::StatusCode;

const CARD: &str = "card=Soft+leeks%0A1.+Fry.%0A%2B+2+tbsp+nans+oyl%0A%2B+3+leaks";

#[tokio::test]
async fn a_correction_is_used_by_every_later_reading_until_it_is_taken_back() {
    let house = House::open().await;
    let own = house.school("Tarnwick").await;
    let desk = |more: &str| format!("{CARD}&{more}");
    let before = house.ask(&own, "/dishes/new", Some(&desk("do=read"))).await;
    assert!(before.page.contains("nans oyl") && before.page.contains("Not known in the larder"));

    // The name of another food never comes to mean this one: both texts stay, and it is said.
    let refused = desk("3.meant=%20&do=means+3");
    let refused = house.ask(&own, "/dishes/new", Some(&refused)).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.page.contains("Line 3: Write both") && refused.page.contains("nans oyl"));

    let kept = desk("3.meant=2+tbsp+olive+oil&do=means+3");
    let kept = house.ask(&own, "/dishes/new", Some(&kept)).await;
    assert_eq!(kept.status, StatusCode::OK);
    assert!(kept.page.contains("Larder: olive oil"), "{}", kept.page);

    let again = house.ask(&own, "/dishes/new", Some(&desk("do=read"))).await;
    assert!(again.page.contains("Larder: olive oil"), "another reading uses it");
    let list = house.ask(&own, "/larder/words", None).await;
    assert!(list.page.contains("2 tbsp nans oyl") && list.page.contains("2 tbsp olive oil"));

    let gone = Some("said=2+tbsp+nans+oyl");
    assert_eq!(house.ask(&own, "/larder/words/drop", gone).await.status, StatusCode::SEE_OTHER);
    let back = house.ask(&own, "/dishes/new", Some(&desk("do=read"))).await;
    assert!(!back.page.contains("Larder: olive oil"), "it is read as written again");
}

#[tokio::test]
async fn words_are_kept_on_their_page_and_never_rename_a_food() {
    let house = House::open().await;
    let own = house.school("Tarnwick").await;
    let saved = house.ask(&own, "/larder/words", Some("said=nans+oil&meant=olive+oil")).await;
    assert_eq!(saved.leads_to, "/larder/words");
    let refused = house.ask(&own, "/larder/words", Some("said=butter&meant=olive+oil")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.page.contains("whole name of a food already"));
}
