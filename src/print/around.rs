//! What stands round every sheet: its styles, and on the screen the choice of paper and type.

use crate::domain::school::Paper;

/// The size of the letters.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Type {
    #[default]
    Normal,
    /// 18 points, one column.
    Large,
}

impl Type {
    pub const ALL: [Self; 2] = [Self::Normal, Self::Large];

    /// The word in an address, and on the page.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Normal => "normal",
            Self::Large => "large",
        }
    }

    pub fn parse(typed: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == typed)
    }
}

/// The word of a paper in an address.
pub const fn paper_word(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "a4",
        Paper::Letter => "letter",
    }
}

/// One way to show the same sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    pub words: &'static str,
    pub address: String,
    pub is_taken: bool,
}

/// Given by the room that knows the addresses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Around {
    /// Addresses of the style files, in order.
    pub styles: Vec<String>,
    /// Each row of choices with what it chooses.
    pub choices: Vec<(&'static str, Vec<Choice>)>,
    /// Where the sheet belongs to, and its name.
    pub back: Option<(String, String)>,
}

impl Around {
    /// For golden files.
    pub fn sample(paper: Paper, size: Type) -> Self {
        let file = |name: &str| format!("/base/static/sum/css/{name}.css");
        let styles = ["tokens", "components", "sheets", paper_word(paper), size.word()];
        let choice = |words, address: &str, is_taken| Choice {
            words,
            address: address.to_owned(),
            is_taken,
        };
        let papers = vec![
            choice("A4", "?paper=a4", paper == Paper::A4),
            choice("Letter", "?paper=letter", paper == Paper::Letter),
        ];
        Self {
            styles: styles.map(file).to_vec(),
            choices: vec![("Paper", papers)],
            back: Some(("/base/menus/1".to_owned(), "Midsummer lunch".to_owned())),
        }
    }
}
