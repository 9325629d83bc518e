//! A recipe from elsewhere, pasted, becomes the draft of a card.
//!
//! [`parse`] sorts the lines of plain text; documents are sorted by `exchange::schema_org`. Both give
//! [`Pasted`], and [`draft`] writes the card: every line goes somewhere, and the draft says where.

mod parse;
mod place;

use std::ops::Range;

pub use parse::{parse, serves_words};

use super::card;
use super::larder::Larder;
use super::offer::{Offer, offers};
use super::reading;

/// The longest text that pages take apart, in characters; more is a book.
pub const LENGTH_MAX: usize = 100_000;

/// With more lines than this times as many steps, nothing is looked for in the sentences.
const LOOKS_MAX: usize = 200_000;

/// Some words with the line they were pasted on, from 1; 0 where the source has no lines.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Piece {
    pub line: usize,
    pub words: String,
}

/// Lines under one heading; the first group of a recipe has none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Group {
    pub heading: Option<Piece>,
    pub lines: Vec<Piece>,
}

/// A recipe sorted, not yet understood.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pasted {
    pub title: Option<Piece>,
    pub yields: Vec<Piece>,
    pub ingredients: Vec<Group>,
    pub method: Vec<Group>,
    /// Everything else a person may want to read: stories, times, tips.
    pub words: Vec<Piece>,
    /// `Ingredients`, `Method`: what only sorts the rest.
    pub headings: Vec<Piece>,
}

/// What became of one pasted line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Became {
    Title,
    Serves,
    Part,
    Step,
    /// Under a step that names it.
    GoesIn,
    /// Under the first step, because no sentence names it.
    GoesInFirst,
    /// Kept as words at the head of the card.
    Words,
    /// It sorts the rest and is not on the card.
    Heading,
}

/// One pasted line beside the card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PastedLine {
    pub piece: Piece,
    pub became: Became,
    /// Line of the draft, from 1; none for what is not on it.
    pub card_line: Option<usize>,
}

/// The card as far as it could be written, for the author to finish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    pub text: String,
    /// In the order of the paste.
    pub lines: Vec<PastedLine>,
    /// Notes found in the sentences.
    pub offers: Vec<Offer>,
}

impl Draft {
    /// What was kept as words.
    pub fn leftovers(&self) -> impl Iterator<Item = &str> {
        self.lines
            .iter()
            .filter(|line| matches!(line.became, Became::Words | Became::Heading))
            .map(|line| line.piece.words.as_str())
    }
}

/// Writes the card. `bases` are titles that a `+` line may name.
pub fn draft(pasted: &Pasted, larder: &Larder, bases: &[String]) -> Draft {
    let mut writer = Writer::default();
    writer.heads(pasted);
    let parts = place::parts(pasted);
    for kept in place::headings_without_steps(pasted, &parts) {
        writer.words(kept);
    }
    writer.text.push('\n');
    writer.line += 1;
    let homes = place::homes(pasted, &parts, |words| reading::read_line(words, larder));
    for (index, part) in parts.iter().enumerate() {
        writer.part(part, &homes, index);
    }
    let text = writer.text;
    let read = card::read_with_bases(&text, larder, bases);
    let offers = offers(&text, &read);
    let mut lines = writer.lines;
    lines.sort_by_key(|line| line.piece.line);
    Draft { text, lines, offers }
}

/// A part of the card to be: its heading and the steps under it.
struct PartPlan<'a> {
    heading: Option<&'a Piece>,
    name: PartName,
    steps: Vec<Piece>,
    /// Its first step, counted over the whole card.
    first: usize,
}

#[derive(Debug, PartialEq, Eq)]
enum PartName {
    None,
    Named(String),
    Finish,
}

impl PartPlan<'_> {
    const fn range(&self) -> Range<usize> {
        self.first..self.first + self.steps.len()
    }
}

/// Where one pasted line that goes in will stand.
struct Home<'a> {
    piece: &'a Piece,
    /// Step, counted over the whole card.
    step: usize,
    is_sure: bool,
}

#[derive(Default)]
struct Writer {
    text: String,
    /// The number of lines written.
    line: usize,
    number: usize,
    lines: Vec<PastedLine>,
}

impl Writer {
    /// A bracket would be read as a note, which the pasted words are not.
    fn write(&mut self, before: &str, piece: &Piece, became: Became) {
        let words = plain(&piece.words);
        self.text.push_str(&format!("{before}{words}\n"));
        self.line += 1;
        let card_line = Some(self.line);
        self.lines.push(PastedLine { piece: piece.clone(), became, card_line });
    }

    fn words(&mut self, piece: &Piece) {
        self.write("note: ", piece, Became::Words);
    }

    fn heads(&mut self, pasted: &Pasted) {
        if let Some(title) = &pasted.title {
            self.write("dish: ", title, Became::Title);
        }
        let mut is_said = false;
        for piece in &pasted.yields {
            match serves_words(&piece.words).filter(|_| !is_said) {
                Some(serves) => {
                    self.text.push_str(&format!("for: {}\n", serves.figures));
                    self.line += 1;
                    is_said = true;
                    let card_line = Some(self.line);
                    let piece = piece.clone();
                    self.lines.push(PastedLine { piece, became: Became::Serves, card_line });
                    if !serves.is_all {
                        let piece = &self.lines[self.lines.len() - 1].piece.clone();
                        self.text.push_str(&format!("note: {}\n", plain(&piece.words)));
                        self.line += 1;
                    }
                }
                None => self.words(piece),
            }
        }
        for piece in &pasted.words {
            self.words(piece);
        }
        for piece in &pasted.headings {
            let piece = piece.clone();
            self.lines.push(PastedLine { piece, became: Became::Heading, card_line: None });
        }
    }

    fn part(&mut self, part: &PartPlan<'_>, homes: &[Home<'_>], index: usize) {
        let line = match &part.name {
            PartName::None => None,
            PartName::Named(name) => Some(format!("part: {name}\n")),
            PartName::Finish => Some("finish:\n".to_owned()),
        };
        if let Some(line) = line {
            if index > 0 {
                self.text.push('\n');
                self.line += 1;
            }
            self.text.push_str(&line);
            self.line += 1;
        }
        if let Some(heading) = part.heading {
            let card_line = Some(self.line);
            let piece = heading.clone();
            self.lines.push(PastedLine { piece, became: Became::Part, card_line });
        }
        if part.steps.is_empty() {
            self.going_in(homes, part.first);
        }
        for (step, place) in part.steps.iter().zip(part.range()) {
            self.number += 1;
            self.write(&format!("{}. ", self.number), step, Became::Step);
            self.going_in(homes, place);
        }
    }

    fn going_in(&mut self, homes: &[Home<'_>], step: usize) {
        for home in homes.iter().filter(|home| home.step == step) {
            let became = if home.is_sure { Became::GoesIn } else { Became::GoesInFirst };
            self.write("   + ", home.piece, became);
        }
    }
}

/// One line without brackets, so that it means on a card what it meant where it was.
fn plain(words: &str) -> String {
    let words = words.replace('[', "(").replace(']', ")");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests;
