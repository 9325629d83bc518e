//! Figures, times and temperatures in the words of a cook.

use num_rational::BigRational;

use crate::domain::heat::{Degrees, Scale};
use crate::domain::quantity::{Amount, Unit};

pub const MINUTES_IN_HOUR: u32 = 60;
pub const MINUTES_IN_DAY: u32 = 24 * MINUTES_IN_HOUR;

/// A written figure, never negative, its terms within [`Amount::TERM_MAX`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Figure {
    pub numerator: u32,
    pub denominator: u32,
}

impl Figure {
    pub fn of(numerator: u64, denominator: u64) -> Option<Self> {
        let divisor = num_integer(numerator, denominator).max(1);
        let term = |it: u64| u32::try_from(it / divisor).ok().filter(|it| *it <= Amount::TERM_MAX);
        (denominator > 0).then_some(())?;
        Some(Self { numerator: term(numerator)?, denominator: term(denominator)? })
    }

    pub fn fraction(self) -> BigRational {
        BigRational::new(self.numerator.into(), self.denominator.into())
    }

    pub fn whole(self) -> Option<u32> {
        (self.denominator == 1).then_some(self.numerator)
    }

    /// Whole minutes in so many units of `minutes` each.
    fn minutes(self, minutes: u32) -> Option<u32> {
        let product = u64::from(self.numerator) * u64::from(minutes);
        let whole = product.is_multiple_of(u64::from(self.denominator));
        whole.then(|| u32::try_from(product / u64::from(self.denominator)).ok())?
    }

    pub fn is_above(self, other: Self) -> bool {
        u64::from(self.numerator) * u64::from(other.denominator)
            > u64::from(other.numerator) * u64::from(self.denominator)
    }
}

fn num_integer(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// From the first to the second as written, which may be the wrong way round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    pub first_minutes: u32,
    pub second_minutes: Option<u32>,
}

impl Stretch {
    pub fn is_reversed(self) -> bool {
        self.second_minutes.is_some_and(|second| second < self.first_minutes)
    }

    pub fn least_minutes(self) -> u32 {
        self.second_minutes.map_or(self.first_minutes, |second| second.min(self.first_minutes))
    }

    pub fn most_minutes(self) -> Option<u32> {
        self.second_minutes.map(|second| second.max(self.first_minutes))
    }
}

/// What is left to read of some words. Every reading step either takes something or nothing.
#[derive(Clone, Copy, Debug)]
pub struct Cursor<'a> {
    rest: &'a str,
}

impl<'a> Cursor<'a> {
    pub fn new(words: &'a str) -> Self {
        Self { rest: words.trim() }
    }

    pub fn rest(self) -> &'a str {
        self.rest.trim()
    }

    pub fn is_done(self) -> bool {
        self.rest.trim().is_empty()
    }

    fn skip(&mut self, bytes: usize) {
        self.rest = self.rest[bytes..].trim_start();
    }

    /// Takes these words, whatever their letter size, if they end where a word ends.
    pub fn word(&mut self, words: &str) -> bool {
        let Some(rest) = strip_folded(self.rest, words) else { return false };
        if rest.chars().next().is_some_and(char::is_alphanumeric) {
            return false;
        }
        self.rest = rest.trim_start();
        true
    }

    pub fn any(&mut self, words: &[&str]) -> bool {
        words.iter().any(|word| self.word(word))
    }

    pub fn sign(&mut self, signs: &[char]) -> bool {
        match self.rest.chars().next() {
            Some(next) if signs.contains(&next) => {
                self.skip(next.len_utf8());
                true
            }
            _ => false,
        }
    }

    /// `8`, `2.4`, `2,4`, `1/2`, `1 1/2`, `½`, `1½`.
    pub fn figure(&mut self) -> Option<Figure> {
        let start = *self;
        let figure = self.figure_inner();
        if figure.is_none() {
            *self = start;
        }
        figure
    }

    fn figure_inner(&mut self) -> Option<Figure> {
        let Some(whole) = self.digits() else { return self.vulgar() };
        if self.rest.starts_with(['.', ','])
            && self.rest[1..].starts_with(|c: char| c.is_ascii_digit())
        {
            let digits: &str = leading_digits(&self.rest[1..]);
            let places = u32::try_from(digits.len()).ok().filter(|places| *places <= 6)?;
            let scale = 10_u64.pow(places);
            self.rest = &self.rest[1 + digits.len()..];
            return Figure::of(whole * scale + digits.parse::<u64>().ok()?, scale);
        }
        if let Some(denominator) = self.slash() {
            return Figure::of(whole, denominator);
        }
        let mut ahead = *self;
        ahead.rest = ahead.rest.trim_start();
        let fraction = match ahead.digits() {
            Some(numerator) => ahead.slash().and_then(|below| Figure::of(numerator, below)),
            None => ahead.vulgar(),
        };
        let Some(fraction) = fraction else { return Figure::of(whole, 1) };
        *self = ahead;
        let below = u64::from(fraction.denominator);
        Figure::of(whole * below + u64::from(fraction.numerator), below)
    }

    fn digits(&mut self) -> Option<u64> {
        let digits = leading_digits(self.rest);
        if digits.is_empty() || digits.len() > 7 {
            return None;
        }
        self.rest = &self.rest[digits.len()..];
        digits.parse().ok()
    }

    /// `/ 2`, with or without spaces; the typographic fraction slash as well.
    fn slash(&mut self) -> Option<u64> {
        let after = self.rest.trim_start().strip_prefix(['/', '\u{2044}'])?;
        let digits = leading_digits(after.trim_start());
        if digits.is_empty() || digits.len() > 7 {
            return None;
        }
        self.rest = &after.trim_start()[digits.len()..];
        digits.parse().ok()
    }

    fn vulgar(&mut self) -> Option<Figure> {
        let next = self.rest.chars().next()?;
        let (_, above, below) = VULGAR.iter().find(|(sign, ..)| *sign == next)?;
        self.rest = &self.rest[next.len_utf8()..];
        Figure::of(*above, *below)
    }

    /// A figure that is followed by a space or a word.
    fn figure_spaced(&mut self) -> Option<Figure> {
        let figure = self.figure()?;
        self.rest = self.rest.trim_start();
        Some(figure)
    }

    /// A whole number.
    pub fn whole(&mut self) -> Option<u32> {
        let start = *self;
        let whole = self.figure_spaced().and_then(Figure::whole);
        if whole.is_none() {
            *self = start;
        }
        whole
    }

    fn minutes_of_unit(&mut self) -> Option<u32> {
        TIMES.iter().find_map(|(words, minutes)| self.any(words).then_some(*minutes))
    }

    /// `40 min`, `2 h`, `1 h 30 min`, `1 1/2 hours`, `3 days`.
    pub fn minutes(&mut self) -> Option<u32> {
        let start = *self;
        let minutes = self.minutes_inner();
        if minutes.is_none() {
            *self = start;
        }
        minutes
    }

    fn minutes_inner(&mut self) -> Option<u32> {
        let mut total = 0_u32;
        let mut last = u32::MAX;
        loop {
            let start = *self;
            if total > 0 {
                self.word("and");
            }
            let part = self.figure_spaced().and_then(|it| Some((it, self.minutes_of_unit()?)));
            match part {
                Some((figure, unit)) if unit < last => {
                    total = total.checked_add(figure.minutes(unit)?)?;
                    last = unit;
                }
                _ if last == u32::MAX => return None,
                _ => {
                    *self = start;
                    return Some(total);
                }
            }
        }
    }

    /// `15 min`, `15 min to 40 min`, `15 to 40 min`, `15-40 min`.
    pub fn stretch(&mut self) -> Option<Stretch> {
        let start = *self;
        let stretch = self.stretch_inner();
        if stretch.is_none() {
            *self = start;
        }
        stretch
    }

    fn stretch_inner(&mut self) -> Option<Stretch> {
        if let Some(first_minutes) = self.minutes() {
            let before = *self;
            let second_minutes = self.joins().then(|| self.minutes()).flatten();
            if second_minutes.is_none() {
                *self = before;
            }
            return Some(Stretch { first_minutes, second_minutes });
        }
        let first = self.figure_spaced()?;
        let second = self.joins().then(|| self.figure_spaced()).flatten()?;
        let unit = self.minutes_of_unit()?;
        let second_minutes = Some(second.minutes(unit)?);
        Some(Stretch { first_minutes: first.minutes(unit)?, second_minutes })
    }

    /// `to`, `-`, `up to`: joins the two ends of a range.
    pub fn joins(&mut self) -> bool {
        self.sign(&['-', '\u{2013}', '\u{2014}'])
            || self.any(&["to", "and up to", "up to", "and at most", "at most"])
    }

    /// `200C`, `200 °C`, `375 F`, `200 degrees C`.
    pub fn degrees(&mut self) -> Option<Degrees> {
        let start = *self;
        let degrees = self.degrees_inner();
        if degrees.is_none() {
            *self = start;
        }
        degrees
    }

    fn degrees_inner(&mut self) -> Option<Degrees> {
        let below_zero = self.sign(&['-', '\u{2212}']);
        let figure = i32::try_from(self.whole()?).ok()?;
        let _ = self.sign(&['°', 'º']) || self.any(&["degrees", "degree", "deg"]);
        let scale = if self.any(&["c", "celsius"]) {
            Scale::Celsius
        } else if self.any(&["f", "fahrenheit"]) {
            Scale::Fahrenheit
        } else {
            return None;
        };
        Some(Degrees { figure: if below_zero { -figure } else { figure }, scale })
    }

    /// `340 g`, `2/3 cup`, `1-1.2 l`, `24 dumplings` (the word is left to read).
    pub fn amount(&mut self) -> Option<Amount> {
        let first = self.figure_spaced()?;
        let before = *self;
        let second = self.joins().then(|| self.figure_spaced()).flatten();
        if second.is_none() {
            *self = before;
        }
        let unit = self.unit().unwrap_or(Unit::Each);
        let second = second.unwrap_or(first);
        Some(Amount::between(first.fraction(), second.fraction(), unit))
    }

    /// A unit of weight or volume in the words people use for it.
    pub fn unit(&mut self) -> Option<Unit> {
        MEASURES.iter().find_map(|(words, unit)| self.any(words).then_some(*unit))
    }
}

/// The rest of `text` after `start`, compared letter by letter without regard to size.
pub fn strip_folded<'a>(text: &'a str, start: &str) -> Option<&'a str> {
    let head = text.get(..start.len())?;
    head.eq_ignore_ascii_case(start).then(|| &text[start.len()..])
}

fn leading_digits(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    &text[..end]
}

/// `40 min`, `2 h`, `1 h 30 min`: the words of a length of time on a card.
pub fn minutes_words(minutes: u32) -> String {
    let (hours, over) = (minutes / MINUTES_IN_HOUR, minutes % MINUTES_IN_HOUR);
    match (hours, over) {
        (0 | 1, _) => format!("{minutes} min"),
        (_, 0) => format!("{hours} h"),
        _ => format!("{minutes} min"),
    }
}

/// Like [`minutes_words`], but whole days are days: `3 days`.
pub fn days_words(minutes: u32) -> String {
    match (minutes / MINUTES_IN_DAY, minutes % MINUTES_IN_DAY) {
        (1, 0) => "1 day".to_owned(),
        (days, 0) if days > 0 => format!("{days} days"),
        _ => minutes_words(minutes),
    }
}

/// `200C`: as a card writes it.
pub fn degrees_words(heat: Degrees) -> String {
    format!("{}{}", heat.figure, heat.scale.letter())
}

/// `1/2`, `1`, `1.2`: an exact figure; a decimal where it has few places, else a fraction.
pub fn figure_words(figure: &BigRational) -> String {
    if figure.is_integer() {
        return figure.numer().to_string();
    }
    let ten = BigRational::from_integer(10.into());
    let tenths = figure * &ten;
    if tenths.is_integer() && figure.denom() > &2.into() {
        let whole = figure.to_integer();
        let over = (figure - BigRational::from_integer(whole.clone())) * ten;
        return format!("{whole}.{}", over.numer());
    }
    let whole = figure.to_integer();
    let over = figure - BigRational::from_integer(whole.clone());
    if whole == 0.into() {
        format!("{}/{}", over.numer(), over.denom())
    } else {
        format!("{whole} {}/{}", over.numer(), over.denom())
    }
}

const TIMES: [(&[&str], u32); 4] = [
    (&["minutes", "minute", "mins", "min", "m", "'"], 1),
    (&["hours", "hour", "hrs", "hr", "h"], MINUTES_IN_HOUR),
    (&["days", "day", "d"], MINUTES_IN_DAY),
    (&["weeks", "week"], 7 * MINUTES_IN_DAY),
];

const MEASURES: [(&[&str], Unit); 13] = [
    (&["kg", "kilos", "kilo", "kilograms", "kilogram"], Unit::Kilogram),
    (&["g", "grams", "gram", "gr"], Unit::Gram),
    (&["ml", "millilitres", "millilitre", "milliliters", "milliliter"], Unit::Millilitre),
    (&["cl"], Unit::Centilitre),
    (&["dl"], Unit::Decilitre),
    (&["l", "litres", "litre", "liters", "liter"], Unit::Litre),
    (&["tsp", "teaspoons", "teaspoon"], Unit::Teaspoon),
    (&["tbsp", "tablespoons", "tablespoon"], Unit::Tablespoon),
    (&["fl oz", "fluid ounces", "fluid ounce"], Unit::FluidOunce),
    (&["cups", "cup"], Unit::Cup),
    (&["oz", "ounces", "ounce"], Unit::Ounce),
    (&["lb", "lbs", "pounds", "pound"], Unit::Pound),
    (&["pints", "pint"], Unit::Pint),
];

const VULGAR: [(char, u64, u64); 19] = [
    ('¼', 1, 4),
    ('½', 1, 2),
    ('¾', 3, 4),
    ('⅐', 1, 7),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('↉', 0, 3),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_read_in_every_common_spelling() {
        let cases = [
            ("8", Some((8, 1))),
            ("2.4", Some((12, 5))),
            ("2,4 l", Some((12, 5))),
            ("1/2", Some((1, 2))),
            ("1 1/2", Some((3, 2))),
            ("1½", Some((3, 2))),
            ("½ h", Some((1, 2))),
            ("4 / 0", None),
            ("99999999", None),
            ("min", None),
        ];
        for (words, expected) in cases {
            let figure = Cursor::new(words).figure().map(|it| (it.numerator, it.denominator));
            assert_eq!(figure, expected, "{words}");
        }
    }

    #[test]
    fn times_are_whole_minutes_or_nothing() {
        let cases = [
            ("40 min", Some(40)),
            ("40min", Some(40)),
            ("1 h 30 min", Some(90)),
            ("1 1/2 hours", Some(90)),
            ("1/3 h", Some(20)),
            ("2.5 min", None),
            ("3 days", Some(4320)),
            ("3 dishes", None),
            ("200C", None),
        ];
        for (words, expected) in cases {
            assert_eq!(Cursor::new(words).minutes(), expected, "{words}");
        }
    }

    #[test]
    fn a_stretch_may_share_its_unit() {
        for words in ["15 min to 40 min", "15 to 40 min", "15-40 min", "15 – 40 minutes"] {
            let stretch = Cursor::new(words).stretch().unwrap();
            assert_eq!((stretch.first_minutes, stretch.second_minutes), (15, Some(40)), "{words}");
        }
        assert!(Cursor::new("3 h to 90 min").stretch().unwrap().is_reversed());
    }

    #[test]
    fn lengths_are_written_as_a_cook_says_them() {
        let written: Vec<_> = [8, 90, 60, 120, 150, 1440].into_iter().map(minutes_words).collect();
        assert_eq!(written, ["8 min", "90 min", "60 min", "2 h", "150 min", "24 h"]);
        assert_eq!([1440, 4320, 300].map(days_words), ["1 day", "3 days", "5 h"]);
    }
}
