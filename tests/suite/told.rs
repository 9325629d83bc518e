//! Told menus of our own invention, each with a reading by hand beside it, and how much is found.
//!
//! A file of `tests/told` is the talk, a line of dashes, then rows: `dish KEY | title`,
//! `amount KEY | line`, `note KEY | words of its sentence | note`, `none | words of a sentence`.

use std::fs;

use dovetray::domain::larder::Larder;
use dovetray::domain::reading::read_line;
use dovetray::domain::told::{Draft, Told, tell};

/// A talk and what a person read from it.
struct Hand {
    name: String,
    talk: String,
    /// Key and title.
    dishes: Vec<(String, String)>,
    /// Key and line.
    amounts: Vec<(String, String)>,
    /// Key, words of the sentence, note.
    notes: Vec<(String, String, String)>,
    /// Words of sentences that belong to no dish.
    none: Vec<String>,
}

/// What was found of it.
#[derive(Debug, Default)]
struct Score {
    amounts: usize,
    amounts_found: usize,
    notes: usize,
    notes_found: usize,
    missed: Vec<String>,
    invented: Vec<String>,
}

fn hands(folder: &str) -> Vec<Hand> {
    let folder = format!("{}/tests/{folder}", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files.iter().map(|file| hand(file)).collect()
}

fn hand(file: &std::path::Path) -> Hand {
    let text = fs::read_to_string(file).unwrap();
    let (talk, rows) = text.split_once("\n----\n").unwrap();
    let mut hand = Hand {
        name: file.file_stem().unwrap().to_string_lossy().into_owned(),
        talk: talk.to_owned(),
        dishes: Vec::new(),
        amounts: Vec::new(),
        notes: Vec::new(),
        none: Vec::new(),
    };
    for row in rows.lines().filter(|row| !row.is_empty()) {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let (kind, key) = cells[0].split_once(' ').unwrap_or((cells[0], ""));
        let key = key.to_owned();
        match kind {
            "dish" => hand.dishes.push((key, cells[1].to_owned())),
            "amount" => hand.amounts.push((key, cells[1].to_owned())),
            "note" => hand.notes.push((key, cells[1].to_owned(), cells[2].to_owned())),
            "none" => hand.none.push(cells[1].to_owned()),
            other => panic!("{other} is no row of a reading by hand"),
        }
    }
    hand
}

fn measure(hand: &Hand, larder: &Larder) -> Score {
    let told = tell(&hand.talk, larder);
    let mut score =
        Score { amounts: hand.amounts.len(), notes: hand.notes.len(), ..Score::default() };
    let mut offered: Vec<(&Draft, usize)> = told
        .dishes
        .iter()
        .flat_map(|draft| (0..draft.goes_in.len()).map(move |place| (draft, place)))
        .collect();
    let title = |key: &str| hand.dishes.iter().find(|it| it.0 == *key).unwrap().1.to_lowercase();
    for (key, line) in &hand.amounts {
        let is_it = |(draft, place): &(&Draft, usize)| {
            draft.title.to_lowercase() == title(key)
                && same(&draft.goes_in[*place].words, line, larder)
        };
        match offered.iter().position(is_it) {
            Some(place) => {
                score.amounts_found += 1;
                offered.remove(place);
            }
            None => score.missed.push(format!("{key}: {line}")),
        }
    }
    let invented = offered
        .iter()
        .map(|(draft, place)| format!("{}: + {}", draft.title, draft.goes_in[*place].words));
    score.invented.extend(invented);
    notes(hand, &told, &mut score);
    for words in &hand.none {
        let at = told.sentences.iter().position(|it| it.words.contains(words.as_str()));
        let is_none = at.is_some_and(|at| told.not_placed.contains(&at));
        if !is_none {
            score.missed.push(format!("not left unplaced: {words}"));
        }
    }
    score
}

fn notes(hand: &Hand, told: &Told, score: &mut Score) {
    let title = |key: &str| hand.dishes.iter().find(|it| it.0 == *key).unwrap().1.to_lowercase();
    let mut offered: Vec<(String, String, String)> = Vec::new();
    for draft in &told.dishes {
        for note in &draft.notes {
            let on = draft.sentences.iter().find(|it| it.line == note.line);
            let words = on.map_or("", |on| told.sentences[on.sentence].words.as_str());
            offered.push((draft.title.to_lowercase(), words.to_owned(), note.note.words()));
        }
    }
    for (key, words, note) in &hand.notes {
        let is_it = |it: &(String, String, String)| {
            it.0 == title(key) && it.1.contains(words.as_str()) && it.2 == *note
        };
        match offered.iter().position(is_it) {
            Some(place) => {
                score.notes_found += 1;
                offered.remove(place);
            }
            None => score.missed.push(format!("{key}: [{note}] in “{words}”")),
        }
    }
    let invented =
        offered.into_iter().map(|(dish, words, note)| format!("{dish}: [{note}] {words}"));
    score.invented.extend(invented);
}

/// The same figures, measure and food; the work done to it may be worded otherwise.
fn same(one: &str, other: &str, larder: &Larder) -> bool {
    let (one, other) = (read_line(one, larder), read_line(other, larder));
    let packs = |line: &dovetray::domain::reading::IngredientLine| line.packs.clone();
    one.amount == other.amount
        && one.unit == other.unit
        && packs(&one) == packs(&other)
        && one.food == other.food
}

fn shown(name: &str, score: &Score) -> String {
    format!(
        "{name}: amounts {} of {}, notes {} of {}\n  missed {:#?}\n  invented {:#?}",
        score.amounts_found,
        score.amounts,
        score.notes_found,
        score.notes,
        score.missed,
        score.invented
    )
}

#[test]
fn told_menus_become_the_cards_that_a_person_reads_from_them() {
    let larder = Larder::shipped();
    let mut all = Score::default();
    let mut words = Vec::new();
    for hand in hands("told") {
        let score = measure(&hand, &larder);
        words.push(shown(&hand.name, &score));
        all.amounts += score.amounts;
        all.amounts_found += score.amounts_found;
        all.notes += score.notes;
        all.notes_found += score.notes_found;
        all.invented.extend(score.invented);
    }
    println!("{}", words.join("\n"));
    println!("{}", shown("all", &all));
    assert!(all.amounts_found * 10 >= all.amounts * 9, "{}", words.join("\n"));
    assert!(all.notes_found * 10 >= all.notes * 8, "{}", words.join("\n"));
    assert!(all.invented.is_empty(), "{:#?}", all.invented);
}
