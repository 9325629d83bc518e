//! What a log of readings says: the verdict in words, and what to do next. `Display` is the finished
//! sentence; every word a cook reads about a reading stands here or in the cautions beside it.

use std::fmt;

use crate::domain::heat::Measured;
use crate::domain::trace::Moment;

/// What to do next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Advice {
    /// The next reading that decides.
    UnderBy {
        limit: Measured,
        by: Moment,
    },
    MeasureAgain {
        by: Moment,
    },
    /// Holding at temperature, or resting, until then.
    HoldUntil {
        least: Measured,
        until: Moment,
    },
    RestUntil {
        until: Moment,
    },
    BackToTheHeat {
        least: Measured,
    },
    /// The first stage of cooling was missed: once, and then faster (rule book 1.6.6, from memory).
    HeatOnceAndCoolFaster {
        least: Measured,
    },
    /// Cooling is likely to miss a limit.
    CoolFaster {
        limit: Measured,
        by: Moment,
        likely: Option<Moment>,
    },
    /// It has fallen out of the hot or cold, and there is time to put it right.
    HeatAgainBy {
        least: Measured,
        by: Moment,
    },
    ChillBy {
        most: Measured,
        by: Moment,
    },
    ThrowAway,
    /// No reading proves it, and the time is over.
    NothingProvesIt,
    BoxAndLabel,
    KeepLog,
}

impl fmt::Display for Advice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnderBy { limit, by } => write!(
                f,
                "Measure the middle of the deepest box by {}: it must be {limit} or less.",
                by.hour()
            ),
            Self::MeasureAgain { by } => write!(f, "Measure again by {}.", by.hour()),
            Self::HoldUntil { least, until } => {
                write!(f, "Keep it at {least} or more and measure again at {}.", until.hour())
            }
            Self::RestUntil { until } => {
                write!(
                    f,
                    "Let it rest uncut until {}: the rest belongs to the cooking.",
                    until.hour()
                )
            }
            Self::BackToTheHeat { least } => write!(
                f,
                "Back to the heat. Measure the thickest place again in 5\u{a0}min: it must show {least} or more."
            ),
            Self::HeatOnceAndCoolFaster { least } => write!(
                f,
                "Heat it once to {least} or more within 2\u{a0}h and cool it again, faster: thinner, in ice, stirred. Or throw it away."
            ),
            Self::CoolFaster { limit, by, likely: Some(likely) } => write!(
                f,
                "Too slow: at this rate {limit} comes about {}, and {} is the limit. Spread it thinner, stand it in ice, stir it, and measure again.",
                likely.hour(),
                by.hour()
            ),
            Self::CoolFaster { limit, by, likely: None } => write!(
                f,
                "Too slow: at this rate it does not come to {limit} by {}. Spread it thinner, stand it in ice, stir it, and measure again.",
                by.hour()
            ),
            Self::HeatAgainBy { least, by } => write!(
                f,
                "Heat it to {least} or more by {}, and find out why it cooled. After that hour throw it away.",
                by.hour()
            ),
            Self::ChillBy { most, by } => write!(
                f,
                "Bring it to {most} or less by {}, and find out why it warmed. After that hour throw it away.",
                by.hour()
            ),
            Self::ThrowAway => f.write_str("Throw it away. Write down that you did."),
            Self::NothingProvesIt => f.write_str(
                "No reading proves it and the time is over: treat it as failed and throw it away.",
            ),
            Self::BoxAndLabel => f.write_str("Cover it, label it, and put it where it is cold."),
            Self::KeepLog => f.write_str("Within the limit you chose. Keep this log."),
        }
    }
}

/// What is asked, or refused, before anything is worked out from a reading.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadingProblem {
    #[error("Write the degrees as a number, like 57 or 57.5")]
    NoNumber,
    #[error("{typed} is no temperature of food. Nothing was worked out from it; look again")]
    NotFood { typed: Measured },
    #[error(
        "{typed} would be {how} here. Did you mean {meant}? Change the scale, or say that it is right"
    )]
    OtherScale { typed: Measured, meant: Measured, how: &'static str },
    #[error(
        "{typed} is as warm as a room: no fridge is. Measure the food in its middle, or say that it is right"
    )]
    RoomWarm { typed: Measured },
    #[error(
        "{at} lies before the reading of {last}. Write readings in the order they were taken, or strike out the wrong one"
    )]
    NotInOrder { at: String, last: String },
    #[error("{at} has not come yet. Write the hour at which you measured")]
    NotYet { at: String },
    #[error("{at} lies more than three days back. This log has ended; begin another")]
    LongAgo { at: String },
    #[error("Write the hour as 24 hours, like 16:40")]
    NoHour,
    #[error("Write the minutes it rested, 0 to 240")]
    NoMinutes,
    #[error("Write a depth from 0.5 to 30 cm")]
    NoDepth,
    #[error("Say what was measured, in a few words")]
    NoName,
}

/// For the blank log: what to do where the first limit is missed, and where the second is.
pub fn log_sheet_words(least: &str) -> (String, String) {
    (
        format!(
            "heat it once to {least} or more, then cool it faster: thinner, ice, stirring. Or throw it away."
        ),
        "throw it away. Write which.".to_owned(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::heat::Scale;
    use crate::domain::moment::Zone;

    #[test]
    fn no_advice_promises_anything_and_each_is_a_sentence() {
        let zone = Zone::parse("Etc/UTC").unwrap();
        let by = Moment::of(jiff::Timestamp::from_second(1_800_000_000).unwrap(), &zone);
        let limit = Measured::whole(21, Scale::Celsius);
        let all = [
            Advice::UnderBy { limit, by },
            Advice::MeasureAgain { by },
            Advice::HoldUntil { least: limit, until: by },
            Advice::RestUntil { until: by },
            Advice::BackToTheHeat { least: limit },
            Advice::HeatOnceAndCoolFaster { least: limit },
            Advice::CoolFaster { limit, by, likely: Some(by) },
            Advice::CoolFaster { limit, by, likely: None },
            Advice::HeatAgainBy { least: limit, by },
            Advice::ChillBy { most: limit, by },
            Advice::ThrowAway,
            Advice::NothingProvesIt,
            Advice::BoxAndLabel,
            Advice::KeepLog,
        ];
        for words in all.iter().map(ToString::to_string) {
            assert!(!words.to_lowercase().contains("safe"), "{words}");
            assert!(words.ends_with('.') && !words.contains('!'), "{words}");
        }
    }
}
