//! Notes found in the sentences of a card, offered to the author and never set by themselves.
//!
//! An offer is made only where the words carry the figure. [`offers`] gives them by line,
//! [`keep_all`] writes them into the text.

mod doing;
mod found;

use std::ops::Range;

use self::doing::Doing;
use self::found::{Finder, Heat, Time, sentences};
use super::card::note::{Note, NoteKind};
use super::card::words::{MINUTES_IN_DAY, MINUTES_IN_HOUR};
use super::card::{
    Check, Core, Hands, Hob, LineKind, Place, Reading, Rest, Setting, Stage, Step, Stop, Touch,
    Wait,
};
use super::heat::Degrees;

/// One note that the author may keep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// Line of the card, counted from 1; the note is written at its end.
    pub line: usize,
    pub note: Note,
    /// Bytes of the whole text that say so.
    pub bytes: Range<usize>,
    /// Those bytes, as the author wrote them.
    pub words: String,
    /// What was taken for granted, or is still to be said; empty when nothing is.
    pub why: String,
}

/// An answer for a kitchen that lacks something: its figures are of another dish.
fn is_another_way(head: &str) -> bool {
    let key = head.split(':').next().unwrap_or_default().trim().to_lowercase();
    matches!(key.as_str(), "no freezer" | "no oven room")
}

/// Everything the sentences of `text` say that no note of their step says yet, by line.
pub fn offers(text: &str, reading: &Reading) -> Vec<Offer> {
    let mut found: Vec<Offer> = Vec::new();
    // `note: keeps 3 days in the fridge`: said of the whole dish, so of its end.
    let mut at_head: Vec<Offer> = Vec::new();
    let mut oven: Option<Heat> = None;
    let steps: Vec<&Step> = reading.card.steps().map(|(_, step)| step).collect();
    let mut start = 0;
    let mut step = None;
    for (index, raw) in text.split_inclusive('\n').enumerate() {
        let kind = reading.lines.get(index).copied().unwrap_or(LineKind::Blank);
        if kind == LineKind::Step {
            step = steps.iter().find(|step| step.line == index + 1).copied();
        }
        if let Some(step) = step
            && matches!(kind, LineKind::Step | LineKind::Words)
        {
            let mut line = Line { step, number: index + 1, start, raw, oven, found: Vec::new() };
            line.read();
            oven = line.oven;
            found.append(&mut line.found);
        }
        if let Some(last) = steps.last()
            && kind == LineKind::Head
            && !is_another_way(raw)
        {
            let number = last.line;
            let mut line = Line { step: last, number, start, raw, oven: None, found: Vec::new() };
            line.read();
            let why = "Said at the head; written at the last step.";
            let stops = line.found.into_iter().filter(|offer| offer.note.kind() == NoteKind::Stop);
            at_head.extend(stops.map(|offer| {
                let why = format!("{why} {}", offer.why).trim_end().to_owned();
                Offer { why, ..offer }
            }));
        }
        start += raw.len();
    }
    let is_new = |head: &Offer| {
        let said = steps.iter().flat_map(|step| &step.stops).cloned().map(Note::Stop);
        let offered = found.iter().map(|offer| offer.note.clone());
        !said.chain(offered).any(|note| same_place(&note, &head.note))
    };
    at_head.retain(is_new);
    found.append(&mut at_head);
    found.sort_by_key(|offer| offer.line);
    found
}

fn same_place(one: &Note, other: &Note) -> bool {
    matches!((one, other), (Note::Stop(one), Note::Stop(other)) if one.place == other.place)
}

/// The text with every one of these notes at the end of its line.
pub fn keep_all(text: &str, offers: &[Offer]) -> String {
    let mut kept = String::with_capacity(text.len() + 32 * offers.len());
    for (index, raw) in text.split_inclusive('\n').enumerate() {
        let words = raw.trim_end();
        kept.push_str(words);
        for offer in offers.iter().filter(|offer| offer.line == index + 1) {
            kept.push_str(&format!(" [{}]", offer.note.words()));
        }
        kept.push_str(&raw[words.len()..]);
    }
    kept
}

/// One line of a step while it is searched.
struct Line<'a> {
    step: &'a Step,
    number: usize,
    start: usize,
    raw: &'a str,
    /// The heat that the oven was last said to be set to.
    oven: Option<Heat>,
    found: Vec<Offer>,
}

impl Line<'_> {
    fn read(&mut self) {
        for sentence in sentences(self.raw) {
            let finder = Finder::of(&sentence);
            self.oven_and_core(&finder);
            for time in &finder.times {
                self.time(&finder, time);
            }
            self.half_way(&finder);
            self.warm_again(&finder);
        }
    }

    /// Adds an offer, unless the step or an earlier offer says the same thing.
    fn offer(&mut self, note: Note, at: Range<usize>, why: &str) {
        let of_kind = |kind: NoteKind, other: &Note| match (&note, other) {
            (Note::Stop(one), Note::Stop(other)) => one.place == other.place,
            // Half of 35 minutes is 18 to one person and 17 to another.
            (Note::Touch(one), Note::Touch(other)) => {
                one.at_minutes.abs_diff(other.at_minutes) <= 1
            }
            (_, other) => other.kind() == kind,
        };
        let said = self.step.notes();
        let here = self.found.iter().map(|offer| &offer.note);
        if said.iter().chain(here).any(|other| of_kind(note.kind(), other)) {
            return;
        }
        if Note::read(&note.words()).is_ok_and(|read| read.note == note) {
            let words = self.raw[at.clone()].to_owned();
            let bytes = self.start + at.start..self.start + at.end;
            self.found.push(Offer { line: self.number, note, bytes, words, why: why.to_owned() });
        }
    }

    /// `heat the oven to 200` is remembered; `until the middle has 75C` is an end point.
    fn oven_and_core(&mut self, finder: &Finder<'_>) {
        for heat in &finder.heats {
            if finder.sentence.says(&MIDDLE) && !finder.is_oven_heat(heat) {
                let core = Core { heat: heat.degrees, reheat: finder.sentence.says(&AGAIN) };
                let at = finder.sentence.around(&MIDDLE, &heat.bytes);
                let why = if heat.is_guessed {
                    format!("No scale is written; read as {}.", shown(heat.degrees))
                } else {
                    String::new()
                };
                self.offer(Note::Core(core), at, &why);
            } else if finder.is_oven_heat(heat) || finder.sentence.says(&["preheat"]) {
                self.oven = Some(heat.clone())
                    .filter(|it| !it.is_fan)
                    .or_else(|| self.oven.clone().or_else(|| Some(heat.clone())));
            }
        }
    }

    fn time(&mut self, finder: &Finder<'_>, time: &Time) {
        let is_cold = finder.sentence.says(&FROM_FRIDGE) || finder.sentence.says(&FROM_FREEZER);
        if (time.is_extra || time.is_given) && is_cold {
            return self.extra(finder, time);
        }
        if time.is_before_serving && finder.sentence.says(&OUT) {
            return self.before_serving(finder, time);
        }
        if time.is_every {
            return self.every(finder, time);
        }
        if time.is_after {
            return self.after(finder, time);
        }
        let Some((doing, at)) = finder.doing(time) else { return };
        let least = time.least_minutes;
        let place = finder.sentence.place_near(&time.bytes);
        match doing {
            Doing::Bake => self.bake(finder, time, &at),
            Doing::Hob if !is_days(time) => {
                self.offer(Note::Hob(Hob { minutes: least, watch: false }), at, "");
            }
            Doing::Rest if !is_days(time) => {
                let rest = Rest { least_minutes: least, most_minutes: time.most_minutes };
                self.offer(Note::Rest(rest), at, "");
            }
            Doing::Wait if !is_days(time) => self.wait(place, time, at),
            Doing::Cool(place) if time.is_most || is_days(time) => self.stop(place, time, at),
            Doing::Cool(place) => self.wait(Some(place), time, at),
            Doing::Keep | Doing::Hob | Doing::Rest | Doing::Wait => {
                if let Some(place) = place.filter(|_| least >= KEEP_MINUTES_MIN) {
                    self.stop(place, time, at);
                }
            }
            Doing::Work => {
                let hands = Hands { minutes: least, scales: true };
                self.offer(Note::Hands(hands), at, "");
            }
        }
    }

    /// `take it out of the fridge half an hour before serving`.
    fn before_serving(&mut self, finder: &Finder<'_>, time: &Time) {
        if time.least_minutes < MINUTES_IN_DAY {
            let at = finder.sentence.around(&OUT, &time.bytes);
            self.offer(Note::BeforeServing(time.least_minutes), at, "");
        }
    }

    /// `stirring every ten minutes`, while the step is on the hob or in the oven.
    fn every(&mut self, finder: &Finder<'_>, time: &Time) {
        const TOUCHES_MAX: u32 = 6;
        let (Some(total), Some((what, at))) = (self.heat_minutes(), finder.sentence.verb(&TOUCHES))
        else {
            return;
        };
        let every = time.least_minutes.max(1);
        if total.div_ceil(every) > TOUCHES_MAX + 1 {
            return;
        }
        let at = at.start.min(time.bytes.start)..at.end.max(time.bytes.end);
        let why = format!("Every {every} of {total} min. Say how long it takes.");
        for at_minutes in (1..).map(|count| count * every).take_while(|it| *it < total) {
            let touch = Touch { at_minutes, what: what.clone(), hands_minutes: 0 };
            self.offer(Note::Touch(touch), at.clone(), &why);
        }
    }

    fn bake(&mut self, finder: &Finder<'_>, time: &Time, at: &Range<usize>) {
        let own = finder.heats.iter().filter(|heat| !finder.is_core_heat(heat));
        let own: Vec<&Heat> = own.collect();
        let heat = own.iter().find(|heat| !heat.is_fan).or_else(|| own.first()).copied();
        let is_own = heat.is_some();
        let Some(heat) = heat.cloned().or_else(|| self.oven.clone()) else { return };
        let at = if is_own {
            at.start.min(heat.bytes.start)..at.end.max(heat.bytes.end)
        } else {
            at.clone()
        };
        let mut why = Vec::new();
        if !is_own {
            why.push(format!("The heat, {}, stands in an earlier sentence.", shown(heat.degrees)));
        }
        if heat.is_guessed {
            why.push(format!("No scale is written; read as {}.", shown(heat.degrees)));
        }
        if heat.is_fan {
            why.push("This is a setting for a fan.".to_owned());
        }
        if let Some(most) = time.most_minutes {
            why.push(format!("The shorter time; look again until {most} min."));
        }
        let stage = Stage { heat: heat.degrees, minutes: time.least_minutes };
        let setting = Setting { stages: vec![stage] };
        self.oven = Some(heat);
        self.offer(Note::Oven(setting), at.clone(), &why.join(" "));
        if let Some(most) = time.most_minutes
            && finder.sentence.says(&MIDDLE)
        {
            let checks = (most - time.least_minutes).div_ceil(5) + 1;
            let check = Check { every_minutes: 5, most: checks };
            self.offer(Note::Check(check), at, "Measured every 5 min up to the longer time.");
        }
    }

    fn wait(&mut self, place: Option<Place>, time: &Time, at: Range<usize>) {
        let wait =
            Wait { least_minutes: time.least_minutes, most_minutes: time.most_minutes, place };
        self.offer(Note::Wait(wait), at, "");
    }

    fn stop(&mut self, place: Place, time: &Time, at: Range<usize>) {
        let most_minutes = time.most_minutes.unwrap_or(time.least_minutes);
        let stop = Stop { place, most_minutes, by: None, because: None, from_freezer: None };
        let mut why = Vec::new();
        if time.is_month {
            why.push("A month is counted as 30 days.");
        }
        if place == Place::Freezer {
            why.push("Say its thaw, or that it is used frozen.");
        }
        self.offer(Note::Stop(stop), at, &why.join(" "));
    }

    /// `straight from the fridge give it 10 more`.
    fn extra(&mut self, finder: &Finder<'_>, time: &Time) {
        let minutes = time.least_minutes;
        if finder.sentence.says(&FROM_FREEZER) {
            let at = finder.sentence.around(&FROM_FREEZER, &time.bytes);
            self.offer(Note::Frozen(minutes), at, "");
        } else if finder.sentence.says(&FROM_FRIDGE) {
            let at = finder.sentence.around(&FROM_FRIDGE, &time.bytes);
            self.offer(Note::Cold(minutes), at, "");
        }
    }

    /// `after 20 minutes scatter the crumb`, `turn after 25 minutes`.
    fn after(&mut self, finder: &Finder<'_>, time: &Time) {
        let Some(total) = self.heat_minutes().filter(|total| time.least_minutes < *total) else {
            return;
        };
        let tail = finder.sentence.after(time.bytes.end);
        let Some((what, at)) = tail.or_else(|| finder.sentence.verb(&TOUCHES)) else { return };
        let at = at.start.min(time.bytes.start)..at.end.max(time.bytes.end);
        let touch = Touch { at_minutes: time.least_minutes, what, hands_minutes: 0 };
        self.offer(Note::Touch(touch), at, &format!("Of {total} min. Say how long it takes."));
    }

    /// `turning everything half-way`.
    fn half_way(&mut self, finder: &Finder<'_>) {
        let Some(half) = finder.sentence.find(&HALF_WAY) else { return };
        let (Some(total), Some((what, at))) = (self.heat_minutes(), finder.sentence.verb(&TOUCHES))
        else {
            return;
        };
        let at = at.start.min(half.start)..at.end.max(half.end);
        let touch = Touch { at_minutes: total / 2, what, hands_minutes: 0 };
        self.offer(Note::Touch(touch), at, &format!("Half of {total} min. Say how long it takes."));
    }

    /// `until it is 165F all through` without a word for the middle.
    fn warm_again(&mut self, finder: &Finder<'_>) {
        let Some(heat) = finder.heats.first() else { return };
        if finder.sentence.says(&AGAIN) && !finder.is_oven_heat(heat) {
            let at = finder.sentence.around(&AGAIN, &heat.bytes);
            self.offer(Note::Core(Core { heat: heat.degrees, reheat: true }), at, "");
        }
    }

    /// How long the step is in the oven or on the hob, by its notes or by what is offered here.
    fn heat_minutes(&self) -> Option<u32> {
        let of_note = |note: &Note| match note {
            Note::Oven(setting) => Some(setting.minutes()),
            Note::Hob(hob) => Some(hob.minutes),
            _ => None,
        };
        let said = self.step.notes();
        said.iter().find_map(of_note).or_else(|| self.found.iter().find_map(|it| of_note(&it.note)))
    }
}

fn shown(heat: Degrees) -> String {
    super::card::words::degrees_words(heat)
}

const MIDDLE: [&str; 9] = [
    "middle",
    "centre",
    "center",
    "core",
    "internal",
    "inside",
    "thickest",
    "thermometer",
    "probe",
];
const AGAIN: [&str; 5] = ["reheat", "warm through", "warmed through", "heat through", "bring back"];
const FROM_FRIDGE: [&str; 8] = [
    "from the fridge",
    "from cold",
    "fridge-cold",
    "fridge cold",
    "out of the fridge",
    "been in the fridge",
    "if it's cold",
    "from chilled",
];
const FROM_FREEZER: [&str; 3] = ["from frozen", "from the freezer", "still frozen"];
const HALF_WAY: [&str; 4] = ["half-way", "halfway", "half way", "half the time"];
/// What is done a while before the table is called.
const OUT: [&str; 8] = ["take", "bring", "pull", "get it", "out of", "dress", "toss", "put"];

/// A shorter time in the fridge or freezer is a wait, not a stop.
const KEEP_MINUTES_MIN: u32 = 2 * MINUTES_IN_HOUR;

/// From a day on, food is kept, not cooked.
fn is_days(time: &Time) -> bool {
    time.least_minutes > MINUTES_IN_DAY
}

const TOUCHES: [&str; 7] = ["turn", "stir", "baste", "shake", "toss", "flip", "scatter"];

#[cfg(test)]
mod tests;
