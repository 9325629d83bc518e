//! How a job may wait for the next: the stops and waits of its step, or going straight on.

use super::{Building, ways};
use crate::domain::card::{Card, FromFreezer, Mark, Place, Step, StepAt, Stop};
use crate::domain::limit::span_words;
use crate::domain::quantity::ScaleFactor;
use crate::domain::schedule::problem::Hold;

/// A gap with neither stop nor wait stays inside the room clock.
pub const ROOM_MINUTES: u32 = 120;
/// The author's way without a freezer, where its words give no figure.
const INSTEAD_MINUTES: u32 = 1_440;

/// Hundredths of a litre that must be frozen, whatever the days: mandatory waits in the freezer.
pub fn freezer_need(card: &Card, factor: &ScaleFactor) -> u32 {
    let must = card.steps().filter(|(_, step)| {
        let waits = step.wait.is_some_and(|wait| wait.place == Some(Place::Freezer));
        waits || step.stops.iter().any(|stop| stop.from_freezer == Some(FromFreezer::UseFrozen))
    });
    let boxes =
        must.map(|(_, step)| ways::centilitres(step.box_litres.as_ref(), factor.as_fraction()));
    boxes.max().unwrap_or(0)
}

/// All holds of a step; the one that goes straight on stands first where there is one.
pub fn holds(building: &Building, dish: usize, at: StepAt, slack: u32) -> Vec<Hold> {
    let planned = &building.dishes[dish];
    let step = &planned.laid.card.parts[at.part].steps[at.step];
    let centilitres = ways::centilitres(step.box_litres.as_ref(), planned.factor.as_fraction());
    if planned.without_freezer && is_frozen(step) {
        return without_freezer(building, dish, step, centilitres);
    }
    let mut found = Vec::new();
    if step.wait.is_none_or(|wait| wait.place.is_none()) {
        found.push(straight(step, slack));
    }
    if let Some(hold) = waiting(step, centilitres) {
        found.push(hold);
    }
    for stop in &step.stops {
        let keeps = planned.keeps.stops.iter().find(|it| it.at == at && it.place == stop.place);
        if keeps.is_some_and(|it| !it.impossible.is_empty()) {
            continue;
        }
        let hold = stopped(step, stop, centilitres);
        let own_wait = found.iter().position(|it| it.place == hold.place);
        match own_wait {
            Some(place) => found[place] = hold,
            None => found.push(hold),
        }
    }
    found
}

pub fn is_frozen(step: &Step) -> bool {
    step.wait.is_some_and(|wait| wait.place == Some(Place::Freezer))
        || step.stops.iter().any(|stop| stop.from_freezer == Some(FromFreezer::UseFrozen))
}

fn hold(place: Option<Place>, least_minutes: u32, most_minutes: u32, because: String) -> Hold {
    Hold {
        place,
        least_minutes,
        most_minutes: most_minutes.max(least_minutes),
        thaw_minutes: None,
        is_used_frozen: false,
        centilitres: 0,
        because,
    }
}

/// It goes on the same day. A rest has its own most; what the thermometer may spare is part of it.
fn straight(step: &Step, slack: u32) -> Hold {
    let hands = step.hands.map_or(0, |it| it.minutes);
    if let Some(rest) = step.rest
        && let Some(most) = rest.most_minutes
    {
        let spent = hands + rest.least_minutes;
        let more = most.saturating_sub(slack).max(spent) - spent;
        let because =
            format!("it rests at least {} and at most {most} minutes", rest.least_minutes);
        return hold(None, 0, more, because);
    }
    if let Some(wait) = step.wait
        && let Some(most) = wait.most_minutes
    {
        let more = most.saturating_sub(wait.least_minutes);
        return hold(None, 0, more, format!("it waits at most {}", span_words(most)));
    }
    hold(
        None,
        0,
        ROOM_MINUTES,
        format!("it goes on within {ROOM_MINUTES} min; it has no place to wait"),
    )
}

/// A wait in the cold is a hold by itself and may run overnight.
fn waiting(step: &Step, centilitres: u32) -> Option<Hold> {
    let wait = step.wait?;
    let place = wait.place?;
    let most = wait.most_minutes.unwrap_or(wait.least_minutes + ROOM_MINUTES);
    let because = wait_words(wait.least_minutes, most, place);
    let hold = hold(Some(place), wait.least_minutes, most, because);
    Some(Hold { centilitres, is_used_frozen: place == Place::Freezer, ..hold })
}

fn wait_words(least: u32, most: u32, place: Place) -> String {
    format!("it waits {} to {} in the {}", span_words(least), span_words(most), place.word())
}

/// A stop; with a wait in the same place there is one gap, at least the wait, at most the smaller.
fn stopped(step: &Step, stop: &Stop, centilitres: u32) -> Hold {
    let wait = step.wait.filter(|wait| wait.place.is_some());
    let least = wait.map_or(0, |it| it.least_minutes);
    let same = wait.filter(|it| it.place == Some(stop.place));
    let most = same
        .and_then(|it| it.most_minutes)
        .map_or(stop.most_minutes, |it| it.min(stop.most_minutes));
    let mut because =
        format!("it may stop in the {} at most {}", stop.place.word(), span_words(most));
    if let Some(why) = &stop.because {
        because = format!("{because} ({why})");
    }
    let hold = hold(Some(stop.place), least, most, because);
    let thaw_minutes = match stop.from_freezer {
        Some(FromFreezer::Thaw { minutes }) => Some(minutes),
        _ => None,
    };
    let is_used_frozen = stop.from_freezer == Some(FromFreezer::UseFrozen);
    Hold { thaw_minutes, is_used_frozen, centilitres, ..hold }
}

/// The author's way without a freezer: it stands in the fridge, at most as its words say.
fn without_freezer(building: &Building, dish: usize, step: &Step, centilitres: u32) -> Vec<Hold> {
    let words = building.card(dish).no_freezer.clone().unwrap_or_default();
    let most = fridge_minutes(&words).unwrap_or(INSTEAD_MINUTES);
    let because = format!("without a freezer: fridge, at most {}", span_words(most));
    let straight = straight(&Step { wait: None, ..step.clone() }, 0);
    vec![straight, Hold { centilitres, ..hold(Some(Place::Fridge), 0, most, because) }]
}

/// `fridge at most 1 day`.
pub fn fridge_minutes(words: &str) -> Option<u32> {
    let words = words.to_lowercase();
    let mut after = words.split("fridge at most ").nth(1)?.split_whitespace();
    let count: u32 = after.next()?.parse().ok().filter(|count| *count <= 60)?;
    Some(if after.next()?.starts_with("day") { count * 1_440 } else { count * 60 })
}

/// True when the next steps may begin from the freezer.
pub fn is_unmoulded(step: &Step) -> bool {
    step.marks.contains(&Mark::UnmouldFrozen)
}
