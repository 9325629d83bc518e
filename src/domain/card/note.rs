//! The notes in brackets: what each may say, and how it is written.
//!
//! [`Note::read`] and [`Note::words`] are inverse: what a form sets is read back the same.

mod reading;

use num_rational::BigRational;

pub use self::reading::is_share;
use self::reading::{body, bounded, opening};
use super::step::{
    By, Check, Chill, Core, FromFreezer, Hands, Hob, Mark, Rest, ServeWithin, Setting, Stage,
    StepRef, Stop, Tool, ToolUse, Touch, Wait,
};
use super::words::{Cursor, days_words, degrees_words, figure_words, minutes_words};

/// One note, understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Note {
    Hands(Hands),
    Wait(Wait),
    Oven(Setting),
    OvenOr(Setting),
    OwnOven(Setting),
    /// More minutes straight from the fridge.
    Cold(u32),
    /// More minutes straight from the freezer.
    Frozen(u32),
    Shelf(BigRational),
    Hob(Hob),
    Touch(Touch),
    Core(Core),
    Check(Check),
    Rest(Rest),
    Chill(Chill),
    Stop(Stop),
    Box(BigRational),
    Tool(Tool),
    Mark(Mark),
    BeforeServing(u32),
    Serve(ServeWithin),
    /// The part is empty where the author named none: the step's own.
    After(StepRef),
    KindOfFood(String),
}

/// What a note is about. A step holds one note of a kind, unless [`NoteKind::may_repeat`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NoteKind {
    Hands,
    Wait,
    Oven,
    OvenOr,
    OwnOven,
    Cold,
    Frozen,
    Shelf,
    Hob,
    Touch,
    Core,
    Check,
    Rest,
    Chill,
    Stop,
    Box,
    Tool,
    Mark,
    BeforeServing,
    Serve,
    After,
    KindOfFood,
}

impl NoteKind {
    pub const ALL: [Self; 22] = [
        Self::Hands,
        Self::Wait,
        Self::Oven,
        Self::OvenOr,
        Self::OwnOven,
        Self::Cold,
        Self::Frozen,
        Self::Shelf,
        Self::Hob,
        Self::Touch,
        Self::Core,
        Self::Check,
        Self::Rest,
        Self::Chill,
        Self::Stop,
        Self::Box,
        Self::Tool,
        Self::Mark,
        Self::BeforeServing,
        Self::Serve,
        Self::After,
        Self::KindOfFood,
    ];

    pub const fn may_repeat(self) -> bool {
        matches!(
            self,
            Self::OvenOr | Self::Touch | Self::Stop | Self::Tool | Self::Mark | Self::After
        )
    }

    /// The words to show someone whose note was almost right.
    pub const fn example(self) -> &'static str {
        match self {
            Self::Hands => "8 min",
            Self::Wait => "wait 20 min",
            Self::Oven => "oven 200C 40 min",
            Self::OvenOr => "or oven 180C 50 min",
            Self::OwnOven => "two ovens: 230C 15 min then 190C 42 min",
            Self::Cold => "cold +10 min",
            Self::Frozen => "frozen +35 min",
            Self::Shelf => "shelf 1/2",
            Self::Hob => "hob 14 min",
            Self::Touch => "at 25 min: turn, 4 min",
            Self::Core => "core 75C",
            Self::Check => "check 5 min x4",
            Self::Rest => "rest 15 min to 40 min",
            Self::Chill => "chill 21C 2 h",
            Self::Stop => "stop fridge 3 days",
            Self::Box => "box 2.4 l",
            Self::Tool => "use blender",
            Self::Mark => "day of",
            Self::BeforeServing => "20 min before serving",
            Self::Serve => "serve hot within 20 min",
            Self::After => "after crumb 2",
            Self::KindOfFood => "kind cooked vegetables",
        }
    }
}

/// Why the words of a bracket are no note.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    /// Not on the list.
    Unknown,
    /// It begins like a note of this kind, and the rest does not follow.
    Almost(NoteKind),
    /// A figure that no kitchen has: what is allowed.
    OutOfBounds { kind: NoteKind, allowed: &'static str },
}

/// A note as read, and whether its two ends stood the wrong way round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadNote {
    pub note: Note,
    pub is_reversed: bool,
}

impl Note {
    pub const fn kind(&self) -> NoteKind {
        match self {
            Self::Hands(_) => NoteKind::Hands,
            Self::Wait(_) => NoteKind::Wait,
            Self::Oven(_) => NoteKind::Oven,
            Self::OvenOr(_) => NoteKind::OvenOr,
            Self::OwnOven(_) => NoteKind::OwnOven,
            Self::Cold(_) => NoteKind::Cold,
            Self::Frozen(_) => NoteKind::Frozen,
            Self::Shelf(_) => NoteKind::Shelf,
            Self::Hob(_) => NoteKind::Hob,
            Self::Touch(_) => NoteKind::Touch,
            Self::Core(_) => NoteKind::Core,
            Self::Check(_) => NoteKind::Check,
            Self::Rest(_) => NoteKind::Rest,
            Self::Chill(_) => NoteKind::Chill,
            Self::Stop(_) => NoteKind::Stop,
            Self::Box(_) => NoteKind::Box,
            Self::Tool(_) => NoteKind::Tool,
            Self::Mark(_) => NoteKind::Mark,
            Self::BeforeServing(_) => NoteKind::BeforeServing,
            Self::Serve(_) => NoteKind::Serve,
            Self::After(_) => NoteKind::After,
            Self::KindOfFood(_) => NoteKind::KindOfFood,
        }
    }

    /// Reads what stands between the brackets, free of letter size.
    pub fn read(words: &str) -> Result<ReadNote, Unread> {
        let mut cursor = Cursor::new(words);
        let Some(kind) = opening(&mut cursor) else { return Err(Unread::Unknown) };
        let read = body(kind, cursor).ok_or(if kind == NoteKind::Hands {
            Unread::Unknown
        } else {
            Unread::Almost(kind)
        })?;
        bounded(&read.note)?;
        Ok(read)
    }

    /// The words between the brackets.
    pub fn words(&self) -> String {
        match self {
            Self::Hands(hands) if hands.scales => minutes_words(hands.minutes),
            Self::Hands(hands) => format!("{} same", minutes_words(hands.minutes)),
            Self::Wait(wait) => {
                let place = wait.place.map(|place| format!(" in {}", place.word()));
                let stretch = stretch_words(wait.least_minutes, wait.most_minutes);
                format!("wait {stretch}{}", place.unwrap_or_default())
            }
            Self::Oven(setting) => format!("oven {}", setting_words(setting)),
            Self::OvenOr(setting) => format!("or oven {}", setting_words(setting)),
            Self::OwnOven(setting) => format!("two ovens: {}", setting_words(setting)),
            Self::Cold(minutes) => format!("cold +{}", minutes_words(*minutes)),
            Self::Frozen(minutes) => format!("frozen +{}", minutes_words(*minutes)),
            Self::Shelf(share) => format!("shelf {}", figure_words(share)),
            Self::Hob(hob) => {
                let watch = if hob.watch { " watch" } else { "" };
                format!("hob {}{watch}", minutes_words(hob.minutes))
            }
            Self::Touch(touch) => touch_words(touch),
            Self::Core(core) => {
                let reheat = if core.reheat { " reheat" } else { "" };
                format!("core {}{reheat}", degrees_words(core.heat))
            }
            Self::Check(check) => {
                format!("check {} x{}", minutes_words(check.every_minutes), check.most)
            }
            Self::Rest(rest) => {
                format!("rest {}", stretch_words(rest.least_minutes, rest.most_minutes))
            }
            Self::Chill(chill) => {
                let within = minutes_words(chill.within_minutes);
                format!("chill {} {within}", degrees_words(chill.below))
            }
            Self::Stop(stop) => stop_words(stop),
            Self::Box(litres) => format!("box {} l", figure_words(litres)),
            Self::Tool(tool) => format!("{} {}", tool_word(tool.how), tool.name),
            Self::Mark(mark) => mark.words().to_owned(),
            Self::BeforeServing(minutes) => format!("{} before serving", minutes_words(*minutes)),
            Self::Serve(serve) => {
                let hot = if serve.hot { " hot" } else { "" };
                format!("serve{hot} within {}", minutes_words(serve.minutes))
            }
            Self::After(step) if step.part.is_empty() => format!("after {}", step.number),
            Self::After(step) => format!("after {} {}", step.part, step.number),
            Self::KindOfFood(kind) => format!("kind {kind}"),
        }
    }
}

fn stretch_words(least_minutes: u32, most_minutes: Option<u32>) -> String {
    let least = minutes_words(least_minutes);
    most_minutes.map_or(least.clone(), |most| format!("{least} to {}", minutes_words(most)))
}

fn setting_words(setting: &Setting) -> String {
    let stage = |it: &Stage| format!("{} {}", degrees_words(it.heat), minutes_words(it.minutes));
    setting.stages.iter().map(stage).collect::<Vec<_>>().join(" then ")
}

fn touch_words(touch: &Touch) -> String {
    let at = minutes_words(touch.at_minutes);
    match touch.hands_minutes {
        0 => format!("at {at}: {}", touch.what),
        hands => format!("at {at}: {}, {}", touch.what, minutes_words(hands)),
    }
}

fn stop_words(stop: &Stop) -> String {
    let mut words = format!("stop {} {}", stop.place.word(), days_words(stop.most_minutes));
    match (stop.by, &stop.because) {
        (Some(by), None) => words += &format!(" {}", by_word(by)),
        (Some(by), Some(because)) => words += &format!(" {}: {because}", by_word(by)),
        (None, Some(because)) => words += &format!(": {because}"),
        (None, None) => {}
    }
    match stop.from_freezer {
        Some(FromFreezer::Thaw { minutes }) => {
            words += &format!(", thaw {}", minutes_words(minutes));
        }
        Some(FromFreezer::UseFrozen) => words += ", use frozen",
        None => {}
    }
    words
}

const fn by_word(by: By) -> &'static str {
    match by {
        By::Safety => "safety",
        By::Quality => "quality",
    }
}

const fn tool_word(how: ToolUse) -> &'static str {
    match how {
        ToolUse::Use => "use",
        ToolUse::Keep => "keep",
        ToolUse::Wash => "wash",
    }
}
