//! One numbered sentence of work and everything its notes say.

use std::collections::BTreeSet;

use num_rational::BigRational;

use crate::domain::heat::Degrees;
use crate::domain::quantity::ScaleFactor;
use crate::domain::reading::IngredientLine;

/// A step as read. Minutes are whole; absent means the author did not say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Step {
    /// Line of the card, counted from 1.
    pub line: usize,
    pub number: u32,
    /// The author's words, without the notes.
    pub text: String,
    pub goes_in: Vec<GoesIn>,
    pub hands: Option<Hands>,
    pub wait: Option<Wait>,
    /// The tested setting.
    pub oven: Option<Setting>,
    /// Other tested settings (`or oven`), in the author's order.
    pub oven_or: Vec<Setting>,
    /// The setting for an oven that nothing else needs (`two ovens`).
    pub own_oven: Option<Setting>,
    /// Longer from the fridge, by minutes; `Some(0)` says it was tested cold.
    pub cold_extra_minutes: Option<u32>,
    pub frozen_extra_minutes: Option<u32>,
    /// Share of one oven shelf, over 0 up to 1; none: from the vessel.
    pub shelf: Option<BigRational>,
    pub hob: Option<Hob>,
    pub touches: Vec<Touch>,
    pub core: Option<Core>,
    pub check: Option<Check>,
    pub rest: Option<Rest>,
    pub chill: Option<Chill>,
    pub stops: Vec<Stop>,
    /// Room the food takes while it waits, in litres.
    pub box_litres: Option<BigRational>,
    pub tools: Vec<Tool>,
    pub marks: BTreeSet<Mark>,
    pub before_serving_minutes: Option<u32>,
    pub serve: Option<ServeWithin>,
    /// `after peach layer 2`.
    pub after: Vec<StepRef>,
    /// `kind cooked vegetables`: the author's word for which rule row counts.
    pub kind_of_food: Option<String>,
    /// Notes that were not understood, without their brackets; never dropped.
    pub kept: Vec<String>,
}

/// A `+` line: a food, or a part or base by its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GoesIn {
    pub line: usize,
    pub what: IngredientLine,
    /// The part of this dish, or the base, that the name stands for; none for a food.
    pub source: Option<Source>,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// A part of the same dish, by name as its heading writes it.
    Part(String),
    /// A base of the school, by title as the card writes it.
    Base(String),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Hands {
    pub minutes: u32,
    /// False when the author wrote `same`: it takes as long for any number of guests.
    pub scales: bool,
}

impl Hands {
    /// Hands do not grow as fast as amounts: 0.4 + 0.6 f, rounded up once. A first estimate of ours.
    pub fn minutes_for(self, factor: &ScaleFactor) -> u32 {
        if !self.scales {
            return self.minutes;
        }
        let tenths = |figure: u32| BigRational::new(figure.into(), 10.into());
        let share = tenths(4) + tenths(6) * factor.as_fraction();
        let minutes = (BigRational::from_integer(self.minutes.into()) * share).ceil().to_integer();
        u32::try_from(minutes).unwrap_or(self.minutes)
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Wait {
    pub least_minutes: u32,
    pub most_minutes: Option<u32>,
    pub place: Option<Place>,
}

/// Where food may stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    Fridge,
    Freezer,
    Cool,
    Counter,
}

impl Place {
    pub const ALL: [Self; 4] = [Self::Fridge, Self::Freezer, Self::Cool, Self::Counter];

    /// The word in a note, and on pages.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fridge => "fridge",
            Self::Freezer => "freezer",
            Self::Cool => "cool",
            Self::Counter => "counter",
        }
    }
}

/// One or more stages that follow each other without a gap; the total is their sum.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Setting {
    pub stages: Vec<Stage>,
}

impl Setting {
    pub fn minutes(&self) -> u32 {
        self.stages.iter().map(|stage| stage.minutes).sum()
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Stage {
    pub heat: Degrees,
    pub minutes: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Hob {
    pub minutes: u32,
    /// Not to be left: the minutes are hands as well.
    pub watch: bool,
}

/// Stir, turn or add part-way.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Touch {
    pub at_minutes: u32,
    pub what: String,
    pub hands_minutes: u32,
}

/// The end point in the middle of the thickest place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Core {
    pub heat: Degrees,
    pub reheat: bool,
}

/// Measure again every so many minutes, at most so often.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Check {
    pub every_minutes: u32,
    pub most: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rest {
    pub least_minutes: u32,
    pub most_minutes: Option<u32>,
}

/// Must be below so much by then, counted from 57 C (135 F).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Chill {
    pub below: Degrees,
    pub within_minutes: u32,
}

/// A moment at which work may halt, with the author's limit.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Stop {
    pub place: Place,
    /// Elapsed, from the end of the step.
    pub most_minutes: u32,
    pub by: Option<By>,
    pub because: Option<String>,
    pub from_freezer: Option<FromFreezer>,
}

/// Two answers that are never mixed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum By {
    Safety,
    Quality,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FromFreezer {
    Thaw { minutes: u32 },
    UseFrozen,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tool {
    pub name: String,
    pub how: ToolUse,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ToolUse {
    Use,
    /// Stays dirty for the next step of this dish.
    Keep,
    Wash,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mark {
    DayOf,
    Last,
    StraightOn,
    Meanwhile,
    RawMeat,
    UnmouldFrozen,
}

impl Mark {
    pub const ALL: [Self; 6] = [
        Self::DayOf,
        Self::Last,
        Self::StraightOn,
        Self::Meanwhile,
        Self::RawMeat,
        Self::UnmouldFrozen,
    ];

    /// The words of the note.
    pub const fn words(self) -> &'static str {
        match self {
            Self::DayOf => "day of",
            Self::Last => "last",
            Self::StraightOn => "straight on",
            Self::Meanwhile => "meanwhile",
            Self::RawMeat => "raw meat",
            Self::UnmouldFrozen => "unmould frozen",
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ServeWithin {
    pub minutes: u32,
    pub hot: bool,
}

/// The step of a part that bears a number.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct StepRef {
    pub part: String,
    pub number: u32,
}
