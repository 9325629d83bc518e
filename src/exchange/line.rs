//! An ingredient line as it was read, in JSON. Where the bytes stood is not kept.

use serde::{Deserialize, Serialize};

use super::card::WrittenAmount;
use crate::domain::larder::{FoodKey, Found};
use crate::domain::quantity::{Amount, Unit};
use crate::domain::reading::{Alternative, IngredientLine, Span, SpanKind};

#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WrittenLine {
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    amount: Option<WrittenAmount>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<String>,
    name: String,
    food: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    preparation: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    alternatives: Vec<WrittenAlternative>,
    #[serde(skip_serializing_if = "String::is_empty")]
    purpose: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    remark: String,
    /// Foods that are all wanted, where the line names several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    together: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    packs: Vec<WrittenAmount>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    equivalents: Vec<WrittenAmount>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    plus: Vec<WrittenAmount>,
    #[serde(skip_serializing_if = "Option::is_none")]
    about: Option<WrittenAmount>,
    /// Words that are set: `optional`, `garnish`, `up to`, `approximate`, `heading`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    flags: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    food_row: Option<String>,
    /// Rows that were only suggested.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    perhaps: Vec<String>,
}

#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct WrittenAlternative {
    name: String,
    food: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    amount: Option<WrittenAmount>,
    #[serde(skip_serializing_if = "Option::is_none")]
    food_row: Option<String>,
    /// Rows that were only suggested.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    perhaps: Vec<String>,
}

fn row(found: &Found) -> Option<String> {
    found.known().map(ToString::to_string)
}

fn perhaps(found: &Found) -> Vec<String> {
    match found {
        Found::Perhaps(keys) => keys.iter().map(ToString::to_string).collect(),
        Found::Known(_) | Found::Unknown => Vec::new(),
    }
}

fn found(row: Option<&str>, perhaps: &[String]) -> Found {
    match row {
        Some(key) => Found::Known(FoodKey::new(key)),
        None if perhaps.is_empty() => Found::Unknown,
        None => Found::Perhaps(perhaps.iter().map(|key| FoodKey::new(key)).collect()),
    }
}

fn written(amounts: &[Amount]) -> Vec<WrittenAmount> {
    amounts.iter().map(WrittenAmount::from).collect()
}

fn amounts(written: Vec<WrittenAmount>) -> Result<Vec<Amount>, String> {
    written.into_iter().map(Amount::try_from).collect()
}

impl From<&IngredientLine> for WrittenLine {
    fn from(line: &IngredientLine) -> Self {
        let flags = [
            ("optional", line.is_optional),
            ("garnish", line.is_garnish),
            ("up to", line.is_up_to),
            ("approximate", line.is_approximate),
            ("heading", line.is_heading),
        ];
        let other = |it: &Alternative| WrittenAlternative {
            name: it.name.clone(),
            food: it.food.clone(),
            amount: it.amount.as_ref().map(WrittenAmount::from),
            food_row: row(&it.found),
            perhaps: perhaps(&it.found),
        };
        Self {
            text: line.text.clone(),
            amount: line.amount.as_ref().map(WrittenAmount::from),
            unit: line.unit.map(|unit| unit.word().to_owned()),
            name: line.name.clone(),
            food: line.food.clone(),
            preparation: line.preparation.clone(),
            alternatives: line.alternatives.iter().map(other).collect(),
            purpose: line.purpose.clone(),
            remark: line.remark.clone(),
            together: line.together.clone(),
            packs: written(&line.packs),
            equivalents: written(&line.equivalents),
            plus: written(&line.plus),
            about: line.about.as_ref().map(WrittenAmount::from),
            flags: flags.iter().filter(|it| it.1).map(|it| it.0.to_owned()).collect(),
            food_row: row(&line.found),
            perhaps: perhaps(&line.found),
        }
    }
}

impl TryFrom<WrittenLine> for IngredientLine {
    type Error = String;

    fn try_from(line: WrittenLine) -> Result<Self, String> {
        let has = |flag: &str| line.flags.iter().any(|it| it == flag);
        let unit = |word: &str| Unit::parse(word).ok_or(format!("no unit “{word}”"));
        let other = |it: WrittenAlternative| {
            Ok::<_, String>(Alternative {
                found: found(it.food_row.as_deref(), &it.perhaps),
                name: it.name,
                food: it.food,
                amount: it.amount.map(Amount::try_from).transpose()?,
            })
        };
        Ok(Self {
            spans: vec![Span { bytes: 0..line.text.len(), is: SpanKind::Words }],
            is_heading: has("heading"),
            is_up_to: has("up to"),
            is_approximate: has("approximate"),
            is_optional: has("optional"),
            is_garnish: has("garnish"),
            amount: line.amount.map(Amount::try_from).transpose()?,
            unit: line.unit.as_deref().map(unit).transpose()?,
            packs: amounts(line.packs)?,
            equivalents: amounts(line.equivalents)?,
            plus: amounts(line.plus)?,
            about: line.about.map(Amount::try_from).transpose()?,
            alternatives: line.alternatives.into_iter().map(other).collect::<Result<_, _>>()?,
            found: found(line.food_row.as_deref(), &line.perhaps),
            text: line.text,
            name: line.name,
            food: line.food,
            preparation: line.preparation,
            purpose: line.purpose,
            remark: line.remark,
            together: line.together,
        })
    }
}
