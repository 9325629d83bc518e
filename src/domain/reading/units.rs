//! The words units are written with, British and American, in the singular, plural and short.

use super::token::Token;
use crate::domain::quantity::{Kind, Unit};

/// The unit a word stands for.
pub(super) fn unit(word: &str) -> Option<Unit> {
    Some(match word {
        "g" | "gr" | "gm" | "gms" | "gram" | "grams" | "gramme" | "grammes" => Unit::Gram,
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" | "kilogramme"
        | "kilogrammes" => Unit::Kilogram,
        "mg" | "milligram" | "milligrams" => Unit::Milligram,
        "oz" | "ozs" | "ounce" | "ounces" => Unit::Ounce,
        "lb" | "lbs" | "pound" | "pounds" => Unit::Pound,
        "ml" | "mls" | "cc" | "millilitre" | "millilitres" | "milliliter" | "milliliters" => {
            Unit::Millilitre
        }
        "cl" | "centilitre" | "centilitres" | "centiliter" | "centiliters" => Unit::Centilitre,
        "dl" | "decilitre" | "decilitres" | "deciliter" | "deciliters" => Unit::Decilitre,
        "l" | "lt" | "ltr" | "ltrs" | "litre" | "litres" | "liter" | "liters" => Unit::Litre,
        "tsp" | "tsps" | "teaspoon" | "teaspoons" | "teaspoonful" | "teaspoonfuls"
        | "teaspoonsful" => Unit::Teaspoon,
        "dsp" | "dsps" | "dstsp" | "dessertspoon" | "dessertspoons" | "dessertspoonful" => {
            Unit::Dessertspoon
        }
        "tbsp" | "tbsps" | "tbs" | "tbl" | "tbls" | "tblsp" | "tblsps" | "tbspn" | "tb"
        | "tablespoon" | "tablespoons" | "tablespoonful" | "tablespoonfuls" | "tablespoonsful" => {
            Unit::Tablespoon
        }
        "cup" | "cups" | "c" | "cupful" | "cupfuls" => Unit::Cup,
        "floz" => Unit::FluidOunce,
        "pint" | "pints" | "pt" | "pts" => Unit::Pint,
        "quart" | "quarts" | "qt" | "qts" => Unit::Quart,
        "gallon" | "gallons" | "gal" => Unit::Gallon,
        other => return counted(other),
    })
}

/// Things one can count, and amounts too loose to count.
fn counted(word: &str) -> Option<Unit> {
    Some(match word {
        "clove" | "cloves" => Unit::Clove,
        "sprig" | "sprigs" => Unit::Sprig,
        "bunch" | "bunches" => Unit::Bunch,
        "head" | "heads" | "bulb" | "bulbs" => Unit::Head,
        "batch" | "batches" | "recipe" | "quantity" => Unit::Batch,
        "loaf" | "loaves" => Unit::Loaf,
        "ear" | "ears" | "cob" | "cobs" => Unit::Ear,
        "drop" | "drops" => Unit::Drop,
        "can" | "cans" | "tin" | "tins" => Unit::Can,
        "jar" | "jars" => Unit::Jar,
        "pack" | "packs" | "packet" | "packets" | "package" | "packages" | "pkg" | "pkgs"
        | "pkt" | "pkts" | "sachet" | "sachets" | "envelope" | "envelopes" | "punnet"
        | "punnets" => Unit::Pack,
        "bottle" | "bottles" => Unit::Bottle,
        "carton" | "cartons" => Unit::Carton,
        "tub" | "tubs" | "pot" | "pots" => Unit::Tub,
        "bag" | "bags" => Unit::Bag,
        "slice" | "slices" | "rasher" | "rashers" => Unit::Slice,
        "stick" | "sticks" => Unit::Stick,
        "stalk" | "stalks" | "rib" | "ribs" => Unit::Stalk,
        "sheet" | "sheets" => Unit::Sheet,
        "piece" | "pieces" | "thumb" | "thumbs" => Unit::Piece,
        "cube" | "cubes" => Unit::Cube,
        "block" | "blocks" => Unit::Block,
        "ball" | "balls" => Unit::Ball,
        "leaf" | "leaves" => Unit::Leaf,
        "pinch" | "pinches" => Unit::Pinch,
        "dash" | "dashes" => Unit::Dash,
        "splash" | "splashes" | "glug" | "glugs" | "squeeze" | "squeezes" => Unit::Splash,
        "drizzle" | "drizzles" => Unit::Drizzle,
        "knob" | "knobs" => Unit::Knob,
        "handful" | "handfuls" | "handsful" => Unit::Handful,
        "dollop" | "dollops" => Unit::Dollop,
        _ => return None,
    })
}

/// The unit at `at`, and the token behind it with its dot. `cloves` with nothing behind them are
/// the spice, as is any counted unit that ends a line: it is itself the food.
pub(super) fn unit_at(tokens: &[Token], at: usize) -> Option<(Unit, usize)> {
    let word = |ahead: usize| tokens.get(at + ahead).map_or("", Token::word);
    let dot = |ahead: usize| usize::from(tokens.get(at + ahead).is_some_and(|it| it.is_mark('.')));
    let first = word(0);
    if matches!(first, "fl" | "fluid") {
        let ounce = 1 + dot(1);
        let is_ounce = unit(word(ounce)) == Some(Unit::Ounce);
        return is_ounce.then(|| (Unit::FluidOunce, at + ounce + 1 + dot(ounce + 1)));
    }
    // `2 table spoons oil`
    if matches!(word(1), "spoon" | "spoons" | "spoonful" | "spoonfuls") {
        let spoon = match first {
            "table" => Unit::Tablespoon,
            "tea" => Unit::Teaspoon,
            "dessert" => Unit::Dessertspoon,
            _ => return None,
        };
        return Some((spoon, at + 2));
    }
    if is_shape(first) && word(1) == "of" {
        return Some((Unit::Piece, at + 1));
    }
    let found = unit(first)?;
    let behind = tokens.get(at + 1);
    let ends = behind.is_none_or(|it| it.is_mark(')'));
    // `3 cloves, ground` and `8 cloves (whole)`: without a plant behind it the clove is the food.
    let bare_clove =
        found == Unit::Clove && behind.is_some_and(|it| it.is_mark(',') || it.is_mark('('));
    if (ends && !is_measured(found)) || bare_clove || begins_a_food(first, word(1)) {
        return None;
    }
    Some((found, at + 1 + dot(1)))
}

/// `rib eye steak`, `pot roast`, `leaf gelatine`: the word belongs to the food.
fn begins_a_food(first: &str, next: &str) -> bool {
    match first {
        "rib" | "ribs" => matches!(next, "eye" | "eyes" | "roast" | "steak" | "steaks"),
        "pot" => matches!(next, "roast" | "barley" | "stickers"),
        "bottle" => next == "gourd",
        "head" => next == "cheese",
        "cube" => matches!(next, "steak" | "steaks"),
        "leaf" => matches!(next, "gelatine" | "gelatin"),
        "block" => next == "flour",
        _ => false,
    }
}

/// By weight or volume.
pub(super) const fn is_measured(unit: Unit) -> bool {
    matches!(unit.kind(), Kind::Mass | Kind::Volume)
}

/// What food is sold in: a size said beside it is that of one.
pub(super) const fn is_container(unit: Unit) -> bool {
    matches!(
        unit,
        Unit::Can
            | Unit::Jar
            | Unit::Pack
            | Unit::Bottle
            | Unit::Carton
            | Unit::Tub
            | Unit::Bag
            | Unit::Ball
            | Unit::Block
            | Unit::Loaf
            | Unit::Piece
    )
}

/// Amounts nobody counts, which need no figure: `pinch of salt`.
pub(super) const fn is_loose(unit: Unit) -> bool {
    matches!(unit.kind(), Kind::Loose)
}

/// Units that are parts of a plant, a loaf or a side, and may stand behind it: `3 garlic cloves`.
pub(super) fn trailing_unit(word: &str, food: &str) -> Option<Unit> {
    let found = counted(word).filter(|unit| {
        matches!(
            unit,
            Unit::Clove
                | Unit::Sprig
                | Unit::Stalk
                | Unit::Stick
                | Unit::Leaf
                | Unit::Head
                | Unit::Bunch
                | Unit::Slice
                | Unit::Ear
                | Unit::Sheet
        )
    })?;
    // `3 bay leaves`, `2 cinnamon sticks`: sold and named so.
    let last = food.rsplit(' ').next().unwrap_or_default();
    let is_own = match found {
        Unit::Leaf => matches!(last, "bay" | "curry" | "lime" | "tea" | "vine" | "salad" | "grape"),
        Unit::Stick => matches!(last, "cinnamon" | "bread" | "fish" | "crab" | "cheese"),
        Unit::Head => matches!(last, "fish" | "prawn" | "shrimp" | "salmon" | "flower"),
        Unit::Stalk => matches!(last, "spare" | "short" | "pork" | "beef" | "lamb" | "baby"),
        _ => false,
    };
    (!is_own).then_some(found)
}

/// Cut shapes: with `of` behind them they are pieces of the food.
fn is_shape(word: &str) -> bool {
    matches!(
        word,
        "strip"
            | "strips"
            | "wedge"
            | "wedges"
            | "chunk"
            | "chunks"
            | "slab"
            | "slabs"
            | "hunk"
            | "hunks"
            | "segment"
            | "segments"
            | "length"
            | "lengths"
    )
}
