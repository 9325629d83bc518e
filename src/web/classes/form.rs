//! What the form of a class sends, and how it becomes a class.

use jiff::Span;
use jiff::civil::{Date, DateTime, Time};
use serde::Deserialize;
use uuid::Uuid;

use crate::domain::class::{Class, ClassId, KEPT_DAYS, Lesson, purge_day};
use crate::domain::kitchen::KitchenId;
use crate::domain::menu::{Menu, MenuId};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::school::School;
use crate::storage::{KeptClass, KeptKitchen};

/// Field names with what is wrong, in the order of the page.
pub type Problems = Vec<(&'static str, String)>;

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct ClassForm {
    pub version: String,
    pub serve: String,
    /// Hours of the lesson; both empty: the menu goes out without one.
    pub from: String,
    pub to: String,
    pub seats: String,
    pub kitchen: String,
    pub fee: String,
    pub purge_on: String,
}

/// A form without a problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    serve: ServiceTime,
    lesson: Option<Lesson>,
    seats: Portions,
    kitchen: Option<KitchenId>,
    fee_minor: Option<u32>,
    purge_on: Date,
}

impl Checked {
    pub fn class(self, id: ClassId, menu: MenuId) -> Class {
        Class {
            id,
            menu,
            publication: None,
            serve: self.serve,
            lesson: self.lesson,
            kitchen: self.kitchen,
            seats: self.seats,
            fee_minor: self.fee_minor,
            purge_on: self.purge_on,
        }
    }
}

impl ClassForm {
    /// A new class at the hour and for the guests that its menu was written for.
    pub fn of_menu(menu: &Menu) -> Self {
        let serve = &menu.draft.serve;
        let hour = |hours| {
            let at = serve.local.checked_add(Span::new().hours(hours)).unwrap_or(serve.local);
            at.strftime("%H:%M").to_string()
        };
        Self {
            serve: serve.local_text(),
            from: hour(-2),
            to: hour(1),
            seats: menu.draft.guests.count().to_string(),
            kitchen: menu.draft.kitchen.map(|id| id.0.to_string()).unwrap_or_default(),
            ..Self::default()
        }
    }

    pub fn from(kept: &KeptClass, school: &School) -> Self {
        let class = &kept.class;
        let hour = |at: DateTime| at.strftime("%H:%M").to_string();
        let fee = class.fee_minor.map(|minor| school.settings.currency.figure(minor));
        Self {
            version: kept.version.to_string(),
            serve: class.serve.local_text(),
            from: class.lesson.map(|lesson| hour(lesson.from)).unwrap_or_default(),
            to: class.lesson.map(|lesson| hour(lesson.to)).unwrap_or_default(),
            seats: class.seats.count().to_string(),
            kitchen: class.kitchen.map(|id| id.0.to_string()).unwrap_or_default(),
            fee: fee.unwrap_or_default(),
            purge_on: class.purge_on.to_string(),
        }
    }

    pub fn version(&self) -> u32 {
        self.version.parse().unwrap_or(0)
    }

    pub fn at_version(self, version: u32) -> Self {
        Self { version: version.to_string(), ..self }
    }

    pub fn check(
        &self,
        school: &School,
        zone: &Zone,
        kitchens: &[KeptKitchen],
        made_on: Date,
    ) -> (Option<Checked>, Problems) {
        let mut problems = Problems::new();
        let serve = ServiceTime::parse(&self.serve, zone.clone());
        let serve = serve.map_err(|error| problems.push(("serve", error.to_string()))).ok();
        let lesson = lesson(serve.as_ref(), &self.from, &self.to);
        let lesson = lesson.map_err(|problem| problems.push(("from", problem)));
        let seats = Portions::parse(&self.seats);
        let seats = seats.map_err(|error| problems.push(("seats", error.to_string())));
        let kitchen = kitchen(&self.kitchen, kitchens);
        let kitchen = kitchen.map_err(|problem| problems.push(("kitchen", problem)));
        let fee = match self.fee.trim() {
            "" => Ok(None),
            typed => school.settings.currency.minor(typed).map(Some),
        };
        let fee = fee.map_err(|error| problems.push(("fee", error.to_string())));
        let purge_on = purge_on(serve.as_ref(), made_on, &self.purge_on);
        let purge_on = purge_on.map_err(|problem| problems.push(("purge_on", problem)));
        if !problems.is_empty() {
            return (None, problems);
        }
        let checked = (|| {
            Some(Checked {
                serve: serve?,
                lesson: lesson.ok()?,
                seats: seats.ok()?,
                kitchen: kitchen.ok()?,
                fee_minor: fee.ok()?,
                purge_on: purge_on.ok()?,
            })
        })();
        (checked, problems)
    }
}

/// From one hour of the serving day to another, which may lie past midnight.
fn lesson(serve: Option<&ServiceTime>, from: &str, to: &str) -> Result<Option<Lesson>, String> {
    let (from, to) = (from.trim(), to.trim());
    if from.is_empty() && to.is_empty() {
        return Ok(None);
    }
    let hour = |typed: &str| {
        let read: Option<Time> = typed.parse().ok();
        read.ok_or_else(|| "Write both hours like 18:00, or leave both empty".to_owned())
    };
    let (from, to) = (hour(from)?, hour(to)?);
    // Without a day there is nothing to check against; the day has its own problem.
    let Some(serve) = serve else { return Ok(None) };
    let day = serve.local.date();
    let ends_on = if to <= from { day.tomorrow().unwrap_or(day) } else { day };
    Ok(Lesson::new(day.to_datetime(from), ends_on.to_datetime(to)))
}

fn kitchen(typed: &str, kitchens: &[KeptKitchen]) -> Result<Option<KitchenId>, String> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let id = typed.parse::<Uuid>().ok().map(KitchenId);
    let known = kitchens.iter().map(|kept| kept.id).find(|known| Some(*known) == id);
    known.map(Some).ok_or_else(|| "Choose one of the kitchens of this school".to_owned())
}

/// The day on which a class was made, as far as its promise to delete tells.
pub fn made_on(class: &Class) -> Date {
    class.purge_on.saturating_sub(Span::new().days(KEPT_DAYS))
}

/// The usual day when nothing is typed. Never before serving, and never later than the usual day:
/// homes are promised that when they join.
fn purge_on(serve: Option<&ServiceTime>, made_on: Date, typed: &str) -> Result<Date, String> {
    let Some(serve) = serve.map(|serve| serve.local.date()) else { return Ok(Date::ZERO) };
    if typed.trim().is_empty() {
        return Ok(purge_day(serve, made_on));
    }
    let last = purge_day(serve, made_on);
    let read: Option<Date> = typed.trim().parse().ok();
    read.filter(|day| (serve..=last).contains(day))
        .ok_or_else(|| format!("Choose a day from {serve} to {last}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn serve() -> ServiceTime {
        ServiceTime::parse("2027-06-16T20:15", Zone::parse("Europe/Oslo").unwrap()).unwrap()
    }

    #[test]
    fn a_lesson_may_end_after_midnight_or_not_be() {
        let read = |from, to| lesson(Some(&serve()), from, to);
        let at = |day: i8, hour| date(2027, 6, day).at(hour, 0, 0, 0);
        assert_eq!(read("18:00", "21:00"), Ok(Lesson::new(at(16, 18), at(16, 21))));
        assert_eq!(read("20:00", "01:00"), Ok(Lesson::new(at(16, 20), at(17, 1))));
        assert_eq!(read(" ", ""), Ok(None));
        assert!(read("18:00", "").is_err() && read("six", "21:00").is_err());
    }

    #[test]
    fn homes_go_on_the_usual_day_or_sooner_but_not_before_serving() {
        let read = |typed| purge_on(Some(&serve()), date(2027, 6, 1), typed);
        assert_eq!(read(""), Ok(date(2027, 7, 16)));
        assert_eq!(read("2027-06-16"), Ok(date(2027, 6, 16)));
        assert!(read("2027-06-15").is_err() && read("2027-07-17").is_err());
    }
}
