//! How far ahead and until when, for the two demonstration menus and for rule-book figures.
//!
//! The cards are those of `src/cli/demo/cards`. The dates are compared as instants.

use std::sync::Arc;

use dovetray::domain::card::{self, Card, DishKind, Place};
use dovetray::domain::dish::DishId;
use dovetray::domain::keeps::{
    Ahead, DishKeeps, Inner, Prefer, StopKeeps, ahead, keeps, looser_words,
};
use dovetray::domain::larder::Larder;
use dovetray::domain::limit::{Age, Base, Basis, Chosen, Clock, Frozen, Profile};
use dovetray::domain::menu::{Laid, LaidDish, Letter, Sitting, TableRule};
use dovetray::domain::moment::{ServiceTime, Zone};
use dovetray::domain::quantity::{Portions, Spoons};
use jiff::Timestamp;
use uuid::Uuid;

const A: &[&str] = &[
    "a-chilled-pea-and-lettuce-soup",
    "a-lemon-and-fennel-chicken-thighs",
    "a-courgette-and-tomato-bake",
    "a-roast-new-potatoes-and-carrots",
    "a-chickpea-flat-loaf",
    "a-two-colour-fruit-ice-loaf",
    "a-green-sauce",
];
const B: &[&str] = &[
    "b-celeriac-and-leek-soup",
    "b-caraway-mustard-pork-loin",
    "b-barley-with-mushrooms",
    "b-potato-and-leek-gratin",
    "b-winter-root-salad",
    "b-frozen-orange-cream-loaf",
    "b-soft-leeks",
];

fn read(text: &str) -> Card {
    let bases = ["Green sauce".to_owned(), "Soft leeks".to_owned()];
    card::read_with_bases(text, &Larder::shipped(), &bases).card
}

fn lay(cards: Vec<Card>, profile: Profile) -> Laid {
    let dish = |(place, card): (usize, Card)| LaidDish {
        id: DishId(Uuid::from_u128(place as u128 + 1)),
        letter: Letter::at(place).unwrap(),
        is_base: card.kind == DishKind::Base,
        title: card.title.clone(),
        revision: None,
        card: Arc::new(card),
    };
    Laid {
        school: "Tarnwick Cookery Room".to_owned(),
        zone: Zone::parse("Europe/Copenhagen").unwrap(),
        name: "Menu".to_owned(),
        publication: None,
        dishes: cards.into_iter().enumerate().map(dish).collect(),
        rule: TableRule::default(),
        choices: dovetray::domain::menu::Choices::new(),
        sweet_after_minutes: 45,
        larder: Larder::shipped(),
        profile: Arc::new(profile),
        spoons: Spoons::Round,
    }
}

fn menu(names: &[&str]) -> Laid {
    let folder = crate::demo::folder().join("cards");
    let text = |name: &&str| std::fs::read_to_string(folder.join(format!("{name}.txt"))).unwrap();
    lay(names.iter().map(|name| read(&text(name))).collect(), Profile::default())
}

fn one(text: &str, profile: Profile) -> Laid {
    lay(vec![read(text)], profile)
}

fn table(guests: u32, local: &str, zone: &str) -> Sitting {
    Sitting {
        name: "A table".to_owned(),
        guests: Portions::new(guests).unwrap(),
        serve: ServiceTime { local: local.parse().unwrap(), zone: Zone::parse(zone).unwrap() },
        choices: dovetray::domain::menu::Choices::new(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    }
}

fn at(local: &str, zone: &Zone) -> Timestamp {
    ServiceTime { local: local.parse().unwrap(), zone: zone.clone() }.instant()
}

fn stop<'a>(all: &'a [DishKeeps], title: &str, step: u32, place: Place) -> &'a StopKeeps {
    let dish = all.iter().find(|it| it.title == title).unwrap_or_else(|| panic!("{title}"));
    let found = dish.stops.iter().find(|it| it.step == step && it.place == place);
    found.unwrap_or_else(|| panic!("{title} {step}"))
}

/// What the demonstration file expects for one home, compared as instants.
fn compare(laid: &Laid, sitting: &Sitting, expected: &[(&str, u32, Place, &str)]) {
    let all = keeps(laid, sitting);
    for (title, step, place, local) in expected {
        let found = stop(&all, title, *step, *place);
        let wanted = at(local, &sitting.serve.zone);
        assert_eq!(found.earliest.at, wanted, "{title} {step}: {:#?}", found.trace);
    }
    let stops: usize = all.iter().map(|dish| dish.stops.len()).sum();
    assert_eq!(stops, expected.len(), "a stop is not in the table");
}

use Place::{Cool, Freezer, Fridge};

/// Story 3. The figures of `expected.not_before` of demonstration A. No rule row is stricter here
/// than the authors are, so all are equal.
#[test]
fn story_03_what_can_i_do_on_which_day() {
    let laid = menu(A);
    for (home, hour, zone) in
        [("ines", "17:00", "America/Halifax"), ("sunniva", "13:00", "Europe/Oslo")]
    {
        let sitting = table(4, &format!("2027-06-26T{hour}"), zone);
        let day = |day: &str| format!("2027-{day}T{hour}");
        let (d12, d21, d23, d24, d25) =
            (day("06-12"), day("06-21"), day("06-23"), day("06-24"), day("06-25"));
        let may = day("05-27");
        let expected: &[(&str, u32, Place, &str)] = &[
            ("Green sauce", 3, Fridge, &d24),
            ("Chilled pea and lettuce soup", 7, Fridge, &d23),
            ("Chilled pea and lettuce soup", 7, Freezer, &may),
            ("Lemon and fennel chicken thighs", 1, Fridge, &d24),
            ("Lemon and fennel chicken thighs", 2, Fridge, &d25),
            ("Courgette and tomato bake", 1, Cool, &d21),
            ("Courgette and tomato bake", 4, Fridge, &d25),
            ("Roast new potatoes and carrots", 1, Fridge, &d25),
            ("Roast new potatoes and carrots", 2, Fridge, &d24),
            ("Chickpea flat loaf", 1, Fridge, &d25),
            ("Two-colour fruit ice loaf", 7, Fridge, &d25),
            ("Two-colour fruit ice loaf", 8, Freezer, &d12),
        ];
        compare(&laid, &sitting, expected);
        let all = keeps(&laid, &sitting);
        for it in all.iter().flat_map(|dish| &dish.stops) {
            assert!(!it.reason.is_empty() && it.reason.contains("counted in"), "{home}: {it:?}");
        }
        let chicken = all.iter().find(|it| it.title.contains("chicken")).unwrap();
        assert_eq!(chicken.bought.len(), 1, "{:?}", chicken.bought);
        let bought = &chicken.bought[0];
        assert_eq!(bought.not_before.local.date(), jiff::civil::date(2027, 6, 25));
        assert!(bought.sentence.contains("last day Saturday 26 June"), "{}", bought.sentence);
        assert!(bought.source.contains("foodsafety.gov"), "{}", bought.source);
    }
}

#[test]
fn the_other_menu_gives_the_figures_of_its_file() {
    let laid = menu(B);
    for (local, zone, shift) in
        [("2027-01-23T19:30", "America/Chicago", 0), ("2027-01-24T17:00", "Pacific/Auckland", 0)]
    {
        let sitting = table(6, local, zone);
        let serve = sitting.serve.local;
        let back =
            |days: i64| serve.saturating_sub(jiff::Span::new().days(days + shift)).to_string();
        let (d1, d2, d3, d5) = (back(1), back(2), back(3), back(5));
        let (d14, d30, d60) = (back(14), back(30), back(60));
        let expected: &[(&str, u32, Place, &str)] = &[
            ("Soft leeks", 4, Fridge, &d3),
            ("Soft leeks", 4, Freezer, &d60),
            ("Celeriac and leek soup", 5, Fridge, &d3),
            ("Celeriac and leek soup", 5, Freezer, &d30),
            ("Caraway mustard pork loin", 1, Fridge, &d5),
            ("Caraway mustard pork loin", 2, Fridge, &d1),
            ("Barley with mushrooms", 5, Fridge, &d2),
            ("Potato and leek gratin", 5, Fridge, &d1),
            ("Winter root salad", 1, Fridge, &d5),
            ("Winter root salad", 2, Fridge, &d1),
            ("Winter root salad", 3, Fridge, &d1),
            ("Frozen orange cream loaf", 3, Freezer, &d14),
        ];
        compare(&laid, &sitting, expected);
    }
}

/// Story 19: leeks inside a gratin that is layered on the 22nd and eaten on the 23rd.
#[test]
fn story_19_age_of_a_base() {
    let laid = menu(B);
    let sitting = table(6, "2027-01-23T19:30", "America/Chicago");
    let zone = &sitting.serve.zone;
    let all = keeps(&laid, &sitting);
    let gratin = stop(&all, "Potato and leek gratin", 5, Fridge);
    let leeks = stop(&all, "Soft leeks", 4, Fridge);
    let until = |made: &str, frozen: Option<(&str, &str)>| {
        let frozen = frozen.map(|(on, thaw)| Frozen { at: at(on, zone), thaw_at: at(thaw, zone) });
        let age = Age { made_at: at(made, zone), frozen };
        let inner = Inner { title: "Soft leeks", stop: leeks, age };
        gratin.keep_until(Age::fresh(at("2027-01-22T20:00", zone)), &[inner], zone)
    };
    let eaten = sitting.serve.instant();
    let ok = until("2027-01-20T20:00", None).unwrap();
    assert!(ok.until.at >= eaten, "day 4 of 4: {ok:#?}");
    for (made, last) in
        [("2027-01-19T20:00", "Friday 22 January"), ("2027-01-18T20:00", "Thursday 21 January")]
    {
        let late = until(made, None).unwrap();
        assert!(late.until.at < eaten, "{made}: {late:#?}");
        let said: Vec<_> = late.trace.lines.iter().map(|line| line.words.as_str()).collect();
        let line = said.iter().find(|words| words.contains(&format!("Last day {last}")));
        assert!(line.is_some_and(|it| it.contains("the day of making as day 1")), "{said:#?}");
        assert!(late.reason.starts_with("Soft leeks inside: "), "{}", late.reason);
    }
    let frozen = |thaw| until("2027-01-10T10:00", Some(("2027-01-10T14:00", thaw))).unwrap();
    let in_time = frozen("2027-01-21T19:00");
    assert!(in_time.until.at >= eaten, "{in_time:#?}");
    let too_soon = frozen("2027-01-20T19:00");
    assert!(too_soon.until.at < eaten, "{too_soon:#?}");
    assert_eq!(too_soon.limit.clock, Clock::Days(4), "the calendar ends it, not the hours");
    assert!(too_soon.trace.lines.iter().any(|it| it.words.contains("Last day Friday 22 January")));
}

#[test]
fn an_authors_looser_figure_is_said_back() {
    let card = "base: Garlic oil\nmakes: 200 g\n\n1. Stir. [3 min] [stop fridge 10 days]\n   + 4 cloves garlic\n   + 200 ml olive oil\n";
    let laid = one(card, Profile::default());
    let all = keeps(&laid, &table(4, "2027-06-26T17:00", "America/Halifax"));
    let words = looser_words(&all[0].stops[0]).unwrap();
    assert!(words.starts_with("You wrote 10 days; this rule allows 2 days ("), "{words}");
    assert!(words.contains("National Center for Home Food Preservation"), "{words}");
    assert!(words.ends_with("The plan uses 2 days."), "{words}");
    let inside = "base: Garlic oil\nmakes: 200 g\n\n1. Stir. [3 min] [stop fridge 2 days]\n   + 4 cloves garlic\n   + 200 ml olive oil\n";
    let all = keeps(&one(inside, Profile::default()), &table(4, "2027-06-26T17:00", "Etc/UTC"));
    assert_eq!(looser_words(&all[0].stops[0]), None);
}

#[test]
fn the_authors_word_for_the_kind_decides() {
    let card = |kind: &str| {
        format!(
            "dish: Pot\nfor: 4\n\n1. Boil. [hob 20 min] [stop fridge 9 days]{kind}\n   + 300 g rice\n"
        )
    };
    let sitting = table(4, "2027-06-26T17:00", "Etc/UTC");
    let keys = |text: &str| -> Vec<_> {
        let all = keeps(&one(text, Profile::default()), &sitting);
        all[0].stops[0].limits.iter().map(|it| it.whose.clone()).collect()
    };
    use dovetray::domain::keeps::Whose;
    assert!(keys(&card("")).contains(&Whose::Rule("cooked_rice".to_owned())));
    let named = keys(&card(" [kind gravy]"));
    assert_eq!(named, [Whose::Card, Whose::Rule("gravy".to_owned())]);
}

/// Food Code 3-501.17 against the consumer chart: 7 days or 4 (rule book 2.4).
#[test]
fn a_licensed_kitchen_has_the_date_mark_and_a_home_the_chart() {
    let card = "dish: Stew\nfor: 4\n\n1. Braise. [oven 150C 120 min] [stop fridge 20 days safety: stew]\n   + 1 kg beef\n";
    let sitting = table(4, "2026-06-07T19:00", "Etc/UTC");
    for (base, first) in [
        (Base::Home, "2026-06-04"),
        (Base::FoodCode2022, "2026-06-01"),
        (Base::FoodCode2017, "2026-06-01"),
    ] {
        let all = keeps(&one(card, Profile::shipped(base)), &sitting);
        assert_eq!(all[0].stops[0].earliest.local.date().to_string(), first, "{base:?}");
    }
}

#[test]
fn a_school_may_tighten_and_never_loosen() {
    let chosen = || Chosen {
        by: "Ada".to_owned(),
        on: jiff::civil::date(2027, 5, 12),
        reason: "our fridge is full of guests".to_owned(),
    };
    let mut profile = Profile::default();
    let refused = profile.tighten("any_cooked", 5, chosen()).unwrap_err().to_string();
    assert!(refused.contains("allows 4 days") && refused.contains("foodsafety.gov"), "{refused}");
    profile.tighten("any_cooked", 2, chosen()).unwrap();
    assert!(profile.tighten("home_2h", 121, chosen()).is_err());
    profile.tighten("home_2h", 90, chosen()).unwrap();
    assert_eq!(profile.room_minutes(), 90);
    let card = "dish: Pot\nfor: 4\n\n1. Boil. [hob 20 min] [stop fridge 4 days safety: cooked]\n   + 300 g leeks\n";
    let sitting = table(4, "2027-06-26T17:00", "Etc/UTC");
    let own = keeps(&one(card, profile), &sitting);
    assert_eq!(own[0].stops[0].earliest.local.to_string(), "2027-06-24T17:00:00");
    assert!(own[0].stops[0].reason.starts_with("The school gives 2 days"));
    // The published figure is taken by name, date and reason, and nothing looser exists.
    let mut profile = Profile::default();
    let rice = profile.row("cooked_rice").unwrap().clone();
    assert_eq!((profile.days(&rice), rice.published_days), (Some(4), Some(6)));
    profile.choose_published("cooked_rice", chosen()).unwrap();
    assert_eq!(profile.days(&rice), Some(6));
    assert!(profile.choose_published("leftover_veg", chosen()).is_err(), "nothing to choose");
}

#[test]
fn bread_at_the_counter_has_no_room_clock_and_a_stew_has() {
    let sitting = table(4, "2027-06-26T17:00", "Etc/UTC");
    let earliest = |text: &str| {
        let all = keeps(&one(text, Profile::default()), &sitting);
        all[0].stops[0].earliest.local.to_string()
    };
    let bread = "dish: Bread\nfor: 8\n\n1. Bake. [oven 220C 40 min] [stop counter 2 days]\n   + 500 g flour\n   + 300 ml water\n";
    assert_eq!(earliest(bread), "2027-06-24T17:00:00");
    let stew =
        "dish: Stew\nfor: 8\n\n1. Simmer. [hob 40 min] [stop counter 5 h]\n   + 500 g leeks\n";
    assert_eq!(earliest(stew), "2027-06-26T15:00:00", "120 minutes, not 5 hours");
}

fn day<'a>(plan: &'a Ahead, date: &str) -> &'a dovetray::domain::keeps::AheadDay {
    plan.days.iter().find(|it| it.date.to_string() == date).unwrap_or_else(|| panic!("{plan:#?}"))
}

/// Ines: freezer full, one evening for what keeps a day, two for the rest.
#[test]
fn work_is_laid_out_by_day_and_a_full_freezer_takes_the_cards_own_way() {
    let laid = menu(A);
    let mut sitting = table(4, "2027-06-26T17:00", "America/Halifax");
    sitting.shop_on = Some(jiff::civil::date(2027, 6, 24));
    sitting.freezer_litres = Some(0);
    let plan = ahead(&laid, &sitting, Prefer::Early);
    let thursday: Vec<_> =
        day(&plan, "2027-06-24").jobs.iter().map(|it| it.what.as_str()).collect();
    for what in ["Green sauce", "Chilled pea and lettuce soup", "crumb", "carrots"] {
        assert!(thursday.contains(&what), "{what} in {thursday:?}");
    }
    let friday = day(&plan, "2027-06-25");
    let glasses = friday.jobs.iter().find(|it| it.what.contains("without a freezer")).unwrap();
    assert_eq!(glasses.not_before.local.to_string(), "2027-06-25T17:00:00");
    assert_eq!(glasses.place, Fridge);
    let chicken = friday.jobs.iter().find(|it| it.is_raw).unwrap();
    assert_eq!(chicken.not_before.local.to_string(), "2027-06-25T17:00:00");
    assert!(
        plan.refused.iter().any(|it| it.contains("freezer has 0 l free")),
        "{:?}",
        plan.refused
    );
    let jobs: Vec<_> = plan.days.iter().flat_map(|it| &it.jobs).collect();
    let last = plan.days.last().unwrap();
    assert_eq!(last.take_out.len(), jobs.len(), "every box is taken out");
    for job in &jobs {
        assert!(job.keep_until.at >= sitting.serve.instant(), "{job:#?}");
        assert!(job.not_before.at <= job.planned.at, "{job:#?}");
    }
    let labels: Vec<_> = jobs.iter().map(|it| it.label).collect();
    assert_eq!(labels, (1..=u32::try_from(jobs.len()).unwrap()).collect::<Vec<_>>());
    let late = ahead(&laid, &sitting, Prefer::Late);
    assert!(late.days[0].date >= plan.days[0].date);
}

#[test]
fn a_freezer_with_room_gets_a_thaw_line() {
    let card = "dish: Soup\nfor: 4\n\n1. Boil. [hob 20 min] [box 2 l] [stop freezer 30 days quality: colour, thaw 24 h]\n   + 300 g leeks\n2. Warm. [hob 10 min] [day of]\n";
    let laid = one(card, Profile::default());
    let sitting = table(4, "2027-06-26T17:00", "Etc/UTC");
    let plan = ahead(&laid, &sitting, Prefer::Late);
    let thaw = &day(&plan, "2027-06-25").thaw[0];
    assert_eq!(thaw.at.local.to_string(), "2027-06-25T17:00:00");
    assert!(thaw.sentence.contains("Move box 1 to the fridge by Friday 25 June, 17:00"));
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    fn stops(days: u32, profile: &Profile, hour: i64) -> Vec<StopKeeps> {
        let card = format!(
            "dish: Pot\nfor: 4\n\n1. Boil. [hob 20 min] [stop fridge {days} days safety: cooked]\n   + 300 g rice\n"
        );
        let mut sitting = table(4, "2027-06-26T00:00", "Europe/Oslo");
        sitting.serve.local = sitting.serve.local.saturating_add(jiff::Span::new().hours(hour));
        keeps(&one(&card, profile.clone()), &sitting).remove(0).stops
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn a_tighter_row_never_lets_it_be_made_earlier(days in 1_u32..9, own in 1_u32..5, hour in 1_i64..200) {
            let plain = Profile::default();
            let mut tight = Profile::default();
            let chosen = Chosen { by: "A".into(), on: jiff::civil::date(2027, 1, 1), reason: "B".into() };
            tight.tighten("any_cooked", own, chosen).unwrap();
            let (before, after) = (stops(days, &plain, hour), stops(days, &tight, hour));
            prop_assert!(after[0].earliest >= before[0].earliest);
        }

        #[test]
        fn a_later_table_never_lets_it_be_made_earlier(days in 1_u32..9, hour in 1_i64..200, more in 0_i64..200) {
            let plain = Profile::default();
            prop_assert!(stops(days, &plain, hour + more)[0].earliest >= stops(days, &plain, hour)[0].earliest);
        }

        #[test]
        fn made_at_the_earliest_moment_it_keeps_to_the_table(days in 1_u32..9, hour in 1_i64..200) {
            let stop = stops(days, &Profile::default(), hour).remove(0);
            let zone = Zone::parse("Europe/Oslo").unwrap();
            let mut serve = table(4, "2027-06-26T00:00", "Europe/Oslo").serve;
            serve.local = serve.local.saturating_add(jiff::Span::new().hours(hour));
            let kept = stop.keep_until(Age::fresh(stop.earliest.at), &[], &zone).unwrap();
            prop_assert!(kept.until.at >= serve.instant(), "{kept:?}");
        }

        #[test]
        fn time_frozen_adds_no_age_and_figures_may_stand_in_any_order(days in 2_u32..6, weeks in 0_i64..8) {
            let mut stop = stops(days, &Profile::default(), 12).remove(0);
            let zone = Zone::parse("Europe/Oslo").unwrap();
            let made_at = at("2027-02-01T10:00", &zone);
            let frozen_at = at("2027-02-01T12:00", &zone);
            let thaw_at = frozen_at.saturating_add(jiff::SignedDuration::from_hours(24 * 7 * weeks)).unwrap();
            let age = Age { made_at, frozen: Some(Frozen { at: frozen_at, thaw_at }) };
            for limit in stop.limits.iter().filter(|it| matches!(it.clock, Clock::Elapsed(_)) && it.by == Basis::Safety) {
                let fresh = limit.end(&Age::fresh(made_at), &zone).unwrap();
                let kept = limit.end(&age, &zone).unwrap();
                prop_assert_eq!(kept.duration_since(fresh), thaw_at.duration_since(frozen_at));
            }
            let one = stop.keep_until(age, &[], &zone).unwrap().until;
            stop.limits.reverse();
            prop_assert_eq!(stop.keep_until(age, &[], &zone).unwrap().until, one);
        }
    }
}

/// A school's change travels from its page to the limits of a card, by version, with name and reason.
mod pages {
    use axum::http::StatusCode;

    use crate::house::House;

    #[tokio::test]
    async fn a_limit_is_tightened_by_name_and_reason_and_shortens_the_card() {
        let house = House::open().await;
        let key = house.school("Tarnwick Cookery Room").await;
        let card =
            "card=Pot%0A1.+Boil.+%5Bhob+20+min%5D+%5Bstop+fridge+3+days%5D%0A%2B+300+g+leeks";
        let dish = house.ask(&key, "/dishes/new", Some(card)).await.leads_to;
        assert!(house.ask(&key, &dish, None).await.page.contains("The card gives 3 days"));
        let refused = "key=any_cooked&what=tighten&most=9&by=&reason=";
        let answer = house.ask(&key, "/limits/row", Some(refused)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        for words in ["allows 4 days", "9 days would be looser", "Write your name", "Write why"] {
            assert!(answer.page.contains(words), "{words} in {}", answer.page);
        }
        let tighter = "key=any_cooked&what=tighten&most=1&by=Ada&reason=A+warm+fridge";
        let answer = house.ask(&key, "/limits/row", Some(tighter)).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER);
        let page = house.ask(&key, "/limits", None).await.page;
        assert!(page.contains("Version 1") && page.contains("by Ada: A warm fridge"), "{page}");
        assert!(house.ask(&key, &dish, None).await.page.contains("The school gives 1 day"));
        let other = house.school("Quillfen Evening Kitchen").await;
        let page = house.ask(&other, "/limits", None).await.page;
        assert!(page.contains("nothing changed by the school"), "another school keeps its own");
        let base = "base=foodcode2022&by=Ada&reason=Our+kitchen+is+licensed";
        assert_eq!(house.ask(&key, "/limits/base", Some(base)).await.status, StatusCode::SEE_OTHER);
        let page = house.ask(&key, "/limits", None).await.page;
        assert!(page.contains("Food Code 2022") && page.contains("Version 2"), "{page}");
        assert!(house.ask(&key, &dish, None).await.page.contains("The school gives 1 day"));
        let none = house.ask(&key, "/limits/row?key=nothing", None).await;
        assert_eq!(none.status, StatusCode::NOT_FOUND);
    }
}
