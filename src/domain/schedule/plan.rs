//! A plan, how good it is, and how it was come by.

use super::conflict::Conflict;
use super::problem::{Next, Problem};

/// Every job of a problem on a minute; in the order of [`Problem::jobs`].
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Plan {
    pub jobs: Vec<Placed>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Placed {
    pub start_minute: i32,
    /// Place in [`super::problem::Job::ways`].
    pub way: usize,
    /// Place in [`super::problem::Job::holds`].
    pub hold: usize,
    /// Place in [`Problem::ovens`], where the way needs one.
    pub oven: Option<usize>,
}

/// How good a plan is; less is better, and the preference says which comes first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Goals {
    /// Minutes of hands on the serving day.
    pub serving_hands_minutes: u32,
    /// From the end of each job to its last use, added up.
    pub held_minutes: u32,
    /// Days before the serving day on which somebody works.
    pub days: u32,
    /// Stretches of work with less than half an hour between, and changes of an oven's setting.
    pub blocks: u32,
}

/// What is known of the best plan there could be, by the goal that comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// No plan is better than this: serving-day minutes, held minutes.
    pub serving_hands_minutes: u32,
    pub held_minutes: u32,
    /// Both goals were proved.
    pub is_proved: bool,
}

impl Bound {
    /// By how much of a hundred the plan may be from the best, for serving-day minutes and for time
    /// held; rounded up.
    pub fn percents(&self, goals: &Goals) -> (u32, u32) {
        let over = |is: u32, least: u32| {
            let over = u64::from(is.saturating_sub(least)) * 100;
            u32::try_from(over.div_ceil(u64::from(least.max(1)))).unwrap_or(u32::MAX)
        };
        (
            over(goals.serving_hands_minutes, self.serving_hands_minutes),
            over(goals.held_minutes, self.held_minutes),
        )
    }
}

/// How much work a search may do. Counted, never timed: the same effort gives the same plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Effort {
    Small,
    Normal,
    Long,
}

impl Effort {
    pub const ALL: [Self; 3] = [Self::Small, Self::Normal, Self::Long];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Small => "small",
            Self::Normal => "normal",
            Self::Long => "long",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == word)
    }
}

/// Asked now and then whether the search should end early, with the best plan so far.
pub trait Cancel: Sync {
    fn is_cancelled(&self) -> bool;
    /// A better plan was found; it has not been checked.
    fn found(&self, _plan: &Plan) {}
}

/// Never ends early.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoCancel;

impl Cancel for NoCancel {
    fn is_cancelled(&self) -> bool {
        false
    }
}

/// What a search comes back with.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    Planned {
        plan: Plan,
        bound: Option<Bound>,
        is_cancelled: bool,
    },
    Refused(Conflict),
    /// Neither a plan nor a proof that there is none.
    Unknown {
        is_cancelled: bool,
    },
}

impl Plan {
    pub fn end_minute(&self, problem: &Problem, job: usize) -> i32 {
        if let Some(done) = problem.jobs[job].done {
            return done.end_minute;
        }
        let placed = self.jobs[job];
        placed.start_minute + minutes(problem.jobs[job].ways[placed.way].minutes)
    }

    /// The start of the next job, or the hour at the table.
    pub fn next_minute(&self, next: Next) -> i32 {
        match next {
            Next::Job(job) => self.jobs[job].start_minute,
            Next::Table(minute) => minute,
        }
    }

    /// The place of the window it stands in, by its start; none where it stands in no window.
    pub fn window(&self, problem: &Problem, job: usize) -> Option<usize> {
        let start = self.jobs[job].start_minute;
        problem.windows.iter().position(|it| (it.from_minute..it.to_minute).contains(&start))
    }
}

/// Whole minutes as they are added to others. No card holds as many as would not fit.
pub fn minutes(count: u32) -> i32 {
    i32::try_from(count).unwrap_or(i32::MAX / 4)
}
