//! How much of a dish or base this table makes, and in which vessels.

use num_rational::BigRational;

use crate::domain::card::{Source, Vessel};
use crate::domain::menu::{Laid, LaidDish, Sitting};
use crate::domain::quantity::{Kind, MixedAmount, Portions, ScaleFactor};

/// A dish grows with the guests; a base with what the dishes of this table take of it.
pub fn factor(laid: &Laid, sitting: &Sitting, dish: &LaidDish) -> ScaleFactor {
    if !dish.is_base {
        let serves = dish.card.serves.map_or(sitting.guests, |it| it.high);
        return serves.scale_to(sitting.guests);
    }
    of_base(laid, sitting, dish, 0).unwrap_or_else(ScaleFactor::one)
}

/// Taken of the base, as a share of what it makes; none when that cannot be compared.
fn of_base(laid: &Laid, sitting: &Sitting, base: &LaidDish, depth: usize) -> Option<ScaleFactor> {
    // A base within a base within a base is a circle.
    if depth > 8 {
        return None;
    }
    let title = base.title.to_lowercase();
    let mut taken = MixedAmount::default();
    for dish in laid.dishes.iter().filter(|dish| !sitting.without.contains(&dish.id)) {
        let uses = dish.card.steps().flat_map(|(_, step)| &step.goes_in).filter(
            |it| matches!(&it.source, Some(Source::Base(name)) if name.to_lowercase() == title),
        );
        let amounts: Vec<_> = uses.filter_map(|it| it.what.amount.clone()).collect();
        if amounts.is_empty() {
            continue;
        }
        let share = if dish.is_base {
            of_base(laid, sitting, dish, depth + 1)?
        } else {
            factor(laid, sitting, dish)
        };
        for amount in amounts {
            taken.add(amount.scaled_by(&share));
        }
    }
    let makes = base.card.makes.as_ref()?;
    let whole = in_base(makes)?;
    let taken: Vec<BigRational> = taken
        .parts()
        .map(|it| (it.unit().kind() == makes.unit().kind()).then(|| in_base(it)).flatten())
        .collect::<Option<_>>()?;
    ScaleFactor::of(taken.into_iter().sum::<BigRational>() / whole)
}

fn in_base(amount: &crate::domain::quantity::Amount) -> Option<BigRational> {
    let weighed = matches!(amount.unit().kind(), Kind::Mass | Kind::Volume);
    let one = if weighed {
        amount.unit().in_base(crate::domain::quantity::Spoons::Round)?
    } else {
        BigRational::from_integer(1.into())
    };
    Some(amount.high() * one)
}

/// The vessels for so many guests, each with its count: fewest shelves first, then least over.
pub fn vessels(vessels: &[Vessel], guests: Option<Portions>) -> Vec<String> {
    let Some(guests) = guests.filter(|_| !vessels.is_empty()) else {
        return vessels.iter().map(|it| it.what.clone()).collect();
    };
    let mut best: Option<(BigRational, u32, u32, Vec<u32>)> = None;
    let most = |vessel: &Vessel| guests.count().div_ceil(vessel.serves.max(1));
    let mut counts = vec![0_u32; vessels.len()];
    // At most a few vessels stand on a card; each is tried up to what it alone would need.
    for _ in 0..10_000 {
        let serves: u32 = vessels.iter().zip(&counts).map(|(it, n)| it.serves * n).sum();
        if serves >= guests.count() {
            let one = BigRational::from_integer(1.into());
            let shelf = |(it, n): (&Vessel, &u32)| {
                it.shelf.clone().unwrap_or_else(|| one.clone())
                    * BigRational::from_integer((*n).into())
            };
            let shelves = vessels.iter().zip(&counts).map(shelf).sum();
            let found = (shelves, serves, counts.iter().sum(), counts.clone());
            if best.as_ref().is_none_or(|best| found < *best) {
                best = Some(found);
            }
        }
        let Some(turn) = (0..counts.len()).find(|&at| counts[at] < most(&vessels[at])) else {
            break;
        };
        counts[..turn].fill(0);
        counts[turn] += 1;
    }
    let Some((_, _, _, counts)) = best else { return Vec::new() };
    let used = vessels.iter().zip(counts).filter(|(_, count)| *count > 0);
    used.map(|(it, count)| match count {
        1 => it.what.clone(),
        _ => format!("{count}\u{a0}×\u{a0}{}", it.what),
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn vessel(what: &str, serves: u32, shelf: (i64, i64)) -> Vessel {
        let shelf = Some(BigRational::new(shelf.0.into(), shelf.1.into()));
        Vessel { what: what.to_owned(), serves, shelf }
    }

    #[test]
    fn the_fewest_shelves_that_serve_all() {
        let trays = [vessel("large", 8, (1, 1)), vessel("small", 4, (1, 2))];
        let fit = |guests| vessels(&trays, Some(Portions::new(guests).unwrap())).join(" + ");
        assert_eq!([4, 8, 12].map(fit), ["small", "large", "large + small"]);
        let dishes = [vessel("11x8", 8, (1, 1)), vessel("8x8", 5, (2, 3))];
        let fit = |guests| vessels(&dishes, Some(Portions::new(guests).unwrap())).join(" + ");
        assert_eq!([5, 8, 12].map(fit), ["8x8", "11x8", "11x8 + 8x8"]);
    }
}
