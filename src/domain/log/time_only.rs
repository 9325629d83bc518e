//! Time in place of temperature (Food Code 3-501.19): four hours from leaving cold or heat, or six from
//! the cold while nothing passes 70 F. Marked, by a written procedure, and never in a home.

use jiff::Timestamp;

use super::{Probe, after, is_within, minutes_between};
use crate::domain::heat::Measured;
use crate::domain::limit::{Base, Profile, Sense};
use crate::domain::moment::Zone;
use crate::domain::trace::{Moment, Trace, TraceLine};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plan {
    Four,
    /// Produce that cutting, or a sealed pack that opening, made perishable: edition 2022 only.
    FourFromCutting,
    Six,
}

/// What must be on paper before the clock may be used at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    pub is_marked: bool,
    pub has_procedure: bool,
}

impl Written {
    pub const BOTH: Self = Self { is_marked: true, has_procedure: true };
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TimeOnlyResult {
    /// It may start; nothing was served yet.
    Eligible,
    NotEligible {
        because: String,
    },
    Pass,
    Discard {
        at: Timestamp,
        because: String,
    },
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimeOnly {
    pub result: TimeOnlyResult,
    /// The two marks on the container.
    pub out: Moment,
    pub discard: Moment,
    /// Minutes left at the last reading or at serving.
    pub left_minutes: i64,
    pub trace: Trace,
}

/// `start` is the food as it left cold or heat; `later` what was read since.
pub fn time_only(
    profile: &Profile,
    plan: Plan,
    written: Written,
    start: Probe,
    later: &[Probe],
    served: Option<Timestamp>,
    zone: &Zone,
) -> TimeOnly {
    let key = if plan == Plan::Six { "tphc6" } else { "tphc4" };
    let rule = profile.in_force(key);
    let minutes = rule.and_then(|it| it.count()).map_or(0, i64::from);
    let discard_at = after(start.at, minutes);
    let degrees =
        |key: &str, probe: Measured| profile.in_force(key).and_then(|it| it.degrees(probe.scale));
    let is_cold = |it: Measured| {
        degrees("cold_hold", it).is_some_and(|most| is_within(it, most, Sense::AtMost))
    };
    let is_hot = |it: Measured| {
        degrees("hot_hold", it).is_some_and(|least| is_within(it, least, Sense::AtLeast))
    };
    let is_under_70 =
        |it: Measured| degrees("tphc6", it).is_some_and(|most| is_within(it, most, Sense::AtMost));
    let may_start = match plan {
        Plan::Four => is_cold(start.heat) || is_hot(start.heat),
        Plan::FourFromCutting => profile.base == Base::FoodCode2022 && is_under_70(start.heat),
        Plan::Six => is_cold(start.heat),
    };
    let too_warm = later
        .iter()
        .find(|it| plan != Plan::Four && !is_under_70(it.heat))
        .map(|it| (it.at, format!("{} is above the limit of 21 °C (70 °F)", it.heat)));
    let refused = refusal(profile, plan, written, rule.is_some(), may_start);
    let end = served.or(later.last().map(|it| it.at)).unwrap_or(start.at);
    let too_late = (end > discard_at).then(|| (discard_at, "the time is over".to_owned()));
    let result = match (refused, too_warm.into_iter().chain(too_late).min_by_key(|it| it.0)) {
        (Some(because), _) => TimeOnlyResult::NotEligible { because },
        (None, Some((at, because))) => TimeOnlyResult::Discard { at, because },
        (None, None) if served.is_some() => TimeOnlyResult::Pass,
        (None, None) => TimeOnlyResult::Eligible,
    };
    let (out, discard) = (Moment::of(start.at, zone), Moment::of(discard_at, zone));
    let lines = vec![
        TraceLine::at(out, format!("Out at {}: the first mark.", start.heat)),
        TraceLine::new(
            format!("+ {minutes}\u{a0}min"),
            "",
            rule.map(|it| format!("{}.", it.source())).unwrap_or_default(),
        ),
    ];
    let answer = TraceLine::at(discard, format!("Thrown away at {discard}: the second mark."));
    let left_minutes = minutes_between(end, discard_at).max(0);
    TimeOnly { result, out, discard, left_minutes, trace: Trace { lines, answer } }
}

fn refusal(
    profile: &Profile,
    plan: Plan,
    written: Written,
    has_rule: bool,
    may_start: bool,
) -> Option<String> {
    if !has_rule {
        return Some("These rules have no time-only control: the two-hour rule counts".to_owned());
    }
    if !written.has_procedure {
        return Some("A written procedure comes first".to_owned());
    }
    if !written.is_marked {
        return Some("The container must bear the hour it is thrown away".to_owned());
    }
    if may_start {
        return None;
    }
    Some(match plan {
        Plan::Four => "It must start cold (5 °C, 41 °F) or hot (57 °C, 135 °F)".to_owned(),
        Plan::FourFromCutting if profile.base != Base::FoodCode2022 => {
            "Only the edition of 2022 starts cut produce warm".to_owned()
        }
        Plan::FourFromCutting => "It must be 21 °C (70 °F) or less when it is cut".to_owned(),
        Plan::Six => "It must start at 5 °C (41 °F) or less".to_owned(),
    })
}
