//! Worked examples 9.1, 9.2C, 9.4 and 9.5 of the rule book, letter for letter (FDA Food Code 2022:
//! 3-501.14, 3-501.19, 3-401.11(B); the home figures of USDA/HHS).

use super::*;
use crate::domain::heat::Scale;
use crate::domain::limit::{Base, Profile};

fn zone() -> Zone {
    Zone::parse("Etc/UTC").unwrap()
}

/// `14:00` of one day.
fn at(hour: &str) -> Timestamp {
    format!("2026-06-01T{hour}:00Z").parse().unwrap()
}

fn log(rows: &[(&str, f64)]) -> Vec<Probe> {
    let probe = |(hour, degrees): &(&str, f64)| Probe {
        at: at(hour),
        heat: Measured::parse(&degrees.to_string(), Scale::Fahrenheit).unwrap(),
    };
    rows.iter().map(probe).collect()
}

fn code() -> Profile {
    Profile::shipped(Base::FoodCode2022)
}

use super::Verdict::{Fail, Pass, Unproven};

#[test]
fn example_9_1_the_cooling_log() {
    let ask = |rows: &[(&str, f64)]| {
        let it = cooling(&code(), &log(rows), &zone(), None).unwrap();
        (it.first, it.total, it.first_minutes, it.total_minutes)
    };
    let a = ask(&[("14:00", 135.0), ("15:40", 68.0), ("19:30", 40.0)]);
    assert_eq!(a, (Pass, Pass, Some(100), Some(330)), "A");
    assert_eq!(ask(&[("14:00", 135.0), ("16:00", 78.0)]), (Fail, Unproven, None, None), "B");
    let c = ask(&[("14:00", 135.0), ("15:30", 70.0), ("20:20", 43.0), ("20:30", 41.0)]);
    assert_eq!(c, (Pass, Fail, Some(90), None), "C");
    assert_eq!(ask(&[("14:00", 135.0), ("16:30", 69.0)]), (Unproven, Unproven, None, None), "D");
    let e = log(&[("10:00", 72.0), ("13:40", 41.0)]);
    let e = ambient_cooling(&code(), &e, &zone(), None).unwrap();
    assert_eq!((e.total, e.total_minutes), (Pass, Some(220)), "E");
    assert_eq!(code().in_force("cool_ambient").unwrap().count(), Some(240), "E");
}

#[test]
fn example_9_1_says_what_to_do() {
    let next = |rows: &[(&str, f64)], now: Option<&str>| {
        let it = cooling(&code(), &log(rows), &zone(), now.map(at)).unwrap();
        it.checked.next.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
    };
    let missed = next(&[("14:00", 135.0), ("16:00", 78.0)], None);
    assert!(missed.contains("Heat it once to 165\u{a0}°F"), "{missed}");
    let again = next(&[("12:00", 140.0), ("14:00", 80.0), ("14:30", 165.0), ("16:40", 75.0)], None);
    assert_eq!(again, "Throw it away. Write down that you did.", "the one chance is used");
    let begun = next(&[("14:00", 135.0)], Some("14:20"));
    assert_eq!(
        begun,
        "Measure the middle of the deepest box by 16:00: it must be 70\u{a0}°F or less."
    );
    let silent = next(&[("14:00", 135.0)], Some("16:30"));
    assert!(silent.contains("No reading proves it"), "{silent}");
    let slow = next(&[("14:00", 135.0), ("14:30", 125.0)], Some("14:31"));
    assert!(slow.starts_with("Too slow: at this rate 70\u{a0}°F comes about"), "{slow}");
    let late = next(&[("14:00", 135.0), ("15:30", 70.0), ("20:20", 43.0)], None);
    assert!(late.starts_with("Throw it away"), "{late}");
}

#[test]
fn example_9_2_c_and_9_4_time_only() {
    let probe = |hour: &str, figure: i32| Probe {
        at: at(hour),
        heat: Measured::whole(figure, Scale::Fahrenheit),
    };
    let ask = |base, plan, start, later: &[(&str, f64)], served: Option<&str>| {
        let (profile, later) = (Profile::shipped(base), log(later));
        time_only(&profile, plan, Written::BOTH, start, &later, served.map(at), &zone())
    };
    use super::TimeOnlyResult as R;
    use crate::domain::limit::Base::{FoodCode2017, FoodCode2022};
    // 35 + 50 + 70 minutes from ten o'clock.
    let c = ask(FoodCode2022, Plan::Four, probe("10:00", 40), &[], Some("12:35"));
    assert_eq!((c.result, c.left_minutes), (R::Pass, 85), "9.2C");
    let noodles = [("12:00", 58.0), ("14:00", 66.0), ("15:30", 69.0)];
    let a = ask(FoodCode2022, Plan::Six, probe("10:00", 40), &noodles, Some("15:45"));
    assert_eq!((a.out.hour(), a.discard.hour()), ("10:00".into(), "16:00".into()), "9.4A");
    assert_eq!(a.result, R::Pass, "9.4A");
    let warm = [("12:00", 58.0), ("14:00", 71.0)];
    let b = ask(FoodCode2022, Plan::Six, probe("10:00", 40), &warm, Some("14:30"));
    assert!(matches!(b.result, R::Discard { at: it, .. } if it == at("14:00")), "9.4B");
    let c = ask(FoodCode2022, Plan::Four, probe("11:15", 138), &[], None);
    assert_eq!((c.discard.hour(), c.result), ("15:15".into(), R::Eligible), "9.4C");
    let cut = |base, figure| ask(base, Plan::FourFromCutting, probe("11:00", figure), &[], None);
    let d = cut(FoodCode2022, 68);
    assert_eq!((d.discard.hour(), d.result), ("15:00".into(), R::Eligible), "9.4D");
    assert!(matches!(cut(FoodCode2022, 72).result, R::NotEligible { .. }), "9.4E");
    assert!(matches!(cut(FoodCode2017, 68).result, R::NotEligible { .. }), "9.4F");
    let home = ask(Base::Home, Plan::Four, probe("11:00", 40), &[], None);
    assert!(matches!(home.result, R::NotEligible { .. }), "a home has no such clock");
    let late = ask(FoodCode2022, Plan::Six, probe("10:00", 40), &[], Some("16:01"));
    assert!(matches!(late.result, R::Discard { at: it, .. } if it == at("16:00")));
}

const LOIN: [(&str, f64); 6] = [
    ("17:10", 138.2),
    ("17:16", 140.1),
    ("17:22", 142.0),
    ("17:25", 142.6),
    ("17:28", 142.4),
    ("17:30", 142.3),
];

#[test]
fn example_9_5_the_roast() {
    let ask = |profile: &Profile, rows: &[(&str, f64)], rested| {
        core(profile, CoreFood::Roast, &log(rows), rested, &zone()).unwrap()
    };
    let a = ask(&code(), &LOIN, None);
    assert_eq!(a.verdict, Pass, "A");
    assert!(a.found[0].contains("met at 17:28"), "A: {:?}", a.found);
    let b = ask(&code(), &LOIN[..4], None);
    assert_eq!(b.verdict, Unproven, "B");
    assert_eq!(b.by.unwrap().hour(), "17:28", "B: the row that is over first");
    let f = ask(&Profile::default(), &LOIN, Some(10));
    assert_eq!(f.verdict, Fail, "F");
    assert!(f.found[0].starts_with("145\u{a0}°F never reached"), "F: {:?}", f.found);
    let oven = |kind, pounds: u32, figure| {
        let air = Measured::whole(figure, Scale::Fahrenheit);
        roast_oven(&code(), kind, pounds * 454, air)
    };
    assert_eq!(oven(OvenKind::Convection, 6, 325), Some(Pass), "C");
    assert_eq!(oven(OvenKind::Convection, 6, 300), Some(Fail), "D");
    assert_eq!(oven(OvenKind::StillDry, 12, 250), Some(Pass), "E");
    let air = Measured::whole(325, Scale::Fahrenheit);
    assert_eq!(roast_oven(&Profile::default(), OvenKind::Convection, 2_700, air), None);
}

/// Every row of 3-401.11(B)(1): held for its time it passes, for a minute less it does not.
#[test]
fn every_row_of_the_roast_table_is_the_row_that_decides() {
    let rows = [
        (130, 112),
        (131, 89),
        (133, 56),
        (135, 36),
        (136, 28),
        (138, 18),
        (140, 12),
        (142, 8),
        (144, 5),
        (145, 4),
    ];
    let start = at("12:00");
    let held = |figure, minutes| {
        let heat = Measured::whole(figure, Scale::Fahrenheit);
        let readings = [Probe { at: start, heat }, Probe { at: after(start, minutes), heat }];
        core(&code(), CoreFood::Roast, &readings, None, &zone()).unwrap().verdict
    };
    for (figure, minutes) in rows {
        assert_eq!(held(figure, minutes), Pass, "{figure}");
        assert_eq!(held(figure, minutes - 1), Unproven, "{figure}, a minute less");
    }
    for (figure, seconds) in [(147, 134_u32), (149, 85), (151, 54), (153, 34), (155, 22), (157, 14)]
    {
        // Up to a minute the figure is watched while the probe stands.
        let minutes = if seconds > 60 { i64::from((seconds).div_ceil(60)) } else { 0 };
        assert_eq!(held(figure, minutes), Pass, "{figure}");
    }
    assert_eq!(held(158, 0), Pass, "reached is enough");
    assert_eq!(held(134, 36), Unproven, "between two rows the lower one counts");
    assert_eq!(held(134, 56), Pass);
    assert_eq!(held(129, 200), Unproven, "no credit below the table");
}

#[test]
fn the_credit_of_a_roast_comes_from_readings_and_decides_nothing() {
    let told = |food, rows: &[(&str, f64)]| {
        let it = core(&Profile::default(), food, &log(rows), None, &zone()).unwrap();
        let line = it.trace.lines.iter().find(|line| line.words.contains("Beef only"));
        (it.verdict, line.map(|line| line.words.clone()))
    };
    // FSIS Appendix A: 140 F for 12 min is the 6.5-log row; two readings 12 min apart earn nothing.
    let held = [("17:00", 140.0), ("17:06", 140.0), ("17:13", 140.0)];
    let (verdict, words) = told(CoreFood::Roast, &held);
    assert_eq!(verdict, Unproven, "the home row is 145 F and 3 min, whatever the credit");
    assert!(words.unwrap().contains("earn 6.6 of the 6.5"));
    let (_, gap) = told(CoreFood::Roast, &[("17:00", 140.0), ("17:13", 140.0)]);
    assert!(gap.unwrap().contains("earn 0.0 of"));
    assert_eq!(told(CoreFood::Poultry, &held).1, None, "the column under-cooks poultry");
}

#[test]
fn the_home_rests_three_minutes_and_poultry_has_one_figure() {
    let home = Profile::default();
    let ask = |food, rows: &[(&str, f64)], rested| {
        core(&home, food, &log(rows), rested, &zone()).unwrap()
    };
    let waiting = ask(CoreFood::Roast, &[("17:00", 145.0)], None);
    assert_eq!(waiting.verdict, Unproven);
    assert_eq!(waiting.by.unwrap().hour(), "17:03");
    assert_eq!(ask(CoreFood::Roast, &[("17:00", 145.0)], Some(3)).verdict, Pass);
    assert_eq!(ask(CoreFood::Roast, &[("17:00", 145.0), ("17:03", 143.0)], None).verdict, Pass);
    assert_eq!(ask(CoreFood::Poultry, &[("17:00", 164.9)], None).verdict, Unproven);
    assert_eq!(ask(CoreFood::Poultry, &[("17:00", 165.0)], None).verdict, Pass);
    assert_eq!(
        least_words(&home, CoreFood::Roast, Scale::Fahrenheit),
        "145\u{a0}°F and 3\u{a0}min of rest"
    );
}

#[test]
fn holding_fails_out_of_its_degrees_and_is_unproven_between_far_readings() {
    let home = Profile::default();
    let ask = |holding, rows: &[(&str, f64)], now: Option<&str>| {
        hold(&home, holding, &log(rows), &zone(), now.map(at)).unwrap()
    };
    let warm = ask(Holding::Hot, &[("12:00", 150.0), ("13:30", 142.0)], Some("14:00"));
    assert_eq!(warm.verdict, Pass);
    let fallen = ask(Holding::Hot, &[("12:00", 150.0), ("13:30", 130.0)], Some("13:31"));
    assert_eq!((fallen.verdict, fallen.by.unwrap().hour()), (Fail, "14:00".to_owned()));
    let mended = [("12:00", 150.0), ("13:30", 130.0), ("13:50", 165.0)];
    assert_eq!(ask(Holding::Hot, &mended, Some("14:00")).verdict, Pass);
    let too_late = [("12:00", 150.0), ("13:30", 130.0), ("14:10", 165.0)];
    let late = ask(Holding::Hot, &too_late, Some("14:11"));
    assert_eq!((late.verdict, &late.next[..]), (Fail, &[Advice::ThrowAway][..]));
    let far = ask(Holding::Cold, &[("12:00", 38.0), ("15:00", 38.0)], Some("15:00"));
    assert_eq!(far.verdict, Unproven);
    let unknown = ask(Holding::Cold, &[("12:00", 50.0)], Some("12:01"));
    assert_eq!((unknown.verdict, &unknown.next[..]), (Fail, &[Advice::ThrowAway][..]));
    assert_eq!(
        ask(Holding::Cold, &[("12:00", 40.0)], Some("12:10")).verdict,
        Pass,
        "40 F is within"
    );
    assert_eq!(ask(Holding::Cold, &[("12:00", 40.1)], Some("12:10")).verdict, Fail);
}

proptest::proptest! {
    /// A colder reading never turns a pass of the cooling log into something worse.
    #[test]
    fn colder_is_never_worse_when_cooling(
        steps in proptest::collection::vec((1i64..90, 330i32..1300), 1..7), less in 0i32..300,
    ) {
        let mut minute = 0;
        let mut readings = vec![Probe { at: at("06:00"), heat: Measured::whole(135, Scale::Fahrenheit) }];
        for (more, tenths) in &steps {
            minute += more;
            let heat = Measured { tenths: *tenths, scale: Scale::Fahrenheit };
            readings.push(Probe { at: after(at("06:00"), minute), heat });
        }
        let colder: Vec<Probe> = readings.iter().enumerate().map(|(place, it)| {
            let tenths = if place == 0 { it.heat.tenths } else { it.heat.tenths - less };
            Probe { heat: Measured { tenths, ..it.heat }, ..*it }
        }).collect();
        let ask = |it: &[Probe]| cooling(&code(), it, &zone(), None).unwrap();
        let (warm, cold) = (ask(&readings), ask(&colder));
        proptest::prop_assert!(cold.first <= warm.first && cold.total <= warm.total);
    }

    /// Another reading above the figure never takes a pass of a core log away.
    #[test]
    fn a_core_that_passed_stays_passed(tenths in proptest::collection::vec(1250i32..1700, 1..9)) {
        let readings: Vec<Probe> = tenths.iter().enumerate().map(|(place, tenths)| Probe {
            at: after(at("06:00"), 6 * i64::try_from(place).unwrap()),
            heat: Measured { tenths: *tenths, scale: Scale::Fahrenheit },
        }).collect();
        for food in CoreFood::ALL {
            let mut passed = false;
            for upto in 1..=readings.len() {
                let verdict = core(&code(), food, &readings[..upto], None, &zone()).unwrap().verdict;
                proptest::prop_assert!(!passed || verdict == Pass);
                passed |= verdict == Pass;
            }
        }
    }
}
