//! What a school did to the shipped rules: tighter rows of every kind, and published figures taken by
//! name. Nothing looser gets in, and each change bears a name, a day and a reason.

use jiff::civil::Date;

use super::base::Base;
use super::profile::{Profile, ROOM};
use super::row::{Figure, Sense};
use crate::domain::heat::{Degrees, Measured, Scale};

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
    /// Elapsed days (`n` x 24 h) for a row of days; for a figure its own count, which is a least
    /// where the figure is one.
    pub most: Option<u32>,
    /// For a figure of degrees, in the scale it was written in.
    pub degrees: Option<Degrees>,
    /// The school takes the published figure of the row instead of the cautious one.
    pub is_published: bool,
    pub chosen: Chosen,
}

/// What a school may write for a row: nothing on the loose side of this.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Bound {
    Count { sense: Sense, figure: u32, unit: String },
    Degrees { sense: Sense, fahrenheit: Option<Measured>, celsius: Option<Measured> },
}

impl Bound {
    pub const fn sense(&self) -> Sense {
        match self {
            Self::Count { sense, .. } | Self::Degrees { sense, .. } => *sense,
        }
    }

    /// `4 days`, `41 °F or 5 °C`.
    pub fn words(&self) -> String {
        match self {
            Self::Count { figure, unit, .. } => format!("{figure} {unit}"),
            Self::Degrees { fahrenheit, celsius, .. } => {
                let said: Vec<String> =
                    [fahrenheit, celsius].into_iter().flatten().map(ToString::to_string).collect();
                said.join(" or ")
            }
        }
    }
}

/// Why a change of a limit is refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LimitError {
    #[error("There is no row “{key}” with a figure to change")]
    NoRow { key: String },
    #[error("Write 1 or more")]
    Zero,
    #[error("This row is in degrees: write them with their scale, like 4 C")]
    NotDegrees,
    #[error("This row is not in degrees: write a whole number of {unit}, like 2")]
    NotCount { unit: String },
    #[error(
        "The shipped row for {kind} allows {allowed} ({whose}); {typed} would be looser. Write {allowed} or {way}"
    )]
    Looser { kind: String, typed: String, allowed: String, whose: String, way: &'static str },
    #[error("The published figure for {kind} is the one in force already")]
    Same { kind: String },
    #[error("{typed} is no temperature of food, a fridge or an oven")]
    Absurd { typed: String },
}

impl Profile {
    /// What a school may write for this row or figure.
    pub fn bound(&self, key: &str) -> Result<Bound, LimitError> {
        let missing = || LimitError::NoRow { key: key.to_owned() };
        if key == ROOM {
            let figure = self.shipped_room_minutes();
            return Ok(Bound::Count { sense: Sense::AtMost, figure, unit: "minutes".to_owned() });
        }
        if let Some(row) = self.row(key) {
            let figure = self.days(row).ok_or_else(missing)?;
            return Ok(Bound::Count { sense: Sense::AtMost, figure, unit: "days".to_owned() });
        }
        let figure = self.figures().find(|figure| *figure.key == *key).ok_or_else(missing)?;
        figure_bound(figure).ok_or_else(missing)
    }

    /// Adds a school's own count. Nothing looser than shipped gets in.
    pub fn tighten(&mut self, key: &str, count: u32, chosen: Chosen) -> Result<(), LimitError> {
        let bound = self.bound(key)?;
        let Bound::Count { sense, figure, unit } = &bound else {
            return Err(LimitError::NotDegrees);
        };
        if count == 0 {
            return Err(LimitError::Zero);
        }
        let is_looser = match sense {
            Sense::AtMost => count > *figure,
            Sense::AtLeast => count < *figure,
        };
        if is_looser {
            return Err(self.looser(key, &bound, format!("{count} {unit}")));
        }
        let is_published = self.tighter().get(key).is_some_and(|it| it.is_published);
        self.restore(key, Tighter { most: Some(count), degrees: None, is_published, chosen });
        Ok(())
    }

    /// Adds a school's own degrees, compared in the scale they are written in.
    pub fn tighten_degrees(
        &mut self,
        key: &str,
        degrees: Degrees,
        chosen: Chosen,
    ) -> Result<(), LimitError> {
        let bound = self.bound(key)?;
        let (sense, shipped) = match &bound {
            Bound::Degrees { sense, fahrenheit, celsius } => match degrees.scale {
                Scale::Fahrenheit => (*sense, *fahrenheit),
                Scale::Celsius => (*sense, *celsius),
            },
            Bound::Count { unit, .. } => {
                return Err(LimitError::NotCount { unit: unit.clone() });
            }
        };
        let typed = Measured::whole(degrees.figure, degrees.scale);
        if !(-60.0..=320.0).contains(&typed.celsius()) {
            return Err(LimitError::Absurd { typed: typed.to_string() });
        }
        let shipped = shipped.ok_or_else(|| LimitError::NoRow { key: key.to_owned() })?;
        let is_looser = match sense {
            Sense::AtMost => typed.tenths > shipped.tenths,
            Sense::AtLeast => typed.tenths < shipped.tenths,
        };
        if is_looser {
            return Err(self.looser(key, &bound, typed.to_string()));
        }
        let own = Tighter { most: None, degrees: Some(degrees), is_published: false, chosen };
        self.restore(key, own);
        Ok(())
    }

    /// Takes the published figure of a row instead of the cautious one.
    pub fn choose_published(&mut self, key: &str, chosen: Chosen) -> Result<(), LimitError> {
        let row = self.row(key).ok_or_else(|| LimitError::NoRow { key: key.to_owned() })?;
        if row.published_days == row.cautious_days {
            return Err(LimitError::Same { kind: row.kind.to_string() });
        }
        let most = self.tighter().get(key).and_then(|it| it.most);
        self.restore(key, Tighter { most, degrees: None, is_published: true, chosen });
        Ok(())
    }

    /// The same choices over another shipped set. Rows that would be looser there, or that it does
    /// not have, are left out.
    #[must_use]
    pub fn over(&self, base: Base) -> Self {
        let mut moved = Self::shipped(base);
        for (key, own) in self.tighter() {
            if own.is_published {
                let _ = moved.choose_published(key, own.chosen.clone());
            }
            if let Some(most) = own.most {
                let _ = moved.tighten(key, most, own.chosen.clone());
            }
            if let Some(degrees) = own.degrees {
                let _ = moved.tighten_degrees(key, degrees, own.chosen.clone());
            }
        }
        moved.number = self.number;
        moved.chosen.clone_from(&self.chosen);
        moved
    }

    fn looser(&self, key: &str, bound: &Bound, typed: String) -> LimitError {
        let (kind, whose) = match (self.row(key), self.figure(key)) {
            _ if key == ROOM => ("the room clock".to_owned(), self.room_source().to_owned()),
            (Some(row), _) => (row.kind.to_string(), self.source(row)),
            (None, figure) => figure
                .map_or_else(Default::default, |figure| (figure.what.to_string(), figure.cited())),
        };
        let way = match (bound, bound.sense()) {
            (Bound::Count { .. }, Sense::AtMost) => "fewer",
            (Bound::Degrees { .. }, Sense::AtMost) => "lower",
            (Bound::Count { .. }, Sense::AtLeast) => "more",
            (Bound::Degrees { .. }, Sense::AtLeast) => "higher",
        };
        LimitError::Looser { kind, typed, allowed: bound.words(), whose, way }
    }
}

fn figure_bound(figure: &Figure) -> Option<Bound> {
    let sense = figure.sense;
    if figure.is_degrees() {
        let (fahrenheit, celsius) = (figure.fahrenheit, figure.celsius);
        fahrenheit.or(celsius)?;
        return Some(Bound::Degrees { sense, fahrenheit, celsius });
    }
    let unit = match &*figure.unit {
        "min" => "minutes".to_owned(),
        "h" => "hours".to_owned(),
        other => other.to_owned(),
    };
    Some(Bound::Count { sense, figure: figure.count()?, unit })
}
