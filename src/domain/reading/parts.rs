//! The rest of a line behind its figures: food, preparation, alternatives, flags, purposes.

use std::ops::Range;

use super::words::{self, GARNISH, OPTIONAL, PURPOSES};
use super::{IngredientLine, Marks, SpanKind, amounts, name, token};
use crate::domain::larder::{Found, Larder};
use crate::domain::quantity::{Amount, Unit};
use num_rational::BigRational;

/// Where the content starts, behind bullets, tick boxes and list numbers.
pub(super) fn past_bullet(text: &str, marks: &mut Marks) -> usize {
    let mut at = text.len() - text.trim_start().len();
    let rest = &text[at..];
    let bullet = rest.chars().next().filter(|c| "-*•▢☐□–—·+".contains(*c));
    if let Some(sign) = bullet {
        at += sign.len_utf8();
    } else if let Some(boxed) = ["[ ]", "[x]", "[]"].iter().find(|it| rest.starts_with(**it)) {
        at += boxed.len();
    } else {
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        if digits > 0 && digits < 3 && rest[digits..].starts_with(')') {
            at += digits + 1;
        }
    }
    at += text[at..].len() - text[at..].trim_start().len();
    marks.mark(0..at, SpanKind::Between);
    at
}

/// `For the sauce:`, `TOPPING`: the name of a group; none for a line with a figure.
pub(super) fn heading(rest: &str) -> Option<String> {
    let rest = rest.trim();
    if rest.is_empty() || rest.chars().any(|c| c.is_numeric()) {
        return None;
    }
    let optional = rest.to_lowercase().starts_with("optional");
    if let Some(name) = rest.strip_suffix(':').filter(|_| !optional) {
        return Some(name.trim().to_owned());
    }
    let folded = rest.to_lowercase();
    let names_group = folded.starts_with("for the ") && folded.split_whitespace().count() <= 5;
    if names_group && !folded.contains([',', '(']) {
        return Some(rest.to_owned());
    }
    let loud = rest.chars().all(|c| !c.is_lowercase())
        && rest.chars().filter(|c| c.is_alphabetic()).count() > 3;
    loud.then(|| rest.to_owned())
}

/// `Optional: 1/4 cup seeds`.
pub(super) fn past_optional(
    text: &str,
    start: usize,
    line: &mut IngredientLine,
    marks: &mut Marks,
) -> usize {
    let Some(opening) = text.get(start..start + 9) else { return start };
    if !opening.eq_ignore_ascii_case("optional:") {
        return start;
    }
    line.is_optional = true;
    marks.mark(start..start + 9, SpanKind::Flag);
    start + 9
}

/// A run of bytes between brackets or commas.
struct Piece {
    bytes: Range<usize>,
    in_brackets: bool,
}

/// Reads everything from byte `start` into `line`.
pub(super) fn read(
    text: &str,
    start: usize,
    line: &mut IngredientLine,
    marks: &mut Marks,
    larder: &Larder,
) {
    let mut pieces = pieces(text, start);
    let mut preparations = Vec::new();
    let mut behind = Vec::new();
    let name = take_name(text, &mut pieces, line.amount.is_some(), larder);
    for piece in pieces {
        aside(text, &piece, line, marks, &mut behind);
    }
    if let Some(bytes) = name {
        let mut reader = name::Reader { line, larder, preparations: &mut preparations };
        reader.read(text, bytes, marks);
    }
    preparations.append(&mut behind);
    name::complete_states(line);
    if line.amount.is_none() && line.unit.is_none() {
        figures_behind(line, &mut preparations);
    }
    line.preparation = preparations.join(", ");
}

/// `-3 eggs`: nobody can say what is meant, so it stays words.
pub(super) fn is_negative(text: &str) -> bool {
    let mut signs = text.trim_start().chars();
    let minus = signs.next().is_some_and(|c| matches!(c, '-' | '−'));
    minus && signs.next().is_some_and(|c| c.is_ascii_digit())
}

/// Cuts at commas outside brackets, and at brackets.
fn pieces(text: &str, start: usize) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut from = start;
    let mut depth = 0_usize;
    let mut push = |range: Range<usize>, in_brackets: bool| {
        let inside = &text[range.clone()];
        let left = range.start + (inside.len() - inside.trim_start().len());
        let right = left + inside.trim().len();
        if right > left {
            found.push(Piece { bytes: left..right, in_brackets });
        }
    };
    for (at, sign) in text[start..].char_indices() {
        let at = start + at;
        match sign {
            '(' => {
                if depth == 0 {
                    push(from..at, false);
                    from = at + 1;
                }
                depth += 1;
            }
            ')' if depth > 0 => {
                depth -= 1;
                if depth == 0 {
                    push(from..at, true);
                    from = at + 1;
                }
            }
            ',' | ';' if depth == 0 && !inside_figure(text, at) => {
                push(from..at, false);
                from = at + 1;
            }
            _ => {}
        }
    }
    push(from..text.len(), depth > 0);
    found
}

/// The comma of `1,250,000`.
fn inside_figure(text: &str, at: usize) -> bool {
    let is_digit = |at: usize| text.as_bytes().get(at).is_some_and(u8::is_ascii_digit);
    at > 0 && is_digit(at - 1) && is_digit(at + 1)
}

/// The first run outside brackets. `boneless, skinless thighs`, `crisp, tart apples` and lists that
/// share a head noun (`grapeseed, sunflower or other neutral oil`) are joined to it.
fn take_name(
    text: &str,
    pieces: &mut Vec<Piece>,
    has_amount: bool,
    larder: &Larder,
) -> Option<Range<usize>> {
    let first = pieces.iter().position(|piece| !piece.in_brackets)?;
    let mut bytes = pieces.remove(first).bytes;
    while first < pieces.len() && !pieces[first].in_brackets {
        let so_far = &text[bytes.clone()];
        let next = &text[pieces[first].bytes.clone()];
        // `biscuits, egg-free` are bought as such: it is no work of the cook's.
        let is_bought_so = next.ends_with("-free") && !next.contains(' ');
        let leans = has_amount && leans_on(so_far, next, larder);
        if !(is_bought_so || only_describes(so_far) || leans) {
            break;
        }
        bytes.end = pieces.remove(first).bytes.end;
    }
    Some(bytes)
}

fn only_describes(words: &str) -> bool {
    words.split([' ', ',']).filter(|it| !it.is_empty()).all(|it| {
        let word = it.to_lowercase();
        words::is_size(&word) || is_work(&word) || words::is_quality(&word)
    })
}

/// Words that name no food by themselves and stand before some that do.
fn leans_on(before: &str, next: &str, larder: &Larder) -> bool {
    let folded = next.to_lowercase();
    let opening = folded.split(' ').next().unwrap_or_default();
    let is_aside = is_work(opening)
        || words::is_quality(opening)
        || matches!(opening, "or" | "plus" | "for" | "to" | "about" | "such" | "preferably" | "if")
        || folded.starts_with(|c: char| c.is_numeric())
        || PURPOSES.iter().chain(&OPTIONAL).chain(&GARNISH).any(|it| folded.starts_with(it));
    if is_aside {
        return false;
    }
    let unnamed = |words: &str| {
        words.split([' ', ',']).filter(|it| !it.is_empty()).count() <= 3
            && larder.find(&name::food_of(words)) == Found::Unknown
    };
    let shares_head = folded.contains(" or ")
        && before.split(", ").all(|it| name::completed(it, &folded, larder).is_some());
    let names_food = || larder.find(&name::food_of(next)) != Found::Unknown;
    shares_head || unnamed(before) && names_food()
}

fn is_work(word: &str) -> bool {
    words::is_preparation(word) || words::is_manner(word)
}

/// One piece that is not the name.
fn aside(
    text: &str,
    piece: &Piece,
    line: &mut IngredientLine,
    marks: &mut Marks,
    preparations: &mut Vec<String>,
) {
    let words = &text[piece.bytes.clone()];
    let folded = words.to_lowercase();
    let bytes = piece.bytes.clone();
    if GARNISH.iter().any(|it| folded == *it) {
        line.is_garnish = true;
        marks.mark(bytes, SpanKind::Flag);
    } else if OPTIONAL.iter().any(|it| folded == *it) {
        line.is_optional = true;
        marks.mark(bytes, SpanKind::Flag);
    } else if PURPOSES.iter().any(|it| folded.starts_with(it)) || folded == "divided" {
        add_words(&mut line.purpose, words);
        marks.mark(bytes, SpanKind::Purpose);
    } else if folded.starts_with("plus ") {
        name::another_use(words, line);
        marks.mark(bytes, SpanKind::Plus);
    } else if let Some(other) = folded.starts_with("or ").then(|| &words[3..]) {
        name::alternative(other, line);
        marks.mark(bytes, SpanKind::Alternative);
    } else if let Some((amount, used)) =
        whole_amount(words).filter(|_| is_weight_note(&folded, piece))
    {
        let _ = used;
        if piece.in_brackets {
            line.equivalents.push(amount.clone());
        }
        line.about = Some(amount);
        marks.mark(bytes, SpanKind::Equivalent);
    } else {
        preparations.push(tidy(words));
        marks.mark(bytes, SpanKind::Preparation);
    }
}

fn is_weight_note(folded: &str, piece: &Piece) -> bool {
    piece.in_brackets
        || ["about ", "approx", "roughly ", "around "].iter().any(|it| folded.starts_with(it))
}

fn whole_amount(words: &str) -> Option<(Amount, usize)> {
    let tokens = token::tokens(words);
    amounts::lone(&tokens).filter(|(_, used)| *used == tokens.len())
}

/// Without what a copied page leaves behind, and with single spaces.
pub(super) fn tidy(words: &str) -> String {
    let mut kept = String::with_capacity(words.len());
    let mut at = 0;
    while let Some(sign) = words[at..].chars().next() {
        let blank = token::blank(&words[at..]);
        if blank == 0 {
            kept.push(sign);
            at += sign.len_utf8();
            continue;
        }
        if words[at..].starts_with(|c: char| c.is_whitespace() || c == '&') && !kept.ends_with(' ')
        {
            kept.push(' ');
        }
        at += blank;
    }
    kept.trim().to_owned()
}

pub(super) fn add_words(to: &mut String, words: &str) {
    if !to.is_empty() {
        to.push_str(", ");
    }
    to.push_str(words);
}

/// `Unsalted butter, 3 tbsp, melted`: the figure stands behind.
fn figures_behind(line: &mut IngredientLine, preparations: &mut Vec<String>) {
    let place = preparations.iter().position(|words| whole_amount(words).is_some());
    if let Some(place) = place
        && let Some((amount, _)) = whole_amount(&preparations.remove(place))
    {
        line.unit = Some(amount.unit());
        line.amount = Some(amount);
    } else if let Some((name, behind)) = line.name.clone().rsplit_once(" - ")
        && let Some((amount, _)) = whole_amount(behind)
    {
        line.name = name.to_owned();
        line.food = name::food_of(name);
        line.unit = Some(amount.unit());
        line.amount = Some(amount);
    }
    let one = BigRational::from_integer(1.into());
    let bare = line.amount.is_none() && line.unit.is_some_and(|unit| unit != Unit::Each);
    if bare && line.name.is_empty() {
        line.amount = line.unit.map(|unit| Amount::of(one, unit));
    }
}
