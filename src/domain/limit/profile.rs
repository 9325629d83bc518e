//! The rules a school works by: a shipped base, with the school's own tighter rows on top.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use jiff::civil::Date;

use super::clock::Clock;
use super::row::{Basis, Code, Figure, Row, Sense, Status, shipped_figures, shipped_rows};

/// The shipped sets. A school that teaches people who will cook at home keeps `home`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Base {
    /// Consumer advice of USDA and HHS.
    #[default]
    Home,
    /// The model code for licensed kitchens, edition 2022.
    FoodCode2022,
    FoodCode2017,
}

impl Base {
    pub const ALL: [Self; 3] = [Self::Home, Self::FoodCode2022, Self::FoodCode2017];

    /// The name in columns and documents.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Home => "home",
            Self::FoodCode2022 => "foodcode2022",
            Self::FoodCode2017 => "foodcode2017",
        }
    }

    /// The name on pages.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Home => "Home kitchens (USDA and HHS)",
            Self::FoodCode2022 => "Licensed kitchens (FDA Food Code 2022)",
            Self::FoodCode2017 => "Licensed kitchens (FDA Food Code 2017)",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|base| base.word() == word)
    }
}

/// Who changed a row, when and why. Recorded for ever.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    pub by: String,
    pub on: Date,
    pub reason: String,
}

/// What a school did to one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tighter {
    /// Elapsed days (`n` x 24 h) for a row of days; minutes or degrees for a figure.
    pub most: Option<u32>,
    /// The school takes the published figure of the row instead of the cautious one.
    pub is_published: bool,
    pub chosen: Chosen,
}

/// The rules in force: what every limit is computed from, whole, so that a publication keeps them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Profile {
    pub name: String,
    pub base: Base,
    /// Counts the changes of a school; 0 is the shipped set.
    pub number: u32,
    /// Who made this version; none for the shipped set.
    pub chosen: Option<Chosen>,
    rows: Arc<Vec<Row>>,
    figures: Arc<Vec<Figure>>,
    tighter: BTreeMap<Arc<str>, Tighter>,
}

impl Default for Profile {
    fn default() -> Self {
        Self::shipped(Base::Home)
    }
}

static ROWS: LazyLock<Arc<Vec<Row>>> = LazyLock::new(|| Arc::new(shipped_rows()));
static FIGURES: LazyLock<Arc<Vec<Figure>>> = LazyLock::new(|| Arc::new(shipped_figures()));

impl Profile {
    pub fn shipped(base: Base) -> Self {
        Self {
            name: base.title().to_owned(),
            base,
            number: 0,
            chosen: None,
            rows: ROWS.clone(),
            figures: FIGURES.clone(),
            tighter: BTreeMap::new(),
        }
    }

    /// The rows a publication kept, in place of the shipped ones.
    #[must_use]
    pub fn with_rows(mut self, rows: Vec<Row>) -> Self {
        self.rows = Arc::new(rows);
        self
    }

    /// The same rules under a new version of the school.
    #[must_use]
    pub fn version(mut self, number: u32, chosen: Chosen) -> Self {
        self.number = number;
        self.chosen = Some(chosen);
        self
    }

    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    pub fn row(&self, key: &str) -> Option<&Row> {
        self.rows.iter().find(|row| *row.key == *key)
    }

    /// The row that the author's `[kind ...]` names.
    pub fn row_called(&self, words: &str) -> Option<&Row> {
        self.rows.iter().find(|row| row.is_called(words))
    }

    /// The figures of the base of this profile.
    pub fn figures(&self) -> impl Iterator<Item = &Figure> {
        let base = self.base.word();
        self.figures.iter().filter(move |figure| figure.profiles.iter().any(|it| **it == *base))
    }

    pub fn figure(&self, key: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| *figure.key == *key)
    }

    /// The school's own rows, by key.
    pub const fn tighter(&self) -> &BTreeMap<Arc<str>, Tighter> {
        &self.tighter
    }

    /// The days this profile allows a kind of food before the school's own row, day 1 counted.
    pub fn days(&self, row: &Row) -> Option<u32> {
        let published = self.tighter.get(&row.key).is_some_and(|it| it.is_published);
        let chart = if published { row.published_days } else { row.cautious_days };
        match (self.base, row.code) {
            (Base::Home, _) | (_, Code::Row) => chart,
            (_, Code::DateMark) => Some(DATE_MARK_DAYS),
            (_, Code::None) => chart.filter(|_| row.basis == Basis::Quality),
        }
    }

    /// True when a row limits for safety under this profile. The date mark of a code is for safety
    /// whatever the chart's row was about.
    pub fn is_for_safety(&self, row: &Row) -> bool {
        match self.base {
            Base::Home => row.basis == Basis::Safety,
            _ => {
                row.code == Code::DateMark || (row.code == Code::Row && row.basis == Basis::Safety)
            }
        }
    }

    /// Where the days of a row come from, as printed.
    pub fn source(&self, row: &Row) -> String {
        if self.base != Base::Home && row.code == Code::DateMark {
            let edition = if self.base == Base::FoodCode2022 { "2022" } else { "2017" };
            return format!("FDA Food Code {edition}, 3-501.17");
        }
        row.source.to_string()
    }

    /// Minutes out of cold and heat over a food's life: the two-hour rule of `home`. A licensed
    /// kitchen's longer time needs a written procedure, which a class has not.
    pub fn room_minutes(&self) -> u32 {
        let own = self.tighter.get(ROOM).and_then(|it| it.most);
        own.unwrap_or(ROOM_MINUTES).min(ROOM_MINUTES)
    }

    pub fn room_source(&self) -> &str {
        self.figure(ROOM).map_or("", |figure| &*figure.source)
    }

    /// Adds a school's row. Nothing looser than shipped gets in.
    pub fn tighten(&mut self, key: &str, most: u32, chosen: Chosen) -> Result<(), LimitError> {
        let (allowed, unit) = self.shipped_most(key)?;
        if most == 0 {
            return Err(LimitError::Zero);
        }
        if most > allowed {
            let (kind, whose) = self.kind_and_source(key);
            return Err(LimitError::Looser { kind, most, allowed, unit, whose });
        }
        let is_published = self.tighter.get(key).is_some_and(|it| it.is_published);
        self.tighter.insert(key.into(), Tighter { most: Some(most), is_published, chosen });
        Ok(())
    }

    /// Takes the published figure of a row instead of the cautious one.
    pub fn choose_published(&mut self, key: &str, chosen: Chosen) -> Result<(), LimitError> {
        let row = self.row(key).ok_or_else(|| LimitError::NoRow { key: key.to_owned() })?;
        if row.published_days == row.cautious_days {
            return Err(LimitError::Same { kind: row.kind.to_string() });
        }
        let most = self.tighter.get(key).and_then(|it| it.most);
        self.tighter.insert(key.into(), Tighter { most, is_published: true, chosen });
        Ok(())
    }

    /// Puts back a row that was checked when it was kept. Figures that a newer program ships tighter
    /// win all the same, for the strictest of all clocks counts.
    pub fn restore(&mut self, key: &str, own: Tighter) {
        self.tighter.insert(key.into(), own);
    }

    /// The same choices over another shipped set. Rows that would be looser there are left out.
    #[must_use]
    pub fn over(&self, base: Base) -> Self {
        let mut moved = Self::shipped(base);
        for (key, own) in &self.tighter {
            if own.is_published {
                let _ = moved.choose_published(key, own.chosen.clone());
            }
            if let Some(most) = own.most {
                let _ = moved.tighten(key, most, own.chosen.clone());
            }
        }
        moved.number = self.number;
        moved.chosen.clone_from(&self.chosen);
        moved
    }

    /// Takes a school's row away again.
    pub fn release(&mut self, key: &str) {
        self.tighter.remove(key);
    }

    /// The most a school may write for a row, and its unit.
    pub fn shipped_most(&self, key: &str) -> Result<(u32, &'static str), LimitError> {
        if key == ROOM {
            return Ok((ROOM_MINUTES, "minutes"));
        }
        let row = self.row(key).ok_or_else(|| LimitError::NoRow { key: key.to_owned() })?;
        let days = self.days(row).ok_or_else(|| LimitError::NoRow { key: key.to_owned() })?;
        Ok((days, "days"))
    }

    fn kind_and_source(&self, key: &str) -> (String, String) {
        match self.row(key) {
            Some(row) => (row.kind.to_string(), self.source(row)),
            None => ("the room clock".to_owned(), self.room_source().to_owned()),
        }
    }

    /// Every clock of a row: the shipped count, and the school's own on top.
    pub fn clocks(&self, row: &Row) -> Vec<(Clock, bool)> {
        let shipped = self.days(row).map(|days| (Clock::Days(days), false));
        let own = self.tighter.get(&row.key).and_then(|it| it.most);
        let own = own.map(|days| (Clock::Elapsed(days.saturating_mul(1_440)), true));
        shipped.into_iter().chain(own).collect()
    }

    /// The least core temperature for a figure in both scales of its source.
    pub fn core(&self, key: &str) -> Option<(i32, i32, &Figure)> {
        let figure = self.figure(key).filter(|figure| figure.sense == Sense::AtLeast)?;
        Some((figure.fahrenheit?, figure.celsius?, figure))
    }
}

/// The room clock's key in `figures.tsv`, and its shipped minutes (USDA FSIS consumer pages).
pub const ROOM: &str = "home_2h";
const ROOM_MINUTES: u32 = 120;

/// Food Code 3-501.17: 7 days at 41 F or below, the day of making as day 1.
const DATE_MARK_DAYS: u32 = 7;

/// Why a change of a limit is refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LimitError {
    #[error("There is no row “{key}” with a figure to change")]
    NoRow { key: String },
    #[error("Write 1 or more")]
    Zero,
    #[error(
        "The shipped row for {kind} allows {allowed} {unit} ({whose}); {most} is looser. Write {allowed} or fewer"
    )]
    Looser { kind: String, most: u32, allowed: u32, unit: &'static str, whose: String },
    #[error("The published figure for {kind} is the one in force already")]
    Same { kind: String },
}

/// How well the figure of a row was checked, as printed beside its source.
impl Profile {
    pub fn status(&self, row: &Row) -> Status {
        match (self.base, row.code) {
            (Base::Home, _) | (_, Code::Row | Code::None) => row.status,
            (_, Code::DateMark) => Status::Verified,
        }
    }
}
