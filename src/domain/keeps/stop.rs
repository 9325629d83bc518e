//! One stop of one card: every figure that holds there, and the earliest moment they leave.

use jiff::{SignedDuration, Timestamp, ToSpan};

use super::inside::{Walk, waiting};
use super::{Answer, Bought, Moment, StopKeeps, StopLimit, Trace, TraceLine, Whose};
use crate::domain::card::{By, FromFreezer, Mark, Place, StepAt, Stop};
use crate::domain::limit::{Basis, Clock, KindOfFood, Row, Trait, Waiting, kinds_of, span_words};
use crate::domain::menu::{Laid, LaidDish, Sitting};
use crate::domain::moment::Zone;

pub fn stop_keeps(
    laid: &Laid,
    sitting: &Sitting,
    dish: &LaidDish,
    walk: &Walk<'_>,
    at: StepAt,
    stop: &Stop,
) -> StopKeeps {
    let step = walk.step(at);
    let waits = waiting(laid, &sitting.choices, dish, walk, at);
    let kinds = kinds(laid, step.kind_of_food.as_deref(), &waits);
    let from_step = walk.step(walk.last_change(at)).number;
    let cooked_step = walk.last_heat(at).map_or(from_step, |it| walk.step(it).number);
    let limits = limits(laid, stop, &kinds, from_step, cooked_step);
    let zone = &sitting.serve.zone;
    let eaten_at = sitting.serve.instant();
    let part = &dish.card.parts[at.part];
    let safety = answer(&limits, Basis::Safety, stop.place, eaten_at, zone);
    let quality = answer(&limits, Basis::Quality, stop.place, eaten_at, zone);
    let binds = [&safety, &quality].into_iter().flatten().max_by_key(|it| it.earliest);
    let earliest = binds.map_or(Moment::of(eaten_at, zone), |it| it.earliest);
    let reason = binds.map_or_else(String::new, |it| it.reason.clone());
    let (thaw_minutes, is_used_frozen) = match stop.from_freezer {
        Some(FromFreezer::Thaw { minutes }) => (Some(minutes), false),
        Some(FromFreezer::UseFrozen) => (None, true),
        None => (None, false),
    };
    StopKeeps {
        at,
        what: what(dish, &part.name, part.is_finish),
        part: part.name.clone(),
        step: step.number,
        line: step.line,
        place: stop.place,
        thaw_minutes,
        is_used_frozen,
        is_raw: step.marks.contains(&Mark::RawMeat)
            || waits.contents.iter().any(|it| {
                is_raw_animal(&it.traits) && it.heated < crate::domain::limit::Heated::Through
            }),
        box_litres: step.box_litres.clone(),
        impossible: impossible(&limits, stop, thaw_minutes),
        trace: trace(&limits, stop, eaten_at, earliest, zone),
        limits,
        safety,
        quality,
        earliest,
        reason,
        from_step,
        wait: step
            .wait
            .filter(|wait| wait.place == Some(Place::Fridge))
            .map(|wait| (wait.least_minutes, wait.most_minutes)),
    }
}

/// The part by its own name, or the dish where the author named no part.
fn what(dish: &LaidDish, part: &str, is_finish: bool) -> String {
    if is_finish || part == "method" || part.to_lowercase() == dish.title.to_lowercase() {
        dish.title.clone()
    } else {
        part.to_owned()
    }
}

fn is_raw_animal(traits: &std::collections::BTreeSet<Trait>) -> bool {
    [Trait::Poultry, Trait::Mince, Trait::Meat, Trait::Fish, Trait::Shellfish]
        .iter()
        .any(|it| traits.contains(it))
}

/// The rows that count here: the author's own word first, else what the foods say.
fn kinds<'a>(laid: &'a Laid, word: Option<&str>, waits: &Waiting) -> Vec<(&'a Row, String)> {
    if let Some(word) = word
        && let Some(row) = laid.profile.row_called(word)
    {
        return vec![(row, "the kind the card names".to_owned())];
    }
    let found = kinds_of(waits);
    let rows = found
        .into_iter()
        .filter_map(|KindOfFood { key, because }| Some((laid.profile.row(key)?, because)));
    rows.collect()
}

fn limits(
    laid: &Laid,
    stop: &Stop,
    kinds: &[(&Row, String)],
    from_step: u32,
    cooked_step: u32,
) -> Vec<StopLimit> {
    let profile = &laid.profile;
    let has_safety = kinds.iter().any(|(row, _)| profile.is_for_safety(row));
    let by = match stop.by {
        Some(By::Safety) => Basis::Safety,
        Some(By::Quality) => Basis::Quality,
        None if has_safety && stop.place != Place::Freezer => Basis::Safety,
        None => Basis::Quality,
    };
    let because = stop.because.clone().or_else(|| Some(kinds.first()?.0.kind.to_string()));
    let mut limits = vec![StopLimit {
        by,
        clock: Clock::Elapsed(stop.most_minutes),
        whose: Whose::Card,
        because: because.unwrap_or_default(),
        source: String::new(),
        status: None,
        from_step,
        leaves_out_frozen: stop.place != Place::Freezer,
    }];
    if !stop.is_dry_place() {
        for (row, because) in kinds {
            limits.extend(row_limits(laid, stop, by, row, because, (from_step, cooked_step)));
        }
    }
    // Out of the cold, only what spoils has a clock: not bread, biscuits, a dry crumb.
    if stop.is_dry_place() && has_safety {
        limits.push(StopLimit {
            by: Basis::Safety,
            clock: Clock::Elapsed(profile.room_minutes()),
            whose: Whose::Rule(crate::domain::limit::ROOM.to_owned()),
            because: "time out of the fridge, all stretches together".to_owned(),
            source: profile.room_source().to_owned(),
            status: Some(profile.room_status()),
            from_step,
            leaves_out_frozen: true,
        });
    }
    limits
}

/// The figures of one row: the shipped count, and the school's own on top.
fn row_limits(
    laid: &Laid,
    stop: &Stop,
    by: Basis,
    row: &Row,
    because: &str,
    (from_step, cooked_step): (u32, u32),
) -> Vec<StopLimit> {
    let profile = &laid.profile;
    let is_safety = profile.is_for_safety(row);
    // The author's tested figure stands for taste; a row only where there is none.
    let fills_in = by == Basis::Safety && stop.place == Place::Fridge;
    if !(is_safety || fills_in) {
        return Vec::new();
    }
    let limit = |(clock, is_school): (Clock, bool)| StopLimit {
        by: if is_safety { Basis::Safety } else { Basis::Quality },
        clock,
        whose: if is_school { Whose::School } else { Whose::Rule(row.key.to_string()) },
        because: format!("{} ({because})", row.kind),
        source: if is_school { "row of the school".to_owned() } else { profile.source(row) },
        status: (!is_school).then(|| profile.status(row)),
        from_step: if is_cooked(row) { cooked_step } else { from_step },
        leaves_out_frozen: true,
    };
    profile.clocks(row).into_iter().map(limit).collect()
}

fn is_cooked(row: &Row) -> bool {
    ["leftover", "starch", "family", "plant", "egg", "seafood"].contains(&&*row.family)
        && *row.key != *"home_mixed"
}

impl Stop {
    fn is_dry_place(&self) -> bool {
        matches!(self.place, Place::Cool | Place::Counter)
    }
}

/// The latest of the earliest moments: what the strictest figure of one kind leaves.
fn answer(
    limits: &[StopLimit],
    by: Basis,
    place: Place,
    eaten_at: Timestamp,
    zone: &Zone,
) -> Option<Answer> {
    // In the freezer a calendar count stands still: the thaw has its own lines.
    let counts = |limit: &&(usize, &StopLimit)| {
        limit.1.by == by && (place != Place::Freezer || !limit.1.leaves_out_frozen)
    };
    let indexed: Vec<(usize, &StopLimit)> = limits.iter().enumerate().collect();
    let (place, limit) = indexed
        .iter()
        .filter(counts)
        .max_by_key(|(place, limit)| {
            (limit.clock.earliest(eaten_at, zone), std::cmp::Reverse(*place))
        })
        .copied()?;
    let earliest = Moment::of(limit.clock.earliest(eaten_at, zone), zone);
    Some(Answer { earliest, limit: place, reason: limit.sentence() })
}

/// What no day of making can put right.
fn impossible(limits: &[StopLimit], stop: &Stop, thaw_minutes: Option<u32>) -> Vec<String> {
    let mut reasons = Vec::new();
    let days = limits.iter().filter_map(|limit| match limit.clock {
        Clock::Days(days) if limit.by == Basis::Safety => Some((days, limit)),
        _ => None,
    });
    let strictest = days.min_by_key(|(days, _)| *days);
    if let (Some((days, limit)), Some(thaw), Place::Freezer) = (strictest, thaw_minutes, stop.place)
    {
        let thaw_days = thaw.div_ceil(1_440);
        // The day of making and freezing is day 1; thawing and eating need the rest.
        if thaw_days + 1 > days {
            reasons.push(format!(
                "Thawing takes {} and the rule leaves {} after the day of making: {}",
                span_words(thaw),
                span_words(days.saturating_sub(1) * 1_440),
                limit.sentence()
            ));
        }
    }
    if let Some((0, limit)) = strictest {
        reasons.push(format!("It may not wait at all: {}", limit.sentence()));
    }
    reasons
}

fn trace(
    limits: &[StopLimit],
    stop: &Stop,
    eaten_at: Timestamp,
    earliest: Moment,
    zone: &Zone,
) -> Trace {
    let mut lines =
        vec![TraceLine::at(Moment::of(eaten_at, zone), "At the table: counted back from here.")];
    for limit in limits {
        let from = Moment::of(limit.clock.earliest(eaten_at, zone), zone);
        let figure = match limit.clock {
            Clock::Elapsed(minutes) => format!("\u{2212} {}", span_words(minutes)),
            Clock::Days(days) => format!("day {days}"),
        };
        let stands = stop.place == Place::Freezer && limit.leaves_out_frozen;
        let words = if stands {
            format!(
                "{} It stands still in the freezer; days before and after count.",
                limit.sentence()
            )
        } else {
            format!("{} Not before {from}.", limit.sentence())
        };
        lines.push(TraceLine::new(figure, limit.by.word(), words));
    }
    let shift = clock_change(earliest.at, eaten_at, zone);
    lines.push(match shift {
        0 => {
            TraceLine::new("\u{b1} 0 h", "clock", format!("No change of clock in {}.", zone.name()))
        }
        minutes => TraceLine::new(
            format!("{} {} min", if minutes > 0 { "+" } else { "\u{2212}" }, minutes.abs()),
            "clock",
            format!("The clocks change in {} between the two.", zone.name()),
        ),
    });
    let answer = TraceLine::at(earliest, format!("Not before {earliest}."));
    Trace { lines, answer }
}

/// Minutes by which wall time and passed time differ.
fn clock_change(from: Timestamp, to: Timestamp, zone: &Zone) -> i64 {
    let wall = zone.local(to).duration_since(zone.local(from)).as_mins();
    wall - to.duration_since(from).as_mins()
}

/// Raw foods of a dish with a clock from the day of buying (rule book 2.8c).
pub fn bought(laid: &Laid, sitting: &Sitting, walk: &Walk<'_>) -> Vec<Bought> {
    let rows = [
        (Trait::Poultry, "poultry_parts_raw"),
        (Trait::Mince, "ground_raw"),
        (Trait::Fish, "fish_lean_raw"),
        (Trait::Shellfish, "shrimp_raw"),
        (Trait::Meat, "roasts_raw"),
    ];
    let zone = &sitting.serve.zone;
    let eaten_at = sitting.serve.instant();
    let mut found: Vec<Bought> = Vec::new();
    let entries = walk.card.steps().flat_map(|(_, step)| &step.goes_in);
    for entry in entries.filter(|entry| entry.source.is_none()) {
        let food = entry.what.found.known().and_then(|key| laid.larder.food(key));
        let traits = crate::domain::limit::traits_of(&entry.what.name, food);
        let Some((_, key)) = rows.iter().find(|(it, _)| traits.contains(it)) else { continue };
        let Some(row) = laid.profile.row(key) else { continue };
        let Some(days) = laid.profile.days(row) else { continue };
        let own = laid.profile.tighter().get(*key).and_then(|it| it.most).unwrap_or(days);
        let days = days.min(own);
        let not_before = Moment::of(Clock::Days(days).earliest(eaten_at, zone), zone);
        let last_day = not_before.local.date().saturating_add(i64::from(days - 1).days());
        let name = &entry.what.name;
        let sentence = format!(
            "Buy {name} at most {} before it is cooked: bought {}, last day {} ({})",
            span_words((days - 1) * 1_440),
            not_before.local.strftime("%A %-d %B"),
            last_day.strftime("%A %-d %B"),
            laid.profile.source(row),
        );
        let source = laid.profile.source(row);
        let food = name.clone();
        found.push(Bought { food, days, not_before, last_day, sentence, source });
    }
    found
}

/// Minutes before `at`, for thaw and take-out lines.
pub fn minutes_before(at: Timestamp, minutes: u32) -> Timestamp {
    at.saturating_sub(SignedDuration::from_mins(i64::from(minutes))).unwrap_or(at)
}

/// The minutes that a figure leaves whatever the hour of making: a calendar count loses its first day.
pub const fn minutes_allowed(clock: Clock) -> u32 {
    match clock {
        Clock::Elapsed(minutes) => minutes,
        Clock::Days(days) => days.saturating_sub(1).saturating_mul(1_440),
    }
}
