//! How much longer a step takes in the oven when its food comes cold.

use super::{Card, Step};
use crate::domain::heat::Scale;
use crate::domain::warmth::{Cover, FoodClass, Oven, Pan, Vessel, Warming, celsius, typed, warmed};

/// Where no depth is known: the upper end of the 15 to 20 minutes that two extension services name
/// for a dish made the day before (University of Nebraska, Kansas State University).
const USUAL_MINUTES: u32 = 20;

/// Minutes on top of the tested ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ColdExtra {
    pub minutes: u32,
    /// The author gave none; pages and plans say so.
    pub is_estimate: bool,
}

/// From the fridge: the author's figure; without one the slow case from the fridge less the slow case
/// from the room, for the depth that the card names; without a depth the usual 20.
#[must_use]
pub fn from_fridge(card: &Card, step: &Step) -> ColdExtra {
    match step.cold_extra_minutes {
        Some(minutes) => ColdExtra { minutes, is_estimate: false },
        None => ColdExtra {
            minutes: reckoned(card, step, 4.0).unwrap_or(USUAL_MINUTES),
            is_estimate: true,
        },
    }
}

/// From the freezer, in the same way.
#[must_use]
pub fn from_freezer(card: &Card, step: &Step) -> ColdExtra {
    match step.frozen_extra_minutes {
        Some(minutes) => ColdExtra { minutes, is_estimate: false },
        None => ColdExtra {
            minutes: reckoned(card, step, -18.0).unwrap_or(2 * USUAL_MINUTES),
            is_estimate: true,
        },
    }
}

/// The depth named last in the part, up to this step.
fn depth_m(card: &Card, step: &Step) -> Option<f64> {
    let part = card.parts.iter().find(|part| part.steps.iter().any(|it| it.line == step.line))?;
    let before = part.steps.iter().filter(|it| it.line <= step.line);
    let said = before.filter_map(|it| typed::depth_in(&it.text)).next_back()?;
    typed::length(&said).ok()
}

/// Up to the next five minutes.
fn reckoned(card: &Card, step: &Step, start_c: f64) -> Option<u32> {
    const ROOM_C: f64 = 20.0;
    let heat = step.oven.as_ref()?.stages.first()?.heat;
    let figure = f64::from(heat.figure);
    let oven_c = if heat.scale == Scale::Celsius { figure } else { celsius(figure) };
    let (width_m, length_m) = (0.20, 0.28);
    let pan = Pan {
        depth_m: depth_m(card, step)?,
        width_m,
        length_m,
        vessel: Vessel::Ceramic,
        cover: Cover::Open,
    };
    // Until a made-ahead dish is hot in the middle: 165 F, or a little under a slow oven.
    let until_c = celsius(165.0).min(oven_c - 10.0);
    let food = FoodClass::guessed(&card.title).substance();
    let slow = |start_c: f64| {
        let asked = Warming { pan, oven: Oven { celsius: oven_c, fan: false }, start_c, until_c };
        warmed(food, &asked).map(|band| band.slow)
    };
    let extra = slow(start_c)? - slow(ROOM_C)?;
    (1..=36_u32).map(|it| it * 5).find(|it| f64::from(*it) >= extra)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::card::read;
    use crate::domain::larder::Larder;

    fn extra(steps: &str) -> ColdExtra {
        let card = read(&format!("dish: Leek gratin\nfor: 4\n\n{steps}"), &Larder::shipped()).card;
        let step = card.steps().last().unwrap().1.clone();
        from_fridge(&card, &step)
    }

    #[test]
    fn the_authors_figure_wins_and_a_depth_beats_the_rule_of_thumb() {
        let ours = |minutes| ColdExtra { minutes, is_estimate: true };
        assert!(!extra("1. Bake. [oven 180C 30 min] [cold +12 min]\n").is_estimate);
        assert_eq!(extra("1. Bake. [oven 180C 30 min]\n"), ours(20));
        let thin = extra("1. Layer it 2 cm deep.\n2. Bake. [oven 180C 30 min]\n");
        let thick = extra("1. Layer it 5 cm deep.\n2. Bake. [oven 180C 30 min]\n");
        assert!(thin.is_estimate && thin.minutes < thick.minutes, "{thin:?} {thick:?}");
        assert!((5..=15).contains(&thin.minutes) && thick.minutes <= 40, "{thin:?} {thick:?}");
    }

    #[test]
    fn frozen_takes_longer_than_cold() {
        let card = read(
            "dish: Leek gratin\nfor: 4\n\n1. Bake it, 3 cm deep. [oven 180C 30 min]\n",
            &Larder::shipped(),
        )
        .card;
        let step = card.steps().next().unwrap().1.clone();
        assert!(from_freezer(&card, &step).minutes > from_fridge(&card, &step).minutes);
    }
}
