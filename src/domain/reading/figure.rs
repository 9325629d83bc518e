//! Figures looked for at one place in the tokens; nothing is taken until the caller takes it.
//!
//! ```text
//! range  = "between" figure "and" figure
//!        | figure [("-" | "to" | "or") figure]
//! figure = number ["and" part] | part ["of"] ["a"]
//!        | number-word ["and" "a" part-word]
//!        | [number-word] part-word ["of"] ["a"] | "a couple of"
//! lone   = about* range [size] unit ["and" | "," figure ounces] ["each"]
//! ```

use num_rational::BigRational;
use num_traits::One;

use super::token::Token;
use super::units;
use super::words;
use crate::domain::quantity::{Amount, Unit};

/// Two ends, equal for one figure, and the token behind them.
pub(super) struct Range {
    pub low: BigRational,
    pub high: BigRational,
    pub next: usize,
}

/// An amount by itself, such as `about 14 oz each`.
pub(super) struct Lone {
    pub amount: Amount,
    pub is_about: bool,
    pub is_each: bool,
    pub next: usize,
}

pub(super) fn word<'a>(tokens: &'a [Token], at: usize) -> &'a str {
    tokens.get(at).map_or("", Token::word)
}

pub(super) fn is_mark(tokens: &[Token], at: usize, mark: char) -> bool {
    tokens.get(at).is_some_and(|token| token.is_mark(mark))
}

pub(super) fn is_number(tokens: &[Token], at: usize) -> bool {
    tokens.get(at).is_some_and(|token| token.number().is_some())
}

pub(super) fn is_dash(tokens: &[Token], at: usize) -> bool {
    ['-', '–', '—', '‒', '−'].iter().any(|mark| is_mark(tokens, at, *mark))
}

/// A figure, or two with `-`, `to`, `or` or a dash between them.
pub(super) fn range(tokens: &[Token], at: usize) -> Option<Range> {
    if word(tokens, at) == "between" {
        let (low, behind) = figure(tokens, at + 1)?;
        let (high, next) = figure(tokens, behind + 1).filter(|_| word(tokens, behind) == "and")?;
        return Some(Range { low, high, next });
    }
    let (low, next) = figure(tokens, at)?;
    // `3- to 4-pound`
    let hanging = usize::from(is_dash(tokens, next) && is_to(word(tokens, next + 1)));
    let joint = next + hanging;
    if !(is_dash(tokens, joint) || is_to(word(tokens, joint))) {
        return Some(Range { high: low.clone(), low, next });
    }
    let Some((high, behind)) = figure(tokens, joint + 1) else {
        return Some(Range { high: low.clone(), low, next });
    };
    // `1 - 1/2 tsp` is one and a half.
    if is_dash(tokens, joint) && low.is_integer() && high < BigRational::one() {
        let sum = low + high;
        return Some(Range { low: sum.clone(), high: sum, next: behind });
    }
    Some(Range { low, high, next: behind })
}

fn is_to(word: &str) -> bool {
    matches!(word, "to" | "or")
}

/// One figure, in digits or words.
pub(super) fn figure(tokens: &[Token], at: usize) -> Option<(BigRational, usize)> {
    if let Some(value) = tokens.get(at)?.number() {
        // `1 1/0`: what stands behind it was meant to be part of it.
        if word(tokens, at + 1).starts_with(|sign: char| sign.is_ascii_digit()) {
            return None;
        }
        return Some(with_part(tokens, value.clone(), at + 1));
    }
    let first = word(tokens, at);
    let second = word(tokens, at + 1);
    if let Some(below) = words::part_word(first) {
        return part_of_one(tokens, at + 1, 1, below).filter(|_| opens_part(second));
    }
    if first == "couple" {
        return Some((whole(2), at + 1 + usize::from(second == "of")));
    }
    if first == "dozen" {
        return Some((whole(1), at));
    }
    let count = words::number_word(first)?;
    if second == "couple" {
        return figure(tokens, at + 1);
    }
    if let Some(below) = words::part_word(second).filter(|_| word(tokens, at + 2) != "and") {
        return part_of_one(tokens, at + 2, count, below);
    }
    // `five spice powder` counts nothing, nor does `a few`.
    let is_vague =
        words::is_vague(second) || words::is_size(second) && words::is_vague(word(tokens, at + 2));
    let counts = !is_vague && second != "spice" && tokens.len() > at + 1;
    counts.then(|| with_part(tokens, whole(count), at + 1))
}

/// What may follow `half`: `half a lemon`, `half teaspoon`; not `half and half`, `half fat`.
fn opens_part(next: &str) -> bool {
    !matches!(next, "and" | "fat" | "&" | "")
}

/// `half of a`, `three quarters of a`.
fn part_of_one(
    tokens: &[Token],
    behind: usize,
    count: u32,
    below: u32,
) -> Option<(BigRational, usize)> {
    let value = BigRational::new(count.into(), below.into());
    Some((value, past_of_a(tokens, behind)))
}

fn past_of_a(tokens: &[Token], at: usize) -> usize {
    let of = at + usize::from(word(tokens, at) == "of");
    of + usize::from(words::is_article(word(tokens, of)))
}

/// `1 and 1/2`, `two and a half`, and the words behind a bare part: `1/4 of a`.
fn with_part(tokens: &[Token], value: BigRational, at: usize) -> (BigRational, usize) {
    let joins = word(tokens, at) == "and" || is_mark(tokens, at, '&');
    if joins && value.is_integer() {
        let part =
            tokens.get(at + 1).and_then(Token::number).filter(|it| **it < BigRational::one());
        if let Some(part) = part {
            return (value + part, at + 2);
        }
        let article = usize::from(word(tokens, at + 1) == "a");
        if let Some(below) = words::part_word(word(tokens, at + 1 + article)) {
            let part = BigRational::new(1.into(), below.into());
            return (value + part, past_of_a(tokens, at + 2 + article));
        }
    }
    let is_part = value < BigRational::one();
    let of = usize::from(word(tokens, at) == "of");
    if is_part && words::is_article(word(tokens, at + of)) {
        return (value, at + of + 1);
    }
    (value, at)
}

/// `about`, `c.`, `roughly`: the token behind them.
pub(super) fn past_approximate(tokens: &[Token], at: usize) -> usize {
    let first = word(tokens, at);
    let two = matches!(
        (first, word(tokens, at + 1)),
        ("just", "under" | "over") | ("a", "good" | "scant" | "generous" | "full") | ("or", "so")
    );
    if two {
        return at + 2;
    }
    let dot = usize::from(is_mark(tokens, at + 1, '.'));
    let stands = first != "c" || is_number(tokens, at + 1 + dot);
    if words::is_approximate(first) && stands {
        return at + 1 + dot;
    }
    at + usize::from(is_mark(tokens, at, '~') || is_mark(tokens, at, '≈'))
}

/// An amount that stands by itself from `at` on; a count of sizes (`about 6 medium`) is one too.
pub(super) fn lone(tokens: &[Token], at: usize) -> Option<Lone> {
    let mut start = past_approximate(tokens, at);
    let is_about = start > at;
    if word(tokens, start) == "a" && words::is_size(word(tokens, start + 1)) {
        start += 1;
    }
    start += usize::from(words::is_size(word(tokens, start)) && is_number(tokens, start + 1));
    let found = range(tokens, start)?;
    let dash = usize::from(is_dash(tokens, found.next));
    let mut next = found.next + dash;
    while words::is_size(word(tokens, next)) {
        next += 1;
    }
    let (unit, behind) = match units::unit_at(tokens, next) {
        Some(found) => found,
        None if next > found.next + dash => (Unit::Each, next),
        None => {
            // `(16 oz)` ends in its unit.
            let last = units::unit(word(tokens, next)).filter(|_| tokens.len() == next + 1);
            (last?, next + 1)
        }
    };
    let mut next = behind;
    let mut amount = Amount::between(found.low, found.high, unit);
    if let Some((ounces, behind)) = ounces_behind(tokens, next, &amount) {
        amount = Amount::of(amount.high() + ounces, Unit::Pound);
        next = behind;
    }
    let is_each = word(tokens, next) == "each";
    Some(Lone { amount, is_about, is_each, next: next + usize::from(is_each) })
}

/// `2 lb 4 oz` as one figure, in the first unit.
fn ounces_behind(tokens: &[Token], at: usize, pounds: &Amount) -> Option<(BigRational, usize)> {
    let ounces = tokens.get(at)?.number()?;
    let (unit, next) = units::unit_at(tokens, at + 1)?;
    let fits = pounds.unit() == Unit::Pound && !pounds.is_range() && unit == Unit::Ounce;
    fits.then(|| (ounces / whole(16), next))
}

pub(super) fn whole(figure: u32) -> BigRational {
    BigRational::from_integer(figure.into())
}
