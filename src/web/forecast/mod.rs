//! Pages that say beforehand whether a dish cools in time: for a card, and for a student's table.

mod page;
mod show;
mod steps;

use axum::routing::get;

pub use self::page::samples;
pub use self::steps::{CoolingMark, marks};
use super::routes::{Route, Who, row};

pub const ROUTES: &[Route] = &[
    row("GET", "/dishes/{id}/cooling", Who::Instructor, || get(show::of_dish)),
    row("GET", "/h/{key}/cooling", Who::Holder, || get(show::of_home)),
];
