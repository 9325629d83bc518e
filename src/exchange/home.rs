//! The notation of what a home decided.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::document::{Document, read_id};
use super::kitchen::WrittenKitchen;
use crate::domain::card::StepAt;
use crate::domain::dish::DishId;
use crate::domain::home::{Arrangement, CookDay, Prefer, StepOf, Wishes};
use crate::domain::kitchen::Kitchen;
use crate::domain::school::Measures;

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
    #[serde(skip_serializing_if = "Option::is_none")]
    measures: Option<String>,
    #[serde(skip_serializing_if = "WrittenWishes::is_nothing")]
    wishes: WrittenWishes,
}

#[doc(hidden)]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenCookDay {
    date: String,
    #[serde(default = "morning")]
    from: String,
    #[serde(default = "evening")]
    to: String,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    hands_minutes: Option<u32>,
}

fn morning() -> String {
    "08:00".to_owned()
}

fn evening() -> String {
    "22:00".to_owned()
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
    pub(super) fn read(&self) -> Result<CookDay, String> {
        fn said<T: std::str::FromStr<Err: std::fmt::Display>>(text: &str) -> Result<T, String> {
            text.parse().map_err(|error| format!("{text}: {error}"))
        }
        let (date, from, to) = (said(&self.date)?, said(&self.from)?, said(&self.to)?);
        Ok(CookDay { date, from, to, hands_minutes: self.hands_minutes })
    }
}

/// A step by its dish and its places, from 0.
#[doc(hidden)]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenWish {
    dish: String,
    part: usize,
    step: usize,
    /// Unix seconds of a pin, or a day that is out.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    at: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    not_on: Option<String>,
}

#[doc(hidden)]
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WrittenWishes {
    #[serde(skip_serializing_if = "String::is_empty")]
    prefer: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    steps: Vec<WrittenWish>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    no_oven_room: Vec<String>,
}

impl From<&Wishes> for WrittenWishes {
    fn from(wishes: &Wishes) -> Self {
        let wish = |it: &StepOf, at, not_on| WrittenWish {
            dish: it.dish.0.to_string(),
            part: it.at.part,
            step: it.at.step,
            at,
            not_on,
        };
        let pins = wishes.pins.iter().map(|(step, at)| wish(step, Some(at.as_second()), None));
        let days = wishes.not_on.iter().map(|(step, day)| wish(step, None, Some(day.to_string())));
        let is_usual = wishes.prefer == Prefer::default();
        Self {
            prefer: if is_usual { String::new() } else { wishes.prefer.word().to_owned() },
            steps: pins.chain(days).collect(),
            no_oven_room: wishes.no_oven_room.iter().map(|dish| dish.0.to_string()).collect(),
        }
    }
}

impl WrittenWishes {
    fn is_nothing(&self) -> bool {
        self.prefer.is_empty() && self.steps.is_empty() && self.no_oven_room.is_empty()
    }

    fn read(&self) -> Result<Wishes, String> {
        let mut wishes = Wishes { prefer: prefer(&self.prefer)?, ..Wishes::default() };
        for it in &self.steps {
            let at = StepAt { part: it.part, step: it.step };
            let step = StepOf { dish: DishId(read_id(&it.dish)?), at };
            if let Some(second) = it.at {
                let at = jiff::Timestamp::from_second(second).map_err(|it| it.to_string())?;
                wishes.pins.insert(step, at);
            }
            if let Some(day) = &it.not_on {
                let day = day.parse().map_err(|error| format!("{day}: {error}"))?;
                wishes.not_on.push((step, day));
            }
        }
        for id in &self.no_oven_room {
            wishes.no_oven_room.push(DishId(read_id(id)?));
        }
        Ok(wishes)
    }
}

/// Nothing written is what is usual.
pub(super) fn prefer(word: &str) -> Result<Prefer, String> {
    if word.is_empty() {
        return Ok(Prefer::default());
    }
    Prefer::ALL.into_iter().find(|it| it.word() == word).ok_or_else(|| {
        format!("prefer: “{word}” is none of least on the day, freshest, fewest days")
    })
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
            measures: arrangement.measures.map(|it| it.word().to_owned()),
            wishes: WrittenWishes::from(&arrangement.wishes),
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
            measures: written.measures.map(|word| measures(&word)).transpose()?,
            wishes: written.wishes.read()?,
        })
    }
}

fn measures(word: &str) -> Result<Measures, String> {
    let found = Measures::ALL.into_iter().find(|it| it.word() == word);
    found.ok_or(format!("“{word}” are no measures"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::kitchen::usual_kitchens;
    use crate::exchange::document;

    #[test]
    fn arrangements_come_back_as_they_were_written() {
        let dish = DishId(uuid::Uuid::from_u128(7));
        let step = StepOf { dish, at: StepAt { part: 1, step: 2 } };
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
            at_home: vec!["olive oil; 400 ml".to_owned()],
            measures: Some(Measures::Us),
            wishes: Wishes {
                prefer: Prefer::Freshest,
                pins: [(step, jiff::Timestamp::UNIX_EPOCH)].into(),
                not_on: vec![(step, jiff::civil::date(2027, 6, 24))],
                no_oven_room: vec![dish],
            },
        };
        assert_eq!(document::read(&document::write(&full)), Ok(full));
        assert_eq!(document::write(&Arrangement::default()), "{}");
        assert_eq!(document::read("{}"), Ok(Arrangement::default()));
    }
}
