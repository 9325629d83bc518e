//! Exact amounts. Nothing in this folder rounds; display does, and says so.

mod amount;
mod portions;
mod unit;

pub use amount::{Amount, MixedAmount, OutOfBounds};
pub use portions::{Portions, PortionsError, ScaleFactor};
pub use unit::{Kind, Spoons, UNITS, Unit};
