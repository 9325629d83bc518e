//! Why no plan fits: the few limits that clash, and what would help.

use super::plan::Plan;
use super::problem::{Limit, Problem};

/// A smallest set of limits that cannot all hold, and ways out that were planned and work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Conflict {
    /// Without any one of them there is a plan, where `is_minimal`.
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
