//! Logs of a thermometer: cooling, holding hot and cold, the end of a roast, and time used as a limit.
//!
//! A person types what she read; the answer is PASS, FAIL or UNPROVEN, what to do next and by when.
//! Unproven is treated as failed before anything is served. A reading is compared with the figure that
//! the source prints in the reading's own scale (rule book 0.4, 0.5).

mod cooling;
mod core;
mod holding;
mod outlook;
mod time_only;
mod typed;

use jiff::{SignedDuration, Timestamp};

use crate::domain::caution::Advice;
use crate::domain::heat::Measured;
use crate::domain::limit::Sense;
use crate::domain::moment::Zone;
use crate::domain::trace::{Moment, Trace, TraceLine};

pub use cooling::{Cooling, ambient_cooling, cooling};
pub use core::{CoreFood, OvenKind, core, least_words, roast_oven};
pub use holding::{Holding, hold};
pub use outlook::{Outlook, two_readings};
pub use time_only::{Plan, TimeOnly, TimeOnlyResult, Written, time_only};
pub use typed::{LogKind, check_depth_mm, check_reading};

/// One reading of a thermometer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Probe {
    pub at: Timestamp,
    pub heat: Measured,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    Pass,
    Unproven,
    Fail,
}

impl Verdict {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pass => "PASS",
            Self::Unproven => "UNPROVEN",
            Self::Fail => "FAIL",
        }
    }
}

/// What a log says so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    pub verdict: Verdict,
    /// What was found, stage by stage, each a finished sentence.
    pub found: Vec<String>,
    pub next: Vec<Advice>,
    /// Until when the next thing must be done.
    pub by: Option<Moment>,
    pub trace: Trace,
}

fn minutes_between(from: Timestamp, to: Timestamp) -> i64 {
    to.duration_since(from).as_mins()
}

fn after(at: Timestamp, minutes: i64) -> Timestamp {
    at.saturating_add(SignedDuration::from_mins(minutes)).unwrap_or(Timestamp::MAX)
}

/// True where a reading is on the right side of a limit printed in its own scale.
fn is_within(heat: Measured, limit: Measured, sense: Sense) -> bool {
    match sense {
        Sense::AtMost => heat.tenths <= limit.tenths,
        Sense::AtLeast => heat.tenths >= limit.tenths,
    }
}

/// The readings as lines of a sum.
fn lines(readings: &[Probe], zone: &Zone, start: Timestamp) -> Vec<TraceLine> {
    readings
        .iter()
        .map(|it| {
            let minutes = minutes_between(start, it.at);
            let small = if minutes < 0 { String::new() } else { format!("{minutes}\u{a0}min") };
            TraceLine::new(Moment::of(it.at, zone).hour(), small, format!("{}.", it.heat))
        })
        .collect()
}

#[cfg(test)]
mod tests;
