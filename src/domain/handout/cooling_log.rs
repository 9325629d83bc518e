//! The blank cooling log: the limits of the rules in force on top, a row for each box below.

use super::foot::Foot;
use crate::domain::caution::log_sheet_words;
use crate::domain::heat::Scale;
use crate::domain::limit::Profile;
use crate::domain::menu::{Laid, Letter};

/// Lines on the page; what is cooled in this menu is written in already.
const LINES: usize = 11;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoolingLogSheet {
    pub foot: Foot,
    /// `21 °C (70 °F)`, `5 °C (41 °F)`.
    pub first: String,
    pub total: String,
    /// `2 hours`, or fewer where the school says so.
    pub first_within: String,
    pub total_within: String,
    /// What to do where one is missed.
    pub if_first: String,
    pub if_total: String,
    /// Dish and step that says it is cooled; blank lines follow.
    pub rows: Vec<Option<LogRow>>,
    pub source: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogRow {
    pub letter: Letter,
    pub is_base: bool,
    pub what: String,
}

pub fn cooling_log_sheet(laid: &Laid) -> CoolingLogSheet {
    let profile = &laid.profile;
    let [first, total, _] = profile.base.cooling_keys();
    let cooled = laid.dishes.iter().flat_map(|dish| {
        let parts = dish
            .card
            .parts
            .iter()
            .filter(|part| part.steps.iter().any(|step| step.chill.is_some()));
        parts.map(move |part| LogRow {
            letter: dish.letter,
            is_base: dish.is_base,
            what: if part.name == "method" || part.name == dish.title || part.is_finish {
                dish.title.clone()
            } else {
                format!("{}, {}", dish.title, part.name)
            },
        })
    });
    let mut rows: Vec<Option<LogRow>> = cooled.map(Some).collect();
    rows.resize(rows.len().max(LINES - 3) + 3, None);
    let least = degrees(profile, profile.base.reheat_key());
    let (if_first, if_total) = log_sheet_words(&least);
    CoolingLogSheet {
        foot: Foot::of_menu(laid),
        first: degrees(profile, first),
        total: degrees(profile, total),
        first_within: within(profile, first),
        total_within: within(profile, total),
        if_first,
        if_total,
        rows,
        source: profile.in_force(first).map(|it| it.source()).unwrap_or_default(),
    }
}

fn within(profile: &Profile, key: &str) -> String {
    let minutes = profile.in_force(key).and_then(|it| it.count()).unwrap_or(0);
    match minutes {
        it if it.is_multiple_of(60) => format!("{}\u{a0}h", it / 60),
        it => format!("{it}\u{a0}min"),
    }
}

fn degrees(profile: &Profile, key: &str) -> String {
    let Some(rule) = profile.in_force(key) else { return String::new() };
    match (rule.degrees(Scale::Celsius), rule.degrees(Scale::Fahrenheit)) {
        (Some(c), Some(f)) => format!("{c} ({f})"),
        (Some(it), None) | (None, Some(it)) => it.to_string(),
        (None, None) => String::new(),
    }
}
