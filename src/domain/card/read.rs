//! From text to card: line by line, losing nothing.
//!
//! Every line gets a kind; a step collects the lines under it. What goes in is then matched with
//! parts and bases by name, and `remarks` looks at the whole.

use std::collections::BTreeSet;

use super::note::{Note, NoteKind, Unread};
use super::shape::{bracketed, head_of, step_number, suggestion};
use super::step::{GoesIn, Source, Step, StepRef};
use super::words::{Cursor, strip_folded};
use super::{Card, DishKind, Head, Part, Serves, Vessel, named, remarks};
use crate::domain::larder::Larder;
use crate::domain::quantity::Portions;
use crate::domain::reading;
use crate::domain::remark::{Place as At, Remark};

/// A card with what was noticed while reading it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    pub card: Card,
    pub remarks: Vec<Remark>,
    /// One a line of the text, in order.
    pub lines: Vec<LineKind>,
}

/// What a line of the text was taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineKind {
    Blank,
    Head,
    Part,
    Step,
    GoesIn,
    /// Words under a step, or a title: kept where they stand.
    Words,
}

/// Reads a card that uses no bases.
pub fn read(text: &str, larder: &Larder) -> Reading {
    read_with_bases(text, larder, &[])
}

/// Reads a card; a name in `bases` (titles of the school's bases) that goes in stands for the base.
pub fn read_with_bases(text: &str, larder: &Larder, bases: &[String]) -> Reading {
    let numbered = text.lines().any(|line| step_number(line.trim_start()).is_some());
    let mut reader = Reader {
        larder,
        goes_on: Goes::Apart,
        said: BTreeSet::new(),
        numbered,
        card: Card::default(),
        remarks: Vec::new(),
        lines: Vec::new(),
        has_title: false,
        loose: Vec::new(),
    };
    for (index, line) in text.lines().enumerate() {
        let kind = reader.line(index + 1, line);
        reader.lines.push(kind);
    }
    reader.finish(bases)
}

/// How the line above ended.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Goes {
    /// In the middle of a sentence.
    On,
    /// With a full stop or a note.
    Ended,
    /// With an empty line.
    Apart,
}

struct Reader<'a> {
    larder: &'a Larder,
    goes_on: Goes,
    /// Kinds of notes that the step being written holds.
    said: BTreeSet<NoteKind>,
    /// False for a card of plain sentences: then each paragraph line is a step.
    numbered: bool,
    card: Card,
    remarks: Vec<Remark>,
    lines: Vec<LineKind>,
    has_title: bool,
    /// Ingredient lines that stand before any step.
    loose: Vec<GoesIn>,
}

impl Reader<'_> {
    fn line(&mut self, number: usize, line: &str) -> LineKind {
        let words = line.trim();
        if words.is_empty() {
            self.goes_on = Goes::Apart;
            return LineKind::Blank;
        }
        let kind = self.words(number, words);
        let is_ended = words.ends_with(['.', '!', '?', ']']);
        self.goes_on = if is_ended { Goes::Ended } else { Goes::On };
        kind
    }

    fn words(&mut self, number: usize, words: &str) -> LineKind {
        if let Some(rest) = words.strip_prefix('+') {
            self.goes_in(number, rest.trim());
            return LineKind::GoesIn;
        }
        if let Some((step, rest)) = step_number(words) {
            self.step(number, step, rest);
            return LineKind::Step;
        }
        if let Some((name, value)) = head_of(words)
            && !self.is_sentence(name)
        {
            return self.head(number, name, value);
        }
        self.plain(number, words)
    }

    /// `For: ...` among the steps is how a sentence begins, not whom the dish serves.
    fn is_sentence(&self, name: &str) -> bool {
        let has_steps = self.card.parts.iter().any(|part| !part.steps.is_empty());
        has_steps && ["dish", "base", "for", "serves", "portion", "course"].contains(&name)
    }

    /// A head that was given before stays as it was; this one is kept as words.
    fn is_again(&self, name: &str) -> bool {
        let card = &self.card;
        match name {
            "dish" | "base" => !card.title.is_empty(),
            "for" | "serves" => card.serves.is_some(),
            "portion" => card.portion.is_some(),
            "course" => card.course.is_some(),
            "why" => card.why.is_some(),
            "no freezer" => card.no_freezer.is_some(),
            "no oven room" => card.no_oven_room.is_some(),
            _ => false,
        }
    }

    fn head(&mut self, line: usize, name: &str, value: &str) -> LineKind {
        let some = || Some(value.to_owned()).filter(|it| !it.is_empty());
        if self.is_again(name) {
            let head = Head { line, name: name.to_owned(), words: value.to_owned() };
            self.card.more.push(head);
            let sentence =
                format!("“{name}:” is given twice; the first counts, this is kept as words");
            self.remarks.push(Remark::note(At::Line(line), sentence));
            return LineKind::Head;
        }
        match name {
            "dish" | "base" => {
                self.card.kind = DishKind::parse(name).unwrap_or_default();
                self.card.title = value.to_owned();
                self.has_title = true;
            }
            "for" | "serves" => self.serves(line, value),
            "makes" => self.makes(line, value),
            "portion" => self.card.portion = some(),
            "course" => self.card.course = some().map(|it| it.to_lowercase()),
            "vessel" => self.vessel(line, value),
            "why" => self.card.why = some(),
            "no freezer" => self.card.no_freezer = some(),
            "no oven room" => self.card.no_oven_room = some(),
            "note" => {
                let head = Head { line, name: name.to_owned(), words: value.to_owned() };
                self.card.more.push(head);
            }
            "part" => {
                self.open_part(line, value, false);
                return LineKind::Part;
            }
            "finish" => {
                self.open_part(line, "finish", true);
                return LineKind::Part;
            }
            _ => {
                let head = Head { line, name: name.to_owned(), words: value.to_owned() };
                self.card.more.push(head);
                let sentence = format!("“{name}:” is not a head of the card; it is kept as words");
                self.remarks.push(Remark::note(At::Line(line), sentence));
            }
        }
        LineKind::Head
    }

    fn open_part(&mut self, line: usize, name: &str, is_finish: bool) {
        let part = Part { name: name.to_owned(), line, is_finish, ..Part::default() };
        self.card.parts.push(part);
    }

    fn serves(&mut self, line: usize, value: &str) {
        match serves(value) {
            Ok(serves) => self.card.serves = Some(serves),
            Err(sentence) => {
                self.remarks.push(Remark::fault(At::Line(line), sentence).write("for: 6"));
            }
        }
    }

    fn makes(&mut self, line: usize, value: &str) {
        let read = reading::read_line(value, self.larder);
        let amount = read.amount;
        if amount.is_none() {
            let sentence = format!("“{value}” is no amount; write a figure and its unit");
            self.remarks.push(Remark::fault(At::Line(line), sentence).write("makes: 340 g"));
        }
        match self.card.parts.last_mut() {
            Some(part) if part.steps.is_empty() => part.makes = amount,
            _ => self.card.makes = amount,
        }
    }

    fn vessel(&mut self, line: usize, value: &str) {
        let whole = self.card.serves.filter(|_| !value.is_empty() && !value.contains('='));
        let holds = |serves: Serves| Vessel {
            what: value.to_owned(),
            serves: serves.high.count(),
            shelf: None,
        };
        match vessel(value).or_else(|| whole.map(holds)) {
            Some(vessel) => self.card.vessels.push(vessel),
            None => {
                let sentence = format!("“{value}” does not say how many the vessel serves");
                let write = "vessel: tray 40x30 cm = 8, shelf 1";
                self.remarks.push(Remark::fault(At::Line(line), sentence).write(write));
            }
        }
    }

    fn step(&mut self, line: usize, number: u32, words: &str) {
        let mut step = Step { line, number, ..Step::default() };
        self.said.clear();
        self.words_of_step(line, words, &mut step);
        self.part().steps.push(step);
    }

    /// The part being written; a card that names none has one called `method`.
    fn part(&mut self) -> &mut Part {
        if self.card.parts.is_empty() {
            let name = match self.card.kind {
                DishKind::Base if !self.card.title.is_empty() => self.card.title.clone(),
                _ => "method".to_owned(),
            };
            self.card.parts.push(Part { name, ..Part::default() });
        }
        self.card.parts.last_mut().expect("one was just opened")
    }

    /// Splits words and notes; the notes go where they belong, the words are kept.
    fn words_of_step(&mut self, line: usize, words: &str, step: &mut Step) {
        let mut text = String::new();
        for (is_note, piece) in bracketed(words) {
            if is_note {
                self.note(line, piece, step);
            } else {
                for word in piece.split_whitespace() {
                    if !text.is_empty() {
                        text.push(' ');
                    }
                    text.push_str(word);
                }
            }
        }
        if words.rfind('[') > words.rfind(']') {
            let sentence = "A bracket is opened and not closed; its words stay in the sentence";
            self.remarks.push(Remark::note(At::Line(line), sentence));
        }
        if !step.text.is_empty() && !text.is_empty() {
            step.text.push(' ');
        }
        step.text.push_str(&text);
    }

    fn note(&mut self, line: usize, words: &str, step: &mut Step) {
        let at = At::Line(line);
        match Note::read(words) {
            Ok(read) => {
                if read.is_reversed {
                    let sentence = format!("“[{words}]” has its longer time first");
                    let write = format!("[{}]", read.note.words());
                    self.remarks.push(Remark::fault(At::Line(line), sentence).write(write));
                }
                let kind = read.note.kind();
                if kind.may_repeat() || self.said.insert(kind) {
                    step.set(read.note);
                } else {
                    let sentence =
                        format!("“[{words}]” is said twice in this step; the first counts");
                    self.remarks.push(Remark::note(At::Line(line), sentence));
                }
            }
            Err(unread) => {
                step.kept.push(words.to_owned());
                self.remarks.push(match unread {
                    Unread::Unknown => Remark::note(
                        at,
                        format!("“[{words}]” is not a note of the card; it is kept as words"),
                    ),
                    Unread::Almost(kind) => Remark::note(
                        at,
                        format!("“[{words}]” was not understood; it is kept as words"),
                    )
                    .write(format!("[{}]", suggestion(kind, words))),
                    Unread::OutOfBounds { kind, allowed } => Remark::fault(
                        at,
                        format!("“[{words}]” is beyond what a kitchen has: {allowed}"),
                    )
                    .write(format!("[{}]", kind.example())),
                });
            }
        }
    }

    fn goes_in(&mut self, line: usize, words: &str) {
        let what = reading::read_line(words, self.larder);
        if let Some(ends) = reversed(words) {
            let sentence = format!("“{words}” has its larger amount first");
            self.remarks.push(Remark::fault(At::Line(line), sentence).write(ends));
        }
        let entry = GoesIn { line, what, source: None };
        match self.card.parts.last_mut().and_then(|part| part.steps.last_mut()) {
            Some(step) => step.goes_in.push(entry),
            None => self.loose.push(entry),
        }
    }

    /// A line that is no head, step or `+` line.
    fn plain(&mut self, line: usize, words: &str) -> LineKind {
        if !self.has_title {
            self.has_title = true;
            if words.chars().count() <= 80 && !words.ends_with('.') {
                self.card.title = words.to_owned();
                return LineKind::Head;
            }
        }
        let has_step = self.card.parts.last().is_some_and(|part| !part.steps.is_empty());
        if self.numbered && !has_step {
            let sentence = "These words stand before the first step; they are kept as words";
            self.remarks.push(Remark::note(At::Line(line), sentence));
            let head = Head { line, name: String::new(), words: words.to_owned() };
            self.card.more.push(head);
            return LineKind::Words;
        }
        let goes_on = match self.goes_on {
            Goes::On => true,
            Goes::Ended => self.numbered,
            Goes::Apart => false,
        };
        if has_step && goes_on && (self.numbered || !looks_like_food(words, self.larder)) {
            let part = self.part();
            if let Some(mut step) = part.steps.pop() {
                self.words_of_step(line, words, &mut step);
                self.part().steps.push(step);
            }
            return LineKind::Words;
        }
        if self.numbered {
            let sentence = "This paragraph has no number; it is read as a step of its own";
            self.remarks.push(Remark::note(At::Line(line), sentence));
            let number = self.card.steps().map(|(_, step)| step.number).max().unwrap_or(0);
            self.step(line, number.saturating_add(1), words);
            return LineKind::Step;
        }
        if looks_like_food(words, self.larder) {
            self.goes_in(line, words);
            return LineKind::GoesIn;
        }
        let number = self.part().steps.last().map_or(1, |step| step.number + 1);
        self.step(line, number, words);
        LineKind::Step
    }

    fn finish(mut self, bases: &[String]) -> Reading {
        if !self.loose.is_empty() {
            let loose = std::mem::take(&mut self.loose);
            let line = loose[0].line;
            let part = self.part();
            if part.steps.is_empty() {
                part.steps.push(Step { line, number: 1, ..Step::default() });
            }
            let first = &mut part.steps[0];
            first.goes_in.splice(0..0, loose);
            if self.numbered {
                let sentence = "What stands before the first step goes in at the first step";
                self.remarks.push(Remark::note(At::Line(line), sentence));
            }
        }
        sources(&mut self.card, bases);
        own_steps(&mut self.card);
        self.remarks.extend(remarks::of(&self.card));
        self.remarks.extend(named::of(&self.card, self.larder, bases));
        self.remarks
            .sort_by(|one, other| (&one.place, one.weight).cmp(&(&other.place, other.weight)));
        Reading { card: self.card, remarks: self.remarks, lines: self.lines }
    }
}

/// `8`, `6-8`, `6 to 8 with leftovers`.
fn serves(value: &str) -> Result<Serves, String> {
    let folded = value.to_lowercase();
    let figures = folded.trim().trim_end_matches("with leftovers").trim_end_matches([',', ' ']);
    let with_leftovers = figures.len() < folded.trim().len();
    let figures = figures.trim_end_matches("guests").trim_end_matches("people").trim();
    let mut ends = figures.splitn(2, ['-', '–']).map(str::trim);
    let mut ends = match (ends.next(), ends.next(), figures.split_once(" to ")) {
        (_, _, Some((low, high))) => vec![low.trim(), high.trim()],
        (Some(low), Some(high), None) => vec![low, high],
        (Some(one), None, None) => vec![one],
        _ => vec![],
    }
    .into_iter()
    .map(Portions::parse);
    let low = ends.next().unwrap_or_else(|| Portions::parse("")).map_err(|e| e.to_string())?;
    let high = ends.next().transpose().map_err(|e| e.to_string())?.unwrap_or(low);
    if low > high {
        return Err(format!("“{value}” has its larger number first"));
    }
    Ok(Serves { low, high, with_leftovers })
}

/// `tray 40x30 cm = 8, shelf 1/2`.
fn vessel(value: &str) -> Option<Vessel> {
    let (what, rest) = value.rsplit_once('=')?;
    let mut cursor = Cursor::new(rest);
    let serves = cursor.whole().filter(|serves| (1..=Portions::MAX).contains(serves))?;
    cursor.sign(&[',']);
    let shelf = cursor.word("shelf").then(|| cursor.figure()).flatten();
    let done = cursor.is_done() && !what.trim().is_empty();
    done.then(|| Vessel {
        what: what.trim().to_owned(),
        serves,
        shelf: shelf.map(super::words::Figure::fraction),
    })
}

/// The larger end first, and the line as it should read.
fn reversed(words: &str) -> Option<String> {
    let mut cursor = Cursor::new(words);
    let low = cursor.figure()?;
    if !cursor.joins() {
        return None;
    }
    let high = cursor.figure()?;
    low.is_above(high).then(|| {
        let (first, second) = (high.fraction(), low.fraction());
        let words = super::words::figure_words;
        format!("+ {}-{} {}", words(&first), words(&second), cursor.rest().trim())
    })
}

/// A name that goes in stands for a part of the dish (outside that part) or for a base.
fn sources(card: &mut Card, bases: &[String]) {
    let names: Vec<String> = card.parts.iter().map(|part| part.name.to_lowercase()).collect();
    let parts: Vec<String> = card.parts.iter().map(|part| part.name.clone()).collect();
    for (index, part) in card.parts.iter_mut().enumerate() {
        for entry in part.steps.iter_mut().flat_map(|step| &mut step.goes_in) {
            let name = entry.what.name.to_lowercase();
            let at = names.iter().position(|it| *it == name && !it.is_empty());
            entry.source = match at {
                Some(at) if at != index => Some(Source::Part(parts[at].clone())),
                _ => bases
                    .iter()
                    .find(|base| base.to_lowercase() == name && *base != &card.title)
                    .map(|base| Source::Base(base.clone())),
            };
        }
    }
}

/// `[after 2]` means a step of the part that it stands in.
fn own_steps(card: &mut Card) {
    for part in &mut card.parts {
        let name = part.name.clone();
        for after in part.steps.iter_mut().flat_map(|step| &mut step.after) {
            if after.part.is_empty() {
                after.part.clone_from(&name);
            }
        }
    }
}

/// A line of a plain list: a figure in front of a food, or a name the larder knows, and no sentence.
fn looks_like_food(words: &str, larder: &Larder) -> bool {
    if words.chars().count() > 80 || words.ends_with('.') {
        return false;
    }
    let read = reading::read_line(words, larder);
    let counted = read.amount.is_some() && read.name.split_whitespace().count() <= 6;
    !read.is_heading && !read.name.is_empty() && (counted || read.found.known().is_some())
}

/// True when `reference` names this step of this part, without regard to letter size.
pub fn is_step(reference: &StepRef, part: &Part, step: &Step) -> bool {
    reference.number == step.number && strip_folded(&part.name, &reference.part) == Some("")
}
