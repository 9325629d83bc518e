//! What the program noticed about something a person wrote, and how to write it instead.

/// One type for card lines, import rows, form fields and log entries alike.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Remark {
    pub place: Place,
    pub weight: Weight,
    /// One finished sentence: what is wrong, or what was understood.
    pub sentence: String,
    /// The words to write instead, ready to be put in; none when there is no single answer.
    pub write: Option<String>,
}

/// Where it stands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// Line of a text, counted from 1.
    Line(usize),
    /// Row of a table, counted from 1, the heading not counted.
    Row(usize),
    /// Field of a form, by its name.
    Field(&'static str),
    Whole,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// Stops publishing: a figure that cannot be true.
    Fault,
    /// Worth a look; nothing stops.
    Note,
}

impl Remark {
    pub fn fault(place: Place, sentence: impl Into<String>) -> Self {
        Self { place, weight: Weight::Fault, sentence: sentence.into(), write: None }
    }

    pub fn note(place: Place, sentence: impl Into<String>) -> Self {
        Self { place, weight: Weight::Note, sentence: sentence.into(), write: None }
    }

    #[must_use]
    pub fn write(mut self, words: impl Into<String>) -> Self {
        self.write = Some(words.into());
        self
    }
}
