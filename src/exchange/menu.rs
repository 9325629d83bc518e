//! The notation of a menu's draft, and of the pieces that a draft, a home and a snapshot share.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::document::{Document, read_id};
use crate::domain::kitchen::KitchenId;
use crate::domain::larder::Allergen;
use crate::domain::menu::{MenuDraft, TableRule};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::{Portions, Spoons};

#[doc(hidden)]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenMenuDraft {
    guests: u32,
    serve: WrittenTime,
    rule: WrittenRule,
    choices: BTreeMap<String, String>,
    sweet_after_minutes: u32,
    spoons: String,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    kitchen: Option<String>,
}

/// A civil time with its zone: `2027-06-26T13:00` in `Europe/Oslo`.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenTime {
    local: String,
    zone: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenRule {
    words: String,
    allergens: Vec<String>,
    others: Vec<String>,
    strict: bool,
}

impl From<&ServiceTime> for WrittenTime {
    fn from(time: &ServiceTime) -> Self {
        Self { local: time.local_text(), zone: time.zone.name().to_owned() }
    }
}

impl TryFrom<&WrittenTime> for ServiceTime {
    type Error = String;

    fn try_from(written: &WrittenTime) -> Result<Self, String> {
        let zone = Zone::parse(&written.zone).map_err(|error| error.to_string())?;
        Self::parse(&written.local, zone).map_err(|error| error.to_string())
    }
}

impl From<&TableRule> for WrittenRule {
    fn from(rule: &TableRule) -> Self {
        Self {
            words: rule.words.clone(),
            allergens: rule.allergens.iter().map(|it| it.word().to_owned()).collect(),
            others: rule.others.clone(),
            strict: rule.strict,
        }
    }
}

impl TryFrom<WrittenRule> for TableRule {
    type Error = String;

    fn try_from(written: WrittenRule) -> Result<Self, String> {
        let allergen =
            |word: &String| Allergen::parse(word).ok_or_else(|| format!("no allergen: {word}"));
        Ok(Self {
            words: written.words,
            allergens: written.allergens.iter().map(allergen).collect::<Result<_, _>>()?,
            others: written.others,
            strict: written.strict,
        })
    }
}

pub(super) const fn spoons_word(spoons: Spoons) -> &'static str {
    match spoons {
        Spoons::Round => "round",
        Spoons::Customary => "customary",
    }
}

pub(super) fn read_spoons(word: &str) -> Result<Spoons, String> {
    [Spoons::Round, Spoons::Customary]
        .into_iter()
        .find(|&spoons| spoons_word(spoons) == word)
        .ok_or_else(|| format!("spoons: expected round or customary, found {word}"))
}

impl From<&MenuDraft> for WrittenMenuDraft {
    fn from(draft: &MenuDraft) -> Self {
        Self {
            guests: draft.guests.count(),
            serve: WrittenTime::from(&draft.serve),
            rule: WrittenRule::from(&draft.rule),
            choices: draft.choices.clone(),
            sweet_after_minutes: draft.sweet_after_minutes,
            spoons: spoons_word(draft.spoons).to_owned(),
            kitchen: draft.kitchen.map(|kitchen| kitchen.0.to_string()),
        }
    }
}

impl Document for MenuDraft {
    type Written = WrittenMenuDraft;

    fn from_written(written: WrittenMenuDraft) -> Result<Self, String> {
        Ok(Self {
            guests: Portions::new(written.guests).map_err(|error| error.to_string())?,
            serve: ServiceTime::try_from(&written.serve)?,
            rule: TableRule::try_from(written.rule)?,
            choices: written.choices,
            sweet_after_minutes: written.sweet_after_minutes,
            spoons: read_spoons(&written.spoons)?,
            kitchen: written.kitchen.map(|id| read_id(&id).map(KitchenId)).transpose()?,
        })
    }
}

#[cfg(test)]
pub(super) fn sample_draft() -> MenuDraft {
    let zone = Zone::parse("Europe/Oslo").unwrap();
    let serve = ServiceTime::parse("2027-06-26T13:00", zone).unwrap();
    let rule = TableRule {
        words: "No gluten, no milk".to_owned(),
        allergens: vec![Allergen::Gluten, Allergen::Milk],
        others: vec!["kiwi".to_owned()],
        strict: true,
    };
    let choices = [("ground almonds".to_owned(), "ground sunflower seeds".to_owned())].into();
    let new = MenuDraft::new(Portions::new(8).unwrap(), serve);
    MenuDraft { rule, choices, sweet_after_minutes: 30, ..new }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::document;

    #[test]
    fn drafts_come_back_as_they_were_written() {
        let draft = MenuDraft { kitchen: Some(KitchenId(uuid::Uuid::nil())), ..sample_draft() };
        let written = document::write(&draft);
        assert!(written.contains(r#""local":"2027-06-26T13:00""#), "{written}");
        assert_eq!(document::read(&written), Ok(draft));
        assert_eq!(document::read(&document::write(&sample_draft())), Ok(sample_draft()));
        assert!(document::read::<MenuDraft>(&written.replace("Oslo", "Olso")).is_err());
    }
}
