//! The foods that come with the program: one row a food and state, each figure with its source.
//!
//! `foods.tsv` was merged once, by hand-checked keys, from the USDA Standard Reference (weights and
//! refuse: `SR28` and the number of the row), the USDA food-storage data (keeping) and allergen lists
//! named in each row. What is from trade knowledge says MEMORY. A figure that nobody published stays
//! open; `composite` among the groups says that packets of it are made of several things.

use std::sync::{Arc, LazyLock};

use num_rational::BigRational;

use super::{Allergen, Allergens, Certainty, Figure, Food, FoodKey, FromFruit, Larder, Raw};
use crate::domain::quantity::{Amount, Unit};

static SHIPPED: LazyLock<Arc<Larder>> = LazyLock::new(|| {
    let rows = include_str!("foods.tsv").lines().skip(1);
    Arc::new(Larder::of(
        rows.map(|row| food(row).expect("the shipped rows are complete")).collect(),
    ))
});

/// Read once, then shared.
pub(super) fn shipped() -> Arc<Larder> {
    Arc::clone(&SHIPPED)
}

fn food(row: &str) -> Option<Food> {
    let mut columns = row.split('\t');
    let mut next = || columns.next();
    let (key, name, plural) = (next()?, next()?, next()?);
    let aliases = words(next()?);
    let aisle = next()?.into();
    let (keeps, keeps_source) = (next()?, next()?);
    let g_per_ml = figure(next()?, next()?);
    let cuts = cuts(next()?)?;
    let g_each = figure(next()?, next()?);
    let edible = figure(next()?, next()?);
    let (fruit, fruit_ml, fruit_source) = (next()?, next()?, next()?);
    let (packs, _packs_source, loose) = (next()?, next()?, next()?);
    let (cupboard, rare, raw, groups) = (next()?, next()?, next()?, next()?);
    let (known, contains, check, source) = (next()?, next()?, next()?, next()?);
    Some(Food {
        key: FoodKey::new(key),
        name: name.to_owned(),
        plural: plural.to_owned(),
        aliases,
        aisle,
        keeps_days: keeps.parse().ok(),
        keeps_source: keeps_source.into(),
        g_per_ml,
        cuts,
        g_each,
        edible,
        from: (!fruit.is_empty()).then(|| FromFruit {
            fruit: FoodKey::new(fruit),
            ml_each: figure(fruit_ml, fruit_source),
        }),
        packs: packs.split(';').filter_map(amount).collect(),
        loose_step: amount(loose),
        is_cupboard: cupboard == "yes",
        is_rare: rare == "yes",
        raw: match raw {
            "poultry" => Some(Raw::Poultry),
            "mince" => Some(Raw::Mince),
            "fish" => Some(Raw::Fish),
            "meat" => Some(Raw::Meat),
            _ => None,
        },
        groups: groups.split(';').filter(|it| !it.is_empty()).map(Arc::from).collect(),
        allergens: allergens(known, contains, check, source)?,
    })
}

fn words(cell: &str) -> Vec<String> {
    cell.split(';').filter(|it| !it.is_empty()).map(str::to_owned).collect()
}

fn allergens(known: &str, contains: &str, check: &str, source: &str) -> Option<Allergens> {
    if known != "yes" {
        return Some(Allergens::NotKnown);
    }
    let contains = contains.split(';').filter(|it| !it.is_empty()).map(Allergen::parse);
    let checked = |cell: &str| {
        let (allergen, certainty) = cell.split_once(':')?;
        let certainty = match certainty {
            "sometimes" => Certainty::Sometimes,
            "depends" => Certainty::Depends,
            "usually" => Certainty::Usually,
            _ => return None,
        };
        Some((Allergen::parse(allergen)?, certainty))
    };
    let check = check.split(';').filter(|it| !it.is_empty()).map(checked);
    Some(Allergens::Entered {
        contains: contains.collect::<Option<_>>()?,
        check: check.collect::<Option<_>>()?,
        source: source.into(),
    })
}

/// `sliced=115/236.5882365=SR28 11282: 1 cup, sliced is 115 g;chopped=...`.
fn cuts(cell: &str) -> Option<Vec<(Arc<str>, Figure)>> {
    let one = |cut: &str| {
        let (word, rest) = cut.split_once('=')?;
        let (value, source) = rest.split_once('=')?;
        Some((word.into(), figure(value, source)?))
    };
    cell.split(';').filter(|it| !it.is_empty()).map(one).collect()
}

/// `160.0/236.5882365`, exactly.
fn figure(cell: &str, source: &str) -> Option<Figure> {
    let (above, below) = cell.split_once('/').unwrap_or((cell, "1"));
    let value = decimal(above)? / decimal(below)?;
    Some(Figure { value, source: source.into() })
}

fn decimal(text: &str) -> Option<BigRational> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits: u64 = format!("{whole}{part}").parse().ok()?;
    let below = 10_u64.checked_pow(u32::try_from(part.len()).ok()?)?;
    Some(BigRational::new(digits.into(), below.into()))
}

/// `400 g`, `1 each`.
fn amount(cell: &str) -> Option<Amount> {
    let (figure, unit) = cell.trim().split_once(' ')?;
    Some(Amount::of(decimal(figure)?, Unit::parse(unit)?))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::domain::larder::Found;

    #[test]
    fn every_row_is_read_and_found_by_each_of_its_names() {
        let larder = shipped();
        assert!(larder.foods().len() >= 700);
        let mut keys = BTreeSet::new();
        for food in larder.foods() {
            assert!(keys.insert(food.key.clone()), "{}: twice", food.key);
            for name in [&food.name, &food.plural].into_iter().chain(&food.aliases) {
                assert_eq!(larder.find(name), Found::Known(food.key.clone()), "{name}");
            }
            if let Some(edible) = &food.edible {
                let one = BigRational::from_integer(1.into());
                assert!(
                    edible.value > BigRational::default() && edible.value <= one,
                    "{}",
                    food.key
                );
            }
            if let Some(from) = &food.from {
                assert!(larder.food(&from.fruit).is_some(), "{}: no {}", food.key, from.fruit);
            }
        }
    }

    #[test]
    fn every_figure_names_its_source() {
        for food in shipped().foods() {
            let figures = [&food.g_per_ml, &food.g_each, &food.edible];
            let cuts = food.cuts.iter().map(|(_, figure)| figure);
            for figure in figures.into_iter().flatten().chain(cuts) {
                let marked =
                    figure.source.contains("[VERIFIED]") || figure.source.contains("[MEMORY]");
                assert!(marked, "{}: {}", food.key, figure.source);
            }
        }
    }
}
