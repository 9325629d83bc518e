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
