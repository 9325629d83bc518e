//! What a food brings with it, read from its groups in the larder and the words of its name.

use std::collections::BTreeSet;

use crate::domain::larder::{Food, Raw};

/// What matters for keeping.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Trait {
    Poultry,
    Mince,
    Meat,
    Cured,
    Fish,
    Shellfish,
    Egg,
    Milk,
    Grain,
    Rice,
    Pasta,
    Flour,
    Pulse,
    Vegetable,
    /// Perishable once cut: tomato, leafy greens, melon (Food Code 1-201.10).
    CutPerishable,
    Fruit,
    Garlic,
    Herb,
    Oil,
    Acid,
    Stock,
}

/// Group names of the larder, and words of a name, that carry a trait.
const TRAITS: &[(Trait, &[&str], &[&str])] = &[
    (Trait::Poultry, &["poultry"], &["chicken", "turkey", "duck", "goose", "quail", "poultry"]),
    (Trait::Mince, &["mince"], &["mince", "minced", "sausage", "burger"]),
    (
        Trait::Meat,
        &["meat", "meat_red", "beef", "lamb", "pork"],
        &["beef", "pork", "lamb", "veal", "venison", "steak", "brisket", "mutton", "liver"],
    ),
    (
        Trait::Cured,
        &["cured"],
        &["bacon", "ham", "prosciutto", "pancetta", "chorizo", "salami", "hot dog"],
    ),
    (
        Trait::Fish,
        &["fish"],
        &["fish", "salmon", "cod", "tuna", "trout", "haddock", "mackerel", "halibut", "herring"],
    ),
    (
        Trait::Shellfish,
        &["shellfish", "crustacean", "mollusc"],
        &["shrimp", "prawn", "crab", "lobster", "mussel", "clam", "oyster", "scallop", "squid"],
    ),
    (Trait::Egg, &["egg"], &["egg", "yolk"]),
    (
        Trait::Milk,
        &["dairy"],
        &[
            "milk",
            "cream",
            "yogurt",
            "yoghurt",
            "ricotta",
            "mascarpone",
            "buttermilk",
            "quark",
            "custard",
            "crème",
            "creme",
            "kefir",
            "tofu",
        ],
    ),
    (
        Trait::Grain,
        &["pseudo_grain"],
        &[
            "barley",
            "bulgur",
            "couscous",
            "quinoa",
            "oats",
            "polenta",
            "farro",
            "spelt",
            "millet",
            "buckwheat",
            "freekeh",
        ],
    ),
    (Trait::Rice, &["rice"], &["rice", "risotto"]),
    (Trait::Pasta, &["pasta"], &["pasta", "noodle", "spaghetti", "macaroni", "lasagne", "lasagna"]),
    (Trait::Flour, &["starch"], &["flour", "cornstarch", "cornflour", "starch", "semolina"]),
    (Trait::Pulse, &["legume", "pulse"], &["bean", "lentil", "chickpea", "dal", "hummus"]),
    (
        Trait::Vegetable,
        &["vegetable", "veg", "allium", "brassica", "tuber", "fungus", "fungi", "nightshade"],
        &[
            "onion",
            "leek",
            "shallot",
            "potato",
            "potatoes",
            "carrot",
            "celeriac",
            "celery",
            "courgette",
            "zucchini",
            "mushroom",
            "pea",
            "beet",
            "beetroot",
            "fennel bulb",
            "parsnip",
            "turnip",
            "squash",
            "pumpkin",
            "aubergine",
            "eggplant",
            "pepper",
            "cauliflower",
            "broccoli",
            "sweetcorn",
            "asparagus",
            "cucumber",
            "radish",
            "cabbage",
            "spinach",
            "kale",
            "chard",
            "lettuce",
            "tomato",
            "tomatoes",
            "sprout",
            "swede",
        ],
    ),
    (
        Trait::CutPerishable,
        &["leafy"],
        &[
            "tomato",
            "tomatoes",
            "lettuce",
            "spinach",
            "kale",
            "chard",
            "cabbage",
            "arugula",
            "rocket",
            "melon",
            "watermelon",
            "cantaloupe",
        ],
    ),
    (
        Trait::Fruit,
        &["fruit", "berry"],
        &[
            "apple",
            "pear",
            "peach",
            "peaches",
            "plum",
            "apricot",
            "berry",
            "berries",
            "raspberry",
            "raspberries",
            "strawberry",
            "strawberries",
            "mango",
            "grape",
            "cherry",
            "cherries",
            "melon",
            "pineapple",
            "orange",
            "banana",
            "rhubarb",
        ],
    ),
    (Trait::Garlic, &[], &["garlic"]),
    (
        Trait::Herb,
        &["herb"],
        &[
            "parsley",
            "dill",
            "chives",
            "basil",
            "mint",
            "coriander",
            "cilantro",
            "tarragon",
            "rosemary",
            "thyme",
            "sage",
            "oregano",
            "chervil",
            "herb",
        ],
    ),
    (Trait::Oil, &["oil", "refined_oil"], &["oil"]),
    (Trait::Acid, &["vinegar", "acid"], &["vinegar", "lemon juice", "lime juice", "lemon", "lime"]),
    (Trait::Stock, &["stock"], &["stock", "broth"]),
];

/// Words that make a name mean a seasoning or a fat, whatever else stands in it.
const SEASONS: &[&str] = &[
    "seed", "powder", "dried", "salt", "sugar", "vinegar", "sauce", "mustard", "extract", "syrup",
    "nutmeg", "zest", "granules", "flakes", "honey", "jam",
];
const FATS: &[&str] = &["fat", "lard", "dripping", "butter", "ghee", "margarine", "suet"];
const DRY: &[&str] =
    &["breadcrumb", "bread", "biscuit", "cracker", "gingersnap", "crumb", "cookie"];
const KEEPS_LONG: &[&str] = &["parmesan", "cheddar", "pecorino", "hard cheese", "condensed"];

/// What a food brings with it.
pub fn traits_of(name: &str, food: Option<&Food>) -> BTreeSet<Trait> {
    let words: Vec<String> = name
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric() && c != '-')
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    let has = |list: &[&str]| list.iter().any(|wanted| speaks(&words, wanted));
    if has(&["stock", "broth"]) {
        return BTreeSet::from([Trait::Stock]);
    }
    if has(&["flour", "cornstarch", "cornflour", "starch", "semolina"]) {
        return BTreeSet::from([Trait::Flour]);
    }
    if has(FATS) || has(DRY) || has(KEEPS_LONG) {
        return BTreeSet::new();
    }
    if has(&["oil"]) {
        return BTreeSet::from([Trait::Oil]);
    }
    if has(SEASONS) || has(&["juice", "wine", "cider"]) {
        return if has(&["vinegar", "lemon", "lime"]) && !has(&["zest"]) {
            BTreeSet::from([Trait::Acid])
        } else {
            BTreeSet::new()
        };
    }
    let mut traits: BTreeSet<_> = TRAITS
        .iter()
        .filter(|(_, groups, named)| has(named) || food.is_some_and(|food| in_groups(food, groups)))
        .map(|(it, ..)| *it)
        .collect();
    settle(&mut traits, &words, food);
    traits
}

/// Puts right what groups and words together say too much of.
fn settle(traits: &mut BTreeSet<Trait>, words: &[String], food: Option<&Food>) {
    if words.iter().any(|word| word == "ground")
        && [Trait::Poultry, Trait::Meat].iter().any(|it| traits.contains(it))
    {
        traits.insert(Trait::Mince);
    }
    match food.and_then(|food| food.raw) {
        Some(Raw::Poultry) => drop(traits.insert(Trait::Poultry)),
        Some(Raw::Mince) => drop(traits.insert(Trait::Mince)),
        Some(Raw::Fish) => drop(traits.insert(Trait::Fish)),
        Some(Raw::Meat) => drop(traits.insert(Trait::Meat)),
        None => {}
    }
    if traits.contains(&Trait::Cured) {
        traits.remove(&Trait::Meat);
    }
    if traits.contains(&Trait::Poultry) {
        traits.remove(&Trait::Meat);
    }
    let is_tinned = food.is_some_and(|food| food.aisle.contains("can"))
        || words.iter().any(|word| ["can", "canned", "tinned", "tin"].contains(&word.as_str()));
    if is_tinned {
        traits.remove(&Trait::CutPerishable);
    }
    if traits.contains(&Trait::Garlic) || traits.contains(&Trait::Herb) {
        traits.remove(&Trait::Vegetable);
    }
    traits.remove(&Trait::Acid);
    if words.iter().any(|word| ["lemon", "lemons", "lime", "limes"].contains(&word.as_str())) {
        traits.remove(&Trait::Fruit);
        traits.insert(Trait::Acid);
    }
}

fn in_groups(food: &Food, groups: &[&str]) -> bool {
    food.groups.iter().any(|group| groups.contains(&&**group))
}

/// True when the words hold `wanted`, in the singular or plural, and not as `egg-free`.
fn speaks(words: &[String], wanted: &str) -> bool {
    let parts: Vec<&str> = wanted.split(' ').collect();
    words.windows(parts.len()).any(|window| {
        window.iter().zip(&parts).all(|(word, part)| {
            word == part
                || word.strip_suffix('s').is_some_and(|it| it == *part)
                || word.strip_suffix("es").is_some_and(|it| it == *part)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_of_a_name_say_what_it_is() {
        use Trait::{Acid, CutPerishable, Milk, Oil, Poultry, Stock, Vegetable};
        let cases: &[(&str, &[Trait])] = &[
            ("chicken thighs", &[Poultry]),
            ("chicken stock", &[Stock]),
            ("duck fat", &[]),
            ("olive oil", &[Oil]),
            ("lemon juice", &[Acid]),
            ("ripe tomatoes", &[Vegetable, CutPerishable]),
            ("gingersnap biscuits, egg-free", &[]),
            ("whole milk", &[Milk]),
            ("ground nutmeg", &[]),
            ("leeks", &[Vegetable]),
            ("fennel seed", &[]),
        ];
        for (name, traits) in cases {
            assert_eq!(traits_of(name, None), traits.iter().copied().collect(), "{name}");
        }
    }
}
