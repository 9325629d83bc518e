//! How far a kitchen has come: a fold over its events, in whatever order they arrived.

use std::collections::BTreeMap;

use jiff::Timestamp;
use uuid::Uuid;

use super::event::{EventKey, EventKind, KitchenEvent};

/// What is ticked and what is made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    ticked: BTreeMap<EventKey, Fact>,
    made: BTreeMap<EventKey, Fact>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Fact {
    at: Timestamp,
    id: Uuid,
    holds: bool,
}

impl Progress {
    /// The last fact about a row holds: last by the client's time, then by id.
    pub fn of<'a>(events: impl IntoIterator<Item = &'a KitchenEvent>) -> Self {
        let mut progress = Self::default();
        for event in events {
            let (facts, holds) = match event.kind {
                EventKind::Tick => (&mut progress.ticked, true),
                EventKind::Untick => (&mut progress.ticked, false),
                EventKind::Made => (&mut progress.made, true),
                EventKind::Unmade => (&mut progress.made, false),
                // Logs are read elsewhere.
                EventKind::Reading => continue,
            };
            let fact = Fact { at: event.client_at, id: event.id, holds };
            let kept = facts.entry(event.key.clone()).or_insert(fact);
            *kept = fact.max(*kept);
        }
        progress
    }

    pub fn is_ticked(&self, key: &str) -> bool {
        EventKey::parse(key).and_then(|key| self.ticked.get(&key)).is_some_and(|fact| fact.holds)
    }

    /// When a batch was made; none while it is not.
    pub fn made_at(&self, key: &str) -> Option<Timestamp> {
        let fact = self.made.get(&EventKey::parse(key)?)?;
        fact.holds.then_some(fact.at)
    }

    pub fn ticks(&self) -> usize {
        self.ticked.values().filter(|fact| fact.holds).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::event::EventValue;
    use proptest::prelude::*;

    fn event(id: u128, kind: EventKind, second: i64) -> KitchenEvent {
        let at = Timestamp::from_second(second).unwrap();
        let key = EventKey::parse("buy|lemon").unwrap();
        let value = EventValue::Nothing;
        KitchenEvent { id: Uuid::from_u128(id), kind, key, value, client_at: at, received_at: at }
    }

    #[test]
    fn the_later_word_holds_and_undoing_undoes() {
        let ticked = event(1, EventKind::Tick, 10);
        let unticked = event(2, EventKind::Untick, 20);
        assert!(Progress::of([&ticked]).is_ticked("buy|lemon"));
        assert!(!Progress::of([&unticked, &ticked]).is_ticked("buy|lemon"));
        assert!(!Progress::of([&ticked]).is_ticked("buy|peach"));
    }

    proptest! {
        #[test]
        fn events_in_any_order_and_number_come_to_the_same(
            mut events in proptest::collection::vec((0u128..9, 0usize..4, 0i64..5), 0..12)
                .prop_map(|rows| rows.into_iter()
                    .map(|(id, kind, second)| event(id, EventKind::ALL[kind], second))
                    .collect::<Vec<_>>())
        ) {
            // An id names one fact.
            events.sort_by_key(|event| event.id);
            events.dedup_by_key(|event| event.id);
            let forward = Progress::of(&events);
            let twice_backward = Progress::of(events.iter().rev().chain(&events));
            prop_assert_eq!(forward, twice_backward);
        }
    }
}
