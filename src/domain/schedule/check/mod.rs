//! Whether a plan keeps every limit of its problem, found out anew minute by minute.
//!
//! It knows the problem and the plan and nothing of how the plan was found. No plan is shown, kept or
//! printed that has a breach.

mod age;
mod links;
mod minutes;

use super::plan::Plan;
use super::problem::{Limit, Problem};

/// A limit that a plan does not keep.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Breach {
    pub limit: Limit,
    pub jobs: Vec<usize>,
    /// The first minute at which it is broken, where it is one.
    pub minute: Option<i32>,
    pub sentence: String,
}

/// Every limit that is broken, each with its first minute; empty for a plan that holds.
pub fn check(problem: &Problem, plan: &Plan) -> Vec<Breach> {
    let mut found = Found { problem, breaches: Vec::new() };
    links::choices(problem, plan, &mut found);
    if !found.breaches.is_empty() {
        // Without a way and a place for each job there is nothing to count.
        return found.breaches;
    }
    links::times(problem, plan, &mut found);
    links::gaps(problem, plan, &mut found);
    links::spans(problem, plan, &mut found);
    age::keeps(problem, plan, &mut found);
    minutes::all(problem, plan, &mut found);
    found.breaches.sort();
    found.breaches
}

struct Found<'a> {
    problem: &'a Problem,
    breaches: Vec<Breach>,
}

impl Found<'_> {
    fn breach(&mut self, limit: Limit, jobs: &[usize], minute: Option<i32>, but: &str) {
        let what = super::words::limit_words(self.problem, limit);
        let unnamed: Vec<usize> = jobs
            .iter()
            .copied()
            .filter(|job| !what.contains(&super::words::job_words(self.problem, *job)))
            .collect();
        let names = super::words::jobs_words(self.problem, &unnamed);
        let at = minute.map(|it| super::words::day_and_clock(self.problem, it));
        let at = at.map_or_else(String::new, |at| format!(" ({at})"));
        let sentence = match (names.is_empty(), but.is_empty()) {
            (true, true) => format!("{what}{at}."),
            (true, false) => format!("{what}, but {but}{at}."),
            (false, true) => format!("{what}: {names}{at}."),
            (false, false) => format!("{what}, but {but}: {names}{at}."),
        };
        self.breaches.push(Breach { limit, jobs: jobs.to_vec(), minute, sentence });
    }
}
