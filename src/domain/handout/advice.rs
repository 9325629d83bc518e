//! What does not grow in step with the amounts (rule book 7.3). It is said and never changed in
//! silence: the sheet prints the exact amounts, and a person tastes.

use num_rational::BigRational;

use crate::domain::card::{Card, GoesIn};
use crate::domain::larder::Food;
use crate::domain::menu::Laid;
use crate::domain::quantity::ScaleFactor;

/// From twice the amount on, what seasons is tasted (job, stage 7; trade knowledge, MEMORY).
const TASTE_FROM: i64 = 2;
/// From four times on, begin with less; and a trial of what leavens (rule book 7.3, MEMORY).
const LESS_FROM: i64 = 4;

/// Foods that season, by larder key or a word of the name.
const SEASONS: [&str; 11] = [
    "salt",
    "chilli",
    "chile",
    "cayenne pepper",
    "chilli flakes",
    "red pepper flakes",
    "vinegar",
    "lemon juice",
    "lime juice",
    "wine",
    "brandy",
];
const LEAVENS: [&str; 4] = ["baking powder", "baking soda", "bicarbonate of soda", "yeast"];
const REDUCES: [&str; 4] = ["reduce", "boil down", "until thick", "until syrupy"];
const SEARS: [&str; 4] = ["brown", "sear", "fry", "colour"];
const MIXES: [&str; 4] = ["knead", "beat", "whisk", "whip"];

/// Sentences for the sheet of a dish that is made in another size.
pub fn advice(card: &Card, laid: &Laid, factor: &ScaleFactor) -> Vec<String> {
    let at_least = |times: i64| *factor.as_fraction() >= BigRational::from_integer(times.into());
    let mut said = Vec::new();
    let lines: Vec<&GoesIn> = card.steps().flat_map(|(_, step)| &step.goes_in).collect();
    let named = |words: &[&str]| {
        let mut names: Vec<String> = Vec::new();
        for line in &lines {
            if holds(line, laid, words) && !names.contains(&line.what.name) {
                names.push(line.what.name.clone());
            }
        }
        names.join(", ")
    };
    if at_least(TASTE_FROM) {
        let names = named(&SEASONS);
        if !names.is_empty() {
            said.push(if at_least(LESS_FROM) {
                format!("Begin with three quarters of {names}, then taste.")
            } else {
                format!("Taste {names}: in a large amount it may be too much.")
            });
        }
    }
    if at_least(LESS_FROM) {
        let names = named(&LEAVENS);
        if !names.is_empty() {
            said.push(format!("Make a trial of {names}: it was not tried in this size."));
        }
    }
    if at_least(TASTE_FROM) {
        let text = |words: &[&str]| {
            card.steps().any(|(_, step)| {
                let text = step.text.to_lowercase();
                words.iter().any(|word| begins_a_word(&text, word))
            })
        };
        if text(&REDUCES) {
            said.push("Reducing takes longer: twice the depth is about twice the time.".to_owned());
        }
        if text(&SEARS) {
            said.push(
                "Brown in several loads; the fat is for each pan, not for each batch.".to_owned(),
            );
        }
        if text(&MIXES) {
            said.push(
                "Mix by the look, not by the minute: a machine overmixes a large amount."
                    .to_owned(),
            );
        }
    }
    said
}

fn holds(line: &GoesIn, laid: &Laid, words: &[&str]) -> bool {
    let food: Option<&Food> = line.what.found.known().and_then(|key| laid.larder.food(key));
    let name = food.map_or(line.what.food.as_str(), |food| food.name.as_str()).to_lowercase();
    // Salted butter is no salt, and wine vinegar is vinegar.
    words.iter().any(|word| name == *word || name.ends_with(&format!(" {word}")))
}

fn begins_a_word(text: &str, word: &str) -> bool {
    text.match_indices(word)
        .any(|(at, _)| text[..at].chars().next_back().is_none_or(|before| !before.is_alphabetic()))
}
