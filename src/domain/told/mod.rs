//! A menu as somebody says it, turned into draft cards, one a dish.
//!
//! [`tell`] cuts the talk into sentences ([`sentence`]), finds the dishes it is about ([`dish`]) and
//! gives each sentence one of them or none ([`place`]). Amounts inside the sentences ([`amounts`])
//! become offered `+` lines at their step, and what is said of oven, hob, rest and keeping becomes
//! offered notes; nothing is set by itself, and no word of the talk is changed.

mod amounts;
mod dish;
mod name;
mod phrases;
mod place;
mod sentence;
mod words;
mod write;

use std::collections::BTreeMap;
use std::ops::Range;

use super::larder::Larder;
use super::offer::Offer;

/// The longest talk that pages take apart, in characters: an hour and a half of speech.
pub const LENGTH_MAX: usize = 100_000;

/// A talk taken apart. Every sentence stands in exactly one dish or in `not_placed`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    pub sentences: Vec<Sentence>,
    pub dishes: Vec<Draft>,
    /// Of every dish that the talk brings up; a draft has one of these places.
    pub titles: Vec<String>,
    /// Places in `sentences`.
    pub not_placed: Vec<usize>,
}

/// One sentence of the talk, as it was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sentence {
    pub bytes: Range<usize>,
    pub words: String,
}

/// What became of a sentence on its card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Became {
    /// A numbered step.
    Step,
    /// Words under the step before it.
    Under,
    /// `note:` at the head, before any step.
    Note,
}

/// A sentence on its card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OnCard {
    /// Place in [`Told::sentences`].
    pub sentence: usize,
    pub became: Became,
    /// Line of [`Draft::text`], from 1.
    pub line: usize,
}

/// A `+` line that the author may keep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GoesIn {
    /// Line of [`Draft::text`] under which it is written, from 1.
    pub line: usize,
    /// What stands behind the `+`: `1 1/2 cup flour`.
    pub words: String,
    /// Place in [`Told::sentences`] of the sentence that says it.
    pub sentence: usize,
    /// Those words of the talk.
    pub said: String,
    /// False for `some parsley`.
    pub is_counted: bool,
}

/// One card to be, without what is offered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// Its place among the dishes of the talk, also where one of them has no sentence.
    pub place: usize,
    /// Empty where the talk names no dish.
    pub title: String,
    pub text: String,
    pub sentences: Vec<OnCard>,
    pub goes_in: Vec<GoesIn>,
    /// Notes found in its sentences, by line of `text`.
    pub notes: Vec<Offer>,
}

/// Takes a talk apart. Never fails: what is not understood stays as words, or is not placed.
pub fn tell(text: &str, larder: &Larder) -> Told {
    tell_with(text, larder, &BTreeMap::new())
}

/// The same, with the dishes that a person gave to some sentences; none is not placed.
pub fn tell_with(text: &str, larder: &Larder, moved: &BTreeMap<usize, Option<usize>>) -> Told {
    let cut = sentence::sentences(text);
    let (dishes, called) = dish::dishes(text, &cut, larder);
    let has_amounts = |bytes: &Range<usize>| {
        let said = amounts::amounts(text, bytes.clone(), larder);
        said.iter().any(|it| it.is_counted && !is_within(&it.bytes, &called))
    };
    let mut placed = place::place(text, &cut, &dishes, has_amounts);
    let mut names: Vec<write::Head> = dishes.iter().map(write::Head::of).collect();
    if names.is_empty() && placed.sentences.iter().any(has_amounts) {
        // Nobody named a dish, and something is cooked: one card, for the author to name.
        names.push(write::Head::default());
        placed.homes.fill(Some(0));
    }
    for (sentence, dish) in moved {
        if let Some(home) = placed.homes.get_mut(*sentence) {
            *home = dish.filter(|dish| *dish < names.len());
        }
    }
    let drafts = write::drafts(text, &placed, &names, &called, larder);
    let not_placed = (0..placed.homes.len()).filter(|it| placed.homes[*it].is_none()).collect();
    let sentences = placed
        .sentences
        .into_iter()
        .map(|bytes| Sentence { words: text[bytes.clone()].to_owned(), bytes })
        .collect();
    let titles = names.into_iter().map(|it| it.title).collect();
    Told { sentences, dishes: drafts, titles, not_placed }
}

/// `a beetroot and orange salad` is a dish and no beetroot.
fn is_within(bytes: &Range<usize>, names: &[Range<usize>]) -> bool {
    let after = names.partition_point(|name| name.end <= bytes.start);
    names.get(after).is_some_and(|name| name.start < bytes.end)
}

impl Draft {
    /// The card with the chosen lines and notes written in, and this title.
    pub fn keep(
        &self,
        title: &str,
        goes_in: impl Fn(usize) -> bool,
        notes: impl Fn(usize) -> bool,
    ) -> String {
        write::keep(self, title, goes_in, notes)
    }

    /// The card with everything that is offered.
    pub fn keep_all(&self) -> String {
        self.keep(&self.title, |_| true, |_| true)
    }
}

#[cfg(test)]
mod tests;
