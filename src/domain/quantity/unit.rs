//! The units a cook writes, and what each is exactly in grams or millilitres.

use num_rational::BigRational;

/// A unit of a written amount. [`Unit::Each`] stands for a bare count (`2 onions`).
///
/// The set is closed: what a line says beyond it stays in the line's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    Milligram,
    Gram,
    Kilogram,
    Ounce,
    Pound,
    Millilitre,
    Centilitre,
    Decilitre,
    Litre,
    Teaspoon,
    Dessertspoon,
    Tablespoon,
    Cup,
    FluidOunce,
    Pint,
    Quart,
    Gallon,
    Each,
    Clove,
    Sprig,
    Bunch,
    Head,
    Batch,
    Loaf,
    Ear,
    Can,
    Jar,
    Pack,
    Bottle,
    Carton,
    Tub,
    Bag,
    Slice,
    Stick,
    Stalk,
    Sheet,
    Piece,
    Cube,
    Block,
    Ball,
    Leaf,
    Pinch,
    Dash,
    Drop,
    Splash,
    Drizzle,
    Knob,
    Handful,
    Dollop,
}

/// What a unit measures; amounts of two kinds are never added.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// In grams.
    Mass,
    /// In millilitres.
    Volume,
    /// Things one can count: pieces, cloves, tins.
    Count,
    /// Too loose to add or to scale exactly: a pinch, a splash.
    Loose,
}

/// Which spoons and cups a card means. One card has one set; the two are never added unconverted.
///
/// `Customary`: NIST Handbook 44, appendix C: the US gallon is 231 cubic inches exactly.
/// `Round`: the 5, 15 and 240 ml of labels and of metric kitchens (rule book 6.1).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spoons {
    #[default]
    Round,
    Customary,
}

/// Every unit with its one written form.
pub const UNITS: [(Unit, &str); 49] = [
    (Unit::Milligram, "mg"),
    (Unit::Gram, "g"),
    (Unit::Kilogram, "kg"),
    (Unit::Ounce, "oz"),
    (Unit::Pound, "lb"),
    (Unit::Millilitre, "ml"),
    (Unit::Centilitre, "cl"),
    (Unit::Decilitre, "dl"),
    (Unit::Litre, "l"),
    (Unit::Teaspoon, "tsp"),
    (Unit::Dessertspoon, "dsp"),
    (Unit::Tablespoon, "tbsp"),
    (Unit::Cup, "cup"),
    (Unit::FluidOunce, "fl_oz"),
    (Unit::Pint, "pint"),
    (Unit::Quart, "quart"),
    (Unit::Gallon, "gallon"),
    (Unit::Each, "each"),
    (Unit::Clove, "clove"),
    (Unit::Sprig, "sprig"),
    (Unit::Bunch, "bunch"),
    (Unit::Head, "head"),
    (Unit::Batch, "batch"),
    (Unit::Loaf, "loaf"),
    (Unit::Ear, "ear"),
    (Unit::Can, "can"),
    (Unit::Jar, "jar"),
    (Unit::Pack, "pack"),
    (Unit::Bottle, "bottle"),
    (Unit::Carton, "carton"),
    (Unit::Tub, "tub"),
    (Unit::Bag, "bag"),
    (Unit::Slice, "slice"),
    (Unit::Stick, "stick"),
    (Unit::Stalk, "stalk"),
    (Unit::Sheet, "sheet"),
    (Unit::Piece, "piece"),
    (Unit::Cube, "cube"),
    (Unit::Block, "block"),
    (Unit::Ball, "ball"),
    (Unit::Leaf, "leaf"),
    (Unit::Pinch, "pinch"),
    (Unit::Dash, "dash"),
    (Unit::Drop, "drop"),
    (Unit::Splash, "splash"),
    (Unit::Drizzle, "drizzle"),
    (Unit::Knob, "knob"),
    (Unit::Handful, "handful"),
    (Unit::Dollop, "dollop"),
];

impl Unit {
    /// The canonical word, as in documents and command output.
    pub fn word(self) -> &'static str {
        UNITS.iter().find(|(unit, _)| *unit == self).map_or("each", |(_, word)| word)
    }

    /// Reads a canonical word back; what people type is read by `domain::reading`.
    pub fn parse(word: &str) -> Option<Self> {
        UNITS.iter().find(|(_, known)| *known == word).map(|(unit, _)| *unit)
    }

    pub const fn kind(self) -> Kind {
        match self {
            Self::Milligram | Self::Gram | Self::Kilogram | Self::Ounce | Self::Pound => Kind::Mass,
            Self::Millilitre
            | Self::Centilitre
            | Self::Decilitre
            | Self::Litre
            | Self::Teaspoon
            | Self::Dessertspoon
            | Self::Tablespoon
            | Self::Cup
            | Self::FluidOunce
            | Self::Pint
            | Self::Quart
            | Self::Gallon => Kind::Volume,
            Self::Pinch
            | Self::Dash
            | Self::Drop
            | Self::Splash
            | Self::Drizzle
            | Self::Knob
            | Self::Handful
            | Self::Dollop => Kind::Loose,
            _ => Kind::Count,
        }
    }

    /// Grams (mass) or millilitres (volume) in one; none for counts and loose words.
    ///
    /// Ounce and pound: 28.349523125 g and 453.59237 g exactly (NIST SP 811, appendix B).
    pub fn in_base(self, spoons: Spoons) -> Option<BigRational> {
        let exactly = |numerator: u64, denominator: u64| {
            Some(BigRational::new(numerator.into(), denominator.into()))
        };
        // One US teaspoon is 231 cubic inches of 16.387064 ml, divided by 768.
        let customary = |teaspoons: u64| exactly(473_176_473 * teaspoons, 96_000_000);
        match (self, spoons) {
            (Self::Milligram, _) => exactly(1, 1_000),
            (Self::Gram | Self::Millilitre, _) => exactly(1, 1),
            (Self::Kilogram | Self::Litre, _) => exactly(1_000, 1),
            (Self::Centilitre, _) => exactly(10, 1),
            (Self::Decilitre, _) => exactly(100, 1),
            (Self::Ounce, _) => exactly(45_359_237, 1_600_000),
            (Self::Pound, _) => exactly(45_359_237, 100_000),
            (Self::Teaspoon, Spoons::Round) => exactly(5, 1),
            (Self::Dessertspoon, Spoons::Round) => exactly(10, 1),
            (Self::Tablespoon, Spoons::Round) => exactly(15, 1),
            (Self::Cup, Spoons::Round) => exactly(240, 1),
            (Self::FluidOunce, Spoons::Round) => exactly(30, 1),
            (Self::Teaspoon, Spoons::Customary) => customary(1),
            (Self::Dessertspoon, Spoons::Customary) => customary(2),
            (Self::Tablespoon, Spoons::Customary) => customary(3),
            (Self::Cup, Spoons::Customary) => customary(48),
            (Self::FluidOunce, Spoons::Customary) => customary(6),
            (Self::Pint, _) => customary(96),
            (Self::Quart, _) => customary(192),
            (Self::Gallon, _) => customary(768),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_has_one_word_and_is_read_back_from_it() {
        for (unit, word) in UNITS {
            assert_eq!((unit.word(), Unit::parse(word)), (word, Some(unit)));
        }
    }

    /// NIST Handbook 44, appendix C: 1 gallon = 3.785 411 784 litres exactly; 1 lb = 453.592 37 g.
    #[test]
    fn the_published_figures_are_exact() {
        let figure = |unit: Unit| unit.in_base(Spoons::Customary).unwrap();
        let exactly = |numerator: i64, denominator: i64| {
            BigRational::new(numerator.into(), denominator.into())
        };
        assert_eq!(figure(Unit::Gallon), exactly(3_785_411_784, 1_000_000));
        assert_eq!(figure(Unit::Cup), exactly(2_365_882_365, 10_000_000));
        assert_eq!(figure(Unit::Tablespoon), exactly(1_478_676_478_125, 100_000_000_000));
        assert_eq!(figure(Unit::Teaspoon), exactly(492_892_159_375, 100_000_000_000));
        assert_eq!(figure(Unit::Pound), exactly(45_359_237, 100_000));
        assert_eq!(figure(Unit::Ounce), exactly(28_349_523_125, 1_000_000_000));
    }
}
