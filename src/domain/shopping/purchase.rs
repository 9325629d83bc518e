//! From what is needed to what the shop sells: whole packs, loose goods by the step of the scale.

use num_rational::BigRational;
use num_traits::Zero;

use super::list::Purchase;
use crate::domain::larder::Food;
use crate::domain::quantity::{Amount, Kind, MixedAmount, Spoons, Unit};
use crate::domain::search_small::{Item, common_grain, cover};

/// What one food comes to over all dishes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Wanted {
    /// As bought.
    pub grams: BigRational,
    pub pieces: BigRational,
    /// What could be added to neither.
    pub apart: MixedAmount,
}

impl Wanted {
    /// Takes off what is at home, as far as it measures the same or the larder converts it.
    pub fn take(&mut self, home: &Amount, food: &Food) {
        let unit = home.unit();
        let figure = base(home);
        let less = |from: &BigRational, figure: &BigRational| {
            if figure >= from { BigRational::zero() } else { from - figure }
        };
        match unit.kind() {
            Kind::Mass => self.grams = less(&self.grams, &figure),
            Kind::Volume if food.g_per_ml.is_some() => {
                let grams = food
                    .g_per_ml
                    .as_ref()
                    .map_or_else(BigRational::zero, |density| &density.value * figure);
                self.grams = less(&self.grams, &grams);
            }
            Kind::Count if unit == Unit::Each => {
                let over = home.high() - &self.pieces;
                self.pieces = less(&self.pieces, home.high());
                if let Some(each) = each_bought(food).filter(|_| over > BigRational::zero()) {
                    self.grams = less(&self.grams, &(over * each));
                }
            }
            _ => {
                let same = |part: &Amount| {
                    part.unit() == unit
                        || (unit.kind() == Kind::Volume && part.unit() == Unit::Millilitre)
                };
                let rest = self.apart.parts().map(|part| {
                    if same(part) {
                        let figure =
                            if part.unit() == unit { home.high().clone() } else { figure.clone() };
                        Amount::of(less(part.high(), &figure), part.unit())
                    } else {
                        part.clone()
                    }
                });
                self.apart = rest.filter(|part| !part.high().is_zero()).collect();
            }
        }
    }

    pub fn is_nothing(&self) -> bool {
        self.grams.is_zero() && self.pieces.is_zero() && self.apart.is_empty()
    }
}

/// Grams of one piece as it is bought: the larder weighs the part that is eaten.
pub(super) fn each_bought(food: &Food) -> Option<BigRational> {
    let each = food.g_each.as_ref().filter(|it| !it.value.is_zero())?;
    Some(match food.edible.as_ref().filter(|it| !it.value.is_zero()) {
        Some(edible) => &each.value / &edible.value,
        None => each.value.clone(),
    })
}

/// What the shop sells of it.
pub(super) fn buy(food: &Food, wanted: &Wanted) -> Purchase {
    let Wanted { grams, pieces, apart } = wanted;
    if !apart.is_empty() {
        return at_least_or_tins(food, wanted);
    }
    let by_weight = || match each_bought(food) {
        Some(each) => Some(grams + pieces.ceil() * each),
        None => pieces.is_zero().then(|| grams.clone()),
    };
    let bought = match (&food.loose_step, by_weight()) {
        (Some(step), Some(weight)) if !weight.is_zero() => {
            Some(Purchase::Weigh(up_to_step(&weight, step)))
        }
        (Some(_), _) => None,
        (None, weight) => packs(food, grams, pieces, weight),
    };
    bought.unwrap_or_else(|| at_least(grams, pieces))
}

/// Bought by the tin when that is all, else each kind at least.
fn at_least_or_tins(food: &Food, wanted: &Wanted) -> Purchase {
    let Wanted { grams, pieces, apart } = wanted;
    let alone = grams.is_zero() && pieces.is_zero();
    let parts: Vec<&Amount> = apart.parts().collect();
    if let ([only], true) = (parts.as_slice(), alone) {
        let same: Vec<Amount> =
            food.packs.iter().filter(|pack| pack.unit() == only.unit()).cloned().collect();
        // Tins are counted in tins; millilitres fill any pack that says its volume.
        let found = match only.unit().kind() {
            Kind::Volume => cover_with(&of_kind(food, Kind::Volume), &base(only)),
            _ => cover_with(&same, only.high()),
        };
        if let Some(found) = found {
            return found;
        }
    }
    let whole = |part: &Amount| match part.unit().kind() {
        Kind::Count => Amount::of(part.high().ceil(), part.unit()),
        _ => part.clone(),
    };
    let mut all: MixedAmount = apart.parts().map(whole).collect();
    if let Purchase::AtLeast(more) = at_least(grams, pieces) {
        more.parts().for_each(|part| all.add(part.clone()));
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
fn packs(
    food: &Food,
    grams: &BigRational,
    pieces: &BigRational,
    weight: Option<BigRational>,
) -> Option<Purchase> {
    let by_piece: Vec<Amount> =
        food.packs.iter().filter(|pack| pack.unit() == Unit::Each).cloned().collect();
    if !by_piece.is_empty() {
        let from_weight = match each_bought(food) {
            Some(each) => grams / each,
            None if grams.is_zero() => BigRational::zero(),
            None => return None,
        };
        return cover_with(&by_piece, &(pieces + from_weight).ceil());
    }
    let by_weight = of_kind(food, Kind::Mass);
    if !by_weight.is_empty() {
        return cover_with(&by_weight, &weight?);
    }
    let density = food.g_per_ml.as_ref().filter(|it| !it.value.is_zero())?;
    cover_with(&of_kind(food, Kind::Volume), &(weight? / &density.value))
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

/// The packs that waste least, then fewest. `need` is in grams, millilitres or pieces.
fn cover_with(packs: &[Amount], need: &BigRational) -> Option<Purchase> {
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
    let chosen = packs.iter().cloned().zip(counts).filter(|(_, count)| *count > 0).collect();
    Some(Purchase::Packs { packs: chosen, left: total - need })
}

/// To the next step of the scale.
fn up_to_step(weight: &BigRational, step: &Amount) -> Amount {
    let size = base(step);
    let steps = (weight / &size).ceil();
    Amount::of(steps * step.high(), step.unit())
}
