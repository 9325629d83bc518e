//! A line cut into tokens: numbers, words and marks, each with its bytes.

use std::ops::Range;

use num_rational::BigRational;

use crate::domain::quantity::Amount;

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub is: TokenKind,
    pub bytes: Range<usize>,
    /// True when white space (or the start of the line) stands before it.
    pub after_space: bool,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum TokenKind {
    Number(BigRational),
    /// Lower case; hyphens and apostrophes inside a word belong to it.
    Word(String),
    Mark(char),
}

/// Cuts the whole line; every byte that is not white space lies in exactly one token.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut found = Vec::new();
    let mut at = 0;
    let mut after_space = true;
    while let Some(sign) = text[at..].chars().next() {
        if sign.is_whitespace() {
            after_space = true;
            at += sign.len_utf8();
            continue;
        }
        let (is, length) = number(&text[at..])
            .map(|(value, length)| (TokenKind::Number(value), length))
            .or_else(|| word(&text[at..]))
            .unwrap_or((TokenKind::Mark(sign), sign.len_utf8()));
        found.push(Token { is, bytes: at..at + length, after_space });
        at += length;
        after_space = false;
    }
    found
}

fn word(rest: &str) -> Option<(TokenKind, usize)> {
    let joins = |c: char| c == '-' || c == '\'' || c == '’' || c == '&';
    let mut end = 0;
    let mut signs = rest.char_indices().peekable();
    while let Some((at, sign)) = signs.next() {
        let next_is_letter = signs.peek().is_some_and(|(_, next)| next.is_alphanumeric());
        let goes_on = sign.is_alphabetic() || sign == '°' || (at > 0 && sign.is_ascii_digit());
        if !(goes_on || (at > 0 && joins(sign) && next_is_letter)) {
            break;
        }
        end = at + sign.len_utf8();
    }
    (end > 0).then(|| (TokenKind::Word(rest[..end].to_lowercase()), end))
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
    {
        return Some((whole + part, length + gap + top + more));
    }
    Some((whole, length))
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
    if whole == 0 || whole > 7 {
        return None;
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
        ] {
            assert_eq!(value(typed).as_deref(), Some(read), "{typed}");
        }
        assert_eq!(value("99999999999"), None);
        assert_eq!(value("1/0").as_deref(), Some("1"));
    }
}
