//! Heat against what others found: series of the textbooks, published trials, common practice.
//!
//! Every figure carries its source. "read": seen in the document named; "memory": not seen for this work;
//! "computed": from the formula named. What is known to disagree stays in the list and is printed:
//! `cargo test --test suite warmth -- --nocapture`.

mod analytic;
mod laws;
mod published;
mod trials;
