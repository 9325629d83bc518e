//! What the log page sends, and how it becomes a line of the log; or every problem at once.

use jiff::civil::Time;
use jiff::{SignedDuration, Timestamp};
use serde::Deserialize;

use crate::domain::caution::ReadingProblem;
use crate::domain::event::{EventKey, EventKind, EventValue};
use crate::domain::heat::{Measured, Scale};
use crate::domain::log::{CoreFood, LogKind, Probe, check_depth_mm, check_reading};
use crate::domain::logbook::{KeptLog, LogKey};
use crate::domain::menu::Laid;
use crate::domain::moment::{ServiceTime, Zone};

/// Each problem with the id of its field.
pub type Problems = Vec<(&'static str, String)>;

/// `act` is `begin`, `read`, `rest` or `strike`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct LogForm {
    pub act: String,
    /// The log that goes on; empty for a new one.
    pub log: String,
    pub kind: String,
    pub food: String,
    pub dish: String,
    pub what: String,
    pub depth: String,
    pub degrees: String,
    pub scale: String,
    pub hour: String,
    pub sure: String,
    pub minutes: String,
    /// The reading that is struck out.
    pub reading: String,
}

/// A line for the log.
#[derive(Debug)]
pub struct Typed {
    pub key: EventKey,
    pub kind: EventKind,
    pub value: EventValue,
    pub at: Timestamp,
}

impl LogForm {
    pub fn check(
        &self,
        logs: &[KeptLog],
        laid: &Laid,
        zone: &Zone,
        now: Timestamp,
    ) -> Result<Typed, Problems> {
        let found = logs.iter().find(|log| self.is_of(log));
        match (self.act.as_str(), found) {
            ("strike", Some(log)) => self.strike(log, now),
            ("rest", Some(log)) => self.rest(log, now),
            ("read", Some(log)) => self.read(&log.key, &log.probes(), zone, now, Vec::new()),
            ("begin", _) => {
                let (key, problems) = self.new_key(laid);
                // What bears the name of a log goes on in it.
                let earlier = logs.iter().find(|log| log.key == key);
                let earlier = earlier.map(KeptLog::probes).unwrap_or_default();
                self.read(&key, &earlier, zone, now, problems)
            }
            _ => Err(vec![("what", "That log is not there; begin another".to_owned())]),
        }
    }

    pub fn is_of(&self, log: &KeptLog) -> bool {
        log.key.event_key().is_some_and(|key| key.as_str() == self.log)
    }

    fn new_key(&self, laid: &Laid) -> (LogKey, Problems) {
        let mut problems = Vec::new();
        let kind = LogKind::parse(&self.kind).unwrap_or(LogKind::Cooling);
        let food = (kind == LogKind::Core)
            .then(|| CoreFood::parse(&self.food).unwrap_or(CoreFood::HeatedAgain));
        let dish = laid.dishes.iter().find(|dish| dish.letter.to_string() == self.dish);
        let typed = self.what.trim();
        let mut what = match dish {
            _ if !typed.is_empty() => typed.to_owned(),
            Some(dish) => dish.title.clone(),
            None => String::new(),
        };
        let length = what.chars().count();
        if !(1..=80).contains(&length) || what.contains(char::is_control) {
            problems.push(("what", ReadingProblem::NoName.to_string()));
        }
        if !self.depth.trim().is_empty() {
            match check_depth_mm(&self.depth) {
                Ok(millimetres) => {
                    let (whole, rest) = (millimetres / 10, millimetres % 10);
                    let rest = if rest == 0 { String::new() } else { format!(".{rest}") };
                    what.push_str(&format!(", {whole}{rest} cm deep"));
                }
                Err(problem) => problems.push(("depth", problem.to_string())),
            }
        }
        let letter = dish.map(|dish| dish.letter.to_string()).unwrap_or_default();
        (LogKey { kind, food, letter, what: what.replace('|', "/") }, problems)
    }

    fn read(
        &self,
        key: &LogKey,
        earlier: &[Probe],
        zone: &Zone,
        now: Timestamp,
        mut problems: Problems,
    ) -> Result<Typed, Problems> {
        let scale = Scale::parse(&self.scale).unwrap_or(Scale::Celsius);
        let heat = Measured::parse(&self.degrees, scale);
        if heat.is_none() {
            problems.push(("degrees", ReadingProblem::NoNumber.to_string()));
        }
        let at = read_hour(&self.hour, zone, now);
        if at.is_none() {
            problems.push(("hour", ReadingProblem::NoHour.to_string()));
        }
        let event_key = key.event_key();
        if let (Some(heat), Some(at)) = (heat, at) {
            let probe = Probe { at, heat };
            let sure = self.sure == "yes";
            if let Err(problem) = check_reading(key.kind, probe, earlier, sure, now, zone) {
                let field = match problem {
                    ReadingProblem::NotInOrder { .. }
                    | ReadingProblem::NotYet { .. }
                    | ReadingProblem::LongAgo { .. } => "hour",
                    _ => "degrees",
                };
                problems.push((field, problem.to_string()));
            }
        }
        match (event_key, heat, at) {
            (Some(key), Some(heat), Some(at)) if problems.is_empty() => {
                let value = EventValue::Reading(heat);
                Ok(Typed { key, kind: EventKind::Reading, value, at })
            }
            _ => Err(problems),
        }
    }

    fn rest(&self, log: &KeptLog, now: Timestamp) -> Result<Typed, Problems> {
        let minutes = self.minutes.trim().parse::<u32>().ok().filter(|it| *it <= 240);
        let minutes = minutes.ok_or_else(|| one("minutes", &ReadingProblem::NoMinutes))?;
        let key = log.key.event_key().ok_or_else(|| one("minutes", &ReadingProblem::NoName))?;
        let value = EventValue::Rest { minutes };
        Ok(Typed { key, kind: EventKind::Reading, value, at: now })
    }

    fn strike(&self, log: &KeptLog, now: Timestamp) -> Result<Typed, Problems> {
        let id = self.reading.parse().ok();
        let is_there = |id: &uuid::Uuid| log.readings.iter().any(|(it, _)| it == id);
        let missing = || vec![("what", "That reading is not there any more".to_owned())];
        let id = id.filter(is_there).ok_or_else(missing)?;
        let key = log.key.event_key().ok_or_else(missing)?;
        Ok(Typed { key, kind: EventKind::Reading, value: EventValue::Strikes(id), at: now })
    }
}

fn one(field: &'static str, problem: &ReadingProblem) -> Problems {
    vec![(field, problem.to_string())]
}

/// `16:40` of today, or of yesterday when today's has not come yet; nothing typed is now.
fn read_hour(typed: &str, zone: &Zone, now: Timestamp) -> Option<Timestamp> {
    let typed = typed.trim().replace('.', ":");
    if typed.is_empty() {
        // To the minute, as everything else that is typed.
        return Timestamp::from_second(now.as_second() - now.as_second() % 60).ok();
    }
    let (hours, minutes) = typed.split_once(':')?;
    let time = Time::new(hours.parse().ok()?, minutes.parse().ok()?, 0, 0).ok()?;
    let today = zone.local(now).date();
    let of = |date: jiff::civil::Date| {
        ServiceTime { local: date.to_datetime(time), zone: zone.clone() }.instant()
    };
    let at = of(today);
    let is_yesterday = at.duration_since(now) > SignedDuration::from_hours(12);
    Some(if is_yesterday { of(today.yesterday().ok()?) } else { at })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_hour_just_before_midnight_belongs_to_yesterday_just_after_it() {
        let zone = Zone::parse("Europe/Oslo").unwrap();
        let now: Timestamp = "2027-06-26T22:10:30Z".parse().unwrap();
        let read = |typed: &str| read_hour(typed, &zone, now).map(|it| zone.local(it).to_string());
        assert_eq!(read("23:50").unwrap(), "2027-06-26T23:50:00");
        assert_eq!(read("0.05").unwrap(), "2027-06-27T00:05:00");
        assert_eq!(read("").unwrap(), "2027-06-27T00:10:00");
        assert_eq!(["25:00", "noon", "12", "12:61"].map(read), [const { None }; 4]);
    }
}
