//! How early each stop of one card may be made, for a table a week ahead, by the rules of the school.

use std::sync::Arc;

use jiff::Timestamp;
use jiff::civil::Weekday;

use super::says;
use crate::domain::card::Card;
use crate::domain::dish::DishId;
use crate::domain::keeps::{self, Moment, StopKeeps};
use crate::domain::larder::Larder;
use crate::domain::limit::Profile;
use crate::domain::menu::{Laid, LaidDish, Letter, Sitting, TableRule};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::{Portions, Spoons};
use crate::domain::school::School;

/// The stops of a card against one serving hour.
#[derive(Debug)]
pub struct LimitsView {
    /// `Saturday 5 December, 13:00`.
    pub table: String,
    pub rows: Vec<LimitRow>,
}

#[derive(Debug)]
pub struct LimitRow {
    pub day: String,
    pub hour: String,
    /// `crumb 1, cool place, 5 days`.
    pub stop: String,
    pub reason: String,
    /// The author's figure against a stricter rule, or why it cannot be used.
    pub more: Vec<String>,
}

/// None where the card has no stop.
pub fn of(
    card: &Arc<Card>,
    school: &School,
    larder: &Arc<Larder>,
    profile: &Arc<Profile>,
    now: Timestamp,
) -> Option<LimitsView> {
    let serve = a_week_ahead(&school.zone, now)?;
    let guests = card.serves.map(|serves| serves.high).or_else(|| Portions::new(1).ok())?;
    let table = Moment::of(serve.instant(), &school.zone).to_string();
    let sitting = Sitting {
        name: String::new(),
        guests,
        serve,
        choices: std::collections::BTreeMap::new(),
        without: Vec::new(),
        shop_on: None,
        freezer_litres: None,
        rule: TableRule::default(),
    };
    let laid = laid(card, school, larder, profile);
    let found = keeps::keeps(&laid, &sitting).into_iter().next()?;
    let rows: Vec<_> = found.stops.iter().map(row).collect();
    (!rows.is_empty()).then_some(LimitsView { table, rows })
}

/// The first Saturday after a whole week, at one o'clock: an hour that every kitchen can picture.
fn a_week_ahead(zone: &Zone, now: Timestamp) -> Option<ServiceTime> {
    let week = jiff::Span::new().days(7);
    let date = zone.local(now).date().checked_add(week).ok()?;
    let date = date.nth_weekday(1, Weekday::Saturday).ok()?;
    Some(ServiceTime { local: date.at(13, 0, 0, 0), zone: zone.clone() })
}

fn laid(card: &Arc<Card>, school: &School, larder: &Arc<Larder>, profile: &Arc<Profile>) -> Laid {
    let dish = LaidDish {
        id: DishId(uuid::Uuid::nil()),
        letter: Letter('A'),
        is_base: false,
        title: card.title.clone(),
        revision: None,
        card: Arc::clone(card),
    };
    Laid {
        school: school.name.to_string(),
        zone: school.zone.clone(),
        name: String::new(),
        publication: None,
        dishes: vec![dish],
        rule: TableRule::default(),
        choices: std::collections::BTreeMap::new(),
        sweet_after_minutes: 0,
        larder: Arc::clone(larder),
        profile: Arc::clone(profile),
        spoons: Spoons::default(),
    }
}

fn row(stop: &StopKeeps) -> LimitRow {
    let binding = stop.binding();
    let span = binding.map(|limit| format!(", {}", limit.clock.words())).unwrap_or_default();
    let looser = keeps::looser_words(stop);
    // A card that names no part has one of this name.
    let part = if stop.part == "method" { "step" } else { &stop.part };
    LimitRow {
        day: stop.earliest.local.strftime("%a %-d %b").to_string(),
        hour: stop.earliest.hour(),
        stop: format!("{part} {}, {}{span}", stop.step, says::place(stop.place)),
        reason: stop.reason.clone(),
        more: stop.impossible.iter().cloned().chain(looser).collect(),
    }
}
