//! What a student sends: how many and when, and later everything a table may decide.

use serde::Deserialize;

use crate::domain::class::Class;
use crate::domain::home::Home;
use crate::domain::larder::Allergen;
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;

pub type Problems = Vec<(&'static str, String)>;

/// The only two questions of the first visit.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct JoinForm {
    pub guests: String,
    pub serve: String,
    /// Filled in by the browser; else the zone of the class holds.
    pub zone: String,
}

impl JoinForm {
    pub fn first(class: &Class) -> Self {
        Self {
            guests: class.seats.count().to_string(),
            serve: class.serve.local_text(),
            zone: String::new(),
        }
    }

    pub fn check(&self, class_zone: &Zone) -> (Option<(Portions, ServiceTime)>, Problems) {
        let mut problems = Problems::new();
        let zone = match self.zone.trim() {
            "" => class_zone.clone(),
            typed => Zone::parse(typed).unwrap_or_else(|_| class_zone.clone()),
        };
        let guests = take("guests", Portions::parse(&self.guests), &mut problems);
        let serve = take("serve", ServiceTime::parse(&self.serve, zone), &mut problems);
        (guests.zip(serve), problems)
    }
}

/// Everything on the page of a table.
#[derive(Clone, Debug, Default)]
pub struct TableForm {
    pub version: u32,
    pub name: String,
    pub shares_name: bool,
    pub guests: String,
    pub serve: String,
    pub zone: String,
    pub shop_on: String,
    pub freezer: String,
    pub choices: Vec<(String, String)>,
    /// Letters of dishes that this table leaves out.
    pub without: Vec<String>,
    pub allergens: Vec<Allergen>,
    pub others: String,
    pub strict: bool,
    /// The tick under which allergies may be kept.
    pub consents: bool,
}

impl TableForm {
    pub fn of(pairs: &[(String, String)]) -> Self {
        let one = |key: &str| {
            let found = pairs.iter().rev().find(|(it, _)| it == key);
            found.map_or_else(String::new, |(_, value)| value.clone())
        };
        let all = |key: &str| -> Vec<String> {
            let found = pairs.iter().filter(|(it, _)| it == key);
            found.map(|(_, value)| value.clone()).collect()
        };
        let choice = |(key, chosen): &(String, String)| {
            let first = key.strip_prefix("choice-")?;
            Some((first.to_lowercase(), chosen.to_lowercase()))
        };
        Self {
            version: one("version").parse().unwrap_or(0),
            name: one("name").trim().chars().take(80).collect(),
            shares_name: one("shares_name") == "yes",
            guests: one("guests"),
            serve: one("serve"),
            zone: one("zone"),
            shop_on: one("shop_on"),
            freezer: one("freezer"),
            choices: pairs.iter().filter_map(choice).collect(),
            without: all("without"),
            allergens: all("allergen").iter().filter_map(|word| Allergen::parse(word)).collect(),
            others: one("others"),
            strict: one("strict") == "yes",
            consents: one("consents") == "yes",
        }
    }

    /// The home as the form says it; allergies are the caller's.
    pub fn check(&self, before: &Home) -> (Option<Home>, Problems) {
        let mut problems = Problems::new();
        let guests = take("guests", Portions::parse(&self.guests), &mut problems);
        let zone = take("zone", Zone::parse(&self.zone), &mut problems);
        let serve = zone
            .and_then(|zone| take("serve", ServiceTime::parse(&self.serve, zone), &mut problems));
        let shop_on = match self.shop_on.trim() {
            "" => Some(None),
            typed => take(
                "shop_on",
                typed.parse().map_err(|_| "Write the day like 2027-06-24, or leave it open"),
                &mut problems,
            )
            .map(Some),
        };
        let tells = !self.allergens.is_empty() || !self.others.trim().is_empty();
        if tells && !self.consents {
            let words = "Tick that these may be kept for your table, or take them out";
            problems.push(("consents", words.to_owned()));
        }
        let (Some(guests), Some(serve), Some(shop_on)) = (guests, serve, shop_on) else {
            return (None, problems);
        };
        if !problems.is_empty() {
            return (None, problems);
        }
        let mut home = before.clone();
        home.name.clone_from(&self.name);
        home.shares_name = self.shares_name;
        home.guests = guests;
        home.serve = serve;
        home.arrangement.shop_on = shop_on;
        home.arrangement.choices = self.choices.iter().cloned().collect();
        (Some(home), problems)
    }

    /// What must not be on this table, as typed.
    pub fn told(&self) -> Vec<String> {
        let listed = self.allergens.iter().map(|it| it.word().to_owned());
        let others = self.others.split([',', ';']).map(str::trim).filter(|it| !it.is_empty());
        listed.chain(others.map(|it| it.chars().take(80).collect())).collect()
    }
}

fn take<T, E: std::fmt::Display>(
    field: &'static str,
    read: Result<T, E>,
    problems: &mut Problems,
) -> Option<T> {
    read.map_err(|error| problems.push((field, error.to_string()))).ok()
}
