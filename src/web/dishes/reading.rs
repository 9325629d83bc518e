//! What the program read in a card, as the page beside the card shows it.

use askama::Template;

use super::limits::LimitsView;
use super::lines::{self, LineView};
use super::says;
use crate::domain::card::{self, Card, Mark, Part, Reading, Step};
use crate::domain::larder::Larder;
use crate::domain::offer::{self, Offer};
use crate::domain::remark::{Place, Remark, Weight};

/// The reading of one text. The whole page and the fragment for the script print the same.
#[derive(Debug, Template)]
#[template(path = "dishes/reading.html")]
pub struct ReadingView {
    /// `3 parts, 6 steps, 12 lines that go in, 22 notes.`
    pub summary: String,
    pub remarks: Vec<RemarkView>,
    pub parts: Vec<PartView>,
    /// Amount and name.
    pub goes_in: Vec<(String, String)>,
    /// Each line as it was read; none on a page that is only read.
    pub lines: Vec<LineView>,
    /// Notes that the sentences say and no bracket does; none on a page that is only read.
    pub offers: Vec<OfferView>,
    /// How early its stops may be made; none where it has none.
    pub limits: Option<LimitsView>,
    /// May be written to: remarks carry a button that puts the words in.
    pub is_editor: bool,
}

/// Its template has escaped it already.
impl askama::filters::HtmlSafe for ReadingView {}

#[derive(Debug)]
pub struct RemarkView {
    /// Counted from 0 among all remarks of the text; names it when a button is pressed.
    pub index: usize,
    pub line: Option<usize>,
    /// `bad` stops publishing, `yel` is kept as words, `ask` is worth a look.
    pub class: &'static str,
    pub sentence: String,
    pub write: Option<String>,
    /// The words have one place, so that a button can put them there.
    pub can_write: bool,
}

/// A note found in the author's words, to be kept by a press.
#[derive(Debug)]
pub struct OfferView {
    pub line: usize,
    pub words: String,
    pub note: String,
    pub why: String,
}

#[derive(Debug)]
pub struct PartView {
    pub name: String,
    /// `180 g`, or `on the day`.
    pub about: String,
    pub is_finish: bool,
    pub steps: Vec<StepView>,
    pub stops: Vec<String>,
}

#[derive(Debug)]
pub struct StepView {
    pub number: u32,
    pub short: String,
    pub says: String,
    pub is_meanwhile: bool,
}

impl ReadingView {
    pub fn of(text: &str, reading: &Reading) -> Self {
        let card = &reading.card;
        let kept: Vec<usize> = card
            .steps()
            .filter(|(_, step)| !step.kept.is_empty())
            .map(|(_, step)| step.line)
            .collect();
        let remarks = reading.remarks.iter().enumerate();
        let mut remarks: Vec<_> = remarks
            .map(|(index, remark)| {
                let can_write = card::put_in(text, reading, remark).is_some();
                RemarkView::of(index, remark, &kept, can_write)
            })
            .collect();
        remarks.sort_by_key(|remark| (remark.class != "bad", remark.class != "yel", remark.line));
        Self {
            summary: summary(card),
            remarks,
            parts: card.parts.iter().map(PartView::of).collect(),
            goes_in: says::goes_in(card),
            lines: Vec::new(),
            offers: Vec::new(),
            limits: None,
            is_editor: false,
        }
    }

    /// With buttons, and with what the sentences offer.
    #[must_use]
    pub fn for_editor(self, text: &str, reading: &Reading) -> Self {
        let offers = offer::offers(text, reading).into_iter().map(OfferView::of).collect();
        Self { is_editor: true, offers, ..self }
    }

    #[must_use]
    pub fn with_lines(self, reading: &Reading, larder: &Larder) -> Self {
        Self { lines: lines::of(reading, larder), ..self }
    }

    #[must_use]
    pub fn with_limits(self, limits: Option<LimitsView>) -> Self {
        Self { limits, ..self }
    }

    pub fn faults(&self) -> usize {
        self.remarks.iter().filter(|remark| remark.class == "bad").count()
    }
}

impl OfferView {
    pub fn of(offer: Offer) -> Self {
        let Offer { line, note, words, why, .. } = offer;
        Self { line, words, note: note.words(), why }
    }
}

impl RemarkView {
    fn of(index: usize, remark: &Remark, kept: &[usize], can_write: bool) -> Self {
        let line = match remark.place {
            Place::Line(line) => Some(line),
            _ => None,
        };
        let class = match remark.weight {
            Weight::Fault => "bad",
            Weight::Note if remark.write.is_none() && line.is_some_and(|it| kept.contains(&it)) => {
                "yel"
            }
            Weight::Note => "ask",
        };
        let dot = if remark.sentence.ends_with(['.', '?']) { "" } else { "." };
        let sentence = format!("{}{dot}", remark.sentence);
        // The page draws the brackets itself.
        let bare = |words: &String| words.trim_matches(['[', ']']).to_owned();
        let write = remark.write.as_ref().map(bare);
        Self { index, line, class, sentence, write, can_write }
    }
}

impl PartView {
    fn of(part: &Part) -> Self {
        let about = match &part.makes {
            Some(makes) => says::amount(makes),
            None if part.is_finish => "on the day".to_owned(),
            None => String::new(),
        };
        let stops = part.steps.iter().flat_map(|step| &step.stops).map(says::stop).collect();
        Self {
            name: part.name.clone(),
            about,
            is_finish: part.is_finish,
            steps: part.steps.iter().map(StepView::of).collect(),
            stops,
        }
    }
}

impl StepView {
    fn of(step: &Step) -> Self {
        let is_meanwhile = step.marks.contains(&Mark::Meanwhile);
        let says = says::step(&Step {
            stops: Vec::new(),
            marks: step.marks.iter().copied().filter(|mark| *mark != Mark::Meanwhile).collect(),
            ..step.clone()
        });
        Self { number: step.number, short: says::short(step), says, is_meanwhile }
    }
}

fn summary(card: &Card) -> String {
    let count = |count: usize, one: &str, many: &str| match count {
        1 => format!("1 {one}"),
        more => format!("{more} {many}"),
    };
    let steps = card.steps().count();
    let lines = card.steps().map(|(_, step)| step.goes_in.len()).sum();
    format!(
        "{}, {}, {}.",
        count(card.parts.len(), "part", "parts"),
        count(steps, "step", "steps"),
        count(lines, "line that goes in", "lines that go in"),
    )
}
