//! The words around an amount and a food: numbers, sizes, vague amounts, names of groups.
//!
//! British and American kitchen use. A word that is not here stays in the food's name.

/// Whole numbers as words; articles count as one.
pub(super) fn number_word(word: &str) -> Option<u32> {
    Some(match word {
        "a" | "an" | "one" => 1,
        "two" => 2,
        "three" => 3,
        "four" => 4,
        "five" => 5,
        "six" => 6,
        "seven" => 7,
        "eight" => 8,
        "nine" => 9,
        "ten" => 10,
        "eleven" => 11,
        "twelve" => 12,
        "fifteen" => 15,
        "sixteen" => 16,
        "eighteen" => 18,
        "twenty" => 20,
        _ => return None,
    })
}

/// Parts of one as words, with what they divide by.
pub(super) fn part_word(word: &str) -> Option<u32> {
    Some(match word {
        "half" | "halves" => 2,
        "third" | "thirds" => 3,
        "quarter" | "quarters" => 4,
        "eighth" | "eighths" => 8,
        _ => return None,
    })
}

pub(super) fn is_article(word: &str) -> bool {
    matches!(word, "a" | "an" | "the")
}

/// How big, or how full the measure is: no unit, and no part of what is bought.
pub(super) fn is_size(word: &str) -> bool {
    is_size_of_food(word)
        || matches!(word, "whole" | "thick" | "thin" | "long" | "short" | "full" | "paper-thin")
}

/// Sizes that may stand before the food itself. `whole`, `thick` and `long` are left out there:
/// whole milk, thick yoghurt and long pasta are bought as such.
pub(super) fn is_size_of_food(word: &str) -> bool {
    matches!(
        word,
        "small"
            | "medium"
            | "large"
            | "lg"
            | "lge"
            | "med"
            | "sml"
            | "big"
            | "tiny"
            | "jumbo"
            | "fat"
            | "extra-large"
            | "medium-large"
            | "medium-small"
            | "good"
            | "generous"
            | "scant"
            | "scanty"
            | "heaped"
            | "heaping"
            | "level"
            | "rounded"
            | "packed"
            | "tightly-packed"
            | "loosely-packed"
            | "firmly-packed"
            | "smallish"
            | "largish"
    ) || word.ends_with("-size")
        || word.ends_with("-sized")
}

/// Amounts that nobody counts: the quantity stays open.
pub(super) fn is_vague(word: &str) -> bool {
    matches!(
        word,
        "few"
            | "some"
            | "several"
            | "little"
            | "lot"
            | "lots"
            | "plenty"
            | "bit"
            | "grating"
            | "gratings"
            | "grind"
            | "grinds"
            | "grinding"
            | "twist"
            | "twists"
            | "turns"
            | "sprinkle"
            | "sprinkling"
            | "scattering"
            | "dusting"
            | "trickle"
            | "smear"
    )
}

/// Vague words that need their `of`: `a twist of lemon`, but `1 twist lemon` is a shape.
pub(super) fn is_vague_alone(word: &str) -> bool {
    matches!(word, "few" | "some" | "several" | "little")
}

pub(super) fn is_approximate(word: &str) -> bool {
    matches!(
        word,
        "about"
            | "approx"
            | "approximately"
            | "roughly"
            | "around"
            | "ca"
            | "circa"
            | "nearly"
            | "almost"
            | "c"
    )
}

/// Words that do not change what is bought; dropped from the food, kept in the name.
pub(super) fn is_no_matter(word: &str) -> bool {
    is_size_of_food(word)
        || matches!(
            word,
            "fresh"
                | "freshest"
                | "ripe"
                | "organic"
                | "free-range"
                | "good-quality"
                | "best-quality"
                | "quality"
                | "best"
                | "nice"
                | "firmly"
                | "loosely"
                | "lightly"
                | "tightly"
                | "freshly"
                | "your"
                | "favourite"
                | "favorite"
        )
}

/// Nouns that name a group when they stand alone: `Dough`, `Lemon glaze`.
pub(super) fn is_group(word: &str) -> bool {
    matches!(
        word,
        "dough"
            | "dressing"
            | "sauce"
            | "topping"
            | "toppings"
            | "filling"
            | "fillings"
            | "marinade"
            | "icing"
            | "frosting"
            | "glaze"
            | "crust"
            | "base"
            | "batter"
            | "garnish"
            | "garnishes"
            | "stuffing"
            | "crumble"
            | "rub"
            | "brine"
            | "vinaigrette"
            | "coating"
            | "decoration"
            | "sponge"
            | "assembly"
            | "streusel"
            | "drizzle"
            | "salsa"
            | "syrup"
            | "ganache"
    )
}
