//! The sum behind an answer: each line is one figure and where it is from.

use jiff::Timestamp;
use jiff::civil::DateTime;

use crate::domain::moment::Zone;

/// An instant as the kitchen reads it off its wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment {
    pub at: Timestamp,
    pub local: DateTime,
}

impl Moment {
    pub fn of(at: Timestamp, zone: &Zone) -> Self {
        Self { at, local: zone.local(at) }
    }

    /// `Thu 24 June, 17:00`, for narrow places.
    pub fn short(&self) -> String {
        self.local.strftime("%a %-d %B, %H:%M").to_string()
    }

    /// `17:00`.
    pub fn hour(&self) -> String {
        self.local.strftime("%H:%M").to_string()
    }

    /// `Thu 24`.
    pub fn day(&self) -> String {
        self.local.strftime("%a %-d").to_string()
    }
}

impl std::fmt::Display for Moment {
    /// `Thursday 24 June, 17:00`.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.local.strftime("%A %-d %B, %H:%M"))
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TraceLine {
    /// `- 2 days`, `17:00`.
    pub figure: String,
    /// Beneath it: `safety`, `Sat 26`.
    pub small: String,
    /// A finished sentence, the source in it.
    pub words: String,
}

/// The lines in order, and what they come to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trace {
    pub lines: Vec<TraceLine>,
    pub answer: TraceLine,
}

impl TraceLine {
    pub fn new(
        figure: impl Into<String>,
        small: impl Into<String>,
        words: impl Into<String>,
    ) -> Self {
        Self { figure: figure.into(), small: small.into(), words: words.into() }
    }

    pub fn at(moment: Moment, words: impl Into<String>) -> Self {
        Self::new(moment.hour(), moment.day(), words)
    }
}
