//! How many people a dish feeds, and the factor from one count to another.

use num_rational::BigRational;

/// A count of people, from 1 to [`Portions::MAX`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Portions(u32);

impl Portions {
    /// A teaching kitchen that feeds more than this needs another tool.
    pub const MAX: u32 = 500;

    pub fn parse(typed: &str) -> Result<Self, PortionsError> {
        let typed = typed.trim();
        if typed.is_empty() {
            return Err(PortionsError::Missing);
        }
        let count =
            typed.parse().map_err(|_| PortionsError::NotWhole { typed: typed.to_owned() })?;
        Self::new(count)
    }

    pub fn new(count: u32) -> Result<Self, PortionsError> {
        if (1..=Self::MAX).contains(&count) {
            Ok(Self(count))
        } else {
            Err(PortionsError::OutOfRange { count })
        }
    }

    pub const fn count(self) -> u32 {
        self.0
    }

    /// The exact factor that turns a dish for `self` into one for `guests`.
    pub fn scale_to(self, guests: Portions) -> ScaleFactor {
        ScaleFactor(BigRational::new(guests.0.into(), self.0.into()))
    }
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PortionsError {
    #[error("Enter how many people the dish serves")]
    Missing,
    #[error("Enter a whole number, like 8; “{typed}” is not one")]
    NotWhole { typed: String },
    #[error("A dish serves 1 to {max} people; this says {count}", max = Portions::MAX)]
    OutOfRange { count: u32 },
}

/// An exact multiplier, always positive.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ScaleFactor(BigRational);

impl ScaleFactor {
    /// The factor that changes nothing.
    pub fn one() -> Self {
        Self(BigRational::from_integer(1.into()))
    }

    /// A computed factor; none unless positive.
    pub fn of(fraction: BigRational) -> Option<Self> {
        (fraction > BigRational::default()).then_some(Self(fraction))
    }

    pub const fn as_fraction(&self) -> &BigRational {
        &self.0
    }
}
