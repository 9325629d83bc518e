//! A home: one table that cooks the menu, with its own guests, hour and choices.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::{Date, Time};
use uuid::Uuid;

use super::card::StepAt;
use super::class::ClassId;
use super::dish::DishId;
use super::kitchen::Kitchen;
use super::larder::Allergen;
use super::menu::{Choices, Sitting, TableRule};
use super::moment::ServiceTime;
use super::quantity::Portions;
use super::school::Measures;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HomeId(pub Uuid);

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Home {
    pub id: HomeId,
    pub class: ClassId,
    /// Empty until the student gives one.
    pub name: String,
    pub guests: Portions,
    pub serve: ServiceTime,
    pub arrangement: Arrangement,
    /// The instructor may see the name beside the count.
    pub shares_name: bool,
    /// The number of the publication whose changes this home has read.
    pub seen_number: u32,
}

/// What a home decides beside guests and hour; kept as one document.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Arrangement {
    /// Its own kitchen; none until it is asked.
    pub kitchen: Option<Kitchen>,
    /// None: the day before serving.
    pub shop_on: Option<Date>,
    /// Days on which it can cook ahead, earliest first; empty when not asked.
    pub cook_days: Vec<CookDay>,
    pub choices: Choices,
    /// Dishes this home leaves out.
    pub without: Vec<DishId>,
    /// What it wants of its plan of hours.
    pub wishes: Wishes,
    /// Foods that need not be bought, one a line as typed: `olive oil; 400 ml`.
    pub at_home: Vec<String>,
    /// The units this table thinks in; none: as the cards are written.
    pub measures: Option<Measures>,
}

/// What is best, after every limit holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Prefer {
    /// Fewest minutes of hands on the serving day.
    #[default]
    LeastOnTheDay,
    /// Shortest time held.
    Freshest,
    /// Fewest days of work before the serving day.
    FewestDays,
}

impl Prefer {
    pub const ALL: [Self; 3] = [Self::LeastOnTheDay, Self::Freshest, Self::FewestDays];

    /// As documents and menu files write it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::LeastOnTheDay => "least on the day",
            Self::Freshest => "freshest",
            Self::FewestDays => "fewest days",
        }
    }
}

/// A step of a dish of the menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepOf {
    pub dish: DishId,
    pub at: StepAt,
}

/// What a person wants beside the limits; kept in later plans.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wishes {
    pub prefer: Prefer,
    /// Begins at this minute.
    pub pins: BTreeMap<StepOf, Timestamp>,
    /// Not on these days.
    pub not_on: Vec<(StepOf, Date)>,
    /// Dishes whose answer for a full oven is taken.
    pub no_oven_room: Vec<DishId>,
}

/// A day on which somebody can cook, and how much of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CookDay {
    pub date: Date,
    pub from: Time,
    pub to: Time,
    /// Free minutes of hands; none: all of the time between.
    pub hands_minutes: Option<u32>,
}

impl CookDay {
    /// Where only the date is known: from 08:00 to 22:00.
    pub const fn whole(date: Date) -> Self {
        let (from, to) = (Time::constant(8, 0, 0, 0), Time::constant(22, 0, 0, 0));
        Self { date, from, to, hands_minutes: None }
    }
}

/// One allergy at the table, told by choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Allergy {
    /// A listed allergen's word, or any food or group as typed.
    pub what: String,
    /// Traces count.
    pub strict: bool,
    pub consent_at: Timestamp,
    /// Which wording of the consent was agreed to.
    pub words_version: u32,
}

impl Allergy {
    /// The wording of the consent that stands on the page now.
    pub const CONSENT_VERSION: u32 = 2;
}

impl Home {
    /// What the school may call it: its name only where the home allows it.
    pub fn name_for_school(&self) -> &str {
        if self.shares_name && !self.name.is_empty() { &self.name } else { "A home" }
    }

    /// This home as the input of lists, limits and sheets.
    pub fn sitting(&self, allergies: &[Allergy]) -> Sitting {
        let arrangement = &self.arrangement;
        Sitting {
            name: self.name.clone(),
            guests: self.guests,
            serve: self.serve.clone(),
            choices: arrangement.choices.clone(),
            without: arrangement.without.clone(),
            shop_on: arrangement.shop_on,
            freezer_litres: arrangement.kitchen.as_ref().map(|it| it.freezer.freezer_litres()),
            rule: rule_of(allergies),
        }
    }
}

/// The allergies of a table as one more rule.
fn rule_of(allergies: &[Allergy]) -> TableRule {
    let mut rule = TableRule::default();
    for allergy in allergies {
        match Allergen::parse(&allergy.what) {
            Some(allergen) => rule.allergens.push(allergen),
            None => rule.others.push(allergy.what.clone()),
        }
        rule.strict |= allergy.strict;
    }
    let words: Vec<_> = allergies.iter().map(|allergy| allergy.what.as_str()).collect();
    rule.words = words.join(", ");
    rule
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn allergies_become_a_rule_and_one_strict_makes_all_strict() {
        let allergy = |what: &str, strict| Allergy {
            what: what.to_owned(),
            strict,
            consent_at: Timestamp::UNIX_EPOCH,
            words_version: 1,
        };
        let rule = rule_of(&[allergy("nuts", false), allergy("kiwi", true)]);
        assert_eq!(rule.allergens, [Allergen::Nuts]);
        assert_eq!(rule.others, ["kiwi"]);
        assert!(rule.strict);
        assert_eq!(rule.words, "nuts, kiwi");
    }
}
