//! Heat moving through food: how a pan cools, a made-ahead dish warms and a roast comes to its end point.
//!
//! A forecast is an estimate and never a verdict on food: only readings are (`limit::log`, `limit::roast`).
//! The figures here are measured physics, so they are `f64`; nothing of them enters an amount.

// Layers, steps and table bins are small counts: turning them into figures loses nothing.
#![allow(clippy::cast_possible_truncation, clippy::cast_precision_loss, clippy::cast_sign_loss)]

mod air;
mod ask;
mod body;
mod cooling;
mod credit;
mod food;
mod forecast;
mod holding;
mod nonsense;
mod oven;
mod place;
mod roast;
mod side;
pub mod typed;

pub use air::{Air, Face, boil_pressure_kpa};
pub use ask::{AskCool, AskRoast, AskWarm, Cooling, Fault};
pub use body::{Glance, Layers, Ledger, Pace, Shape, march};
pub use cooling::{COLD_C, Cool, Cooled, FROM_C, MIDDLE_C, Pan, Plan, Stage, cool};
pub use credit::{Measured, WANTED_LOGS, beef_logs};
pub use food::{Composition, FoodClass, Substance};
pub use forecast::{Band, Curve, Forecast, Likely, Mend, deepest, forecast, likely_of};
pub use holding::{Held, Hold, HoldIn, held};
pub use nonsense::Nonsense;
pub use oven::{Oven, Warming, warmed};
pub use place::{Around, Cover, Place, Run, Vessel};
pub use roast::{Joint, Known, Rest, Roasted, roasted};
pub use side::{Side, Sides};

/// Celsius of a Fahrenheit figure.
#[must_use]
pub const fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

/// Fahrenheit of a Celsius figure.
#[must_use]
pub const fn fahrenheit(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}
