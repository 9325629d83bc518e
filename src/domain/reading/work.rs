//! The words that describe a food: work, states, qualities, kinds.
//!
//! British and American kitchen use. A word that is not here stays in the food's name.

/// Words that say what the cook does to a food, or how it is wanted.
pub(super) fn is_preparation(word: &str) -> bool {
    match word {
        "chopped" | "sliced" | "diced" | "minced" | "grated" | "shredded" | "crushed"
        | "peeled" | "unpeeled" | "cubed" | "halved" | "quartered" | "melted" | "softened"
        | "toasted" | "beaten" | "sifted" | "cooked" | "drained" | "rinsed" | "trimmed"
        | "torn" | "crumbled" | "julienned" | "mashed" | "pitted" | "seeded" | "deseeded"
        | "de-seeded" | "squeezed" | "zested" | "juiced" | "thawed" | "defrosted" | "scrubbed"
        | "washed" | "cored" | "shelled" | "blanched" | "chilled" | "warmed" | "cooled"
        | "cold" | "warm" | "lukewarm" | "tepid" | "boiling" | "boiled" | "hard-boiled"
        | "soft-boiled" | "hot" | "cut" | "picked" | "stemmed" | "hulled" | "bruised"
        | "snipped" | "smashed" | "bashed" | "flaked" | "shaved" | "pared" | "spiralized"
        | "spiralised" | "slivered" | "whisked" | "whipped" | "soaked" | "debearded"
        | "deveined" | "separated" | "split" | "sieved" | "strained" | "pounded" | "podded"
        | "destoned" | "stoned" | "skinned" | "stripped" | "wilted" | "ground" | "cracked"
        | "roasted" | "fried" | "steamed" | "poached" | "grilled" | "leftover" | "dissolved"
        | "scalded" | "browned" | "caramelised" | "caramelized" | "room-temperature"
        | "washed-and-dried" | "butterflied" | "scored" | "tied" | "rolled" | "flattened"
        | "segmented" | "cleaned" | "dried" | "patted" | "reserved" | "plucked" | "loosened"
        | "heated" | "reheated" | "infused" | "pureed" | "puréed" | "blitzed" | "processed"
        | "marinated" | "bitesize" | "uncooked" => true,
        other => other
            .split_once('-')
            .is_some_and(|(manner, work)| is_manner(manner) && is_preparation(work)),
    }
}

/// Work that before a food is often part of its name: `ground cumin`, `rolled oats`.
pub(super) fn is_named_so(word: &str) -> bool {
    matches!(
        word,
        "ground"
            | "dried"
            | "roasted"
            | "rolled"
            | "split"
            | "smoked"
            | "whipped"
            | "flaked"
            | "puffed"
            | "strained"
            | "fried"
            | "marinated"
            | "cracked"
            | "processed"
            | "slivered"
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
            | "tightly"
            | "newly"
            | "gently"
            | "crudely"
            | "neatly"
            | "diagonally"
            | "evenly"
            | "chunkily"
            | "fine"
            | "coarse"
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
            | "free-range"
            | "organic"
    )
}

/// Words that describe the food behind them; alone before an `or` they lean on the next noun.
pub(super) fn is_describing(word: &str) -> bool {
    matches!(
        word,
        "red"
            | "white"
            | "green"
            | "yellow"
            | "orange"
            | "black"
            | "brown"
            | "golden"
            | "dark"
            | "light"
            | "pale"
            | "sweet"
            | "dry"
            | "medium-dry"
            | "firm"
            | "extra-firm"
            | "soft"
            | "plain"
            | "strong"
            | "weak"
            | "mild"
            | "hot"
            | "smoked"
            | "unsmoked"
            | "salted"
            | "unsalted"
            | "roasted"
            | "wholemeal"
            | "wholegrain"
            | "whole-wheat"
    ) || is_describing_kind(word)
}

fn is_describing_kind(word: &str) -> bool {
    matches!(
        word,
        "self-raising"
            | "self-rising"
            | "basmati"
            | "jasmine"
            | "wild"
            | "demerara"
            | "caster"
            | "granulated"
            | "savoy"
            | "heavy"
            | "double"
            | "single"
            | "whipping"
            | "whole"
            | "skimmed"
            | "semi-skimmed"
            | "full-fat"
            | "low-fat"
            | "fresh"
            | "frozen"
            | "dried"
            | "tinned"
            | "canned"
            | "boneless"
            | "skinless"
            | "skin-on"
            | "bone-in"
            | "ripe"
            | "raw"
            | "cooked"
            | "large"
            | "medium"
            | "small"
    ) || is_describing_make(word)
}

fn is_describing_make(word: &str) -> bool {
    matches!(
        word,
        "long-grain"
            | "short-grain"
            | "medium-grain"
            | "smooth"
            | "crunchy"
            | "greek"
            | "greek-style"
            | "natural"
            | "flat-leaf"
            | "curly"
            | "streaky"
            | "back"
            | "wholemilk"
            | "charlotte"
            | "dijon"
            | "english"
            | "extra-virgin"
            | "virgin"
            | "romano"
            | "vegan"
            | "pink"
            | "purple"
            | "toasted"
            | "flaked"
            | "ground"
    )
}

/// Nouns that stocks, oils and vinegars are named after.
pub(super) fn is_source(word: &str) -> bool {
    matches!(
        word,
        "chicken"
            | "vegetable"
            | "veg"
            | "beef"
            | "fish"
            | "lamb"
            | "veal"
            | "turkey"
            | "pork"
            | "ham"
            | "mushroom"
            | "sunflower"
            | "rapeseed"
            | "canola"
            | "groundnut"
            | "grapeseed"
            | "corn"
            | "peanut"
            | "olive"
            | "walnut"
            | "cider"
            | "safflower"
            | "sesame"
            | "rice"
            | "malt"
            | "sherry"
            | "balsamic"
    )
}

/// What is named after its source: `chicken or vegetable stock`.
pub(super) fn is_drawn_from(head: &str) -> bool {
    matches!(
        head,
        "stock" | "broth" | "bouillon" | "oil" | "vinegar" | "mince" | "gravy" | "stocks" | "oils"
    )
}

/// Words that open a remark: neither work nor purpose.
pub(super) fn opens_remark(word: &str) -> bool {
    matches!(
        word,
        "such"
            | "like"
            | "eg"
            | "preferably"
            | "ideally"
            | "see"
            | "i"
            | "i'm"
            | "i've"
            | "we"
            | "you"
            | "my"
            | "our"
            | "not"
            | "any"
            | "available"
            | "use"
            | "from"
            | "note"
            | "recipe"
            | "sold"
            | "also"
            | "usually"
            | "or"
            | "try"
            | "depending"
            | "homemade"
            | "shop-bought"
            | "store-bought"
            | "it"
            | "this"
            | "these"
            | "they"
            | "mine"
            | "ask"
            | "the"
            | "whichever"
            | "whatever"
            | "once"
            | "which"
            | "that"
            | "look"
            | "buy"
            | "get"
    )
}

/// Words that make a bracket a preparation though no work is named: `bone in`, `zest only`.
pub(super) fn is_state(word: &str) -> bool {
    matches!(
        word,
        "zest"
            | "juice"
            | "skin"
            | "bone"
            | "temperature"
            | "chunks"
            | "strips"
            | "cubes"
            | "dice"
            | "wedges"
            | "rounds"
            | "matchsticks"
            | "florets"
            | "pieces"
            | "slices"
            | "leaves"
            | "stalks"
            | "seeds"
            | "removed"
            | "discarded"
            | "only"
            | "half"
            | "halves"
            | "quarters"
            | "skinless"
            | "boneless"
            | "skin-on"
            | "bone-in"
            | "taken"
            | "brought"
            | "left"
    )
}

/// What a food is cut into; behind a known food it is work.
pub(super) fn is_shape(word: &str) -> bool {
    matches!(
        word,
        "wedge"
            | "wedges"
            | "squares"
            | "strips"
            | "rounds"
            | "cubes"
            | "chunks"
            | "dice"
            | "matchsticks"
            | "segments"
            | "halves"
            | "quarters"
            | "twists"
            | "curls"
            | "ribbons"
            | "shavings"
            | "slices"
            | "florets"
            | "pieces"
    )
}
