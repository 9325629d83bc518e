//! The words an ingredient line is made of: units, sizes, preparations, flags.
//!
//! British and American kitchen use. A word that is not here stays in the food's name.

use crate::domain::quantity::Unit;

/// The unit a word stands for, in the singular or plural, with or without its dot.
pub(super) fn unit(word: &str) -> Option<Unit> {
    Some(match word.trim_end_matches('.') {
        "g" | "gr" | "gm" | "gms" | "gram" | "grams" | "gramme" | "grammes" => Unit::Gram,
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Unit::Kilogram,
        "mg" | "milligram" | "milligrams" => Unit::Milligram,
        "oz" | "ozs" | "ounce" | "ounces" => Unit::Ounce,
        "lb" | "lbs" | "pound" | "pounds" => Unit::Pound,
        "ml" | "mls" | "cc" | "millilitre" | "millilitres" | "milliliter" | "milliliters" => {
            Unit::Millilitre
        }
        "cl" | "centilitre" | "centilitres" | "centiliter" | "centiliters" => Unit::Centilitre,
        "dl" | "decilitre" | "decilitres" | "deciliter" | "deciliters" => Unit::Decilitre,
        "l" | "litre" | "litres" | "liter" | "liters" | "ltr" => Unit::Litre,
        "tsp" | "tsps" | "teaspoon" | "teaspoons" | "teaspoonful" => Unit::Teaspoon,
        "dsp" | "dessertspoon" | "dessertspoons" => Unit::Dessertspoon,
        "tbsp" | "tbsps" | "tbs" | "tbl" | "tblsp" | "tablespoon" | "tablespoons"
        | "tablespoonful" => Unit::Tablespoon,
        "cup" | "cups" | "c" => Unit::Cup,
        "pint" | "pints" | "pt" => Unit::Pint,
        "quart" | "quarts" | "qt" => Unit::Quart,
        "gallon" | "gallons" => Unit::Gallon,
        "clove" | "cloves" => Unit::Clove,
        "sprig" | "sprigs" => Unit::Sprig,
        "bunch" | "bunches" => Unit::Bunch,
        "head" | "heads" | "bulb" | "bulbs" => Unit::Head,
        "loaf" | "loaves" => Unit::Loaf,
        "ear" | "ears" | "cob" | "cobs" => Unit::Ear,
        "drop" | "drops" => Unit::Drop,
        "can" | "cans" | "tin" | "tins" => Unit::Can,
        "jar" | "jars" => Unit::Jar,
        "pack" | "packs" | "packet" | "packets" | "package" | "packages" | "pkg" | "sachet"
        | "sachets" | "envelope" | "envelopes" | "punnet" | "punnets" => Unit::Pack,
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
        "splash" | "splashes" | "glug" | "glugs" | "squeeze" => Unit::Splash,
        "drizzle" | "drizzles" => Unit::Drizzle,
        "knob" | "knobs" => Unit::Knob,
        "handful" | "handfuls" => Unit::Handful,
        "dollop" | "dollops" => Unit::Dollop,
        _ => return None,
    })
}

/// Units that are parts of a plant and may stand behind it: `3 garlic cloves`.
pub(super) fn trailing_unit(word: &str) -> Option<Unit> {
    unit(word).filter(|unit| {
        matches!(unit, Unit::Clove | Unit::Sprig | Unit::Stalk | Unit::Stick | Unit::Leaf)
    })
}

/// Numbers as words, and halves of things.
pub(super) fn number_word(word: &str) -> Option<(u32, u32)> {
    Some(match word {
        "a" | "an" | "one" => (1, 1),
        "two" | "couple" => (2, 1),
        "three" => (3, 1),
        "four" => (4, 1),
        "five" => (5, 1),
        "six" => (6, 1),
        "seven" => (7, 1),
        "eight" => (8, 1),
        "nine" => (9, 1),
        "ten" => (10, 1),
        "twelve" => (12, 1),
        "half" => (1, 2),
        "quarter" => (1, 4),
        _ => return None,
    })
}

pub(super) fn is_size(word: &str) -> bool {
    matches!(
        word,
        "small"
            | "medium"
            | "large"
            | "extra-large"
            | "big"
            | "good"
            | "heaped"
            | "heaping"
            | "level"
            | "rounded"
            | "packed"
            | "medium-sized"
            | "generous"
            | "scant"
            | "whole"
            | "tiny"
            | "jumbo"
            | "firmly"
            | "loosely"
            | "lightly"
            | "fat"
            | "thick"
            | "medium-size"
            | "thin"
            | "paper-thin"
            | "long"
            | "short"
            | "tightly"
            | "medium-large"
            | "medium-small"
    )
}

/// Amounts that nobody counts: the quantity stays open.
pub(super) fn is_vague(word: &str) -> bool {
    matches!(word, "few" | "some" | "several" | "little" | "lot" | "bit")
}

/// Cut shapes: with `of` behind them they are pieces of the food.
pub(super) fn is_shape(word: &str) -> bool {
    matches!(
        word,
        "strip" | "strips" | "wedge" | "wedges" | "chunk" | "chunks" | "slab" | "slabs" | "hunk"
    )
}

pub(super) fn is_approximate(word: &str) -> bool {
    matches!(word, "about" | "approx" | "approximately" | "roughly" | "around" | "ca" | "circa")
}

/// Words before a food that say what the cook does to it, not what is bought.
pub(super) fn is_preparation(word: &str) -> bool {
    matches!(
        word,
        "chopped"
            | "sliced"
            | "diced"
            | "minced"
            | "grated"
            | "shredded"
            | "crushed"
            | "peeled"
            | "cubed"
            | "halved"
            | "quartered"
            | "melted"
            | "softened"
            | "toasted"
            | "beaten"
            | "sifted"
            | "cooked"
            | "drained"
            | "rinsed"
            | "trimmed"
            | "torn"
            | "crumbled"
            | "julienned"
            | "mashed"
            | "pitted"
            | "seeded"
            | "deseeded"
            | "squeezed"
            | "zested"
            | "juiced"
            | "thawed"
            | "scrubbed"
            | "washed"
            | "cored"
            | "shelled"
            | "blanched"
            | "chilled"
            | "warmed"
            | "cold"
            | "warm"
            | "boiling"
            | "hot"
            | "cut"
            | "picked"
            | "stemmed"
            | "hulled"
            | "thinly-sliced"
            | "freshly-grated"
            | "bruised"
            | "snipped"
    )
}

/// Adverbs that go with a preparation.
pub(super) fn is_manner(word: &str) -> bool {
    matches!(
        word,
        "finely"
            | "roughly"
            | "coarsely"
            | "thinly"
            | "freshly"
            | "lightly"
            | "well"
            | "loosely"
            | "very"
            | "thickly"
            | "firmly"
            | "newly"
    )
}

/// Words that do not change what is bought; dropped from the food, kept in the name.
pub(super) fn is_no_matter(word: &str) -> bool {
    matches!(
        word,
        "fresh"
            | "ripe"
            | "organic"
            | "free-range"
            | "good-quality"
            | "quality"
            | "best"
            | "freshly"
            | "nice"
            | "big"
            | "small"
            | "medium"
            | "large"
    )
}

/// Qualities that are listed with commas before a food: `crisp, tart apples`.
pub(super) fn is_quality(word: &str) -> bool {
    matches!(
        word,
        "boneless"
            | "skinless"
            | "skin-on"
            | "bone-in"
            | "unsalted"
            | "salted"
            | "roasted"
            | "ripe"
            | "firm"
            | "crisp"
            | "tart"
            | "juicy"
            | "tender"
            | "fresh"
            | "soft"
            | "dry"
            | "crusty"
            | "thick-cut"
    )
}

/// Words that describe the food behind them; alone before an `or` they lean on the next noun.
pub(super) fn is_describing(word: &str) -> bool {
    DESCRIBING.contains(&word)
}

/// Nouns that stocks, oils and vinegars are named after.
pub(super) fn is_source(word: &str) -> bool {
    SOURCES.contains(&word)
}

/// What is named after its source: `chicken or vegetable stock`.
pub(super) fn is_drawn_from(head: &str) -> bool {
    matches!(
        head.to_lowercase().as_str(),
        "stock" | "broth" | "bouillon" | "oil" | "vinegar" | "mince" | "gravy"
    )
}

const SOURCES: [&str; 20] = [
    "chicken",
    "vegetable",
    "beef",
    "fish",
    "lamb",
    "veal",
    "turkey",
    "pork",
    "mushroom",
    "sunflower",
    "rapeseed",
    "canola",
    "groundnut",
    "grapeseed",
    "corn",
    "peanut",
    "olive",
    "walnut",
    "cider",
    "safflower",
];

const DESCRIBING: [&str; 48] = [
    "red",
    "white",
    "green",
    "yellow",
    "orange",
    "black",
    "brown",
    "dark",
    "light",
    "pale",
    "sweet",
    "dry",
    "firm",
    "extra-firm",
    "soft",
    "plain",
    "smoked",
    "salted",
    "unsalted",
    "roasted",
    "wholemeal",
    "self-raising",
    "basmati",
    "wild",
    "demerara",
    "savoy",
    "mild",
    "heavy",
    "double",
    "single",
    "fresh",
    "frozen",
    "dried",
    "tinned",
    "canned",
    "boneless",
    "skinless",
    "skin-on",
    "bone-in",
    "ripe",
    "long-grain",
    "short-grain",
    "medium-grain",
    "smooth",
    "crunchy",
    "full-fat",
    "strong",
    "weak",
];

/// How the food is to be when it goes in, said behind it without a comma.
pub(super) const STATES_BEHIND: [&str; 10] = [
    "at room temperature",
    "in one piece",
    "dissolved in ",
    "blended with ",
    "mixed with ",
    "including ",
    "left whole",
    "from the fridge",
    "straight from ",
    "with its ",
];

/// Words that open a purpose: what the food is for, neither preparation nor option.
pub(super) const PURPOSES: [&str; 22] = [
    "to taste",
    "to serve",
    "for serving",
    "for frying",
    "for dusting",
    "for the",
    "as needed",
    "for greasing",
    "for brushing",
    "for coating",
    "for rolling",
    "for sprinkling",
    "for drizzling",
    "for boiling",
    "for deep-frying",
    "for deep frying",
    "for shallow frying",
    "for garnishing the",
    "to finish",
    "to coat",
    "to cover",
    "as required",
];

/// Words that make a line optional.
pub(super) const OPTIONAL: [&str; 8] = [
    "optional",
    "opt",
    "if you like",
    "if liked",
    "if using",
    "if you have it",
    "if desired",
    "not essential",
];

pub(super) const GARNISH: [&str; 5] =
    ["for garnish", "to garnish", "to decorate", "for garnishing", "for decoration"];

/// Plurals that lose more than an s, or keep an e that a rule would take.
const SPECIAL: [(&str, &str); 24] = [
    ("leaves", "leaf"),
    ("loaves", "loaf"),
    ("halves", "half"),
    ("knives", "knife"),
    ("potatoes", "potato"),
    ("tomatoes", "tomato"),
    ("mangoes", "mango"),
    ("radishes", "radish"),
    ("olives", "olive"),
    ("chives", "chive"),
    ("cloves", "clove"),
    ("endives", "endive"),
    ("anchovies", "anchovy"),
    ("cookies", "cookie"),
    ("brownies", "brownie"),
    ("chilies", "chili"),
    ("chillies", "chilli"),
    ("chiles", "chile"),
    ("squashes", "squash"),
    ("peaches", "peach"),
    ("bunches", "bunch"),
    ("geese", "goose"),
    ("pies", "pie"),
    ("dice", "dice"),
];

/// Nouns that end in s in the singular, and plurals that lose more than an s.
pub(super) fn singular(word: &str) -> String {
    const SAME: [&str; 24] = [
        "asparagus",
        "couscous",
        "hummus",
        "molasses",
        "swiss",
        "cress",
        "watercress",
        "bass",
        "lemongrass",
        "haas",
        "citrus",
        "octopus",
        "schnapps",
        "brussels",
        "greens",
        "oats",
        "grits",
        "hibiscus",
        "fungus",
        "swede's",
        "breadcrumbs'",
        "lentils'",
        "grass",
        "gas",
    ];
    if SAME.contains(&word) || word.ends_with("ss") {
        return word.to_owned();
    }
    if let Some((_, one)) = SPECIAL.iter().find(|(many, _)| *many == word) {
        return (*one).to_owned();
    }
    if let Some(stem) = word.strip_suffix("ies").filter(|stem| stem.len() > 2) {
        return format!("{stem}y");
    }
    for ending in ["shes", "ches", "xes", "sses", "zes"] {
        if word.ends_with(ending) && word.len() > ending.len() + 1 {
            return word[..word.len() - 2].to_owned();
        }
    }
    match word.strip_suffix('s') {
        Some(stem) if stem.len() > 2 && !stem.ends_with('u') && !stem.ends_with('i') => {
            stem.to_owned()
        }
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plurals_become_what_a_shopper_says() {
        for (many, one) in [
            ("onions", "onion"),
            ("leaves", "leaf"),
            ("berries", "berry"),
            ("asparagus", "asparagus"),
            ("chives", "chive"),
            ("raspberries", "raspberry"),
            ("watercress", "watercress"),
            ("peas", "pea"),
            ("radishes", "radish"),
            ("couscous", "couscous"),
        ] {
            assert_eq!(singular(many), one);
        }
    }
}
