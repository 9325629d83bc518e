//! Every caution, each with the step it belongs to. `Display` is the finished sentence.
//!
//! A caution stands in its step, not on a page of its own: instructions inside the recipe are the
//! ones that are followed (Maughan, Godwin and others, J. Food Protection 79(8), 2016).

pub mod end_point;
pub mod forecast;
mod log;

use std::fmt;

use self::end_point::{EndPoint, Joint, end_point};
use crate::domain::card::{Card, Mark, Place, Step};
use crate::domain::heat::Scale;
use crate::domain::larder::Larder;
use crate::domain::limit::{Profile, Trait, traits_of};

pub use log::{Advice, ReadingProblem, log_sheet_words};

/// What to mind. The order is the order of printing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Caution {
    /// USDA/HHS: keep raw meat apart, wash what it touched (step 2 of the four home steps; from memory).
    RawMeat,
    /// USDA/HHS chart and Food Code 3-403.11: 165 F / 74 C; the card may ask for more.
    Reheat {
        least: i32,
        scale: Scale,
    },
    /// Food Code 3-501.14: 135 to 70 F within 2 h, to 41 F within 6 h in all, counted from 135 F.
    CoolInTime,
    /// Rule book 1.6.7: open and thin, at most 15 mm of thick food; the depth is this program's own,
    /// from a thermal reference, since published depths failed in still air.
    CoolThin,
    /// The end point against the profile's least (USDA/HHS chart; Food Code 3-401.11).
    EndPoint(EndPoint),
    /// NCHFP pages on garlic and on herbs in oil: refrigerate, never at room temperature.
    GarlicInOil,
    HerbsInOil,
    /// Spore former in cooked rice (rule book 2.6; the hours from memory).
    Rice,
    /// Food Code 3-801.11, for guests at risk: no raw egg unless pasteurised.
    RawEgg,
    /// USDA FSIS, the two-hour rule: preparing and serving together.
    RoomClock {
        minutes: u32,
    },
    /// USDA FSIS thawing sheet; Food Code 3-501.13.
    ThawInFridge,
}

/// For the foot of every sheet: what the figures are, and what wins over them.
pub const STANDING: &str = "Within the limit you chose. A thermometer decides, not the clock. \
    The local code and the maker's label win over these figures.";

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::RawMeat => f.write_str(
                "Raw meat: wash hands, board, knife and cloth before anything else, and keep it on the lowest shelf.",
            ),
            // The two figures the sources print; a card that asks for more says its own.
            Self::Reheat { least: 74, scale: Scale::Celsius }
            | Self::Reheat { least: 165, scale: Scale::Fahrenheit } => f.write_str(
                "Heat until the middle reaches 74\u{a0}C (165\u{a0}F): measure the thickest place.",
            ),
            Self::Reheat { least, scale } => write!(
                f,
                "Heat until the middle reaches {least}\u{a0}{}: measure the thickest place.",
                scale.letter()
            ),
            Self::CoolInTime => f.write_str(
                "Cooling: under 21\u{a0}C (70\u{a0}F) within 2\u{a0}h and under 5\u{a0}C (41\u{a0}F) within 6\u{a0}h in all, counted from 57\u{a0}C (135\u{a0}F).",
            ),
            Self::CoolThin => f.write_str(
                "Cool it open and thin, 15\u{a0}mm or less, nothing above it; cover and box it only when cold.",
            ),
            Self::EndPoint(it) => it.fmt(f),
            Self::GarlicInOil => f.write_str(
                "Raw garlic in oil stays in the fridge, never at room temperature.",
            ),
            Self::HerbsInOil => f.write_str(
                "Fresh herbs in oil stay in the fridge, never at room temperature.",
            ),
            Self::Rice => f.write_str(
                "Cooked rice: spread it thin and chill it at once; do not leave it in the pot.",
            ),
            Self::RawEgg => f.write_str(
                "Raw egg: use pasteurised egg for guests who are very young, old, pregnant or ill.",
            ),
            Self::RoomClock { minutes } => write!(
                f,
                "Out of the fridge at most {minutes}\u{a0}min, all stretches together, preparing and serving.",
            ),
            Self::ThawInFridge => f.write_str(
                "Thaw in the fridge, in a dish that holds what drips, never on the counter.",
            ),
        }
    }
}

/// The cautions of one step of a card, each once, by the profile of the school.
pub fn cautions(card: &Card, step: &Step, larder: &Larder, profile: &Profile) -> Vec<Caution> {
    let mut found = Vec::new();
    let traits: Vec<Trait> = step
        .goes_in
        .iter()
        .filter(|entry| entry.source.is_none())
        .flat_map(|entry| {
            let food = entry.what.found.known().and_then(|key| larder.food(key));
            traits_of(&entry.what.name, food)
        })
        .collect();
    let animal = [Trait::Poultry, Trait::Mince, Trait::Meat, Trait::Fish, Trait::Shellfish];
    let heated = step.oven.is_some() || step.hob.is_some() || step.core.is_some();
    if step.marks.contains(&Mark::RawMeat) || animal.iter().any(|it| traits.contains(it)) {
        found.push(Caution::RawMeat);
    }
    if let Some(core) = step.core.filter(|core| core.reheat) {
        let printed = if core.heat.scale == Scale::Celsius { 74 } else { 165 };
        let least = core.heat.figure.max(printed);
        found.push(Caution::Reheat { least, scale: core.heat.scale });
    }
    if let Some(core) = step.core.filter(|core| !core.reheat)
        && let Some(joint) = joint_of(card, step, larder)
        && let Some(lacks) = end_point(profile, joint, core.heat, false)
    {
        found.push(Caution::EndPoint(lacks));
    }
    if step.chill.is_some() {
        found.push(Caution::CoolInTime);
        found.push(Caution::CoolThin);
    }
    let has = |it: Trait| traits.contains(&it) && !heated;
    let oil = traits.contains(&Trait::Oil);
    if has(Trait::Garlic) && oil {
        found.push(Caution::GarlicInOil);
    }
    if has(Trait::Herb) && oil || (has(Trait::Oil) && !step.stops.is_empty() && herbs(card, larder))
    {
        found.push(Caution::HerbsInOil);
    }
    if traits.contains(&Trait::Rice) && heated {
        found.push(Caution::Rice);
    }
    if has(Trait::Egg) {
        found.push(Caution::RawEgg);
    }
    let stands = step.wait.is_some_and(|wait| wait.place.is_none_or(|it| it == Place::Counter));
    if stands && step.marks.contains(&Mark::DayOf) {
        found.push(Caution::RoomClock { minutes: profile.room_minutes() });
    }
    if step.stops.iter().any(|stop| {
        matches!(stop.from_freezer, Some(crate::domain::card::FromFreezer::Thaw { .. }))
    }) {
        found.push(Caution::ThawInFridge);
    }
    found
}

/// True when a step cooks animal food to less than the profile asks for.
pub fn is_undercooked(card: &Card, larder: &Larder, profile: &Profile) -> bool {
    card.steps().any(|(_, step)| {
        let below = |it: &Caution| matches!(it, Caution::EndPoint(EndPoint::Below { .. }));
        cautions(card, step, larder, profile).iter().any(below)
    })
}

/// The consumer advisory of Food Code 3-603.11: which dishes, and the reminder; in words of our own.
pub fn advisory(dishes: &[String]) -> Option<String> {
    (!dishes.is_empty()).then(|| {
        format!(
            "Served undercooked: {}. Eating meat, poultry, fish or egg undercooked raises the risk of illness, \
             above all for guests who are very young, old, pregnant or ill.",
            dishes.join(", ")
        )
    })
}

/// What an end point is measured in: the strictest of the raw foods that went in up to this step.
pub fn joint_of(card: &Card, step: &Step, larder: &Larder) -> Option<Joint> {
    let before = card.steps().map(|(_, it)| it).filter(|it| it.line <= step.line);
    let kinds = before.flat_map(|it| &it.goes_in).flat_map(|entry| {
        let food = entry.what.found.known().and_then(|key| larder.food(key));
        traits_of(&entry.what.name, food)
    });
    kinds
        .filter_map(|kind| match kind {
            Trait::Poultry => Some(Joint::Poultry),
            Trait::Mince => Some(Joint::Mince),
            Trait::Meat => Some(Joint::Whole),
            Trait::Fish => Some(Joint::Fish),
            _ => None,
        })
        .min()
}

fn herbs(card: &Card, larder: &Larder) -> bool {
    let entries = card.steps().filter(|(_, step)| step.hob.is_none() && step.oven.is_none());
    entries.flat_map(|(_, step)| &step.goes_in).any(|entry| {
        let food = entry.what.found.known().and_then(|key| larder.food(key));
        traits_of(&entry.what.name, food).contains(&Trait::Herb)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::card::read;

    #[test]
    fn each_caution_stands_in_the_step_it_belongs_to() {
        let larder = Larder::shipped();
        let card = read(
            "dish: Chicken\nfor: 4\n\n1. Mix. [stop fridge 2 days]\n   + 4 cloves garlic\n   + 45 ml olive oil\n\
             2. Rub it over. [raw meat] [stop fridge 1 day]\n   + 12 chicken thighs\n\
             3. Take it out. [wait 20 min] [day of]\n4. Roast. [oven 200C 40 min] [core 75C]\n\
             5. Warm. [hob 10 min] [core 165F reheat]\n6. Spread. [wait 45 min] [chill 21C 2 h]\n",
            &larder,
        )
        .card;
        let found: Vec<Vec<Caution>> = card
            .steps()
            .map(|(_, step)| cautions(&card, step, &larder, &Profile::default()))
            .collect();
        assert_eq!(found[0], [Caution::GarlicInOil]);
        assert_eq!(found[1], [Caution::RawMeat]);
        assert_eq!(found[2], [Caution::RoomClock { minutes: 120 }]);
        assert_eq!(found[3], []);
        assert_eq!(found[4], [Caution::Reheat { least: 165, scale: Scale::Fahrenheit }]);
        assert_eq!(found[5], [Caution::CoolInTime, Caution::CoolThin]);
    }

    #[test]
    fn an_end_point_below_the_least_is_said_in_the_step_itself() {
        let larder = Larder::shipped();
        let asked = |text: &str| {
            let card = read(text, &larder).card;
            let step = card.steps().last().unwrap().1.clone();
            cautions(&card, &step, &larder, &Profile::default())
        };
        let beef = "dish: Beef\nfor: 4\n\n1. Tie it.\n   + 1 kg beef fillet\n2. Roast it. [oven 220C 25 min] [core 49C]\n";
        let found = asked(beef);
        assert!(
            found.iter().any(|it| matches!(it, Caution::EndPoint(EndPoint::Below { .. }))),
            "{found:?}"
        );
        let chicken = "dish: Chicken\nfor: 4\n\n1. Roast. [oven 200C 40 min] [core 75C]\n   + 8 chicken thighs\n";
        assert!(!asked(chicken).iter().any(|it| matches!(it, Caution::EndPoint(_))));
        let bread =
            "dish: Bread\nfor: 4\n\n1. Bake. [oven 220C 40 min] [core 96C]\n   + 500 g flour\n";
        assert!(!asked(bread).iter().any(|it| matches!(it, Caution::EndPoint(_))));
    }

    #[test]
    fn the_advisory_names_the_dishes_and_is_silent_without_any() {
        assert_eq!(advisory(&[]), None);
        let words = advisory(&["B Beef fillet".to_owned()]).unwrap();
        assert!(words.starts_with("Served undercooked: B Beef fillet. "), "{words}");
    }

    #[test]
    fn no_caution_promises_anything() {
        let all = [
            Caution::RawMeat,
            Caution::Reheat { least: 74, scale: Scale::Celsius },
            Caution::CoolInTime,
            Caution::CoolThin,
            Caution::GarlicInOil,
            Caution::HerbsInOil,
            Caution::Rice,
            Caution::RawEgg,
            Caution::RoomClock { minutes: 120 },
            Caution::ThawInFridge,
        ];
        for words in all.iter().map(ToString::to_string).chain([STANDING.to_owned()]) {
            assert!(!words.to_lowercase().contains("safe"), "{words}");
            assert!(words.ends_with('.'), "{words}");
        }
    }
}
