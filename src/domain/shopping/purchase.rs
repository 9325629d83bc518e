//! From what is needed to what the shop sells: whole packs, loose goods by the step of the scale.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::Zero;

use super::list::Purchase;
use crate::domain::larder::Food;
use crate::domain::quantity::{Amount, Kind, MixedAmount, Spoons, Unit};
use crate::domain::search_small::{Item, cover};

/// `grams` as bought, `pieces` of it, and what could be added to neither.
pub(super) fn buy(
    food: &Food,
    grams: &BigRational,
    pieces: &BigRational,
    apart: &MixedAmount,
) -> Purchase {
    if !apart.is_empty() {
        return at_least_or_tins(food, grams, pieces, apart);
    }
    if let Some(step) = &food.loose_step {
        let each = food.g_each.as_ref().map(|it| &it.value);
        let weight = match each {
            Some(each) => grams + pieces * each,
            None if pieces.is_zero() => grams.clone(),
            None => return at_least(grams, pieces),
        };
        return Purchase::Weigh(up_to_step(&weight, step));
    }
    packs(food, grams, pieces).unwrap_or_else(|| at_least(grams, pieces))
}

/// Bought by the tin when that is all, else each kind at least.
fn at_least_or_tins(
    food: &Food,
    grams: &BigRational,
    pieces: &BigRational,
    apart: &MixedAmount,
) -> Purchase {
    let alone = grams.is_zero() && pieces.is_zero();
    let parts: Vec<&Amount> = apart.parts().collect();
    if let ([only], true) = (parts.as_slice(), alone) {
        let same: Vec<Amount> =
            food.packs.iter().filter(|pack| pack.unit() == only.unit()).cloned().collect();
        if let Some(found) = cover_with(&same, only.high(), only.unit()) {
            return found;
        }
        if only.unit().kind() == Kind::Volume
            && let Some(found) =
                cover_with(&of_kind(food, Kind::Volume), &base(only), Unit::Millilitre)
        {
            return found;
        }
    }
    let mut all = apart.clone();
    if !grams.is_zero() {
        all.add(Amount::of(grams.clone(), Unit::Gram));
    }
    if !pieces.is_zero() {
        all.add(Amount::of(pieces.clone(), Unit::Each));
    }
    Purchase::AtLeast(all)
}

fn at_least(grams: &BigRational, pieces: &BigRational) -> Purchase {
    let grams = (!grams.is_zero()).then(|| Amount::of(grams.clone(), Unit::Gram));
    let pieces = (!pieces.is_zero()).then(|| Amount::of(pieces.ceil(), Unit::Each));
    let all: MixedAmount = grams.into_iter().chain(pieces).collect();
    if all.is_empty() { Purchase::Some } else { Purchase::AtLeast(all) }
}

/// Whole packs of one kind; pieces become weight, and weight becomes volume, only by the larder's
/// own figures.
fn packs(food: &Food, grams: &BigRational, pieces: &BigRational) -> Option<Purchase> {
    let by_piece = of_kind(food, Kind::Count);
    let each = food.g_each.as_ref().map(|it| &it.value).filter(|it| !it.is_zero());
    if !by_piece.is_empty() {
        let from_weight = match each {
            Some(each) => grams / each,
            None if grams.is_zero() => BigRational::zero(),
            None => return None,
        };
        let unit = by_piece[0].unit();
        return cover_with(&by_piece, &(pieces + from_weight), unit);
    }
    let weight = match each {
        Some(each) => grams + pieces * each,
        None if pieces.is_zero() => grams.clone(),
        None => return None,
    };
    let by_weight = of_kind(food, Kind::Mass);
    if !by_weight.is_empty() {
        return cover_with(&by_weight, &weight, Unit::Gram);
    }
    let density = &food.g_per_ml.as_ref()?.value;
    cover_with(&of_kind(food, Kind::Volume), &(weight / density), Unit::Millilitre)
}

fn of_kind(food: &Food, kind: Kind) -> Vec<Amount> {
    food.packs.iter().filter(|pack| pack.unit().kind() == kind).cloned().collect()
}

fn base(amount: &Amount) -> BigRational {
    amount
        .unit()
        .in_base(Spoons::Round)
        .map_or_else(|| amount.high().clone(), |it| amount.high() * it)
}

/// The packs that waste least, then fewest. `need` is in `unit`, the base of the packs' kind.
fn cover_with(packs: &[Amount], need: &BigRational, unit: Unit) -> Option<Purchase> {
    let sizes: Vec<BigRational> = packs.iter().map(base).collect();
    let grain = common_grain(&sizes)?;
    let units = |figure: &BigRational| u64::try_from((figure / &grain).ceil().to_integer()).ok();
    let items: Vec<Item> = sizes
        .iter()
        .map(|size| units(size).map(|size| Item { size, cost: size }))
        .collect::<Option<_>>()?;
    let counts = cover(units(need)?, &items)?;
    let total: BigRational = sizes
        .iter()
        .zip(&counts)
        .map(|(size, count)| size * BigRational::from_integer((*count).into()))
        .sum();
    let _ = unit;
    let chosen = packs.iter().cloned().zip(counts).filter(|(_, count)| *count > 0).collect();
    Some(Purchase::Packs { packs: chosen, left: total - need })
}

/// The largest figure of which every size is a whole multiple.
fn common_grain(sizes: &[BigRational]) -> Option<BigRational> {
    let gcd = |mut a: BigInt, mut b: BigInt| {
        while !b.is_zero() {
            (a, b) = (b.clone(), a % b);
        }
        a
    };
    let lcm = |a: &BigInt, b: &BigInt| a / gcd(a.clone(), b.clone()) * b;
    let first = sizes.first().filter(|size| !size.is_zero())?;
    let below = sizes.iter().fold(first.denom().clone(), |all, size| lcm(&all, size.denom()));
    let scaled =
        sizes.iter().map(|size| (size * BigRational::from_integer(below.clone())).to_integer());
    let above = scaled.reduce(gcd)?;
    Some(BigRational::new(above, below))
}

/// To the next step of the scale.
fn up_to_step(weight: &BigRational, step: &Amount) -> Amount {
    let size = base(step);
    let steps = (weight / &size).ceil();
    Amount::of(steps * step.high(), step.unit())
}
