//! Another pan than the card's: what fits, how deep it lies, and what that does to the time.
//!
//! Areas are bottoms, sides are taken as straight. Figures are f64: they are measures of things,
//! never amounts of food.

use std::f64::consts::PI;

/// A millimetre that is asked of more than this is a slip of the pen.
const LONGEST_MM: f64 = 2_000.0;
const INCH_MM: f64 = 25.4;

/// The bottom of a pan, and how high its sides are where that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pan {
    pub bottom: Bottom,
    pub high_mm: Option<f64>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bottom {
    Round { across_mm: f64 },
    Rectangle { long_mm: f64, wide_mm: f64 },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PanError {
    #[error("Write the size of the pan with its unit: 33x23 cm, round 26 cm, 13x9x2 in")]
    NoSize,
    #[error("Write the unit after the size: cm, mm or in")]
    NoUnit,
    #[error("A pan measures more than nothing and at most 2 m")]
    Range,
}

impl Pan {
    /// Reads `tray 40x30 cm`, `13x9x2 in`, `round 26 cm`, `square 8 x 2 in`. With two lengths a round or
    /// square pan has its height last; one length alone is round unless it says square.
    ///
    /// # Errors
    /// No size, no unit, or a length outside of what pans measure.
    pub fn parse(words: &str) -> Result<Self, PanError> {
        let folded = words.to_lowercase().replace(['×', '*'], "x").replace(',', ".");
        let lengths = lengths(&folded);
        let unit = unit(&folded).ok_or(if lengths.is_empty() {
            PanError::NoSize
        } else {
            PanError::NoUnit
        })?;
        let mm: Vec<f64> = lengths.iter().map(|length| length * unit).collect();
        if mm.iter().any(|mm| !(*mm > 0.0 && *mm <= LONGEST_MM)) {
            return Err(PanError::Range);
        }
        let says = |word: &str| folded.contains(word);
        let square = |side: f64| Bottom::Rectangle { long_mm: side, wide_mm: side };
        let round = |across_mm: f64| Bottom::Round { across_mm };
        let (bottom, high_mm) = match (mm.as_slice(), says("round"), says("square")) {
            ([across], _, false) => (round(*across), None),
            ([across, high], true, _) => (round(*across), Some(*high)),
            ([side], _, true) => (square(*side), None),
            // Two equal sides of a square are its sides; a second that differs is its height.
            ([side, high], _, true) if (side - high).abs() > 1e-9 => (square(*side), Some(*high)),
            ([long, wide], ..) => (Bottom::Rectangle { long_mm: *long, wide_mm: *wide }, None),
            ([long, wide, high], ..) => {
                (Bottom::Rectangle { long_mm: *long, wide_mm: *wide }, Some(*high))
            }
            _ => return Err(PanError::NoSize),
        };
        Ok(Self { bottom, high_mm })
    }

    pub fn area_mm2(&self) -> f64 {
        match self.bottom {
            Bottom::Round { across_mm } => PI * across_mm * across_mm / 4.0,
            Bottom::Rectangle { long_mm, wide_mm } => long_mm * wide_mm,
        }
    }
}

/// Figures one after another with an x between; a word before or behind does not matter.
fn lengths(words: &str) -> Vec<f64> {
    let mut found = Vec::new();
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let mut rest = words;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let figure = &rest[at..];
        let end = figure.find(|c| !is_part(c)).unwrap_or(figure.len());
        match figure[..end].trim_end_matches('.').parse() {
            Ok(length) => found.push(length),
            Err(_) => return Vec::new(),
        }
        rest = &figure[end..];
        // `40x30 cm = 8`: what serves so many is no length.
        let between = rest.trim_start().trim_start_matches(char::is_alphabetic).trim_start();
        if between.starts_with('=') || found.len() == 3 {
            break;
        }
    }
    found
}

fn unit(words: &str) -> Option<f64> {
    let behind = |c: char| !c.is_ascii_alphabetic() && c != '"';
    let mut spoken = words.split(behind).map(|word| word.trim_start_matches('x'));
    spoken.find_map(|word| match word {
        "mm" => Some(1.0),
        "cm" => Some(10.0),
        "in" | "inch" | "inches" | "\"" => Some(INCH_MM),
        _ => None,
    })
}

/// A depth: `3 cm`, `1.25 in`.
///
/// # Errors
/// As for [`Pan::parse`].
pub fn depth_mm(words: &str) -> Result<f64, PanError> {
    match Pan::parse(words)?.bottom {
        Bottom::Round { across_mm } => Ok(across_mm),
        Bottom::Rectangle { .. } => Err(PanError::NoSize),
    }
}

/// How full a pan may be. Common practice, from memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filling {
    /// It rises.
    Batter,
    /// It bubbles.
    Casserole,
}

impl Filling {
    pub const ALL: [Self; 2] = [Self::Batter, Self::Casserole];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Batter => "batter",
            Self::Casserole => "casserole",
        }
    }

    pub const fn words(self) -> &'static str {
        match self {
            Self::Batter => "A batter or dough that rises: at most two thirds full",
            Self::Casserole => "A bake or stew that bubbles: at most three quarters full",
        }
    }

    /// At most this share of the height.
    pub fn most(self) -> f64 {
        match self {
            Self::Batter => 2.0 / 3.0,
            Self::Casserole => 3.0 / 4.0,
        }
    }
}

/// What becomes of a filling that goes from some pans into others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swap {
    /// So much of the recipe fills the other pans as deep as before.
    pub same_depth_factor: f64,
    /// How deep all of it lies in the others.
    pub lies_mm: Option<f64>,
    /// Of the height of the others.
    pub full: Option<f64>,
    pub is_too_full: bool,
}

/// From so many pans into so many others; `lay_mm` deep before. No count is nothing.
pub fn swap(from: (Pan, u32), lay_mm: Option<f64>, to: (Pan, u32), filling: Filling) -> Swap {
    let area = |(pan, count): (Pan, u32)| pan.area_mm2() * f64::from(count.max(1));
    let same_depth_factor = area(to) / area(from);
    let lies_mm = lay_mm.map(|lay| lay / same_depth_factor);
    let full = lies_mm.zip(to.0.high_mm).map(|(lies, high)| lies / high);
    Swap {
        same_depth_factor,
        lies_mm,
        full,
        is_too_full: full.is_some_and(|it| it > filling.most()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pan(words: &str) -> Pan {
        Pan::parse(words).unwrap_or_else(|error| panic!("{words}: {error}"))
    }

    #[test]
    fn pans_are_read_as_cooks_write_them() {
        let inches = |one: f64, other: f64| (one * INCH_MM, other * INCH_MM);
        for (words, (long, wide), high) in [
            ("tray 40x30 cm = 8, shelf 1", (400.0, 300.0), None),
            ("13×9×2 in", inches(13.0, 9.0), Some(50.8)),
            ("oval dish 30x20 cm", (300.0, 200.0), None),
            ("square 8 in", inches(8.0, 8.0), None),
            ("square 8x2 in", inches(8.0, 8.0), Some(50.8)),
            ("square 20x20 cm", (200.0, 200.0), None),
            ("11.75 x 7.5 x 0.75 in", inches(11.75, 7.5), Some(19.05)),
        ] {
            let found = pan(words);
            assert_eq!(found.bottom, Bottom::Rectangle { long_mm: long, wide_mm: wide }, "{words}");
            let high = (found.high_mm, high);
            assert!(
                matches!(high, (None, None)) || (high.0.unwrap() - high.1.unwrap()).abs() < 1e-9
            );
        }
        assert_eq!(pan("26 cm tin").bottom, Bottom::Round { across_mm: 260.0 });
        assert_eq!(pan("round 10 x 2 in").high_mm, Some(2.0 * INCH_MM));
        for (words, problem) in [
            ("", PanError::NoSize),
            ("a big one, in the oven", PanError::NoSize),
            ("loaf tin = 8", PanError::NoUnit),
            ("40x30", PanError::NoUnit),
            ("0x30 cm", PanError::Range),
            ("4000x30 cm", PanError::Range),
            ("1.2.3x4 cm", PanError::NoSize),
        ] {
            assert_eq!(Pan::parse(words), Err(problem), "{words}");
        }
    }

    /// The bottoms of published pan charts, in square inches.
    #[test]
    fn bottoms_are_those_of_the_published_charts() {
        for (words, square_inches) in [
            ("round 6 x 2 in", 28.3),
            ("round 8 x 2 in", 50.3),
            ("round 9 x 2 in", 63.6),
            ("round 10 x 2 in", 78.5),
            ("square 8 x 8 x 2 in", 64.0),
            ("square 9 x 9 x 2 in", 81.0),
            ("11 x 7 x 2 in", 77.0),
            ("13 x 9 x 2 in", 117.0),
            ("11.75 x 7.5 x 0.75 in", 88.1),
            ("15 x 10 x 1 in", 150.0),
        ] {
            let found = pan(words).area_mm2() / (INCH_MM * INCH_MM);
            assert!((found - square_inches).abs() <= 0.05 + 1e-9, "{words}: {found}");
        }
    }

    /// The worked example of a 13 by 9 inch pan that is filled 1.25 inches deep.
    #[test]
    fn a_filled_pan_goes_into_others() {
        let from = (pan("13x9 in"), 1);
        let deep = depth_mm("1.25 in").unwrap();
        let lay = Some(deep);
        for (to, count, inches, full, too_full) in [
            ("round 8 in", 2, 1.45, None, false),
            ("round 10x3 in", 1, 1.86, Some(62.0), false),
            ("round 10x2 in", 1, 1.86, Some(93.0), true),
            ("square 9 in", 1, 1.81, None, false),
        ] {
            let found = swap(from, lay, (pan(to), count), Filling::Batter);
            let two = |value: f64| (value * 100.0).round() / 100.0;
            assert!((two(found.lies_mm.unwrap() / INCH_MM) - inches).abs() < 1e-9, "{to}");
            assert_eq!(found.full.map(|it| (it * 100.0).round()), full, "{to}");
            assert_eq!(found.is_too_full, too_full, "{to}");
        }
        let rounds = swap(from, lay, (pan("round 8 in"), 2), Filling::Batter);
        assert!((rounds.same_depth_factor - 0.859).abs() < 0.0005);
        let cubic = from.0.area_mm2() * deep / INCH_MM.powi(3);
        assert!((cubic - 146.25).abs() < 1e-9 && (cubic / 14.4375 - 10.13).abs() < 0.005);
    }
}
