//! The logs of a kitchen: a fold over its events, each log with what it says now.

use jiff::Timestamp;
use uuid::Uuid;

use super::event::{EventKey, EventKind, EventValue, KitchenEvent};
use super::limit::Profile;
use super::log::{
    Checked, CoreFood, Holding, LogKind, Probe, ambient_cooling, cooling, core, hold,
};
use super::moment::Zone;

/// Which log: what is measured, of what. Its key in the events says the same.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LogKey {
    pub kind: LogKind,
    /// For the middle of something cooked.
    pub food: Option<CoreFood>,
    /// `B`, or nothing for what is in no dish.
    pub letter: String,
    /// `Stock, box 2, 2.5 cm deep`.
    pub what: String,
}

impl LogKey {
    const FIRST: &str = "log";

    pub fn event_key(&self) -> Option<EventKey> {
        let food = self.food.map_or("", CoreFood::word);
        let what = self.what.replace('|', "/");
        EventKey::parse(&format!(
            "{}|{}|{food}|{}|{what}",
            Self::FIRST,
            self.kind.word(),
            self.letter
        ))
    }

    pub fn parse(key: &str) -> Option<Self> {
        let parts: Vec<&str> = key.splitn(5, '|').collect();
        let [Self::FIRST, kind, food, letter, what] = parts[..] else { return None };
        let kind = LogKind::parse(kind)?;
        let food = CoreFood::parse(food);
        if (kind == LogKind::Core) != food.is_some() {
            return None;
        }
        Some(Self { kind, food, letter: letter.to_owned(), what: what.to_owned() })
    }
}

/// One log with its readings in the order they were taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptLog {
    pub key: LogKey,
    pub readings: Vec<(Uuid, Probe)>,
    /// Minutes off the heat, once somebody says so.
    pub rested: Option<u32>,
}

impl KeptLog {
    pub fn probes(&self) -> Vec<Probe> {
        self.readings.iter().map(|(_, probe)| *probe).collect()
    }

    /// What it says at `now`. None while no reading stands in it.
    pub fn checked(&self, profile: &Profile, zone: &Zone, now: Timestamp) -> Option<Checked> {
        let (probes, now) = (self.probes(), Some(now));
        match self.key.kind {
            LogKind::Cooling => cooling(profile, &probes, zone, now).map(|it| it.checked),
            LogKind::FromRoom => ambient_cooling(profile, &probes, zone, now).map(|it| it.checked),
            LogKind::Hot => hold(profile, Holding::Hot, &probes, zone, now),
            LogKind::Cold => hold(profile, Holding::Cold, &probes, zone, now),
            LogKind::Core => core(profile, self.key.food?, &probes, self.rested, zone),
        }
    }
}

/// All logs, the newest first.
pub fn logbook<'a>(events: impl IntoIterator<Item = &'a KitchenEvent>) -> Vec<KeptLog> {
    let mut events: Vec<&KitchenEvent> = events.into_iter().collect();
    events.sort_by_key(|event| (event.client_at, event.id));
    events.dedup_by_key(|event| event.id);
    let struck: Vec<Uuid> = events
        .iter()
        .filter_map(|event| match event.value {
            EventValue::Strikes(id) => Some(id),
            _ => None,
        })
        .collect();
    let mut logs: Vec<KeptLog> = Vec::new();
    for event in events {
        let Some(key) = LogKey::parse(event.key.as_str()) else { continue };
        if event.kind != EventKind::Reading || struck.contains(&event.id) {
            continue;
        }
        let place = logs.iter().position(|log| log.key == key).unwrap_or_else(|| {
            logs.push(KeptLog { key, readings: Vec::new(), rested: None });
            logs.len() - 1
        });
        let log = &mut logs[place];
        match event.value {
            EventValue::Reading(heat) => {
                log.readings.push((event.id, Probe { at: event.client_at, heat }));
            }
            EventValue::Rest { minutes } => log.rested = Some(minutes),
            EventValue::Nothing | EventValue::Strikes(_) => {}
        }
    }
    logs.retain(|log| !log.readings.is_empty());
    logs.sort_by_key(|log| std::cmp::Reverse(log.readings.last().map(|(_, probe)| probe.at)));
    logs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::heat::{Measured, Scale};
    use crate::domain::log::Verdict;

    fn event(id: u128, key: &LogKey, minute: i64, value: EventValue) -> KitchenEvent {
        let at = Timestamp::from_second(1_800_000_000 + minute * 60).unwrap();
        KitchenEvent {
            id: Uuid::from_u128(id),
            kind: EventKind::Reading,
            key: key.event_key().unwrap(),
            value,
            client_at: at,
            received_at: at,
        }
    }

    fn reading(figure: i32) -> EventValue {
        EventValue::Reading(Measured::whole(figure, Scale::Celsius))
    }

    #[test]
    fn a_log_is_its_readings_in_order_without_those_struck_out() {
        let key = LogKey {
            kind: LogKind::Cooling,
            food: None,
            letter: "A".to_owned(),
            what: "Stock | box 2".to_owned(),
        };
        let kept = LogKey::parse(key.event_key().unwrap().as_str()).unwrap();
        assert_eq!(kept.what, "Stock / box 2");
        let events = [
            event(3, &key, 100, reading(20)),
            event(1, &key, 0, reading(60)),
            event(2, &key, 50, reading(90)),
            event(4, &key, 101, EventValue::Strikes(Uuid::from_u128(2))),
            event(3, &key, 100, reading(20)),
        ];
        let logs = logbook(&events);
        assert_eq!(logs.len(), 1);
        let figures: Vec<i32> = logs[0].probes().iter().map(|it| it.heat.tenths).collect();
        assert_eq!(figures, [600, 200]);
        let zone = Zone::parse("Etc/UTC").unwrap();
        let now = logs[0].probes()[1].at;
        let says = logs[0].checked(&Profile::default(), &zone, now).unwrap();
        assert_eq!(says.verdict, Verdict::Unproven, "the second stage is open: {:?}", says.found);
        assert_eq!(says.by.unwrap().at.duration_since(logs[0].probes()[0].at).as_hours(), 6);
    }

    #[test]
    fn a_key_of_something_else_is_no_log() {
        for key in ["buy|leek", "log|cooling||A", "log|core||A|Loin", "log|cold|poultry|A|Milk"] {
            assert_eq!(LogKey::parse(key), None, "{key}");
        }
    }
}
