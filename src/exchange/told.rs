//! A told menu taken apart, as one JSON document: what `read-told` prints.

use serde::Serialize;

use crate::domain::told::{Became, Draft, OnCard, Told};

/// The draft cards, and what stands on none.
#[derive(Debug, Serialize)]
pub struct ReadTold {
    /// Each in exactly one card or in `not_placed`.
    sentences: Vec<String>,
    cards: Vec<ReadDraft>,
    /// Sentences, counted from 1.
    not_placed: Vec<usize>,
}

#[derive(Debug, Serialize)]
struct ReadDraft {
    /// Empty where the talk names no dish.
    title: String,
    /// Without what is offered.
    card: String,
    /// With every `+` line and note that is offered.
    card_with_all: String,
    sentences: Vec<ReadSentence>,
    goes_in: Vec<ReadGoesIn>,
    notes: Vec<ReadNote>,
}

#[derive(Debug, Serialize)]
struct ReadSentence {
    sentence: usize,
    /// `step`, `under` the step before it, or `note` at the head.
    became: &'static str,
    /// Line of `card`, from 1.
    line: usize,
}

#[derive(Debug, Serialize)]
struct ReadGoesIn {
    sentence: usize,
    /// Line of `card` under which it goes, from 1.
    line: usize,
    /// What stands behind the `+`.
    words: String,
    said: String,
    /// False for `some parsley`.
    counted: bool,
}

#[derive(Debug, Serialize)]
struct ReadNote {
    sentence: usize,
    line: usize,
    /// What stands between the brackets.
    words: String,
    said: String,
    /// What was taken for granted, or is still to be said.
    why: String,
}

impl From<&Told> for ReadTold {
    fn from(told: &Told) -> Self {
        Self {
            sentences: told.sentences.iter().map(|it| it.words.clone()).collect(),
            cards: told.dishes.iter().map(ReadDraft::from).collect(),
            not_placed: told.not_placed.iter().map(|it| it + 1).collect(),
        }
    }
}

impl From<&Draft> for ReadDraft {
    fn from(draft: &Draft) -> Self {
        let sentence_of = |line: usize| {
            draft.sentences.iter().find(|it| it.line == line).map_or(0, |it| it.sentence + 1)
        };
        let goes_in = draft.goes_in.iter().map(|it| ReadGoesIn {
            sentence: it.sentence + 1,
            line: it.line,
            words: it.words.clone(),
            said: it.said.clone(),
            counted: it.is_counted,
        });
        let notes = draft.notes.iter().map(|it| ReadNote {
            sentence: sentence_of(it.line),
            line: it.line,
            words: it.note.words(),
            said: it.words.clone(),
            why: it.why.clone(),
        });
        Self {
            title: draft.title.clone(),
            card: draft.text.clone(),
            card_with_all: draft.keep_all(),
            sentences: draft.sentences.iter().map(ReadSentence::from).collect(),
            goes_in: goes_in.collect(),
            notes: notes.collect(),
        }
    }
}

impl From<&OnCard> for ReadSentence {
    fn from(on: &OnCard) -> Self {
        let became = match on.became {
            Became::Step => "step",
            Became::Under => "under",
            Became::Note => "note",
        };
        Self { sentence: on.sentence + 1, became, line: on.line }
    }
}
