//! When nothing fits: a smallest set of limits that clash, and what would help, each tried.

use std::collections::BTreeMap;

use crate::domain::schedule::check;
use crate::domain::schedule::conflict::{Change, Conflict, Reason, WayOut};
use crate::domain::schedule::plan::{Cancel, Effort, Outcome, Plan};
use crate::domain::schedule::problem::{Limit as Named, Next, Problem};
use crate::planner::engine::{Answer, Engine, Patient};
use crate::planner::flat::Lit;
use crate::planner::model::{self, Limit, Model};
use crate::planner::net::Placed;
use crate::planner::translate::Translation;
use crate::planner::work::Work;

/// One question of the filter gets so much.
const QUESTION: u64 = 60_000;

/// A smallest set of the net's limits that cannot all hold, each with a placing that breaks only it.
pub struct Core {
    pub limits: Vec<(Limit, Option<Placed>)>,
    /// Every limit of it was tried without.
    pub is_minimal: bool,
}

/// Finds which few limits clash; none when the work does not suffice to say.
pub fn core(translation: &Translation<'_>, work: &mut Work<'_>) -> Option<Core> {
    let model = model::write_guarded(&translation.net);
    let mut engine = Patient::new(&model.flat);
    let mut limits = model.limits.clone();
    limits.sort_by_key(|(limit, var)| (rank(*limit), *var));
    let all: Vec<Lit> = limits.iter().map(|(_, var)| Lit::Yes(*var)).collect();
    let Answer::Impossible(core) = engine.ask(&all, work, u64::MAX) else { return None };
    let kept: Vec<Lit> = all.into_iter().filter(|lit| core.contains(lit)).collect();
    Some(filter(&model, &mut engine, kept, work))
}

/// Limits that a person would rather hear of stay longest; those left out first come first.
fn rank(limit: Limit) -> u8 {
    match limit {
        Limit::Free { .. } => 0,
        Limit::Use { .. } | Limit::Kept { .. } | Limit::Turn { .. } => 1,
        Limit::Room { .. } | Limit::Opening { .. } | Limit::Apart { .. } => 2,
        Limit::Least { .. } | Limit::Suits { .. } | Limit::SameWindow { .. } => 3,
        Limit::NotBefore { .. } | Limit::Window { .. } => 4,
        Limit::Tally { .. } | Limit::Days { .. } | Limit::Most { .. } | Limit::NotAfter { .. } => 5,
    }
}

/// Leaves limits out one by one; what is needed for the clash stays.
fn filter(
    model: &Model,
    engine: &mut Patient<'_>,
    mut kept: Vec<Lit>,
    work: &mut Work<'_>,
) -> Core {
    let mut without: BTreeMap<usize, Placed> = BTreeMap::new();
    let mut is_minimal = true;
    let mut index = 0;
    while index < kept.len() {
        let mut fewer = kept.clone();
        let left_out = fewer.remove(index);
        match engine.ask(&fewer, work, QUESTION) {
            Answer::Impossible(core) => {
                kept = fewer.into_iter().filter(|lit| core.contains(lit)).collect();
            }
            Answer::Found(values) => {
                without.insert(left_out.var(), model.placed(&values));
                index += 1;
            }
            Answer::Stopped => {
                is_minimal = false;
                index += 1;
            }
        }
    }
    let limits = kept.iter().filter_map(|lit| {
        let (limit, var) = model.limits.iter().find(|(_, var)| *var == lit.var())?;
        Some((*limit, without.remove(var)))
    });
    Core { limits: limits.collect(), is_minimal }
}

/// The conflict in the words of the problem: limits of one name are one reason.
pub fn conflict(translation: &Translation<'_>, core: &Core) -> Conflict {
    let mut reasons: Vec<Reason> = Vec::new();
    for (limit, without) in &core.limits {
        let (name, jobs) = translation.named(*limit);
        let plan = without.as_ref().map(|placed| translation.plan(placed));
        let between = plan.as_ref().and_then(|plan| between(translation.problem, plan, &jobs));
        let would_be_minutes =
            plan.as_ref().and_then(|plan| would_be(translation.problem, plan, name));
        match reasons
            .iter_mut()
            .find(|reason| reason.limit == name && !matches!(name, Named::Setting(_)))
        {
            Some(known) => {
                known.jobs.extend(jobs);
                known.jobs.sort_unstable();
                known.jobs.dedup();
                known.between = match (known.between, between) {
                    (Some(one), Some(other)) => Some((one.0.min(other.0), one.1.max(other.1))),
                    (one, other) => one.or(other),
                };
            }
            None => reasons.push(Reason { limit: name, jobs, between, would_be_minutes }),
        }
    }
    Conflict { reasons, is_minimal: core.is_minimal, ways_out: Vec::new() }
}

/// From the first start to the last end of the jobs, in a plan that keeps everything else.
fn between(problem: &Problem, plan: &Plan, jobs: &[usize]) -> Option<(i32, i32)> {
    let from = jobs.iter().map(|job| plan.jobs[*job].start_minute).min()?;
    let to = jobs.iter().map(|job| plan.end_minute(problem, *job)).max()?;
    Some((from, to))
}

/// The figure that the limit holds down, in a plan without it.
fn would_be(problem: &Problem, plan: &Plan, name: Named) -> Option<i32> {
    match name {
        Named::Gap(gap) => {
            let gap = &problem.gaps[gap];
            Some(plan.next_minute(gap.next) - plan.end_minute(problem, gap.before))
        }
        Named::Hold(job, _) => {
            let next = problem.gaps_after(job).map(|(_, gap)| plan.next_minute(gap.next)).max()?;
            Some(next - plan.end_minute(problem, job))
        }
        Named::Span(span) => {
            let span = &problem.spans[span];
            Some(
                plan.end_minute(problem, span.to_end_of)
                    - plan.end_minute(problem, span.from_end_of),
            )
        }
        Named::Keep(keep) => {
            let keep = &problem.keeps[keep];
            Some(keep.until_minute - plan.end_minute(problem, keep.from))
        }
        _ => None,
    }
}

/// Tries what would help, what changes least first; each that works is handed over with its plan.
pub fn ways_out(
    problem: &Problem,
    conflict: &Conflict,
    cancel: &dyn Cancel,
    mut found: impl FnMut(WayOut),
) {
    for change in changes(problem, conflict) {
        if cancel.is_cancelled() {
            return;
        }
        let Some(other) = problem.changed(&change) else { continue };
        let Outcome::Planned { plan, .. } = crate::planner::plan(&other, Effort::Small, cancel)
        else {
            continue;
        };
        if check(&other, &plan).is_empty() {
            found(WayOut { change, problem: Box::new(other), plan });
        }
    }
}

/// What a person may change: the author's answers, a warm dish, later, another day, more of a thing, less to eat.
fn changes(problem: &Problem, conflict: &Conflict) -> Vec<Change> {
    let mut named: Vec<usize> =
        conflict.reasons.iter().flat_map(|reason| reason.jobs.iter().copied()).collect();
    named.sort_unstable();
    named.dedup();
    let mut changes: Vec<Change> =
        (0..problem.offers.len()).map(|offer| Change::Offers(vec![offer])).collect();
    if problem.offers.len() > 1 {
        changes.push(Change::Offers((0..problem.offers.len()).collect()));
    }
    for &job in &named {
        let hot = problem
            .gaps_after(job)
            .any(|(_, gap)| matches!(gap.next, Next::Table(_)) && gap.most_minutes.is_some());
        if hot {
            changes.extend([30, 60, 90].map(|minutes| Change::ServeWarm { job, minutes }));
        }
    }
    changes.extend([30, 60, 120].map(|minutes| Change::EatLater { minutes }));
    changes.extend((1..=3).map(|days_before| Change::CookDay { days_before }));
    changes.push(Change::Hands);
    if conflict
        .reasons
        .iter()
        .any(|reason| matches!(reason.limit, Named::Shelves(_) | Named::Setting(_)))
    {
        changes.push(Change::Oven);
    }
    let mut dishes: Vec<usize> = named.iter().map(|job| problem.jobs[*job].dish).collect();
    dishes.sort_unstable();
    dishes.dedup();
    changes.extend(dishes.into_iter().map(|dish| Change::LeaveOut { dish }));
    changes
}
