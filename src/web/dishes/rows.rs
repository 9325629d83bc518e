//! The same card in rows: what its fields say is written back into the text, and nothing else.
//!
//! Fields are named by the line they stand for. Only what differs from what the page showed is a
//! change; if one cannot be understood none is made, and all that was typed comes back.

use super::facts::{self, Fact, Shape};
use super::form::{Fields, Press};
use crate::domain::card::note::{Note, NoteKind};
use crate::domain::card::{self, Card, Edit, GoesIn, Part, Reading, Step};

/// The text after the fields of its rows, and what could not be taken over.
#[derive(Debug)]
pub struct Changed {
    pub text: String,
    /// Field and sentence.
    pub problems: Vec<(String, String)>,
    /// The step that was worked on, counted from 0 over the card.
    pub open: Option<usize>,
}

/// Takes the fields over into the text.
pub fn apply(text: &str, reading: &Reading, fields: &Fields, press: &Press) -> Changed {
    let mut edits = Vec::new();
    let mut problems = Vec::new();
    for (line, name, value) in card::heads(text, reading) {
        let typed = fields.get(&head_name(line)).unwrap_or(value);
        if typed.trim() != value.trim() || (name == "dish" && typed.trim().is_empty()) {
            edits.push(Edit::Head { line, value: typed.to_owned() });
        }
    }
    for (name, _, _) in HEADS {
        if let Some(value) = fields.get(&new_head_name(name)).filter(|it| !it.trim().is_empty()) {
            edits.push(Edit::AddHead { name, value: value.to_owned() });
        }
    }
    for (part, step) in reading.card.steps() {
        step_edits(part, step, fields, &mut edits, &mut problems);
    }
    let open = pressed(&reading.card, press, fields, &mut edits);
    if !problems.is_empty() {
        return Changed { text: text.to_owned(), problems, open };
    }
    Changed { text: card::change(text, reading, &edits), problems, open }
}

/// Heads that a dish may have, what the form calls them, and how they are written.
pub const HEADS: [(&str, &str, &str); 7] = [
    ("for", "For how many", "8, or 6-8 with leftovers"),
    ("portion", "Each gets", "200 g, or 1 slice"),
    ("course", "Eaten as", "first, main, side or sweet"),
    ("vessel", "Cooked in", "tray 40x30 cm = 8: so many it serves"),
    ("why", "Why so", ""),
    ("no freezer", "Without a freezer", ""),
    ("no oven room", "When the oven is full", ""),
];

pub fn head_name(line: usize) -> String {
    format!("{line}.head")
}

pub fn new_head_name(name: &str) -> String {
    format!("new.{}", name.replace(' ', "-"))
}

pub fn sentence_name(step: usize) -> String {
    format!("{step}.do")
}

/// How much, or of what, on a line that goes in.
pub fn goes_in_names(line: usize) -> [String; 2] {
    [format!("{line}.much"), format!("{line}.what")]
}

pub fn new_goes_in_names(step: usize) -> [String; 2] {
    [format!("{step}.new.much"), format!("{step}.new.what")]
}

pub fn kept_name(step: usize, index: usize) -> String {
    format!("{step}.kept.{index}")
}

pub fn fact_name(step: usize, kind: NoteKind, row: usize, field: usize) -> String {
    format!("{step}.{kind:?}.{row}.{field}").to_lowercase()
}

/// Amount and rest of a line as typed, cut after the last word of its first amount.
pub fn much_and_what(line: &GoesIn) -> (String, String) {
    use crate::domain::reading::SpanKind::{Amount, Between, Pack, Unit};
    let spans = line.what.spans.iter();
    let leading = spans.take_while(|span| matches!(span.is, Amount | Unit | Pack | Between));
    let end = leading.filter(|span| span.is != Between).last().map_or(0, |span| span.bytes.end);
    let (much, what) = line.what.text.split_at_checked(end).unwrap_or(("", &line.what.text));
    (much.trim().to_owned(), what.trim().to_owned())
}

fn step_edits(
    part: &Part,
    step: &Step,
    fields: &Fields,
    edits: &mut Vec<Edit>,
    problems: &mut Vec<(String, String)>,
) {
    let line = step.line;
    let Some(sentence) = fields.get(&sentence_name(line)) else { return };
    let sentence = sentence.split_whitespace().collect::<Vec<_>>().join(" ");
    if sentence != step.text {
        edits.push(Edit::Sentence { step: line, words: sentence });
    }
    for entry in &step.goes_in {
        let (much, what) = much_and_what(entry);
        let [much_name, what_name] = goes_in_names(entry.line);
        let typed = |name: &str, was: &str| fields.get(name).unwrap_or(was).trim().to_owned();
        let (new_much, new_what) = (typed(&much_name, &much), typed(&what_name, &what));
        if (&new_much, &new_what) != (&much, &what) {
            let words = format!("{new_much} {new_what}").trim().to_owned();
            edits.push(Edit::GoesIn { line: entry.line, words });
        }
    }
    let new =
        new_goes_in_names(line).map(|name| fields.get(&name).unwrap_or_default().trim().to_owned());
    let new = new.join(" ").trim().to_owned();
    if !new.is_empty() {
        edits.push(Edit::AddGoesIn { step: line, words: new });
    }
    kept_edit(step, fields, edits);
    let at = format!("{}, step {}", part.name, step.number);
    for fact in facts::facts(step) {
        fact_edit(line, &at, &fact, fields, edits, problems);
    }
}

fn kept_edit(step: &Step, fields: &Fields, edits: &mut Vec<Edit>) {
    let typed = step.kept.iter().enumerate().map(|(index, was)| {
        fields
            .get(&kept_name(step.line, index))
            .unwrap_or(was)
            .replace(['[', ']'], "")
            .trim()
            .to_owned()
    });
    let typed: Vec<_> = typed.collect();
    if typed != step.kept {
        let words = typed.into_iter().filter(|words| !words.is_empty()).collect();
        edits.push(Edit::Kept { step: step.line, words });
    }
}

/// The notes that the rows of one fact say, if they differ from what the page showed.
fn fact_edit(
    line: usize,
    at: &str,
    fact: &Fact,
    fields: &Fields,
    edits: &mut Vec<Edit>,
    problems: &mut Vec<(String, String)>,
) {
    let typed = |row: usize, field: usize, shown: &facts::Control| {
        let name = fact_name(line, fact.kind, row, field);
        match (fields.get(&name), &shown.is) {
            // A tick that is not set is not sent.
            (None, Shape::Tick) => String::new(),
            (sent, _) => sent.unwrap_or(&shown.value).trim().to_owned(),
        }
    };
    let rows: Vec<Vec<String>> = fact
        .rows
        .iter()
        .enumerate()
        .map(|(row, shown)| shown.iter().enumerate().map(|(at, it)| typed(row, at, it)).collect())
        .collect();
    let same = rows
        .iter()
        .zip(&fact.rows)
        .all(|(typed, shown)| typed.iter().zip(shown).all(|(typed, shown)| *typed == shown.value));
    if same {
        return;
    }
    let said = if fact.kind == NoteKind::Mark {
        marks(fact, &rows[0])
    } else {
        rows.iter().map(|row| facts::words(fact.kind, row)).collect()
    };
    let mut notes = Vec::new();
    for (row, words) in said.into_iter().enumerate() {
        let Some(words) = words else { continue };
        match Note::read(&words) {
            Ok(read) if read.note.kind() == fact.kind && !read.is_reversed => notes.push(read.note),
            _ => {
                let example = fact.kind.example();
                let label = fact.label.to_lowercase();
                let sentence =
                    format!("{at}, {label}: “{words}” was not understood; like “{example}”");
                problems.push((fact_name(line, fact.kind, row, 0), sentence));
            }
        }
    }
    edits.push(Edit::Notes { step: line, kind: fact.kind, notes });
}

fn marks(fact: &Fact, row: &[String]) -> Vec<Option<String>> {
    let set = fact.rows[0].iter().zip(row);
    set.map(|(shown, typed)| (!typed.is_empty()).then(|| shown.means.to_owned())).collect()
}

/// What a button of one row asks for: `out 12`, `up 12`, `step 4`, `part`, `read 12`.
fn pressed(card: &Card, press: &Press, fields: &Fields, edits: &mut Vec<Edit>) -> Option<usize> {
    let Press::Row(words) = press else { return None };
    let (what, line) = words.split_once(' ').unwrap_or((words, ""));
    let line: usize = line.parse().unwrap_or(0);
    let place = |line: usize| card.steps().position(|(_, step)| step.line == line);
    match what {
        "out" => {
            edits.push(Edit::TakeOut { step: line });
            None
        }
        "up" => {
            edits.push(Edit::MoveUp { step: line });
            let (part, _) = card.steps().find(|(_, step)| step.line == line)?;
            let is_first = part.steps.first().is_some_and(|step| step.line == line);
            place(line).map(|at| if is_first { at } else { at - 1 })
        }
        "step" => {
            edits.push(Edit::AddStep { part: line });
            let before = card.parts.iter().take_while(|part| part.line != line);
            let before: usize = before.map(|part| part.steps.len()).sum();
            let own = card.parts.iter().find(|part| part.line == line);
            Some(before + own.map_or(0, |part| part.steps.len()))
        }
        "part" => {
            let name = fields.get("new.part").unwrap_or_default().to_owned();
            edits.push(Edit::AddPart { name });
            None
        }
        _ => place(line),
    }
}
