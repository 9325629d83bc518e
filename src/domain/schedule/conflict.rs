//! Why no plan fits: the few limits that clash, and what would help.

use super::plan::Plan;
use super::problem::{Limit, Problem};

/// A smallest set of limits that cannot all hold, and ways out that were planned and work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Conflict {
    /// Together they cannot hold; without any one of them the others can, where `is_minimal`.
    pub reasons: Vec<Reason>,
    pub is_minimal: bool,
    pub ways_out: Vec<WayOut>,
}

/// One limit of a conflict, with the jobs it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reason {
    pub limit: Limit,
    pub jobs: Vec<usize>,
    /// When they clash, in the nearest plan without this limit.
    pub between: Option<(i32, i32)>,
    /// What the limited figure would be in that plan: minutes rested, minutes early.
    pub would_be_minutes: Option<i32>,
}

/// Something a person may change, tried: the problem with it, and its plan.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOut {
    pub change: Change,
    pub problem: Box<Problem>,
    pub plan: Plan,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// The author's answers where there is no oven room: places in [`Problem::offers`].
    Offers(Vec<usize>),
    /// It is served warm, so many minutes before the table, instead of hot.
    ServeWarm { job: usize, minutes: u32 },
    /// One more day of cooking, this many days before the serving day.
    CookDay { days_before: u32 },
    /// One more oven like the first.
    Oven,
    /// One more pair of hands.
    Hands,
    /// Without a dish, by its place in [`Problem::dishes`].
    LeaveOut { dish: usize },
    /// Everything is eaten later.
    EatLater { minutes: u32 },
}

impl Change {
    /// What to do, as a sentence.
    pub fn words(&self, problem: &Problem) -> String {
        match self {
            Self::Offers(offers) => {
                let all = offers.iter().filter_map(|it| problem.offers.get(*it)).map(|it| {
                    let dish = &problem.dishes[problem.jobs[it.job].dish];
                    format!("{} {} without the oven: {}", dish.letter, dish.title, it.words)
                });
                let mut all: Vec<String> = all.collect();
                all.dedup();
                format!("Take the card's other way. {}.", all.join(". "))
            }
            Self::ServeWarm { job, minutes } => {
                let name = super::words::job_words(problem, *job);
                format!("Cook {name} earlier and serve it warm, within {minutes} min.")
            }
            Self::CookDay { days_before: 1 } => "Cook on the day before as well.".to_owned(),
            Self::CookDay { days_before } => {
                format!("Cook {days_before} days before as well.")
            }
            Self::Oven => "Use one more oven, a neighbour's for example.".to_owned(),
            Self::Hands => "Ask one more person to help.".to_owned(),
            Self::LeaveOut { dish } => {
                let it = &problem.dishes[*dish];
                format!("Leave {} {} out.", it.letter, it.title)
            }
            Self::EatLater { minutes } => {
                format!("Eat {} later.", super::words::span(*minutes))
            }
        }
    }
}

impl Reason {
    /// A finished sentence: the limit with its figure, who is about it, when they clash, and what
    /// it would be without the limit.
    pub fn words(&self, problem: &Problem) -> String {
        let what = super::words::limit_words(problem, self.limit);
        let others: Vec<usize> = self
            .jobs
            .iter()
            .copied()
            .filter(|job| !what.contains(&super::words::job_words(problem, *job)))
            .collect();
        let names = super::words::jobs_words(problem, &others);
        let need = if others.len() == 1 { "needs it" } else { "need it" };
        let mut words = if names.is_empty() { what } else { format!("{what}; {names} {need}") };
        if let Some((from, to)) = self.between {
            let (from, to) = (super::words::clock(problem, from), super::words::clock(problem, to));
            words = format!("{words} between {from} and {to}");
        }
        if let Some(minutes) = self.would_be_minutes {
            words = format!("{words}; it would be {minutes} min");
        }
        words + "."
    }
}
