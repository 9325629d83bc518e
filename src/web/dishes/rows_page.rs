//! View model of the card in rows: closed a step is read, open it is changed.

use askama::Template;

use super::desk_page::DeskPage;
use super::facts::{self, Shape};
use super::form::{DeskForm, Fields};
use super::reading::{ReadingView, RemarkView};
use super::rows;
use super::says;
use crate::domain::card::{self, Part, Reading, Step};
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "dishes/rows.html")]
pub struct RowsPage {
    frame: Frame,
    action: String,
    leave: String,
    heading: String,
    state: String,
    version: u32,
    text: String,
    problems: Vec<Problem>,
    reading: ReadingView,
    heads: Vec<HeadField>,
    parts: Vec<PartRows>,
    new_part: String,
}

struct Problem {
    sentence: String,
    field: String,
}

struct HeadField {
    name: String,
    label: String,
    hint: &'static str,
    value: String,
}

struct PartRows {
    name: String,
    /// Its line; 0 for a card without parts.
    line: usize,
    hands: String,
    about: String,
    heads: Vec<HeadField>,
    steps: Vec<StepRow>,
}

struct StepRow {
    line: usize,
    number: u32,
    text: String,
    text_name: String,
    says: String,
    /// `bad`, `yel`, `ask` or nothing.
    class: &'static str,
    flags: Vec<String>,
    is_open: bool,
    is_first: bool,
    goes_in: Vec<GoesInRow>,
    /// Set, or always asked for.
    facts: Vec<FactView>,
    more: Vec<FactView>,
    kept: Vec<(String, String)>,
}

struct GoesInRow {
    much_name: String,
    what_name: String,
    much: String,
    what: String,
    is_new: bool,
}

struct FactView {
    label: &'static str,
    hint: &'static str,
    rows: Vec<Vec<FieldView>>,
    problem: Option<String>,
}

struct FieldView {
    name: String,
    before: &'static str,
    after: &'static str,
    means: String,
    value: String,
    /// Of an input: `n` or `w`; empty for the others.
    size: &'static str,
    choices: Vec<(&'static str, &'static str, bool)>,
    is_tick: bool,
}

/// What was typed where the text could not take it over; empty otherwise.
struct Typed<'a> {
    fields: &'a Fields,
    problems: &'a [(String, String)],
}

impl RowsPage {
    pub fn new(
        desk: DeskPage,
        reading: &Reading,
        form: &DeskForm,
        problems: &[(String, String)],
        open: Option<usize>,
    ) -> Self {
        let typed = Typed { fields: &form.fields, problems };
        let mut place = 0;
        let part = |part: &Part| {
            let first = place;
            place += part.steps.len();
            let mut rows = PartRows::new(part, first, &desk.reading, &typed, open);
            rows.heads = heads_of_part(&form.text, reading, part, &typed);
            rows
        };
        let fields = problems
            .iter()
            .map(|(field, sentence)| Problem { sentence: sentence.clone(), field: field.clone() });
        let whole = desk.problems.iter().filter(|it| !problems.iter().any(|(_, that)| that == *it));
        let whole =
            whole.map(|sentence| Problem { sentence: sentence.clone(), field: "heads".to_owned() });
        Self {
            action: desk.action,
            leave: desk.leave,
            heading: desk.heading,
            state: desk.state,
            version: desk.version,
            problems: fields.chain(whole).collect(),
            heads: heads(&form.text, reading, &typed),
            parts: reading.card.parts.iter().map(part).collect(),
            new_part: typed.or("new.part", ""),
            text: form.text.clone(),
            reading: desk.reading,
            frame: desk.frame,
        }
    }
}

impl Typed<'_> {
    /// What was sent, if it has to come back as it was; else what the card says.
    fn or(&self, name: &str, said: &str) -> String {
        let sent = if self.problems.is_empty() { None } else { self.fields.get(name) };
        sent.unwrap_or(said).to_owned()
    }
}

/// The heads there are, then those that may be added; the name of the dish first.
fn heads(text: &str, reading: &Reading, typed: &Typed<'_>) -> Vec<HeadField> {
    let mut there = card::heads(text, reading);
    let first_part = reading.card.parts.iter().map(|part| part.line).find(|line| *line > 0);
    there.retain(|(line, _, _)| first_part.is_none_or(|first| *line < first));
    let own = there.iter().map(|(line, name, value)| {
        let field = rows::head_name(*line);
        let value = typed.or(&field, value);
        HeadField { name: field, label: label(name), hint: hint(name), value }
    });
    let missing = rows::HEADS
        .iter()
        .filter(|(name, _, _)| *name == "vessel" || !there.iter().any(|(_, it, _)| it == name));
    let missing = missing.map(|(name, label, hint)| {
        let field = rows::new_head_name(name);
        let label = match (*name, there.iter().any(|(_, it, _)| *it == "vessel")) {
            ("vessel", true) => "Or in",
            _ => label,
        };
        let value = typed.or(&field, "");
        HeadField { name: field, label: label.to_owned(), hint, value }
    });
    own.chain(missing).collect()
}

fn label(name: &str) -> String {
    match name {
        "dish" | "" => "Dish".to_owned(),
        "base" => "Base".to_owned(),
        "makes" => "Makes".to_owned(),
        name => {
            let known = rows::HEADS.iter().find(|(head, _, _)| *head == name);
            known.map_or_else(|| name.to_owned(), |(_, label, _)| (*label).to_owned())
        }
    }
}

fn hint(name: &str) -> &'static str {
    rows::HEADS.iter().find(|(head, _, _)| *head == name).map_or("", |(_, _, hint)| *hint)
}

/// The heads between the name of a part and the next part.
fn heads_of_part(text: &str, reading: &Reading, part: &Part, typed: &Typed<'_>) -> Vec<HeadField> {
    let next = reading.card.parts.iter().map(|it| it.line).find(|line| *line > part.line);
    let own = card::heads(text, reading).into_iter().filter(|(line, _, _)| {
        part.line > 0 && *line > part.line && next.is_none_or(|next| *line < next)
    });
    let field = |(line, name, value): (usize, &str, &str)| {
        let field = rows::head_name(line);
        let value = typed.or(&field, value);
        HeadField { name: field, label: label(name), hint: hint(name), value }
    };
    own.map(field).collect()
}

impl PartRows {
    fn new(
        part: &Part,
        first: usize,
        reading: &ReadingView,
        typed: &Typed<'_>,
        open: Option<usize>,
    ) -> Self {
        let hands: u32 = part.steps.iter().filter_map(|step| step.hands).map(|it| it.minutes).sum();
        let stops = part.steps.iter().flat_map(|step| &step.stops).map(says::stop);
        let steps = part.steps.iter().enumerate().map(|(at, step)| {
            let next = part.steps.get(at + 1).map_or(usize::MAX, |next| next.line);
            let until = next.min(step.line + span(step));
            let remarks = reading.remarks.iter();
            let remarks: Vec<_> = remarks
                .filter(|it| it.line.is_some_and(|line| (step.line..until).contains(&line)))
                .collect();
            StepRow::new(step, &remarks, typed, open == Some(first + at), at == 0)
        });
        Self {
            name: part.name.clone(),
            line: part.line,
            hands: if hands == 0 { String::new() } else { hands.to_string() },
            about: stops.collect::<Vec<_>>().join("; "),
            heads: Vec::new(),
            steps: steps.collect(),
        }
    }
}

/// Lines from the first of a step to the last that goes in, and the one after.
fn span(step: &Step) -> usize {
    let last = step.goes_in.iter().map(|entry| entry.line).max().unwrap_or(step.line);
    last.max(step.line) - step.line + 1
}

impl StepRow {
    fn new(
        step: &Step,
        remarks: &[&RemarkView],
        typed: &Typed<'_>,
        is_open: bool,
        is_first: bool,
    ) -> Self {
        let line = step.line;
        let class = ["bad", "yel", "ask"]
            .into_iter()
            .find(|class| remarks.iter().any(|remark| remark.class == *class));
        let facts = facts::facts(step).into_iter().map(|fact| {
            let problem = typed.problems.iter().find(|(field, _)| {
                (0..fact.rows.len()).any(|row| *field == rows::fact_name(line, fact.kind, row, 0))
            });
            let is_shown = fact.is_set || facts::is_common(fact.kind) || problem.is_some();
            (is_shown, FactView::new(line, &fact, problem.map(|(_, it)| it.clone()), typed))
        });
        let (shown, more): (Vec<_>, Vec<_>) = facts.partition(|(is_shown, _)| *is_shown);
        let has_problem = shown.iter().any(|(_, fact)| fact.problem.is_some());
        let kept = step.kept.iter().enumerate().map(|(index, words)| {
            let name = rows::kept_name(line, index);
            let value = typed.or(&name, words);
            (name, value)
        });
        let text_name = rows::sentence_name(line);
        Self {
            line,
            number: step.number,
            text: typed.or(&text_name, &step.text),
            text_name,
            says: step_says(step),
            class: class.unwrap_or(""),
            flags: remarks.iter().map(|remark| remark.sentence.clone()).collect(),
            is_open: is_open || has_problem || class == Some("bad"),
            is_first,
            goes_in: goes_in(step, typed),
            facts: shown.into_iter().map(|(_, fact)| fact).collect(),
            more: more.into_iter().map(|(_, fact)| fact).collect(),
            kept: kept.collect(),
        }
    }
}

fn step_says(step: &Step) -> String {
    let lines = match step.goes_in.len() {
        0 => String::new(),
        1 => "1 line goes in. ".to_owned(),
        more => format!("{more} lines go in. "),
    };
    format!("{lines}{}", says::step(step))
}

fn goes_in(step: &Step, typed: &Typed<'_>) -> Vec<GoesInRow> {
    let there = step.goes_in.iter().map(|entry| {
        let [much_name, what_name] = rows::goes_in_names(entry.line);
        let (much, what) = rows::much_and_what(entry);
        let (much, what) = (typed.or(&much_name, &much), typed.or(&what_name, &what));
        GoesInRow { much_name, what_name, much, what, is_new: false }
    });
    let [much_name, what_name] = rows::new_goes_in_names(step.line);
    let (much, what) = (typed.or(&much_name, ""), typed.or(&what_name, ""));
    let new = GoesInRow { much_name, what_name, much, what, is_new: true };
    there.chain(std::iter::once(new)).collect()
}

impl FactView {
    fn new(line: usize, fact: &facts::Fact, problem: Option<String>, typed: &Typed<'_>) -> Self {
        let field = |row: usize, at: usize, control: &facts::Control| {
            let name = rows::fact_name(line, fact.kind, row, at);
            let value = match control.is {
                // A tick that was taken away is not among what was sent.
                Shape::Tick if !typed.problems.is_empty() => {
                    typed.fields.get(&name).unwrap_or_default().to_owned()
                }
                _ => typed.or(&name, &control.value),
            };
            let (size, choices) = match &control.is {
                Shape::Input(size) => (*size, Vec::new()),
                Shape::Select(choices) => {
                    let choice =
                        |(it, words): &(&'static str, &'static str)| (*it, *words, *it == value);
                    ("", choices.iter().map(choice).collect())
                }
                Shape::Tick => ("", Vec::new()),
            };
            let means = format!("{}: {}", fact.label, control.means);
            FieldView {
                name,
                before: control.before,
                after: control.after,
                means,
                value,
                size,
                choices,
                is_tick: matches!(control.is, Shape::Tick),
            }
        };
        let rows = fact.rows.iter().enumerate().map(|(row, controls)| {
            controls.iter().enumerate().map(|(at, control)| field(row, at, control)).collect()
        });
        Self { label: fact.label, hint: fact.hint, rows: rows.collect(), problem }
    }
}
