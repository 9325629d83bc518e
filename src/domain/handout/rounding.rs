//! Amounts that a factor made crooked, as a kitchen can measure them: the ladder of steps, and the
//! error said where it is more than a twentieth.

use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

use super::shown::as_measured;
use crate::domain::quantity::{Amount, Unit};

/// An amount on the ladder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rounded {
    pub amount: Amount,
    /// What it should be, where the step is more than a twentieth away.
    pub exactly: Option<Amount>,
}

/// More than this share is said.
const ERROR_PERCENT: i64 = 5;

/// The step of a scale or a jug near this figure: `(up to, step)` in grams or millilitres.
const LADDER: [(i64, i64); 4] = [(20, 1), (100, 5), (500, 10), (i64::MAX, 25)];

/// Puts a scaled amount on the ladder. `is_whole` says that nobody uses a part of one: eggs, tins.
pub fn on_ladder(amount: &Amount, is_whole: bool) -> Rounded {
    let unit = amount.unit();
    let low = step_of(amount.low(), unit, is_whole);
    let high = step_of(amount.high(), unit, is_whole);
    let is_off = [(amount.low(), &low), (amount.high(), &high)].iter().any(|(exact, shown)| {
        let error = (*exact - *shown).abs() * BigRational::from_integer(100.into());
        error > *exact * BigRational::from_integer(ERROR_PERCENT.into())
    });
    let rounded = Amount::between(low, high, unit);
    Rounded { amount: rounded, exactly: is_off.then(|| amount.clone()) }
}

/// Never nothing: the smallest step stands for less.
fn step_of(figure: &BigRational, unit: Unit, is_whole: bool) -> BigRational {
    let to = |step: BigRational| {
        let rounded = (figure / &step).round() * &step;
        if rounded.is_zero() && !figure.is_zero() { step } else { rounded }
    };
    let ratio = |one: i64, of: i64| BigRational::new(one.into(), of.into());
    match unit {
        Unit::Gram | Unit::Millilitre => {
            if *figure < ratio(1, 1) {
                return figure.clone();
            }
            let limit = |most: i64| *figure <= ratio(most, 1);
            let step = LADDER.iter().find(|(most, _)| limit(*most)).map_or(25, |(_, step)| *step);
            to(ratio(step, 1))
        }
        _ if is_whole => to(BigRational::one()),
        // Spoons and cups round to what there is in a drawer.
        _ => as_measured(figure, unit).unwrap_or_else(|| figure.clone()),
    }
}

/// Units of which nobody opens a part.
pub const fn is_whole_unit(unit: Unit) -> bool {
    matches!(unit, Unit::Can | Unit::Jar | Unit::Pack | Unit::Sheet | Unit::Bottle | Unit::Carton)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(n: u32, d: u32, unit: Unit, is_whole: bool) -> (BigRational, bool) {
        let rounded = on_ladder(&Amount::exactly(n, d, unit).unwrap(), is_whole);
        (rounded.amount.high().clone(), rounded.exactly.is_some())
    }

    fn ratio(n: i64, d: i64) -> BigRational {
        BigRational::new(n.into(), d.into())
    }

    #[test]
    fn grams_go_to_the_step_of_the_scale() {
        for (n, d, step) in [(37, 2, 19), (1237, 20, 60), (333, 1, 330), (1333, 1, 1325)] {
            assert_eq!(on(n, d, Unit::Gram, false), (ratio(step, 1), false), "{n}/{d}");
        }
        assert_eq!(on(1, 4, Unit::Gram, false), (ratio(1, 4), false), "a quarter gram stays");
    }

    #[test]
    fn an_error_of_more_than_a_twentieth_is_said() {
        assert_eq!(on(3, 2, Unit::Gram, false), (ratio(2, 1), true), "1.5 g for 2");
        assert_eq!(on(3, 8, Unit::Each, true), (ratio(1, 1), true), "three eighths of an egg");
        assert_eq!(on(3, 1, Unit::Each, true), (ratio(3, 1), false));
        assert_eq!(on(3, 2, Unit::Each, false), (ratio(3, 2), false), "half a lemon is a half");
        assert_eq!(on(9, 4, Unit::Can, true), (ratio(2, 1), true));
        assert_eq!(on(1, 16, Unit::Teaspoon, false), (ratio(1, 8), true));
        assert_eq!(on(5, 4, Unit::Tablespoon, false), (ratio(5, 4), false));
        assert_eq!(on(9, 20, Unit::Teaspoon, false), (ratio(1, 2), true), "0.45 for a half");
    }

    #[test]
    fn nothing_is_rounded_to_nothing() {
        for (n, d) in [(1, 100), (1, 3), (7, 8), (1, 1)] {
            for unit in [Unit::Gram, Unit::Each, Unit::Can] {
                assert!(on(n, d, unit, true).0 > BigRational::default(), "{n}/{d} {unit:?}");
            }
        }
    }
}
