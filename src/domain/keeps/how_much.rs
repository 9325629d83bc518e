//! How much of a card a table makes, and how long its steps take.

use num_rational::BigRational;
use num_traits::{One, ToPrimitive, Zero};

use super::StopKeeps;
use crate::domain::card::{Card, Source, Step};
use crate::domain::menu::{Laid, LaidDish, Sitting};

/// Minutes in which nobody is needed but the food is not ready.
pub fn passive(step: &Step) -> u32 {
    let oven =
        step.oven.as_ref().map_or(0, |it| it.minutes()) + step.cold_extra_minutes.unwrap_or(0);
    let rest = step.rest.map_or(0, |it| it.least_minutes);
    let hands = step.hands.map_or(0, |it| it.minutes);
    oven + rest + hands + step.hob.map_or(0, |it| it.minutes) + passive_wait(step)
}

pub fn passive_wait(step: &Step) -> u32 {
    step.wait.map_or(0, |wait| wait.least_minutes)
}

/// Hands scale by 0.4 + 0.6 f, rounded up once (architecture T6).
pub fn scaled_hands(minutes: u32, factor: &BigRational) -> u32 {
    let part = |numerator: i32| BigRational::new(numerator.into(), 10.into());
    let scaled = BigRational::from_integer(minutes.into()) * (part(4) + part(6) * factor);
    scaled.ceil().to_integer().to_u32().unwrap_or(u32::MAX)
}

/// How much of a card is made: guests over portions; a tin stays whole; a base as its uses ask.
pub fn factor(laid: &Laid, sitting: &Sitting, dish: &LaidDish) -> BigRational {
    if !dish.is_base {
        return own_factor(sitting, &dish.card);
    }
    let makes = dish.card.makes.as_ref();
    let mut used = BigRational::zero();
    for other in laid.eaten().filter(|it| !sitting.without.contains(&it.id)) {
        let scale = own_factor(sitting, &other.card);
        for (_, step) in other.card.steps() {
            for entry in &step.goes_in {
                let Some(Source::Base(title)) = &entry.source else { continue };
                if title.to_lowercase() == dish.title.to_lowercase()
                    && let Some(amount) = &entry.what.amount
                    && let (Some(one), Some(all)) =
                        (amount.unit().in_base(laid.spoons), makes.map(|it| it.high()))
                    && let Some(base) = makes.and_then(|it| it.unit().in_base(laid.spoons))
                {
                    used += amount.high() * one * &scale / (all * base);
                }
            }
        }
    }
    if used.is_zero() { BigRational::one() } else { used }
}

fn own_factor(sitting: &Sitting, card: &Card) -> BigRational {
    let Some(serves) = card.serves else { return BigRational::one() };
    let guests = sitting.guests.count();
    let tin = card.vessels.iter().find(|it| card.vessels.len() == 1 && it.what.contains("tin"));
    match tin {
        Some(tin) => BigRational::from_integer(guests.div_ceil(tin.serves.max(1)).into()),
        None => BigRational::new(guests.into(), serves.high.count().into()),
    }
}

pub fn litres(stop: &StopKeeps, factor: &BigRational) -> BigRational {
    stop.box_litres.as_ref().map_or_else(BigRational::zero, |litres| litres * factor)
}

/// Rounded up to a tenth: `1.2 l`.
pub fn said(litres: &BigRational) -> String {
    let tenths = (litres * BigRational::from_integer(10.into())).ceil().to_integer();
    let tenths = tenths.to_u32().unwrap_or(u32::MAX);
    format!("{}.{} l", tenths / 10, tenths % 10)
}
