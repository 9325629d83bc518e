//! Foods that a sentence puts in and no line of the card lists.
//!
//! Only words that a verb of putting in leads to, and only names the larder knows exactly: a remark
//! on every food that is merely spoken of would teach people to look away.

use std::collections::HashSet;

use super::Card;
use crate::domain::larder::Larder;
use crate::domain::remark::{Place, Remark};

const PUT_IN: [&str; 13] = [
    "add",
    "stir in",
    "fold in",
    "whisk in",
    "mix in",
    "beat in",
    "tip in",
    "scatter over",
    "season with",
    "sprinkle with",
    "sprinkle over",
    "brush with",
    "toss with",
];

const BETWEEN: [&str; 12] =
    ["the", "a", "an", "some", "more", "remaining", "rest", "of", "all", "little", "bit", "good"];

pub(super) fn of(card: &Card, larder: &Larder, bases: &[String]) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let listed: HashSet<String> = card
        .steps()
        .flat_map(|(_, step)| &step.goes_in)
        .flat_map(|it| stems(&it.what.text))
        .chain(card.parts.iter().flat_map(|part| stems(&part.name)))
        .chain(bases.iter().flat_map(|title| stems(title)))
        .chain(["water".to_owned()])
        .collect();
    for (_, step) in card.steps() {
        let mut said = HashSet::new();
        for food in put_in(&step.text) {
            let is_food = larder.find(&food).known().is_some();
            let is_listed = stems(&food).iter().any(|stem| listed.contains(stem));
            if is_food && !is_listed && said.insert(food.clone()) {
                let sentence = format!("The sentence puts in {food}, and no line says how much");
                let remark = Remark::note(Place::Line(step.line), sentence);
                remarks.push(remark.write(format!("+ {food}")));
            }
        }
    }
    remarks
}

/// Words without their plural endings, folded.
fn stems(words: &str) -> Vec<String> {
    let letters = |c: char| !c.is_alphabetic();
    words
        .split(letters)
        .filter(|word| word.len() > 2)
        .map(|word| {
            let word = word.to_lowercase();
            let stem = word.strip_suffix("es").filter(|it| it.ends_with('o')).map(str::to_owned);
            stem.or_else(|| word.strip_suffix('s').map(str::to_owned)).unwrap_or(word)
        })
        .collect()
}

/// The one to three words after each verb of putting in, longest first.
fn put_in(sentence: &str) -> Vec<String> {
    let folded = sentence.to_lowercase();
    let mut found = Vec::new();
    for verb in PUT_IN {
        for (at, _) in folded.match_indices(verb) {
            let starts = !folded[..at].ends_with(char::is_alphanumeric);
            let rest = &folded[at + verb.len()..];
            if !starts || !rest.starts_with(' ') {
                continue;
            }
            let clause = rest.split(['.', ',', ';', ':', '(']).next().unwrap_or_default();
            let words: Vec<&str> = clause
                .split_whitespace()
                .skip_while(|word| BETWEEN.contains(word))
                .take(3)
                .collect();
            found.extend((1..=words.len()).rev().map(|count| words[..count].join(" ")));
        }
    }
    found
}
