//! Ingredient lines as they were read, one JSON object a line: what `read-lines` prints.

use serde::Serialize;

use super::card::WrittenAmount;
use crate::domain::larder::Found;
use crate::domain::quantity::{Amount, Unit};
use crate::domain::reading::IngredientLine;

/// One line. Figures are exact fractions as text; null where the line gives none.
#[derive(Debug, Serialize)]
pub struct ReadLine {
    line: String,
    quantity_low: Option<String>,
    quantity_high: Option<String>,
    /// Canonical, null for a bare count or none.
    unit: Option<String>,
    food: String,
    preparation: String,
    optional: bool,
    garnish: bool,
    alternatives: Vec<String>,
    /// Every food, where the line names several that are all wanted.
    together: Vec<String>,
    is_heading: bool,
    packs: Vec<WrittenAmount>,
    equivalents: Vec<WrittenAmount>,
    plus: Vec<WrittenAmount>,
    /// What for: `to taste`, `plus extra for dusting`.
    purpose: String,
    /// Neither work nor purpose: `such as kale`.
    remark: String,
    food_row: Option<String>,
    /// `known`: the larder has exactly this name. `perhaps`: only suggestions. `unknown`.
    confidence: &'static str,
}

fn amounts(all: &[Amount]) -> Vec<WrittenAmount> {
    all.iter().map(WrittenAmount::from).collect()
}

impl From<&IngredientLine> for ReadLine {
    fn from(line: &IngredientLine) -> Self {
        let amount = line.amount.as_ref();
        let unit = line.unit.filter(|unit| *unit != Unit::Each);
        Self {
            line: line.text.clone(),
            // `up to 200 ml` leaves the low end open.
            quantity_low: amount.filter(|_| !line.is_up_to).map(|it| it.low().to_string()),
            quantity_high: amount.map(|it| it.high().to_string()),
            unit: unit.map(|unit| unit.word().to_owned()),
            food: line.food.clone(),
            preparation: line.preparation.clone(),
            optional: line.is_optional,
            garnish: line.is_garnish,
            alternatives: line.alternatives.iter().map(|it| it.food.clone()).collect(),
            together: line.together.clone(),
            is_heading: line.is_heading,
            packs: amounts(&line.packs),
            equivalents: amounts(&line.equivalents),
            plus: amounts(&line.plus),
            purpose: line.purpose.clone(),
            remark: line.remark.clone(),
            food_row: line.found.known().map(ToString::to_string),
            confidence: match line.found {
                Found::Known(_) => "known",
                Found::Perhaps(_) => "perhaps",
                Found::Unknown => "unknown",
            },
        }
    }
}

/// The shape of one printed line, as JSON Schema (draft 2020-12).
pub const SCHEMA: &str = r##"{
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "One ingredient line as read",
  "type": "object",
  "additionalProperties": false,
  "required": ["line", "quantity_low", "quantity_high", "unit", "food", "preparation", "optional",
    "garnish", "alternatives", "together", "is_heading", "packs", "equivalents", "plus", "purpose",
    "remark", "food_row", "confidence"],
  "properties": {
    "line": {"type": "string", "description": "the line as it was given"},
    "quantity_low": {"$ref": "#/$defs/figure", "description": "null for none and under `up to`"},
    "quantity_high": {"$ref": "#/$defs/figure"},
    "unit": {"description": "null for a bare count and for none", "enum": [
      "mg", "g", "kg", "oz", "lb", "ml", "cl", "dl", "l", "tsp", "dsp", "tbsp", "cup", "fl_oz",
      "pint", "quart", "gallon", "clove", "sprig", "bunch", "head", "batch", "loaf", "ear",
      "can", "jar", "pack", "bottle", "carton", "tub", "bag", "slice", "stick", "stalk", "sheet",
      "piece", "cube", "block", "ball", "leaf", "pinch", "dash", "drop", "splash", "drizzle",
      "knob", "handful", "dollop", null]},
    "food": {"type": "string", "description": "singular, as a shopper names it"},
    "preparation": {"type": "string", "description": "work, state, or part wanted"},
    "optional": {"type": "boolean"},
    "garnish": {"type": "boolean"},
    "alternatives": {"type": "array", "items": {"type": "string"}},
    "together": {"type": "array", "items": {"type": "string"},
      "description": "every food, where the line names several that are all wanted"},
    "is_heading": {"type": "boolean"},
    "packs": {"type": "array", "items": {"$ref": "#/$defs/amount"}},
    "equivalents": {"type": "array", "items": {"$ref": "#/$defs/amount"}},
    "plus": {"type": "array", "items": {"$ref": "#/$defs/amount"}},
    "purpose": {"type": "string", "description": "what for"},
    "remark": {"type": "string", "description": "any other words"},
    "food_row": {"type": ["string", "null"], "description": "the row with exactly this name"},
    "confidence": {"enum": ["known", "perhaps", "unknown"]}
  },
  "$defs": {
    "figure": {"type": ["string", "null"], "pattern": "^[0-9]+(/[0-9]+)?$"},
    "amount": {"type": "object", "additionalProperties": false, "required": ["low", "high", "unit"],
      "properties": {"low": {"type": "string", "pattern": "^[0-9]+(/[0-9]+)?$"},
        "high": {"type": "string", "pattern": "^[0-9]+(/[0-9]+)?$"},
        "unit": {"type": "string"}}}
  }
}"##;
