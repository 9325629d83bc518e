//! An amount with its unit, and unlike amounts side by side.
//!
//! Fractions grow without limit, so a long list never overflows into a wrong number;
//! only what is typed or stored is bounded, by [`Amount::TERM_MAX`].

use std::collections::BTreeMap;

use num_rational::BigRational;

use super::{ScaleFactor, Unit};

/// From `low` to `high` of one unit; equal when the author gave one figure.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Amount {
    low: BigRational,
    high: BigRational,
    unit: Unit,
}

impl Amount {
    /// The greatest numerator and denominator that may be typed or stored.
    pub const TERM_MAX: u32 = 1_000_000;

    /// One typed or stored figure, as numerator and denominator.
    pub fn exactly(numerator: u32, denominator: u32, unit: Unit) -> Result<Self, OutOfBounds> {
        let within = numerator <= Self::TERM_MAX && (1..=Self::TERM_MAX).contains(&denominator);
        if !within {
            return Err(OutOfBounds { numerator, denominator });
        }
        Ok(Self::of(BigRational::new(numerator.into(), denominator.into()), unit))
    }

    /// One computed figure.
    pub fn of(figure: BigRational, unit: Unit) -> Self {
        Self { low: figure.clone(), high: figure, unit }
    }

    /// Two computed figures of one unit, in either order.
    pub fn between(one: BigRational, other: BigRational, unit: Unit) -> Self {
        let (low, high) = if one <= other { (one, other) } else { (other, one) };
        Self { low, high, unit }
    }

    /// From this amount up to another of the same unit, in either order; none if the units differ.
    pub fn up_to(self, other: Self) -> Option<Self> {
        let alike = self.unit == other.unit;
        alike.then(|| Self {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
            unit: self.unit,
        })
    }

    pub const fn unit(&self) -> Unit {
        self.unit
    }

    pub const fn high(&self) -> &BigRational {
        &self.high
    }

    pub const fn low(&self) -> &BigRational {
        &self.low
    }

    pub fn is_range(&self) -> bool {
        self.low != self.high
    }

    /// Scales without rounding, so that scaling up and back gives the same amount.
    #[must_use]
    pub fn scaled_by(&self, factor: &ScaleFactor) -> Self {
        self.times(factor.as_fraction(), self.unit)
    }

    /// Both ends times `factor`, said in `unit`; for exact conversions.
    #[must_use]
    pub fn times(&self, factor: &BigRational, unit: Unit) -> Self {
        Self { low: &self.low * factor, high: &self.high * factor, unit }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("Write a fraction with terms from 1 to {max}; this is {numerator}/{denominator}", max = Amount::TERM_MAX)]
pub struct OutOfBounds {
    pub numerator: u32,
    pub denominator: u32,
}

/// A sum that never turns grams into pieces: one amount for each unit in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MixedAmount(BTreeMap<Unit, Amount>);

impl MixedAmount {
    /// The amounts, one a unit, in a fixed order.
    pub fn parts(&self) -> impl Iterator<Item = &Amount> {
        self.0.values()
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    #[must_use]
    pub fn scaled_by(&self, factor: &ScaleFactor) -> Self {
        self.parts().map(|amount| amount.scaled_by(factor)).collect()
    }

    pub fn add(&mut self, amount: Amount) {
        match self.0.get_mut(&amount.unit) {
            Some(total) => {
                total.low += amount.low;
                total.high += amount.high;
            }
            None => drop(self.0.insert(amount.unit, amount)),
        }
    }
}

impl FromIterator<Amount> for MixedAmount {
    fn from_iter<I: IntoIterator<Item = Amount>>(amounts: I) -> Self {
        let mut sum = Self::default();
        amounts.into_iter().for_each(|amount| sum.add(amount));
        sum
    }
}
