//! Pages for students: a class by its link, and a home by its key. No account, no cookie.

mod form;
mod holder;
mod join;
mod list;
mod log;
mod page;
mod plan;
mod plan_form;
mod plan_page;
mod plan_samples;
mod rows;
mod samples;
mod table;

use axum::routing::{get, post};

pub use self::holder::{AtTable, KeyHolder};
pub use self::rows::ClassRows;
pub use self::samples::samples;
use super::routes::{Route, Who, row};

pub const ROUTES: &[Route] = &[
    row("GET", "/c/{token}", Who::Holder, || get(join::show)),
    row("POST", "/c/{token}", Who::Holder, || post(join::join)),
    row("GET", "/c/{token}/sheets/{name}", Who::Holder, || get(join::print_sheet)),
    row("GET", "/h/{key}", Who::Holder, || get(table::show)),
    row("POST", "/h/{key}", Who::Holder, || post(table::change)),
    row("GET", "/h/{key}/list", Who::Holder, || get(list::show)),
    row("POST", "/h/{key}/list", Who::Holder, || post(list::tick)),
    row("GET", "/h/{key}/ahead", Who::Holder, || get(table::ahead_page)),
    row("GET", "/h/{key}/plan", Who::Holder, || get(plan::show)),
    row("POST", "/h/{key}/plan", Who::Holder, || post(plan::change)),
    row("GET", "/h/{key}/limits", Who::Holder, || get(table::limits)),
    row("GET", "/h/{key}/log", Who::Holder, || get(log::show)),
    row("POST", "/h/{key}/log", Who::Holder, || post(log::change)),
    row("GET", "/h/{key}/changes", Who::Holder, || get(table::changes)),
    row("POST", "/h/{key}/changes", Who::Holder, || post(table::read_changes)),
    row("GET", "/h/{key}/sheets/{name}", Who::Holder, || get(table::print_sheet)),
    row("POST", "/h/{key}/leave", Who::Holder, || post(table::leave)),
];
