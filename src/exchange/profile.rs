//! The notation of a school's rules: the rows in force, and which of them the school made tighter.

use serde::{Deserialize, Serialize};

use crate::domain::heat::{Degrees, Measured, Scale};
use crate::domain::limit::{Base, Basis, Chosen, Code, Figure, Profile, ROOM, Row, Sense, Status};

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenProfile {
    name: String,
    base: String,
    number: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    chosen: Option<WrittenChosen>,
    rows: Vec<WrittenRow>,
    /// Degrees, minutes and counts; a document without them is read with the shipped ones.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    figures: Vec<WrittenFigure>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    tighter: Vec<WrittenTighter>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenChosen {
    by: String,
    on: String,
    reason: String,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenTighter {
    key: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    most: Option<u32>,
    /// Whole degrees and the letter of their scale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    degrees: Option<(i32, String)>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    is_published: bool,
    chosen: WrittenChosen,
}

/// A plain figure, each field as [`Figure`] has it; degrees as their source prints them.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct WrittenFigure {
    key: String,
    what: String,
    profiles: Vec<String>,
    is_least: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    figure: Option<String>,
    unit: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    fahrenheit: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    celsius: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    hold_seconds: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rest_minutes: Option<u32>,
    #[serde(skip_serializing_if = "String::is_empty")]
    condition: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    section: String,
    source: String,
    status: String,
}

/// A rule row, each field as [`Row`] has it.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct WrittenRow {
    key: String,
    kind: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<String>,
    family: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    published_days: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cautious_days: Option<u32>,
    basis: String,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    is_perishable: bool,
    code: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    freezer_months: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    freezes: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    why: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    note: String,
    source: String,
    status: String,
}

const CODES: [(Code, &str); 3] =
    [(Code::DateMark, "date mark"), (Code::Row, "row"), (Code::None, "none")];

impl From<&Chosen> for WrittenChosen {
    fn from(chosen: &Chosen) -> Self {
        Self { by: chosen.by.clone(), on: chosen.on.to_string(), reason: chosen.reason.clone() }
    }
}

impl TryFrom<WrittenChosen> for Chosen {
    type Error = String;

    fn try_from(written: WrittenChosen) -> Result<Self, String> {
        let on = written.on.parse().map_err(|error| format!("{}: {error}", written.on))?;
        Ok(Self { by: written.by, on, reason: written.reason })
    }
}

impl From<&Row> for WrittenRow {
    fn from(row: &Row) -> Self {
        let code = CODES.iter().find(|(code, _)| *code == row.code);
        Self {
            key: row.key.to_string(),
            kind: row.kind.to_string(),
            also: row.also.iter().map(ToString::to_string).collect(),
            family: row.family.to_string(),
            published_days: row.published_days,
            cautious_days: row.cautious_days,
            basis: row.basis.word().to_owned(),
            is_perishable: row.is_perishable,
            code: code.map_or("none", |(_, word)| word).to_owned(),
            freezer_months: row.freezer_months.to_string(),
            freezes: row.freezes.to_string(),
            why: row.why.to_string(),
            note: row.note.to_string(),
            source: row.source.to_string(),
            status: row.status.word().to_owned(),
        }
    }
}

impl TryFrom<WrittenRow> for Row {
    type Error = String;

    fn try_from(written: WrittenRow) -> Result<Self, String> {
        let basis = [Basis::Safety, Basis::Quality].into_iter();
        let basis = basis.into_iter().find(|basis| basis.word() == written.basis);
        let code = CODES.iter().find(|(_, word)| *word == written.code);
        Ok(Self {
            basis: basis.ok_or_else(|| format!("basis: {}", written.basis))?,
            code: code.ok_or_else(|| format!("code: {}", written.code))?.0,
            status: Status::parse(&written.status)
                .ok_or_else(|| format!("status: {}", written.status))?,
            key: written.key.into(),
            kind: written.kind.into(),
            also: written.also.into_iter().map(Into::into).collect(),
            family: written.family.into(),
            published_days: written.published_days,
            cautious_days: written.cautious_days,
            is_perishable: written.is_perishable,
            freezer_months: written.freezer_months.into(),
            freezes: written.freezes.into(),
            why: written.why.into(),
            note: written.note.into(),
            source: written.source.into(),
        })
    }
}

impl From<&Figure> for WrittenFigure {
    fn from(figure: &Figure) -> Self {
        Self {
            key: figure.key.to_string(),
            what: figure.what.to_string(),
            profiles: figure.profiles.iter().map(ToString::to_string).collect(),
            is_least: figure.sense == Sense::AtLeast,
            figure: figure.figure.as_deref().map(ToOwned::to_owned),
            unit: figure.unit.to_string(),
            fahrenheit: figure.fahrenheit.map(Measured::figure),
            celsius: figure.celsius.map(Measured::figure),
            hold_seconds: figure.hold_seconds,
            rest_minutes: figure.rest_minutes,
            condition: figure.condition.to_string(),
            section: figure.section.to_string(),
            source: figure.source.to_string(),
            status: figure.status.word().to_owned(),
        }
    }
}

impl TryFrom<WrittenFigure> for Figure {
    type Error = String;

    fn try_from(written: WrittenFigure) -> Result<Self, String> {
        let degrees = |typed: Option<String>, scale| match typed {
            None => Ok(None),
            Some(typed) => Measured::parse(&typed, scale).map(Some).ok_or(typed),
        };
        Ok(Self {
            status: Status::parse(&written.status)
                .ok_or_else(|| format!("status: {}", written.status))?,
            fahrenheit: degrees(written.fahrenheit, Scale::Fahrenheit)?,
            celsius: degrees(written.celsius, Scale::Celsius)?,
            key: written.key.into(),
            what: written.what.into(),
            profiles: written.profiles.into_iter().map(Into::into).collect(),
            sense: if written.is_least { Sense::AtLeast } else { Sense::AtMost },
            figure: written.figure.map(Into::into),
            unit: written.unit.into(),
            hold_seconds: written.hold_seconds,
            rest_minutes: written.rest_minutes,
            condition: written.condition.into(),
            section: written.section.into(),
            source: written.source.into(),
        })
    }
}

impl From<&Profile> for WrittenProfile {
    fn from(profile: &Profile) -> Self {
        // What the rules of this base need: its own figures, and the rule of the hot room.
        let hot_room = ["home_1h", ROOM].into_iter().filter_map(|key| profile.figure(key));
        let own: Vec<&Figure> = profile.figures().collect();
        let besides = hot_room.filter(|it| !own.iter().any(|figure| figure.key == it.key));
        let figures = own.iter().copied().chain(besides).map(WrittenFigure::from).collect();
        let tighter = profile.tighter().iter().map(|(key, tighter)| WrittenTighter {
            key: key.to_string(),
            most: tighter.most,
            degrees: tighter.degrees.map(|it| (it.figure, it.scale.letter().to_owned())),
            is_published: tighter.is_published,
            chosen: WrittenChosen::from(&tighter.chosen),
        });
        Self {
            name: profile.name.clone(),
            base: profile.base.word().to_owned(),
            number: profile.number,
            chosen: profile.chosen.as_ref().map(WrittenChosen::from),
            rows: profile.rows().iter().map(WrittenRow::from).collect(),
            figures,
            tighter: tighter.collect(),
        }
    }
}

impl TryFrom<WrittenProfile> for Profile {
    type Error = String;

    fn try_from(written: WrittenProfile) -> Result<Self, String> {
        let base = Base::parse(&written.base).ok_or_else(|| format!("base: {}", written.base))?;
        let rows = written.rows.into_iter().map(Row::try_from).collect::<Result<_, _>>()?;
        let figures: Vec<Figure> =
            written.figures.into_iter().map(Figure::try_from).collect::<Result<_, _>>()?;
        let mut profile = Self::shipped(base).with_rows(rows);
        if !figures.is_empty() {
            profile = profile.with_figures(figures);
        }
        for row in written.tighter {
            let chosen = Chosen::try_from(row.chosen)?;
            if row.is_published {
                profile
                    .choose_published(&row.key, chosen.clone())
                    .map_err(|error| error.to_string())?;
            }
            if let Some((figure, letter)) = row.degrees {
                let scale = Scale::parse(&letter).ok_or_else(|| format!("scale: {letter}"))?;
                let degrees = Degrees { figure, scale };
                profile
                    .tighten_degrees(&row.key, degrees, chosen.clone())
                    .map_err(|error| error.to_string())?;
            }
            if let Some(most) = row.most {
                profile.tighten(&row.key, most, chosen).map_err(|error| error.to_string())?;
            }
        }
        profile.name = written.name;
        profile.number = written.number;
        profile.chosen = written.chosen.map(Chosen::try_from).transpose()?;
        Ok(profile)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_come_back_as_they_were_written() {
        let chosen = Chosen {
            by: "Ada".to_owned(),
            on: jiff::civil::date(2027, 5, 12),
            reason: "our fridge is warm".to_owned(),
        };
        for base in Base::ALL {
            let mut profile = Profile::shipped(base).version(2, chosen.clone());
            let row = profile.rows().iter().find(|row| profile.days(row).is_some_and(|it| it > 1));
            let key = row.unwrap().key.clone();
            profile.tighten(&key, 1, chosen.clone()).unwrap();
            let colder = Degrees { figure: 3, scale: Scale::Celsius };
            profile.tighten_degrees(base.cold_key(), colder, chosen.clone()).unwrap();
            let text = serde_json::to_string(&WrittenProfile::from(&profile)).unwrap();
            let back: WrittenProfile = serde_json::from_str(&text).unwrap();
            let back = Profile::try_from(back).unwrap();
            assert_eq!(back.rows(), profile.rows());
            assert_eq!(back.tighter(), profile.tighter());
            let figures = |it: &Profile| it.figures().cloned().collect::<Vec<_>>();
            assert_eq!(figures(&back), figures(&profile));
            assert!(back.figures().all(|it| it.profiles.iter().any(|name| **name == *base.word())));
            let row = profile.row(&key).unwrap();
            assert_eq!(back.clocks(row), profile.clocks(row));
            assert_eq!(back.room_minutes(), profile.room_minutes());
            assert_eq!((back.number, &back.chosen), (profile.number, &profile.chosen));
        }
    }
}
