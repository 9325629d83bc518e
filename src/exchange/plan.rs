//! A plan in JSON: what `plan` prints and `check-plan` reads, and what is kept of a plan.

use std::collections::BTreeMap;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::document::DocumentError;
use crate::domain::card::StepAt;
use crate::domain::home::StepOf;
use crate::domain::schedule::account::{Account, Held, heat_words, way_words};
use crate::domain::schedule::conflict::Conflict;
use crate::domain::schedule::plan::{Bound, Effort, Placed, Plan};
use crate::domain::schedule::problem::Problem;
use crate::domain::schedule::words::{clock, day_and_clock};
use crate::domain::schedule::{Breach, check, goals};

/// What a search said, with the plan job by job.
#[derive(Debug, Serialize, Deserialize)]
pub struct WrittenPlan {
    /// `planned`, `refused` or `not found`.
    pub status: String,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub effort: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub goals: Option<WrittenGoals>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub bound: Option<WrittenBound>,
    /// When the first job of the serving day begins.
    #[serde(skip_serializing_if = "String::is_empty", default)]
    pub start_at: String,
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub jobs: Vec<WrittenJob>,
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub reasons: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub ways_out: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub notes: Vec<String>,
}

#[derive(Debug, Serialize, Deserialize)]
pub struct WrittenGoals {
    pub serving_hands_minutes: u32,
    pub held_minutes: u32,
    pub days: u32,
    pub blocks: u32,
}

#[derive(Debug, Serialize, Deserialize)]
pub struct WrittenBound {
    pub serving_hands_minutes: u32,
    pub held_minutes: u32,
    pub is_proved: bool,
}

/// One job; `letter`, `part` and `step` name it, the three places and the minute are the plan.
#[derive(Debug, Serialize, Deserialize)]
pub struct WrittenJob {
    pub letter: String,
    pub dish: String,
    /// Place of the part and of the step in it, from 0.
    pub part: usize,
    pub place: usize,
    pub step: u32,
    /// Unix seconds of the start; what two plans are compared by.
    #[serde(default)]
    pub start_at: i64,
    /// Whole minutes from midnight of the first cook day.
    pub start_minute: i32,
    pub way: usize,
    pub hold: usize,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub oven: Option<usize>,
    /// For reading: `Saturday 26 June, 11:05`; the minute counts.
    #[serde(default)]
    pub start: String,
    #[serde(default)]
    pub end: String,
    #[serde(skip_serializing_if = "String::is_empty", default)]
    pub heat: String,
    #[serde(skip_serializing_if = "String::is_empty", default)]
    pub way_words: String,
    #[serde(skip_serializing_if = "String::is_empty", default)]
    pub waits_in: String,
    #[serde(default)]
    pub slack_minutes: u32,
    #[serde(default)]
    pub why: String,
}

impl WrittenPlan {
    pub fn planned(problem: &Problem, account: &Account, effort: Option<Effort>) -> Self {
        let goals = &account.goals;
        let mut jobs: Vec<WrittenJob> =
            (0..problem.jobs.len()).map(|job| written_job(problem, account, job)).collect();
        jobs.sort_by_key(|job| job.start_minute);
        let serving = problem.windows.last().map_or(0, |it| it.from_minute);
        let first = jobs.iter().map(|job| job.start_minute).find(|start| *start >= serving);
        Self {
            status: "planned".to_owned(),
            effort: effort.map(|it| it.word().to_owned()),
            goals: Some(WrittenGoals {
                serving_hands_minutes: goals.serving_hands_minutes,
                held_minutes: goals.held_minutes,
                days: goals.days,
                blocks: goals.blocks,
            }),
            bound: account.bound.map(|bound| WrittenBound {
                serving_hands_minutes: bound.serving_hands_minutes,
                held_minutes: bound.held_minutes,
                is_proved: bound.is_proved,
            }),
            start_at: first.map_or_else(String::new, |it| day_and_clock(problem, it)),
            jobs,
            ..Self::nothing("planned")
        }
    }

    pub fn refused(problem: &Problem, conflict: &Conflict, effort: Option<Effort>) -> Self {
        Self {
            effort: effort.map(|it| it.word().to_owned()),
            reasons: conflict.reasons.iter().map(|it| it.words(problem)).collect(),
            ways_out: conflict.ways_out.iter().map(|it| it.change.words(problem)).collect(),
            ..Self::nothing("refused")
        }
    }

    pub fn not_found() -> Self {
        Self::nothing("not found")
    }

    fn nothing(status: &str) -> Self {
        Self {
            status: status.to_owned(),
            effort: None,
            goals: None,
            bound: None,
            start_at: String::new(),
            jobs: Vec::new(),
            reasons: Vec::new(),
            ways_out: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// The plan for a problem; an error names the job that is missing or strange.
    pub fn plan(&self, problem: &Problem) -> Result<Plan, String> {
        let key = |letter: &str, part: usize, place: usize| (letter.to_owned(), part, place);
        let mut given: BTreeMap<_, &WrittenJob> =
            self.jobs.iter().map(|job| (key(&job.letter, job.part, job.place), job)).collect();
        let mut jobs = Vec::new();
        for job in &problem.jobs {
            let dish = &problem.dishes[job.dish];
            let found = given.remove(&key(&dish.letter.to_string(), job.at.part, job.at.step));
            let found = found.ok_or_else(|| {
                format!("{} {}, step {} is not in the plan", dish.letter, dish.title, job.number)
            })?;
            jobs.push(Placed {
                start_minute: found.start_minute,
                way: found.way,
                hold: found.hold,
                oven: found.oven,
            });
        }
        match given.into_values().next() {
            Some(job) => Err(format!("{}, step {} is not on this menu", job.letter, job.step)),
            None => Ok(Plan { jobs }),
        }
    }

    /// The account as it was kept, checked anew; none where it no longer holds for this problem.
    pub fn account(&self, problem: &Problem) -> Option<Account> {
        let plan = self.plan(problem).ok()?;
        if !check(problem, &plan).is_empty() {
            return None;
        }
        let held = problem.jobs.iter().map(|job| {
            let dish = problem.dishes[job.dish].letter.to_string();
            let found = self
                .jobs
                .iter()
                .find(|it| it.letter == dish && it.part == job.at.part && it.place == job.at.step);
            found.map(|it| Held { slack_minutes: it.slack_minutes, why: it.why.clone() })
        });
        let held = held.collect::<Option<Vec<_>>>()?;
        Some(Account { goals: goals(problem, &plan), bound: self.bound(), held, plan })
    }

    /// When each step began, for what changed since.
    pub fn starts(&self, problem: &Problem) -> Vec<(StepOf, Timestamp)> {
        let start = |job: &WrittenJob| {
            let dish = problem.dishes.iter().find(|it| it.letter.to_string() == job.letter)?;
            let at = StepAt { part: job.part, step: job.place };
            Some((StepOf { dish: dish.id, at }, Timestamp::from_second(job.start_at).ok()?))
        };
        self.jobs.iter().filter_map(start).collect()
    }

    fn bound(&self) -> Option<Bound> {
        self.bound.as_ref().map(|bound| Bound {
            serving_hands_minutes: bound.serving_hands_minutes,
            held_minutes: bound.held_minutes,
            is_proved: bound.is_proved,
        })
    }
}

fn written_job(problem: &Problem, account: &Account, place: usize) -> WrittenJob {
    let (job, placed) = (&problem.jobs[place], account.plan.jobs[place]);
    let dish = &problem.dishes[job.dish];
    let way = &job.ways[placed.way];
    let hold = &job.holds[placed.hold];
    WrittenJob {
        letter: dish.letter.to_string(),
        dish: dish.title.clone(),
        part: job.at.part,
        place: job.at.step,
        step: job.number,
        start_at: problem.instant(placed.start_minute).as_second(),
        start_minute: placed.start_minute,
        way: placed.way,
        hold: placed.hold,
        oven: placed.oven,
        start: day_and_clock(problem, placed.start_minute),
        end: clock(problem, account.plan.end_minute(problem, place)),
        heat: heat_words(problem, way, placed.oven),
        way_words: way_words(way),
        waits_in: hold.place.map_or_else(String::new, |it| it.word().to_owned()),
        slack_minutes: account.held[place].slack_minutes,
        why: account.held[place].why.clone(),
    }
}

/// What `check-plan` prints.
#[derive(Debug, Serialize)]
pub struct WrittenCheck {
    holds: bool,
    breaches: Vec<WrittenBreach>,
}

#[derive(Debug, Serialize)]
struct WrittenBreach {
    limit: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    at: String,
    sentence: String,
}

impl WrittenCheck {
    pub fn of(problem: &Problem, breaches: &[Breach]) -> Self {
        let breach = |it: &Breach| WrittenBreach {
            limit: format!("{:?}", it.limit),
            at: it.minute.map_or_else(String::new, |minute| day_and_clock(problem, minute)),
            sentence: it.sentence.clone(),
        };
        Self { holds: breaches.is_empty(), breaches: breaches.iter().map(breach).collect() }
    }
}

/// Reads what `plan` printed.
pub fn read_plan(text: &str) -> Result<WrittenPlan, DocumentError> {
    serde_json::from_str(text).map_err(|error| DocumentError::new(error.to_string()))
}
