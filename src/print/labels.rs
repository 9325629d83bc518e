//! Container labels, laid on a grid that the stationer cuts.

use askama::Template;

use super::{Around, Type};
use crate::domain::handout::{Label, LabelSheet};
use crate::domain::school::Paper;

/// How many labels lie on a page, and how the styles call it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grid {
    /// 63.5 x 38.1 mm, 3 by 7.
    Of21,
    /// 70 x 36 mm, 3 by 8; on Letter 3 by 7.
    Of24,
    /// Large edition: 99.1 x 67.7 mm, 2 by 4; on Letter 2 by 4 as well.
    Of8,
}

impl Grid {
    /// The large edition has a grid of its own: 18 points do not fit the others.
    pub const fn of(asked: u32, size: Type) -> Self {
        match (size, asked) {
            (Type::Large, _) => Self::Of8,
            (_, 24) => Self::Of24,
            _ => Self::Of21,
        }
    }

    const fn per_page(self, paper: Paper) -> usize {
        match (self, paper) {
            (Self::Of8, _) => 8,
            (Self::Of24, Paper::A4) => 24,
            _ => 21,
        }
    }

    const fn word(self) -> &'static str {
        match self {
            Self::Of21 => "21",
            Self::Of24 => "24",
            Self::Of8 => "8",
        }
    }
}

#[derive(Template)]
#[template(path = "print/labels.html")]
struct LabelPage<'a> {
    around: &'a Around,
    who: &'a str,
    mark: &'a str,
    grid: &'static str,
    /// Whole pages; what no box needs stays blank, to be written by hand.
    pages: Vec<Vec<Option<&'a Label>>>,
}

pub fn labels(
    around: &Around,
    sheet: &LabelSheet,
    grid: Grid,
    paper: Paper,
) -> askama::Result<String> {
    let per_page = grid.per_page(paper);
    // One blank row at least, so that a forgotten box has its label, too.
    let filled = sheet.labels.len() + 3;
    let slots = filled.div_ceil(per_page) * per_page;
    let all: Vec<Option<&Label>> = (0..slots).map(|at| sheet.labels.get(at)).collect();
    let pages = all.chunks(per_page).map(<[_]>::to_vec).collect();
    LabelPage { around, who: &sheet.who, mark: &sheet.mark, grid: grid.word(), pages }.render()
}
