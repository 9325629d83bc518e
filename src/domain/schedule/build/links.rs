//! What follows what: inside a card, from a base into dishes, and to the table.

use std::collections::BTreeMap;

use super::{Building, holds, jobs, ways};
use crate::domain::card::{Mark, StepAt, ToolUse, links::links};
use crate::domain::schedule::problem::{Gap, KeptMachine, Next, Order};

pub fn put_all(building: &mut Building) {
    for dish in 0..building.dishes.len() {
        inside(building, dish);
        kept_machines(building, dish);
    }
    from_bases(building);
    tables_of_bases(building);
    to_the_table(building);
    last_of_each(building);
}

/// The links of a card; a step that fell away hands its own on to the next.
fn inside(building: &mut Building, dish: usize) {
    let card = building.dishes[dish].laid.card.clone();
    let mut pairs: Vec<(StepAt, StepAt)> =
        links(&card).iter().map(|link| (link.before, link.after)).collect();
    let gone: Vec<StepAt> = pairs
        .iter()
        .flat_map(|(one, two)| [*one, *two])
        .filter(|at| !building.places.contains_key(&(dish, *at)))
        .collect();
    for at in gone {
        let before: Vec<StepAt> = pairs.iter().filter(|it| it.1 == at).map(|it| it.0).collect();
        let after: Vec<StepAt> = pairs.iter().filter(|it| it.0 == at).map(|it| it.1).collect();
        pairs.retain(|it| it.0 != at && it.1 != at);
        pairs.extend(before.iter().flat_map(|one| after.iter().map(move |two| (*one, *two))));
    }
    pairs.sort();
    pairs.dedup();
    for (before, after) in pairs {
        let step = |at: StepAt| &card.parts[at.part].steps[at.step];
        let (one, two) = (step(before), step(after));
        let (Some(&from), Some(&to)) =
            (building.places.get(&(dish, before)), building.places.get(&(dish, after)))
        else {
            continue;
        };
        let rests = one.rest.is_some_and(|it| it.most_minutes.is_some());
        let is_straight = two.marks.contains(&Mark::StraightOn) && !rests;
        let is_moved = holds::is_unmoulded(one);
        let at_once = is_straight || is_moved || (one.oven.is_some() && ways::stands(two));
        let because = match (is_straight || is_moved, at_once) {
            (true, _) => "it goes straight on".to_owned(),
            (false, true) => "it stands from the moment it leaves the oven".to_owned(),
            _ => String::new(),
        };
        building.problem.gaps.push(Gap {
            before: from,
            next: Next::Job(to),
            most_minutes: at_once.then_some(0),
            least_minutes: 0,
            is_main: true,
            because,
        });
    }
}

/// The last step of a base comes before each step it goes into.
fn from_bases(building: &mut Building) {
    let mut gaps = Vec::new();
    for base in 0..building.dishes.len() {
        let it = building.dishes[base].laid;
        let end = building.places.iter().filter(|((of, _), _)| *of == base).map(|it| *it.1).max();
        let Some(end) = end.filter(|_| it.is_base) else { continue };
        for ((dish, at), job) in &building.places {
            let step = &building.card(*dish).parts[at.part].steps[at.step];
            if *dish != base && jobs::uses_base(step, &it.title) {
                gaps.push(Gap {
                    before: end,
                    next: Next::Job(*job),
                    most_minutes: None,
                    least_minutes: 0,
                    is_main: false,
                    because: String::new(),
                });
            }
        }
    }
    building.problem.gaps.extend(gaps);
}

/// A base is eaten with the first dish it goes into.
fn tables_of_bases(building: &mut Building) {
    // Bases inside bases: as often as there are dishes is enough.
    for _ in 0..building.dishes.len() {
        let mut earliest: BTreeMap<usize, i32> = BTreeMap::new();
        for gap in &building.problem.gaps {
            let Next::Job(next) = gap.next else { continue };
            let base = building.problem.jobs[gap.before].dish;
            let user = building.problem.jobs[next].dish;
            if base != user {
                let table = building.problem.dishes[user].table_minute;
                let of_base = earliest.entry(base).or_insert(table);
                *of_base = (*of_base).min(table);
            }
        }
        for (base, table) in earliest {
            building.problem.dishes[base].table_minute = table;
            building.dishes[base].table_minute = table;
        }
    }
    for job in &mut building.problem.jobs {
        job.end_by_minute = job.end_by_minute.min(building.problem.dishes[job.dish].table_minute);
    }
}

/// The end of each dish, and each step that says when it must be at the table.
fn to_the_table(building: &mut Building) {
    let mut gaps = Vec::new();
    for ((dish, at), job) in &building.places {
        let step = &building.card(*dish).parts[at.part].steps[at.step];
        let is_end = building.problem.gaps_after(*job).next().is_none();
        if !is_end && step.serve.is_none() {
            continue;
        }
        let is_unmoulded = building.card(*dish).steps().any(|(_, it)| holds::is_unmoulded(it))
            && !building.dishes[*dish].without_freezer;
        let serve = step.serve.map(|serve| serve.minutes);
        let most_minutes = if is_unmoulded && is_end { Some(0) } else { serve };
        let because = match (is_unmoulded && is_end, serve) {
            (true, _) => "it is eaten hard from the freezer, as soon as it is laid".to_owned(),
            (_, Some(minutes)) => format!("it is at the table within {minutes} min"),
            _ => String::new(),
        };
        gaps.push(Gap {
            before: *job,
            next: Next::Table(building.problem.dishes[*dish].table_minute),
            most_minutes,
            least_minutes: 0,
            is_main: false,
            because,
        });
    }
    building.problem.gaps.extend(gaps);
}

/// A garnish comes when everything else of its dish is done.
fn last_of_each(building: &mut Building) {
    let mut orders = Vec::new();
    for ((dish, at), job) in &building.places {
        let step = &building.card(*dish).parts[at.part].steps[at.step];
        if !step.marks.contains(&Mark::Last) {
            continue;
        }
        let others = building.places.iter().filter(|((of, _), it)| of == dish && *it != job);
        for (_, other) in others {
            let is_end = building
                .problem
                .gaps_after(*other)
                .all(|(_, gap)| matches!(gap.next, Next::Table(_)));
            if is_end {
                let because = "the garnish comes last".to_owned();
                orders.push(Order { before: *other, after: *job, only_on_one_day: false, because });
            }
        }
    }
    building.problem.orders.extend(orders);
}

/// A machine that is kept dirty goes to the next step of the dish that uses it, in the card's order.
fn kept_machines(building: &mut Building, dish: usize) {
    let card = building.dishes[dish].laid.card.clone();
    let uses: Vec<(StepAt, &crate::domain::card::Tool)> = card
        .parts
        .iter()
        .enumerate()
        .flat_map(|(part, it)| {
            it.steps.iter().enumerate().map(move |(step, it)| (StepAt { part, step }, it))
        })
        .flat_map(|(at, step)| step.tools.iter().map(move |tool| (at, tool)))
        .filter(|(_, tool)| tool.how != ToolUse::Wash)
        .collect();
    for (place, (at, tool)) in uses.iter().enumerate() {
        let next = uses[place + 1..].iter().find(|(to, it)| it.name == tool.name && to != at);
        let (true, Some((to, _))) = (tool.how == ToolUse::Keep, next) else { continue };
        let (Some(&from), Some(&to)) =
            (building.places.get(&(dish, *at)), building.places.get(&(dish, *to)))
        else {
            continue;
        };
        let name = tool.name.to_lowercase();
        if let Some(machine) = building.problem.machines.iter().position(|it| it.name == name) {
            building.problem.kept_machines.push(KeptMachine { machine, from, to });
            let because = format!("the {name} goes on unwashed, in this order");
            building.problem.orders.push(Order {
                before: from,
                after: to,
                only_on_one_day: false,
                because,
            });
        }
    }
}
