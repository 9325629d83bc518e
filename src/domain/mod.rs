//! The rules of make-ahead cooking, with no input or output of any kind.
//!
//! In reading order; a file may use those before it (`tests/suite/house_rules.rs` holds the line).

pub mod check_word;
pub mod difference;
pub mod heat;
pub mod moment;
pub mod pan;
pub mod quantity;
pub mod remark;
pub mod spoken;
pub mod text;
pub mod warmth;

pub mod trace;

pub mod larder;
pub mod school;

pub mod account;
pub mod reading;

pub mod card;

pub mod dish;
pub mod offer;

pub mod paste;
pub mod told;

pub mod limit;

pub mod caution;

pub mod log;

pub mod menu;

pub mod choice;

pub mod allergen;
pub mod cost;
pub mod handout;
pub mod keeps;
pub mod search_small;
pub mod shopping;

pub mod class;
pub mod event;
pub mod home;
pub mod kitchen;
pub mod layout;
pub mod logbook;
pub mod progress;
pub mod publication;
pub mod schedule;
pub mod table;
