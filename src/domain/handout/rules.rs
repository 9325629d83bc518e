//! The rule sheet: which limits were used, how long, and where each was read.

use super::foot::Foot;
use super::step::place_words;
use super::text::keeping;
use crate::domain::keeps::{DishKeeps, Whose};
use crate::domain::menu::{Laid, Letter};

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
    pub purpose: &'static str,
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
                figure: format!("{celsius}\u{a0}°C, {fahrenheit}\u{a0}°F"),
                sense: "at most",
                kind: super::shopping::capital(&figure.what),
                source: figure.source.to_string(),
                ours: status(Some(figure.status)),
            });
        }
    }
    for limit in keeps.iter().flat_map(|dish| &dish.stops).flat_map(|stop| &stop.limits) {
        if limit.whose == Whose::Card {
            continue;
        }
        let row = RuleRow {
            figure: limit.clock.words(),
            sense: "at most",
            kind: super::shopping::capital(&limit.because),
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

fn authors(laid: &Laid) -> Vec<AuthorRow> {
    let mut rows = Vec::new();
    for dish in &laid.dishes {
        for (part, step) in dish.card.steps() {
            for stop in &step.stops {
                let because = stop.because.as_deref().unwrap_or_default();
                let because =
                    if because.is_empty() { String::new() } else { format!(" ({because})") };
                let name =
                    if part.is_finish || part.name == "method" { &dish.title } else { &part.name };
                let most = keeping(stop.most_minutes);
                rows.push(AuthorRow {
                    letter: dish.letter,
                    is_base: dish.is_base,
                    words: format!(
                        "{name}, step {}: {} {most}{because}",
                        step.number,
                        place_words(stop.place)
                    ),
                    purpose: match stop.by {
                        Some(crate::domain::card::By::Safety) => "for safety",
                        Some(crate::domain::card::By::Quality) => "for taste",
                        None => "not said",
                    },
                });
            }
        }
    }
    rows
}
