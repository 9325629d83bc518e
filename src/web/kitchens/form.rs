//! What the form of a kitchen sends, and how it becomes a kitchen.

use serde::Deserialize;

use crate::domain::kitchen::{
    ColdRoom, HANDS_MOST, Kitchen, MACHINES_MOST, Machines, OVENS_MOST, Oven, PREHEAT_MINUTES_MOST,
    RINGS_MOST, SHELVES_MOST,
};
use crate::domain::text::Name;

/// Field names with what is wrong, in the order of the page.
pub type Problems = Vec<(&'static str, String)>;

/// Everything as typed. `shelves` is one number an oven, with a plus between: `2 + 1`.
#[derive(Clone, Debug, Deserialize)]
#[serde(default)]
pub struct KitchenForm {
    pub version: String,
    pub name: String,
    pub shelves: String,
    pub preheat: String,
    pub rings: String,
    pub hands: String,
    pub fridge: String,
    pub freezer: String,
    pub processors: String,
    pub blenders: String,
    pub mortars: String,
    pub mixers: String,
}

impl Default for KitchenForm {
    fn default() -> Self {
        let text = str::to_owned;
        Self {
            version: text("0"),
            name: String::new(),
            shelves: text("2"),
            preheat: text("15"),
            rings: text("4"),
            hands: text("1"),
            fridge: text("half"),
            freezer: text("half"),
            processors: text("1"),
            blenders: text("1"),
            mortars: text("1"),
            mixers: text("0"),
        }
    }
}

impl KitchenForm {
    pub fn from(kitchen: &Kitchen, version: u32) -> Self {
        let preheat = kitchen.ovens.first().map_or(15, |oven| oven.preheat_minutes);
        Self {
            version: version.to_string(),
            name: kitchen.name.to_string(),
            shelves: match kitchen.ovens.as_slice() {
                [] => String::new(),
                _ => kitchen.shelves_in_words(),
            },
            preheat: preheat.to_string(),
            rings: kitchen.rings.to_string(),
            hands: kitchen.hands.to_string(),
            fridge: kitchen.fridge.word().to_owned(),
            freezer: kitchen.freezer.word().to_owned(),
            processors: kitchen.machines.processors.to_string(),
            blenders: kitchen.machines.blenders.to_string(),
            mortars: kitchen.machines.mortars.to_string(),
            mixers: kitchen.machines.mixers.to_string(),
        }
    }

    /// A new kitchen with the figures of another; the name is still to be given.
    pub fn like(kitchen: &Kitchen) -> Self {
        Self { name: String::new(), ..Self::from(kitchen, 0) }
    }

    pub fn version(&self) -> u32 {
        self.version.parse().unwrap_or(0)
    }

    pub fn at_version(self, version: u32) -> Self {
        Self { version: version.to_string(), ..self }
    }

    pub fn check(&self) -> (Option<Kitchen>, Problems) {
        let mut problems = Problems::new();
        let name =
            Name::parse(&self.name).map_err(|error| problems.push(("name", error.to_string())));
        let preheat = number(&self.preheat, 0, PREHEAT_MINUTES_MOST);
        let shelves = shelves(&self.shelves);
        if let Err(problem) = &shelves {
            problems.push(("shelves", problem.clone()));
        }
        let mut take = |field, read: Result<u32, String>| {
            read.map_err(|problem| problems.push((field, problem))).ok()
        };
        let preheat = take("preheat", preheat);
        let rings = take("rings", number(&self.rings, 0, RINGS_MOST));
        let hands = take("hands", number(&self.hands, 1, HANDS_MOST));
        let fridge = ColdRoom::parse(&self.fridge);
        let freezer = ColdRoom::parse(&self.freezer);
        for (field, room) in [("fridge", fridge), ("freezer", freezer)] {
            if room.is_none() {
                problems.push((field, "Choose a shelf, half a shelf or none".to_owned()));
            }
        }
        let machines = self.machines(&mut problems);
        let kitchen = (|| {
            let preheat_minutes = preheat?;
            let ovens = shelves.ok()?.into_iter();
            Some(Kitchen {
                name: name.ok()?,
                ovens: ovens.map(|shelves| Oven { shelves, preheat_minutes }).collect(),
                rings: rings?,
                hands: hands?,
                fridge: fridge?,
                freezer: freezer?,
                machines: machines?,
            })
        })();
        (kitchen.filter(Kitchen::is_within_bounds), problems)
    }

    fn machines(&self, problems: &mut Problems) -> Option<Machines> {
        let mut count = |field, typed: &str| {
            let read = number(typed, 0, MACHINES_MOST);
            read.map_err(|problem| problems.push((field, problem))).ok()
        };
        let processors = count("processors", &self.processors);
        let blenders = count("blenders", &self.blenders);
        let mortars = count("mortars", &self.mortars);
        let mixers = count("mixers", &self.mixers);
        Some(Machines {
            processors: processors?,
            blenders: blenders?,
            mortars: mortars?,
            mixers: mixers?,
        })
    }
}

/// `2 + 1` is two ovens; nothing, or 0, is none.
fn shelves(typed: &str) -> Result<Vec<u32>, String> {
    if matches!(typed.trim(), "" | "0") {
        return Ok(Vec::new());
    }
    let ovens: Vec<u32> =
        typed.split('+').map(|one| number(one, 1, SHELVES_MOST)).collect::<Result<_, _>>()?;
    if u32::try_from(ovens.len()).is_ok_and(|count| count <= OVENS_MOST) {
        Ok(ovens)
    } else {
        Err(format!("Write at most {OVENS_MOST} ovens"))
    }
}

fn number(typed: &str, least: u32, most: u32) -> Result<u32, String> {
    let read = typed.trim().parse().ok().filter(|number| (least..=most).contains(number));
    read.ok_or_else(|| format!("Write a whole number from {least} to {most}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::kitchen::usual_kitchens;

    #[test]
    fn a_kitchen_shown_and_sent_again_is_the_same() {
        for kitchen in usual_kitchens() {
            let (read, problems) = KitchenForm::from(&kitchen, 1).check();
            assert_eq!((read, problems), (Some(kitchen), Vec::new()));
        }
    }

    #[test]
    fn ovens_are_told_by_their_shelves_and_all_problems_by_their_field() {
        let read = |typed| shelves(typed);
        assert_eq!(read(" 2 +1 "), Ok(vec![2, 1]));
        assert_eq!(read(""), Ok(Vec::new()));
        assert!(read("2 + 0").is_err() && read("two").is_err() && read("13").is_err());
        let form = KitchenForm {
            name: " ".to_owned(),
            hands: "0".to_owned(),
            freezer: "full".to_owned(),
            ..KitchenForm::default()
        };
        let (kitchen, problems) = form.check();
        let fields: Vec<_> = problems.iter().map(|(field, _)| *field).collect();
        assert_eq!((kitchen, fields), (None, vec!["name", "hands", "freezer"]));
    }
}
