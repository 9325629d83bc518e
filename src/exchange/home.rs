//! The notation of what a home decided.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::document::{Document, read_id};
use super::kitchen::WrittenKitchen;
use crate::domain::dish::DishId;
use crate::domain::home::{Arrangement, CookDay};
use crate::domain::kitchen::Kitchen;

#[doc(hidden)]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[derive(Default)]
pub struct WrittenArrangement {
    #[serde(skip_serializing_if = "Option::is_none")]
    kitchen: Option<WrittenKitchen>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shop_on: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cook_days: Vec<WrittenCookDay>,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    choices: BTreeMap<String, String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    without: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    at_home: Vec<String>,
}

#[doc(hidden)]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenCookDay {
    date: String,
    from: String,
    to: String,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    hands_minutes: Option<u32>,
}

impl From<&CookDay> for WrittenCookDay {
    fn from(day: &CookDay) -> Self {
        let clock = |time: jiff::civil::Time| time.strftime("%H:%M").to_string();
        Self {
            date: day.date.to_string(),
            from: clock(day.from),
            to: clock(day.to),
            hands_minutes: day.hands_minutes,
        }
    }
}

impl WrittenCookDay {
    fn read(&self) -> Result<CookDay, String> {
        fn said<T: std::str::FromStr<Err: std::fmt::Display>>(text: &str) -> Result<T, String> {
            text.parse().map_err(|error| format!("{text}: {error}"))
        }
        let (date, from, to) = (said(&self.date)?, said(&self.from)?, said(&self.to)?);
        Ok(CookDay { date, from, to, hands_minutes: self.hands_minutes })
    }
}

impl From<&Arrangement> for WrittenArrangement {
    fn from(arrangement: &Arrangement) -> Self {
        Self {
            kitchen: arrangement.kitchen.as_ref().map(WrittenKitchen::from),
            shop_on: arrangement.shop_on.map(|day| day.to_string()),
            cook_days: arrangement.cook_days.iter().map(WrittenCookDay::from).collect(),
            choices: arrangement.choices.clone(),
            without: arrangement.without.iter().map(|dish| dish.0.to_string()).collect(),
            at_home: arrangement.at_home.clone(),
        }
    }
}

impl Document for Arrangement {
    type Written = WrittenArrangement;

    fn from_written(written: WrittenArrangement) -> Result<Self, String> {
        let day = |text: &String| text.parse().map_err(|error| format!("{text}: {error}"));
        Ok(Self {
            kitchen: written.kitchen.map(Kitchen::from_written).transpose()?,
            shop_on: written.shop_on.as_ref().map(day).transpose()?,
            cook_days: written
                .cook_days
                .iter()
                .map(WrittenCookDay::read)
                .collect::<Result<_, _>>()?,
            choices: written.choices,
            without: written
                .without
                .iter()
                .map(|id| Ok(DishId(read_id(id)?)))
                .collect::<Result<_, String>>()?,
            at_home: written.at_home,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::kitchen::usual_kitchens;
    use crate::exchange::document;

    #[test]
    fn arrangements_come_back_as_they_were_written() {
        let full = Arrangement {
            kitchen: usual_kitchens().pop(),
            shop_on: Some(jiff::civil::date(2027, 6, 24)),
            cook_days: vec![
                CookDay::whole(jiff::civil::date(2027, 6, 24)),
                CookDay {
                    hands_minutes: Some(90),
                    ..CookDay::whole(jiff::civil::date(2027, 6, 25))
                },
            ],
            choices: [("duck fat".to_owned(), "sunflower oil".to_owned())].into(),
            without: vec![DishId(uuid::Uuid::from_u128(7))],
            at_home: vec!["salt".to_owned()],
        };
        assert_eq!(document::read(&document::write(&full)), Ok(full));
        assert_eq!(document::write(&Arrangement::default()), "{}");
        assert_eq!(document::read("{}"), Ok(Arrangement::default()));
    }
}
