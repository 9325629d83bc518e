//! Pages that say beforehand whether a dish cools in time when a roast is to be looked at, and how
//! deep it lies in another pan: for a card, and for a student's table.

mod of;
mod page;
mod pan;
mod pan_page;
mod roast;
mod roast_page;
mod roast_steps;
mod show;
mod steps;

use axum::routing::get;

pub use self::roast_steps::{RoastMark, roast_marks};
pub use self::steps::{CoolingMark, marks};
use super::routes::{Route, Who, row};

pub const ROUTES: &[Route] = &[
    row("GET", "/dishes/{id}/cooling", Who::Instructor, || get(show::of_dish)),
    row("GET", "/h/{key}/cooling", Who::Holder, || get(show::of_home)),
    row("GET", "/dishes/{id}/roast", Who::Instructor, || get(roast::of_dish)),
    row("GET", "/h/{key}/roast", Who::Holder, || get(roast::of_home)),
    row("GET", "/dishes/{id}/pan", Who::Instructor, || get(pan::of_dish)),
    row("GET", "/h/{key}/pan", Who::Holder, || get(pan::of_home)),
];

/// Every state of the pages, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    [page::samples(), roast_page::samples(), pan_page::samples()].concat()
}
