//! Everything of one food over all dishes, and what of it may be added.

use std::collections::{BTreeMap, BTreeSet};

use num_rational::BigRational;
use num_traits::{One, ToPrimitive, Zero};

use super::combine::Bought;
use super::list::Purchase;
use super::needs::{FruitPart, Need};
use super::purchase::{self, Wanted};
use crate::domain::larder::{Food, Found};
use crate::domain::menu::Letter;
use crate::domain::quantity::{Amount, Kind, MixedAmount, Spoons, Unit};

/// The upper end of every need, summed by what arithmetic may add.
#[derive(Clone, Debug, Default)]
pub(super) struct Sum<'a> {
    pub food: Option<&'a Food>,
    name: String,
    /// The names the authors gave it; one alone stands on the list.
    written: BTreeMap<String, String>,
    pub perhaps: Vec<String>,
    pub needed: MixedAmount,
    /// Grams of what is eaten.
    edible_g: BigRational,
    /// Grams that a card gives as bought.
    bought_g: BigRational,
    /// Pieces that the card itself weighs as bought, and that weight.
    weighed_pieces: BigRational,
    weighed_g: BigRational,
    /// Whole pieces of the food.
    pieces: BigRational,
    zest: BigRational,
    juice: BigRational,
    apart: MixedAmount,
    has_figure: bool,
    /// Bare counts, while nothing else was asked for.
    counted: BigRational,
    is_counted_only: bool,
    pub letters: BTreeMap<Letter, bool>,
    pub notes: BTreeSet<String>,
    pub instead_of: BTreeSet<String>,
    pub or: BTreeSet<String>,
    pub else_take: BTreeSet<String>,
    pub is_garnish_only: bool,
    pub is_optional_only: bool,
    spoons: Spoons,
}

impl<'a> Sum<'a> {
    pub fn of(need: &Need, bought: Option<Bought<'a>>) -> Self {
        Self {
            food: bought.map(|it| it.food),
            name: bought.map_or_else(|| need.food.clone(), |it| it.food.plural.clone()),
            is_garnish_only: true,
            is_optional_only: true,
            is_counted_only: true,
            spoons: need.spoons,
            ..Self::default()
        }
    }

    /// What stands on the list: the author's word where there is one, else the larder's.
    pub fn name(&self) -> String {
        match self.written.values().next() {
            Some(only) if self.written.len() == 1 && !only.is_empty() => only.clone(),
            _ => self.name.clone(),
        }
    }

    pub fn add(&mut self, need: &Need, bought: Option<Bought<'a>>) {
        if let Found::Perhaps(keys) = &need.found {
            self.perhaps = keys.iter().map(ToString::to_string).collect();
        }
        // Of lemon juice the lemon is bought, and the larder names it.
        if bought.is_none_or(|it| it.part.is_none()) {
            self.written.entry(need.name.to_lowercase()).or_insert_with(|| need.name.clone());
        }
        *self.letters.entry(need.letter).or_insert(true) &= need.is_garnish;
        self.is_garnish_only &= need.is_garnish;
        self.is_optional_only &= need.is_optional;
        if !need.preparation.is_empty() {
            self.notes.insert(need.preparation.clone());
        }
        self.instead_of.extend(need.instead_of.clone());
        self.or.extend(need.or.iter().cloned());
        self.else_take.extend(need.else_take.iter().cloned());
        let Some(amount) = &need.amount else {
            self.is_counted_only = false;
            return;
        };
        let most = Amount::of(amount.high().clone(), amount.unit());
        self.needed.add(most.clone());
        if amount.unit() == Unit::Each {
            self.counted += amount.high();
        } else {
            self.is_counted_only = false;
        }
        // A pinch is needed, but nobody buys by it.
        if amount.unit().kind() == Kind::Loose {
            return;
        }
        self.has_figure = true;
        match bought {
            None => self.apart.add(most),
            Some(Bought { food, part: None }) => self.add_food(need, most, food),
            Some(Bought { part: Some(part), .. }) => self.add_part(need, most, part),
        }
    }

    /// Juice by volume or weight is so many fruits; of zest by the spoon one fruit is certain.
    fn add_part(&mut self, need: &Need, most: Amount, part: &Food) {
        self.is_counted_only = false;
        let each = part.from.as_ref().and_then(|from| from.ml_each.as_ref());
        let by_weight = || {
            let density = part.g_per_ml.as_ref().filter(|it| !it.value.is_zero())?;
            Some(in_kind(&most, Kind::Mass, need.spoons)? / &density.value)
        };
        let ml = in_kind(&most, Kind::Volume, need.spoons).or_else(by_weight);
        match (ml, each) {
            (Some(ml), Some(each)) if !each.value.is_zero() => self.juice += ml / &each.value,
            _ => {
                self.notes.insert(part.name.clone());
                self.zest = self.zest.clone().max(BigRational::one());
            }
        }
    }

    fn add_food(&mut self, need: &Need, most: Amount, food: &Food) {
        let figure = most.high();
        if let Some(part) = need.part_of_fruit {
            if part != FruitPart::Juice {
                self.zest += figure;
            }
            if part != FruitPart::Zest {
                self.juice += figure;
            }
            return;
        }
        let about = need.about.as_ref().and_then(|it| in_kind(it, Kind::Mass, need.spoons));
        if let Some(grams) = about.filter(|_| !sold_by_piece(food)) {
            self.weighed_g += grams;
            self.weighed_pieces += figure;
        } else if let Some(grams) = in_kind(&most, Kind::Mass, need.spoons) {
            if need.is_as_bought {
                self.bought_g += grams;
            } else {
                self.edible_g += grams;
            }
        } else if let Some(ml) = in_kind(&most, Kind::Volume, need.spoons) {
            match food.density(&need.preparation) {
                Some(density) => self.edible_g += ml * &density.value,
                None => self.apart.add(Amount::of(ml, Unit::Millilitre)),
            }
        } else if is_sold_in(food, most.unit()) {
            self.apart.add(most);
        } else if most.unit() == Unit::Each {
            self.pieces += figure;
        } else if let Some(each) = food.g_each.as_ref().filter(|_| is_small_piece(most.unit())) {
            self.edible_g += figure * &each.value;
        } else {
            self.apart.add(most);
        }
    }

    /// Whole pieces, where every dish counts them.
    pub fn pieces_to_count(&self) -> Option<u64> {
        let counted = self.is_counted_only && !self.counted.is_zero();
        let whole = if self.zest.is_zero() && self.juice.is_zero() {
            self.counted.ceil()
        } else {
            self.fruits().ceil()
        };
        counted.then(|| whole.to_integer().to_u64()).flatten()
    }

    /// Juice and zest share a fruit; the rest comes on top.
    fn fruits(&self) -> BigRational {
        self.zest.clone().max(self.juice.clone()) + &self.pieces
    }

    fn wanted(&self) -> Wanted {
        // Pieces come whole: thirteen and a half thighs are fourteen, and weigh so.
        let weighed_g = if self.weighed_pieces.is_zero() {
            self.weighed_g.clone()
        } else {
            &self.weighed_g * self.weighed_pieces.ceil() / &self.weighed_pieces
        };
        let edible = self.food.and_then(|food| food.edible.as_ref());
        let grams = match edible.filter(|it| !it.value.is_zero()) {
            Some(edible) => &self.edible_g / &edible.value,
            None => self.edible_g.clone(),
        };
        let grams = grams + weighed_g + &self.bought_g;
        Wanted { grams, pieces: self.fruits(), apart: self.apart.clone() }
    }

    /// One figure for all of it, where one will do.
    pub fn as_bought(&self) -> Option<Amount> {
        let food = self.food?;
        let Wanted { grams, pieces, apart } = self.wanted();
        match (grams.is_zero(), pieces.is_zero()) {
            _ if !apart.is_empty() => None,
            (true, false) if sold_by_piece(food) => Some(Amount::of(pieces, Unit::Each)),
            (_, false) => {
                let each = purchase::each_bought(food)?;
                Some(Amount::of(grams + pieces.ceil() * each, Unit::Gram))
            }
            (false, true) => Some(Amount::of(grams, Unit::Gram)),
            (true, true) => None,
        }
    }

    pub fn purchase(&self, home: Option<&Amount>) -> Purchase {
        let Some(food) = self.food.filter(|_| self.has_figure) else {
            let unlike = (!self.apart.is_empty()).then(|| self.apart.clone());
            return unlike.map_or(Purchase::Some, Purchase::AtLeast);
        };
        let mut wanted = self.wanted();
        if let Some(home) = home {
            wanted.take(home, food);
        }
        match purchase::buy(food, &wanted) {
            // No pack to convert to, and nothing is cut off: the measure of the cards says it best.
            Purchase::AtLeast(all) if home.is_none() && self.is_bought_as_written(food) => {
                Purchase::AtLeast(self.as_written().map_or(all, |one| [one].into_iter().collect()))
            }
            bought => bought,
        }
    }

    fn is_bought_as_written(&self, food: &Food) -> bool {
        let whole = food.edible.as_ref().is_none_or(|edible| edible.value.is_one());
        whole && self.zest.is_zero() && self.juice.is_zero() && self.weighed_g.is_zero()
    }

    /// All of it in the one measure that the cards use, or in millilitres or grams where they use
    /// several of one kind; none where they use several kinds.
    fn as_written(&self) -> Option<Amount> {
        let parts: Vec<&Amount> =
            self.needed.parts().filter(|part| part.unit().kind() != Kind::Loose).collect();
        let (first, rest) = parts.split_first()?;
        if rest.is_empty() {
            return Some(match first.unit().kind() {
                Kind::Count => Amount::of(first.high().ceil(), first.unit()),
                _ => (*first).clone(),
            });
        }
        let kind = first.unit().kind();
        let base = if kind == Kind::Mass { Unit::Gram } else { Unit::Millilitre };
        let sum: Option<BigRational> =
            parts.iter().map(|part| in_kind(part, kind, self.spoons)).sum();
        sum.map(|sum| Amount::of(sum, base))
    }

    /// True when nothing is left to buy.
    pub fn is_covered_by(&self, home: Option<&Amount>) -> bool {
        let (Some(food), Some(home)) = (self.food, home) else { return false };
        let mut wanted = self.wanted();
        wanted.take(home, food);
        self.has_figure && wanted.is_nothing()
    }
}

/// Parts that the figure "grams of one" speaks of, where it speaks of parts.
const fn is_small_piece(unit: Unit) -> bool {
    matches!(unit, Unit::Clove | Unit::Sprig | Unit::Leaf | Unit::Stalk | Unit::Piece)
}

fn is_sold_in(food: &Food, unit: Unit) -> bool {
    unit != Unit::Each && food.packs.iter().any(|pack| pack.unit() == unit)
}

fn sold_by_piece(food: &Food) -> bool {
    food.packs.iter().any(|pack| pack.unit() == Unit::Each)
}

/// The upper end in grams or millilitres; none when it measures something else.
fn in_kind(amount: &Amount, kind: Kind, spoons: Spoons) -> Option<BigRational> {
    let unit = amount.unit();
    let base = (unit.kind() == kind).then(|| unit.in_base(spoons)).flatten()?;
    Some(amount.high() * base)
}
