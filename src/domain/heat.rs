//! Temperatures as a cook writes them, in the scale she wrote.

/// Degrees as written. The two scales are never mixed in one figure; safety figures of the code
/// are printed in both (145 F / 63 C) and compared in the scale typed (rule book 0.5).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Degrees {
    pub figure: i32,
    pub scale: Scale,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scale {
    Celsius,
    Fahrenheit,
}

impl Scale {
    pub fn parse(letter: &str) -> Option<Self> {
        [Self::Celsius, Self::Fahrenheit].into_iter().find(|it| it.letter() == letter)
    }

    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Celsius => Self::Fahrenheit,
            Self::Fahrenheit => Self::Celsius,
        }
    }

    pub const fn letter(self) -> &'static str {
        match self {
            Self::Celsius => "C",
            Self::Fahrenheit => "F",
        }
    }
}

impl std::fmt::Display for Degrees {
    /// `200 C`, with a space that does not break.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}\u{a0}{}", self.figure, self.scale.letter())
    }
}

/// What a thermometer showed, or a figure as its source prints it: tenths of a degree, in the scale
/// it was read in. Never converted to be compared with a limit (rule book 0.5).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Measured {
    pub tenths: i32,
    pub scale: Scale,
}

impl Measured {
    pub const fn whole(figure: i32, scale: Scale) -> Self {
        Self { tenths: figure * 10, scale }
    }

    /// Reads `138`, `138.2` or `138,2`, with a sign or without.
    pub fn parse(typed: &str, scale: Scale) -> Option<Self> {
        let typed = typed.trim().replace(',', ".").replace('\u{2212}', "-");
        let (sign, digits) = typed.strip_prefix('-').map_or((1, &*typed), |rest| (-1, rest));
        let (whole, tenth) = digits.split_once('.').unwrap_or((digits, "0"));
        let fits = |it: &str, most: usize| {
            (1..=most).contains(&it.len()) && it.bytes().all(|byte| byte.is_ascii_digit())
        };
        if !fits(whole, 4) || !fits(tenth, 1) {
            return None;
        }
        let tenths = whole.parse::<i32>().ok()? * 10 + tenth.parse::<i32>().ok()?;
        Some(Self { tenths: sign * tenths, scale })
    }

    /// For curves and for asking which scale was meant, never for a verdict.
    pub fn celsius(self) -> f64 {
        let figure = f64::from(self.tenths) / 10.0;
        match self.scale {
            Scale::Celsius => figure,
            Scale::Fahrenheit => (figure - 32.0) / 1.8,
        }
    }

    /// `138.2`, `41`: the figure alone, as it was written.
    pub fn figure(self) -> String {
        let (whole, tenth) = (self.tenths.abs() / 10, self.tenths.abs() % 10);
        let sign = if self.tenths < 0 { "\u{2212}" } else { "" };
        if tenth == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{tenth}") }
    }
}

impl std::fmt::Display for Measured {
    /// `138.2 °F`, with a space that does not break.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}\u{a0}°{}", self.figure(), self.scale.letter())
    }
}

impl Degrees {
    /// The pairs that the Food Code prints as equal (rule book 0.5), in Fahrenheit and Celsius.
    const PAIRS: [(i32, i32); 6] = [(41, 5), (70, 21), (135, 57), (145, 63), (155, 68), (165, 74)];

    /// As an oven's dial shows it: to the nearest 5.
    #[must_use]
    pub fn on_dial(self, scale: Scale) -> Self {
        let (numerator, denominator) = self.converted(scale);
        let figure = (2 * numerator + 5 * denominator).div_euclid(10 * denominator) * 5;
        if self.scale == scale { self } else { Self { figure, scale } }
    }

    /// An end point that must be reached: never lower than written.
    #[must_use]
    pub fn or_above(self, scale: Scale) -> Self {
        self.pair(scale).unwrap_or_else(|| {
            let (numerator, denominator) = self.converted(scale);
            Self { figure: -(-numerator).div_euclid(denominator), scale }
        })
    }

    /// A limit that must be gone under: never higher than written.
    #[must_use]
    pub fn or_below(self, scale: Scale) -> Self {
        self.pair(scale).unwrap_or_else(|| {
            let (numerator, denominator) = self.converted(scale);
            Self { figure: numerator.div_euclid(denominator), scale }
        })
    }

    fn pair(self, scale: Scale) -> Option<Self> {
        let of = |(fahrenheit, celsius): (i32, i32)| match self.scale {
            Scale::Celsius => (celsius, fahrenheit),
            Scale::Fahrenheit => (fahrenheit, celsius),
        };
        let figure = Self::PAIRS.into_iter().map(of).find(|pair| pair.0 == self.figure)?.1;
        (self.scale != scale).then_some(Self { figure, scale })
    }

    /// The exact figure in the other scale, as a fraction with a positive denominator.
    fn converted(self, scale: Scale) -> (i32, i32) {
        match (self.scale, scale) {
            (Scale::Celsius, Scale::Fahrenheit) => (self.figure * 9 + 160, 5),
            (Scale::Fahrenheit, Scale::Celsius) => ((self.figure - 32) * 5, 9),
            _ => (self.figure, 1),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn celsius(figure: i32) -> Degrees {
        Degrees { figure, scale: Scale::Celsius }
    }

    fn fahrenheit(figure: i32) -> Degrees {
        Degrees { figure, scale: Scale::Fahrenheit }
    }

    #[test]
    fn an_oven_goes_to_the_dial_and_an_end_point_never_lower() {
        let dial = |it: i32| fahrenheit(it).on_dial(Scale::Celsius).figure;
        assert_eq!([375, 450, 350, 212].map(dial), [190, 230, 175, 100]);
        let least = |it: i32| fahrenheit(it).or_above(Scale::Celsius).figure;
        assert_eq!([145, 165, 160, 212].map(least), [63, 74, 72, 100]);
        assert_eq!(celsius(75).or_above(Scale::Fahrenheit).figure, 167);
        assert_eq!(celsius(75).or_above(Scale::Celsius).figure, 75);
    }

    #[test]
    fn a_thermometer_is_read_to_the_tenth_and_nothing_else_is_a_figure() {
        let read = |typed: &str| Measured::parse(typed, Scale::Fahrenheit).map(|it| it.tenths);
        assert_eq!(["138.2", " 41 ", "-4", "57,5"].map(read), [1382, 410, -40, 575].map(Some));
        assert_eq!(["", "hot", "1e9", "138.25", "12345", "."].map(read), [None; 6]);
        let cold = Measured::parse("-0.5", Scale::Celsius).unwrap();
        assert_eq!(cold.to_string(), "\u{2212}0.5\u{a0}°C");
    }

    #[test]
    fn a_limit_to_go_under_is_never_higher() {
        let most = |it: i32| fahrenheit(it).or_below(Scale::Celsius).figure;
        assert_eq!([70, 41, 40].map(most), [21, 5, 4]);
        assert_eq!(celsius(21).or_below(Scale::Fahrenheit).figure, 70, "the code's own pair");
        assert_eq!(celsius(-18).or_below(Scale::Fahrenheit).figure, -1);
    }
}
