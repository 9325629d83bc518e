//! Readings typed at the stove and in class: kept, answered, asked about, struck out.

use axum::http::StatusCode;

use crate::house::House;

/// A class with its home: the addresses of both logs.
async fn logs(house: &House, own: &str) -> (String, String) {
    let card = "card=Leek+soup%0A1.+Boil.+%5Bhob+20+min%5D+%5Bchill+21C+2+h%5D+%5Bstop+fridge+2+days%5D%0A%2B+300+g+leeks";
    let dish = house.ask(own, "/dishes/new", Some(card)).await.leads_to;
    let id = dish.rsplit('/').next().unwrap();
    let new = format!("name=Soup+night&serve=2027-06-26T13%3A00&guests=6&dish={id}");
    let menu = house.ask(own, "/menus/new", Some(&new)).await.leads_to;
    house.ask(own, &format!("{menu}/publish"), Some("")).await;
    let links = house.ask(own, &format!("{menu}/links"), None).await.page;
    let token = links.split("/c/").nth(1).unwrap()[..26].to_owned();
    let join = Some("guests=4&serve=2027-06-26T13%3A00");
    let home = house.ask("", &format!("/c/{token}"), join).await.leads_to;
    let seats = "serve=2027-06-26T13%3A00&from=&to=&seats=8";
    let class = house.ask(own, &format!("{menu}/class"), Some(seats)).await.leads_to;
    (format!("{home}/log"), format!("{class}/log"))
}

/// `[2:45 before now]` as a form writes an hour of the zone of the table.
fn key_of(page: &str) -> String {
    let after = page.split("name=\"log\" value=\"").nth(1).unwrap();
    after.split('"').next().unwrap().replace('|', "%7C").replace(' ', "+").replace(',', "%2C")
}

#[tokio::test]
async fn a_student_cools_a_soup_by_the_thermometer() {
    let house = House::open().await;
    let own = house.school("Tarnwick Cookery Room").await;
    let (home, class) = logs(&house, &own).await;
    let empty = house.ask("", &home, None).await;
    assert_eq!(empty.status, StatusCode::OK);
    assert!(empty.page.contains("Begin a log"));
    // 82 in Fahrenheit is asked about, nothing typed is lost, and nothing is kept.
    let slip = "act=begin&kind=cooling&dish=A&what=&depth=2.5&degrees=82&scale=F&hour=";
    let asked = house.ask("", &home, Some(slip)).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in
        ["Did you mean 82\u{a0}°C?", "value=\"2.5\"", "value=\"82\"", "It is right as it stands"]
    {
        assert!(asked.page.contains(words), "{words} in {}", asked.page);
    }
    assert!(!house.ask("", &home, None).await.page.contains("name=\"log\""), "nothing was kept");
    let begin = "act=begin&kind=cooling&dish=A&what=&depth=2.5&degrees=82&scale=C&hour=";
    assert_eq!(house.ask("", &home, Some(begin)).await.status, StatusCode::SEE_OTHER);
    let page = house.ask("", &home, None).await.page;
    for words in ["Leek soup, 2.5 cm deep", "UNPROVEN", "it must be 21\u{a0}°C or less"] {
        assert!(page.contains(words), "{words} in {page}");
    }
    assert!(!page.to_lowercase().contains(" safe"), "nobody is promised anything");
    // A reading before the last is refused by its hour.
    let key = key_of(&page);
    let now = page.split("placeholder=\"").nth(1).unwrap()[..5].to_owned();
    let twice = format!("act=read&log={key}&degrees=60&scale=C&hour={now}");
    let refused = house.ask("", &home, Some(&twice)).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.page.contains("Write readings in the order"), "{}", refused.page);
    assert!(refused.page.contains("value=\"60\""), "nothing typed is lost");
    // The class has a book of its own.
    let there = house.ask(&own, &class, None).await;
    assert_eq!(there.status, StatusCode::OK);
    assert!(!there.page.contains("2.5 cm deep"));
}

#[tokio::test]
async fn a_class_measures_a_roast_and_strikes_a_slip_out() {
    let house = House::open().await;
    let own = house.school("Tarnwick Cookery Room").await;
    let (_, class) = logs(&house, &own).await;
    let begin = "act=begin&kind=core&food=poultry&dish=&what=Thighs%2C+lowest+of+three&degrees=80&scale=C&hour=";
    assert_eq!(house.ask(&own, &class, Some(begin)).await.status, StatusCode::SEE_OTHER);
    let page = house.ask(&own, &class, None).await.page;
    assert!(page.contains("PASS") && page.contains("73.9\u{a0}°C met at"), "{page}");
    let key = key_of(&page);
    let reading = page.split("name=\"reading\" value=\"").nth(1).unwrap()[..36].to_owned();
    let strike = format!("act=strike&log={key}&reading={reading}");
    assert_eq!(house.ask(&own, &class, Some(&strike)).await.status, StatusCode::SEE_OTHER);
    let page = house.ask(&own, &class, None).await.page;
    assert!(!page.contains("Thighs, lowest"), "a log without readings is gone: {page}");
    let nonsense = "act=begin&kind=hot&what=&depth=200&degrees=900&scale=F&hour=25%3A00";
    let all = house.ask(&own, &class, Some(nonsense)).await;
    assert_eq!(all.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["in a few words", "0.5 to 30 cm", "24 hours"] {
        assert!(all.page.contains(words), "{words}: all problems at once");
    }
    let absurd = "act=begin&kind=hot&what=Pot&degrees=900&scale=F&hour=&sure=yes";
    let absurd = house.ask(&own, &class, Some(absurd)).await;
    assert!(absurd.page.contains("no temperature of food"), "{}", absurd.page);
}

#[tokio::test]
async fn a_menu_a_class_and_a_home_show_their_limits_with_the_sum() {
    let house = House::open().await;
    let own = house.school("Tarnwick Cookery Room").await;
    let (home, class) = logs(&house, &own).await;
    // The school changes its rules after the menu was published.
    let base = "base=foodcode2022&by=Ada&reason=A+licensed+kitchen";
    house.ask(&own, "/limits/base", Some(base)).await;
    let classes = class.replace("/log", "/limits");
    for (key, address) in [("", home.replace("/log", "/limits")), (&*own, classes)] {
        let page = house.ask(key, &address, None).await.page;
        assert!(page.contains("Home kitchens (USDA and HHS)"), "as published: {page}");
        assert!(!page.contains("Food Code 2022"), "two sets of rules are never mixed");
        for words in ["Day by day", "made = day 1", "Minutes out of the fridge", "2 days"] {
            assert!(page.contains(words), "{words} in {page}");
        }
    }
}
