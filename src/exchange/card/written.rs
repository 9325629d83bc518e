//! The structs of a written card. Fields that say nothing are left out.

use num_rational::BigRational;
use serde::{Deserialize, Serialize};

use crate::domain::card::note::Note;
use crate::domain::card::{
    Card, DishKind, GoesIn, Head, Link, Part, Serves, Source, Step, StepAt, Vessel,
};
use crate::domain::quantity::{Amount, Portions, Unit};
use crate::domain::remark::{Place as At, Remark, Weight};
use crate::exchange::line::WrittenLine;

/// `3/2`, `250`.
pub fn fraction(text: &str) -> Result<BigRational, String> {
    text.parse().map_err(|_| format!("“{text}” is no fraction"))
}

/// An amount with both ends.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenAmount {
    pub low: String,
    pub high: String,
    pub unit: String,
}

impl From<&Amount> for WrittenAmount {
    fn from(amount: &Amount) -> Self {
        Self {
            low: amount.low().to_string(),
            high: amount.high().to_string(),
            unit: amount.unit().word().to_owned(),
        }
    }
}

impl TryFrom<WrittenAmount> for Amount {
    type Error = String;

    fn try_from(written: WrittenAmount) -> Result<Self, String> {
        let unit = Unit::parse(&written.unit).ok_or(format!("no unit “{}”", written.unit))?;
        Ok(Self::between(fraction(&written.low)?, fraction(&written.high)?, unit))
    }
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenCard {
    kind: String,
    title: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    serves: Option<WrittenServes>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    makes: Option<WrittenAmount>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    portion: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    course: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    vessels: Vec<WrittenVessel>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    why: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    no_freezer: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    no_oven_room: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    more: Vec<WrittenHead>,
    parts: Vec<WrittenPart>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenServes {
    low: u32,
    high: u32,
    #[serde(default)]
    with_leftovers: bool,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenVessel {
    what: String,
    serves: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    shelf: Option<String>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenHead {
    line: usize,
    name: String,
    words: String,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenPart {
    name: String,
    line: usize,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    is_finish: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    makes: Option<WrittenAmount>,
    steps: Vec<WrittenStep>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenStep {
    line: usize,
    number: u32,
    text: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    goes_in: Vec<WrittenGoesIn>,
    /// The notes in the words of the card, without brackets; they are read back by the card's reader.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    notes: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    kept: Vec<String>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenGoesIn {
    line: usize,
    what: WrittenLine,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    part: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    base: Option<String>,
}

impl From<&Card> for WrittenCard {
    fn from(card: &Card) -> Self {
        Self {
            kind: card.kind.word().to_owned(),
            title: card.title.clone(),
            serves: card.serves.map(|serves| WrittenServes {
                low: serves.low.count(),
                high: serves.high.count(),
                with_leftovers: serves.with_leftovers,
            }),
            makes: card.makes.as_ref().map(WrittenAmount::from),
            portion: card.portion.clone(),
            course: card.course.clone(),
            vessels: card.vessels.iter().map(WrittenVessel::from).collect(),
            why: card.why.clone(),
            no_freezer: card.no_freezer.clone(),
            no_oven_room: card.no_oven_room.clone(),
            more: card.more.iter().map(WrittenHead::from).collect(),
            parts: card.parts.iter().map(WrittenPart::from).collect(),
        }
    }
}

impl TryFrom<WrittenCard> for Card {
    type Error = String;

    fn try_from(written: WrittenCard) -> Result<Self, String> {
        let portions = |count| Portions::new(count).map_err(|error| error.to_string());
        let serves = written.serves.map(|it| {
            let with_leftovers = it.with_leftovers;
            Ok::<_, String>(Serves {
                low: portions(it.low)?,
                high: portions(it.high)?,
                with_leftovers,
            })
        });
        let vessel = |it: WrittenVessel| {
            let shelf = it.shelf.as_deref().map(fraction).transpose()?;
            Ok::<_, String>(Vessel { what: it.what, serves: it.serves, shelf })
        };
        let head = |it: WrittenHead| Head { line: it.line, name: it.name, words: it.words };
        Ok(Self {
            kind: DishKind::parse(&written.kind).map_err(|error| error.to_string())?,
            title: written.title,
            serves: serves.transpose()?,
            makes: written.makes.map(Amount::try_from).transpose()?,
            portion: written.portion,
            course: written.course,
            vessels: written.vessels.into_iter().map(vessel).collect::<Result<_, _>>()?,
            why: written.why,
            no_freezer: written.no_freezer,
            no_oven_room: written.no_oven_room,
            more: written.more.into_iter().map(head).collect(),
            parts: written.parts.into_iter().map(Part::try_from).collect::<Result<_, _>>()?,
        })
    }
}

impl From<&Vessel> for WrittenVessel {
    fn from(vessel: &Vessel) -> Self {
        let shelf = vessel.shelf.as_ref().map(ToString::to_string);
        Self { what: vessel.what.clone(), serves: vessel.serves, shelf }
    }
}

impl From<&Head> for WrittenHead {
    fn from(head: &Head) -> Self {
        Self { line: head.line, name: head.name.clone(), words: head.words.clone() }
    }
}

impl From<&Part> for WrittenPart {
    fn from(part: &Part) -> Self {
        Self {
            name: part.name.clone(),
            line: part.line,
            is_finish: part.is_finish,
            makes: part.makes.as_ref().map(WrittenAmount::from),
            steps: part.steps.iter().map(WrittenStep::from).collect(),
        }
    }
}

impl TryFrom<WrittenPart> for Part {
    type Error = String;

    fn try_from(written: WrittenPart) -> Result<Self, String> {
        Ok(Self {
            name: written.name,
            line: written.line,
            is_finish: written.is_finish,
            makes: written.makes.map(Amount::try_from).transpose()?,
            steps: written.steps.into_iter().map(Step::try_from).collect::<Result<_, _>>()?,
        })
    }
}

impl From<&Step> for WrittenStep {
    fn from(step: &Step) -> Self {
        Self {
            line: step.line,
            number: step.number,
            text: step.text.clone(),
            goes_in: step.goes_in.iter().map(WrittenGoesIn::from).collect(),
            notes: step.notes().iter().map(Note::words).collect(),
            kept: step.kept.clone(),
        }
    }
}

impl TryFrom<WrittenStep> for Step {
    type Error = String;

    fn try_from(written: WrittenStep) -> Result<Self, String> {
        let goes_in = written.goes_in.into_iter().map(GoesIn::try_from);
        let mut step = Self {
            line: written.line,
            number: written.number,
            text: written.text,
            goes_in: goes_in.collect::<Result<_, _>>()?,
            kept: written.kept,
            ..Self::default()
        };
        for words in written.notes {
            let read = Note::read(&words).map_err(|_| format!("“{words}” is no note"))?;
            step.set(read.note);
        }
        Ok(step)
    }
}

impl From<&GoesIn> for WrittenGoesIn {
    fn from(entry: &GoesIn) -> Self {
        let (part, base) = match &entry.source {
            Some(Source::Part(name)) => (Some(name.clone()), None),
            Some(Source::Base(name)) => (None, Some(name.clone())),
            None => (None, None),
        };
        Self { line: entry.line, what: WrittenLine::from(&entry.what), part, base }
    }
}

impl TryFrom<WrittenGoesIn> for GoesIn {
    type Error = String;

    fn try_from(written: WrittenGoesIn) -> Result<Self, String> {
        let source = written.part.map(Source::Part).or(written.base.map(Source::Base));
        Ok(Self { line: written.line, what: written.what.try_into()?, source })
    }
}

/// A link by the names a person knows.
#[derive(Clone, Debug, Serialize)]
pub struct WrittenLink {
    before: WrittenStepAt,
    after: WrittenStepAt,
}

#[derive(Clone, Debug, Serialize)]
struct WrittenStepAt {
    part: String,
    number: u32,
}

impl WrittenLink {
    pub fn of(card: &Card, link: Link) -> Self {
        let named = |at: StepAt| {
            let part = &card.parts[at.part];
            WrittenStepAt { part: part.name.clone(), number: part.steps[at.step].number }
        };
        Self { before: named(link.before), after: named(link.after) }
    }
}

/// A remark; `line` is there when it has one.
#[derive(Clone, Debug, Serialize)]
pub struct WrittenRemark {
    #[serde(skip_serializing_if = "Option::is_none")]
    line: Option<usize>,
    stops_publishing: bool,
    sentence: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    write: Option<String>,
}

impl From<&Remark> for WrittenRemark {
    fn from(remark: &Remark) -> Self {
        let line = match remark.place {
            At::Line(line) | At::Row(line) => Some(line),
            At::Field(_) | At::Whole => None,
        };
        Self {
            line,
            stops_publishing: remark.weight == Weight::Fault,
            sentence: remark.sentence.clone(),
            write: remark.write.clone(),
        }
    }
}
