//! The rule sheet: which limits were used, how long, and where each was read.

use super::foot::Foot;
use super::step::place_words;
use super::text::keeping;
use crate::domain::card::{By, Stop};
use crate::domain::keeps::{DishKeeps, Whose};
use crate::domain::limit::Clock;
use crate::domain::menu::{Laid, Letter};
use crate::domain::text::capital;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleSheet {
    pub foot: Foot,
    pub profile: String,
    /// The rows that bind anything in this menu, each once.
    pub rows: Vec<RuleRow>,
    /// What the author set, dish by dish.
    pub authors: Vec<AuthorRow>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleRow {
    pub figure: String,
    pub sense: &'static str,
    pub kind: String,
    pub source: String,
    /// `read in the source`, `from memory`, `the school's own`.
    pub ours: &'static str,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AuthorRow {
    pub letter: Letter,
    pub is_base: bool,
    pub words: String,
}

pub fn rule_sheet(laid: &Laid, keeps: &[DishKeeps]) -> RuleSheet {
    let profile = &laid.profile;
    let mut rows = vec![RuleRow {
        figure: super::text::span(profile.room_minutes()),
        sense: "at most",
        kind: "Out of cold and heat, over its life".to_owned(),
        source: profile.room_source().to_owned(),
        ours: "two-hour rule",
    }];
    for key in ["home_cold", "home_freezer"] {
        if let Some(figure) = profile.figure(key)
            && let (Some(fahrenheit), Some(celsius)) = (figure.fahrenheit, figure.celsius)
        {
            rows.push(RuleRow {
                figure: format!("{celsius}, {fahrenheit}"),
                sense: "at most",
                kind: capital(&figure.what),
                source: figure.source.to_string(),
                ours: status(Some(figure.status)),
            });
        }
    }
    for limit in keeps.iter().flat_map(|dish| &dish.stops).flat_map(|stop| &stop.limits) {
        if limit.whose == Whose::Card {
            continue;
        }
        let (figure, sense) = match limit.clock {
            Clock::Days(1) => ("1\u{a0}day".to_owned(), "the day of making"),
            Clock::Days(days) => (format!("{days}\u{a0}days"), "making is day 1"),
            Clock::Elapsed(minutes) => (keeping(minutes), "at most"),
        };
        // The foods it was found by stand last, in brackets; the row is the same for all.
        let kind = limit.because.rsplit_once(" (").map_or(&*limit.because, |(kind, _)| kind);
        let row = RuleRow {
            figure,
            sense,
            kind: capital(kind),
            source: limit.source.clone(),
            ours: if limit.whose == Whose::School {
                "the school's own"
            } else {
                status(limit.status)
            },
        };
        if !rows.contains(&row) {
            rows.push(row);
        }
    }
    RuleSheet {
        foot: Foot::of_menu(laid),
        profile: profile.name.clone(),
        rows,
        authors: authors(laid),
    }
}

fn status(status: Option<crate::domain::limit::Status>) -> &'static str {
    use crate::domain::limit::Status;
    match status {
        Some(Status::Verified) => "read there",
        Some(Status::Partial) => "partly from memory",
        Some(Status::Memory) => "from memory",
        None => "not read",
    }
}

/// A row a dish: its stops in the order of the card.
fn authors(laid: &Laid) -> Vec<AuthorRow> {
    let mut rows = Vec::new();
    for dish in &laid.dishes {
        let mut words = Vec::new();
        for (_, step) in dish.card.steps() {
            for stop in &step.stops {
                words.push(author_words(step.number, stop));
            }
        }
        if !words.is_empty() {
            let (letter, is_base) = (dish.letter, dish.is_base);
            rows.push(AuthorRow { letter, is_base, words: format!("{}.", words.join("; ")) });
        }
    }
    rows
}

fn author_words(number: u32, stop: &Stop) -> String {
    let purpose = match stop.by {
        Some(By::Safety) => ", for safety",
        Some(By::Quality) => ", for taste",
        None => "",
    };
    let because = stop.because.as_deref().filter(|it| !it.is_empty());
    let because = because.map(|it| format!(": {it}")).unwrap_or_default();
    let most = keeping(stop.most_minutes);
    format!("step {number}, {} {most}{purpose}{because}", place_words(stop.place))
}
