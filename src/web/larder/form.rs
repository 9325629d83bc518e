//! What the page of one food sends, and how it becomes a row of the larder.
//!
//! A figure that is left as it was keeps its source; one that is changed is the school's own.

use std::collections::BTreeMap;

use num_rational::BigRational;
use serde::Deserialize;

use crate::domain::larder::{Allergen, Allergens, Certainty, Figure, Food, FoodKey, Raw};
use crate::domain::quantity::{Amount, Unit};
use crate::domain::reading::read_line;

/// Fields as the browser sends them. An allergen's field is `allergen-milk`: `contains`, `usually`,
/// `sometimes`, `depends`, or `none`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct FoodForm {
    /// The row that is changed; empty for a new one.
    pub key: String,
    pub name: String,
    pub plural: String,
    pub also: String,
    pub aisle: String,
    pub find: String,
    pub cupboard: String,
    pub g_per_ml: String,
    pub g_each: String,
    pub edible: String,
    pub keeps: String,
    pub packs: String,
    pub loose: String,
    pub raw: String,
    pub groups: String,
    /// `yes` when somebody has read recipe and packet.
    pub entered: String,
    #[serde(flatten)]
    pub allergens: BTreeMap<String, String>,
}

/// Field names with what is wrong, in the order of the page.
pub type Problems = Vec<(&'static str, String)>;

const OWN: &str = "the school’s own figure";
const CERTAINTIES: [Certainty; 3] = [Certainty::Usually, Certainty::Sometimes, Certainty::Depends];

impl FoodForm {
    pub fn named(name: &str) -> Self {
        Self { name: name.to_owned(), plural: name.to_owned(), ..Self::default() }
    }

    pub fn of(food: &Food) -> Self {
        let figure =
            |it: &Option<Figure>| it.as_ref().map_or_else(String::new, |it| shown(&it.value));
        let packs: Vec<String> = food.packs.iter().map(pack_words).collect();
        let mut allergens = BTreeMap::new();
        if let Allergens::Entered { contains, check, .. } = &food.allergens {
            for allergen in contains {
                allergens.insert(field(*allergen), "contains".to_owned());
            }
            for (allergen, certainty) in check {
                allergens.entry(field(*allergen)).or_insert_with(|| certainty.word().to_owned());
            }
        }
        let yes = |it: bool| if it { "yes".to_owned() } else { String::new() };
        Self {
            key: food.key.to_string(),
            name: food.name.clone(),
            plural: food.plural.clone(),
            also: food.aliases.join(", "),
            aisle: food.aisle.to_string(),
            find: yes(food.is_rare),
            cupboard: yes(food.is_cupboard),
            g_per_ml: figure(&food.g_per_ml),
            g_each: figure(&food.g_each),
            edible: figure(&food.edible),
            keeps: food.keeps_days.map_or_else(String::new, |days| days.to_string()),
            packs: packs.join("; "),
            loose: food.loose_step.as_ref().map_or_else(String::new, pack_words),
            raw: food.raw.map_or("", raw_word).to_owned(),
            groups: food.groups.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "),
            entered: yes(food.allergens != Allergens::NotKnown),
            allergens,
        }
    }

    /// The food, or everything that is wrong with the fields.
    pub fn check(&self, before: Option<&Food>) -> (Option<Food>, Problems) {
        let mut problems = Problems::new();
        let name = self.name.split_whitespace().collect::<Vec<_>>().join(" ");
        if name.is_empty() || name.chars().count() > 80 {
            problems.push(("name", "Give the food a name of 1 to 80 letters".to_owned()));
        }
        let mut figure = |at: &'static str, typed: &str, old: Option<&Figure>, most: u32| {
            figure_of(typed, old, most).unwrap_or_else(|problem| {
                problems.push((at, problem));
                None
            })
        };
        let g_per_ml =
            figure("g_per_ml", &self.g_per_ml, before.and_then(|it| it.g_per_ml.as_ref()), 5);
        let g_each =
            figure("g_each", &self.g_each, before.and_then(|it| it.g_each.as_ref()), 50_000);
        let edible = figure("edible", &self.edible, before.and_then(|it| it.edible.as_ref()), 1);
        let keeps_days = match self.keeps.trim() {
            "" => None,
            days => days.parse().ok().filter(|days| *days <= 3_650).or_else(|| {
                problems
                    .push(("keeps", "Write whole days, 0 to 3650, or leave it open".to_owned()));
                None
            }),
        };
        let packs = amounts(&self.packs).unwrap_or_else(|problem| {
            problems.push(("packs", problem));
            Vec::new()
        });
        let loose = amounts(&self.loose).unwrap_or_else(|problem| {
            problems.push(("loose", problem));
            Vec::new()
        });
        if !problems.is_empty() {
            return (None, problems);
        }
        let figures = (g_per_ml, g_each, edible);
        (Some(self.food(name, before, figures, keeps_days, packs, loose)), problems)
    }

    fn food(
        &self,
        name: String,
        before: Option<&Food>,
        (g_per_ml, g_each, edible): (Option<Figure>, Option<Figure>, Option<Figure>),
        keeps_days: Option<u32>,
        packs: Vec<Amount>,
        loose: Vec<Amount>,
    ) -> Food {
        let key = if self.key.is_empty() { name.to_lowercase() } else { self.key.clone() };
        let keeps_same = before.is_some_and(|it| it.keeps_days == keeps_days);
        let plural = self.plural.trim();
        Food {
            key: FoodKey::new(&key),
            plural: if plural.is_empty() { name.clone() } else { plural.to_owned() },
            name,
            aliases: words(&self.also),
            aisle: self.aisle.trim().into(),
            keeps_days,
            keeps_source: match before.filter(|_| keeps_same) {
                Some(before) => before.keeps_source.clone(),
                None => OWN.into(),
            },
            g_per_ml,
            cuts: before.map(|it| it.cuts.clone()).unwrap_or_default(),
            g_each,
            edible,
            from: before.and_then(|it| it.from.clone()),
            packs,
            loose_step: loose.into_iter().next(),
            is_cupboard: self.cupboard == "yes",
            is_rare: self.find == "yes",
            raw: RAW.iter().find(|(_, word)| *word == self.raw).map(|(raw, _)| *raw),
            groups: words(&self.groups).into_iter().map(Into::into).collect(),
            allergens: self.allergens(before),
        }
    }

    fn allergens(&self, before: Option<&Food>) -> Allergens {
        if self.entered != "yes" {
            return Allergens::NotKnown;
        }
        let chosen = |allergen: Allergen| self.allergens.get(&field(allergen)).map(String::as_str);
        let contains =
            Allergen::ALL.into_iter().filter(|it| chosen(*it) == Some("contains")).collect();
        let check = Allergen::ALL
            .into_iter()
            .filter_map(|it| {
                let how = CERTAINTIES.into_iter().find(|how| chosen(it) == Some(how.word()))?;
                Some((it, how))
            })
            .collect();
        let same = |source| Allergens::Entered { contains, check, source };
        let old = before.map(|it| &it.allergens);
        match old {
            Some(Allergens::Entered { contains: c, check: k, source }) => {
                let kept = same(source.clone());
                let unchanged = matches!(&kept, Allergens::Entered { contains, check, .. }
                    if sorted(contains) == sorted(c) && sorted(check) == sorted(k));
                if unchanged { kept } else { with_source(kept, OWN) }
            }
            _ => same(OWN.into()),
        }
    }

    /// What stands in the field of an allergen.
    pub fn of_allergen(&self, allergen: Allergen) -> &str {
        self.allergens.get(&field(allergen)).map_or("none", String::as_str)
    }
}

fn sorted<T: Ord + Clone>(all: &[T]) -> Vec<T> {
    let mut all = all.to_vec();
    all.sort();
    all
}

fn with_source(allergens: Allergens, source: &str) -> Allergens {
    match allergens {
        Allergens::Entered { contains, check, .. } => {
            Allergens::Entered { contains, check, source: source.into() }
        }
        Allergens::NotKnown => Allergens::NotKnown,
    }
}

pub const RAW: [(Raw, &str); 4] =
    [(Raw::Poultry, "poultry"), (Raw::Mince, "mince"), (Raw::Fish, "fish"), (Raw::Meat, "meat")];

fn raw_word(raw: Raw) -> &'static str {
    RAW.iter().find(|(it, _)| *it == raw).map_or("", |(_, word)| word)
}

pub fn field(allergen: Allergen) -> String {
    format!("allergen-{}", allergen.word())
}

fn words(typed: &str) -> Vec<String> {
    typed.split([',', ';']).map(str::trim).filter(|it| !it.is_empty()).map(str::to_owned).collect()
}

/// `0.92`, `1/2`; the old figure with its source where it reads the same.
fn figure_of(typed: &str, old: Option<&Figure>, most: u32) -> Result<Option<Figure>, String> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    if let Some(old) = old.filter(|old| shown(&old.value) == typed) {
        return Ok(Some(old.clone()));
    }
    let wrong =
        || format!("Write a figure over 0 and up to {most}, like 0.92; “{typed}” is not one");
    let read = read_line(typed, &crate::domain::larder::Larder::default());
    let value = read.amount.filter(|_| read.name.is_empty()).ok_or_else(wrong)?.high().clone();
    let fits = value > BigRational::default() && value <= BigRational::from_integer(most.into());
    if fits { Ok(Some(Figure { value, source: OWN.into() })) } else { Err(wrong()) }
}

/// `400 g; 1 kg; 6`.
fn amounts(typed: &str) -> Result<Vec<Amount>, String> {
    let nothing = crate::domain::larder::Larder::default();
    let one = |part: &str| {
        let read = read_line(part, &nothing);
        let amount =
            read.amount.filter(|it| read.name.is_empty() && *it.high() > BigRational::default());
        amount.ok_or(format!("Write sizes like 400 g; 1 kg; “{}” is not one", part.trim()))
    };
    typed.split(';').filter(|part| !part.trim().is_empty()).map(one).collect()
}

/// A figure with at most four decimals where that is exact or near enough to be told apart.
pub fn shown(value: &BigRational) -> String {
    let scaled = (value * BigRational::from_integer(10_000.into())).round().to_integer();
    let text = format!("{scaled:0>5}");
    let (whole, part) = text.split_at(text.len() - 4);
    let part = part.trim_end_matches('0');
    if part.is_empty() { whole.to_owned() } else { format!("{whole}.{part}") }
}

pub fn pack_words(amount: &Amount) -> String {
    match amount.unit() {
        Unit::Each => shown(amount.high()),
        unit => format!("{} {}", shown(amount.high()), unit.word()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::larder::Larder;

    #[test]
    fn saving_a_food_unchanged_changes_nothing() {
        for food in Larder::shipped().foods() {
            let (again, problems) = FoodForm::of(food).check(Some(food));
            assert_eq!(problems, [], "{}", food.key);
            let mut again = again.unwrap();
            // Lists are sets: their order is the page's.
            if let (
                Allergens::Entered { contains, check, .. },
                Allergens::Entered { contains: c, check: k, .. },
            ) = (&mut again.allergens, &food.allergens)
            {
                contains.clone_from(c);
                check.clone_from(k);
            }
            assert_eq!(&again, food);
        }
    }

    #[test]
    fn every_problem_is_said_at_once() {
        let form = FoodForm {
            g_per_ml: "much".to_owned(),
            edible: "2".to_owned(),
            keeps: "-1".to_owned(),
            packs: "a bag".to_owned(),
            ..FoodForm::default()
        };
        let fields: Vec<&str> = form.check(None).1.into_iter().map(|(field, _)| field).collect();
        assert_eq!(fields, ["name", "g_per_ml", "edible", "keeps", "packs"]);
    }
}
