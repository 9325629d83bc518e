//! What must come before what: links read from three habits of every cook.
//!
//! A step follows the one above it in its part; a part named as going in comes before; a step marked
//! `meanwhile` follows what the one above it follows, and the next waits for both (decision 3).

use std::collections::{BTreeMap, BTreeSet};

use super::read::is_step;
use super::remarks::directly_followed;
use super::step::{Mark, Source};
use super::{Card, Part};

/// Names a step by the place of its part and its place in the part, both from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepAt {
    pub part: usize,
    pub step: usize,
}

/// `before` must be done before `after` begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Link {
    pub before: StepAt,
    pub after: StepAt,
}

/// All links inside the card, each once, in order. Bases link menus, not cards.
pub fn links(card: &Card) -> Vec<Link> {
    let mut found = BTreeSet::new();
    for (place, part) in card.parts.iter().enumerate() {
        chain(place, part, &mut found);
        for (index, step) in part.steps.iter().enumerate() {
            let after = StepAt { part: place, step: index };
            for entry in &step.goes_in {
                if let Some(Source::Part(name)) = &entry.source
                    && let Some(before) = end_of(card, name)
                {
                    found.insert(Link { before, after });
                }
            }
            for reference in &step.after {
                if let Some(before) = find(card, |part, step| is_step(reference, part, step)) {
                    found.insert(Link { before, after });
                }
            }
        }
        if directly_followed(card, place) && !is_named(card, &part.name) {
            let before = part.steps.len().checked_sub(1).map(|step| StepAt { part: place, step });
            let after = StepAt { part: place + 1, step: 0 };
            if let Some(before) = before.filter(|_| !card.parts[place + 1].steps.is_empty()) {
                found.insert(Link { before, after });
            }
        }
    }
    found.into_iter().filter(|link| link.before != link.after).collect()
}

/// Inside a part: each step after the last ones that are not `meanwhile` beside it.
fn chain(place: usize, part: &Part, found: &mut BTreeSet<Link>) {
    let at = |step| StepAt { part: place, step };
    // The steps that the next one waits for, and those that they waited for.
    let mut open: Vec<usize> = Vec::new();
    let mut before_open: Vec<usize> = Vec::new();
    for (index, step) in part.steps.iter().enumerate() {
        let beside = step.marks.contains(&Mark::Meanwhile) && !open.is_empty();
        let waits_for = if beside { before_open.clone() } else { open.clone() };
        for &before in &waits_for {
            found.insert(Link { before: at(before), after: at(index) });
        }
        if beside {
            open.push(index);
        } else {
            before_open = std::mem::replace(&mut open, vec![index]);
        }
    }
}

fn is_named(card: &Card, name: &str) -> bool {
    card.steps()
        .flat_map(|(_, step)| &step.goes_in)
        .any(|entry| matches!(&entry.source, Some(Source::Part(it)) if it == name))
}

fn end_of(card: &Card, name: &str) -> Option<StepAt> {
    let part = card.parts.iter().position(|part| part.name == name)?;
    let step = card.parts[part].steps.len().checked_sub(1)?;
    Some(StepAt { part, step })
}

fn find(card: &Card, is: impl Fn(&Part, &super::Step) -> bool) -> Option<StepAt> {
    card.parts.iter().enumerate().find_map(|(place, part)| {
        let step = part.steps.iter().position(|step| is(part, step))?;
        Some(StepAt { part: place, step })
    })
}

/// The line of a step that waits for itself; none where the order holds.
pub fn cycle(card: &Card) -> Option<usize> {
    let mut waits: BTreeMap<StepAt, usize> = BTreeMap::new();
    let mut following: BTreeMap<StepAt, Vec<StepAt>> = BTreeMap::new();
    for link in links(card) {
        *waits.entry(link.after).or_default() += 1;
        following.entry(link.before).or_default().push(link.after);
    }
    let mut free: Vec<StepAt> =
        following.keys().filter(|at| !waits.contains_key(at)).copied().collect();
    while let Some(at) = free.pop() {
        for next in following.remove(&at).unwrap_or_default() {
            if let Some(left) = waits.get_mut(&next) {
                *left -= 1;
                if *left == 0 {
                    waits.remove(&next);
                    free.push(next);
                }
            }
        }
    }
    let (at, _) = waits.first_key_value()?;
    Some(card.parts[at.part].steps[at.step].line)
}
