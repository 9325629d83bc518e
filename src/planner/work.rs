//! How much a search may do, counted in steps of its own and never in seconds: the same effort gives the same plan.

use crate::domain::schedule::plan::{Cancel, Effort};

/// Work of an effort: about a microsecond each on the machine the figures were taken on.
pub fn of(effort: Effort) -> u64 {
    match effort {
        Effort::Small => 400_000,
        Effort::Normal => 4_000_000,
        Effort::Long => 14_000_000,
    }
}

/// The work that is left.
#[derive(Clone, Copy)]
pub struct Work<'c> {
    left: u64,
    spent: u64,
    cancel: &'c dyn Cancel,
}

impl<'c> Work<'c> {
    /// Asking at all.
    pub const QUESTION: u64 = 200;

    /// So many calls of the solver's propagators are one unit of work.
    pub const CALLS: u64 = 2;

    /// Writing the model for the solver anew.
    pub const ANEW: u64 = 10_000;

    pub fn new(left: u64, cancel: &'c dyn Cancel) -> Self {
        Self { left, spent: 0, cancel }
    }

    pub fn left(&self) -> u64 {
        self.left
    }

    pub fn spent(&self) -> u64 {
        self.spent
    }

    pub fn spend(&mut self, work: u64) {
        self.left = self.left.saturating_sub(work);
        self.spent += work;
    }

    /// A part of what is left, as an account of its own.
    pub fn part(&self, most: u64) -> Self {
        Self { left: self.left.min(most), spent: 0, cancel: self.cancel }
    }

    pub fn over(&self) -> bool {
        self.left == 0 || self.cancel.is_cancelled()
    }

    pub fn is_cancelled(&self) -> bool {
        self.cancel.is_cancelled()
    }
}
