//! The prep-ahead sheet, a band a day, and the labels of its boxes.

use super::foot::Foot;
use super::step::place_words;
use super::text::{for_whom, span};
use crate::domain::keeps::{Ahead, AheadDay, AheadJob};
use crate::domain::menu::{Laid, Letter, Sitting};
use crate::domain::text::capital;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AheadSheet {
    pub foot: Foot,
    /// `26` and `Sat June`: the day of the table.
    pub day: (String, String),
    pub hour: String,
    pub who: String,
    /// Which clock all hours are of.
    pub zone: String,
    pub days: Vec<AheadBand>,
    /// What the limits or the freezer do not allow.
    pub refused: Vec<String>,
}

impl AheadSheet {
    pub fn has_no_job(&self) -> bool {
        self.days.iter().all(|day| day.jobs.is_empty())
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AheadBand {
    pub number: String,
    pub title: String,
    pub about: String,
    pub jobs: Vec<AheadRow>,
    pub thaw: Vec<(Letter, String)>,
    pub take_out: Vec<TakeOutRow>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AheadRow {
    pub letter: Letter,
    pub is_base: bool,
    pub what: String,
    /// Steps, machines, and from which hour the limits allow it.
    pub about: String,
    pub is_raw: bool,
    pub hands: String,
    pub number: u32,
    pub place: String,
    pub finish_by: String,
    pub keep_until: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakeOutRow {
    pub letter: Letter,
    pub is_base: bool,
    pub words: String,
}

pub fn ahead_sheet(laid: &Laid, sitting: &Sitting, ahead: &Ahead) -> AheadSheet {
    let serve = sitting.serve.local;
    AheadSheet {
        foot: Foot::of_menu(laid),
        day: (serve.strftime("%-d").to_string(), serve.strftime("%a %B").to_string()),
        hour: serve.strftime("%H:%M").to_string(),
        who: for_whom(sitting),
        zone: format!("All hours are those of {}.", sitting.serve.zone.name().replace('_', " ")),
        days: ahead.days.iter().map(|day| band(laid, day)).collect(),
        refused: ahead.refused.clone(),
    }
}

fn band(laid: &Laid, day: &AheadDay) -> AheadBand {
    let is_base = |letter: Letter| laid.dishes.iter().any(|it| it.is_base && it.letter == letter);
    let hands = match day.hands_minutes {
        0 if day.is_serving_day => "Take out what the day needs.".to_owned(),
        0 => "Nothing for the hands.".to_owned(),
        minutes => format!("{} of hands.", span(minutes)),
    };
    AheadBand {
        number: day.date.strftime("%-d").to_string(),
        title: day.date.strftime("%A").to_string(),
        about: hands,
        jobs: day.jobs.iter().map(|job| row(job, day)).collect(),
        thaw: day.thaw.iter().map(|it| (it.letter, it.sentence.clone())).collect(),
        take_out: day
            .take_out
            .iter()
            .map(|it| TakeOutRow {
                letter: it.letter,
                is_base: is_base(it.letter),
                words: format!("{}, box {}, {}", it.what, it.label, place_words(it.place)),
            })
            .collect(),
    }
}

fn row(job: &AheadJob, day: &AheadDay) -> AheadRow {
    let numbers: Vec<String> = job.steps.iter().map(|(number, _)| number.to_string()).collect();
    let steps = match numbers.as_slice() {
        [] => String::new(),
        [only] => format!("step {only}"),
        [first, .., last] => format!("steps {first} to {last}"),
    };
    let mut about = Vec::new();
    if !steps.is_empty() {
        about.push(steps);
    }
    about.extend(job.tools.iter().cloned());
    if job.not_before.local.date() == day.date {
        about.push(format!("not before {}", job.not_before.hour()));
    }
    let estimate = if job.is_estimate { ", our estimate" } else { "" };
    AheadRow {
        letter: job.letter,
        is_base: job.is_base,
        what: capital(&job.what),
        about: about.join("; "),
        is_raw: job.is_raw,
        hands: format!("{}{estimate}", span(job.hands_minutes)),
        number: job.label,
        place: match job.litres.as_str() {
            "" => place_words(job.place).to_owned(),
            litres => format!("{}, {}", place_words(job.place), litres.replace(' ', "\u{a0}")),
        },
        finish_by: job.latest.short(),
        keep_until: job.keep_until.short(),
    }
}

/// One label of a box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    pub letter: Letter,
    pub is_base: bool,
    pub name: String,
    pub is_raw: bool,
    pub keep_until: String,
    pub made: String,
    pub next_use: String,
    pub place: String,
    pub allergens: String,
    pub number: u32,
}

impl Label {
    /// More than the usual letters have room for.
    pub fn is_long(&self) -> bool {
        self.allergens.chars().count() > 66 || self.name.chars().count() > 26
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LabelSheet {
    pub who: String,
    /// The foot's words stand on each label, since it is cut off.
    pub mark: String,
    pub labels: Vec<Label>,
}

/// One label for each box of the plan; `allergens` says the words for a dish.
pub fn label_sheet(
    laid: &Laid,
    sitting: &Sitting,
    ahead: &Ahead,
    allergens: &dyn Fn(Letter) -> String,
) -> LabelSheet {
    let foot = Foot::of_menu(laid);
    let jobs = ahead.days.iter().flat_map(|day| &day.jobs);
    LabelSheet {
        who: sitting.name.clone(),
        mark: foot.check_word.unwrap_or_else(|| "Draft".to_owned()),
        labels: jobs.map(|job| label(job, allergens)).collect(),
    }
}

fn label(job: &AheadJob, allergens: &dyn Fn(Letter) -> String) -> Label {
    Label {
        letter: job.letter,
        is_base: job.is_base,
        name: capital(&job.what),
        is_raw: job.is_raw,
        keep_until: job.keep_until.short(),
        made: job.planned.day(),
        next_use: job.next_use.clone(),
        place: match job.litres.as_str() {
            "" => place_words(job.place).to_owned(),
            litres => format!("{}, {}", place_words(job.place), litres.replace(' ', "\u{a0}")),
        },
        allergens: that_fits(allergens(job.letter)),
        number: job.label,
    }
}

/// What a label has room for; what it contains always stands there, the rest may be on the sheet.
fn that_fits(words: String) -> String {
    const MOST: usize = 125;
    if words.chars().count() <= MOST {
        return words;
    }
    let contains = words.split("; ").next().unwrap_or_default();
    format!("{contains}; more on the allergen sheet, read it")
}
