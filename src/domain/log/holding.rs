//! Holding hot or cold: every reading on the right side, none too far from the next.

use jiff::Timestamp;

use super::{Checked, Probe, Verdict, after, is_within, lines, minutes_between};
use crate::domain::caution::Advice;
use crate::domain::limit::{InForce, Profile};
use crate::domain::moment::Zone;
use crate::domain::trace::{Moment, Trace, TraceLine};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holding {
    Hot,
    Cold,
}

/// Longest stretch between two readings that proves something: a fault found within it can still be
/// put right within the two hours (trade practice, from memory).
const MOST_MINUTES: i64 = 120;

/// Reads the log of a hot or cold holding. None without a reading.
pub fn hold(
    profile: &Profile,
    holding: Holding,
    readings: &[Probe],
    zone: &Zone,
    now: Option<Timestamp>,
) -> Option<Checked> {
    let key = match holding {
        Holding::Hot => profile.base.hot_key(),
        Holding::Cold => profile.base.cold_key(),
    };
    let rule = profile.in_force(key)?;
    let (first, last) = (readings.first()?, readings.last()?);
    let is_good = |it: &Probe| {
        rule.degrees(it.heat.scale)
            .is_some_and(|limit| is_within(it.heat, limit, rule.figure.sense))
    };
    let room = i64::from(profile.room_minutes());
    let out = longest_out(readings, &is_good);
    let gap = readings.windows(2).map(|two| minutes_between(two[0].at, two[1].at)).max();
    let silent = now.map_or(0, |now| minutes_between(last.at, now));
    let last_good = readings.iter().rfind(|it| is_good(it));
    let said = rule.degrees(last.heat.scale)?;
    let (verdict, found, next) = if out > room {
        let found = format!("On the wrong side of {said} for up to {out}\u{a0}min: FAIL.");
        (Verdict::Fail, found, vec![Advice::ThrowAway])
    } else if !is_good(last) {
        let found = format!("{} is on the wrong side of {said}: FAIL.", last.heat);
        let next = match last_good {
            Some(good) => put_right(profile, holding, rule, last, after(good.at, room), zone),
            // Nothing says how long it has been so.
            None => vec![Advice::ThrowAway],
        };
        (Verdict::Fail, found, next)
    } else if gap.unwrap_or(0).max(silent) > MOST_MINUTES {
        let found = format!(
            "Readings lie up to {}\u{a0}min apart; more than {MOST_MINUTES} prove nothing: UNPROVEN.",
            gap.unwrap_or(0).max(silent)
        );
        let now = now.unwrap_or(last.at);
        (Verdict::Unproven, found, vec![Advice::MeasureAgain { by: Moment::of(now, zone) }])
    } else {
        let found = format!("All on the right side of {said}, or put right in time: PASS.");
        let by = Moment::of(after(last.at, MOST_MINUTES), zone);
        (Verdict::Pass, found, vec![Advice::KeepLog, Advice::MeasureAgain { by }])
    };
    let mut lines = lines(readings, zone, first.at);
    lines.push(TraceLine::new(
        said.to_string(),
        rule.figure.unit.to_string(),
        format!("{}.", rule.source()),
    ));
    let answer = TraceLine::new(verdict.word(), "", found.clone());
    let by = next.iter().find_map(hour_of);
    Some(Checked { verdict, found: vec![found], next, by, trace: Trace { lines, answer } })
}

const fn hour_of(advice: &Advice) -> Option<Moment> {
    match advice {
        Advice::MeasureAgain { by }
        | Advice::HeatAgainBy { by, .. }
        | Advice::ChillBy { by, .. } => Some(*by),
        _ => None,
    }
}

/// The longest time that lies between the last good reading before a bad one and the next good one
/// after it; up to the last reading where none came after.
fn longest_out(readings: &[Probe], is_good: &dyn Fn(&Probe) -> bool) -> i64 {
    let mut longest = 0;
    let mut good_at: Option<Timestamp> = None;
    let mut is_out = false;
    for it in readings {
        if is_good(it) {
            if is_out {
                let since = good_at.unwrap_or(readings[0].at);
                longest = longest.max(minutes_between(since, it.at));
            }
            (good_at, is_out) = (Some(it.at), false);
        } else {
            is_out = true;
            let since = good_at.unwrap_or(readings[0].at);
            longest = longest.max(minutes_between(since, it.at));
        }
    }
    longest
}

fn put_right(
    profile: &Profile,
    holding: Holding,
    rule: InForce<'_>,
    last: &Probe,
    by: Timestamp,
    zone: &Zone,
) -> Vec<Advice> {
    let by = Moment::of(by, zone);
    let scale = last.heat.scale;
    let advice = match holding {
        Holding::Hot => profile
            .in_force(profile.base.reheat_key())
            .and_then(|it| it.degrees(scale))
            .map(|least| Advice::HeatAgainBy { least, by }),
        Holding::Cold => rule.degrees(scale).map(|most| Advice::ChillBy { most, by }),
    };
    advice.into_iter().collect()
}
