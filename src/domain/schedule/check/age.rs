//! How old each food is when it is eaten, by hours that pass and by calendar days.

use super::Found;
use crate::domain::card::Place;
use crate::domain::limit::{Age, Frozen};
use crate::domain::schedule::plan::{Plan, minutes};
use crate::domain::schedule::problem::{KeepLimit, Limit, Problem};
use crate::domain::schedule::words::day_and_clock;

pub fn keeps(problem: &Problem, plan: &Plan, found: &mut Found) {
    for (place, limit) in problem.keeps.iter().enumerate() {
        if limit.held.is_some_and(|(job, hold)| plan.jobs[job].hold != hold) {
            continue;
        }
        let made = plan.end_minute(problem, limit.from);
        let frozen = frozen(problem, plan, limit);
        let age = Age {
            made_at: problem.instant(made),
            frozen: frozen.map(|(at, thaw)| Frozen {
                at: problem.instant(at),
                thaw_at: problem.instant(thaw),
            }),
        };
        let eaten_at = problem.instant(limit.until_minute);
        match limit.clock.end(&age, &problem.zone) {
            // An elapsed limit may be used to its last minute; a day is over at midnight.
            Ok(end) if eaten_at < end || (eaten_at == end && is_elapsed(limit)) => {}
            Ok(end) => {
                let over = day_and_clock(problem, problem.minute(end));
                let but = format!("made {}, it ends {over}", day_and_clock(problem, made));
                found.breach(Limit::Keep(place), &[limit.from], Some(limit.until_minute), &but);
            }
            Err(error) => {
                let but = error.to_string();
                found.breach(Limit::Keep(place), &[limit.from], Some(limit.until_minute), &but);
            }
        }
    }
}

const fn is_elapsed(limit: &KeepLimit) -> bool {
    matches!(limit.clock, crate::domain::limit::Clock::Elapsed(_))
}

/// The first frozen stretch after the clock started. A second one leaves the count stricter.
fn frozen(problem: &Problem, plan: &Plan, limit: &KeepLimit) -> Option<(i32, i32)> {
    let stretches = limit.frozen.iter().filter_map(|job| {
        let hold = &problem.jobs[*job].holds[plan.jobs[*job].hold];
        if hold.place != Some(Place::Freezer) {
            return None;
        }
        let end = plan.end_minute(problem, *job);
        let first = problem.gaps_after(*job).map(|(_, gap)| plan.next_minute(gap.next)).min()?;
        let thaw = first - minutes(hold.thaw_minutes.unwrap_or(0));
        Some((end, thaw.max(end)))
    });
    stretches.min()
}
