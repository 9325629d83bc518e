//! The shipped rules against a second copy of what was read: every verified row, figure by figure.
//!
//! `tests/rules` holds that copy: extracts of the rule book's tables, whose last column names the
//! source each row was read from there. It was not read from those sources once more. A row of one
//! that is missing in the other is an error, too.

use std::path::Path;

use dovetray::domain::heat::{Degrees, Scale};
use dovetray::domain::limit::{Base, Basis, Bound, Chosen, LimitError, Profile, Sense, Status};

fn table(name: &str) -> Vec<Vec<String>> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/rules").join(name);
    let mut reader = csv::Reader::from_path(file).unwrap();
    let rows = reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect());
    rows.collect()
}

/// A figure as a source prints it, without a zero behind the point.
fn printed(cell: &str) -> Option<String> {
    let cell = cell.replace('-', "\u{2212}");
    let cell = cell.strip_suffix(".0").unwrap_or(&cell);
    (!cell.is_empty()).then(|| cell.to_owned())
}

/// FDA Food Code 3-401.11 to 3-403.11 (2022 and 2017) and the USDA/HHS chart: 50 verified rows, among
/// them the whole roast table of 3-401.11(B)(1).
#[test]
fn every_verified_core_temperature_is_exact() {
    let profile = Profile::default();
    let rows = table("core.csv");
    assert_eq!(rows.len(), 50);
    for row in rows {
        let [key, fahrenheit, celsius, hold, rest, section, source] = &row[..] else { panic!() };
        let figure = profile.figure(key).unwrap_or_else(|| panic!("{key} is not shipped"));
        assert_eq!(figure.fahrenheit.map(|it| it.figure()), printed(fahrenheit), "{key}");
        assert_eq!(figure.celsius.map(|it| it.figure()), printed(celsius), "{key}");
        assert_eq!(figure.status, Status::Verified, "{key}");
        assert!(figure.section.starts_with(section.as_str()), "{key}: {section}");
        assert!(figure.source.starts_with(source.as_str()), "{key}: {source}");
        assert_eq!(figure.sense, Sense::AtLeast, "{key}");
        // The microwave rows ask for standing covered, which is a rest and no hold at temperature.
        let whole = |cell: &str| cell.parse::<u32>().ok().filter(|it| *it > 0);
        if key.ends_with("microwave") {
            assert_eq!((figure.hold_seconds, figure.rest_minutes), (None, Some(2)), "{key}");
        } else {
            assert_eq!(
                (figure.hold_seconds, figure.rest_minutes),
                (whole(hold), whole(rest)),
                "{key}"
            );
        }
    }
}

/// Food Code 3-501.13 to .19, 3-502.12 and the consumer pages: 32 verified rows.
#[test]
fn every_verified_minute_and_degree_is_exact() {
    let profile = Profile::default();
    let rows = table("minutes.csv");
    assert_eq!(rows.len(), 32);
    for row in rows {
        let [key, count, unit, fahrenheit, celsius, section, _] = &row[..] else { panic!() };
        let figure = profile.figure(key).unwrap_or_else(|| panic!("{key} is not shipped"));
        assert_eq!(figure.figure.as_deref(), Some(count.as_str()), "{key}");
        assert_eq!(&*figure.unit, unit.as_str(), "{key}");
        assert_eq!(figure.fahrenheit.map(|it| it.figure()), printed(fahrenheit), "{key}");
        assert_eq!(figure.celsius.map(|it| it.figure()), printed(celsius), "{key}");
        assert_eq!(&*figure.section, section.as_str(), "{key}");
    }
}

/// foodsafety.gov Cold Food Storage Chart and the USDA storage data: every verified kind of food.
#[test]
fn every_verified_count_of_days_is_exact() {
    let profile = Profile::default();
    let rows = table("days.csv");
    assert!(rows.len() > 80, "{}", rows.len());
    for row in rows {
        let [key, published, cautious, basis, source] = &row[..] else { panic!() };
        let found = profile.row(key).unwrap_or_else(|| panic!("{key} is not shipped"));
        assert_eq!(found.published_days, published.parse().ok(), "{key}");
        assert_eq!(found.cautious_days, cautious.parse().ok(), "{key}");
        assert_eq!(found.basis == Basis::Safety, basis == "safety", "{key}");
        assert!(found.source.starts_with(source.as_str()), "{key}: {source}");
        assert_eq!(found.status, Status::Verified, "{key}");
        assert_eq!(profile.days(found), cautious.parse().ok(), "{key}: the cautious figure holds");
    }
}

/// Food Code 3-401.11(B)(2), least oven air by kind of oven and weight of the roast.
#[test]
fn the_oven_of_a_roast_is_exact() {
    let profile = Profile::shipped(Base::FoodCode2022);
    let rows = [
        ("still_small", Sense::AtLeast, "350", "177"),
        ("still_large", Sense::AtLeast, "250", "121"),
        ("convection_small", Sense::AtLeast, "325", "163"),
        ("convection_large", Sense::AtLeast, "250", "121"),
        ("humid", Sense::AtMost, "250", "121"),
    ];
    for (name, sense, fahrenheit, celsius) in rows {
        let figure = profile.figure(&format!("fc_oven_{name}")).unwrap();
        let degrees = |scale| figure.degrees(scale).unwrap().figure();
        assert_eq!(figure.sense, sense, "{name}");
        assert_eq!(degrees(Scale::Fahrenheit), fahrenheit, "{name}");
        assert_eq!(degrees(Scale::Celsius), celsius, "{name}");
    }
}

/// Advice for homes in the United Kingdom: none of it was read, and every figure says so.
#[test]
fn the_advice_from_memory_says_so_everywhere() {
    let profile = Profile::shipped(Base::UkAdvice);
    assert!(profile.base.title().contains("from memory"));
    let own: Vec<_> = profile.figures().filter(|it| it.key.starts_with("uk_")).collect();
    assert_eq!(own.len(), 9);
    assert!(own.iter().all(|it| it.status == Status::Memory));
    let said = |key: &str| profile.in_force(key).unwrap();
    let celsius = |key: &str| said(key).degrees(Scale::Celsius).unwrap().figure();
    assert_eq!(
        ["uk_core_70", "uk_core_75", "uk_hot", "uk_cold"].map(celsius),
        ["70", "75", "63", "5"]
    );
    assert_eq!(said("uk_core_70").figure.hold_seconds, Some(120));
    let rice = profile.row("cooked_rice").unwrap();
    let clocks: Vec<String> = profile.clocks(rice).iter().map(|(it, _)| it.words()).collect();
    assert_eq!(clocks, ["2 days, the day of making as day 1", "1 day"]);
    assert_eq!(profile.status(rice), Status::Memory);
    assert!(profile.source(rice).contains("Food Standards Agency"));
    let raw = profile.row("poultry_parts_raw").unwrap();
    assert_eq!(profile.days(raw), Some(2), "a chart row that the advice does not shorten");
    assert_eq!(profile.status(raw), Status::Verified);
}

fn chosen() -> Chosen {
    Chosen {
        by: "Ada".to_owned(),
        on: jiff::civil::date(2027, 5, 12),
        reason: "The fridge is old".to_owned(),
    }
}

/// Every kind of rule may be made tighter, and none looser: days, minutes, degrees to stay under,
/// degrees to reach, hours to freeze, times.
#[test]
fn a_school_tightens_any_kind_of_rule_and_loosens_none() {
    for base in Base::ALL {
        let keys: Vec<String> = {
            let shipped = Profile::shipped(base);
            let rows = shipped.rows().iter().map(|row| row.key.to_string());
            let figures = shipped.figures().map(|figure| figure.key.to_string());
            rows.chain(figures).filter(|key| shipped.bound(key).is_ok()).collect()
        };
        assert!(keys.len() > 100, "{} in {}", keys.len(), base.word());
        for key in keys {
            let mut profile = Profile::shipped(base);
            match profile.bound(&key).unwrap() {
                Bound::Count { sense, figure, .. } => {
                    let (tight, loose) = match sense {
                        Sense::AtMost => (figure, figure + 1),
                        Sense::AtLeast => (figure + 1, figure - 1),
                    };
                    let refused = profile.tighten(&key, loose, chosen()).unwrap_err();
                    let zero = matches!(refused, LimitError::Zero) && loose == 0;
                    assert!(
                        zero || matches!(refused, LimitError::Looser { .. }),
                        "{key}: {refused}"
                    );
                    if tight > 0 {
                        profile.tighten(&key, tight, chosen()).unwrap();
                    }
                    let heat = Degrees { figure: 5, scale: Scale::Celsius };
                    assert!(profile.tighten_degrees(&key, heat, chosen()).is_err(), "{key}");
                }
                Bound::Degrees { sense, celsius, .. } => {
                    let printed = celsius.unwrap().tenths.div_euclid(10);
                    let at = |figure| Degrees { figure, scale: Scale::Celsius };
                    let (tight, loose) = match sense {
                        Sense::AtMost => (at(printed - 1), at(printed + 1)),
                        Sense::AtLeast => (at(printed + 1), at(printed - 1)),
                    };
                    assert!(profile.tighten_degrees(&key, loose, chosen()).is_err(), "{key}");
                    profile.tighten_degrees(&key, tight, chosen()).unwrap();
                    let held = profile.in_force(&key).unwrap().degrees(Scale::Celsius).unwrap();
                    assert_eq!(held.tenths, tight.figure * 10, "{key}");
                    assert!(profile.tighten(&key, 1, chosen()).is_err(), "{key}");
                }
            }
        }
    }
}

/// What is written in one scale holds in the other, on the careful side (Food Code pairs: 5 C is 41 F).
#[test]
fn a_tighter_degree_holds_in_both_scales() {
    let mut profile = Profile::shipped(Base::Home);
    let at = |figure, scale| Degrees { figure, scale };
    profile.tighten_degrees("home_cold", at(3, Scale::Celsius), chosen()).unwrap();
    profile.tighten_degrees("us_poultry", at(76, Scale::Celsius), chosen()).unwrap();
    let held =
        |key: &str| profile.in_force(key).unwrap().degrees(Scale::Fahrenheit).unwrap().figure();
    assert_eq!(held("home_cold"), "37");
    assert_eq!(held("us_poultry"), "169");
    let absurd = profile.tighten_degrees("home_cold", at(-90, Scale::Celsius), chosen());
    assert!(absurd.unwrap_err().to_string().contains("no temperature"));
}

/// A cap of days of the school counts calendar days on top of each row that it speaks of.
#[test]
fn a_shorter_date_mark_shortens_every_cooked_kind() {
    let mut profile = Profile::shipped(Base::FoodCode2022);
    profile.tighten("datemark", 5, chosen()).unwrap();
    let row = profile.row("cooked_poultry").unwrap();
    let words: Vec<String> = profile.clocks(row).iter().map(|(it, _)| it.words()).collect();
    assert_eq!(words, ["7 days, the day of making as day 1", "5 days, the day of making as day 1"]);
    let raw = profile.row("poultry_parts_raw").unwrap();
    assert_eq!(profile.clocks(raw).len(), 1, "raw food has no date mark");
    let home = profile.over(Base::Home);
    assert!(home.tighter().is_empty(), "the home rules have no date mark to tighten");
}
