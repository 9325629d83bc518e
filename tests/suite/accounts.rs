//! Who may enter, as the people at the door meet it: links, passwords, throttles, sessions.

use std::time::Instant;

use crate::house::{Answer, House};
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use dovetray::domain::account::Login;
use dovetray::storage::LinkPurpose;
use dovetray::web::new_link;

const PASSWORD: &str = "quince+ladle+barrow+moth";

async fn link(house: &House, purpose: LinkPurpose) -> String {
    let state = house.state();
    let url = &state.public_url;
    let link = new_link(&state.storage, state.clock, &state.chance, url, purpose).await.unwrap();
    link.strip_prefix("http://kitchen.example/classes").unwrap().to_owned()
}

/// A school founded through its link, by `ada` with [`PASSWORD`]; the answer is her cookie.
async fn founded(house: &House) -> String {
    let link = link(house, LinkPurpose::SetUp).await;
    let form =
        format!("school=Tarnwick+Cookery+Room&login=ada&password={PASSWORD}&zone=Europe/Oslo");
    let answer = house.ask("", &link, Some(&form)).await;
    assert_eq!(answer.leads_to, "/dishes/new", "{}", answer.page);
    key_in(&answer)
}

fn key_in(answer: &Answer) -> String {
    let cookie = answer.cookie.strip_prefix("dovetray=").expect("a cookie is set");
    cookie.split(';').next().unwrap().to_owned()
}

async fn sign_in(house: &House, login: &str, password: &str) -> Answer {
    house.ask("", "/enter", Some(&format!("login={login}&password={password}"))).await
}

#[tokio::test]
async fn story_1_three_answers_make_a_school_and_lead_to_the_first_dish() {
    let house = House::open().await;
    let link = link(&house, LinkPurpose::SetUp).await;
    let page = house.ask("", &link, None).await.page;
    for words in ["Make your school", "autocomplete=\"new-password\"", "data-zone"] {
        assert!(page.contains(words), "{words}");
    }
    let wrong = house.ask("", &link, Some("school=+&login=&password=quinceladlebar")).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "Enter the name of the school",
        "Enter the name you sign in with",
        "The password must have 15 characters or more; this one has 14",
    ] {
        assert!(wrong.page.contains(words), "{words}");
    }
    assert!(!wrong.page.contains("quinceladlebar"), "a password is never shown again");
    let form = format!("school=Tarnwick&login=ada&password={PASSWORD}&zone=Europe/Oslo");
    // Two at once: one school.
    let (one, two) =
        tokio::join!(house.ask("", &link, Some(&form)), house.ask("", &link, Some(&form)));
    let mut statuses = [one.status.as_u16(), two.status.as_u16()];
    statuses.sort_unstable();
    assert_eq!(statuses, [303, 404]);
    let won = if one.status == StatusCode::SEE_OTHER { one } else { two };
    assert_eq!(won.leads_to, "/dishes/new");
    let key = key_in(&won);
    assert!(house.ask(&key, "/school", None).await.page.contains("value=\"Europe/Oslo\""));
    for form in [None, Some(form.as_str())] {
        assert_eq!(
            house.ask("", &link, form).await.status,
            StatusCode::NOT_FOUND,
            "closed for good"
        );
    }
    assert_eq!(house.ask("", "/set-up/abc", None).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_browser_without_script_gets_the_settings_of_its_region() {
    let house = House::open().await;
    let link = link(&house, LinkPurpose::SetUp).await;
    let form = format!("school=Tarnwick&login=ada&password={PASSWORD}&zone=");
    let request = Request::post(format!("/classes{link}"))
        .header(header::HOST, "kitchen.example")
        .header(header::ORIGIN, "http://kitchen.example")
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
        .header(header::ACCEPT_LANGUAGE, "en-US,en;q=0.8");
    let answer = house.send(request.body(Body::from(form)).unwrap()).await;
    let page = house.ask(&key_in(&answer), "/school", None).await.page;
    for words in ["America/New_York", "value=\"Letter\" selected", "value=\"USD\" selected"] {
        assert!(page.contains(words), "{words}");
    }
}

#[tokio::test]
async fn a_second_instructor_joins_by_invitation() {
    let house = House::open().await;
    let ada = founded(&house).await;
    let invitation = link(&house, LinkPurpose::Invite(house.school_id(&ada).await)).await;
    let taken = format!("login=ADA&password={PASSWORD}");
    let taken = house.ask("", &invitation, Some(&taken)).await;
    assert_eq!(taken.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(taken.page.contains("Somebody here signs in with this name"));
    let joined = format!("login=bo&password={PASSWORD}");
    let joined = house.ask("", &invitation, Some(&joined)).await;
    let bo = key_in(&joined);
    assert_eq!(house.school_id(&bo).await, house.school_id(&ada).await);
    assert_eq!(house.ask("", &invitation, None).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn signing_in_takes_the_exact_password_and_makes_a_new_session() {
    let house = House::open().await;
    founded(&house).await;
    for wrong in ["quince+ladle+barrow+mot", "Quince+ladle+barrow+moth", ""] {
        let refused = sign_in(&house, "ada", wrong).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
        assert!(refused.cookie.is_empty());
    }
    let form = format!("login=ADA&password={PASSWORD}&to=/dishes/new");
    let chosen = "aaaaaaaaaaaaaaaaaaaaaaaaaa";
    let entered = house.ask(chosen, "/enter", Some(&form)).await;
    assert_eq!(entered.leads_to, "/dishes/new");
    assert_ne!(key_in(&entered), chosen, "what the browser brings is never taken over");
    assert_eq!(house.ask(chosen, "/dishes", None).await.leads_to, "/enter?to=/dishes");
    let away = format!("login=ada&password={PASSWORD}&to=//evil.example");
    assert_eq!(house.ask("", "/enter", Some(&away)).await.leads_to, "/");
    let attributes = entered.cookie.split_once("; ").unwrap().1;
    assert_eq!(attributes, "Path=/classes/; Max-Age=7776000; HttpOnly; SameSite=Lax");
    let page = house.ask(&key_in(&entered), "/dishes", None).await;
    assert_eq!(page.cache, "no-store");
}

#[tokio::test]
async fn over_https_the_cookie_can_be_set_by_nobody_else() {
    let house = House::open_at("https://kitchen.example").await;
    let link = {
        let state = house.state();
        let (url, chance) = (&state.public_url, &state.chance);
        let link = new_link(&state.storage, state.clock, chance, url, LinkPurpose::SetUp);
        link.await.unwrap()
    };
    let form = format!("school=Tarnwick&login=ada&password={PASSWORD}");
    let request = Request::post(link.strip_prefix("https://kitchen.example").unwrap())
        .header(header::HOST, "kitchen.example")
        .header(header::ORIGIN, "https://kitchen.example")
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    let answer = house.send(request.body(Body::from(form)).unwrap()).await;
    assert!(answer.cookie.starts_with("__Host-dovetray="), "{}", answer.cookie);
    assert!(answer.cookie.ends_with("; Path=/; Max-Age=7776000; HttpOnly; SameSite=Lax; Secure"));
    assert!(answer.is_strict_transport, "a browser that came by https stays with it");
}

#[tokio::test]
async fn a_name_that_exists_cannot_be_told_from_one_that_does_not() {
    let house = House::open().await;
    let ada = founded(&house).await;
    let invitation = link(&house, LinkPurpose::Invite(house.school_id(&ada).await)).await;
    house.ask("", &invitation, Some(&format!("login=bo&password={PASSWORD}"))).await;
    let storage = &house.state().storage;
    let bo = storage.credentials(&Login::parse("bo").unwrap()).await.unwrap().unwrap().account;
    storage.set_disabled(&bo, Some(house.state().clock.now())).await.unwrap();
    let cases = [("ada", "wrong+wrong+wrong"), ("nobody", "wrong+wrong+wrong"), ("bo", PASSWORD)];
    for round in 0..8 {
        let mut answers = Vec::new();
        for (login, password) in cases {
            let answer = sign_in(&house, login, password).await;
            let page = answer.page.replace(&format!("value=\"{login}\""), "value=\"\"");
            answers.push((answer.status, page, answer.cookie, answer.retry_after));
        }
        assert!(answers.iter().all(|it| *it == answers[0]), "round {round}");
        let expected = if round < 5 { 422 } else { 429 };
        assert_eq!(answers[0].0.as_u16(), expected, "round {round}");
    }
}

/// Measured on the hash alone: the work for an unknown name is the work for a known one.
#[tokio::test]
async fn an_unknown_name_takes_as_long_as_a_known_one() {
    use dovetray::domain::account::Password;
    use dovetray::web::{Cost, Hasher};
    let hasher = Hasher::new(Cost::STANDARD);
    let password = Password::parse("quince ladle barrow moth", &[]).unwrap();
    let kept = hasher.hash(&password, [7; 16]).await.unwrap();
    let mut times = [Vec::new(), Vec::new()];
    for _ in 0..7 {
        for (times, kept) in times.iter_mut().zip([Some(kept.as_str()), None]) {
            #[expect(clippy::disallowed_methods, reason = "this is about time")]
            let begun = Instant::now();
            hasher.verify("wrong wrong wrong wrong", kept).await.unwrap();
            times.push(begun.elapsed());
        }
    }
    let least = times.map(|times| times.into_iter().min().unwrap().as_secs_f64());
    // Wide, since the machine is shared: without the dummy the second is under a thousandth.
    assert!(least[1] > 0.5 * least[0] && least[1] < 2.0 * least[0], "{least:?}");
}

#[tokio::test]
async fn a_throttled_name_opens_again_after_its_delay_and_a_restart_forgets_nothing() {
    let house = House::open().await;
    founded(&house).await;
    for _ in 0..5 {
        let wrong = sign_in(&house, "ada", "wrong+wrong+wrong").await;
        assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    }
    let house = house.restarted().await;
    let early = sign_in(&house, "ada", PASSWORD).await;
    assert_eq!((early.status.as_u16(), early.retry_after.as_str()), (429, "1"));
    assert!(early.page.contains("Wait 1 s, then sign in again"));
    let house = house.later(1).await;
    assert_eq!(sign_in(&house, "ada", PASSWORD).await.status, StatusCode::SEE_OTHER);
    for _ in 0..5 {
        let wrong = sign_in(&house, "ada", "wrong+wrong+wrong").await;
        assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY, "success starts it afresh");
    }
}

#[tokio::test]
async fn many_names_from_one_address_and_guessed_links_are_stopped_too() {
    let house = House::open().await;
    for number in 0..30 {
        let answer = sign_in(&house, &format!("n{number}"), "wrong").await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{number}");
    }
    let stopped = sign_in(&house, "n30", "wrong").await;
    assert_eq!((stopped.status.as_u16(), stopped.retry_after.as_str()), (429, "600"));
    let open = link(&house, LinkPurpose::SetUp).await;
    for number in 0..60 {
        let answer = house.ask("", &format!("/join/guess{number}"), None).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{number}");
    }
    let stopped = house.ask("", "/join/guess60", None).await;
    assert_eq!(stopped.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(stopped.page.contains("Too many tries"));
    assert_eq!(house.ask("", &open, None).await.status, StatusCode::OK, "a right link still opens");
}

#[tokio::test]
async fn a_new_password_by_link_works_once_within_the_hour_and_ends_all_sessions() {
    let house = House::open().await;
    let ada = founded(&house).await;
    let login = Login::parse("ada").unwrap();
    let account = house.state().storage.credentials(&login).await.unwrap().unwrap().account;
    let purpose = LinkPurpose::Reset(account.school, account.id);
    let older = link(&house, purpose).await;
    let newer = link(&house, purpose).await;
    assert_eq!(house.ask("", &older, None).await.status, StatusCode::NOT_FOUND, "ended by a newer");
    let house = house.later(3_599).await;
    for _ in 0..3 {
        assert_eq!(
            house.ask("", &newer, None).await.status,
            StatusCode::OK,
            "looking uses nothing up"
        );
    }
    let bad = house.ask("", &newer, Some("password=Tarnwick+Cookery+Room")).await;
    assert!(bad.page.contains("not the name of the school"), "{}", bad.page);
    let set = house.ask("", &newer, Some("password=thimble+oat+gable+fern")).await;
    assert_eq!((set.leads_to.as_str(), set.cookie.as_str()), ("/enter", ""), "signs nobody in");
    assert_eq!(house.ask("", &newer, None).await.status, StatusCode::NOT_FOUND, "used");
    assert!(house.ask(&ada, "/dishes", None).await.leads_to.starts_with("/enter"));
    assert_eq!(sign_in(&house, "ada", PASSWORD).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let late = link(&house, purpose).await;
    let house = house.later(3_600).await;
    assert_eq!(house.ask("", &late, None).await.status, StatusCode::NOT_FOUND, "the hour is over");
    let entered = sign_in(&house, "ada", "thimble+oat+gable+fern").await;
    assert_eq!(entered.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn changing_the_password_asks_for_the_old_one_and_signs_out_the_other_browsers() {
    let house = House::open().await;
    let here = founded(&house).await;
    let there = key_in(&sign_in(&house, "ada", PASSWORD).await);
    for wrong in ["current=&password=thimble+oat+gable+fern", "current=wrong&password=short"] {
        let refused = house.ask(&here, "/school/password", Some(wrong)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(refused.page.contains("Enter the password you sign in with now"));
    }
    let form = format!("current={PASSWORD}&password=thimble+oat+gable+fern");
    let changed = house.ask(&here, "/school/password", Some(&form)).await;
    assert_eq!(changed.leads_to, "/school", "{}", changed.page);
    for old in [&here, &there] {
        assert!(house.ask(old, "/dishes", None).await.leads_to.starts_with("/enter"));
    }
    let new = key_in(&changed);
    assert_eq!(house.ask(&new, "/dishes", None).await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_session_ends_by_leaving_by_idleness_by_age_and_from_the_list() {
    let house = House::open().await;
    let one = founded(&house).await;
    let two = key_in(&sign_in(&house, "ada", PASSWORD).await);
    let page = house.ask(&one, "/school", None).await.page;
    let other = page.split("/classes/school/browsers/").nth(1).unwrap().split('"').next().unwrap();
    let ended = house.ask(&one, &format!("/school/browsers/{other}"), Some("")).await;
    assert_eq!(ended.leads_to, "/school");
    assert!(house.ask(&two, "/dishes", None).await.leads_to.starts_with("/enter"));
    assert_eq!(house.ask(&one, "/leave", None).await.status, StatusCode::METHOD_NOT_ALLOWED);
    let left = house.ask(&one, "/leave", Some("")).await;
    assert!(left.clears_site_data && left.cookie.contains("Max-Age=0"), "{}", left.cookie);
    assert!(house.ask(&one, "/dishes", None).await.leads_to.starts_with("/enter"));

    const DAY: i64 = 24 * 3_600;
    let key = key_in(&sign_in(&house, "ada", PASSWORD).await);
    let mut house = house;
    for day in 1..90 {
        house = house.later(DAY).await;
        assert_eq!(house.ask(&key, "/dishes", None).await.status, StatusCode::OK, "day {day}");
    }
    house = house.later(DAY).await;
    assert!(house.ask(&key, "/dishes", None).await.leads_to.starts_with("/enter"), "by age");
    let key = key_in(&sign_in(&house, "ada", PASSWORD).await);
    house = house.later(14 * DAY - 1).await;
    assert_eq!(house.ask(&key, "/dishes", None).await.status, StatusCode::OK);
    house = house.later(14 * DAY).await;
    assert!(house.ask(&key, "/dishes", None).await.leads_to.starts_with("/enter"), "by idleness");
}

#[tokio::test]
async fn the_schools_page_keeps_what_was_chosen_and_notices_another_hand() {
    let house = House::open().await;
    let key = founded(&house).await;
    let form = |name: &str, version: i64| {
        format!(
            "name={name}&zone=America/Halifax&paper=Letter&measures=US&currency=CAD\
             &spoons=customary&prices_shown=yes&version={version}"
        )
    };
    let saved = house.ask(&key, "/school", Some(&form("Quillfen", 1))).await;
    assert_eq!(saved.leads_to, "/school");
    let page = house.ask(&key, "/school", None).await.page;
    for words in ["Quillfen", "America/Halifax", "value=\"US\" selected", " checked"] {
        assert!(page.contains(words), "{words}");
    }
    let stale = house.ask(&key, "/school", Some(&form("Other", 1))).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(stale.page.contains("value=\"Other\"") && stale.page.contains("meanwhile"));
    let again = house.ask(&key, "/school", Some("name=&zone=Kitchen&paper=A3&version=2")).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["Enter the name of the school", "Name a time zone", "Choose one of the list"] {
        assert!(again.page.contains(words), "{words}");
    }
}

#[tokio::test]
async fn the_school_reads_what_was_done_and_by_whom() {
    let house = House::open().await;
    let key = founded(&house).await;
    let strange = house.school("Another school").await;
    let dish = crate::house::dish(&house, &key, "Soft leeks\nfor: 4\n+ 2 leeks").await;
    // A wrong form changes nothing, and is not noted.
    house.ask(&key, "/menus/new", Some("name=&serve=never&guests=0")).await;
    assert_eq!(sign_in(&house, "ada", "wrong+wrong+wrong").await.status, 422);
    house.ask(&key, &format!("{dish}/archive"), Some("")).await;
    let mut page = String::new();
    for _ in 0..100 {
        page = house.ask(&key, "/school", None).await.page;
        if page.contains("was not let in") {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(10)).await;
    }
    for words in ["wrote a dish", "put a dish away", "was not let in", &dish] {
        assert!(page.contains(words), "{words} in {page}");
    }
    assert!(!page.contains("began a menu"));
    assert!(!house.ask(&strange, "/school", None).await.page.contains("put a dish away"));
}
