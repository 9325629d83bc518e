//! What a student sends: how many and when, and later everything a table may decide.

use serde::Deserialize;

use crate::domain::class::Class;
use crate::domain::cost::at_home as at_home_of;
use crate::domain::home::Home;
use crate::domain::larder::{Allergen, Larder};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::school::Measures;

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
    /// `metric`, `us`, or empty: as written.
    pub units: String,
    /// One food a line: `olive oil; 400 ml`.
    pub at_home: String,
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
            units: one("units"),
            at_home: one("at_home").chars().take(AT_HOME_MOST).collect(),
            choices: pairs.iter().filter_map(choice).collect(),
            without: all("without"),
            allergens: all("allergen").iter().filter_map(|word| Allergen::parse(word)).collect(),
            others: one("others"),
            strict: one("strict") == "yes",
            consents: one("consents") == "yes",
        }
    }

    /// The home as the form says it; allergies are the caller's.
    pub fn check(&self, before: &Home, larder: &Larder) -> (Option<Home>, Problems) {
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
        let at_home: Vec<String> = self.at_home.lines().map(str::to_owned).collect();
        let unread = at_home_of(&at_home, larder).1;
        if !unread.is_empty() {
            let words: Vec<String> = unread.iter().map(ToString::to_string).collect();
            problems.push(("at_home", words.join(". ")));
        }
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
        home.arrangement.at_home =
            at_home.into_iter().filter(|line| !line.trim().is_empty()).collect();
        home.arrangement.measures = measures_of(&self.units);
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

/// Longer lists of what is at home are cut.
const AT_HOME_MOST: usize = 4_000;

/// The words of the field, as in the address of a sheet.
pub const UNITS: [(&str, &str, Option<Measures>); 3] = [
    ("", "as written", None),
    ("metric", "metric", Some(Measures::Metric)),
    ("us", "US cups and pounds", Some(Measures::Us)),
];

pub fn measures_of(word: &str) -> Option<Measures> {
    UNITS.iter().find(|(it, ..)| *it == word).and_then(|(.., measures)| *measures)
}

pub fn units_word(measures: Option<Measures>) -> &'static str {
    UNITS.iter().find(|(.., it)| *it == measures).map_or("", |(word, ..)| *word)
}

fn take<T, E: std::fmt::Display>(
    field: &'static str,
    read: Result<T, E>,
    problems: &mut Problems,
) -> Option<T> {
    read.map_err(|error| problems.push((field, error.to_string()))).ok()
}
