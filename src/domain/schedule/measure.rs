//! How good a plan is, read off the plan itself.

use std::collections::BTreeSet;

use super::plan::{Goals, Plan, minutes};
use super::problem::Problem;

/// Work with less than this between belongs together.
const BLOCK_MINUTES: i32 = 30;

pub fn goals(problem: &Problem, plan: &Plan) -> Goals {
    let mut goals = Goals::default();
    let mut days = BTreeSet::new();
    let mut work: Vec<(i32, i32)> = Vec::new();
    for (job, it) in problem.jobs.iter().enumerate() {
        let placed = plan.jobs[job];
        let end = plan.end_minute(problem, job);
        let last = problem.gaps_after(job).map(|(_, gap)| plan.next_minute(gap.next)).max();
        let held = last.map_or(0, |last| last - end);
        goals.held_minutes += u32::try_from(held).unwrap_or(0);
        let (Some(window), None) = (plan.window(problem, job), it.done) else { continue };
        let way = &it.ways[placed.way];
        if window == problem.serving() {
            goals.serving_hands_minutes += way.hands_minutes();
        } else if way.hands_minutes() > 0 {
            days.insert(window);
        }
        work.extend(way.hands.iter().map(|it| {
            let start = placed.start_minute;
            (start + minutes(it.from_minute), start + minutes(it.to_minute))
        }));
    }
    goals.days = u32::try_from(days.len()).unwrap_or(u32::MAX);
    goals.blocks = blocks(work) + changes(problem, plan);
    goals
}

fn blocks(mut work: Vec<(i32, i32)>) -> u32 {
    work.sort_unstable();
    let mut blocks = 0;
    let mut until = i32::MIN;
    for (from, to) in work {
        if blocks == 0 || from.saturating_sub(until) > BLOCK_MINUTES {
            blocks += 1;
        }
        until = until.max(to);
    }
    blocks
}

/// How often an oven is set to another heat on one day.
fn changes(problem: &Problem, plan: &Plan) -> u32 {
    let mut changes = 0;
    for oven in 0..problem.ovens.len() {
        let mut stages: Vec<(Option<usize>, i32, i32)> = Vec::new();
        for (job, it) in problem.jobs.iter().enumerate() {
            let placed = plan.jobs[job];
            let used = it.ways[placed.way].oven.as_ref();
            let Some(used) = used.filter(|_| placed.oven == Some(oven) && it.done.is_none()) else {
                continue;
            };
            let mut at = placed.start_minute + minutes(used.from_minute);
            for stage in &used.stages {
                stages.push((plan.window(problem, job), at, stage.tenths_celsius));
                at += minutes(stage.minutes);
            }
        }
        stages.sort_unstable();
        let others = stages.windows(2).filter(|pair| {
            pair[0].0 == pair[1].0 && (pair[0].2 - pair[1].2).abs() > problem.tolerance_tenths
        });
        changes += u32::try_from(others.count()).unwrap_or(u32::MAX);
    }
    changes
}
