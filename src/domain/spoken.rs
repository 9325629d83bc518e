//! Figures as people say them: `a cup and a half`, `three quarters`, `half a dozen`, `two fifty`.
//!
//! Reads from the front of folded text (lower case), looks a few words ahead and no further.

use std::ops::Range;

/// One exact figure and the bytes that say it. Terms stay far below what a fraction of ours may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spoken {
    pub numerator: u32,
    pub denominator: u32,
    pub length: usize,
    /// Only `a` or `an`: a figure if a measure or a food follows.
    pub is_article: bool,
}

impl Spoken {
    const fn of(numerator: u32, denominator: u32, length: usize) -> Self {
        Self { numerator, denominator, length, is_article: false }
    }

    pub const fn whole(self) -> Option<u32> {
        if self.denominator == 1 { Some(self.numerator) } else { None }
    }

    /// Greater than the other, compared exactly.
    pub fn is_above(self, other: Self) -> bool {
        u64::from(self.numerator) * u64::from(other.denominator)
            > u64::from(other.numerator) * u64::from(self.denominator)
    }

    fn plus(self, numerator: u32, denominator: u32, length: usize) -> Self {
        let above = self.numerator * denominator + numerator * self.denominator;
        let below = self.denominator * denominator;
        let divisor = common(above, below);
        Self::of(above / divisor, below / divisor, length)
    }

    /// `3/2` as a cook writes it: `1 1/2`.
    pub fn words(self) -> String {
        let (whole, over) = (self.numerator / self.denominator, self.numerator % self.denominator);
        match (whole, over) {
            (_, 0) => whole.to_string(),
            (0, _) => format!("{over}/{}", self.denominator),
            _ => format!("{whole} {over}/{}", self.denominator),
        }
    }
}

const fn common(mut a: u32, mut b: u32) -> u32 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    if a == 0 { 1 } else { a }
}

/// The figure at the front of `folded`, or none.
pub fn number(folded: &str) -> Option<Spoken> {
    let figure = digits(folded).or_else(|| fraction(folded)).or_else(|| counted(folded))?;
    Some(and_part(&folded[figure.length..]).map_or(figure, |part| {
        if figure.denominator > 1 || figure.is_article {
            return figure;
        }
        figure.plus(part.numerator, part.denominator, figure.length + part.length)
    }))
}

/// ` and a half`, ` and three quarters`: what may stand behind a figure or behind its measure.
pub fn and_part(folded: &str) -> Option<Spoken> {
    let mut words = Words::over(folded);
    if !words.take("and") {
        return None;
    }
    let at = words.at;
    let part = fraction(folded.get(at..)?.trim_start())?;
    // `and half the oil` and `and half a lemon` begin something of their own.
    let gap = folded[at..].len() - folded[at..].trim_start().len();
    let start = at + gap;
    let says_part =
        ["a ", "an ", "one ", "two ", "three "].iter().any(|it| folded[start..].starts_with(it));
    let said = &folded[start..start + part.length];
    let end = start + part.length;
    // `and a quarter of a cup` and `and a half dozen` are amounts of their own.
    let is_own = said.ends_with(" a") || said.ends_with(" an");
    (says_part && !is_own && part.denominator > 1)
        .then(|| Spoken::of(part.numerator, part.denominator, end))
}

/// Two ends: `two or three`, `25 to 30`, `2-3`, `between two and three`, `twenty, twenty-five`.
pub fn range(folded: &str) -> Option<(Spoken, Spoken)> {
    let (skip, is_between) = match folded.strip_prefix("between ") {
        Some(_) => ("between ".len(), true),
        None => (0, false),
    };
    let low = number(&folded[skip..])?;
    let low = Spoken { length: low.length + skip, ..low };
    let rest = &folded[low.length..];
    let gap = rest.len() - rest.trim_start().len();
    let joined = &rest[gap..];
    let joins: &[&str] = if is_between {
        &["and "]
    } else {
        &["to ", "or ", "- ", "-", "– ", "–", ", maybe ", ", "]
    };
    let high = joins.iter().find_map(|join| {
        let after = joined.strip_prefix(join)?;
        let after_trimmed = after.strip_prefix("maybe ").unwrap_or(after);
        let skipped = after.len() - after_trimmed.len();
        let high = number(after_trimmed).filter(|it| !it.is_article && it.is_above(low))?;
        // A comma joins two figures only where the second ends in a measure said once for both.
        let is_listed = join.starts_with(',');
        let near = u64::from(high.numerator) * u64::from(low.denominator)
            <= 2 * u64::from(low.numerator) * u64::from(high.denominator);
        (!is_listed || near && low.whole() >= Some(5)).then(|| Spoken {
            length: low.length + gap + join.len() + skipped + high.length,
            ..high
        })
    });
    match high {
        Some(high) if !low.is_article => Some((low, high)),
        _ if is_between => None,
        _ => Some((low, low)),
    }
}

/// `250`, `1.5`, `1,5`, `1,250`, `1/2`, `1 1/2`, `½`, `1½`.
fn digits(folded: &str) -> Option<Spoken> {
    let count = folded.bytes().take_while(u8::is_ascii_digit).count();
    if count == 0 {
        let (above, below, length) = glyph(folded)?;
        return Some(Spoken::of(above, below, length));
    }
    if count > 5 {
        return None;
    }
    let whole: u32 = folded[..count].parse().ok()?;
    let rest = &folded[count..];
    if let Some((above, below, length)) = glyph(rest.trim_start_matches(' ')) {
        let gap = rest.len() - rest.trim_start_matches(' ').len();
        return Some(Spoken::of(whole, 1, count).plus(above, below, count + gap + length));
    }
    if let Some((below, length)) = slash(rest) {
        return Some(Spoken::of(whole, 1, 0)).filter(|_| below > 0 && whole < 100).map(|it| {
            let divisor = common(it.numerator, below);
            Spoken::of(it.numerator / divisor, below / divisor, count + length)
        });
    }
    let after = rest.get(1..).unwrap_or_default();
    let decimals = after.bytes().take_while(u8::is_ascii_digit).count();
    let end = count + 1 + decimals;
    let is_marked = rest.starts_with(['.', ',']) && decimals > 0;
    let more = folded.as_bytes().get(end..).unwrap_or_default();
    if is_marked
        && matches!(more.first(), Some(b'.' | b',' | b'/'))
        && more.get(1).is_some_and(u8::is_ascii_digit)
    {
        return None;
    }
    match (rest.bytes().next(), decimals) {
        (Some(b','), 3) if whole < 100 => {
            return Some(Spoken::of(whole * 1000 + after[..3].parse::<u32>().ok()?, 1, end));
        }
        (Some(b'.'), 1..=3) | (Some(b','), 1..=2) => {
            let scale = 10_u32.pow(u32::try_from(decimals).ok()?);
            let part: u32 = after[..decimals].parse().ok()?;
            return Some(Spoken::of(whole, 1, 0).plus(part, scale, end));
        }
        // `1.2.3`, `12.5000`: no figure of a kitchen.
        (Some(b'.' | b','), 1..) => return None,
        _ => {}
    }
    let behind = rest.trim_start_matches(' ');
    let gap = rest.len() - behind.len();
    let above = behind.bytes().take_while(u8::is_ascii_digit).count();
    if (1..=2).contains(&gap)
        && (1..=2).contains(&above)
        && let Some((below, length)) = slash(&behind[above..])
        && let Ok(above_figure) = behind[..above].parse::<u32>()
        && below > above_figure
    {
        let end = count + gap + above + length;
        return Some(Spoken::of(whole, 1, 0).plus(above_figure, below, end));
    }
    Some(Spoken::of(whole, 1, count))
}

fn slash(rest: &str) -> Option<(u32, usize)> {
    let mark = rest.chars().next().filter(|it| matches!(it, '/' | '\u{2044}'))?;
    let after = &rest[mark.len_utf8()..];
    let count = after.bytes().take_while(u8::is_ascii_digit).count();
    let below = after.get(..count).filter(|_| (1..=2).contains(&count))?.parse().ok()?;
    Some((below, mark.len_utf8() + count))
}

fn glyph(rest: &str) -> Option<(u32, u32, usize)> {
    let sign = rest.chars().next()?;
    let (above, below) = match sign {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((above, below, sign.len_utf8()))
}

/// Words one after the other; a hyphen parts them like a space.
struct Words<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Words<'a> {
    const fn over(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

    fn next(&self) -> Option<(&'a str, Range<usize>)> {
        let rest = &self.text[self.at..];
        let behind = rest.trim_start_matches([' ', '-', '\n', '\t']);
        let is_near = rest.len() - behind.len() <= 4;
        let start = self.at + rest.len() - behind.len();
        let end = behind.find(|c: char| !c.is_alphabetic()).unwrap_or(behind.len());
        (end > 0 && is_near).then(|| (&behind[..end], start..start + end))
    }

    fn take(&mut self, word: &str) -> bool {
        match self.next() {
            Some((next, bytes)) if next == word => {
                self.at = bytes.end;
                true
            }
            _ => false,
        }
    }

    fn take_any(&mut self, words: &[&str]) -> bool {
        words.iter().any(|word| self.take(word))
    }

    fn take_value(&mut self, value: impl Fn(&str) -> Option<u32>) -> Option<u32> {
        let (word, bytes) = self.next()?;
        let found = value(word)?;
        self.at = bytes.end;
        Some(found)
    }
}

/// `half a`, `a half`, `three quarters of a`, `two thirds`: the article behind goes with it.
fn fraction(folded: &str) -> Option<Spoken> {
    let mut words = Words::over(folded);
    let above = if words.take_any(&["a", "an", "one"]) {
        1
    } else {
        words.take_value(|it| unit_word(it).filter(|it| (2..=7).contains(it))).unwrap_or(0)
    };
    let (below, is_plural) = match words.next()?.0 {
        "half" => (2, false),
        "quarter" => (4, false),
        "third" => (3, false),
        "eighth" => (8, false),
        "halves" => (2, true),
        "quarters" => (4, true),
        "thirds" => (3, true),
        "eighths" => (8, true),
        _ => return None,
    };
    if is_plural != (above > 1) || (above == 0 && below == 8) {
        return None;
    }
    words.at = words.next()?.1.end;
    let above = above.max(1);
    if below == 2 && above == 1 {
        let before = words.at;
        let _ = words.take("a");
        if words.take("dozen") {
            return Some(Spoken::of(6, 1, words.at));
        }
        words.at = before;
    }
    let before = words.at;
    let of = words.take("of");
    if !words.take_any(&["a", "an"]) && of {
        words.at = before;
    }
    let divisor = common(above, below);
    Some(Spoken::of(above / divisor, below / divisor, words.at))
}

/// `a`, `six`, `twenty-five`, `two hundred and fifty`, `two fifty`, `a dozen`, `a couple of`.
fn counted(folded: &str) -> Option<Spoken> {
    let mut words = Words::over(folded);
    // A figure begins at its first letter.
    words.next().filter(|(_, bytes)| bytes.start == 0)?;
    if words.take_any(&["a", "an"]) {
        let article = words.at;
        if words.take_any(&["couple", "pair"]) {
            let _ = words.take("of");
            return Some(Spoken::of(2, 1, words.at));
        }
        if words.take("dozen") {
            return Some(Spoken::of(12, 1, words.at));
        }
        if words.take("hundred") {
            return Some(hundreds(1, &mut words));
        }
        if words.take("thousand") {
            return Some(Spoken::of(1000, 1, words.at));
        }
        return Some(Spoken { is_article: true, ..Spoken::of(1, 1, article) });
    }
    if words.take("hundred") {
        return Some(hundreds(1, &mut words));
    }
    let first = below_hundred(&mut words)?;
    if words.take("dozen") {
        return Some(Spoken::of(first * 12, 1, words.at));
    }
    if first < 100 && words.take("hundred") {
        return Some(hundreds(first, &mut words));
    }
    if first < 10 && words.take("thousand") {
        return Some(Spoken::of(first * 1000, 1, words.at));
    }
    // `two fifty`, `one twenty-five`: nobody counts otherwise.
    if (1..10).contains(&first) {
        let before = words.at;
        if let Some(over) = below_hundred(&mut words).filter(|it| *it >= 20) {
            return Some(Spoken::of(first * 100 + over, 1, words.at));
        }
        words.at = before;
    }
    Some(Spoken::of(first, 1, words.at))
}

fn hundreds(count: u32, words: &mut Words<'_>) -> Spoken {
    let before = words.at;
    let _ = words.take("and");
    match below_hundred(words) {
        Some(over) => Spoken::of(count * 100 + over, 1, words.at),
        None => {
            words.at = before;
            Spoken::of(count * 100, 1, before)
        }
    }
}

fn below_hundred(words: &mut Words<'_>) -> Option<u32> {
    if let Some(tens) = words.take_value(tens_word) {
        let unit = words.take_value(|it| unit_word(it).filter(|it| *it < 10));
        return Some(tens + unit.unwrap_or(0));
    }
    words.take_value(unit_word)
}

fn unit_word(word: &str) -> Option<u32> {
    const UNITS: [&str; 19] = [
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
    ];
    UNITS.iter().zip(1..).find_map(|(name, value)| (*name == word).then_some(value))
}

fn tens_word(word: &str) -> Option<u32> {
    const TENS: [&str; 8] =
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
    TENS.iter().zip(2..).find_map(|(name, value)| (*name == word).then_some(value * 10))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(words: &str) -> Option<(String, usize)> {
        number(words).map(|it| (it.words(), it.length))
    }

    #[test]
    fn figures_are_read_as_they_are_said() {
        for (words, figure, taken) in [
            ("250 g", "250", 3),
            ("1.5 l", "1 1/2", 3),
            ("1 1/2 cups", "1 1/2", 5),
            ("1½ cups", "1 1/2", 3),
            ("½ cup", "1/2", 2),
            ("1,250 g", "1250", 5),
            ("two hundred and fifty grams", "250", 21),
            ("a hundred grams", "100", 9),
            ("two fifty grams", "250", 9),
            ("three seventy-five for", "375", 18),
            ("twenty-five minutes", "25", 11),
            ("twenty five minutes", "25", 11),
            ("half a dozen eggs", "6", 12),
            ("a half dozen eggs", "6", 12),
            ("two dozen mussels", "24", 9),
            ("a couple of leeks", "2", 11),
            ("three quarters of a pound", "3/4", 19),
            ("three-quarters of a cup", "3/4", 19),
            ("two thirds of a cup", "2/3", 15),
            ("a third of a cup", "1/3", 12),
            ("half a pound", "1/2", 6),
            ("a half cup", "1/2", 6),
            ("one and a half cups", "1 1/2", 14),
            ("two and a quarter cups", "2 1/4", 17),
            ("2 and a half cups", "2 1/2", 12),
            ("an onion", "1", 2),
            ("seventeen", "17", 9),
        ] {
            assert_eq!(said(words), Some((figure.to_owned(), taken)), "{words}");
        }
        for words in ["", "onion", "99999999", "1/0 cup", "and a half", "-3 eggs", "1.2.3", "١٢"]
        {
            assert_eq!(said(words), None, "{words}");
        }
    }

    #[test]
    fn a_range_has_two_ends_and_a_list_has_none() {
        let ends = |words: &str| range(words).map(|(low, high)| (low.words(), high.words()));
        for (words, low, high) in [
            ("two or three carrots", "2", "3"),
            ("25 to 30 minutes", "25", "30"),
            ("2-3 tbsp", "2", "3"),
            ("between two and three cups", "2", "3"),
            ("twenty, twenty-five minutes", "20", "25"),
            ("two, three", "2", "2"),
            ("4 eggs", "4", "4"),
        ] {
            assert_eq!(ends(words), Some((low.to_owned(), high.to_owned())), "{words}");
        }
    }

    #[test]
    fn a_half_may_stand_behind_the_measure() {
        let behind = |words: &str| and_part(words).map(|it| (it.words(), it.length));
        assert_eq!(behind(" and a half of flour"), Some(("1/2".to_owned(), 11)));
        assert_eq!(behind(" and three quarters"), Some(("3/4".to_owned(), 19)));
        for words in [" and half a lemon", " and a lemon", " and half the oil", " and", ""] {
            assert_eq!(behind(words), None, "{words}");
        }
    }

    proptest::proptest! {
        #[test]
        fn no_words_are_too_odd_to_be_counted(
            words in "(\\PC|a |and |half |hundred |two |fifty|dozen|quarters|1/|[0-9]|½){0,12}"
        ) {
            if let Some(found) = number(&words) {
                proptest::prop_assert!(words.is_char_boundary(found.length) && found.length > 0);
                proptest::prop_assert!(found.denominator > 0);
            }
            let _ = range(&words);
            let _ = and_part(&words);
        }
    }
}
