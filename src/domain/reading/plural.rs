//! From the plural to the singular: what a shopper's list says.

use super::words;

/// The name as a shopper says it, of words in lower case: singular, without words that do not matter.
pub(super) fn food_of(name: &str) -> String {
    let mut kept = String::with_capacity(name.len());
    let mut words = name.split(' ').filter(|it| !it.is_empty()).peekable();
    while let Some(word) = words.next() {
        let plain = word.trim_end_matches(',');
        let is_last = words.peek().is_none();
        if words::is_no_matter(plain) && !(is_last && kept.is_empty()) {
            continue;
        }
        // `medium to large onions`
        let joins_sizes = matches!(word, "to" | "or" | "and") && kept.is_empty();
        if joins_sizes && words.peek().is_some_and(|it| words::is_no_matter(it)) {
            continue;
        }
        if !kept.is_empty() {
            kept.push(' ');
        }
        // `sardines in oil`: the noun stands before what it lies in.
        let lies_in = words.peek() == Some(&"in");
        if is_last || lies_in {
            kept.push_str(&singular(plain));
        } else {
            kept.push_str(word);
        }
    }
    kept
}

/// The singular of the last word of a name, in lower case. Nouns that end in s anyway stay.
pub(super) fn singular(word: &str) -> String {
    if is_same(word) || word.ends_with("ss") || word.len() < 4 {
        return word.to_owned();
    }
    if let Some(one) = special(word) {
        return one.to_owned();
    }
    if let Some(stem) = word.strip_suffix("ies").filter(|stem| stem.len() > 2) {
        return format!("{stem}y");
    }
    let drops_es = ["shes", "ches", "xes", "sses", "zes", "toes"]
        .iter()
        .any(|ending| word.strip_suffix(ending).is_some_and(|stem| stem.len() > 1));
    if drops_es {
        return word[..word.len() - 2].to_owned();
    }
    match word.strip_suffix('s') {
        Some(stem) if !stem.ends_with(['u', 'i']) => stem.to_owned(),
        _ => word.to_owned(),
    }
}

fn is_same(word: &str) -> bool {
    matches!(
        word,
        "asparagus"
            | "couscous"
            | "hummus"
            | "molasses"
            | "swiss"
            | "haas"
            | "citrus"
            | "octopus"
            | "schnapps"
            | "brussels"
            | "greens"
            | "oats"
            | "grits"
            | "hibiscus"
            | "fungus"
            | "gas"
            | "bitters"
            | "hundreds"
            | "thousands"
            | "tapas"
    )
}

/// Plurals that lose more than an s, or keep an e that a rule would take.
fn special(word: &str) -> Option<&'static str> {
    Some(match word {
        "leaves" => "leaf",
        "loaves" => "loaf",
        "halves" => "half",
        "calves" => "calf",
        "knives" => "knife",
        "mangoes" => "mango",
        "anchovies" => "anchovy",
        "cookies" => "cookie",
        "brownies" => "brownie",
        "smoothies" => "smoothie",
        "pies" => "pie",
        "chilies" => "chili",
        "chillies" => "chilli",
        "chiles" => "chile",
        "quiches" => "quiche",
        "brioches" => "brioche",
        "avocadoes" => "avocado",
        "geese" => "goose",
        "octopuses" => "octopus",
        "gnocchi" => "gnocchi",
        "kiwis" => "kiwi",
        "zucchinis" => "zucchini",
        "pepperoncinis" => "pepperoncini",
        "paninis" => "panini",
        "porcinis" => "porcini",
        "chipotles" => "chipotle",
        "broccolis" => "broccoli",
        _ => return None,
    })
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
            ("olives", "olive"),
            ("raspberries", "raspberry"),
            ("watercress", "watercress"),
            ("peas", "pea"),
            ("figs", "fig"),
            ("eggs", "egg"),
            ("radishes", "radish"),
            ("peaches", "peach"),
            ("potatoes", "potato"),
            ("couscous", "couscous"),
            ("lentils", "lentil"),
        ] {
            assert_eq!(singular(many), one);
        }
    }

    #[test]
    fn what_lies_in_something_is_one_of_it() {
        for (many, one) in [
            ("sardines in oil", "sardine in oil"),
            ("sour cherries in syrup", "sour cherry in syrup"),
            ("tuna in spring water", "tuna in spring water"),
        ] {
            assert_eq!(food_of(many), one);
        }
    }
}
