//! A plan as its rows say it: when, who waits where and until when, what holds each job, and slack.

use super::check;
use super::measure::goals;
use super::plan::{Bound, Goals, Outcome, Plan};
use super::problem::{Next, Prefer, Problem, Way, WayKind};
use super::words::{day_and_clock, job_words, span};
use crate::domain::card::Place;
use crate::domain::heat::Degrees;
use crate::domain::limit::{Age, Frozen};

/// A plan that the checker passed, with everything a person asks of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    pub plan: Plan,
    pub goals: Goals,
    pub bound: Option<Bound>,
    /// One for each job, in the order of the problem.
    pub held: Vec<Held>,
}

/// What keeps a job from being later, found by asking the checker.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    /// So many minutes later, with all others where they are, and every limit still holds.
    pub slack_minutes: u32,
    /// The limit that is broken a minute after that.
    pub why: String,
}

/// How far slack is looked for.
const SLACK_MOST: u32 = 240;

impl Account {
    /// The account of a plan; none where the checker finds a breach.
    pub fn of(problem: &Problem, plan: Plan, bound: Option<Bound>) -> Option<Self> {
        if !check(problem, &plan).is_empty() {
            return None;
        }
        let held = (0..plan.jobs.len()).map(|job| held(problem, &plan, job)).collect();
        Some(Self { goals: goals(problem, &plan), bound, held, plan })
    }

    /// From an outcome of whatever search; none where there is no plan that holds.
    pub fn of_outcome(problem: &Problem, outcome: &Outcome) -> Option<Self> {
        match outcome {
            Outcome::Planned { plan, bound, .. } => Self::of(problem, plan.clone(), *bound),
            _ => None,
        }
    }

    /// `Proved best`, `Within 4 % of the best there could be`, or that nothing is proved.
    pub fn quality_words(&self, prefer: Prefer) -> String {
        let Some(bound) = self.bound else {
            return "Every limit holds. How near it is to the best there could be is not known."
                .to_owned();
        };
        if bound.is_proved {
            return "Every limit holds, and no plan is better.".to_owned();
        }
        let (hands, held) = bound.percents(&self.goals);
        let (first, second) = match prefer {
            Prefer::Freshest => (held, "time held"),
            _ => (hands, "minutes of hands on the day"),
        };
        match first {
            0 => format!("Every limit holds; no plan has fewer {second}."),
            first => format!("Every limit holds; within {first} % of the fewest {second}."),
        }
    }
}

fn held(problem: &Problem, plan: &Plan, job: usize) -> Held {
    if problem.jobs[job].done.is_some() {
        return Held { slack_minutes: 0, why: "It is done.".to_owned() };
    }
    let moved = |minutes: u32| {
        let mut other = plan.clone();
        other.jobs[job].start_minute += super::plan::minutes(minutes);
        check(problem, &other)
    };
    // The first minute that breaks something lies between these two.
    let (mut holds, mut breaks) = (0, 1);
    let mut breaches = moved(breaks);
    while breaches.is_empty() && breaks < SLACK_MOST {
        holds = breaks;
        breaks *= 2;
        breaches = moved(breaks);
    }
    if breaches.is_empty() {
        let why = format!("Nothing holds it: it may be {} later.", span(breaks));
        return Held { slack_minutes: breaks, why };
    }
    while breaks - holds > 1 {
        let middle = holds.midpoint(breaks);
        let found = moved(middle);
        if found.is_empty() {
            holds = middle;
        } else {
            (breaks, breaches) = (middle, found);
        }
    }
    let why = breaches.first().map_or_else(String::new, |breach| breach.sentence.clone());
    Held { slack_minutes: holds, why }
}

/// One box or tray that waits: where, from when, until its last use, and until when it keeps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    pub job: usize,
    pub place: Place,
    pub from_minute: i32,
    /// When it leaves the freezer to thaw.
    pub thaw_minute: Option<i32>,
    pub first_use_minute: i32,
    pub last_use_minute: i32,
    pub keep_until_minute: i32,
    /// Whose figure ends it.
    pub because: String,
    pub centilitres: u32,
}

/// Everything that is put away, in the order of the plan's minutes.
pub fn waiting(problem: &Problem, plan: &Plan) -> Vec<Waiting> {
    let mut found: Vec<Waiting> =
        (0..problem.jobs.len()).filter_map(|job| wait(problem, plan, job)).collect();
    found.sort_by_key(|it| (it.from_minute, it.job));
    found
}

fn wait(problem: &Problem, plan: &Plan, job: usize) -> Option<Waiting> {
    let chosen = plan.jobs[job].hold;
    let hold = problem.jobs[job].holds.get(chosen)?;
    let place = hold.place?;
    let from_minute = plan.end_minute(problem, job);
    let uses: Vec<i32> =
        problem.gaps_after(job).map(|(_, gap)| plan.next_minute(gap.next)).collect();
    let (first, last) = (*uses.iter().min()?, *uses.iter().max()?);
    let thaw = hold.thaw_minutes.map(|thaw| first - super::plan::minutes(thaw));
    let mut keep_until_minute = from_minute.saturating_add(super::plan::minutes(hold.most_minutes));
    if let Some(thaw) = thaw {
        keep_until_minute = keep_until_minute.saturating_add(first - thaw);
    }
    let mut because = hold.because.clone();
    for limit in problem.keeps.iter().filter(|it| it.held == Some((job, chosen))) {
        let made = plan.end_minute(problem, limit.from);
        let is_stopped = limit.frozen.contains(&job) && place == Place::Freezer;
        let frozen = is_stopped.then(|| Frozen {
            at: problem.instant(from_minute),
            thaw_at: problem.instant(thaw.unwrap_or(last).max(from_minute)),
        });
        let age = Age { made_at: problem.instant(made), frozen };
        let Ok(end) = limit.clock.end(&age, &problem.zone) else { continue };
        let end = problem.minute(end);
        if end < keep_until_minute {
            keep_until_minute = end;
            because.clone_from(&limit.because);
        }
    }
    Some(Waiting {
        job,
        place,
        from_minute,
        thaw_minute: thaw,
        first_use_minute: first,
        last_use_minute: last,
        keep_until_minute: keep_until_minute.max(last),
        because,
        centilitres: hold.centilitres,
    })
}

/// `oven 2 at 200 C for 50 min`, `hob 14 min`; empty where neither is used.
pub fn heat_words(problem: &Problem, way: &Way, oven: Option<usize>) -> String {
    if let (Some(used), Some(oven)) = (&way.oven, oven) {
        let stages: Vec<String> =
            used.stages.iter().map(|it| stage_words(it.heat, it.minutes)).collect();
        return format!("{}: {}", problem.ovens[oven].name, stages.join(", then "));
    }
    way.ring.map_or_else(String::new, |ring| {
        format!("Hob {}\u{a0}min", ring.to_minute - ring.from_minute)
    })
}

fn stage_words(heat: Degrees, minutes: u32) -> String {
    format!("{heat} {minutes}\u{a0}min")
}

/// What a person should know of the way that was chosen; empty for the author's first setting.
pub fn way_words(way: &Way) -> String {
    let kind = match way.kind {
        WayKind::Card => "",
        WayKind::Other(_) => "the card's other setting",
        WayKind::OwnOven => "the card's setting for an oven of its own",
        WayKind::NoOvenRoom => "the card's way without oven room",
    };
    let parts: Vec<&str> =
        [kind, way.estimate.as_str()].into_iter().filter(|it| !it.is_empty()).collect();
    parts.join("; ")
}

/// What changed from one plan to another of the same steps: moved jobs, in the order of the new plan.
pub fn moved(
    problem: &Problem,
    plan: &Plan,
    before: &[(super::build::StepOf, jiff::Timestamp)],
) -> Vec<String> {
    let mut rows = Vec::new();
    for (place, job) in problem.jobs.iter().enumerate() {
        let step = super::build::StepOf { dish: problem.dishes[job.dish].id, at: job.at };
        let now = plan.jobs[place].start_minute;
        let was = before.iter().find(|it| it.0 == step).map(|it| problem.minute(it.1));
        let words = match was {
            Some(was) if was == now => continue,
            Some(was) => format!(
                "{}: {}, was {}.",
                job_words(problem, place),
                day_and_clock(problem, now),
                day_and_clock(problem, was)
            ),
            None => format!("{}: new, {}.", job_words(problem, place), day_and_clock(problem, now)),
        };
        rows.push((now, words));
    }
    rows.sort();
    rows.into_iter().map(|it| it.1).collect()
}

/// True where the job ends at the table.
pub fn is_served(problem: &Problem, job: usize) -> bool {
    problem.gaps_after(job).any(|(_, gap)| matches!(gap.next, Next::Table(_)))
}
