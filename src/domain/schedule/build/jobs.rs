//! Each step of each dish as a job, and what a person or the past decided of it.

use super::{Building, Field, Nonsense, StepOf, done_minutes, holds, ways};
use crate::domain::card::{Mark, Source, Step, StepAt};
use crate::domain::keeps::heats;
use crate::domain::schedule::plan::minutes;
use crate::domain::schedule::problem::{Job, PlannedDish};

/// How far from its minute a step before serving may end: a cook's hands are not a clock.
const BEFORE_SERVING_SLACK: i32 = 5;

pub fn put_all(building: &mut Building) {
    tables(building);
    for dish in 0..building.dishes.len() {
        let card = building.dishes[dish].laid.card.clone();
        for (part, it) in card.parts.iter().enumerate() {
            for step in 0..it.steps.len() {
                let at = StepAt { part, step };
                if falls_away(building, dish, at) {
                    continue;
                }
                let job = job(building, dish, at);
                building.places.insert((dish, at), building.problem.jobs.len());
                building.problem.jobs.push(job);
            }
        }
    }
    note_machines(building);
}

/// Without a freezer nothing is turned out of a tin.
fn falls_away(building: &Building, dish: usize, at: StepAt) -> bool {
    let step = &building.card(dish).parts[at.part].steps[at.step];
    building.dishes[dish].without_freezer && step.marks.contains(&Mark::UnmouldFrozen)
}

/// When each dish is eaten; a base with the first dish it goes into.
fn tables(building: &mut Building) {
    let serve = building.problem.minute(building.facts.sitting.serve.instant());
    let sweet = minutes(building.facts.laid.sweet_after_minutes);
    for place in 0..building.dishes.len() {
        let dish = building.dishes[place].laid;
        let is_sweet = dish.card.course.as_deref().is_some_and(|it| {
            ["sweet", "dessert"].iter().any(|word| it.trim().eq_ignore_ascii_case(word))
        });
        let table_minute = if is_sweet { serve + sweet } else { serve };
        building.dishes[place].table_minute = table_minute;
        building.problem.dishes.push(PlannedDish {
            id: dish.id,
            letter: dish.letter,
            title: dish.title.clone(),
            is_base: dish.is_base,
            table_minute,
        });
    }
}

fn job(building: &Building, dish: usize, at: StepAt) -> Job {
    let problem = &building.problem;
    let part = &building.card(dish).parts[at.part];
    let step = &part.steps[at.step];
    let table = building.dishes[dish].table_minute;
    let serving = problem.serving();
    let is_day_of = step.marks.contains(&Mark::DayOf)
        || step.before_serving_minutes.is_some()
        || step.marks.contains(&Mark::Last) && !building.dishes[dish].laid.is_base;
    let (ways, is_estimate) = ways::ways(building, dish, step);
    let (end_from_minute, end_by_minute) = match step.before_serving_minutes {
        Some(before) => {
            let at = table - minutes(before);
            (at - BEFORE_SERVING_SLACK, (at + BEFORE_SERVING_SLACK).min(table))
        }
        None => (i32::MIN / 4, table),
    };
    let done = building.facts.done.get(&StepOf { dish: building.dishes[dish].laid.id, at });
    Job {
        dish,
        at,
        part: part.name.clone(),
        number: step.number,
        line: step.line,
        words: words(building, dish, step),
        holds: holds::holds(building, dish, at, slack(step)),
        ways,
        windows: if is_day_of { vec![serving] } else { (0..=serving).collect() },
        start_from_minute: i32::MIN / 4,
        end_from_minute,
        end_by_minute,
        pinned_minute: None,
        done: done.map(|done| done_minutes(problem, *done)),
        is_raw_meat: step.marks.contains(&Mark::RawMeat),
        is_estimate,
    }
}

/// The card's words; where its freezer is left out the author's other way stands in their place, and what
/// comes after it points there: nobody is told to freeze what is planned for the fridge.
fn words(building: &Building, dish: usize, step: &Step) -> String {
    let (planned, card) = (&building.dishes[dish], building.card(dish));
    let Some(other) = card.no_freezer.as_ref().filter(|_| planned.without_freezer) else {
        return step.text.clone();
    };
    if holds::is_frozen(step) {
        return format!("Without the freezer: {other}. Not as the card says: “{}”", step.text);
    }
    let first = card.steps().find(|(_, it)| holds::is_frozen(it)).map(|(_, it)| it.number);
    match first {
        Some(first) if first < step.number => {
            format!("{} (Without the freezer: see step {first}.)", step.text)
        }
        _ => step.text.clone(),
    }
}

/// Minutes by which a step by the thermometer may be over sooner than planned.
fn slack(step: &Step) -> u32 {
    step.check.map_or(0, |check| check.most.saturating_sub(1) * check.every_minutes)
}

/// What the kitchen does not have is named once and then taken as done by hand.
fn note_machines(building: &mut Building) {
    let mut named: Vec<String> = Vec::new();
    let has = |name: &str| building.problem.machines.iter().any(|it| it.name == name);
    let known: Vec<&str> = building.facts.kitchen.machines.named().iter().map(|it| it.0).collect();
    for dish in 0..building.dishes.len() {
        for (_, step) in building.card(dish).steps() {
            for tool in &step.tools {
                let name = tool.name.to_lowercase();
                if known.contains(&name.as_str()) && !has(&name) && !named.contains(&name) {
                    named.push(name);
                }
            }
        }
    }
    for name in named {
        let words = format!("This kitchen has no {name}; the plan takes the same minutes by hand.");
        building.notes.push(words);
    }
}

/// Pins, days that are out, and raw food that is bought only so early.
pub fn put_wishes(building: &mut Building) -> Result<(), Nonsense> {
    let wishes = building.facts.wishes;
    let place_of = |step: &StepOf| {
        let dish = building.dishes.iter().position(|it| it.laid.id == step.dish)?;
        building.places.get(&(dish, step.at)).copied()
    };
    let pins: Vec<_> = wishes.pins.iter().filter_map(|it| Some((place_of(it.0)?, *it.1))).collect();
    let not_on: Vec<_> =
        wishes.not_on.iter().filter_map(|it| Some((place_of(&it.0)?, it.1))).collect();
    for (job, at) in pins {
        building.problem.jobs[job].pinned_minute = Some(building.problem.minute(at));
    }
    for (job, date) in not_on {
        let days = &building.problem.windows;
        let windows = &mut building.problem.jobs[job].windows;
        windows.retain(|window| days[*window].date != date);
        if windows.is_empty() {
            let words = crate::domain::schedule::words::job_words(&building.problem, job);
            let sentence = format!("No day is left for {words}; allow one again");
            return Err(Nonsense { field: Field::Wishes, sentence });
        }
    }
    Ok(())
}

/// True when the step uses a base of this title.
pub fn uses_base(step: &Step, title: &str) -> bool {
    step.goes_in.iter().any(|entry| match &entry.source {
        Some(Source::Base(name)) => name.trim().eq_ignore_ascii_case(title.trim()),
        _ => false,
    })
}

/// True when the step puts the food on heat.
pub fn is_heat(step: &Step) -> bool {
    heats(step)
}
