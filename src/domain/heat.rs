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
    fn a_limit_to_go_under_is_never_higher() {
        let most = |it: i32| fahrenheit(it).or_below(Scale::Celsius).figure;
        assert_eq!([70, 41, 40].map(most), [21, 5, 4]);
        assert_eq!(celsius(21).or_below(Scale::Fahrenheit).figure, 70, "the code's own pair");
        assert_eq!(celsius(-18).or_below(Scale::Fahrenheit).figure, -1);
    }
}
