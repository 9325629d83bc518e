//! The cooling log (Food Code 3-501.14): from 135 to 70 F within two hours, and to 41 F within six in
//! all. Where the rules of a home print no degrees the model code's are the measure, and say so.

use jiff::Timestamp;

use super::outlook::{Outlook, two_readings};
use super::{Checked, Probe, Verdict, after, is_within, lines, minutes_between};
use crate::domain::caution::Advice;
use crate::domain::heat::{Measured, Scale};
use crate::domain::limit::{InForce, Profile, Sense};
use crate::domain::moment::Zone;
use crate::domain::trace::{Moment, Trace, TraceLine};

/// Where the clock of cooling starts, as the code prints it.
const HOT: (Measured, Measured) =
    (Measured::whole(135, Scale::Fahrenheit), Measured::whole(57, Scale::Celsius));

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cooling {
    pub first: Verdict,
    pub total: Verdict,
    pub first_minutes: Option<i64>,
    pub total_minutes: Option<i64>,
    /// The last reading at or above the start, or the first of all.
    pub start: Moment,
    /// At this rate, from the last two readings; none while there are fewer.
    pub outlook: Option<Outlook>,
    pub checked: Checked,
}

struct Stage<'a> {
    rule: InForce<'a>,
    minutes: i64,
    start: Timestamp,
}

impl<'a> Stage<'a> {
    fn new(rule: InForce<'a>, start: Timestamp) -> Self {
        Self { rule, minutes: rule.count().map_or(0, i64::from), start }
    }

    fn end(&self) -> Timestamp {
        after(self.start, self.minutes)
    }

    fn limit(&self, scale: Scale) -> Measured {
        self.rule.degrees(scale).unwrap_or(Measured::whole(0, scale))
    }

    fn is_under(&self, probe: &Probe) -> bool {
        is_within(probe.heat, self.limit(probe.heat.scale), Sense::AtMost)
    }

    /// PASS on a reading under the limit in time; FAIL on one above it once the time is over
    /// (rule book 1.6.5).
    fn verdict(&self, readings: &[Probe]) -> (Verdict, Option<i64>) {
        let since = readings.iter().filter(|it| it.at >= self.start);
        let first = since.clone().find(|it| self.is_under(it));
        if let Some(it) = first.filter(|it| it.at <= self.end()) {
            return (Verdict::Pass, Some(minutes_between(self.start, it.at)));
        }
        if since.clone().any(|it| it.at >= self.end() && !self.is_under(it)) {
            return (Verdict::Fail, None);
        }
        (Verdict::Unproven, None)
    }

    fn found(&self, verdict: Verdict, minutes: Option<i64>, scale: Scale) -> String {
        let limit = self.limit(scale);
        let allowed = self.minutes;
        match (verdict, minutes) {
            (Verdict::Pass, Some(minutes)) => {
                format!("{limit} or less after {minutes} of {allowed}\u{a0}min: PASS.")
            }
            (Verdict::Fail, _) => format!("Above {limit} after {allowed}\u{a0}min: FAIL."),
            _ => format!("No reading shows {limit} or less within {allowed}\u{a0}min: UNPROVEN."),
        }
    }
}

/// Reads the log; `now` says whether a time without a reading is over. None without a reading.
pub fn cooling(
    profile: &Profile,
    readings: &[Probe],
    zone: &Zone,
    now: Option<Timestamp>,
) -> Option<Cooling> {
    let [first_key, total_key, _] = profile.base.cooling_keys();
    let opening = readings.first()?;
    let scale = readings.last()?.heat.scale;
    let is_hot = |it: &&Probe| {
        let hot = if it.heat.scale == Scale::Fahrenheit { HOT.0 } else { HOT.1 };
        is_within(it.heat, hot, Sense::AtLeast)
    };
    let start = readings.iter().rfind(is_hot).unwrap_or(opening).at;
    let first = Stage::new(profile.in_force(first_key)?, start);
    let total = Stage::new(profile.in_force(total_key)?, start);
    let (first_verdict, first_minutes) = first.verdict(readings);
    let (total_verdict, total_minutes) = total.verdict(readings);
    let outlook = (total_verdict == Verdict::Unproven)
        .then(|| {
            let at = |stage: &Stage<'_>, verdict| {
                (verdict == Verdict::Unproven).then(|| (stage.limit(scale), stage.end()))
            };
            let goals = [at(&first, first_verdict), at(&total, total_verdict)];
            two_readings(readings, start, goals, zone)
        })
        .flatten();
    // Heated a second time already: the code's one chance is used.
    let heated_before = readings.iter().take_while(|it| it.at < start).any(|it| {
        let hot = if it.heat.scale == Scale::Fahrenheit { HOT.0 } else { HOT.1 };
        !is_within(it.heat, hot, Sense::AtLeast)
    });
    let stages = [(&first, first_verdict), (&total, total_verdict)];
    let next = advice(profile, scale, stages, outlook.as_ref(), heated_before, zone, now);
    let found = vec![
        first.found(first_verdict, first_minutes, scale),
        total.found(total_verdict, total_minutes, scale),
    ];
    let checked =
        checked(readings, zone, start, first_verdict.max(total_verdict), found, next, total.rule);
    Some(Cooling {
        first: first_verdict,
        total: total_verdict,
        first_minutes,
        total_minutes,
        start: Moment::of(start, zone),
        outlook,
        checked,
    })
}

/// Made of food at room temperature: 41 F within four hours of the first reading (3-501.14(B)).
pub fn ambient_cooling(
    profile: &Profile,
    readings: &[Probe],
    zone: &Zone,
    now: Option<Timestamp>,
) -> Option<Cooling> {
    let [.., key] = profile.base.cooling_keys();
    let start = readings.first()?.at;
    let scale = readings.last()?.heat.scale;
    let stage = Stage::new(profile.in_force(key)?, start);
    let (verdict, minutes) = stage.verdict(readings);
    let outlook = (verdict == Verdict::Unproven)
        .then(|| {
            two_readings(readings, start, [None, Some((stage.limit(scale), stage.end()))], zone)
        })
        .flatten();
    let stages = [(&stage, verdict), (&stage, verdict)];
    let next = advice(profile, scale, stages, outlook.as_ref(), true, zone, now);
    let found = vec![stage.found(verdict, minutes, scale)];
    let checked = checked(readings, zone, start, verdict, found, next, stage.rule);
    Some(Cooling {
        first: verdict,
        total: verdict,
        first_minutes: minutes,
        total_minutes: minutes,
        start: Moment::of(start, zone),
        outlook,
        checked,
    })
}

fn advice(
    profile: &Profile,
    scale: Scale,
    [(first, first_verdict), (total, total_verdict)]: [(&Stage<'_>, Verdict); 2],
    outlook: Option<&Outlook>,
    heated_before: bool,
    zone: &Zone,
    now: Option<Timestamp>,
) -> Vec<Advice> {
    use super::Verdict::{Fail, Pass, Unproven};
    let is_over = |stage: &Stage<'_>| now.is_some_and(|now| now > stage.end());
    let heat = profile.in_force(profile.base.reheat_key()).and_then(|it| it.degrees(scale));
    let under = |stage: &Stage<'_>| {
        let by = Moment::of(stage.end(), zone);
        Advice::UnderBy { limit: stage.limit(scale), by }
    };
    match (first_verdict, total_verdict) {
        (_, Fail) => vec![Advice::ThrowAway],
        (Fail, _) => match heat.filter(|_| !heated_before) {
            Some(least) => vec![Advice::HeatOnceAndCoolFaster { least }],
            None => vec![Advice::ThrowAway],
        },
        (Pass, Pass) => vec![Advice::BoxAndLabel, Advice::KeepLog],
        (_, Unproven) if is_over(total) => vec![Advice::NothingProvesIt],
        (Unproven, _) if is_over(first) => vec![Advice::NothingProvesIt],
        (Unproven, Pass) => vec![Advice::NothingProvesIt],
        (first_verdict, _) => {
            let stage = if first_verdict == Unproven { first } else { total };
            let slow = outlook.and_then(|it| it.too_slow.clone());
            slow.into_iter().chain([under(stage)]).collect()
        }
    }
}

fn checked(
    readings: &[Probe],
    zone: &Zone,
    start: Timestamp,
    verdict: Verdict,
    found: Vec<String>,
    next: Vec<Advice>,
    rule: InForce<'_>,
) -> Checked {
    let mut lines = lines(readings, zone, start);
    lines.push(TraceLine::at(
        Moment::of(start, zone),
        format!("The clock starts here. {}.", rule.source()),
    ));
    let answer = TraceLine::new(verdict.word(), "", found.join(" "));
    let by = next.iter().find_map(|it| match it {
        Advice::UnderBy { by, .. } => Some(*by),
        _ => None,
    });
    Checked { verdict, found, next, by, trace: Trace { lines, answer } }
}
