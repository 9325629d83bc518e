//! What happens in a kitchen, as small facts that are only ever added to.

use jiff::Timestamp;
use uuid::Uuid;

use super::heat::Measured;

/// One fact, with an id made where it happened: sent twice, it is kept once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitchenEvent {
    pub id: Uuid,
    pub kind: EventKind,
    /// The row it is about, by meaning and never by position: `buy|pea, frozen|each`.
    pub key: EventKey,
    pub value: EventValue,
    /// When the client says it happened; of two facts about one row the later holds.
    pub client_at: Timestamp,
    pub received_at: Timestamp,
}

/// What an event carries besides its key.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum EventValue {
    #[default]
    Nothing,
    /// What a thermometer showed.
    Reading(Measured),
    /// Minutes off the heat.
    Rest { minutes: u32 },
    /// Takes a reading of the same log back.
    Strikes(Uuid),
}

/// A tick of a list, or a batch that was made, each with its undoing; or a line of a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EventKind {
    Tick,
    Untick,
    Made,
    Unmade,
    Reading,
}

impl EventKind {
    pub const ALL: [Self; 5] = [Self::Tick, Self::Untick, Self::Made, Self::Unmade, Self::Reading];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Tick => "tick",
            Self::Untick => "untick",
            Self::Made => "made",
            Self::Unmade => "unmade",
            Self::Reading => "reading",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// The meaning of a row, 1 to 200 characters, none of them a control character.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EventKey(String);

impl EventKey {
    pub const LENGTH_MAX: usize = 200;

    pub fn parse(typed: &str) -> Option<Self> {
        let length = typed.chars().count();
        let is_sound =
            (1..=Self::LENGTH_MAX).contains(&length) && !typed.contains(char::is_control);
        is_sound.then(|| Self(typed.to_owned()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}
