//! View models of the plan of a home: days, rows, trays, what holds each row.

use askama::Template;

use super::form::Problems;
use super::holder::AtTable;
use super::plan_form::PlanForm;
use crate::domain::card::Place;
use crate::domain::schedule::account::{Account, Waiting, heat_words, waiting, way_words};
use crate::domain::schedule::conflict::Change;
use crate::domain::schedule::problem::Problem;
use crate::domain::schedule::words::{clock, day_words, litres_words, span};
use crate::drawing::{Svg, tray};
use crate::web::frame::Frame;
use crate::web::planning::{Made, Work};

#[derive(Template)]
#[template(path = "homes/plan.html")]
pub struct PlanPage {
    frame: Frame,
    action: String,
    about: String,
    zone: String,
    kitchen: String,
    /// None while nothing was made yet.
    verdict: Option<Verdict>,
    days: Vec<DayShown>,
    notes: Vec<String>,
    /// What moved since the plan before.
    changed: Vec<String>,
    form: PlanForm,
    problems: Problems,
}

struct Verdict {
    fits: bool,
    start_at: String,
    summary: String,
    quality: String,
    reasons: Vec<String>,
    /// In words, and what a press sends to take it; empty where nothing on this page takes it.
    ways_out: Vec<(String, String)>,
    is_cancelled: bool,
    is_over: bool,
}

struct DayShown {
    minutes: String,
    title: String,
    about: String,
    rows: Vec<RowShown>,
}

struct RowShown {
    clock: String,
    letter: String,
    is_base: bool,
    words: String,
    about: String,
    way: String,
    wait: Option<WaitShown>,
    why: String,
    slack: String,
    /// What a press about this row sends.
    key: String,
    /// The instant it stands at, and its day, as a press sends them back.
    at: String,
    day: String,
    is_pinned: bool,
    is_done: bool,
    is_serving_day: bool,
}

struct WaitShown {
    words: String,
    keep_until: String,
    because: String,
    tray: Svg,
}

impl PlanPage {
    pub fn new(frame: Frame, at: &AtTable, action: &str, kitchen: &str, form: PlanForm) -> Self {
        let sitting = &at.sitting;
        Self {
            frame,
            action: action.to_owned(),
            about: format!(
                "{} at the table, {}.",
                sitting.guests.count(),
                sitting.serve.in_words()
            ),
            zone: format!("All hours are of {}.", sitting.serve.zone.name().replace('_', " ")),
            kitchen: kitchen.to_owned(),
            verdict: None,
            days: Vec::new(),
            notes: Vec::new(),
            changed: Vec::new(),
            form,
            problems: Problems::new(),
        }
    }

    pub fn with_problems(mut self, problems: Problems) -> Self {
        self.problems = problems;
        self
    }

    /// With what was made of the problem, or at work on it.
    pub fn with_work(mut self, work: &Work, made: Option<&Made>) -> Self {
        let problem = &work.built.problem;
        self.notes.clone_from(&work.built.notes);
        let Some(made) = made else { return self };
        if let Some(account) = &made.account {
            self.days = days(problem, account);
        }
        self.verdict = Some(verdict(problem, made));
        self
    }

    /// While the search goes on, the rows of the best plan so far.
    pub fn with_best(mut self, work: &Work, best: Option<Account>) -> Self {
        if let Some(account) = best {
            self.days = days(&work.built.problem, &account);
        }
        self
    }

    pub fn with_changes(mut self, changed: Vec<String>) -> Self {
        self.changed = changed;
        self
    }

    fn problem(&self, at: &str) -> Option<&str> {
        self.problems.iter().find(|(field, _)| *field == at).map(|(_, words)| words.as_str())
    }

    fn is_at_work(&self) -> bool {
        self.verdict.as_ref().is_none_or(|it| !it.is_over) && self.problems.is_empty()
    }
}

fn verdict(problem: &Problem, made: &Made) -> Verdict {
    let Some(account) = &made.account else {
        let conflict = made.conflict.as_ref();
        let reasons = conflict.map_or_else(Vec::new, |it| {
            it.reasons.iter().map(|reason| reason.words(problem)).collect()
        });
        let ways_out = conflict.map_or_else(Vec::new, |it| {
            let ways = it.ways_out.iter();
            ways.map(|way| (way.change.words(problem), taken(problem, &way.change))).collect()
        });
        return Verdict {
            fits: false,
            start_at: String::new(),
            summary: String::new(),
            quality: String::new(),
            reasons,
            ways_out,
            is_cancelled: made.is_cancelled,
            is_over: made.is_over,
        };
    };
    let serving = &problem.windows[problem.serving()];
    let first = account.plan.jobs.iter().map(|it| it.start_minute);
    let first = first.filter(|start| *start >= serving.from_minute).min();
    let goals = &account.goals;
    Verdict {
        fits: true,
        start_at: first.map_or_else(String::new, |it| clock(problem, it)),
        summary: format!(
            "{} of hands on the day, {} before.",
            span(goals.serving_hands_minutes),
            match goals.days {
                1 => "one day of work".to_owned(),
                days => format!("{days} days of work"),
            }
        ),
        quality: account.quality_words(problem.prefer),
        reasons: Vec::new(),
        ways_out: Vec::new(),
        is_cancelled: made.is_cancelled,
        is_over: made.is_over,
    }
}

/// What a press about a way out sends.
fn taken(problem: &Problem, change: &Change) -> String {
    match change {
        Change::Offers(offers) => {
            let letters = offers
                .iter()
                .filter_map(|it| problem.offers.get(*it))
                .map(|it| problem.dishes[problem.jobs[it.job].dish].letter.to_string());
            format!("hob {}", letters.collect::<String>())
        }
        Change::LeaveOut { dish } => format!("without {}", problem.dishes[*dish].letter),
        Change::CookDay { days_before } => format!("day {days_before}"),
        Change::Oven => "oven".to_owned(),
        Change::Hands => "hands".to_owned(),
        Change::EatLater { .. } | Change::ServeWarm { .. } => String::new(),
    }
}

fn days(problem: &Problem, account: &Account) -> Vec<DayShown> {
    let waits = waiting(problem, &account.plan);
    let mut found = Vec::new();
    for window in 0..problem.windows.len() {
        let mut jobs: Vec<usize> = (0..problem.jobs.len())
            .filter(|job| account.plan.window(problem, *job) == Some(window))
            .collect();
        jobs.sort_by_key(|job| (account.plan.jobs[*job].start_minute, *job));
        if jobs.is_empty() {
            continue;
        }
        let hands: u32 = jobs
            .iter()
            .map(|job| problem.jobs[*job].ways[account.plan.jobs[*job].way].hands_minutes())
            .sum();
        let is_serving_day = window == problem.serving();
        let first = account.plan.jobs[jobs[0]].start_minute;
        let about = if is_serving_day { "The day of the table. Start" } else { "Start" };
        let ends = jobs.iter().map(|job| account.plan.end_minute(problem, *job)).max();
        found.push(DayShown {
            minutes: hands.to_string(),
            title: day_words(problem, window),
            about: format!(
                "{about} at {}, done at {}. Minutes of hands in the margin.",
                clock(problem, first),
                clock(problem, ends.unwrap_or(first))
            ),
            rows: jobs
                .iter()
                .map(|job| row(problem, account, *job, &waits, is_serving_day))
                .collect(),
        });
    }
    found
}

fn row(
    problem: &Problem,
    account: &Account,
    place: usize,
    waits: &[Waiting],
    is_serving_day: bool,
) -> RowShown {
    let (job, placed) = (&problem.jobs[place], account.plan.jobs[place]);
    let dish = &problem.dishes[job.dish];
    let way = &job.ways[placed.way];
    let held = &account.held[place];
    let mut about = vec![format!("Step {}", job.number)];
    let hands = way.hands_minutes();
    if hands > 0 {
        about.push(format!("{hands}\u{a0}min of hands"));
    }
    let heat = heat_words(problem, way, placed.oven);
    if !heat.is_empty() {
        about.push(heat);
    }
    about.push(format!("until {}", clock(problem, account.plan.end_minute(problem, place))));
    if job.is_estimate {
        about.push("minutes are our estimate".to_owned());
    }
    let slack = match held.slack_minutes {
        0 => "Not a minute later".to_owned(),
        minutes => format!("Up to {} later", span(minutes)),
    };
    RowShown {
        clock: clock(problem, placed.start_minute),
        letter: dish.letter.to_string(),
        is_base: dish.is_base,
        words: job.words.clone(),
        about: about.join(", "),
        way: way_words(way),
        wait: waits.iter().find(|it| it.job == place).map(|it| wait(problem, it)),
        why: held.why.clone(),
        slack,
        key: format!("{}.{}.{}", dish.letter, job.at.part, job.at.step),
        at: problem.instant(placed.start_minute).to_string(),
        day: problem.zone.local(problem.instant(placed.start_minute)).date().to_string(),
        is_pinned: job.pinned_minute.is_some(),
        is_done: job.done.is_some(),
        is_serving_day,
    }
}

fn wait(problem: &Problem, it: &Waiting) -> WaitShown {
    let place = match it.place {
        Place::Fridge => "Into the fridge",
        Place::Freezer => "Into the freezer",
        Place::Cool => "In a cool place",
        Place::Counter => "On the counter",
    };
    let at = |minute| problem.zone.local(problem.instant(minute)).strftime("%a %H:%M").to_string();
    let litres = match it.centilitres {
        0 => String::new(),
        litres => format!(" ({})", litres_words(litres)),
    };
    let thaw = it
        .thaw_minute
        .map_or_else(String::new, |minute| format!(" To the fridge to thaw {}.", at(minute)));
    let words = format!("{place}{litres} until {}.{thaw}", at(it.last_use_minute));
    let keep_until = at(it.keep_until_minute);
    let used = u32::try_from(it.last_use_minute - it.from_minute).unwrap_or(0);
    let kept = u32::try_from(it.keep_until_minute - it.from_minute).unwrap_or(0).max(1);
    let says = format!("{words} Keeps until {keep_until}.");
    WaitShown {
        words,
        keep_until,
        because: it.because.clone(),
        tray: tray(used.min(kept), kept, &says),
    }
}
