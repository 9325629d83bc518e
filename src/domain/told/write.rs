//! The draft cards: sentences become steps, and what they say is offered beside them.

use std::collections::BTreeSet;
use std::ops::Range;

use super::amounts::{self, Said};
use super::dish::{Named, fold};
use super::name;
use super::place::{self, Placed};
use super::words;
use super::{Became, Draft, GoesIn, OnCard, is_within};
use crate::domain::card;
use crate::domain::larder::Larder;
use crate::domain::offer::{self, offers};

/// What stands at the head of a card.
#[derive(Clone, Debug, Default)]
pub struct Head {
    pub title: String,
    course: Option<&'static str>,
}

impl Head {
    pub fn of(named: &Named) -> Self {
        Self { title: named.title.clone(), course: named.course }
    }
}

/// One card a dish that has any sentence.
pub fn drafts(
    text: &str,
    placed: &Placed,
    heads: &[Head],
    called: &[Range<usize>],
    larder: &Larder,
) -> Vec<Draft> {
    let folded: Vec<String> =
        placed.sentences.iter().map(|bytes| fold(&text[bytes.clone()])).collect();
    let serves_in = |home: Option<usize>| {
        let mut own = (0..folded.len()).filter(|it| placed.homes[*it] == home);
        own.find_map(|it| place::serves(&folded[it]))
    };
    let of_all = serves_in(None);
    let mut found = Vec::new();
    for (dish, head) in heads.iter().enumerate() {
        let own: Vec<usize> =
            (0..folded.len()).filter(|it| placed.homes[*it] == Some(dish)).collect();
        if own.is_empty() {
            continue;
        }
        let serves = serves_in(Some(dish)).or_else(|| of_all.clone());
        let said: Vec<Spoken> = own
            .iter()
            .map(|it| Spoken::of(*it, text, &placed.sentences[*it], called, larder))
            .collect();
        found.push(Writer::new(dish, head, serves.as_deref()).write(said, larder));
    }
    found
}

/// A sentence of one dish, looked at once.
struct Spoken {
    sentence: usize,
    words: String,
    folded: String,
    amounts: Vec<Said>,
    said: Vec<String>,
}

impl Spoken {
    fn of(
        sentence: usize,
        text: &str,
        bytes: &Range<usize>,
        called: &[Range<usize>],
        larder: &Larder,
    ) -> Self {
        let words = plain(&text[bytes.clone()]);
        let mut amounts = amounts::amounts(text, bytes.clone(), larder);
        amounts.retain(|it| !is_within(&it.bytes, called));
        let said = amounts.iter().map(|it| plain(&text[it.bytes.clone()])).collect();
        Self { sentence, folded: fold(&words), words, amounts, said }
    }

    /// `You'll need three leeks and a pint of stock`: said before anything is done with it.
    fn gathers(&self) -> bool {
        const NEEDS: &[&str] = &[
            "you'll need",
            "you will need",
            "you need",
            "we need",
            "we'll need",
            "you want",
            "it takes",
            "that takes",
            "takes about",
            "you'll want",
            "there's",
            "there are",
            "get yourself",
            "i use",
        ];
        let needs =
            NEEDS.iter().any(|it| self.folded.contains(it)) || self.folded.contains("needs ");
        needs && !self.amounts.is_empty() && self.orders() == 0
    }

    /// How many words tell the cook to do something where an order stands.
    fn orders(&self) -> usize {
        const LEADS: &[&str] = &[
            "you",
            "then",
            "and",
            "to",
            "we",
            "i",
            "just",
            "i'd",
            "you'd",
            "gently",
            "carefully",
            "now",
            "so",
            "first",
            "next",
            "please",
            "simply",
            "quickly",
            "also",
            "ll",
            "can",
            "must",
        ];
        let mut count = 0;
        let mut before = String::new();
        let mut at = 0;
        let mut opens = true;
        while at < self.folded.len() {
            let Some((word, bytes)) = name::word(&self.folded, at) else {
                let sign = self.folded[at..].chars().next();
                opens |= sign.is_some_and(|it| ",:;-(–".contains(it));
                at += sign.map_or(1, char::len_utf8);
                continue;
            };
            let is_order = words::is_order(word) || words::is_order_too(word);
            let is_led = opens || LEADS.contains(&before.as_str()) || before.ends_with("'ll");
            let is_keeping = matches!(word, "keep" | "need" | "use" | "let" | "try" | "start");
            count += usize::from(is_order && is_led && !is_keeping);
            // Fillers leave the place for an order open.
            opens =
                opens && matches!(word, "so" | "right" | "and" | "then" | "now" | "ok" | "okay");
            word.clone_into(&mut before);
            at = bytes.end;
        }
        count
    }

    /// A remark on the step before: how long it keeps, what it wants.
    fn is_remark(&self) -> bool {
        self.orders() == 0 && self.amounts.iter().all(|it| !it.is_counted)
    }

    /// A line of words must not look like a head, a number or a `+` line.
    fn may_stand_under(&self) -> bool {
        let first = self.words.chars().next().unwrap_or('+');
        !self.words.contains(':') && first.is_alphabetic()
    }
}

struct Writer {
    draft: Draft,
    line: usize,
    number: usize,
}

impl Writer {
    fn new(place: usize, head: &Head, serves: Option<&str>) -> Self {
        let mut writer = Self {
            draft: Draft {
                place,
                title: head.title.clone(),
                text: String::new(),
                sentences: Vec::new(),
                goes_in: Vec::new(),
                notes: Vec::new(),
            },
            line: 0,
            number: 0,
        };
        writer.push(&format!("dish: {}", head.title));
        if let Some(serves) = serves {
            writer.push(&format!("for: {serves}"));
        }
        if let Some(course) = head.course {
            writer.push(&format!("course: {course}"));
        }
        writer
    }

    fn push(&mut self, words: &str) {
        self.draft.text.push_str(words);
        self.draft.text.push('\n');
        self.line += 1;
    }

    fn write(mut self, said: Vec<Spoken>, larder: &Larder) -> Draft {
        let is_step: Vec<bool> = said.iter().map(|it| !it.is_remark() && !it.gathers()).collect();
        let mut in_body = false;
        for (place, it) in said.iter().enumerate() {
            let rest_has_step = is_step[place..].contains(&true);
            let became = if is_step[place] || (it.gathers() && !rest_has_step) {
                Became::Step
            } else if !in_body {
                if rest_has_step { Became::Note } else { Became::Step }
            } else if it.may_stand_under() {
                Became::Under
            } else {
                Became::Step
            };
            if became == Became::Step && !in_body {
                self.push("");
                in_body = true;
            }
            self.sentence(it, became);
        }
        self.amounts(&said, larder);
        let reading = card::read(&self.draft.text, larder);
        self.draft.notes = offers(&self.draft.text, &reading);
        self.draft
    }

    fn sentence(&mut self, it: &Spoken, became: Became) {
        let line = match became {
            Became::Step => {
                self.number += 1;
                format!("{}. {}", self.number, it.words)
            }
            Became::Under => format!("   {}", it.words),
            Became::Note => format!("note: {}", it.words),
        };
        self.push(&line);
        let on = OnCard { sentence: it.sentence, became, line: self.line };
        self.draft.sentences.push(on);
    }

    /// Offers each amount at its step; what was only gathered, at the step that names it.
    fn amounts(&mut self, said: &[Spoken], larder: &Larder) {
        let on = self.draft.sentences.clone();
        let step_of = |place: usize| {
            let before = on[..=place].iter().rev().find(|it| it.became == Became::Step);
            before.or_else(|| on.iter().find(|it| it.became == Became::Step)).map(|it| it.line)
        };
        let mut stems: BTreeSet<String> = BTreeSet::new();
        let mut lines: BTreeSet<(String, usize)> = BTreeSet::new();
        for (place, it) in said.iter().enumerate() {
            for (amount, words) in it.amounts.iter().zip(&it.said) {
                let stem = name::stem(&amount.food);
                let is_named = stems.contains(&stem);
                let points_back = is_named && (amount.is_pointing || !amount.is_counted);
                if points_back || amount.food.is_empty() {
                    continue;
                }
                let line = if on[place].became == Became::Step {
                    on[place].line
                } else {
                    let later = (place + 1..said.len()).find(|later| {
                        on[*later].became == Became::Step && says(&said[*later].folded, &stem)
                    });
                    let next = || (place + 1..said.len()).find(|it| on[*it].became == Became::Step);
                    let later = later.or_else(|| next().filter(|_| it.gathers()));
                    let Some(line) = later.map_or_else(|| step_of(place), |it| Some(on[it].line))
                    else {
                        continue;
                    };
                    line
                };
                let plus = amount.line();
                if !reads_back(&plus, amount, larder) || !lines.insert((plus.clone(), line)) {
                    continue;
                }
                stems.insert(stem);
                self.draft.goes_in.push(GoesIn {
                    line,
                    words: plus,
                    sentence: it.sentence,
                    said: words.clone(),
                    is_counted: amount.is_counted,
                });
            }
        }
        self.draft.goes_in.sort_by_key(|it| it.line);
    }
}

/// The line must say on the card what it said in the talk.
fn reads_back(plus: &str, amount: &Said, larder: &Larder) -> bool {
    let read = crate::domain::reading::read_line(plus, larder);
    !read.is_heading && !read.name.is_empty() && (!amount.is_counted || read.amount.is_some())
}

/// Whether a sentence names a food by the stem of its last word.
fn says(folded: &str, stem: &str) -> bool {
    folded
        .split(|c: char| !c.is_alphanumeric())
        .any(|word| !word.is_empty() && (word == stem || name::stem(word) == stem))
}

/// One line without brackets, so that it means on a card what it meant in the talk.
fn plain(words: &str) -> String {
    let words = words.replace('[', "(").replace(']', ")");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The card with what was chosen.
pub fn keep(
    draft: &Draft,
    title: &str,
    goes_in: impl Fn(usize) -> bool,
    notes: impl Fn(usize) -> bool,
) -> String {
    let chosen = draft.notes.iter().enumerate().filter(|(place, _)| notes(*place));
    let chosen: Vec<_> = chosen.map(|(_, note)| note.clone()).collect();
    let noted = offer::keep_all(&draft.text, &chosen);
    let mut card = String::new();
    for (index, line) in noted.lines().enumerate() {
        match line.strip_prefix("dish: ").filter(|_| index == 0) {
            Some(_) => card.push_str(&format!("dish: {}", plain(title))),
            None => card.push_str(line),
        }
        card.push('\n');
        let here = draft.goes_in.iter().enumerate();
        for (_, it) in here.filter(|(place, it)| it.line == index + 1 && goes_in(*place)) {
            card.push_str(&format!("   + {}\n", it.words));
        }
    }
    card
}
