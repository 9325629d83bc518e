//! Every step of a menu on a day and a minute: the problem, the plan, the checker, and words.
//!
//! The search stands in a room of its own above, so that [`check`] shares no code with it.

pub mod conflict;
pub mod plan;
pub mod problem;
