//! Reading one ingredient line: pasted, typed in a form, or after the `+` of a card.
//!
//! One pass: the figures at the front ([`amounts`]), then the rest cut at brackets and commas into
//! food, preparation, alternatives and flags ([`parts`]). What is not understood stays as words.

mod amounts;
mod around;
mod behind;
mod figure;
mod line;
mod meaning;
mod name;
mod others;
mod parts;
mod plural;
mod token;
mod units;
mod words;
mod work;

use std::ops::Range;

pub use self::meaning::{MeaningError, meaning};
use self::token::Token;
use super::larder::{Found, Larder};
use super::quantity::{Amount, Unit};
pub use line::{Alternative, IngredientLine, Span, SpanKind};

/// Longer lines are kept as words: nobody's shopping list has them.
pub const LENGTH_MAX: usize = 1_000;

/// Reads `text` in one pass. Never fails: what is not understood stays as words.
/// A line that the school corrected is read as what it meant.
pub fn read_line(text: &str, larder: &Larder) -> IngredientLine {
    let Some(meant) = larder.line_meant(text) else { return read(text, larder) };
    let spans = vec![Span { bytes: 0..text.len(), is: SpanKind::Food }];
    IngredientLine { text: text.to_owned(), spans, ..read(meant, larder) }
}

fn read(text: &str, larder: &Larder) -> IngredientLine {
    if text.len() > LENGTH_MAX || parts::is_negative(text) {
        return as_words(text, larder);
    }
    let mut marks = Marks::over(text);
    let start = parts::past_bullet(text);
    marks.mark(0..start, SpanKind::Between);
    let mut tokens = token::tokens(text);
    tokens.retain(|token| token.bytes.start >= start);
    let mut line = empty(text, Vec::new());
    if let Some(name) = parts::heading(&text[start..], &tokens, larder) {
        marks.mark(start..text.len(), SpanKind::Heading);
        line.spans = marks.spans();
        line.is_heading = true;
        line.name = name;
        return line;
    }
    let start = past_opening(text, &tokens, &mut line, &mut marks);
    let figures = amounts::read(&tokens, start, &mut marks);
    line.amount = figures.amount;
    line.unit = figures.unit;
    line.is_up_to = figures.is_up_to;
    line.is_approximate = figures.is_approximate;
    line.packs = figures.packs;
    line.equivalents = figures.equivalents;
    line.plus = figures.plus;
    let rest = (figures.next, figures.is_each);
    parts::read(text, &tokens, rest, &mut line, &mut marks, larder);
    look_up(&mut line, larder);
    line.spans = marks.spans();
    line
}

/// `Optional: 1/4 cup seeds`, `For the sauce: 2 tbsp butter`: words before a colon that say what for.
fn past_opening(
    text: &str,
    tokens: &[Token],
    line: &mut IngredientLine,
    marks: &mut Marks,
) -> usize {
    let Some(colon) = tokens.iter().take(6).position(|it| it.is_mark(':')) else { return 0 };
    let opening = &tokens[..colon];
    let first = opening.first().map_or("", Token::word);
    let says = matches!(first, "optional" | "for" | "to" | "garnish")
        || opening.len() == 1 && words::is_group(first);
    if !says || opening.iter().any(|it| it.word().is_empty()) || colon + 1 >= tokens.len() {
        return 0;
    }
    if first == "optional" {
        line.is_optional = true;
    } else if opening.iter().any(|it| it.word() == "garnish") {
        line.is_garnish = true;
    } else {
        line.purpose = token::written(text, opening);
    }
    marks.mark_tokens(&tokens[..=colon], SpanKind::Flag);
    colon + 1
}

/// The larder is asked with the state first: `vegetable stock, gluten-free` is a food of its own.
fn look_up(line: &mut IngredientLine, larder: &Larder) {
    let state = line.preparation.split(',').next().unwrap_or_default().trim();
    let mut tries = Vec::new();
    if matches!(line.unit, Some(Unit::Can | Unit::Jar)) {
        // What is in a tin is another food than the fresh one of that name.
        for kept in [state, ""] {
            tries.push(format!("canned {kept} {}", line.name).replace("  ", " "));
            tries.push(format!("{kept} {}", line.name).trim().to_owned());
        }
        tries.push(format!("canned {}", line.food));
    }
    if !state.is_empty() {
        // Cooked rice is a food of its own; tomatoes one chops are not those chopped in a tin.
        if matches!(state, "cooked" | "frozen" | "dried" | "ground") {
            tries.push(format!("{state} {}", line.name));
            tries.push(format!("{state} {}", line.food));
        }
        tries.push(format!("{}, {state}", line.name));
        tries.push(format!("{}, {state}", line.food));
    }
    tries.push(line.name.clone());
    tries.push(line.food.clone());
    line.found = first_known(&tries, larder);
    for other in &mut line.alternatives {
        other.found = first_known(&[other.name.clone(), other.food.clone()], larder);
    }
}

/// The first whole name that is known; else the suggestions for the first that has any.
fn first_known(tries: &[String], larder: &Larder) -> Found {
    if let Some(known) = tries.iter().find_map(|words| larder.known(words)) {
        return Found::Known(known.clone());
    }
    // No whole name is known; the food itself stands last.
    tries.last().map(|food| larder.find(food)).unwrap_or_default()
}

fn as_words(text: &str, larder: &Larder) -> IngredientLine {
    let spans = vec![Span { bytes: 0..text.len(), is: SpanKind::Words }];
    let mut line = empty(text, spans);
    line.name = text.trim().to_owned();
    line.food = line.name.to_lowercase();
    if text.len() <= LENGTH_MAX {
        line.found = larder.find(&line.food);
    }
    line
}

fn empty(text: &str, spans: Vec<Span>) -> IngredientLine {
    IngredientLine {
        text: text.to_owned(),
        spans,
        is_heading: false,
        amount: None,
        is_up_to: false,
        unit: None,
        is_approximate: false,
        packs: Vec::new(),
        equivalents: Vec::new(),
        plus: Vec::new(),
        about: None,
        name: String::new(),
        food: String::new(),
        preparation: String::new(),
        alternatives: Vec::new(),
        together: Vec::new(),
        remark: String::new(),
        is_optional: false,
        is_garnish: false,
        purpose: String::new(),
        found: Found::Unknown,
    }
}

impl IngredientLine {
    /// The amount to buy by: of a range the upper end.
    pub fn most(&self) -> Option<Amount> {
        let amount = self.amount.as_ref()?;
        Some(Amount::of(amount.high().clone(), amount.unit()))
    }

    /// The unit of the amount, or none where the line gives neither.
    pub fn is_counted(&self) -> bool {
        self.unit == Some(Unit::Each)
    }
}

/// What each byte of the line was taken for. One kind a byte, so spans can neither gap nor overlap.
#[derive(Clone, Debug)]
struct Marks(Vec<SpanKind>);

impl Marks {
    fn over(text: &str) -> Self {
        let kind = |byte: u8| match byte {
            b' ' | b'\t' | b'\n' | b'\r' | b',' | b'(' | b')' => SpanKind::Between,
            _ => SpanKind::Words,
        };
        Self(text.bytes().map(kind).collect())
    }

    /// For a trial whose marks nobody needs.
    const fn none() -> Self {
        Self(Vec::new())
    }

    fn mark(&mut self, bytes: Range<usize>, kind: SpanKind) {
        if let Some(marked) = self.0.get_mut(bytes) {
            marked.fill(kind);
        }
    }

    /// From the first of these tokens to the last.
    fn mark_tokens(&mut self, tokens: &[Token], kind: SpanKind) {
        if let (Some(first), Some(last)) = (tokens.first(), tokens.last()) {
            self.mark(first.bytes.start..last.bytes.end, kind);
        }
    }

    fn spans(&self) -> Vec<Span> {
        let mut spans: Vec<Span> = Vec::new();
        for (at, kind) in self.0.iter().enumerate() {
            match spans.last_mut() {
                Some(span) if span.is == *kind => span.bytes.end = at + 1,
                _ => spans.push(Span { bytes: at..at + 1, is: *kind }),
            }
        }
        spans
    }
}
