//! View models of the paste: one box, and what was read beside what was given.

use askama::Template;

use super::says;
use crate::domain::card::note::Note;
use crate::domain::card::{Part, Reading, Step};
use crate::domain::offer::Offer;
use crate::domain::paste::{Became, Draft, PastedLine};
use crate::web::form::Field;
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "dishes/paste.html")]
pub struct PastePage {
    pub frame: Frame,
    pub pasted: Field,
}

#[derive(Template)]
#[template(path = "dishes/read_back.html")]
pub struct ReadBackPage {
    frame: Frame,
    pasted: String,
    /// `14 lines. 8 are read, 3 ask you something, 3 are kept as words.`
    lead: String,
    lines: Vec<BackLine>,
    offers: usize,
    missing: Vec<&'static str>,
}

struct BackLine {
    number: usize,
    pasted: String,
    /// `yel` is kept as words, `ask` asks, nothing is read.
    class: &'static str,
    /// Before the words, in bold.
    name: String,
    read: String,
    is_kept: bool,
    hint: &'static str,
    offers: Vec<BackOffer>,
}

struct BackOffer {
    name: String,
    note: String,
    words: String,
    why: String,
}

/// The field of the offer with this place among all of a draft.
pub fn keep_name(index: usize) -> String {
    format!("keep.{index}")
}

impl ReadBackPage {
    pub fn new(frame: Frame, pasted: String, draft: &Draft, reading: &Reading) -> Self {
        let lines = draft.lines.iter().enumerate();
        let lines: Vec<_> =
            lines.map(|(at, line)| BackLine::new(at + 1, line, draft, reading)).collect();
        let count = |class: &str| lines.iter().filter(|line| line.class == class).count();
        let lead = lead(lines.len(), count(""), count("ask"), count("yel"));
        let offers = draft.offers.len();
        Self { frame, pasted, lead, lines, offers, missing: missing(draft, reading) }
    }
}

fn lead(all: usize, read: usize, asking: usize, kept: usize) -> String {
    let said = |count: usize, one: &str, more: &str| match count {
        1 => format!("1 {one}"),
        count => format!("{count} {more}"),
    };
    format!(
        "{}. {}, {}, {}.",
        said(all, "line", "lines"),
        said(read, "is read", "are read"),
        said(asking, "asks you something", "ask you something"),
        said(kept, "is kept as words", "are kept as words"),
    )
}

impl BackLine {
    fn new(number: usize, line: &PastedLine, draft: &Draft, reading: &Reading) -> Self {
        let at = line.card_line.unwrap_or(0);
        let step = reading.card.steps().find(|(_, step)| step.line == at);
        let offers = draft.offers.iter().enumerate().filter(|(_, offer)| offer.line == at);
        let offers: Vec<_> = offers.map(|(index, offer)| BackOffer::new(index, offer)).collect();
        let (name, read, hint) = said(line, step, reading);
        let class = match line.became {
            Became::Words | Became::Heading => "yel",
            Became::GoesInFirst => "ask",
            _ if !offers.is_empty() => "ask",
            _ => "",
        };
        Self {
            number: if line.piece.line > 0 { line.piece.line } else { number },
            pasted: line.piece.words.clone(),
            class,
            name,
            read,
            is_kept: matches!(line.became, Became::Words | Became::Heading),
            hint,
            offers,
        }
    }
}

impl BackOffer {
    fn new(index: usize, offer: &Offer) -> Self {
        Self {
            name: keep_name(index),
            note: offer.note.words(),
            words: offer.words.clone(),
            why: offer.why.clone(),
        }
    }
}

/// Name, words and hint of the right side.
fn said(
    line: &PastedLine,
    step: Option<(&Part, &Step)>,
    reading: &Reading,
) -> (String, String, &'static str) {
    let words = line.piece.words.clone();
    match line.became {
        Became::Title => ("Dish:".to_owned(), words, ""),
        Became::Serves => {
            let serves = reading.card.serves.map(|it| (it.low.count(), it.high.count()));
            let count = match serves {
                Some((low, high)) if low < high => format!("{low}–{high}"),
                Some((_, high)) => high.to_string(),
                None => words,
            };
            ("For".to_owned(), count, "")
        }
        Became::Part => ("Part:".to_owned(), words, ""),
        Became::Step => match step {
            // A card that names no part has one of this name.
            Some((part, step)) if part.name == "method" => {
                (format!("Step {}.", step.number), String::new(), "")
            }
            Some((part, step)) => {
                (format!("Part {}, step {}.", part.name, step.number), String::new(), "")
            }
            None => ("Step.".to_owned(), String::new(), ""),
        },
        Became::GoesIn => goes_in(line, reading, ""),
        Became::GoesInFirst => goes_in(
            line,
            reading,
            "No sentence names it. It stands at the first step; move it there where it goes in.",
        ),
        Became::Words => (String::new(), words, "Kept as a note under the dish."),
        Became::Heading => {
            (String::new(), words, "It sorts the rest and does not stand on the card.")
        }
    }
}

fn goes_in(
    line: &PastedLine,
    reading: &Reading,
    hint: &'static str,
) -> (String, String, &'static str) {
    let found = reading.card.steps().find_map(|(_, step)| {
        let entry = step.goes_in.iter().find(|entry| Some(entry.line) == line.card_line)?;
        Some((step, entry))
    });
    let Some((step, entry)) = found else { return (String::new(), line.piece.words.clone(), hint) };
    let amount = entry.what.amount.as_ref().map(says::amount).unwrap_or_default();
    (amount, format!("{}, goes in at step {}", says::name(entry), step.number), hint)
}

/// What sheets will ask for later, so that nobody is surprised; all of it may be left.
fn missing(draft: &Draft, reading: &Reading) -> Vec<&'static str> {
    let card = &reading.card;
    let steps = || card.steps().map(|(_, step)| step);
    let offered = |wanted: fn(&Note) -> bool| draft.offers.iter().any(|offer| wanted(&offer.note));
    let mut missing = Vec::new();
    if card.title.is_empty() {
        missing.push("The name of the dish. It stands on the first line of the card.");
    }
    if card.serves.is_none() {
        missing.push("For how many. Without it nothing can be made for another number.");
    }
    let has_stop = steps().any(|step| !step.stops.is_empty());
    if !has_stop && !offered(|note| matches!(note, Note::Stop(_))) {
        missing.push("Where it may stop, and how long. Labels and the days ahead need it.");
    }
    let has_hands = steps().any(|step| step.hands.is_some());
    if !has_hands && !offered(|note| matches!(note, Note::Hands(_))) {
        missing.push("Minutes of your hands. Where none are given they are our estimate.");
    }
    missing
}
