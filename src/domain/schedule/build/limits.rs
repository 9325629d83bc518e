//! Ages, cooling and time out of the cold: what the rules and the author's figures leave.

use std::collections::BTreeSet;

use super::{Building, holds::ROOM_MINUTES, ways};
use crate::domain::card::Place;
use crate::domain::keeps::Walk;
use crate::domain::limit::{Basis, Clock, Trait, span_words, traits_of};
use crate::domain::schedule::problem::{KeepLimit, Next, RoomClock, Span};

/// Ways to the table that are counted one by one; a dish with more is counted on the longest of these.
const PATHS_MOST: usize = 64;

pub fn put_all(building: &mut Building) {
    for dish in 0..building.dishes.len() {
        keeps(building, dish);
        cooling(building, dish);
        raw(building, dish);
    }
    rooms(building);
}

/// Each figure of each stop, counted to the hour at the table.
fn keeps(building: &mut Building, dish: usize) {
    let serve = building.problem.minute(building.facts.sitting.serve.instant());
    let planned = &building.dishes[dish];
    let mut found = Vec::new();
    for stop in &planned.keeps.stops {
        let Some(&job) = building.places.get(&(dish, stop.at)) else { continue };
        let holds = &building.problem.jobs[job].holds;
        let hold = holds.iter().position(|hold| hold.place == Some(stop.place)).or_else(|| {
            // Without a freezer what was to be frozen stands in the fridge, under the same rules.
            let instead = planned.without_freezer && stop.place == Place::Freezer;
            holds.iter().position(|hold| instead && hold.place == Some(Place::Fridge))
        });
        let Some(hold) = hold else { continue };
        for limit in &stop.limits {
            let own = !limit.leaves_out_frozen;
            let is_frozen_figure = stop.place == Place::Freezer && own;
            if is_frozen_figure && planned.without_freezer {
                continue;
            }
            let from = job_of(building, dish, limit.from_step).unwrap_or(job);
            let frozen = if own { Vec::new() } else { frozen_after(building, from) };
            found.push(KeepLimit {
                from,
                held: Some((job, hold)),
                clock: limit.clock,
                until_minute: serve,
                frozen,
                is_safety: limit.by == Basis::Safety,
                because: limit.sentence(),
            });
        }
    }
    for (job, hold) in instead_of_freezer(building, dish) {
        let it = &building.problem.jobs[job].holds[hold];
        found.push(KeepLimit {
            from: job,
            held: Some((job, hold)),
            clock: Clock::Elapsed(it.most_minutes),
            until_minute: serve,
            frozen: Vec::new(),
            is_safety: false,
            because: format!(
                "The card's way without a freezer gives {}.",
                span_words(it.most_minutes)
            ),
        });
    }
    building.problem.keeps.extend(found);
}

fn instead_of_freezer(building: &Building, dish: usize) -> Vec<(usize, usize)> {
    let planned = &building.dishes[dish];
    let frozen =
        planned.keeps.stops.iter().filter(|it| it.place == Place::Freezer && it.is_used_frozen);
    frozen
        .filter(|_| planned.without_freezer)
        .filter_map(|stop| building.places.get(&(dish, stop.at)).copied())
        .filter_map(|job| {
            let holds = &building.problem.jobs[job].holds;
            Some((job, holds.iter().position(|hold| hold.place == Some(Place::Fridge))?))
        })
        .collect()
}

fn job_of(building: &Building, dish: usize, number: u32) -> Option<usize> {
    building.problem.jobs.iter().position(|job| job.dish == dish && job.number == number)
}

/// Jobs from here to the table that may be frozen.
fn frozen_after(building: &Building, from: usize) -> Vec<usize> {
    let problem = &building.problem;
    let mut seen: BTreeSet<usize> = [from].into();
    let mut open = vec![from];
    while let Some(job) = open.pop() {
        for (_, gap) in problem.gaps_after(job) {
            if let Next::Job(next) = gap.next
                && seen.insert(next)
            {
                open.push(next);
            }
        }
    }
    let frozen = |job: &usize| {
        problem.jobs[*job].holds.iter().any(|hold| hold.place == Some(Place::Freezer))
    };
    seen.into_iter().filter(frozen).collect()
}

/// `chill 21C 2 h`: from the end of the last heat to the end of the step that must be over by then.
fn cooling(building: &mut Building, dish: usize) {
    let card = building.dishes[dish].laid.card.clone();
    let walk = Walk::of(&card);
    for (place, part) in card.parts.iter().enumerate() {
        for (step, it) in part.steps.iter().enumerate() {
            let at = crate::domain::card::StepAt { part: place, step };
            let (Some(chill), Some(heat)) = (it.chill, walk.last_heat(at)) else { continue };
            let (Some(&from), Some(&to)) =
                (building.places.get(&(dish, heat)), building.places.get(&(dish, at)))
            else {
                continue;
            };
            if from != to {
                building.problem.spans.push(Span {
                    from_end_of: from,
                    to_end_of: to,
                    most_minutes: chill.within_minutes,
                    because: format!(
                        "it must be below {} within {} of the heat",
                        chill.below,
                        span_words(chill.within_minutes)
                    ),
                });
            }
        }
    }
}

/// Raw meat, poultry and fish are cooked within their days from the day they are taken up: they were
/// bought that day or earlier.
fn raw(building: &mut Building, dish: usize) {
    let card = building.dishes[dish].laid.card.clone();
    let walk = Walk::of(&card);
    let bought = building.dishes[dish].keeps.bought.clone();
    for (place, part) in card.parts.iter().enumerate() {
        for (step, it) in part.steps.iter().enumerate() {
            let at = crate::domain::card::StepAt { part: place, step };
            let days = it.goes_in.iter().filter_map(|entry| {
                let is_raw = traits_of(&entry.what.name, None).iter().any(|it| is_animal(*it));
                bought
                    .iter()
                    .find(|raw| raw.food == entry.what.name && is_raw)
                    .map(|raw| (raw.days, raw.sentence.clone()))
            });
            let Some((days, sentence)) = days.min_by_key(|it| it.0) else { continue };
            let cooked = walk.after(at).find(|later| ways::is_on_heat(walk.step(*later)));
            let (Some(&from), Some(&to)) = (
                building.places.get(&(dish, at)),
                cooked.and_then(|cooked| building.places.get(&(dish, cooked))),
            ) else {
                continue;
            };
            let heat = building.problem.jobs[to].longest_way();
            building.problem.spans.push(Span {
                from_end_of: from,
                to_end_of: to,
                most_minutes: days.saturating_sub(1).max(1) * 1_440 + heat,
                because: sentence,
            });
        }
    }
}

const fn is_animal(it: Trait) -> bool {
    matches!(it, Trait::Poultry | Trait::Mince | Trait::Meat | Trait::Fish | Trait::Shellfish)
}

/// For each way from the first heat or cold to the table: minutes neither hot nor cold.
fn rooms(building: &mut Building) {
    let most = building.facts.laid.profile.room_minutes().min(ROOM_MINUTES);
    let mut paths: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    let ends: Vec<usize> = building
        .problem
        .gaps
        .iter()
        .enumerate()
        .filter(|(_, gap)| matches!(gap.next, Next::Table(_)))
        .map(|(place, _)| place)
        .collect();
    for end in ends {
        let before = building.problem.gaps[end].before;
        let mut open = vec![(vec![before], vec![end])];
        let mut of_this = Vec::new();
        while let Some((jobs, gaps)) = open.pop() {
            let first = jobs[jobs.len() - 1];
            let earlier: Vec<(usize, usize)> = building
                .problem
                .gaps_before(first)
                .filter(|(_, gap)| gap.is_main)
                .map(|(place, gap)| (place, gap.before))
                .collect();
            if earlier.is_empty() || of_this.len() + open.len() >= PATHS_MOST {
                of_this.push((jobs, gaps));
                continue;
            }
            for (gap, job) in earlier {
                let (mut jobs, mut gaps) = (jobs.clone(), gaps.clone());
                jobs.push(job);
                gaps.push(gap);
                open.push((jobs, gaps));
            }
        }
        paths.extend(of_this.into_iter().filter_map(|path| from_first_heat(building, path)));
    }
    paths.sort();
    paths.dedup();
    for (jobs, gaps) in paths {
        let dish = building.problem.jobs[jobs[0]].dish;
        let it = &building.problem.dishes[dish];
        let because = format!(
            "{} {}: at most {most} minutes out of the cold, all stretches together",
            it.letter, it.title
        );
        building.problem.rooms.push(RoomClock { jobs, gaps, most_minutes: most, because });
    }
}

/// Jobs and gaps from the table back to where the food was first hot or cold; before that it is raw
/// work, which has no clock. None where it never was.
fn from_first_heat(
    building: &Building,
    (jobs, gaps): (Vec<usize>, Vec<usize>),
) -> Option<(Vec<usize>, Vec<usize>)> {
    let starts = |job: usize| {
        let it = &building.problem.jobs[job];
        let step = &building.card(it.dish).parts[it.at.part].steps[it.at.step];
        // A wait in the cold is no choice; a stop may be passed by.
        let waits = it.holds.iter().all(|hold| !hold.is_out());
        ways::is_on_heat(step) || waits
    };
    // The table stands first in both lists.
    let first = jobs.iter().rposition(|job| starts(*job))?;
    Some((jobs[..first].to_vec(), gaps[..=first].to_vec())).filter(|(jobs, _)| !jobs.is_empty())
}
