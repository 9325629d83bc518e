//! The rules a school works by: a shipped base, with the school's own tighter rows on top.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use super::base::Base;
use super::clock::Clock;
use super::own::{Chosen, Tighter};
use super::row::{Basis, Code, Figure, Row, Sense, Status, shipped_figures, shipped_rows};
use crate::domain::heat::{Degrees, Measured, Scale};

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

    /// The figures a publication kept, in place of the shipped ones.
    #[must_use]
    pub fn with_figures(mut self, figures: Vec<Figure>) -> Self {
        self.figures = Arc::new(figures);
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

    /// The days this profile allows a kind of food before the school's own rows, day 1 counted.
    pub fn days(&self, row: &Row) -> Option<u32> {
        let published = self.tighter.get(&row.key).is_some_and(|it| it.is_published);
        let chart = if published { row.published_days } else { row.cautious_days };
        match (self.base, row.code) {
            (Base::Home, _) | (_, Code::Row) => chart,
            (Base::UkAdvice, Code::DateMark) if row.basis == Basis::Safety => {
                chart.map(|days| days.min(self.days_figure().unwrap_or(days)))
            }
            (Base::UkAdvice, _) => chart,
            (_, Code::DateMark) => self.days_figure(),
            (_, Code::None) => chart.filter(|_| row.basis == Basis::Quality),
        }
    }

    /// The shipped count of days that caps perishable food made here: the 7-day date mark, leftovers.
    fn days_figure(&self) -> Option<u32> {
        self.figure(self.base.days_key()).and_then(Figure::count)
    }

    /// True when a row limits for safety under this profile. The date mark of a code is for safety
    /// whatever the chart's row was about.
    pub fn is_for_safety(&self, row: &Row) -> bool {
        match self.base {
            Base::Home | Base::UkAdvice => row.basis == Basis::Safety,
            Base::FoodCode2022 | Base::FoodCode2017 => {
                row.code == Code::DateMark || (row.code == Code::Row && row.basis == Basis::Safety)
            }
        }
    }

    /// Where the days of a row come from, as printed.
    pub fn source(&self, row: &Row) -> String {
        match (self.base, row.code) {
            (Base::FoodCode2022, Code::DateMark) => "FDA Food Code 2022, 3-501.17".to_owned(),
            (Base::FoodCode2017, Code::DateMark) => "FDA Food Code 2017, 3-501.17".to_owned(),
            (Base::UkAdvice, Code::DateMark) if self.is_capped(row) => {
                self.figure(self.base.days_key()).map(Figure::cited).unwrap_or_default()
            }
            _ => row.source.to_string(),
        }
    }

    /// True where the advice for leftovers is stricter than the chart.
    fn is_capped(&self, row: &Row) -> bool {
        self.days(row) < row.cautious_days
    }

    /// How well the figure of a row was checked, as printed beside its source.
    pub fn status(&self, row: &Row) -> Status {
        match (self.base, row.code) {
            (Base::UkAdvice, Code::DateMark) if self.is_capped(row) => Status::Memory,
            (Base::Home | Base::UkAdvice, _) | (_, Code::Row | Code::None) => row.status,
            (_, Code::DateMark) => Status::Verified,
        }
    }

    /// A figure of this base with what the school did to it; the stricter of the two holds.
    pub fn in_force(&self, key: &str) -> Option<InForce<'_>> {
        let figure = self.figures().find(|figure| *figure.key == *key)?;
        Some(InForce { figure, own: self.tighter.get(key) })
    }

    /// Minutes out of cold and heat over a food's life: the two-hour rule. A licensed kitchen's
    /// longer time needs a written procedure, which a class has not.
    pub fn room_minutes(&self) -> u32 {
        let own = |key: &str| self.tighter.get(key).and_then(|it| it.most);
        let shipped = self.shipped_room_minutes();
        [own(ROOM), own(self.base.room_key())].into_iter().flatten().fold(shipped, u32::min)
    }

    /// The same in a room above 90 F or 32 C, where the home rule halves it.
    pub fn room_minutes_in(&self, air: Measured) -> u32 {
        let Some(hot) = self.figure("home_1h") else { return self.room_minutes() };
        let is_hot = hot.degrees(air.scale).is_some_and(|it| air.tenths > it.tenths);
        let most = if is_hot { hot.count() } else { None };
        most.map_or(self.room_minutes(), |most| most.min(self.room_minutes()))
    }

    pub(super) fn shipped_room_minutes(&self) -> u32 {
        self.figure(self.base.room_key()).and_then(Figure::count).unwrap_or(ROOM_MINUTES)
    }

    /// True for the figures that the room clock is made of: it has a row of its own.
    pub fn is_room(&self, key: &str) -> bool {
        key == ROOM || key == self.base.room_key()
    }

    pub fn room_source(&self) -> &str {
        self.figure(self.base.room_key()).map_or("", |figure| &*figure.source)
    }

    pub fn room_status(&self) -> Status {
        self.figure(self.base.room_key()).map_or(Status::Memory, |figure| figure.status)
    }

    /// Puts back a row that was checked when it was kept. Figures that a newer program ships tighter
    /// win all the same, for the strictest of all clocks counts.
    pub fn restore(&mut self, key: &str, own: Tighter) {
        self.tighter.insert(key.into(), own);
    }

    /// Takes a school's row away again.
    pub fn release(&mut self, key: &str) {
        self.tighter.remove(key);
    }

    /// Every clock of a row: the shipped count, and the school's own on top.
    pub fn clocks(&self, row: &Row) -> Vec<(Clock, bool)> {
        let own = |key: &str| self.tighter.get(key).and_then(|it| it.most);
        let mut clocks: Vec<(Clock, bool)> =
            self.days(row).map(|days| (Clock::Days(days), false)).into_iter().collect();
        if let Some(days) = own(&row.key) {
            clocks.push((Clock::Elapsed(days.saturating_mul(1_440)), true));
        }
        // The school's own cap of days counts calendar days, as the figure it tightens does.
        if self.cap_counts(row)
            && let Some(days) = own(self.base.days_key())
        {
            clocks.push((Clock::Days(days), true));
        }
        if self.base == Base::UkAdvice
            && *row.key == *"cooked_rice"
            && let Some(hours) = self.figure("uk_rice").and_then(Figure::count)
        {
            clocks.push((Clock::Elapsed(hours.saturating_mul(60)), false));
            if let Some(hours) = own("uk_rice") {
                clocks.push((Clock::Elapsed(hours.saturating_mul(60)), true));
            }
        }
        clocks
    }

    /// True where the base's cap of days (date mark, leftovers) speaks of this kind of food.
    fn cap_counts(&self, row: &Row) -> bool {
        match self.base {
            Base::Home => ["leftover", "family", "starch", "plant"].contains(&&*row.family),
            Base::FoodCode2022 | Base::FoodCode2017 => row.code == Code::DateMark,
            Base::UkAdvice => row.code == Code::DateMark && row.basis == Basis::Safety,
        }
    }

    /// The least core temperature for a figure in both scales of its source.
    pub fn core(&self, key: &str) -> Option<(Measured, Measured, &Figure)> {
        let figure = self.figure(key).filter(|figure| figure.sense == Sense::AtLeast)?;
        Some((figure.fahrenheit?, figure.celsius?, figure))
    }
}

/// The room clock's key in `figures.tsv`, and its shipped minutes (USDA FSIS consumer pages).
pub const ROOM: &str = "home_2h";
const ROOM_MINUTES: u32 = 120;

/// A figure as it holds here: the shipped one, or the school's where that is stricter.
#[derive(Clone, Copy, Debug)]
pub struct InForce<'a> {
    pub figure: &'a Figure,
    pub own: Option<&'a Tighter>,
}

impl InForce<'_> {
    fn strictest<T: Ord>(&self, shipped: Option<T>, own: Option<T>) -> Option<T> {
        match self.figure.sense {
            Sense::AtMost => [shipped, own].into_iter().flatten().min(),
            Sense::AtLeast => [shipped, own].into_iter().flatten().max(),
        }
    }

    /// Degrees in this scale; the school's own, written in the other, never on the loose side.
    pub fn degrees(&self, scale: Scale) -> Option<Measured> {
        let own = self.own.and_then(|own| own.degrees).map(|own| self.own_in(own, scale));
        self.strictest(self.figure.degrees(scale), own)
    }

    fn own_in(&self, own: Degrees, scale: Scale) -> Measured {
        let there = match self.figure.sense {
            Sense::AtMost => own.or_below(scale),
            Sense::AtLeast => own.or_above(scale),
        };
        Measured::whole(there.figure, scale)
    }

    pub fn count(&self) -> Option<u32> {
        self.strictest(self.figure.count(), self.own.and_then(|own| own.most))
    }

    pub const fn is_own(&self) -> bool {
        self.own.is_some()
    }

    /// Where the figure in force is from.
    pub fn source(&self) -> String {
        match self.own {
            Some(own) => format!("row of the school, by {}", own.chosen.by),
            None => self.figure.cited(),
        }
    }
}
