//! A rule row and a plain figure, as shipped: the number, where it was read, and how well.

use std::sync::Arc;

use crate::domain::heat::{Measured, Scale};

/// Whether a row speaks of harm or of taste. The two are never mixed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    Safety,
    Quality,
}

impl Basis {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Safety => "safety",
            Self::Quality => "quality",
        }
    }
}

/// How well a figure was checked when the table was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    /// Read in the document named.
    Verified,
    /// One of the figures is from memory; the note says which.
    Partial,
    /// Trade knowledge, not read for this table.
    Memory,
}

impl Status {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Verified => "VERIFIED",
            Self::Partial => "PARTIAL",
            Self::Memory => "MEMORY",
        }
    }

    /// What is printed beside the source.
    pub const fn said(self) -> &'static str {
        match self {
            Self::Verified => "read in the source",
            Self::Partial => "partly from memory",
            Self::Memory => "from memory, not read",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        [Self::Verified, Self::Partial, Self::Memory].into_iter().find(|it| it.word() == word)
    }
}

/// What a licensed kitchen's code says of this kind of food.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// Ready to eat and perishable: the 7-day date mark (Food Code 3-501.17).
    DateMark,
    /// The code has no figure, or a looser one for a known hazard; the chart row is kept.
    Row,
    /// Not perishable; the code is silent.
    None,
}

/// How long one kind of food keeps in the refrigerator, and in the freezer for taste.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    pub key: Arc<str>,
    /// In kitchen words: `cooked rice`.
    pub kind: Arc<str>,
    /// Other words a `[kind ...]` note may use.
    pub also: Vec<Arc<str>>,
    pub family: Arc<str>,
    /// The longest the source prints, the day of making counted as day 1.
    pub published_days: Option<u32>,
    /// What is used unless the school chose the published figure.
    pub cautious_days: Option<u32>,
    pub basis: Basis,
    pub is_perishable: bool,
    pub code: Code,
    /// Months in the freezer, for taste alone: `2 to 3`.
    pub freezer_months: Arc<str>,
    pub freezes: Arc<str>,
    /// Which rule gave the cautious figure, or which exception of ours.
    pub why: Arc<str>,
    pub note: Arc<str>,
    pub source: Arc<str>,
    pub status: Status,
}

impl Row {
    pub const ANY_COOKED: &str = "any_cooked";

    /// True when `words` name this row: its key, its kind or one of its other names.
    pub fn is_called(&self, words: &str) -> bool {
        let words = words.trim().to_lowercase();
        let also = self.also.iter().any(|name| **name == *words);
        also || *self.key == *words || self.kind.to_lowercase() == words
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sense {
    AtMost,
    AtLeast,
}

/// A figure that is not a count of days by kind of food: minutes, degrees, a date mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    pub key: Arc<str>,
    pub what: Arc<str>,
    /// Names of the profiles it belongs to.
    pub profiles: Vec<Arc<str>>,
    pub sense: Sense,
    /// As the source prints it; none where it gives words only.
    pub figure: Option<Arc<str>>,
    pub unit: Arc<str>,
    /// The source's own figures in each scale; never converted (rule book 0.5).
    pub fahrenheit: Option<Measured>,
    pub celsius: Option<Measured>,
    /// How long the degrees must hold; none where reaching them is enough.
    pub hold_seconds: Option<u32>,
    /// Minutes of rest that belong to the cooking.
    pub rest_minutes: Option<u32>,
    pub condition: Arc<str>,
    pub section: Arc<str>,
    pub source: Arc<str>,
    pub status: Status,
}

impl Figure {
    /// The degrees as the source prints them in this scale.
    pub const fn degrees(&self, scale: Scale) -> Option<Measured> {
        match scale {
            Scale::Celsius => self.celsius,
            Scale::Fahrenheit => self.fahrenheit,
        }
    }

    /// True where the figure is a count of degrees, not of minutes, days or times.
    pub fn is_degrees(&self) -> bool {
        matches!(&*self.unit, "F" | "C")
    }

    /// A whole count; a broken one rounded to the careful side.
    pub fn count(&self) -> Option<u32> {
        let text = self.figure.as_deref()?;
        let (whole, rest) = text.split_once('.').unwrap_or((text, ""));
        let whole: u32 = whole.parse().ok()?;
        let up = self.sense == Sense::AtLeast && rest.bytes().any(|digit| digit != b'0');
        Some(whole + u32::from(up))
    }

    /// Source and section in one: `FDA Food Code 2022, 3-501.14`.
    pub fn cited(&self) -> String {
        if self.section.is_empty() {
            return self.source.to_string();
        }
        format!("{}, {}", self.source, self.section)
    }
}

/// The rows of `rules.tsv`, in its order.
pub(super) fn shipped_rows() -> Vec<Row> {
    table(include_str!("rules.tsv")).map(|cells| row(&cells)).collect()
}

/// The figures of `figures.tsv`, in its order.
pub(super) fn shipped_figures() -> Vec<Figure> {
    table(include_str!("figures.tsv")).map(|cells| figure(&cells)).collect()
}

/// The lines after the heading, each cut at its tabs.
fn table(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines().skip(1).filter(|line| !line.is_empty()).map(|line| line.split('\t').collect())
}

fn row(cells: &[&str]) -> Row {
    let [
        key,
        kind,
        also,
        family,
        published,
        cautious,
        basis,
        perishable,
        code,
        least,
        most,
        freezes,
        why,
        note,
        source,
        status,
    ] = cells
    else {
        panic!("rules.tsv: a line of {} cells: {cells:?}", cells.len());
    };
    let freezer_months = match (*least, *most) {
        ("", "") => String::new(),
        (least, most) if least == most => most.to_owned(),
        (least, most) => format!("{least} to {most}"),
    };
    Row {
        key: (*key).into(),
        kind: (*kind).into(),
        also: list(also, ';'),
        family: (*family).into(),
        published_days: whole(published),
        cautious_days: whole(cautious),
        basis: if *basis == "safety" { Basis::Safety } else { Basis::Quality },
        is_perishable: *perishable == "yes",
        code: match *code {
            "datemark" => Code::DateMark,
            "row" => Code::Row,
            _ => Code::None,
        },
        freezer_months: freezer_months.into(),
        freezes: (*freezes).into(),
        why: (*why).into(),
        note: (*note).into(),
        source: (*source).into(),
        status: Status::parse(status).expect("rules.tsv names a status"),
    }
}

fn figure(cells: &[&str]) -> Figure {
    let [
        key,
        what,
        profiles,
        sense,
        figure,
        unit,
        f,
        c,
        seconds,
        rest,
        condition,
        section,
        source,
        status,
    ] = cells
    else {
        panic!("figures.tsv: a line of {} cells: {cells:?}", cells.len());
    };
    Figure {
        key: (*key).into(),
        what: (*what).into(),
        profiles: list(profiles, ','),
        sense: if *sense == "at least" { Sense::AtLeast } else { Sense::AtMost },
        figure: (!figure.is_empty()).then(|| (*figure).into()),
        unit: (*unit).into(),
        fahrenheit: Measured::parse(f, Scale::Fahrenheit),
        celsius: Measured::parse(c, Scale::Celsius),
        hold_seconds: whole(seconds),
        rest_minutes: whole(rest),
        condition: (*condition).into(),
        section: (*section).into(),
        source: (*source).into(),
        status: Status::parse(status).expect("figures.tsv names a status"),
    }
}

fn list(words: &str, between: char) -> Vec<Arc<str>> {
    words.split(between).map(str::trim).filter(|word| !word.is_empty()).map(Into::into).collect()
}

fn whole(cell: &str) -> Option<u32> {
    cell.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_a_source_and_never_more_days_than_published() {
        let rows = shipped_rows();
        assert!(rows.len() >= 120, "{} rows", rows.len());
        for row in &rows {
            assert!(!row.source.is_empty(), "{} has no source", row.key);
            assert!(row.cautious_days <= row.published_days, "{}: cautious is looser", row.key);
            assert_eq!(row.cautious_days.is_some(), row.published_days.is_some(), "{}", row.key);
        }
        for figure in shipped_figures() {
            assert!(!figure.source.is_empty(), "{} has no source", figure.key);
            assert!(!figure.profiles.is_empty(), "{} is in no profile", figure.key);
        }
    }

    #[test]
    fn a_key_and_a_name_mean_one_row() {
        let rows = shipped_rows();
        for row in &rows {
            for name in row.also.iter().chain([&row.key]) {
                let called: Vec<_> = rows.iter().filter(|it| it.is_called(name)).collect();
                assert_eq!(called.len(), 1, "{name} means several rows");
            }
        }
    }
}
