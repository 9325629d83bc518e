//! What has to be done, with what, and within which limits: all in whole minutes from one instant.
//!
//! A plan puts every job of a problem on a minute. Minutes are elapsed time, so a change of clocks
//! is only a window that is an hour shorter or longer.

use jiff::Timestamp;
use jiff::civil::Date;

use crate::domain::card::{Place, StepAt};
use crate::domain::dish::DishId;
use crate::domain::heat::Degrees;
pub use crate::domain::home::Prefer;
use crate::domain::limit::Clock;
use crate::domain::menu::Letter;
use crate::domain::moment::Zone;

/// Shelves are counted in these, so that halves, thirds and fifths are whole.
pub const SHELF: u32 = 60;

/// The whole errand of one table or class.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Minute 0.
    pub from: Timestamp,
    pub zone: Zone,
    /// Nothing that is not done yet may begin before this minute.
    pub now_minute: i32,
    /// The minute at which each civil day begins, ascending; the first is not after minute 0.
    pub midnights: Vec<i32>,
    /// When somebody cooks, ascending and apart. The last is the serving day's.
    pub windows: Vec<Window>,
    pub dishes: Vec<PlannedDish>,
    pub jobs: Vec<Job>,
    /// Between a job and the next one, or the table. No circle.
    pub gaps: Vec<Gap>,
    pub keeps: Vec<KeepLimit>,
    pub spans: Vec<Span>,
    pub rooms: Vec<RoomClock>,
    pub orders: Vec<Order>,
    /// A machine that stays dirty from one job to another of the same dish.
    pub kept_machines: Vec<KeptMachine>,
    pub ovens: Vec<Oven>,
    pub rings: u32,
    pub hands: u32,
    pub machines: Vec<Machine>,
    pub fridge_centilitres: u32,
    pub freezer_centilitres: u32,
    /// Settings this near stand in one oven, in tenths of a degree Celsius. Not transitive.
    pub tolerance_tenths: i32,
    pub prefer: Prefer,
    /// Answers of an author that are planned only when somebody takes them.
    pub offers: Vec<Offer>,
}

/// One cook day: work begins and ends inside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Window {
    pub date: Date,
    pub from_minute: i32,
    pub to_minute: i32,
    /// The most minutes of hands on this day, all cooks together.
    pub hands_minutes: u32,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedDish {
    pub id: DishId,
    pub letter: Letter,
    pub title: String,
    pub is_base: bool,
    /// When it is eaten; for a base, when the first dish with it is.
    pub table_minute: i32,
}

/// One step of one dish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Place in [`Problem::dishes`].
    pub dish: usize,
    pub at: StepAt,
    pub part: String,
    pub number: u32,
    /// Line of the card.
    pub line: usize,
    pub words: String,
    /// At least one; the author's first setting stands first.
    pub ways: Vec<Way>,
    /// At least one: how it may wait for what comes next.
    pub holds: Vec<Hold>,
    /// The windows it may stand in, ascending; never empty.
    pub windows: Vec<usize>,
    /// It may not start before.
    pub start_from_minute: i32,
    /// The minutes between which it must end, both allowed.
    pub end_from_minute: i32,
    pub end_by_minute: i32,
    /// Put there by a person: it starts at this minute.
    pub pinned_minute: Option<i32>,
    /// Finished already; it is where it was, whatever the windows say.
    pub done: Option<Done>,
    pub is_raw_meat: bool,
    /// The card gave no minutes: ours.
    pub is_estimate: bool,
}

/// What is over, with its true time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Done {
    pub start_minute: i32,
    pub end_minute: i32,
    /// Where it went, as a place in [`Job::holds`]; none: still open.
    pub hold: Option<usize>,
}

/// How a job is done: one tested setting, or one answer of the author.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    pub kind: WayKind,
    pub minutes: u32,
    /// A pair of hands is needed in these minutes.
    pub hands: Vec<Stretch>,
    /// Rings in use.
    pub ring: Option<Stretch>,
    pub oven: Option<OvenUse>,
    pub machines: Vec<MachineUse>,
    /// How cold the food may be that comes in.
    pub from: StartFrom,
    /// Minutes of it out of the cold and off the heat.
    pub out_minutes: u32,
    /// Minutes that the author did not give, in words; empty when all are the author's.
    pub estimate: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WayKind {
    /// The author's first setting.
    Card,
    /// Another tested setting: the place among `or oven`, from 0.
    Other(usize),
    /// The setting for an oven that nothing else needs.
    OwnOven,
    /// The author's answer where there is no oven room.
    NoOvenRoom,
}

/// A way allows what comes from its own or a warmer place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StartFrom {
    Warm,
    Fridge,
    Frozen,
}

/// Minutes from the start of the job; the end is not in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stretch {
    pub from_minute: u32,
    pub to_minute: u32,
    /// How many at once: pairs of hands, rings.
    pub count: u32,
}

/// Stages follow each other from `from_minute` of the job on, without a gap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OvenUse {
    pub from_minute: u32,
    pub stages: Vec<HeatStage>,
    /// Room in sixtieths of a shelf.
    pub shelf_sixtieths: u32,
    /// Nothing else stands in that oven meanwhile.
    pub is_alone: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct HeatStage {
    pub heat: Degrees,
    pub tenths_celsius: i32,
    pub minutes: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct MachineUse {
    /// Place in [`Problem::machines`].
    pub machine: usize,
    /// With the washing, which keeps it from others and needs no hands of its own.
    pub stretch: Stretch,
}

/// One way to wait between a job and the next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hold {
    /// None: it goes on, on the same day, and is not put away.
    pub place: Option<Place>,
    /// From the end of the job to each next start.
    pub least_minutes: u32,
    pub most_minutes: u32,
    /// Between the last frozen minute and the first next start. Only for the freezer.
    pub thaw_minutes: Option<u32>,
    pub is_used_frozen: bool,
    pub centilitres: u32,
    /// Why so long and no longer: a finished sentence.
    pub because: String,
}

impl Hold {
    /// The food is neither in the cold nor put away.
    pub fn is_out(&self) -> bool {
        !matches!(self.place, Some(Place::Fridge | Place::Freezer))
    }

    pub fn start_from(&self) -> StartFrom {
        match self.place {
            Some(Place::Freezer) if self.is_used_frozen => StartFrom::Frozen,
            Some(Place::Fridge | Place::Freezer) => StartFrom::Fridge,
            _ => StartFrom::Warm,
        }
    }
}

/// From the end of one job to the start of the next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gap {
    pub before: usize,
    pub next: Next,
    /// Closer than the hold says: `straight on` is 0, `serve within` its minutes.
    pub most_minutes: Option<u32>,
    /// Longer than the hold says.
    pub least_minutes: u32,
    /// The coldness of what waits decides how the next job starts.
    pub is_main: bool,
    pub because: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Next {
    Job(usize),
    /// It is eaten at this minute.
    Table(i32),
}

/// How old a food may be when it is eaten.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeepLimit {
    /// The clock starts at the end of this job.
    pub from: usize,
    /// Counts only where this job waits in this way: a job and a place in its holds.
    pub held: Option<(usize, usize)>,
    pub clock: Clock,
    pub until_minute: i32,
    /// Jobs after `from` whose freezing stops this clock; empty when frozen time counts.
    pub frozen: Vec<usize>,
    pub is_safety: bool,
    pub because: String,
}

/// Two ends that must be near: cooling in time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    pub from_end_of: usize,
    pub to_end_of: usize,
    pub most_minutes: u32,
    pub because: String,
}

/// Minutes out of the cold and off the heat along one way to the table, all together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomClock {
    /// Their `out_minutes` count.
    pub jobs: Vec<usize>,
    /// These count where the hold is out of the cold.
    pub gaps: Vec<usize>,
    pub most_minutes: u32,
    pub because: String,
}

/// The end of one job comes before the start of another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    pub before: usize,
    pub after: usize,
    /// Holds only when both stand on one day.
    pub only_on_one_day: bool,
    pub because: String,
}

/// From the start of `from` to the end of `to` one machine is in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct KeptMachine {
    pub machine: usize,
    pub from: usize,
    pub to: usize,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Oven {
    pub name: String,
    pub shelves: u32,
    /// Before the first job of a window, and between two jobs of different heat.
    pub preheat_minutes: u32,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Machine {
    pub name: String,
    pub count: u32,
}

/// An answer of an author that changes a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    pub job: usize,
    pub way: Way,
    /// The author's words.
    pub words: String,
}

/// What holds a plan together, and what a breach or a refusal names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Limit {
    /// Working hours of a day, by place in [`Problem::windows`].
    Window(usize),
    /// Free minutes of a day.
    DayHands(usize),
    /// Pairs of hands at one minute.
    Hands,
    Rings,
    /// Shelves of an oven.
    Shelves(usize),
    /// One setting at a minute, and the minutes to change it.
    Setting(usize),
    Machine(usize),
    Cold(Place),
    /// The waiting of a job, by its place in [`Job::holds`].
    Hold(usize, usize),
    /// By place in the list of that name.
    Gap(usize),
    Keep(usize),
    Span(usize),
    Room(usize),
    Order(usize),
    /// When a job may start or must end.
    Time(usize),
    /// Way, hold, oven or done time of a job.
    Choice(usize),
}

impl Job {
    pub fn longest_way(&self) -> u32 {
        self.ways.iter().map(|way| way.minutes).max().unwrap_or(0)
    }
}

impl Way {
    pub fn hands_minutes(&self) -> u32 {
        self.hands.iter().map(|it| (it.to_minute - it.from_minute) * it.count).sum()
    }
}

impl OvenUse {
    pub fn minutes(&self) -> u32 {
        self.stages.iter().map(|it| it.minutes).sum()
    }
}

impl Problem {
    /// The place of the serving day in `windows`.
    pub fn serving(&self) -> usize {
        self.windows.len().saturating_sub(1)
    }

    /// The civil day of a minute: its place in `midnights`; days before all of them are 0.
    pub fn day(&self, minute: i32) -> usize {
        self.midnights.partition_point(|it| *it <= minute).saturating_sub(1)
    }

    /// The gaps that begin at a job.
    pub fn gaps_after(&self, job: usize) -> impl Iterator<Item = (usize, &Gap)> {
        self.gaps.iter().enumerate().filter(move |(_, gap)| gap.before == job)
    }

    /// The gaps that end at a job.
    pub fn gaps_before(&self, job: usize) -> impl Iterator<Item = (usize, &Gap)> {
        self.gaps.iter().enumerate().filter(move |(_, gap)| gap.next == Next::Job(job))
    }

    pub fn instant(&self, minute: i32) -> Timestamp {
        let span = jiff::SignedDuration::from_mins(i64::from(minute));
        self.from.saturating_add(span).unwrap_or(Timestamp::MAX)
    }

    /// Whole minutes from minute 0, rounded down.
    pub fn minute(&self, at: Timestamp) -> i32 {
        let minutes = at.duration_since(self.from).as_secs().div_euclid(60);
        i32::try_from(minutes).unwrap_or(if minutes < 0 { i32::MIN / 4 } else { i32::MAX / 4 })
    }
}
