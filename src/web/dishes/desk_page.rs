//! View models of the desk: the card as text beside its reading, and two texts that disagree.

use askama::Template;

use super::form::DeskForm;
use super::page::{Changes, DiffLine};
use super::reading::ReadingView;
use crate::domain::card::Reading;
use crate::domain::dish::Dish;
use crate::domain::moment::Zone;
use crate::web::form::Field;
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "dishes/desk.html")]
pub struct DeskPage {
    pub frame: Frame,
    /// Where the form goes.
    pub action: String,
    /// Where one goes who leaves it.
    pub leave: String,
    pub heading: String,
    /// `Draft`, and when it was saved.
    pub state: String,
    pub version: u32,
    pub card: Field,
    pub problems: Vec<String>,
    pub reading: ReadingView,
    pub notes: &'static [NoteKey],
    /// Lines to begin with; the box grows where the browser can.
    pub box_rows: usize,
}

/// A button that writes a note at the cursor.
#[derive(Debug)]
pub struct NoteKey {
    /// On the button.
    pub name: &'static str,
    /// Between the brackets.
    pub words: &'static str,
    pub means: &'static str,
}

const fn key(name: &'static str, words: &'static str, means: &'static str) -> NoteKey {
    NoteKey { name, words, means }
}

/// In the order of work.
pub const NOTES: &[NoteKey] = &[
    key("8 min", "8 min", "minutes of your hands; “8 min same” for any number of guests"),
    key(
        "wait",
        "wait 20 min",
        "nobody is needed; “wait 3 h to 24 h in fridge” says least, most and where",
    ),
    key("oven", "oven 200C 40 min", "the setting you tried; a second one is “or oven 180C 50 min”"),
    key(
        "cold",
        "cold +10 min",
        "longer in the oven straight from the fridge; “frozen +35 min” from the freezer",
    ),
    key("hob", "hob 14 min", "on a ring; add “watch” when it is not to be left"),
    key("at", "at 20 min: turn, 4 min", "stir, turn or add part-way, and the hands it takes"),
    key("core", "core 75C", "done when the middle has it; “check 5 min x4” measures again"),
    key("rest", "rest 15 min to 40 min", "least and most after cooking"),
    key("chill", "chill 21C 2 h", "below so much within so long"),
    key("stop fridge", "stop fridge 2 days", "you may stop here, at most so long"),
    key(
        "stop freezer",
        "stop freezer 30 days, thaw 24 h",
        "the same, with its thaw, or “use frozen”",
    ),
    key("box", "box 2.4 l", "the room it takes while it waits"),
    key("use", "use blender", "a machine or pan; “keep blender” leaves it dirty for the next step"),
    key("day of", "day of", "only on the day it is eaten"),
    key("last", "last", "the last thing before serving"),
    key("meanwhile", "meanwhile", "while the step above goes on"),
    key("straight on", "straight on", "no gap after the step above"),
    key("raw meat", "raw meat", "keep it and its board apart"),
    key("serve", "serve hot within 20 min", "the longest wait from ready to table"),
];

impl DeskPage {
    pub fn new(
        frame: Frame,
        zone: &Zone,
        dish: Option<&Dish>,
        form: &DeskForm,
        reading: &Reading,
        problems: &[String],
    ) -> Self {
        const ROWS_LEAST: usize = 14;
        let (action, leave) = match dish {
            Some(dish) => (frame.paths.dish_edit(dish.id), frame.paths.dish(dish.id)),
            None => (frame.paths.dish_new(), frame.paths.dishes()),
        };
        let state = match dish {
            Some(dish) => format!("Saved {}. ", zone.date_of(dish.written_at)),
            None => "Not saved yet. ".to_owned(),
        };
        Self {
            action,
            leave,
            heading: dish.map_or_else(|| "Write a dish".to_owned(), |dish| dish.title.to_string()),
            state,
            version: form.version,
            card: Field { typed: form.text.clone(), problem: problems.first().cloned() },
            problems: problems.to_vec(),
            reading: ReadingView::of(&form.text, reading).for_editor(&form.text, reading),
            notes: NOTES,
            box_rows: form.text.lines().count().max(ROWS_LEAST) + 2,
            frame,
        }
    }
}

/// Two texts of one dish, and who wins.
#[derive(Template)]
#[template(path = "dishes/conflict.html")]
pub struct ConflictPage {
    frame: Frame,
    heading: String,
    /// When the other one was saved.
    saved: String,
    action: String,
    leave: String,
    version: u32,
    yours: String,
    theirs: String,
    changes: Vec<DiffLine>,
}

impl ConflictPage {
    pub fn new(frame: Frame, zone: &Zone, newer: &Dish, yours: &str) -> Self {
        Self {
            heading: newer.title.to_string(),
            saved: zone.date_of(newer.written_at),
            action: frame.paths.dish_edit(newer.id),
            leave: frame.paths.dish(newer.id),
            version: newer.version,
            yours: yours.to_owned(),
            theirs: newer.card.as_str().to_owned(),
            changes: Changes::between(newer.card.as_str(), yours).lines,
            frame,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::card::note::Note;

    #[test]
    fn every_key_writes_a_note_of_the_card() {
        for note in NOTES {
            assert!(Note::read(note.words).is_ok(), "{}", note.words);
        }
    }
}
