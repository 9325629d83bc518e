//! What does not fit together on a card, said by line with the words to write instead.

use std::collections::BTreeSet;

use num_rational::BigRational;

use super::note::is_share;
use super::step::{FromFreezer, Mark, Place, Source, Step};
use super::words::minutes_words;
use super::{Card, Part};
use crate::domain::quantity::{Amount, Spoons, Unit};
use crate::domain::remark::{Place as At, Remark};

/// Everything that is wrong or odd about the card as a whole.
pub(super) fn of(card: &Card) -> Vec<Remark> {
    let mut found = Vec::new();
    let places: BTreeSet<(String, u32)> =
        card.steps().map(|(part, step)| (part.name.to_lowercase(), step.number)).collect();
    for part in &card.parts {
        let mut above: Option<&Step> = None;
        let mut numbers = BTreeSet::new();
        for step in &part.steps {
            oven_and_touches(step, &mut found);
            stops(step, &mut found);
            rest_and_checks(step, above, &mut found);
            references(card, &places, step, &mut found);
            alternatives(step, &mut found);
            shelf(step, &mut found);
            if !numbers.insert(step.number) {
                let sentence = format!("Two steps of this part are number {}", step.number);
                found.push(Remark::note(At::Line(step.line), sentence));
            }
            above = Some(step);
        }
    }
    for vessel in card.vessels.iter().filter(|it| it.shelf.as_ref().is_some_and(|s| !is_share(s))) {
        let sentence = format!("The shelf of “{}” is more than one", vessel.what);
        found.push(Remark::fault(At::Whole, sentence).write("shelf 1"));
    }
    names(card, &mut found);
    unused_parts(card, &mut found);
    amounts_of_parts(card, &mut found);
    if let Some(line) = super::links::cycle(card) {
        let sentence = "This step waits for a step that waits for it; take one “after” out";
        found.push(Remark::fault(At::Line(line), sentence));
    }
    found
}

fn oven_and_touches(step: &Step, found: &mut Vec<Remark>) {
    let total = step.oven.as_ref().map(|oven| oven.minutes()).or(step.hob.map(|hob| hob.minutes));
    for touch in &step.touches {
        let at = touch.at_minutes;
        match total {
            Some(total) if at >= total => {
                let sentence = format!(
                    "“{}” stands at {at} min, but the heat ends at {total} min",
                    touch.what
                );
                let write = format!("[at {} min: {}]", total / 2, touch.what);
                found.push(Remark::fault(At::Line(step.line), sentence).write(write));
            }
            None => {
                let sentence = format!("“{}” stands at {at} min of no oven or hob", touch.what);
                found.push(Remark::note(At::Line(step.line), sentence).write("[hob 25 min]"));
            }
            Some(_) => {}
        }
    }
    let extra = step.cold_extra_minutes.is_some() || step.frozen_extra_minutes.is_some();
    if extra && step.oven.is_none() {
        let sentence = "Longer from the fridge, but no oven is given";
        found.push(Remark::note(At::Line(step.line), sentence).write("[oven 200C 40 min]"));
    }
}

fn stops(step: &Step, found: &mut Vec<Remark>) {
    for stop in &step.stops {
        if stop.place == Place::Freezer && stop.from_freezer.is_none() {
            let time = super::words::days_words(stop.most_minutes);
            let sentence =
                "A stop in the freezer says how long it thaws, or that it is used frozen";
            let write = format!("[stop freezer {time}, thaw 24 h]");
            found.push(Remark::fault(At::Line(step.line), sentence).write(write));
        }
        if stop.place != Place::Freezer
            && matches!(stop.from_freezer, Some(FromFreezer::Thaw { .. }))
        {
            let sentence = format!("Nothing thaws that stood in the {}", stop.place.word());
            found.push(Remark::note(At::Line(step.line), sentence));
        }
    }
    let mut places = BTreeSet::new();
    if step.stops.iter().any(|stop| !places.insert(stop.place)) {
        let sentence = "Two stops at one place; the shorter counts";
        found.push(Remark::note(At::Line(step.line), sentence));
    }
}

/// The food rests after the step in which it was measured, or in that step itself.
fn rest_and_checks(step: &Step, above: Option<&Step>, found: &mut Vec<Remark>) {
    let check = step.check.or_else(|| above.and_then(|above| above.check));
    let checks = check.map_or(0, |check| check.most.saturating_sub(1) * check.every_minutes);
    if let Some(rest) = step.rest
        && let Some(most) = rest.most_minutes
        && most < rest.least_minutes + checks
    {
        let least = minutes_words(rest.least_minutes + checks);
        let sentence = format!("The rest must bear the re-checks: at least up to {least}");
        let write = format!("[rest {} to {least}]", minutes_words(rest.least_minutes));
        found.push(Remark::note(At::Line(step.line), sentence).write(write));
    }
    if step.check.is_some() && step.core.is_none() {
        let sentence = "Measured again and again, but the end point is not given";
        found.push(Remark::note(At::Line(step.line), sentence).write("[core 75C]"));
    }
}

fn references(card: &Card, places: &BTreeSet<(String, u32)>, step: &Step, found: &mut Vec<Remark>) {
    for after in &step.after {
        if !places.contains(&(after.part.to_lowercase(), after.number)) {
            let sentence = format!("There is no step {} of “{}”", after.number, after.part);
            let write = card
                .steps()
                .next()
                .map(|(part, first)| format!("[after {} {}]", part.name, first.number));
            let remark = Remark::fault(At::Line(step.line), sentence);
            found.push(match write {
                Some(write) => remark.write(write),
                None => remark,
            });
        }
    }
    let own = step.before_serving_minutes.is_some() && step.marks.contains(&Mark::Last);
    if own {
        let sentence = "Last, and so many minutes before serving: one of the two is enough";
        found.push(Remark::note(At::Line(step.line), sentence));
    }
}

fn alternatives(step: &Step, found: &mut Vec<Remark>) {
    for entry in &step.goes_in {
        let unit = entry.what.amount.as_ref().map(Amount::unit);
        let other = entry.what.alternatives.iter().find(|it| {
            it.amount
                .as_ref()
                .is_some_and(|amount| Some(amount.unit().kind()) != unit.map(Unit::kind))
        });
        if let Some(other) = other {
            let sentence =
                format!("“{}” is measured in another way than the first food", other.name);
            found.push(Remark::note(At::Line(entry.line), sentence));
        }
    }
}

fn shelf(step: &Step, found: &mut Vec<Remark>) {
    if step.shelf.as_ref().is_some_and(|share| !is_share(share)) {
        let sentence = "A share of a shelf is more than 0 and at most 1";
        found.push(Remark::fault(At::Line(step.line), sentence).write("[shelf 1/2]"));
    }
}

fn names(card: &Card, found: &mut Vec<Remark>) {
    let mut seen = BTreeSet::new();
    for part in &card.parts {
        if part.name.is_empty() {
            let sentence = "A part needs a name";
            found.push(Remark::fault(At::Line(part.line), sentence).write("part: crumb"));
        } else if !seen.insert(part.name.to_lowercase()) {
            let sentence = format!("Two parts are called “{}”; rename one", part.name);
            found.push(Remark::fault(At::Line(part.line), sentence));
        }
        if part.steps.is_empty() && part.line > 0 {
            let sentence = format!("“{}” has no step yet", part.name);
            found.push(Remark::note(At::Line(part.line), sentence).write("1. "));
        }
    }
    if let Some(place) = card.parts.iter().position(|part| part.is_finish)
        && place + 1 < card.parts.len()
    {
        let line = card.parts[place].line;
        let sentence = "The finish joins the other parts; it stands last";
        found.push(Remark::fault(At::Line(line), sentence));
    }
}

/// With a finish, every part must reach it: by name, or because another part takes it up.
fn unused_parts(card: &Card, found: &mut Vec<Remark>) {
    let used: BTreeSet<&str> = card
        .steps()
        .flat_map(|(_, step)| &step.goes_in)
        .filter_map(|entry| match &entry.source {
            Some(Source::Part(name)) => Some(name.as_str()),
            _ => None,
        })
        .collect();
    for (place, part) in card.parts.iter().enumerate() {
        let leads_on = place + 1 < card.parts.len() && directly_followed(card, place);
        if !part.is_finish
            && card.parts.len() > 1
            && !used.contains(part.name.as_str())
            && !leads_on
        {
            let sentence = format!("Nothing uses “{}”; name it where it goes in", part.name);
            let write = format!("+ {}", part.name);
            found.push(Remark::note(At::Line(part.line), sentence).write(write));
        }
    }
}

/// The part right before the finish flows into it without being named.
pub(super) fn directly_followed(card: &Card, place: usize) -> bool {
    card.parts.get(place + 1).is_some_and(|next: &Part| next.is_finish)
}

/// A part that says what it makes cannot give more.
fn amounts_of_parts(card: &Card, found: &mut Vec<Remark>) {
    for part in &card.parts {
        let Some(makes) = part.makes.as_ref().and_then(in_base) else { continue };
        let mut used = BigRational::default();
        let mut line = 0;
        for entry in card.steps().flat_map(|(_, step)| &step.goes_in) {
            if entry.source == Some(Source::Part(part.name.clone()))
                && let Some(amount) = entry.what.amount.as_ref().and_then(in_base)
                && amount.1 == makes.1
            {
                used += amount.0;
                line = entry.line;
            }
        }
        if used > makes.0 {
            let sentence = format!("More of “{}” goes in than it makes", part.name);
            found.push(Remark::fault(At::Line(line), sentence));
        }
    }
}

fn in_base(amount: &Amount) -> Option<(BigRational, crate::domain::quantity::Kind)> {
    let base = amount.unit().in_base(Spoons::Round)?;
    Some((amount.high() * base, amount.unit().kind()))
}
