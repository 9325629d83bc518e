//! A line cut into tokens: numbers, words and marks, each with its bytes.

use std::borrow::Cow;
use std::ops::Range;

use num_rational::BigRational;

use super::units;

use crate::domain::quantity::Amount;

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token<'a> {
    pub is: TokenKind<'a>,
    pub bytes: Range<usize>,
    /// True when white space (or the start of the line) stands before it.
    pub after_space: bool,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum TokenKind<'a> {
    Number(BigRational),
    /// Lower case; hyphens and apostrophes inside a word belong to it.
    Word(Cow<'a, str>),
    Mark(char),
}

impl Token<'_> {
    /// The word in lower case; nothing for a number or a mark.
    pub(super) fn word(&self) -> &str {
        match &self.is {
            TokenKind::Word(word) => word,
            _ => "",
        }
    }

    pub(super) fn is_mark(&self, mark: char) -> bool {
        self.is == TokenKind::Mark(mark)
    }

    pub(super) const fn number(&self) -> Option<&BigRational> {
        match &self.is {
            TokenKind::Number(value) => Some(value),
            _ => None,
        }
    }
}

/// The tokens as they were written, one space where there was any white space.
pub(super) fn written(text: &str, tokens: &[Token]) -> String {
    let mut words = String::new();
    let mut end = 0;
    for token in tokens {
        // A token between them may have been taken out.
        if !words.is_empty() && (token.after_space || token.bytes.start != end) {
            words.push(' ');
        }
        words.push_str(&text[token.bytes.clone()]);
        end = token.bytes.end;
    }
    words
}

/// Cuts the whole line; every byte that is not white space lies in exactly one token.
pub(super) fn tokens(text: &str) -> Vec<Token<'_>> {
    let mut found = Vec::with_capacity(text.len() / 4 + 1);
    let mut at = 0;
    let mut after_space = true;
    while let Some(sign) = text[at..].chars().next() {
        let blank = blank(&text[at..]);
        if blank > 0 {
            after_space = true;
            at += blank;
            continue;
        }
        let (is, length) = no_figure(&text[at..])
            .or_else(|| number(&text[at..]).map(|(value, it)| (TokenKind::Number(value), it)))
            .or_else(|| word(&text[at..]))
            .unwrap_or((TokenKind::Mark(sign), sign.len_utf8()));
        found.push(Token { is, bytes: at..at + length, after_space });
        at += length;
        after_space = false;
    }
    found
}

/// Bytes of white space at the front: signs without width, and what a copied page leaves behind.
pub(super) fn blank(rest: &str) -> usize {
    const ENTITIES: [&str; 3] = ["&nbsp;", "&ensp;", "&#160;"];
    const ESCAPED: [&str; 3] = ["\\n", "\\r", "\\t"];
    let Some(sign) = rest.chars().next() else { return 0 };
    if sign.is_ascii_alphanumeric() {
        return 0;
    }
    if sign.is_whitespace() || is_hidden(sign) {
        return sign.len_utf8();
    }
    if let Some(entity) = ENTITIES.iter().find(|it| rest.starts_with(**it)) {
        return entity.len();
    }
    // A line break that a data file spelt out.
    if ESCAPED.iter().any(|it| rest.starts_with(it)) {
        return 2;
    }
    // Only what a page is made of: `<sage>` is somebody's way to write sage.
    let Some(inside) = rest.strip_prefix('<') else { return 0 };
    let inside = inside.strip_prefix('/').unwrap_or(inside);
    let element = inside.split(|c: char| !c.is_ascii_alphanumeric()).next().unwrap_or_default();
    if !ELEMENTS.contains(&element.to_ascii_lowercase().as_str()) {
        return 0;
    }
    // A tag is short; looking no further keeps the time in step with the length.
    rest.bytes().take(TAG_MAX).position(|it| it == b'>').map_or(0, |at| at + 1)
}

/// Signs without width.
const fn is_hidden(sign: char) -> bool {
    matches!(
        sign,
        '\u{ad}'
            | '\u{200b}'..='\u{200f}'
            | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{2064}'
            | '\u{2066}'..='\u{2069}'
            | '\u{feff}'
    )
}

/// Little pictures, which decorate a line and name no food.
pub(super) const fn is_picture(sign: char) -> bool {
    matches!(sign, '\u{2600}'..='\u{27bf}' | '\u{fe0f}' | '\u{20e3}' | '\u{1f000}'..='\u{1faff}')
}

const TAG_MAX: usize = 120;

const ELEMENTS: [&str; 17] = [
    "a", "b", "br", "div", "em", "font", "h2", "h3", "i", "li", "p", "small", "span", "strong",
    "sub", "sup", "u",
];

/// Digits that give no amount and stay words: `1/0`, `400/500`, `1/2/3`, `00`, `1e400`, `99999999`,
/// and digits with a sign without width among them.
fn no_figure(rest: &str) -> Option<(TokenKind<'_>, usize)> {
    if !rest.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let ends = |c: char| matches!(c, '/' | '⁄' | '.' | ',') || is_hidden(c);
    let joins = |c: char| c.is_ascii_digit() || ends(c);
    let run = &rest[..rest.find(|c: char| !joins(c)).unwrap_or(rest.len())];
    let run = run.trim_end_matches(ends);
    let behind = &rest[run.len()..];
    let letters = &behind[..behind.find(|c: char| !c.is_alphabetic()).unwrap_or(behind.len())];
    let after = behind[letters.len()..].chars().next();
    let is_code = !letters.is_empty()
        && !matches!(letters, "x" | "X")
        // `1lb2oz`
        && units::unit(&lower(letters)).is_none()
        && after.is_some_and(|c| c.is_ascii_digit());
    let parts: Vec<&str> = run.split(['/', '⁄']).collect();
    let is_odd = match parts.as_slice() {
        _ if run.contains(is_hidden) => true,
        [_] => run.chars().all(|c| matches!(c, '0' | '.' | ',')) || !is_one_figure(run),
        // Three digits are no part of a spoon or a cup: `400/500 g` is a choice of sizes.
        [above, below] => !(is_few(above) && is_few(below)),
        _ => true,
    };
    let length = run.len() + if is_code { letters.len() } else { 0 };
    (is_odd || is_code).then(|| (TokenKind::Word(lower(&rest[..length])), length))
}

fn is_one_figure(run: &str) -> bool {
    figure(run).is_some_and(|(_, length)| length == run.len())
}

fn is_few(digits: &str) -> bool {
    digits.parse().is_ok_and(|it: u32| (1..100).contains(&it))
}

/// In lower case; nothing is copied where it is so already.
fn lower(word: &str) -> Cow<'_, str> {
    let is_lower = word.bytes().all(|it| it.is_ascii() && !it.is_ascii_uppercase());
    if is_lower { Cow::Borrowed(word) } else { Cow::Owned(word.to_lowercase()) }
}

fn word(rest: &str) -> Option<(TokenKind<'_>, usize)> {
    let joins = |c: char| c == '-' || c == '\'' || c == '’' || c == '&';
    let mut end = 0;
    let mut signs = rest.char_indices().peekable();
    while let Some((at, sign)) = signs.next() {
        let next_is_letter = signs.peek().is_some_and(|(_, next)| next.is_alphanumeric());
        let goes_on = sign.is_alphabetic() || sign == '°' || (at > 0 && sign.is_ascii_digit());
        let next_is_digit = signs.peek().is_some_and(|(_, next)| next.is_ascii_digit());
        // `200 g-250 g` is a range, and `cups&nbsp;` two words.
        let is_unit = |word: &str| word.len() < 4 && units::unit(word).is_some();
        let parts = sign == '-' && next_is_digit && units::unit(&rest[..at]).is_some()
            // `lb2oz`
            || sign.is_ascii_digit() && is_unit(&rest[..at])
            || sign == '&' && blank(&rest[at..]) > 0;
        if parts || !(goes_on || (at > 0 && joins(sign) && next_is_letter)) {
            break;
        }
        end = at + sign.len_utf8();
    }
    // `2x400 g`: the sign for times is no word of its own.
    if rest.starts_with(['x', 'X']) && rest[1..].starts_with(|c: char| c.is_ascii_digit()) {
        end = 1;
    }
    // The capital letter is the greater spoon; only here does the size of a letter matter.
    let word = match &rest[..end] {
        "T" => Cow::Borrowed("tbsp"),
        "t" => Cow::Borrowed("tsp"),
        other => lower(other),
    };
    (end > 0).then_some((TokenKind::Word(word), end))
}

/// `1`, `1.5`, `1,5`, `1,250`, `1/2`, `1 1/2`, `1-1/2`, `1½`, `½`. Figures beyond the bound of a
/// typed amount are no numbers, so that no line can cost more than its length.
fn number(rest: &str) -> Option<(BigRational, usize)> {
    let (whole, length) = match figure(rest) {
        Some(found) => found,
        None => {
            let (part, length) = glyph(rest)?;
            return Some((part, length));
        }
    };
    let after = &rest[length..];
    if let Some((part, more)) = glyph(after.trim_start_matches(narrow)) {
        let gap = after.len() - after.trim_start_matches(narrow).len();
        return Some((whole + part, length + gap + more));
    }
    // `1/2`: the figure is a numerator.
    if let Some((below, more)) = slash(after) {
        return fraction(&whole, below).map(|value| (value, length + more));
    }
    // `1 1/2` and `1-1/2`: a fraction stands behind.
    let gap = after.len() - after.trim_start_matches(|c| narrow(c) || c == '-').len();
    if (1..=3).contains(&gap)
        && let Some((above, top)) = figure(&after[gap..])
        && let Some((below, more)) = slash(&after[gap + top..])
        && let Some(part) = fraction(&above, below)
        && part < BigRational::from_integer(1.into())
        && whole.is_integer()
        // `2 1/2/3` is no figure at all.
        && !after[gap + top + more..].starts_with(['/', '⁄'])
        && !is_thickness(&whole, &after[gap + top + more..])
    {
        return Some((whole + part, length + gap + top + more));
    }
    Some((whole, length))
}

/// `8 1/2-inch-thick slices` are eight; in `1 1/2-inch piece` the figure is the length of one.
fn is_thickness(count: &BigRational, behind: &str) -> bool {
    let behind: String = behind.chars().take(40).collect::<String>().to_lowercase();
    let behind = behind.trim_start_matches(|c| narrow(c) || c == '-');
    let measures = ["inch", "cm", "mm"].iter().any(|it| behind.starts_with(it));
    let is_one = *count == BigRational::from_integer(1.into());
    let is_many = |word: &str| word.len() > 3 && word.trim_end_matches(',').ends_with('s');
    measures && (is_one || behind.split_whitespace().take(4).any(is_many))
}

fn narrow(sign: char) -> bool {
    matches!(sign, ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}')
}

fn fraction(above: &BigRational, below: u32) -> Option<BigRational> {
    let fits = above.is_integer() && below > 0;
    fits.then(|| above / BigRational::from_integer(below.into()))
}

/// `/2` or `⁄2`, with its length.
fn slash(rest: &str) -> Option<(u32, usize)> {
    let mark = rest.chars().next().filter(|c| matches!(c, '/' | '⁄'))?;
    let digits: String =
        rest[mark.len_utf8()..].chars().take_while(char::is_ascii_digit).take(7).collect();
    let below = digits.parse().ok().filter(|below| (1..=Amount::TERM_MAX).contains(below))?;
    Some((below, mark.len_utf8() + digits.len()))
}

/// Digits with a decimal or thousands mark.
fn figure(rest: &str) -> Option<(BigRational, usize)> {
    let digits = |from: &str| from.bytes().take_while(u8::is_ascii_digit).count();
    let whole = digits(rest);
    if whole > 7 {
        return None;
    }
    if whole == 0 {
        // `.5 cup`
        let decimals = rest.strip_prefix('.').map_or(0, digits);
        let few = (1..=4).contains(&decimals);
        let above: u32 = rest.get(1..=decimals).filter(|_| few)?.parse().ok()?;
        let below = 10_u32.pow(u32::try_from(decimals).ok()?);
        let value = BigRational::new(above.into(), below.into());
        return (above > 0).then_some((value, decimals + 1));
    }
    let mark = rest[whole..].chars().next().filter(|c| matches!(c, '.' | ','));
    let after = mark.map_or(0, |_| digits(&rest[whole + 1..]));
    let (text, decimals, length) = match (mark, after) {
        (Some(','), 3) => {
            (format!("{}{}", &rest[..whole], &rest[whole + 1..whole + 4]), 0, whole + 4)
        }
        (Some('.'), 1..=4) | (Some(','), 1..=2) => {
            let end = whole + 1 + after;
            (format!("{}{}", &rest[..whole], &rest[whole + 1..end]), after, end)
        }
        _ => (rest[..whole].to_owned(), 0, whole),
    };
    let above: u64 = text.parse().ok()?;
    let below = 10_u64.pow(u32::try_from(decimals).ok()?);
    let value = BigRational::new(above.into(), below.into());
    let bound = BigRational::from_integer(Amount::TERM_MAX.into());
    (value <= bound).then_some((value, length))
}

/// One sign for a fraction.
fn glyph(rest: &str) -> Option<(BigRational, usize)> {
    let sign = rest.chars().next()?;
    let (above, below) = match sign {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((BigRational::new(above.into(), below.into()), sign.len_utf8()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_exactly_and_bounded() {
        let value = |text: &str| match tokens(text).first().map(|token| token.is.clone()) {
            Some(TokenKind::Number(value)) => Some(value.to_string()),
            _ => None,
        };
        for (typed, read) in [
            ("1", "1"),
            ("1 1/2 cups", "3/2"),
            ("1-1/2", "3/2"),
            ("1½", "3/2"),
            ("2 1⁄3", "7/3"),
            ("⅞ cup", "7/8"),
            ("1.5", "3/2"),
            ("1,5", "3/2"),
            ("1,250 g", "1250"),
            ("7/8", "7/8"),
            (".5 cup", "1/2"),
            ("2x400 g", "2"),
            ("8 1/2-inch-thick slices", "8"),
            ("2 1/2-inch piece", "5/2"),
        ] {
            assert_eq!(value(typed).as_deref(), Some(read), "{typed}");
        }
        assert_eq!(value("99999999999"), None);
        for odd in [
            "1/0 cup",
            "0 g",
            "00 flour",
            "1e400 g",
            "400/500 g",
            "1/2/3 cup",
            "1000001 g",
            "1,250,000 g",
            "1,2,3",
        ] {
            assert_eq!(value(odd), None, "{odd}");
        }
    }
}
