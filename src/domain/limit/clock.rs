//! The two clocks of a food: hours that passed, and calendar days counted from the day of making.

use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp, ToSpan};

use crate::domain::moment::{ServiceTime, Zone};

/// Which way a figure counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Clock {
    /// Minutes that passed, frozen time left out.
    Elapsed(u32),
    /// Calendar days, the day of making as day 1 (Food Code 3-501.17; rule book 0.6, 0.7).
    Days(u32),
}

impl Clock {
    /// `2 days of 24 hours`, `4 days, the day of making as day 1`.
    pub fn words(self) -> String {
        match self {
            Self::Elapsed(minutes) => span_words(minutes),
            Self::Days(0) => "not at all".to_owned(),
            Self::Days(1) => "the day of making only".to_owned(),
            Self::Days(days) => format!("{days} days, the day of making as day 1"),
        }
    }

    /// When it ends for a food of this age; the instant itself is no longer within.
    pub fn end(self, age: &Age, zone: &Zone) -> Result<Timestamp, AgeError> {
        match self {
            Self::Elapsed(minutes) => Ok(elapsed_end(minutes, age)),
            // Never held at all: mixed raw stuffing.
            Self::Days(0) => Ok(age.made_at),
            Self::Days(days) => {
                let last = last_day(days, age, zone)?;
                Ok(day_start(last.saturating_add(1.day()), zone))
            }
        }
    }

    /// The earliest moment of making for food that is eaten at `eaten_at` and never frozen.
    pub fn earliest(self, eaten_at: Timestamp, zone: &Zone) -> Timestamp {
        match self {
            Self::Elapsed(minutes) => back(eaten_at, minutes),
            Self::Days(0) => eaten_at,
            Self::Days(days) => {
                let on = zone.local(eaten_at).date();
                day_start(on.saturating_sub(i64::from(days.saturating_sub(1)).days()), zone)
            }
        }
    }
}

/// What happened to a food since its clock started.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Age {
    pub made_at: Timestamp,
    pub frozen: Option<Frozen>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Frozen {
    pub at: Timestamp,
    /// When it was moved to the fridge.
    pub thaw_at: Timestamp,
}

impl Age {
    pub const fn fresh(made_at: Timestamp) -> Self {
        Self { made_at, frozen: None }
    }
}

/// Why a food cannot be kept by a calendar rule at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AgeError {
    #[error("Frozen on {frozen_on}, day {used} of {days}: its last day was {last}; throw it away")]
    TooOldToFreeze { frozen_on: String, used: u32, days: u32, last: String },
    #[error(
        "Frozen on {frozen_on}, day {used} of {days}: no day is left for thawing; freeze it a day earlier"
    )]
    NoDayLeft { frozen_on: String, used: u32, days: u32 },
    #[error("It is thawed before it is frozen, or frozen before it is made")]
    OutOfOrder,
}

/// Hours that passed, with the frozen stretch left out.
pub fn elapsed_end(minutes: u32, age: &Age) -> Timestamp {
    let frozen = age.frozen.map_or(SignedDuration::ZERO, |it| it.thaw_at.duration_since(it.at));
    age.made_at
        .saturating_add(SignedDuration::from_mins(i64::from(minutes)) + frozen)
        .unwrap_or(Timestamp::MAX)
}

/// The last calendar day, the day of making being day 1. Around the freezer the day of making, the
/// day of freezing and the day thawing starts all count (rule book 1.8.5).
pub fn last_day(days: u32, age: &Age, zone: &Zone) -> Result<Date, AgeError> {
    let made_on = zone.local(age.made_at).date();
    let Some(frozen) = age.frozen else { return Ok(plus(made_on, days.saturating_sub(1))) };
    if frozen.at < age.made_at || frozen.thaw_at < frozen.at {
        return Err(AgeError::OutOfOrder);
    }
    let frozen_on = zone.local(frozen.at).date();
    let used = used_days(made_on, frozen_on);
    let said = |date: Date| date.strftime("%-d %B").to_string();
    if used > days {
        let last = said(plus(made_on, days.saturating_sub(1)));
        return Err(AgeError::TooOldToFreeze { frozen_on: said(frozen_on), used, days, last });
    }
    if used == days {
        return Err(AgeError::NoDayLeft { frozen_on: said(frozen_on), used, days });
    }
    Ok(plus(zone.local(frozen.thaw_at).date(), days - used - 1))
}

/// Calendar days in the fridge up to the day of freezing, both counted.
pub fn used_days(made_on: Date, frozen_on: Date) -> u32 {
    let days = frozen_on.duration_since(made_on).as_hours() / 24;
    u32::try_from(days.max(0)).unwrap_or(u32::MAX).saturating_add(1)
}

/// The instant a civil day begins.
pub fn day_start(date: Date, zone: &Zone) -> Timestamp {
    ServiceTime { local: date.at(0, 0, 0, 0), zone: zone.clone() }.instant()
}

/// `2 days`, `18 hours`, `90 minutes`: as whole as it can be said.
pub fn span_words(minutes: u32) -> String {
    let (count, unit) = match minutes {
        m if m > 0 && m % 1_440 == 0 => (m / 1_440, "day"),
        m if m >= 180 && m % 60 == 0 => (m / 60, "hour"),
        m => (m, "minute"),
    };
    format!("{count} {unit}{}", if count == 1 { "" } else { "s" })
}

fn back(at: Timestamp, minutes: u32) -> Timestamp {
    at.saturating_sub(SignedDuration::from_mins(i64::from(minutes))).unwrap_or(Timestamp::MIN)
}

fn plus(date: Date, days: u32) -> Date {
    date.saturating_add(i64::from(days).days())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(words: &str, zone: &Zone) -> Timestamp {
        ServiceTime { local: words.parse().unwrap(), zone: zone.clone() }.instant()
    }

    fn utc() -> Zone {
        Zone::parse("Etc/UTC").unwrap()
    }

    /// Worked example 9.3 of the rule book on Food Code 3-501.17 and 3-501.18(A)(1): chicken
    /// cooked on Monday 1 June 2026, mixed into something made on the 3rd; the 1st decides.
    #[test]
    fn a_date_mark_counts_the_making_day_and_not_the_frozen_ones() {
        let zone = utc();
        let made_at = at("2026-06-01T12:00", &zone);
        let frozen = |on: &str| {
            let at_noon = |day: &str| at(&format!("2026-06-{day}T14:00"), &zone);
            Age { made_at, frozen: Some(Frozen { at: at_noon(on), thaw_at: at_noon("20") }) }
        };
        let june = |day| Ok(jiff::civil::date(2026, 6, day));
        assert_eq!(last_day(7, &Age::fresh(made_at), &zone), june(7), "9.3A");
        assert_eq!(last_day(7, &frozen("05"), &zone), june(21), "9.3B: the freezing day counts");
        assert_eq!(last_day(4, &Age::fresh(made_at), &zone), june(4), "9.3D, not frozen");
        let late = AgeError::TooOldToFreeze {
            frozen_on: "5 June".into(),
            used: 5,
            days: 4,
            last: "4 June".into(),
        };
        assert_eq!(last_day(4, &frozen("05"), &zone), Err(late), "9.3D");
        assert_eq!(last_day(4, &frozen("03"), &zone), june(20), "9.3E");
        let none_left = AgeError::NoDayLeft { frozen_on: "4 June".into(), used: 4, days: 4 };
        assert_eq!(last_day(4, &frozen("04"), &zone), Err(none_left), "9.3F");
    }

    /// 9.3G and 9.3H: the first day a thing may be made for a serving day.
    #[test]
    fn the_make_window_opens_n_less_one_days_before() {
        let zone = utc();
        let first = |days, serve: &str| {
            zone.local(Clock::Days(days).earliest(at(serve, &zone), &zone)).date()
        };
        assert_eq!(first(4, "2026-06-06T19:00"), jiff::civil::date(2026, 6, 3), "9.3G");
        assert_eq!(first(7, "2026-06-07T19:00"), jiff::civil::date(2026, 6, 1), "9.3H");
    }

    #[test]
    fn elapsed_days_are_24_hours_each_whatever_the_clocks_do() {
        let oslo = Zone::parse("Europe/Oslo").unwrap();
        let made = at("2027-03-27T12:00", &oslo);
        let end = elapsed_end(1_440, &Age::fresh(made));
        assert_eq!(oslo.local(end).to_string(), "2027-03-28T13:00:00", "an hour was skipped");
    }
}
