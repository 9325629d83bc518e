//! Whether cooling is on track, from the last two readings: the difference to the air about it shrinks
//! by the same share in each equal stretch of time. A forecast never fails a food; a reading does.

use jiff::{SignedDuration, Timestamp};

use super::Probe;
use crate::domain::caution::Advice;
use crate::domain::heat::Measured;
use crate::domain::moment::Zone;
use crate::domain::trace::Moment;

/// Air of a fridge that is opened now and then, in Celsius (38 F).
const AIR_CELSIUS: f64 = 3.3;
/// The middle of a solid food runs behind the curve of its surface: a careful share on top.
const SLOWER: f64 = 1.25;

/// What the rate of the last two readings leads to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outlook {
    /// About when each stage's degrees are reached; none where they never are.
    pub first: Option<Moment>,
    pub total: Option<Moment>,
    /// What to do where a stage is likely to be missed: also when only the careful share misses it.
    pub too_slow: Option<Advice>,
}

/// Forecasts the stages that are still open, each with its degrees and its end.
pub fn two_readings(
    readings: &[Probe],
    start: Timestamp,
    goals: [Option<(Measured, Timestamp)>; 2],
    zone: &Zone,
) -> Option<Outlook> {
    let since: Vec<&Probe> = readings.iter().filter(|it| it.at >= start).collect();
    let [.., before, last] = &since[..] else { return None };
    let minutes = last.at.duration_since(before.at).as_secs_f64() / 60.0;
    let above = |heat: Measured| heat.celsius() - AIR_CELSIUS;
    if minutes <= 0.0 || above(last.heat) <= 0.0 {
        return None;
    }
    // Not falling: it will not get there by itself.
    let rate = (above(before.heat) / above(last.heat)).ln() / minutes;
    let reach = |goal: Measured, share: f64| -> Option<Timestamp> {
        let left = above(goal);
        if rate <= 1e-9 || left <= 0.0 {
            return None;
        }
        let minutes = ((above(last.heat) / left).ln() / rate * share).max(0.0);
        // A week is as good as never.
        if minutes > 10_080.0 {
            return None;
        }
        last.at.checked_add(SignedDuration::from_secs_f64(minutes * 60.0)).ok()
    };
    let mut too_slow = None;
    for (limit, end) in goals.iter().flatten() {
        let slow = reach(*limit, SLOWER);
        if too_slow.is_none() && slow.is_none_or(|at| at > *end) {
            let likely = slow.map(|at| Moment::of(at, zone));
            too_slow =
                Some(Advice::CoolFaster { limit: *limit, by: Moment::of(*end, zone), likely });
        }
    }
    let about = |goal: Option<(Measured, Timestamp)>| Some(Moment::of(reach(goal?.0, 1.0)?, zone));
    Some(Outlook { first: about(goals[0]), total: about(goals[1]), too_slow })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::heat::Scale;
    use proptest::prelude::*;

    fn probe(minute: i64, tenths: i32) -> Probe {
        let at = Timestamp::from_second(1_800_000_000 + minute * 60).unwrap();
        Probe { at, heat: Measured { tenths, scale: Scale::Celsius } }
    }

    /// By hand: from 60 to 40 C in 30 min against 3.3 C. Rate ln(56.7/36.7)/30 = 0.0145 a minute; to
    /// 21 C ln(36.7/17.7)/0.0145 = 50.3 min after the second reading.
    #[test]
    fn the_curve_goes_through_two_readings() {
        let zone = Zone::parse("Etc/UTC").unwrap();
        let readings = [probe(0, 600), probe(30, 400)];
        let goal = (Measured::whole(21, Scale::Celsius), probe(120, 0).at);
        let found = two_readings(&readings, readings[0].at, [Some(goal), None], &zone).unwrap();
        let minutes = found.first.unwrap().at.duration_since(readings[1].at).as_secs_f64() / 60.0;
        assert!((minutes - 50.3).abs() < 0.1, "{minutes}");
        assert_eq!(found.too_slow, None, "80 of 120 min, and 93 with the careful share");
        let late = (Measured::whole(21, Scale::Celsius), probe(90, 0).at);
        let found = two_readings(&readings, readings[0].at, [Some(late), None], &zone).unwrap();
        assert!(found.too_slow.is_some(), "the careful share misses 90 min");
    }

    proptest! {
        #[test]
        fn a_colder_second_reading_is_never_later(colder in 210i32..550, less in 1i32..200) {
            let zone = Zone::parse("Etc/UTC").unwrap();
            let goal = Some((Measured::whole(5, Scale::Celsius), probe(360, 0).at));
            let ask = |tenths| {
                let readings = [probe(0, 600), probe(30, tenths)];
                two_readings(&readings, readings[0].at, [None, goal], &zone).unwrap().total
            };
            let (cold, warm) = (ask(colder), ask((colder + less).min(599)));
            match (cold, warm) {
                (Some(cold), Some(warm)) => prop_assert!(cold <= warm),
                (None, Some(_)) => prop_assert!(false, "the warmer one arrives and the colder not"),
                _ => {}
            }
        }
    }
}
