//! From a menu and a table to the list a person takes to the shop.
//!
//! [`scale()`] says how much of each dish is made, [`needs()`] what every step asks for, [`combine()`]
//! puts it together. All sums are exact; only the last step, what the shop sells, rounds up.

mod combine;
mod list;
mod needs;
mod purchase;
mod scale;
mod sum;

pub use combine::{Days, combine, combine_with, key_of};
pub use list::{Aisle, BuyingDay, Purchase, Row, RowKey, ShoppingList};
pub use needs::{FruitPart, Need, StepKey, needs};
pub use scale::{Scale, Scaled, is_undividable, needs_freezer, scale, vessels};
