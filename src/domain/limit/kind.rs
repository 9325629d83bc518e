//! Which rule rows a food falls under: from the foods in it and whether heat was applied.
//!
//! A food is known by its groups in the larder and by the words of its name. Here a wrong guess can
//! only shorten a limit, the page names the row that was used, and the author may correct it with
//! `[kind ...]`; allergens are never read this way.

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

/// What the steps did to a food before it waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Heated {
    No,
    /// Some heat: enough to call a plant food cooked, not to call meat cooked.
    Some,
    /// To a core temperature, or long enough to be cooked through.
    Through,
}

/// One food inside what waits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Content {
    pub food: String,
    pub traits: BTreeSet<Trait>,
    pub heated: Heated,
    /// Some of the heat was an oven's.
    pub is_baked: bool,
    /// Grams, roughly; none when the line does not say. Only tells dough from custard.
    pub grams: Option<u32>,
}

/// What waits, and how it goes on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Waiting {
    pub contents: Vec<Content>,
    /// Something perishable was added after the last heat.
    pub is_joined_cold: bool,
    pub goes_into_oven: bool,
    /// Title of the dish and name of the part, in small letters.
    pub named: String,
}

/// A rule row that counts, and what in the food brought it up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KindOfFood {
    pub key: &'static str,
    pub because: String,
}

const ANIMAL: [Trait; 5] =
    [Trait::Poultry, Trait::Mince, Trait::Meat, Trait::Fish, Trait::Shellfish];

/// What spoils once it was heated with water in it (Food Code 1-201.10: heated plant food counts).
const PERISHES_COOKED: [Trait; 14] = [
    Trait::Poultry,
    Trait::Mince,
    Trait::Meat,
    Trait::Fish,
    Trait::Shellfish,
    Trait::Egg,
    Trait::Milk,
    Trait::Grain,
    Trait::Rice,
    Trait::Pasta,
    Trait::Pulse,
    Trait::Vegetable,
    Trait::Fruit,
    Trait::Stock,
];

impl Waiting {
    /// A food with the trait that no heat has made into something else.
    fn raw(&self, wanted: Trait) -> Option<&Content> {
        let enough = if ANIMAL.contains(&wanted) { Heated::Through } else { Heated::Some };
        self.contents.iter().find(|it| it.traits.contains(&wanted) && it.heated < enough)
    }

    fn cooked(&self, wanted: Trait) -> Option<&Content> {
        let enough = if ANIMAL.contains(&wanted) { Heated::Through } else { Heated::Some };
        self.contents.iter().find(|it| it.traits.contains(&wanted) && it.heated >= enough)
    }

    /// Bread, biscuits, cake: baked, with more flour than milk, egg and fruit together.
    fn is_bakery(&self) -> bool {
        let sum = |wanted: &[Trait]| -> Option<u32> {
            let mut total = 0_u32;
            for it in &self.contents {
                if wanted.iter().any(|it_is| it.traits.contains(it_is)) {
                    total = total.saturating_add(it.grams?);
                }
            }
            Some(total)
        };
        let flour = sum(&[Trait::Flour]).unwrap_or(0);
        let baked = self.contents.iter().filter(|it| it.traits.contains(&Trait::Flour));
        let wet = [Trait::Egg, Trait::Milk, Trait::Fruit, Trait::Stock];
        let filled = ANIMAL.iter().chain(&[Trait::Vegetable, Trait::Pulse, Trait::Cured]);
        baked.clone().next().is_some()
            && baked.clone().all(|it| it.is_baked)
            && !filled.clone().any(|it_is| self.contents.iter().any(|it| it.traits.contains(it_is)))
            && sum(&wet).is_some_and(|wet| wet < flour)
    }
}

/// Every safety row that matches, and the quality rows a food without a tested figure falls under.
pub fn kinds_of(waiting: &Waiting) -> Vec<KindOfFood> {
    if waiting.is_bakery() {
        return Vec::new();
    }
    let mut found = Vec::new();
    raw_kinds(waiting, &mut found);
    mixed_kinds(waiting, &mut found);
    cooked_kinds(waiting, &mut found);
    taste_kinds(waiting, &mut found);
    found
}

fn put(found: &mut Vec<KindOfFood>, key: &'static str, because: String) {
    if !found.iter().any(|kind| kind.key == key) {
        found.push(KindOfFood { key, because });
    }
}

fn raw_kinds(waiting: &Waiting, found: &mut Vec<KindOfFood>) {
    let rows = [
        (Trait::Poultry, "poultry_parts_raw"),
        (Trait::Mince, "ground_raw"),
        (Trait::Fish, "fish_lean_raw"),
        (Trait::Shellfish, "shrimp_raw"),
        (Trait::Meat, "roasts_raw"),
    ];
    for (wanted, key) in rows {
        if let Some(it) = waiting.raw(wanted) {
            put(found, key, format!("{} not cooked through", it.food));
        }
    }
    if let Some(it) = waiting.raw(Trait::Cured) {
        put(found, "deli_open", it.food.clone());
    }
    let egg = waiting.raw(Trait::Egg);
    if let Some(it) = egg {
        put(found, "egg_raw_parts", format!("{} raw", it.food));
        let plain = waiting.raw(Trait::Flour).is_none() && waiting.raw(Trait::Milk).is_none();
        if waiting.raw(Trait::Oil).is_some() && plain {
            put(found, "aioli", format!("{} raw, with oil", it.food));
        }
    }
    let raw_animal = ANIMAL.iter().find_map(|it| waiting.raw(*it)).or(egg);
    let beside = waiting.contents.iter().any(|it| it.heated > Heated::No)
        || waiting.raw(Trait::Milk).is_some();
    if let Some(it) = raw_animal.filter(|_| beside && waiting.goes_into_oven) {
        put(found, "casserole_unbaked_rawmeat", format!("{} raw in a dish not yet baked", it.food));
    }
    if let Some(it) = raw_animal.filter(|_| waiting.named.contains("stuffing")) {
        put(found, "stuffing_raw", format!("{} raw in a stuffing", it.food));
    }
}

fn mixed_kinds(waiting: &Waiting, found: &mut Vec<KindOfFood>) {
    if let (Some(garlic), Some(_)) = (waiting.raw(Trait::Garlic), waiting.raw(Trait::Oil)) {
        put(found, "garlic_oil", format!("{} raw, in oil", garlic.food));
    }
    if let (Some(herb), Some(_)) = (waiting.raw(Trait::Herb), waiting.raw(Trait::Oil)) {
        put(found, "herb_oil", format!("{} fresh, under oil", herb.food));
    }
    if let Some(it) = waiting.raw(Trait::CutPerishable) {
        put(found, "cut_tcs", format!("{} cut", it.food));
    }
    if let Some(it) = waiting.raw(Trait::Milk) {
        put(found, "home_mixed", format!("{} mixed in, not heated", it.food));
    }
}

fn cooked_kinds(waiting: &Waiting, found: &mut Vec<KindOfFood>) {
    let Some(any) = PERISHES_COOKED.iter().find_map(|it| waiting.cooked(*it)) else { return };
    put(found, "any_cooked", format!("{} cooked", any.food));
    let rows = [
        (Trait::Poultry, "cooked_poultry"),
        (Trait::Mince, "leftover_meat"),
        (Trait::Meat, "leftover_meat"),
        (Trait::Fish, "cooked_fish"),
        (Trait::Shellfish, "cooked_shellfish"),
        (Trait::Egg, "egg_dish"),
        (Trait::Rice, "cooked_rice"),
        (Trait::Pasta, "cooked_pasta"),
        (Trait::Grain, "cooked_grain"),
        (Trait::Pulse, "beans_cooked"),
        (Trait::Vegetable, "leftover_veg"),
    ];
    for (wanted, key) in rows {
        if let Some(it) = waiting.cooked(wanted) {
            put(found, key, format!("{} cooked", it.food));
        }
    }
    let on_the_hob = |it: &&Content| !it.is_baked;
    let milk = waiting.cooked(Trait::Milk).filter(on_the_hob);
    let starch = waiting.cooked(Trait::Flour).filter(on_the_hob);
    let egg = waiting.cooked(Trait::Egg);
    if let (Some(milk), Some(starch)) = (milk, starch) {
        put(found, "milk_sauce", format!("{} thickened with {}", milk.food, starch.food));
    }
    if let (Some(milk), Some(egg)) = (waiting.cooked(Trait::Milk), egg)
        && waiting.cooked(Trait::Vegetable).is_none()
    {
        put(found, "custard", format!("{} set with {}", milk.food, egg.food));
    }
    if waiting.named.contains("gravy") {
        put(found, "gravy", "named a gravy".to_owned());
    }
    if waiting.named.contains("stuffing") {
        put(found, "stuffing_cooked", "named a stuffing".to_owned());
    }
    if waiting.is_joined_cold && waiting.goes_into_oven {
        put(found, "casserole_unbaked_veg", "assembled of cooked parts, not yet baked".to_owned());
    }
}

fn taste_kinds(waiting: &Waiting, found: &mut Vec<KindOfFood>) {
    let heated = waiting.contents.iter().any(|it| it.heated > Heated::No);
    if heated {
        return;
    }
    if let Some(it) = waiting.raw(Trait::Vegetable) {
        let key = if waiting.goes_into_oven { "veg_assembled_raw" } else { "raw_salad_veg" };
        put(found, key, format!("{} raw", it.food));
    }
    if let Some(it) = waiting.raw(Trait::Fruit) {
        put(found, "fruit_cut", format!("{} cut", it.food));
    }
    if waiting.raw(Trait::Oil).is_some() && waiting.raw(Trait::Acid).is_some() && found.is_empty() {
        put(found, "vinaigrette", "oil and acid only".to_owned());
    }
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

    fn content(name: &str, heated: Heated) -> Content {
        Content {
            food: name.to_owned(),
            traits: traits_of(name, None),
            heated,
            is_baked: false,
            grams: None,
        }
    }

    fn keys(contents: Vec<Content>, joined: bool, oven: bool) -> Vec<&'static str> {
        let waiting = Waiting {
            contents,
            is_joined_cold: joined,
            goes_into_oven: oven,
            named: String::new(),
        };
        kinds_of(&waiting).into_iter().map(|kind| kind.key).collect()
    }

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

    #[test]
    fn kinds_follow_from_the_foods_and_the_heat() {
        use Heated::{No, Some as Warm, Through};
        let sauce = vec![content("flat parsley", No), content("olive oil", No)];
        assert_eq!(keys(sauce, false, false), ["herb_oil"]);
        let paste = vec![content("garlic", No), content("olive oil", No)];
        assert!(keys(paste, false, false).contains(&"garlic_oil"));
        let soft = vec![content("garlic", Warm), content("olive oil", Warm)];
        assert!(!keys(soft, false, false).contains(&"garlic_oil"), "cooked garlic is not raw");
        assert!(keys(vec![content("chicken", Warm)], false, false).contains(&"poultry_parts_raw"));
        assert!(
            !keys(vec![content("chicken", Through)], false, true).contains(&"poultry_parts_raw")
        );
        let gratin = vec![content("potatoes", Warm), content("leeks", Warm)];
        assert!(keys(gratin.clone(), true, true).contains(&"casserole_unbaked_veg"));
        assert!(!keys(gratin, false, true).contains(&"casserole_unbaked_veg"), "only warmed again");
        assert!(
            keys(vec![content("egg", No), content("olive oil", No)], false, false)
                .contains(&"aioli")
        );
        assert!(keys(vec![content("caster sugar", No)], false, false).is_empty());
    }

    #[test]
    fn bread_is_not_perishable_and_a_quiche_is() {
        let baked = |name: &str, grams| Content {
            is_baked: true,
            grams: Some(grams),
            ..content(name, Heated::Through)
        };
        assert!(keys(vec![baked("flour", 500), baked("milk", 100)], false, false).is_empty());
        let quiche = vec![baked("flour", 200), baked("cream", 300), baked("eggs", 150)];
        assert!(keys(quiche, false, false).contains(&"egg_dish"));
    }
}
