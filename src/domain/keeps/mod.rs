//! Where work may stop, how long each thing keeps from there, and how early it may be made.
//!
//! Safety and quality are two answers; the earlier end holds. A card's figure and a school's row are
//! hours that pass; a rule-book row counts calendar days with the day of making as day 1.

mod ahead;
mod how_much;
mod inside;
mod remarks;
mod room;
mod stop;

use jiff::Timestamp;
use num_rational::BigRational;

use crate::domain::card::{Card, Place, Source, StepAt};
use crate::domain::dish::DishId;
use crate::domain::limit::{Age, AgeError, Basis, Clock, Status};
use crate::domain::menu::{Laid, LaidDish, Letter, Sitting};
use crate::domain::moment::Zone;

pub use crate::domain::trace::{Moment, Trace, TraceLine};
pub use ahead::{Ahead, AheadDay, AheadJob, Prefer, TakeOut, Thaw, ahead};
pub use inside::{Walk, heats};
pub use remarks::{limit_remarks, looser_words};
pub use room::{DishRoom, room_clocks};

/// What a menu may be made ahead of, dish by dish, the bases last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DishKeeps {
    pub dish: DishId,
    pub letter: Letter,
    pub title: String,
    pub is_base: bool,
    pub stops: Vec<StopKeeps>,
    /// Raw foods with a clock from the day of buying.
    pub bought: Vec<Bought>,
    /// Bases that go in, by title: their own limits hold in here, too.
    pub bases: Vec<String>,
}

/// Whose figure it is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Whose {
    /// The author of the card.
    Card,
    /// A tighter row of the school.
    School,
    /// A row of the shipped rules, by its key.
    Rule(String),
}

impl Whose {
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Card => "card",
            Self::School => "school",
            Self::Rule(_) => "rule",
        }
    }
}

/// One figure that holds at a stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StopLimit {
    pub by: Basis,
    pub clock: Clock,
    pub whose: Whose,
    /// The kind of food, or the author's reason: `fresh herbs under oil`.
    pub because: String,
    /// Where the figure was read; empty for the author's own.
    pub source: String,
    pub status: Option<Status>,
    /// Number of the step at whose end its clock starts.
    pub from_step: u32,
    /// False when hours in the freezer count as well: an author's figure for the freezer itself.
    pub leaves_out_frozen: bool,
}

/// One answer, for safety or for quality.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    pub earliest: Moment,
    /// Place of the figure that binds, in `limits`.
    pub limit: usize,
    /// A finished sentence that names the figure, whose it is and which clock.
    pub reason: String,
}

/// A moment at which work may halt, and all that follows from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StopKeeps {
    pub at: StepAt,
    pub part: String,
    pub step: u32,
    pub line: usize,
    /// What stands in the box: the part, or the dish.
    pub what: String,
    pub place: Place,
    /// Minutes of thawing before the next step.
    pub thaw_minutes: Option<u32>,
    pub is_used_frozen: bool,
    pub is_raw: bool,
    /// As the card says, for its own yield.
    pub box_litres: Option<BigRational>,
    pub limits: Vec<StopLimit>,
    pub safety: Option<Answer>,
    pub quality: Option<Answer>,
    /// The earliest moment its clock may start for this serving hour.
    pub earliest: Moment,
    /// Why not earlier: the reason of the answer that binds.
    pub reason: String,
    /// Number of the step at whose end the clock starts.
    pub from_step: u32,
    /// Why it cannot be used for this serving hour at all.
    pub impossible: Vec<String>,
    /// Least and most minutes of a wait in the fridge that the same step asks for (decision 9).
    pub wait: Option<(u32, Option<u32>)>,
    pub trace: Trace,
}

/// A raw food with a clock from the day it is bought: that day is day 1.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bought {
    pub food: String,
    pub days: u32,
    /// First day it may be bought for cooking on the serving day.
    pub not_before: Moment,
    pub last_day: jiff::civil::Date,
    /// `Chicken thighs: bought at most 1 day before it is cooked; last day Saturday 26 June`.
    pub sentence: String,
    pub source: String,
}

/// Until when something keeps that was made at a known moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeepUntil {
    pub until: Moment,
    /// Whose clock ended first; in a base when it was older.
    pub limit: StopLimit,
    pub reason: String,
    pub trace: Trace,
}

/// Something made already, or planned: what the age of a mixture is taken from.
#[derive(Clone, Copy, Debug)]
pub struct Inner<'a> {
    pub title: &'a str,
    pub stop: &'a StopKeeps,
    pub age: Age,
}

/// For each dish and base the stops of its card, against the serving hour of this table.
pub fn keeps(laid: &Laid, sitting: &Sitting) -> Vec<DishKeeps> {
    let dishes = laid.dishes.iter().filter(|dish| !sitting.without.contains(&dish.id));
    dishes.map(|dish| dish_keeps(laid, sitting, dish)).collect()
}

fn dish_keeps(laid: &Laid, sitting: &Sitting, dish: &LaidDish) -> DishKeeps {
    let walk = Walk::of(&dish.card);
    let mut stops = Vec::new();
    for at in inside::all_steps(&dish.card) {
        for stop in &walk.step(at).stops {
            stops.push(stop::stop_keeps(laid, sitting, dish, &walk, at, stop));
        }
    }
    DishKeeps {
        dish: dish.id,
        letter: dish.letter,
        title: dish.title.clone(),
        is_base: dish.is_base,
        stops,
        bought: stop::bought(laid, sitting, &walk),
        bases: bases_of(&dish.card),
    }
}

/// Titles of the bases that a card names as going in.
pub fn bases_of(card: &Card) -> Vec<String> {
    let entries = card.steps().flat_map(|(_, step)| &step.goes_in);
    let mut titles: Vec<String> = entries
        .filter_map(|entry| match &entry.source {
            Some(Source::Base(title)) => Some(title.clone()),
            _ => None,
        })
        .collect();
    titles.sort();
    titles.dedup();
    titles
}

impl StopKeeps {
    /// The figure that binds for this serving hour: the one with the latest earliest moment.
    pub fn binding(&self) -> Option<&StopLimit> {
        let answers = [&self.safety, &self.quality];
        let last = answers.into_iter().flatten().max_by_key(|answer| answer.earliest)?;
        self.limits.get(last.limit)
    }

    /// Until when it keeps, with everything older that went into it: nothing resets a clock.
    ///
    /// An error says, in a finished sentence, why the food cannot be kept at all.
    pub fn keep_until(
        &self,
        age: Age,
        inner: &[Inner<'_>],
        zone: &Zone,
    ) -> Result<KeepUntil, String> {
        let mut lines = vec![TraceLine::at(
            Moment::of(age.made_at, zone),
            format!("The clock starts at the end of step {}.", self.from_step),
        )];
        let mut ends: Vec<(Timestamp, StopLimit, String)> = Vec::new();
        // What is used hard from the freezer never stands in the fridge.
        let counts = |limit: &&StopLimit| !(self.is_used_frozen && limit.leaves_out_frozen);
        for limit in self.limits.iter().filter(counts) {
            let end = limit.end(&age, zone).map_err(|error| error.to_string())?;
            lines.push(limit.trace_line(end, zone, None));
            ends.push((end, limit.clone(), String::new()));
        }
        for it in inner {
            let safety = it.stop.limits.iter().filter(|limit| limit.by == Basis::Safety);
            for limit in safety.filter(|limit| limit.leaves_out_frozen) {
                let end =
                    limit.end(&it.age, zone).map_err(|error| format!("{}: {error}", it.title))?;
                lines.push(limit.trace_line(end, zone, Some(it.title)));
                ends.push((end, limit.clone(), format!("{} inside: ", it.title)));
            }
        }
        let (end, limit, inside) = ends
            .into_iter()
            .min_by_key(|(end, ..)| *end)
            .ok_or_else(|| "No figure limits it".to_owned())?;
        let until = Moment::of(end, zone);
        let reason = format!("{inside}{}", limit.sentence());
        let answer = TraceLine::at(until, format!("Keep until {until}. {reason}"));
        Ok(KeepUntil { until, limit, reason, trace: Trace { lines, answer } })
    }
}

impl StopLimit {
    /// When it ends for a food of this age.
    pub fn end(&self, age: &Age, zone: &Zone) -> Result<Timestamp, AgeError> {
        if self.leaves_out_frozen {
            return self.clock.end(age, zone);
        }
        self.clock.end(&Age::fresh(age.made_at), zone)
    }

    /// `Card: 2 days, for safety (fresh herbs under oil); hours that pass`.
    pub fn sentence(&self) -> String {
        let whose = match &self.whose {
            Whose::Card => "The card".to_owned(),
            Whose::School => "The school".to_owned(),
            Whose::Rule(_) => format!("The rule ({})", self.source),
        };
        let clock = match self.clock {
            Clock::Elapsed(_) => "counted in hours that pass",
            Clock::Days(_) => "counted in calendar days",
        };
        let because =
            if self.because.is_empty() { String::new() } else { format!(", {}", self.because) };
        format!("{whose} gives {}, for {}{because}; {clock}.", self.clock.words(), self.by.word())
    }

    /// The last day of a calendar count, or the hour of an elapsed one, as a line of the sum.
    fn trace_line(&self, end: Timestamp, zone: &Zone, inside: Option<&str>) -> TraceLine {
        let (figure, ends) = match self.clock {
            Clock::Elapsed(minutes) => (
                format!("+ {}", crate::domain::limit::span_words(minutes)),
                format!("Ends {}.", Moment::of(end, zone)),
            ),
            Clock::Days(days) => {
                // The end is the midnight after the last day.
                let last = end.saturating_sub(jiff::SignedDuration::from_secs(1)).unwrap_or(end);
                let last = zone.local(last).strftime("%A %-d %B").to_string();
                (format!("day {days}"), format!("Last day {last}."))
            }
        };
        let inside = inside.map(|title| format!("{title} inside: ")).unwrap_or_default();
        TraceLine::new(figure, self.by.word(), format!("{inside}{} {ends}", self.sentence()))
    }
}
