//! Clocks of calendar days, each with the sum behind it: date marks, packs, raw food from the shop.
//!
//! The day of making (or opening, or buying) is day 1; the earliest part decides; frozen days are left
//! out of the count and the day of freezing and the day thawing starts are not (Food Code 3-501.17,
//! 3-501.18(A)(1); rule book 0.6, 1.8.5, 2.8c).

use jiff::ToSpan;
use jiff::civil::Date;

use crate::domain::trace::{Trace, TraceLine};

/// Something made, opened or bought, whose clock goes on in what it is mixed into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Begun<'a> {
    /// `Roast chicken cooked`, `the pack opened`.
    pub what: &'a str,
    pub on: Date,
}

/// Days in a freezer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FrozenDays {
    pub on: Date,
    /// The day it was moved to the fridge.
    pub thaw_on: Date,
}

/// Whether the day of freezing is a day under refrigeration. Offices differ; counting it is ours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FreezeDay {
    #[default]
    Counts,
    /// One county leaves out a day on whose morning the food was frozen.
    IsLeftOut,
}

/// The last day of something, and the days that led to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DateMark {
    /// The day of the earliest part: day 1.
    pub governing: Date,
    /// Days used up before the freezer.
    pub used: Option<u32>,
    pub last_day: Date,
    pub trace: Trace,
}

/// Why a food cannot be kept by a count of days.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DateMarkError {
    #[error("Nothing is written that was made")]
    NothingMade,
    #[error("Write at least one day")]
    NoDays,
    #[error("{what} on {on}: that is after it was mixed, frozen or thawed")]
    OutOfOrder { what: String, on: String },
    #[error(
        "Frozen on {frozen_on}, day {used} of {days}: its last day was {last_said}; throw it away"
    )]
    TooOldToFreeze { frozen_on: String, used: u32, days: u32, last: Date, last_said: String },
    #[error(
        "Frozen on {frozen_on}, day {used} of {days}: no day is left for thawing; freeze it a day earlier"
    )]
    NoDayLeft { frozen_on: String, used: u32, days: u32 },
}

/// The last day of a mixture of `parts`, of which the earliest decides.
pub fn date_mark(
    days: u32,
    parts: &[Begun<'_>],
    frozen: Option<FrozenDays>,
    freeze_day: FreezeDay,
) -> Result<DateMark, DateMarkError> {
    let first = parts.iter().min_by_key(|part| part.on).ok_or(DateMarkError::NothingMade)?;
    if days == 0 {
        return Err(DateMarkError::NoDays);
    }
    let mut lines = vec![day_line(first.on, 1, &format!("{} = day 1", first.what))];
    for part in parts.iter().filter(|part| *part != first) {
        lines.push(TraceLine::new(
            "",
            short(part.on),
            format!(
                "{}: {}. It starts no new count; the earliest part decides.",
                said(part.on),
                part.what
            ),
        ));
    }
    let Some(frozen) = frozen else {
        let last = plus(first.on, days - 1);
        for day in 2..=days {
            let words =
                if day == days { format!("day {day}, the last") } else { format!("day {day}") };
            lines.push(day_line(plus(first.on, day - 1), day, &words));
        }
        return Ok(mark(first.on, None, last, lines));
    };
    if let Some(late) = parts.iter().find(|part| part.on > frozen.on) {
        let (what, on) = (late.what.to_owned(), said(late.on));
        return Err(DateMarkError::OutOfOrder { what, on });
    }
    if frozen.thaw_on < frozen.on {
        let (what, on) = ("Frozen".to_owned(), said(frozen.on));
        return Err(DateMarkError::OutOfOrder { what, on });
    }
    let used = used_days(first.on, frozen.on, freeze_day);
    around_the_freezer(days, first.on, frozen, used, freeze_day, &mut lines)?;
    let last = plus(frozen.thaw_on, days - used - 1);
    Ok(mark(first.on, Some(used), last, lines))
}

/// The lines from the freezer on, or why nothing is left.
fn around_the_freezer(
    days: u32,
    first: Date,
    frozen: FrozenDays,
    used: u32,
    freeze_day: FreezeDay,
    lines: &mut Vec<TraceLine>,
) -> Result<(), DateMarkError> {
    let frozen_on = plain(frozen.on);
    if used > days {
        let last = plus(first, days - 1);
        let last_said = plain(last);
        return Err(DateMarkError::TooOldToFreeze { frozen_on, used, days, last, last_said });
    }
    if used == days {
        return Err(DateMarkError::NoDayLeft { frozen_on, used, days });
    }
    for day in 2..used {
        lines.push(day_line(plus(first, day - 1), day, &format!("day {day}")));
    }
    let counts = match freeze_day {
        FreezeDay::Counts if frozen.on == first => "the same day".to_owned(),
        FreezeDay::Counts => format!("day {used}"),
        FreezeDay::IsLeftOut => "in the morning, not counted".to_owned(),
    };
    lines.push(TraceLine::new(
        format!("{used} used"),
        short(frozen.on),
        format!(
            "{}: frozen, {counts}. The count stands still, it does not start again.",
            said(frozen.on)
        ),
    ));
    for day in used + 1..=days {
        let on = plus(frozen.thaw_on, day - used - 1);
        let thaw = if day == used + 1 { "moved to the fridge, " } else { "" };
        let last = if day == days { ", the last" } else { "" };
        lines.push(day_line(on, day, &format!("{thaw}day {day}{last}")));
    }
    Ok(())
}

/// Calendar days in the fridge up to the day of freezing.
fn used_days(first: Date, frozen_on: Date, freeze_day: FreezeDay) -> u32 {
    let days = frozen_on.duration_since(first).as_hours() / 24;
    let days = u32::try_from(days.max(0)).unwrap_or(u32::MAX);
    match freeze_day {
        FreezeDay::Counts => days.saturating_add(1),
        FreezeDay::IsLeftOut => days,
    }
}

/// The earliest day a thing may be made that is eaten on `serve`: day 1 of `days`.
pub fn make_window(days: u32, serve: Date) -> Date {
    serve.saturating_sub(i64::from(days.saturating_sub(1)).days())
}

/// A pack: until its own use-by, and once opened not longer than the count from opening. A use-by that
/// stands for harm is never outrun (3-501.17(B)).
pub fn pack(
    days: u32,
    use_by: Option<Date>,
    opened_on: Option<Date>,
    food: &str,
) -> Result<DateMark, DateMarkError> {
    let opened = match opened_on {
        Some(on) => {
            let what = format!("{food}, pack opened");
            Some(date_mark(days, &[Begun { what: &what, on }], None, FreezeDay::Counts)?)
        }
        None => None,
    };
    let Some(use_by) = use_by else { return opened.ok_or(DateMarkError::NothingMade) };
    let line = TraceLine::new(
        "use by",
        short(use_by),
        format!("{}: the maker’s use-by on the pack.", said(use_by)),
    );
    let (governing, mut lines, counted) = match opened {
        Some(mark) => (mark.governing, mark.trace.lines, Some(mark.last_day)),
        None => (use_by, Vec::new(), None),
    };
    if opened_on.is_some_and(|on| on > use_by) {
        let what = format!("{food}, pack opened");
        let on = opened_on.map(said).unwrap_or_default();
        return Err(DateMarkError::OutOfOrder { what, on });
    }
    lines.push(line);
    let last = counted.map_or(use_by, |counted| counted.min(use_by));
    Ok(mark(governing, None, last, lines))
}

/// Raw meat, poultry and fish: the day of buying is day 1, marinating starts nothing new, and a
/// use-by on the pack that comes sooner ends it.
pub fn bought(
    days: u32,
    food: &str,
    on: Date,
    use_by: Option<Date>,
    frozen: Option<FrozenDays>,
) -> Result<DateMark, DateMarkError> {
    let what = format!("{food} bought");
    let counted = date_mark(days, &[Begun { what: &what, on }], frozen, FreezeDay::Counts)?;
    // A pack frozen by its use-by keeps what it had left; the count above already holds it.
    let Some(use_by) = use_by.filter(|_| frozen.is_none()) else { return Ok(counted) };
    let mut lines = counted.trace.lines;
    lines.push(TraceLine::new(
        "use by",
        short(use_by),
        format!("{}: the use-by on the pack.", said(use_by)),
    ));
    Ok(mark(on, None, counted.last_day.min(use_by), lines))
}

fn mark(governing: Date, used: Option<u32>, last_day: Date, lines: Vec<TraceLine>) -> DateMark {
    let answer = TraceLine::new("", short(last_day), format!("Last day {}.", said(last_day)));
    DateMark { governing, used, last_day, trace: Trace { lines, answer } }
}

fn day_line(on: Date, day: u32, words: &str) -> TraceLine {
    TraceLine::new(format!("day {day}"), short(on), format!("{}: {words}.", said(on)))
}

/// `Monday 1 June`.
fn said(on: Date) -> String {
    on.strftime("%A %-d %B").to_string()
}

/// `1 June`.
fn plain(on: Date) -> String {
    on.strftime("%-d %B").to_string()
}

/// `Mon 1`.
fn short(on: Date) -> String {
    on.strftime("%a %-d").to_string()
}

fn plus(on: Date, days: u32) -> Date {
    on.saturating_add(i64::from(days).days())
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    const CHICKEN: Begun<'_> = Begun { what: "Roast chicken cooked", on: date(2026, 6, 1) };
    const PIE: Begun<'_> = Begun { what: "pie base cooked", on: date(2026, 6, 3) };

    fn june(day: i8) -> Date {
        date(2026, 6, day)
    }

    /// Worked example 9.3 of the rule book, A to H, on Food Code 3-501.17 and 3-501.18(A)(1).
    #[test]
    fn the_worked_example_of_the_date_mark_comes_out_letter_for_letter() {
        let to_20 = |on: i8| Some(FrozenDays { on: june(on), thaw_on: june(20) });
        let ask = |days, parts: &[Begun<'_>], frozen, day| date_mark(days, parts, frozen, day);
        let both = [CHICKEN, PIE];
        let mixed = ask(7, &both, None, FreezeDay::Counts).unwrap();
        assert_eq!((mixed.governing, mixed.last_day, mixed.used), (june(1), june(7), None), "9.3A");
        let frozen = ask(7, &both, to_20(5), FreezeDay::Counts).unwrap();
        assert_eq!((frozen.used, frozen.last_day), (Some(5), june(21)), "9.3B");
        let morning = ask(7, &both, to_20(5), FreezeDay::IsLeftOut).unwrap();
        assert_eq!((morning.used, morning.last_day), (Some(4), june(22)), "9.3C");
        let too_old = ask(4, &both, to_20(5), FreezeDay::Counts).unwrap_err();
        let DateMarkError::TooOldToFreeze { used, last, .. } = &too_old else {
            panic!("9.3D: {too_old}")
        };
        assert_eq!((*used, *last), (5, june(4)), "9.3D");
        let in_time = ask(4, &[CHICKEN], to_20(3), FreezeDay::Counts).unwrap();
        assert_eq!((in_time.used, in_time.last_day), (Some(3), june(20)), "9.3E");
        let none_left = ask(4, &[CHICKEN], to_20(4), FreezeDay::Counts).unwrap_err();
        assert!(matches!(none_left, DateMarkError::NoDayLeft { used: 4, .. }), "9.3F: {none_left}");
        assert_eq!(make_window(4, june(6)), june(3), "9.3G");
        assert_eq!(make_window(7, june(7)), june(1), "9.3H");
    }

    #[test]
    fn the_sum_can_be_read_aloud() {
        let frozen = FrozenDays { on: june(5), thaw_on: june(20) };
        let mark = date_mark(7, &[PIE, CHICKEN], Some(frozen), FreezeDay::Counts).unwrap();
        let words: Vec<&str> = mark.trace.lines.iter().map(|line| &*line.words).collect();
        assert_eq!(
            words,
            [
                "Monday 1 June: Roast chicken cooked = day 1.",
                "Wednesday 3 June: pie base cooked. It starts no new count; the earliest part decides.",
                "Tuesday 2 June: day 2.",
                "Wednesday 3 June: day 3.",
                "Thursday 4 June: day 4.",
                "Friday 5 June: frozen, day 5. The count stands still, it does not start again.",
                "Saturday 20 June: moved to the fridge, day 6.",
                "Sunday 21 June: day 7, the last.",
            ]
        );
        assert_eq!(mark.trace.answer.words, "Last day Sunday 21 June.");
    }

    #[test]
    fn a_pack_ends_on_the_earlier_of_its_own_date_and_the_count_from_opening() {
        let last = |use_by, opened| pack(7, use_by, opened, "Ricotta").map(|it| it.last_day);
        assert_eq!(last(Some(june(5)), Some(june(2))), Ok(june(5)), "the maker's date");
        assert_eq!(last(Some(june(20)), Some(june(2))), Ok(june(8)), "seven days from opening");
        assert_eq!(last(Some(june(20)), None), Ok(june(20)), "unopened");
        assert!(last(Some(june(1)), Some(june(2))).is_err(), "opened after its date");
        assert_eq!(last(None, None), Err(DateMarkError::NothingMade));
    }

    /// Rule book 2.8c: 1 to 2 days, the day of buying as day 1; frozen days do not count.
    #[test]
    fn raw_food_counts_from_the_shop() {
        let frozen = FrozenDays { on: june(1), thaw_on: june(10) };
        assert_eq!(bought(2, "Chicken", june(1), None, None).unwrap().last_day, june(2));
        assert_eq!(bought(2, "Chicken", june(1), Some(june(1)), None).unwrap().last_day, june(1));
        assert_eq!(bought(2, "Chicken", june(1), None, Some(frozen)).unwrap().last_day, june(10));
    }

    proptest! {
        #[test]
        fn freezing_never_adds_days_and_an_older_part_never_helps(
            days in 1u32..10, made in 0u32..5, freeze in 0u32..5, thaw in 0u32..30, older in 0u32..4,
        ) {
            let start = june(10);
            let on = plus(start, made);
            let part = Begun { what: "made", on };
            let fresh = date_mark(days, &[part], None, FreezeDay::Counts).unwrap();
            let frozen_on = plus(on, freeze);
            let frozen = FrozenDays { on: frozen_on, thaw_on: plus(frozen_on, thaw) };
            if let Ok(mark) = date_mark(days, &[part], Some(frozen), FreezeDay::Counts) {
                // Days in the fridge, the frozen ones left out, are never more than without it.
                let in_fridge = freeze + 1 + u32::try_from(mark.last_day.duration_since(frozen.thaw_on).as_hours() / 24).unwrap() + 1;
                prop_assert!(in_fridge <= days);
                let fewer = date_mark(days, &[part], Some(frozen), FreezeDay::IsLeftOut).unwrap();
                prop_assert!(mark.last_day <= fewer.last_day);
            }
            let old = Begun { what: "older", on: on.saturating_sub(i64::from(older).days()) };
            let mixed = date_mark(days, &[part, old], None, FreezeDay::Counts).unwrap();
            prop_assert!(mixed.last_day <= fresh.last_day);
            prop_assert_eq!(fresh.trace.lines.len(), usize::try_from(days).unwrap());
        }
    }
}
