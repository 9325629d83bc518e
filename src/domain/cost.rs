//! What a list costs: at the till, where whole packs are paid for, and what of it is eaten.
//!
//! Money is whole minor units of one currency; only sums are rounded, once, half up. For the
//! school's eyes: a student sees a price only where the school allows it.

use std::collections::BTreeMap;

use jiff::civil::Date;
use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};

use super::larder::{FoodKey, Found, Larder};
use super::quantity::{Amount, Portions, Spoons};
use super::reading::read_line;
use super::school::{Currency, SumError};
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

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PriceId(pub uuid::Uuid);

/// Why a pack, or a line with a price, is not understood.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PriceError {
    #[error("the larder does not know “{food}”")]
    NoFood { food: String },
    #[error("“{words}” of {food}: write an amount, like 1 l")]
    NoAmount { words: String, food: String },
    #[error("write food; pack; price")]
    NotThree,
    #[error("{0}")]
    Sum(SumError),
}

/// A problem and the line it stands in, from 1.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("Line {line}: {error}")]
pub struct PriceProblem {
    pub line: usize,
    pub error: PriceError,
}

/// `1 l` of `olive oil`.
pub fn pack_of(food: &str, words: &str, larder: &Larder) -> Result<(FoodKey, Amount), PriceError> {
    let Found::Known(key) = larder.find(food) else {
        return Err(PriceError::NoFood { food: food.to_owned() });
    };
    let line = read_line(&format!("{words} {food}"), larder);
    let amount = line.amount.filter(|amount| *amount.high() > BigRational::default());
    let none = || PriceError::NoAmount { words: words.to_owned(), food: food.to_owned() };
    Ok((key, amount.ok_or_else(none)?))
}

/// What a table has, from lines like `olive oil; 400 ml`; the lines that are not understood.
pub fn at_home(lines: &[String], larder: &Larder) -> (BTreeMap<FoodKey, Amount>, Vec<PriceError>) {
    let (mut home, mut problems) = (BTreeMap::new(), Vec::new());
    for line in lines.iter().filter(|line| !line.trim().is_empty()) {
        let (food, words) = line.split_once(';').unwrap_or((line, ""));
        match pack_of(food.trim(), words.trim(), larder) {
            Ok((food, amount)) => drop(home.insert(food, amount)),
            Err(problem) => problems.push(problem),
        }
    }
    (home, problems)
}

/// Lines like `olive oil; 1 l; 9.80`; empty ones are passed over. All problems, or all prices.
pub fn read_prices(
    text: &str,
    larder: &Larder,
    currency: Currency,
    on: Date,
) -> Result<Vec<Price>, Vec<PriceProblem>> {
    let (mut prices, mut problems) = (Vec::new(), Vec::new());
    for (place, words) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        match read_price(words, larder, currency, on) {
            Ok(price) => prices.push(price),
            Err(error) => problems.push(PriceProblem { line: place + 1, error }),
        }
    }
    if problems.is_empty() { Ok(prices) } else { Err(problems) }
}

fn read_price(
    line: &str,
    larder: &Larder,
    currency: Currency,
    on: Date,
) -> Result<Price, PriceError> {
    let parts: Vec<&str> = line.split(';').map(str::trim).collect();
    let [food, pack, sum] = parts.as_slice() else { return Err(PriceError::NotThree) };
    let (food, pack) = pack_of(food, pack, larder)?;
    let minor = currency.minor(sum).map_err(PriceError::Sum)?.into();
    Ok(Price { food, pack, minor, on })
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

    /// The newest price of each pack, by food.
    pub fn newest(&self) -> Vec<&Price> {
        let mut found: Vec<&Price> = Vec::new();
        for price in self.of_food.values().flatten() {
            if self.of_pack(&price.food, &price.pack).is_some_and(|it| std::ptr::eq(it, price)) {
                found.push(price);
            }
        }
        found
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
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cost {
    pub currency: String,
    /// Paid for what is to be bought.
    pub till: u64,
    /// Paid on top, if nothing of the "check you have" box is there.
    pub till_check: u64,
    /// What the eaten share of everything is worth, that box included.
    pub used: u64,
    pub used_per_head: u64,
    /// Everything bought, that box included.
    pub till_per_head: u64,
    /// Paid for what does not keep, and the eaten share of what goes back on the shelf.
    pub ingredients: u64,
    heads: BigRational,
    exact_used: BigRational,
    exact_ingredients: BigRational,
    /// Rows without a price; they count in no sum.
    pub not_priced: Vec<RowKey>,
    /// Of the prices that count, the day of the oldest and of the newest.
    pub priced_on: Option<(Date, Date)>,
}

pub fn cost(list: &ShoppingList, prices: &Prices, guests: Portions) -> Cost {
    let mut not_priced = Vec::new();
    let mut days: Vec<Date> = Vec::new();
    let (mut used, mut ingredients) = (BigRational::zero(), BigRational::zero());
    let mut sum = |rows: &mut dyn Iterator<Item = &Row>| {
        let mut till = BigRational::zero();
        for row in rows {
            match of_row(row, prices, &mut days) {
                Some((paid, eaten)) => {
                    ingredients += if row.is_stock { &eaten } else { &paid };
                    till += paid;
                    used += eaten;
                }
                None => not_priced.push(row.key.clone()),
            }
        }
        till
    };
    let till = sum(&mut list.to_buy());
    let till_check = sum(&mut list.check.iter());
    not_priced.sort_unstable();
    let heads = BigRational::from_integer(guests.count().into());
    Cost {
        currency: prices.currency.clone(),
        till: whole(&till),
        till_check: whole(&till_check),
        used: whole(&used),
        used_per_head: whole(&(&used / &heads)),
        till_per_head: whole(&((till + till_check) / &heads)),
        ingredients: whole(&ingredients),
        heads,
        exact_used: used,
        exact_ingredients: ingredients,
        not_priced,
        priced_on: days.iter().min().copied().zip(days.iter().max().copied()),
    }
}

impl Cost {
    /// What a student reads above the list; nothing where no row has a price.
    pub fn words(&self, currency: Currency) -> Option<String> {
        let (oldest, newest) = self.priced_on?;
        let sum = |minor: u64| currency.words(u32::try_from(minor).unwrap_or(u32::MAX));
        let day = |date: Date| date.strftime("%-d %B %Y").to_string();
        let mut words = format!("About {} at the till", sum(self.till));
        if self.till_check > 0 {
            words += &format!(", {} more if nothing to check is at home", sum(self.till_check));
        }
        words += &if oldest == newest {
            format!(", by the school's prices of {}.", day(oldest))
        } else {
            format!(", by the school's prices from {} to {}.", day(oldest), day(newest))
        };
        match self.not_priced.len() {
            0 => {}
            1 => words += " One food has no price and is not counted.",
            foods => words += &format!(" {foods} foods have no price and are not counted."),
        }
        Some(words)
    }

    /// What is eaten with so many per cent on top for waste: in all, and each.
    pub fn with_waste(&self, percent: u32) -> (u64, u64) {
        let share = BigRational::new((100 + percent).into(), 100.into());
        let all = &self.exact_used * share;
        (whole(&all), whole(&(all / &self.heads)))
    }
}

/// What a piece must be sold at, where what goes in may be so many per cent of the price.
pub fn price_at(cost: u64, pieces: u32, percent: u32) -> Option<u64> {
    let shares = u64::from(pieces) * u64::from(percent);
    let price = |shares: u64| BigRational::new((u128::from(cost) * 100).into(), shares.into());
    (shares > 0).then(|| whole(&price(shares)))
}

/// What a class costs, however many come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FixedCosts {
    pub hall: u64,
    pub helpers: u64,
    pub printing: u64,
}

impl FixedCosts {
    pub const fn sum(self) -> u64 {
        self.hall.saturating_add(self.helpers).saturating_add(self.printing)
    }
}

/// What each seat costs, and from how many on a fee pays for the class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fee {
    /// Ingredients and fixed costs, shared by all.
    pub per_head: u64,
    /// Ingredients alone: what one more guest adds.
    pub variable_per_head: u64,
    /// Students that a fee needs to pay for everything; none where no fee is asked, or where each
    /// student costs more than it.
    pub break_even: Option<u64>,
}

impl Fee {
    pub fn of(cost: &Cost, fixed: FixedCosts, fee: Option<u64>) -> Self {
        let money = |minor: u64| BigRational::from_integer(minor.into());
        let variable = &cost.exact_ingredients / &cost.heads;
        let fixed = money(fixed.sum());
        let per_head = &variable + &fixed / &cost.heads;
        let over = fee.map(|fee| money(fee) - &variable).filter(|it| *it > BigRational::zero());
        Self {
            per_head: whole(&per_head),
            variable_per_head: whole(&variable),
            break_even: over.and_then(|over| (fixed / over).ceil().to_integer().to_u64()),
        }
    }
}

/// Paid, and the part of it that is eaten; the days of its prices are noted.
fn of_row(row: &Row, prices: &Prices, days: &mut Vec<Date>) -> Option<(BigRational, BigRational)> {
    let food = row.food.as_ref()?;
    let times =
        |price: &Price, share: BigRational| share * BigRational::from_integer(price.minor.into());
    match &row.buy {
        Purchase::Packs { packs, left } => {
            let (mut paid, mut found) = (BigRational::zero(), Vec::new());
            let mut total = BigRational::zero();
            for (pack, count) in packs {
                let count = BigRational::from_integer((*count).into());
                total += base(pack) * &count;
                let price = prices.of_pack(food, pack)?;
                found.push(price.on);
                paid += times(price, count);
            }
            days.extend(found);
            let share = if total.is_zero() { total } else { (&total - left) / total };
            Some((paid.clone(), paid * share))
        }
        Purchase::Weigh(weight) => {
            let price = prices.by_measure(food, weight)?;
            days.push(price.on);
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_with_prices_are_read_all_or_with_every_problem() {
        let (larder, euro) = (Larder::shipped(), Currency::default());
        let day = jiff::civil::date(2027, 5, 1);
        let read = |text: &str| read_prices(text, &larder, euro, day);
        let prices = read("olive oil; 1 l; 9.80\n\nleeks ; 1 kg ; 2,4").unwrap();
        let minor: Vec<u64> = prices.iter().map(|price| price.minor).collect();
        assert_eq!(minor, [980, 240]);
        let problems = read(
            "olive oil 9.80\nsea kale; 1 kg; 2\nleeks; 1 kg; 2\nleeks; some; 2\nleeks; 1 kg; -2",
        );
        let problems: Vec<_> =
            problems.unwrap_err().into_iter().map(|it| (it.line, it.error)).collect();
        let sea_kale = PriceError::NoFood { food: "sea kale".to_owned() };
        let some = PriceError::NoAmount { words: "some".to_owned(), food: "leeks".to_owned() };
        let minus = PriceError::Sum(euro.minor("-2").unwrap_err());
        assert_eq!(problems, [(1, PriceError::NotThree), (2, sea_kale), (4, some), (5, minus)]);
    }

    #[test]
    fn of_two_prices_for_one_pack_the_newer_one_holds() {
        let (larder, euro) = (Larder::shipped(), Currency::default());
        let on = |year, text: &str| {
            read_prices(text, &larder, euro, jiff::civil::date(year, 5, 1)).unwrap()
        };
        let all =
            [on(2026, "leeks; 1 kg; 3"), on(2027, "leeks; 1000 g; 2"), on(2025, "leeks; 500 g; 1")];
        let prices = Prices::of("EUR", all.concat());
        let newest: Vec<_> = prices.newest().iter().map(|it| (it.minor, it.on.year())).collect();
        assert_eq!(newest, [(200, 2027), (100, 2025)]);
    }

    #[test]
    fn what_is_at_home_is_a_food_of_the_larder_with_an_amount() {
        let lines =
            ["olive oil; 400 ml", "", " leeks ;3", "sea kale; 1 kg", "rice"].map(str::to_owned);
        let (home, problems) = at_home(&lines, &Larder::shipped());
        let keys: Vec<String> = home.keys().map(ToString::to_string).collect();
        assert_eq!(keys, ["leek", "olive oil"]);
        assert_eq!(problems.len(), 2, "{problems:?}");
    }
}
