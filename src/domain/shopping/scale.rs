//! How much of each dish is made for a table: the factor, the vessels, the share of each base.

use num_rational::BigRational;
use num_traits::{One, Zero};

use crate::domain::card::{Card, FromFreezer, Place, Source, Vessel};
use crate::domain::dish::DishId;
use crate::domain::menu::{Laid, LaidDish, Sitting};
use crate::domain::quantity::{Amount, ScaleFactor, Spoons};
use crate::domain::search_small::{Item, common_grain, cover};

/// What is made of one dish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scaled {
    pub dish: DishId,
    pub factor: ScaleFactor,
    /// Each vessel with how many of it; empty where the card names none.
    pub vessels: Vec<(Vessel, u64)>,
    /// The card does not say for how many it is; it is made once, as written.
    pub is_as_written: bool,
    /// The author's other way is taken: the freezer of this table has no room.
    pub without_freezer: bool,
}

/// A menu brought to a table: each dish once, in the order of the menu, the bases behind.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scale {
    pub dishes: Vec<Scaled>,
    /// Sentences on what could not be worked out.
    pub problems: Vec<String>,
}

impl Scale {
    pub fn of(&self, dish: DishId) -> Option<&Scaled> {
        self.dishes.iter().find(|it| it.dish == dish)
    }
}

/// Scales every dish of the menu that this table eats, then the bases by what is used of them.
pub fn scale(laid: &Laid, sitting: &Sitting) -> Scale {
    let mut scale = Scale::default();
    for dish in laid.eaten().filter(|dish| !sitting.without.contains(&dish.id)) {
        scale.dishes.push(eaten(dish, sitting));
    }
    bases(laid, &mut scale);
    scale
}

fn eaten(dish: &LaidDish, sitting: &Sitting) -> Scaled {
    let card = &dish.card;
    let one = || ScaleFactor::one();
    let without_freezer =
        needs_freezer(card) && sitting.freezer_litres == Some(0) && card.no_freezer.is_some();
    let Some(serves) = card.serves else {
        let vessels = Vec::new();
        return Scaled {
            dish: dish.id,
            factor: one(),
            vessels,
            is_as_written: true,
            without_freezer,
        };
    };
    let exact = serves.high.scale_to(sitting.guests);
    let vessels =
        if without_freezer { Vec::new() } else { vessels(&card.vessels, sitting.guests.count()) };
    let made: u64 = vessels.iter().map(|(vessel, count)| u64::from(vessel.serves) * count).sum();
    let factor = if !vessels.is_empty() && is_undividable(card) {
        // A loaf is made whole: the tin decides, not the table.
        let whole = BigRational::new(made.into(), serves.high.count().into());
        ScaleFactor::of(whole).unwrap_or(exact)
    } else {
        exact
    };
    Scaled { dish: dish.id, factor, vessels, is_as_written: false, without_freezer }
}

/// True when the dish waits in the freezer and is served from it.
pub fn needs_freezer(card: &Card) -> bool {
    card.steps().flat_map(|(_, step)| &step.stops).any(|stop| {
        stop.place == Place::Freezer && stop.from_freezer == Some(FromFreezer::UseFrozen)
    })
}

/// Only tins, loaves and moulds: what sets in them is not cut down.
pub fn is_undividable(card: &Card) -> bool {
    const WHOLE: [&str; 5] = ["loaf", "tin", "mould", "mold", "terrine"];
    let whole = |vessel: &Vessel| {
        let words = vessel.what.to_lowercase();
        WHOLE.iter().any(|it| words.split_whitespace().any(|word| word == *it))
    };
    !card.vessels.is_empty() && card.vessels.iter().all(whole)
}

/// Whole vessels that serve the table: least shelf, then least over, then fewest.
pub fn vessels(vessels: &[Vessel], guests: u32) -> Vec<(Vessel, u64)> {
    // A shelf that the author did not give counts as a whole one.
    let one = BigRational::one();
    let shares: Vec<BigRational> =
        vessels.iter().map(|it| it.shelf.clone().unwrap_or_else(|| one.clone())).collect();
    let grain = common_grain(&shares).unwrap_or_else(|| one.clone());
    let cost = |share: &BigRational| {
        u64::try_from((share / &grain).to_integer()).unwrap_or(u64::from(u32::MAX))
    };
    let items: Vec<Item> = vessels
        .iter()
        .zip(&shares)
        .map(|(vessel, share)| Item { size: u64::from(vessel.serves.max(1)), cost: cost(share) })
        .collect();
    let counts = cover(u64::from(guests), &items).unwrap_or_default();
    vessels.iter().cloned().zip(counts).filter(|(_, count)| *count > 0).collect()
}

/// Adds the bases, those that go into bases last: each is made as much as all uses need.
fn bases(laid: &Laid, scale: &mut Scale) {
    let all: Vec<&LaidDish> = laid.dishes.iter().filter(|dish| dish.is_base).collect();
    let mut left = all.clone();
    while !left.is_empty() {
        // A base is ready to be counted when nothing that is left uses it.
        let free = left.iter().position(|base| {
            !left
                .iter()
                .any(|user| user.id != base.id && uses(&user.card, &base.title).next().is_some())
        });
        let Some(place) = free else {
            let names: Vec<&str> = left.iter().map(|base| base.title.as_str()).collect();
            scale
                .problems
                .push(format!("{} need each other; none can be made first", names.join(" and ")));
            return;
        };
        let base = left.remove(place);
        if let Some(scaled) = base_of(base, laid, scale) {
            scale.dishes.push(scaled);
        }
    }
}

fn base_of(base: &LaidDish, laid: &Laid, scale: &mut Scale) -> Option<Scaled> {
    let makes = base.card.makes.as_ref();
    let mut share = BigRational::zero();
    let mut is_used = false;
    let mut problem = None;
    for user in &laid.dishes {
        let Some(factor) = scale.of(user.id).map(|it| it.factor.clone()) else { continue };
        for amount in uses(&user.card, &base.title) {
            is_used = true;
            let part = match (amount, makes) {
                // Without an amount the whole of it goes in.
                (None, _) => Some(BigRational::one()),
                (Some(amount), Some(makes)) => part_of(amount, makes, laid.spoons),
                (Some(_), None) => None,
            };
            if part.is_none() {
                problem = Some(unlike(&base.title, &user.title, makes.is_some()));
            }
            share += part.unwrap_or_else(BigRational::one) * factor.as_fraction();
        }
    }
    scale.problems.extend(problem);
    let factor = ScaleFactor::of(share).filter(|_| is_used)?;
    let vessels = Vec::new();
    Some(Scaled { dish: base.id, factor, vessels, is_as_written: false, without_freezer: false })
}

fn unlike(base: &str, user: &str, says_how_much: bool) -> String {
    if says_how_much {
        format!(
            "{user} takes {base} in a measure that its makes: does not use; one whole {base} is counted"
        )
    } else {
        format!(
            "{base} does not say how much it makes; write makes: 340 g. One whole {base} is counted"
        )
    }
}

/// `amount` as a share of what the base makes, upper ends; none when they measure unlike things.
fn part_of(amount: &Amount, makes: &Amount, spoons: Spoons) -> Option<BigRational> {
    let whole = makes.high();
    if whole.is_zero() {
        return None;
    }
    if amount.unit() == makes.unit() {
        return Some(amount.high() / whole);
    }
    let alike = amount.unit().kind() == makes.unit().kind();
    let figure = |it: &Amount| Some(it.high() * it.unit().in_base(spoons)?);
    alike.then(|| Some(figure(amount)? / figure(makes)?)).flatten()
}

/// The amounts in which `card` uses the base; none for "the whole of it".
fn uses<'a>(card: &'a Card, base: &'a str) -> impl Iterator<Item = Option<&'a Amount>> {
    card.steps().flat_map(|(_, step)| &step.goes_in).filter_map(move |entry| match &entry.source {
        Some(Source::Base(name)) if name.to_lowercase() == base.to_lowercase() => {
            Some(entry.what.amount.as_ref())
        }
        _ => None,
    })
}
