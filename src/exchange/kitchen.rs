//! The notation of a kitchen.

use serde::{Deserialize, Serialize};

use super::document::Document;
use crate::domain::kitchen::{ColdRoom, Kitchen, Machines, Oven};
use crate::domain::text::Name;

#[doc(hidden)]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenKitchen {
    name: String,
    ovens: Vec<WrittenOven>,
    rings: u32,
    hands: u32,
    fridge: String,
    freezer: String,
    #[serde(default)]
    machines: WrittenMachines,
}

/// A kitchen that names none has none.
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct WrittenMachines {
    processors: u32,
    blenders: u32,
    mortars: u32,
    mixers: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenOven {
    shelves: u32,
    preheat_minutes: u32,
}

impl From<&Kitchen> for WrittenKitchen {
    fn from(kitchen: &Kitchen) -> Self {
        let oven = |oven: &Oven| WrittenOven {
            shelves: oven.shelves,
            preheat_minutes: oven.preheat_minutes,
        };
        Self {
            name: kitchen.name.to_string(),
            ovens: kitchen.ovens.iter().map(oven).collect(),
            rings: kitchen.rings,
            hands: kitchen.hands,
            fridge: kitchen.fridge.word().to_owned(),
            freezer: kitchen.freezer.word().to_owned(),
            machines: WrittenMachines {
                processors: kitchen.machines.processors,
                blenders: kitchen.machines.blenders,
                mortars: kitchen.machines.mortars,
                mixers: kitchen.machines.mixers,
            },
        }
    }
}

impl Document for Kitchen {
    type Written = WrittenKitchen;

    fn from_written(written: WrittenKitchen) -> Result<Self, String> {
        let room = |words: &str| {
            ColdRoom::parse(words).ok_or_else(|| format!("expected shelf, half or none: {words}"))
        };
        let kitchen = Self {
            name: Name::parse(&written.name).map_err(|error| error.to_string())?,
            ovens: written
                .ovens
                .iter()
                .map(|it| Oven { shelves: it.shelves, preheat_minutes: it.preheat_minutes })
                .collect(),
            rings: written.rings,
            hands: written.hands,
            fridge: room(&written.fridge)?,
            freezer: room(&written.freezer)?,
            machines: Machines {
                processors: written.machines.processors,
                blenders: written.machines.blenders,
                mortars: written.machines.mortars,
                mixers: written.machines.mixers,
            },
        };
        let within = kitchen.is_within_bounds();
        within.then_some(kitchen).ok_or_else(|| "a figure is out of bounds".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::kitchen::usual_kitchens;
    use crate::exchange::document;

    #[test]
    fn kitchens_come_back_as_they_were_written() {
        for kitchen in usual_kitchens() {
            assert_eq!(document::read(&document::write(&kitchen)), Ok(kitchen));
        }
        let none = document::write(&usual_kitchens()[0]).replace("\"hands\":1", "\"hands\":0");
        assert!(document::read::<Kitchen>(&none).is_err());
    }
}
