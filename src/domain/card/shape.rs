//! What one line of a card is by its look: a step, a head, words with brackets in them.

use super::note::{Note, NoteKind};

/// `12.` or `12)` and what follows.
pub(super) fn step_number(words: &str) -> Option<(u32, &str)> {
    let digits = words.bytes().take_while(u8::is_ascii_digit).count();
    if !(1..=3).contains(&digits) {
        return None;
    }
    let rest = words[digits..].strip_prefix(['.', ')'])?;
    let spaced = rest.is_empty() || rest.starts_with(char::is_whitespace) || rest.starts_with('[');
    Some((words[..digits].parse().ok()?, rest.trim_start())).filter(|_| spaced)
}

const HEADS: [&str; 14] = [
    "dish",
    "base",
    "for",
    "serves",
    "makes",
    "portion",
    "course",
    "vessel",
    "why",
    "no freezer",
    "no oven room",
    "part",
    "finish",
    "note",
];

/// A head and its value. A short unknown word with a colon at the start is a head, too.
pub(super) fn head_of(words: &str) -> Option<(&str, &str)> {
    let (name, value) = words.split_once(':')?;
    let known = HEADS.iter().find(|head| name.trim().eq_ignore_ascii_case(head));
    if let Some(head) = known {
        return Some((head, value.trim()));
    }
    let short = name.len() <= 20 && name.split_whitespace().count() <= 2;
    let lower = name.chars().all(|c| c.is_lowercase() || c == ' ');
    (short && lower && !name.is_empty()).then(|| (name.trim(), value.trim()))
}

/// The words cut at brackets: true for what stood inside. An unclosed bracket is words.
pub(super) fn bracketed(words: &str) -> Vec<(bool, &str)> {
    let mut found = Vec::new();
    let mut rest = words;
    while let Some(open) = rest.find('[') {
        let Some(close) = rest[open..].find(']') else { break };
        found.push((false, &rest[..open]));
        found.push((true, rest[open + 1..open + close].trim()));
        rest = &rest[open + close + 1..];
    }
    found.push((false, rest));
    found
}

/// The same words with what is most often forgotten, where that makes them a note; else an example.
pub(super) fn suggestion(kind: NoteKind, words: &str) -> String {
    let figures = words.split_whitespace().filter_map(|word| word.parse::<u32>().ok());
    // Dials in Celsius end at 250 to 300 (MEMORY); what is hotter was meant in Fahrenheit.
    let letter = if figures.max().is_some_and(|most| most > 280) { 'F' } else { 'C' };
    let mut is_scaled = false;
    let scaled: Vec<String> = words
        .split_whitespace()
        .map(|word| {
            let is_heat = !is_scaled && word.len() == 3 && word.parse::<u32>().is_ok();
            is_scaled |= is_heat;
            if is_heat { format!("{word}{letter}") } else { word.to_owned() }
        })
        .collect();
    let scaled = scaled.join(" ");
    let tries = [format!("{words} min"), scaled.clone(), format!("{scaled} min")];
    let fits = |it: &String| Note::read(it).is_ok_and(|read| read.note.kind() == kind);
    tries.into_iter().find(fits).unwrap_or_else(|| kind.example().to_owned())
}
