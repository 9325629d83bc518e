//! A food of the larder, in JSON: a school's own rows, snapshots, menu files.

use std::collections::BTreeMap;

use num_rational::BigRational;
use serde::{Deserialize, Serialize};

use super::card::{WrittenAmount, fraction};
use crate::domain::larder::{
    Allergen, Allergens, Certainty, Figure, Food, FoodKey, FromFruit, Raw,
};
use crate::domain::quantity::Amount;

/// Fields that say nothing are left out. Figures are fractions as text with their source.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WrittenFood {
    pub key: String,
    pub name: String,
    pub plural: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub aliases: Vec<String>,
    pub aisle: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub keeps_days: Option<u32>,
    #[serde(skip_serializing_if = "String::is_empty")]
    pub keeps_source: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub g_per_ml: Option<WrittenFigure>,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub cuts: BTreeMap<String, WrittenFigure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub g_each: Option<WrittenFigure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edible: Option<WrittenFigure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fruit: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fruit_ml: Option<WrittenFigure>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub packs: Vec<WrittenAmount>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loose_step: Option<WrittenAmount>,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub is_cupboard: bool,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub is_rare: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub raw: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub groups: Vec<String>,
    /// None: nobody has entered it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub allergens: Option<WrittenAllergens>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenFigure {
    pub value: String,
    pub source: String,
}

#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WrittenAllergens {
    pub contains: Vec<String>,
    /// `milk: usually`.
    pub check: Vec<(String, String)>,
    pub source: String,
}

const RAW: [(Raw, &str); 4] =
    [(Raw::Poultry, "poultry"), (Raw::Mince, "mince"), (Raw::Fish, "fish"), (Raw::Meat, "meat")];

impl From<&Figure> for WrittenFigure {
    fn from(figure: &Figure) -> Self {
        Self { value: figure.value.to_string(), source: figure.source.to_string() }
    }
}

impl TryFrom<WrittenFigure> for Figure {
    type Error = String;

    fn try_from(written: WrittenFigure) -> Result<Self, String> {
        let value = fraction(&written.value)?;
        if value <= BigRational::default() {
            return Err(format!("“{}” is not more than 0", written.value));
        }
        Ok(Self { value, source: written.source.into() })
    }
}

impl From<&Food> for WrittenFood {
    fn from(food: &Food) -> Self {
        let figure = |it: &Option<Figure>| it.as_ref().map(WrittenFigure::from);
        let from = food.from.as_ref();
        Self {
            key: food.key.to_string(),
            name: food.name.clone(),
            plural: food.plural.clone(),
            aliases: food.aliases.clone(),
            aisle: food.aisle.to_string(),
            keeps_days: food.keeps_days,
            keeps_source: food.keeps_source.to_string(),
            g_per_ml: figure(&food.g_per_ml),
            cuts: food.cuts.iter().map(|(cut, it)| (cut.to_string(), it.into())).collect(),
            g_each: figure(&food.g_each),
            edible: figure(&food.edible),
            fruit: from.map(|it| it.fruit.to_string()),
            fruit_ml: from.and_then(|it| it.ml_each.as_ref()).map(WrittenFigure::from),
            packs: food.packs.iter().map(WrittenAmount::from).collect(),
            loose_step: food.loose_step.as_ref().map(WrittenAmount::from),
            is_cupboard: food.is_cupboard,
            is_rare: food.is_rare,
            raw: food
                .raw
                .and_then(|raw| RAW.iter().find(|it| it.0 == raw))
                .map(|it| it.1.to_owned()),
            groups: food.groups.iter().map(ToString::to_string).collect(),
            allergens: match &food.allergens {
                Allergens::NotKnown => None,
                Allergens::Entered { contains, check, source } => Some(WrittenAllergens {
                    contains: contains.iter().map(|it| it.word().to_owned()).collect(),
                    check: check
                        .iter()
                        .map(|(a, c)| (a.word().to_owned(), c.word().to_owned()))
                        .collect(),
                    source: source.to_string(),
                }),
            },
        }
    }
}

impl TryFrom<WrittenFood> for Food {
    type Error = String;

    fn try_from(written: WrittenFood) -> Result<Self, String> {
        let key = written.key.clone();
        read(written).map_err(|reason| format!("{key}: {reason}"))
    }
}

fn read(written: WrittenFood) -> Result<Food, String> {
    if written.key.is_empty() || written.name.is_empty() {
        return Err("a food has a key and a name".to_owned());
    }
    let figure = |it: Option<WrittenFigure>| it.map(Figure::try_from).transpose();
    let raw = written.raw.map(|word| {
        let raw = RAW.iter().find(|it| it.1 == word).map(|it| it.0);
        raw.ok_or(format!("raw: “{word}” is none of poultry, mince, fish, meat"))
    });
    let ml_each = figure(written.fruit_ml)?;
    let cuts = written.cuts.into_iter().map(|(cut, it)| Ok((cut.into(), Figure::try_from(it)?)));
    Ok(Food {
        key: FoodKey::new(&written.key),
        plural: if written.plural.is_empty() { written.name.clone() } else { written.plural },
        name: written.name,
        aliases: written.aliases,
        aisle: written.aisle.into(),
        keeps_days: written.keeps_days,
        keeps_source: written.keeps_source.into(),
        g_per_ml: figure(written.g_per_ml)?,
        cuts: cuts.collect::<Result<_, String>>()?,
        g_each: figure(written.g_each)?,
        edible: figure(written.edible)?,
        from: written.fruit.map(|fruit| FromFruit { fruit: FoodKey::new(&fruit), ml_each }),
        packs: written.packs.into_iter().map(Amount::try_from).collect::<Result<_, _>>()?,
        loose_step: written.loose_step.map(Amount::try_from).transpose()?,
        is_cupboard: written.is_cupboard,
        is_rare: written.is_rare,
        raw: raw.transpose()?,
        groups: written.groups.into_iter().map(Into::into).collect(),
        allergens: written.allergens.map_or(Ok(Allergens::NotKnown), allergens)?,
    })
}

fn allergens(written: WrittenAllergens) -> Result<Allergens, String> {
    let allergen = |word: &str| Allergen::parse(word).ok_or(format!("no allergen “{word}”"));
    let certainty = |word: &str| {
        let all = [Certainty::Sometimes, Certainty::Depends, Certainty::Usually];
        all.into_iter().find(|it| it.word() == word).ok_or(format!("no certainty “{word}”"))
    };
    let contains = written.contains.iter().map(|word| allergen(word)).collect::<Result<_, _>>()?;
    let check = written.check.iter().map(|(a, c)| Ok((allergen(a)?, certainty(c)?)));
    let check = check.collect::<Result<_, String>>()?;
    Ok(Allergens::Entered { contains, check, source: written.source.into() })
}

impl super::document::Document for Food {
    type Written = WrittenFood;

    fn from_written(written: WrittenFood) -> Result<Self, String> {
        Self::try_from(written)
    }
}

/// A list of foods as one JSON document.
pub fn read_foods(text: &str) -> Result<Vec<Food>, super::document::DocumentError> {
    let wrong = super::document::DocumentError::new;
    let written: Vec<WrittenFood> = serde_json::from_str(text).map_err(|e| wrong(e.to_string()))?;
    written.into_iter().map(Food::try_from).collect::<Result<_, _>>().map_err(wrong)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::larder::Larder;

    #[test]
    fn every_shipped_food_comes_back_as_it_was_written() {
        for food in Larder::shipped().foods() {
            let written = serde_json::to_string(&WrittenFood::from(food)).unwrap();
            let read: WrittenFood = serde_json::from_str(&written).unwrap();
            assert_eq!(&Food::try_from(read).unwrap(), food);
        }
    }
}
