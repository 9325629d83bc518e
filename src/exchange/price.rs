//! A price of a pack as a document.

use serde::{Deserialize, Serialize};

use super::card::WrittenAmount;
use super::document::Document;
use crate::domain::cost::Price;
use crate::domain::larder::FoodKey;
use crate::domain::quantity::Amount;

#[doc(hidden)]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenPrice {
    food: String,
    pack: WrittenAmount,
    /// Smallest coins.
    minor: u64,
    /// Like 2027-05-01.
    on: String,
}

impl From<&Price> for WrittenPrice {
    fn from(price: &Price) -> Self {
        Self {
            food: price.food.to_string(),
            pack: WrittenAmount::from(&price.pack),
            minor: price.minor,
            on: price.on.to_string(),
        }
    }
}

impl Document for Price {
    type Written = WrittenPrice;

    fn from_written(written: WrittenPrice) -> Result<Self, String> {
        Ok(Self {
            food: FoodKey::new(&written.food),
            pack: Amount::try_from(written.pack)?,
            minor: written.minor,
            on: written.on.parse().map_err(|error| format!("on: {error}"))?,
        })
    }
}
