//! Every step of a menu on a day and a minute: the problem, the plan, the checker, and words.
//!
//! The search stands in a room of its own above, so that [`check()`] shares no code with it.

pub mod account;
pub mod build;
mod change;
mod check;
pub mod conflict;
mod measure;
pub mod plan;
pub mod problem;
pub mod simple;
pub mod words;

pub use check::{Breach, check};
pub use measure::goals;
