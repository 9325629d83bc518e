//! Which rule rows a food falls under: from the foods in it and whether heat was applied.
//!
//! A food is known by its groups in the larder and by the words of its name. Here a wrong guess can
//! only shorten a limit, the page names the row that was used, and the author may correct it with
//! `[kind ...]`; allergens are never read this way.

use std::collections::BTreeSet;

use super::traits::Trait;

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
    sauces(waiting, found);
    if waiting.is_joined_cold && waiting.goes_into_oven {
        put(found, "casserole_unbaked_veg", "assembled of cooked parts, not yet baked".to_owned());
    }
}

fn sauces(waiting: &Waiting, found: &mut Vec<KindOfFood>) {
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
}

fn taste_kinds(waiting: &Waiting, found: &mut Vec<KindOfFood>) {
    let heated = waiting.contents.iter().any(|it| it.heated > Heated::No);
    // Rows of taste are for what no row of harm speaks of.
    if heated || !found.is_empty() {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::limit::traits_of;

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
