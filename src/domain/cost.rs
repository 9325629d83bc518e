//! What a list costs: at the till, where whole packs are paid for, and what of it is eaten.
//!
//! Money is whole minor units of one currency; only sums are rounded, once, half up. For the
//! school's eyes: a student sees a price only where the school allows it.

use std::collections::BTreeMap;

use jiff::civil::Date;
use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};

use super::larder::FoodKey;
use super::quantity::{Amount, Portions, Spoons};
use super::shopping::{Purchase, Row, RowKey, ShoppingList};

/// What one pack cost on a day. A price is never changed; a newer one stands beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    pub food: FoodKey,
    pub pack: Amount,
    /// Cents, pence, øre.
    pub minor: u64,
    pub on: Date,
}

/// Prices of one currency.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Prices {
    pub currency: String,
    of_food: BTreeMap<FoodKey, Vec<Price>>,
}

impl Prices {
    /// The order does not matter: of two prices for one pack the newer one holds.
    pub fn of(currency: &str, prices: Vec<Price>) -> Self {
        let mut of_food: BTreeMap<FoodKey, Vec<Price>> = BTreeMap::new();
        for price in prices {
            of_food.entry(price.food.clone()).or_default().push(price);
        }
        for prices in of_food.values_mut() {
            prices.sort_by_key(|price| std::cmp::Reverse((price.on, price.minor)));
        }
        Self { currency: currency.to_owned(), of_food }
    }

    /// The newest price of this pack.
    fn of_pack(&self, food: &FoodKey, pack: &Amount) -> Option<&Price> {
        let size = base(pack);
        let same = |price: &&Price| {
            price.pack.unit().kind() == pack.unit().kind() && base(&price.pack) == size
        };
        self.of_food.get(food)?.iter().find(same)
    }

    /// The newest price by which so much can be counted.
    fn by_measure(&self, food: &FoodKey, amount: &Amount) -> Option<&Price> {
        let alike = |price: &&Price| {
            price.pack.unit().kind() == amount.unit().kind() && !base(&price.pack).is_zero()
        };
        self.of_food.get(food)?.iter().find(alike)
    }
}

/// In minor units, rounded once.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    pub currency: String,
    /// Paid for what is to be bought.
    pub till: u64,
    /// Paid on top, if nothing of the "check you have" box is there.
    pub till_check: u64,
    /// What the eaten share of everything is worth, that box included.
    pub used: u64,
    pub used_per_head: u64,
    /// Rows without a price; they count in no sum.
    pub not_priced: Vec<RowKey>,
}

pub fn cost(list: &ShoppingList, prices: &Prices, guests: Portions) -> Cost {
    let mut not_priced = Vec::new();
    let mut used = BigRational::zero();
    let mut sum = |rows: &mut dyn Iterator<Item = &Row>| {
        let mut till = BigRational::zero();
        for row in rows {
            match of_row(row, prices) {
                Some((paid, eaten)) => {
                    till += paid;
                    used += eaten;
                }
                None => not_priced.push(row.key.clone()),
            }
        }
        whole(&till)
    };
    let till = sum(&mut list.to_buy());
    let till_check = sum(&mut list.check.iter());
    not_priced.sort_unstable();
    let heads = BigRational::from_integer(guests.count().into());
    Cost {
        currency: prices.currency.clone(),
        till,
        till_check,
        used: whole(&used),
        used_per_head: whole(&(used / heads)),
        not_priced,
    }
}

/// Paid, and the part of it that is eaten.
fn of_row(row: &Row, prices: &Prices) -> Option<(BigRational, BigRational)> {
    let food = row.food.as_ref()?;
    let times =
        |price: &Price, share: BigRational| share * BigRational::from_integer(price.minor.into());
    match &row.buy {
        Purchase::Packs { packs, left } => {
            let mut paid = BigRational::zero();
            let mut total = BigRational::zero();
            for (pack, count) in packs {
                let count = BigRational::from_integer((*count).into());
                total += base(pack) * &count;
                paid += times(prices.of_pack(food, pack)?, count);
            }
            let share = if total.is_zero() { total } else { (&total - left) / total };
            Some((paid.clone(), paid * share))
        }
        Purchase::Weigh(weight) => {
            let price = prices.by_measure(food, weight)?;
            let share = |amount: &Amount| base(amount) / base(&price.pack);
            let paid = times(price, share(weight));
            let eaten =
                row.as_bought.as_ref().map_or_else(|| paid.clone(), |it| times(price, share(it)));
            Some((paid, eaten))
        }
        Purchase::AtLeast(_) | Purchase::Some => None,
    }
}

/// Grams, millilitres or pieces.
fn base(amount: &Amount) -> BigRational {
    let unit = amount.unit().in_base(Spoons::Round);
    unit.map_or_else(|| amount.high().clone(), |unit| unit * amount.high())
}

/// Half a cent and more is a cent.
fn whole(minor: &BigRational) -> u64 {
    let half = BigRational::new(1.into(), 2.into());
    (minor + half).floor().to_integer().to_u64().unwrap_or(u64::MAX)
}
