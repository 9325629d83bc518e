//! View models of a told menu: one box, then each card beside the sentences it came from.

use std::collections::BTreeMap;

use askama::Template;

use super::form::Fields;
use crate::domain::text::counted;
use crate::domain::told::{Became, Draft, OnCard, Told};
use crate::web::form::Field;
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "dishes/tell.html")]
pub struct TellPage {
    pub frame: Frame,
    pub told: Field,
}

#[derive(Template)]
#[template(path = "dishes/told.html")]
pub struct ToldPage {
    frame: Frame,
    told: String,
    /// `31 sentences. 29 are on 3 cards, 2 are not placed.`
    lead: String,
    cards: Vec<CardShown>,
    not_placed: Vec<SentenceShown>,
    offers: usize,
    menu: Field,
}

struct CardShown {
    number: usize,
    title_name: String,
    title: Field,
    about: String,
    rows: Vec<SentenceShown>,
    offers: usize,
    all_name: String,
    is_all: bool,
    leave_name: String,
    is_left: bool,
}

struct SentenceShown {
    number: usize,
    said: String,
    /// `Step 3.`
    became: String,
    /// Asks, when something is offered here.
    class: &'static str,
    offers: Vec<OfferShown>,
    move_name: String,
    homes: Vec<HomeShown>,
}

struct OfferShown {
    name: String,
    note: String,
    words: String,
    why: String,
    is_kept: bool,
}

struct HomeShown {
    value: String,
    title: String,
    is_chosen: bool,
}

/// What the pages of a told menu send.
#[derive(Clone, Debug, Default)]
pub struct ToldForm {
    pub text: String,
    pub menu: String,
    /// Dishes that a person gave to sentences.
    pub moved: BTreeMap<usize, Option<usize>>,
    press: String,
    fields: Fields,
}

impl ToldForm {
    pub fn of(fields: Fields) -> Self {
        let text = fields.get("told").unwrap_or_default().replace("\r\n", "\n");
        let moved = fields.0.iter().filter_map(|(name, value)| {
            let sentence = name.strip_prefix("to.")?.parse().ok()?;
            match value.as_str() {
                "" => None,
                "none" => Some((sentence, None)),
                dish => Some((sentence, Some(dish.parse().ok()?))),
            }
        });
        Self {
            moved: moved.collect(),
            menu: fields.get("menu").unwrap_or_default().to_owned(),
            press: fields.get("do").unwrap_or("read").to_owned(),
            text,
            fields,
        }
    }

    pub fn is_reading(&self) -> bool {
        !matches!(self.press.as_str(), "save" | "all")
    }

    pub fn title_name(draft: &Draft) -> String {
        format!("title.{}", draft.place)
    }

    /// As typed, else as told.
    pub fn title(&self, draft: &Draft) -> String {
        let typed = self.fields.get(&Self::title_name(draft));
        typed.map_or_else(|| draft.title.clone(), str::to_owned)
    }

    fn has(&self, name: &str) -> bool {
        self.fields.get(name).is_some()
    }

    fn keeps_all(&self, draft: &Draft) -> bool {
        self.press == "all" || self.has(&format!("all.{}", draft.place))
    }

    pub fn keeps_line(&self, draft: &Draft, place: usize) -> bool {
        self.keeps_all(draft) || self.has(&line_name(draft, place))
    }

    pub fn keeps_note(&self, draft: &Draft, place: usize) -> bool {
        self.keeps_all(draft) || self.has(&note_name(draft, place))
    }

    pub fn is_left_out(&self, draft: &Draft) -> bool {
        self.has(&format!("leave.{}", draft.place))
    }
}

/// Offers are named by what they say, so that a moved sentence cannot make a tick mean another.
fn line_name(draft: &Draft, place: usize) -> String {
    let line = &draft.goes_in[place];
    format!("in.{}.{}.{}", draft.place, line.sentence, line.words)
}

fn note_name(draft: &Draft, place: usize) -> String {
    let offer = &draft.notes[place];
    let on = draft.sentences.iter().find(|it| it.line == offer.line);
    let sentence = on.map_or(0, |it| it.sentence);
    format!("note.{}.{sentence}.{}", draft.place, offer.note.words())
}

impl ToldPage {
    pub fn new(
        frame: Frame,
        form: &ToldForm,
        told: &Told,
        problems: &BTreeMap<String, String>,
    ) -> Self {
        let cards: Vec<CardShown> =
            told.dishes.iter().map(|draft| CardShown::new(form, told, draft, problems)).collect();
        let not_placed: Vec<SentenceShown> = told
            .not_placed
            .iter()
            .map(|sentence| SentenceShown::new(form, told, *sentence, None))
            .collect();
        let menu = Field { typed: form.menu.clone(), problem: problems.get("menu").cloned() };
        Self {
            frame,
            told: form.text.clone(),
            lead: lead(told),
            offers: cards.iter().map(|card| card.offers).sum(),
            cards,
            not_placed,
            menu,
        }
    }

    fn has_problem(&self) -> bool {
        self.menu.problem.is_some() || self.cards.iter().any(|card| card.title.problem.is_some())
    }
}

fn lead(told: &Told) -> String {
    let placed = told.sentences.len() - told.not_placed.len();
    format!(
        "{}. {} on {}, {} not placed.",
        counted(told.sentences.len(), "sentence", "sentences"),
        counted(placed, "is", "are"),
        counted(told.dishes.len(), "card", "cards"),
        counted(told.not_placed.len(), "is", "are"),
    )
}

impl CardShown {
    fn new(
        form: &ToldForm,
        told: &Told,
        draft: &Draft,
        problems: &BTreeMap<String, String>,
    ) -> Self {
        let title_name = ToldForm::title_name(draft);
        let problem = problems.get(&title_name).cloned();
        let heads = draft.text.lines().skip(1).take_while(|line| !line.is_empty());
        let heads = heads.filter_map(|line| match line.split_once(": ") {
            Some(("for", count)) => Some(format!("For {count}.")),
            Some(("course", course)) => Some(format!("Course: {course}.")),
            _ => None,
        });
        let rows = draft.sentences.iter();
        let rows = rows.map(|on| SentenceShown::new(form, told, on.sentence, Some((draft, on))));
        Self {
            number: draft.place + 1,
            title: Field { typed: form.title(draft), problem },
            title_name,
            about: heads.collect::<Vec<_>>().join(" "),
            rows: rows.collect(),
            offers: draft.goes_in.len() + draft.notes.len(),
            all_name: format!("all.{}", draft.place),
            is_all: form.has(&format!("all.{}", draft.place)),
            leave_name: format!("leave.{}", draft.place),
            is_left: form.is_left_out(draft),
        }
    }
}

impl SentenceShown {
    fn new(form: &ToldForm, told: &Told, sentence: usize, on: Option<(&Draft, &OnCard)>) -> Self {
        let offers = on.map(|(draft, on)| offers(form, draft, on)).unwrap_or_default();
        let became = match on {
            Some((draft, on)) => became(draft, on),
            None => String::new(),
        };
        let home = on.map(|(draft, _)| draft.place);
        let moved = form.moved.contains_key(&sentence);
        let stay = HomeShown {
            value: String::new(),
            title: "where it was read".to_owned(),
            is_chosen: !moved,
        };
        let titles = told.titles.iter().enumerate().map(|(place, title)| HomeShown {
            value: place.to_string(),
            title: if title.is_empty() {
                "the dish without a name".to_owned()
            } else {
                title.clone()
            },
            is_chosen: moved && home == Some(place),
        });
        let none = HomeShown {
            value: "none".to_owned(),
            title: "no card".to_owned(),
            is_chosen: moved && home.is_none(),
        };
        Self {
            number: sentence + 1,
            said: told.sentences[sentence].words.clone(),
            became,
            class: if offers.is_empty() { "" } else { "ask" },
            offers,
            move_name: format!("to.{sentence}"),
            homes: std::iter::once(stay).chain(titles).chain([none]).collect(),
        }
    }
}

/// What became of a sentence, in bold.
fn became(draft: &Draft, on: &OnCard) -> String {
    match on.became {
        Became::Step => {
            let is_step = |it: &&OnCard| it.became == Became::Step && it.line <= on.line;
            format!("Step {}.", draft.sentences.iter().filter(is_step).count())
        }
        Became::Under => "Words under the step before.".to_owned(),
        Became::Note => "Note at the head.".to_owned(),
    }
}

/// Lines and notes that stand at this sentence, or that it says for another.
fn offers(form: &ToldForm, draft: &Draft, on: &OnCard) -> Vec<OfferShown> {
    let mut shown = Vec::new();
    for (place, line) in draft.goes_in.iter().enumerate() {
        if line.sentence != on.sentence {
            continue;
        }
        let elsewhere = line.line != on.line;
        shown.push(OfferShown {
            name: line_name(draft, place),
            note: format!("+ {}", line.words),
            words: line.said.clone(),
            why: if elsewhere { step_of(draft, line.line) } else { String::new() },
            is_kept: form.keeps_line(draft, place),
        });
    }
    for (place, offer) in draft.notes.iter().enumerate() {
        if offer.line == on.line {
            shown.push(OfferShown {
                name: note_name(draft, place),
                note: offer.note.words(),
                words: offer.words.clone(),
                why: offer.why.clone(),
                is_kept: form.keeps_note(draft, place),
            });
        }
    }
    shown
}

fn step_of(draft: &Draft, line: usize) -> String {
    let steps = draft.sentences.iter().filter(|it| it.became == Became::Step && it.line <= line);
    format!("Goes in at step {}.", steps.count())
}
