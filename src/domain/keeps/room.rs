//! Minutes a dish is out of cold and heat over its whole life, step by step, serving included.

use std::collections::BTreeMap;

use super::how_much::{factor, scaled_hands};
use super::inside::{Walk, all_steps, waiting};
use crate::domain::card::{Place, StepAt};
use crate::domain::limit::{RoomClock, Stretch, kinds_of, room_clock};
use crate::domain::menu::{Laid, LaidDish, Letter, Sitting};

/// The room clock of one dish: the longest way any of its foods takes through the steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DishRoom {
    pub letter: Letter,
    pub is_base: bool,
    pub title: String,
    pub clock: RoomClock,
}

/// For each dish with something perishable in it.
pub fn room_clocks(laid: &Laid, sitting: &Sitting) -> Vec<DishRoom> {
    let dishes = laid.dishes.iter().filter(|dish| !sitting.without.contains(&dish.id));
    dishes.filter_map(|dish| room_of(laid, sitting, dish)).collect()
}

fn room_of(laid: &Laid, sitting: &Sitting, dish: &LaidDish) -> Option<DishRoom> {
    let walk = Walk::of(&dish.card);
    let share = factor(laid, sitting, dish);
    let mut own: BTreeMap<StepAt, Vec<Stretch>> = BTreeMap::new();
    let mut is_perishable = false;
    for at in all_steps(&dish.card) {
        let waits = waiting(laid, &sitting.choices, dish, &walk, at);
        let spoils = kinds_of(&waits).iter().any(|kind| {
            laid.profile.row(kind.key).is_some_and(|row| laid.profile.is_for_safety(row))
        });
        is_perishable |= spoils;
        let stretches = if spoils { stretches(&walk, at, &share) } else { Vec::new() };
        own.insert(at, stretches);
    }
    if !is_perishable {
        return None;
    }
    // The longest life of a food on its way to each step; what comes before has fewer before it.
    let mut steps: Vec<StepAt> = own.keys().copied().collect();
    steps.sort_by_key(|at| walk.up_to(*at).count());
    let minutes = |it: &[Stretch]| it.iter().map(|it| it.minutes).sum::<u32>();
    let mut lives: BTreeMap<StepAt, Vec<Stretch>> = BTreeMap::new();
    for at in steps {
        let before = walk.up_to(at).filter(|it| *it != at).filter_map(|it| lives.get(&it));
        let mut life = before.max_by_key(|it| minutes(it)).cloned().unwrap_or_default();
        life.extend(own.remove(&at).unwrap_or_default());
        lives.insert(at, life);
    }
    let longest = lives.into_values().max_by_key(|it| minutes(it))?;
    let clock = room_clock(&laid.profile, None, &longest);
    let (letter, is_base, title) = (dish.letter, dish.is_base, dish.title.clone());
    Some(DishRoom { letter, is_base, title, clock })
}

/// What a step adds: hands without heat, standing in the room, resting, and the table. Cooling has
/// clocks of its own and is left out (Food Code 3-501.16).
fn stretches(walk: &Walk<'_>, at: StepAt, share: &num_rational::BigRational) -> Vec<Stretch> {
    let step = walk.step(at);
    let mut found = Vec::new();
    let mut put = |what: &str, minutes: u32| {
        if minutes > 0 {
            found.push(Stretch { what: format!("Step {}, {what}", step.number), minutes });
        }
    };
    let is_heated = step.oven.is_some() || step.hob.is_some();
    if let Some(hands) = step.hands.filter(|_| !is_heated) {
        let minutes = if hands.scales { scaled_hands(hands.minutes, share) } else { hands.minutes };
        put("hands", minutes);
    }
    if let Some(wait) = step.wait
        && step.chill.is_none()
        && wait.place.is_none_or(|place| matches!(place, Place::Counter | Place::Cool))
    {
        put("standing", wait.most_minutes.unwrap_or(wait.least_minutes));
    }
    if let Some(rest) = step.rest {
        put("resting", rest.least_minutes);
    }
    if let Some(serve) = step.serve {
        put("at the table", serve.minutes);
    }
    found
}
