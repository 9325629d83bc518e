//! What a food brings with it, read from its groups in the larder and the words of its name.

use std::collections::{BTreeSet, HashMap};
use std::sync::LazyLock;

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

/// Words that decide before any trait is looked for: a seasoning or a fat, whatever else stands in
/// the name.
const DECIDING: &[(u64, &[&str])] = &[
    (STOCK, &["stock", "broth"]),
    (FLOUR, &["flour", "cornstarch", "cornflour", "starch", "semolina"]),
    (
        NEUTRAL,
        &[
            "fat",
            "lard",
            "dripping",
            "butter",
            "ghee",
            "margarine",
            "suet",
            "breadcrumb",
            "bread",
            "biscuit",
            "cracker",
            "gingersnap",
            "crumb",
            "cookie",
            "parmesan",
            "cheddar",
            "pecorino",
            "hard cheese",
            "condensed",
        ],
    ),
    (OIL, &["oil"]),
    (
        SEASONS,
        &[
            "seed", "powder", "dried", "salt", "sugar", "vinegar", "sauce", "mustard", "extract",
            "syrup", "nutmeg", "zest", "granules", "flakes", "honey", "jam", "juice", "wine",
            "cider",
        ],
    ),
    (SOUR, &["vinegar", "lemon", "lime"]),
    (ZEST, &["zest"]),
];

/// One bit for each list of words: the traits in their order, and from the top the deciding ones.
const STOCK: u64 = 1 << 63;
const FLOUR: u64 = 1 << 62;
/// Fats, dry bakery, hard cheese: nothing of theirs spoils.
const NEUTRAL: u64 = 1 << 61;
const OIL: u64 = 1 << 60;
const SEASONS: u64 = 1 << 59;
const SOUR: u64 = 1 << 58;
const ZEST: u64 = 1 << 57;

/// A wanted name, found by its first word: the words after it, and the lists it stands in.
type Wanted = (Vec<&'static str>, u64);

static BY_FIRST_WORD: LazyLock<HashMap<&'static str, Vec<Wanted>>> = LazyLock::new(|| {
    let traits = TRAITS.iter().enumerate().map(|(place, (_, _, named))| (1 << place, *named));
    let mut found: HashMap<&str, Vec<Wanted>> = HashMap::new();
    for (bit, list) in traits.chain(DECIDING.iter().copied()) {
        for wanted in list {
            let mut words = wanted.split(' ');
            let first = words.next().unwrap_or_default();
            found.entry(first).or_default().push((words.collect(), bit));
        }
    }
    found
});

/// What a food brings with it.
pub fn traits_of(name: &str, food: Option<&Food>) -> BTreeSet<Trait> {
    let name = name.to_lowercase();
    let words: Vec<&str> = name
        .split(|c: char| !c.is_alphanumeric() && c != '-')
        .filter(|word| !word.is_empty())
        .collect();
    let said = said(&words);
    let has = |list: u64| said & list != 0;
    if has(STOCK) {
        return BTreeSet::from([Trait::Stock]);
    }
    if has(FLOUR) {
        return BTreeSet::from([Trait::Flour]);
    }
    if has(NEUTRAL) {
        return BTreeSet::new();
    }
    if has(OIL) {
        return BTreeSet::from([Trait::Oil]);
    }
    if has(SEASONS) {
        return if has(SOUR) && !has(ZEST) {
            BTreeSet::from([Trait::Acid])
        } else {
            BTreeSet::new()
        };
    }
    let mut traits: BTreeSet<_> = TRAITS
        .iter()
        .enumerate()
        .filter(|(place, (_, groups, _))| {
            has(1 << place) || food.is_some_and(|food| in_groups(food, groups))
        })
        .map(|(_, (it, ..))| *it)
        .collect();
    settle(&mut traits, &words, food);
    traits
}

/// Puts right what groups and words together say too much of.
fn settle(traits: &mut BTreeSet<Trait>, words: &[&str], food: Option<&Food>) {
    if words.contains(&"ground")
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
        || words.iter().any(|word| ["can", "canned", "tinned", "tin"].contains(word));
    if is_tinned {
        traits.remove(&Trait::CutPerishable);
    }
    if traits.contains(&Trait::Garlic) || traits.contains(&Trait::Herb) {
        traits.remove(&Trait::Vegetable);
    }
    traits.remove(&Trait::Acid);
    if words.iter().any(|word| ["lemon", "lemons", "lime", "limes"].contains(word)) {
        traits.remove(&Trait::Fruit);
        traits.insert(Trait::Acid);
    }
}

fn in_groups(food: &Food, groups: &[&str]) -> bool {
    food.groups.iter().any(|group| groups.contains(&&**group))
}

/// The lists that the words stand in, in the singular or plural, and not as `egg-free`.
fn said(words: &[&str]) -> u64 {
    let mut said = 0;
    for (place, word) in words.iter().enumerate() {
        let stems = [Some(*word), word.strip_suffix('s'), word.strip_suffix("es")];
        let found = stems.into_iter().flatten().filter_map(|stem| BY_FIRST_WORD.get(stem));
        for (rest, list) in found.flatten() {
            let next = &words[place + 1..];
            if rest.len() <= next.len() && rest.iter().zip(next).all(|(part, word)| is(word, part))
            {
                said |= list;
            }
        }
    }
    said
}

fn is(word: &str, wanted: &str) -> bool {
    word.strip_prefix(wanted).is_some_and(|ending| ["", "s", "es"].contains(&ending))
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
            ("fennel bulbs", &[Vegetable]),
            ("hard cheese", &[]),
            ("lemon zest", &[]),
            ("hot dogs", &[Trait::Cured]),
        ];
        for (name, traits) in cases {
            assert_eq!(traits_of(name, None), traits.iter().copied().collect(), "{name}");
        }
    }
}
