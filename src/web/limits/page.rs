//! View models of the limits pages, already in words.

use askama::Template;

use super::form::RowFields;
use crate::domain::limit::{Base, Bound, Figure, InForce, Profile, ROOM, Row, Sense};
use crate::web::form::{Field, problems};
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "limits/list.html")]
pub struct LimitsPage {
    frame: Frame,
    rules: String,
    version: String,
    changed: usize,
    groups: Vec<(String, Vec<LimitRow>)>,
    figures: Vec<FigureRow>,
    bases: Vec<(&'static str, &'static str, bool)>,
    pub base_field: Field,
    pub by: Field,
    pub reason: Field,
}

struct LimitRow {
    address: String,
    kind: String,
    at_most: String,
    by: &'static str,
    whose: String,
    source: String,
    status: &'static str,
}

struct FigureRow {
    /// None where the source gives words only: there is nothing to tighten.
    address: Option<String>,
    whose: String,
    what: String,
    figure: String,
    condition: String,
    source: String,
    status: &'static str,
}

impl LimitsPage {
    pub fn new(frame: Frame, profile: &Profile) -> Self {
        let mut groups: Vec<(String, Vec<LimitRow>)> = Vec::new();
        let room = room_row(&frame, profile);
        groups.push(("out of the fridge".to_owned(), vec![room]));
        for row in profile.rows().iter().filter(|row| profile.days(row).is_some()) {
            let line = limit_row(&frame, profile, row);
            match groups.iter_mut().find(|(name, _)| *name == *row.family) {
                Some((_, rows)) => rows.push(line),
                None => groups.push((row.family.to_string(), vec![line])),
            }
        }
        let bases = Base::ALL.map(|it| (it.word(), it.title(), it == profile.base));
        Self {
            rules: profile.base.title().to_owned(),
            version: version(profile),
            changed: profile.tighter().len(),
            groups,
            figures: figure_rows(&frame, profile),
            bases: bases.to_vec(),
            base_field: Field::with(profile.base.word()),
            by: Field::default(),
            reason: Field::default(),
            frame,
        }
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[("base", &self.base_field), ("by", &self.by), ("reason", &self.reason)])
    }
}

pub(super) fn version(profile: &Profile) -> String {
    match &profile.chosen {
        Some(it) => format!(
            "Version {}, {}, by {}: {}",
            profile.number,
            it.on.strftime("%-d %B %Y"),
            it.by,
            it.reason
        ),
        None => "As shipped; nothing changed by the school".to_owned(),
    }
}

fn limit_row(frame: &Frame, profile: &Profile, row: &Row) -> LimitRow {
    let shipped = profile.days(row).unwrap_or_default();
    let own = profile.tighter().get(&row.key);
    let at_most = match own.and_then(|it| it.most) {
        Some(most) => format!("{} of 24 hours", days(most)),
        None => days(shipped),
    };
    let whose = match own {
        Some(it) if it.most.is_some() => format!("school, by {}", it.chosen.by),
        Some(it) => format!("published figure, chosen by {}", it.chosen.by),
        None if row.published_days == row.cautious_days => "shipped".to_owned(),
        None => format!("shipped, cautious; published {}", days(row.published_days.unwrap_or(0))),
    };
    LimitRow {
        address: frame.paths.limit(&row.key),
        kind: row.kind.to_string(),
        at_most,
        by: if profile.is_for_safety(row) { "safety" } else { "taste" },
        whose,
        source: profile.source(row),
        status: profile.status(row).said(),
    }
}

fn room_row(frame: &Frame, profile: &Profile) -> LimitRow {
    let own = profile.tighter().get(ROOM);
    LimitRow {
        address: frame.paths.limit(ROOM),
        kind: "anything perishable, all stretches together".to_owned(),
        at_most: format!("{} min", profile.room_minutes()),
        by: "safety",
        whose: own.map_or("shipped".to_owned(), |it| format!("school, by {}", it.chosen.by)),
        source: profile.room_source().to_owned(),
        status: profile.room_status().said(),
    }
}

fn figure_rows(frame: &Frame, profile: &Profile) -> Vec<FigureRow> {
    let rows = profile.figures().filter(|it| !profile.is_room(&it.key));
    rows.map(|figure| figure_row(frame, profile, figure)).collect()
}

fn figure_row(frame: &Frame, profile: &Profile, figure: &Figure) -> FigureRow {
    let own = profile.tighter().get(&figure.key);
    FigureRow {
        address: profile.bound(&figure.key).is_ok().then(|| frame.paths.limit(&figure.key)),
        whose: own.map_or("shipped".to_owned(), |it| format!("school, by {}", it.chosen.by)),
        what: figure.what.to_string(),
        figure: figure_words(InForce { figure, own }),
        condition: figure.condition.to_string(),
        source: figure.cited(),
        status: figure.status.said(),
    }
}

/// `at least 145 °F / 63 °C for 15 s and 3 min of rest`, as it is in force.
fn figure_words(it: InForce<'_>) -> String {
    use crate::domain::heat::Scale;
    let figure = it.figure;
    let sense = match figure.sense {
        Sense::AtMost => "at most",
        Sense::AtLeast => "at least",
    };
    let (f, c) = (it.degrees(Scale::Fahrenheit), it.degrees(Scale::Celsius));
    let mut said = match (figure.is_degrees(), f, c, it.count()) {
        (true, Some(f), Some(c), _) => format!("{sense} {f} / {c}"),
        (false, .., Some(_)) if figure.count().is_some() && it.own.is_none() => {
            format!("{sense} {} {}", figure.figure.as_deref().unwrap_or_default(), figure.unit)
        }
        (false, .., Some(count)) => format!("{sense} {count} {}", figure.unit),
        _ => "by eye".to_owned(),
    };
    if let Some(seconds) = figure.hold_seconds {
        said.push_str(&format!(" for {}", seconds_words(seconds)));
    }
    if let Some(minutes) = figure.rest_minutes {
        said.push_str(&format!(", then {minutes}\u{a0}min of rest"));
    }
    said
}

/// `15 s`, `112 min`, as a table of a code prints it.
fn seconds_words(seconds: u32) -> String {
    if seconds >= 240 && seconds.is_multiple_of(60) {
        return format!("{}\u{a0}min", seconds / 60);
    }
    format!("{seconds}\u{a0}s")
}

/// How the cautious figure was come by, in words.
fn why(rule: &str) -> String {
    match rule {
        "formula" => "ours: the low end of the range, the day of making counted".to_owned(),
        "formula (low end, long range)" => "ours: the low end of a long range".to_owned(),
        other => format!("ours: {other}"),
    }
}

fn days(count: u32) -> String {
    if count == 0 {
        return "not at all".to_owned();
    }
    format!("{count} day{}", if count == 1 { "" } else { "s" })
}

#[derive(Template)]
#[template(path = "limits/row.html")]
pub struct LimitPage {
    frame: Frame,
    key: String,
    kind: String,
    figures: Vec<(String, String, String)>,
    /// With the unit of its figure.
    label: String,
    is_degrees: bool,
    shipped: String,
    /// The published figure, where it is looser than the one in force.
    published: Option<String>,
    /// What the school did to this row so far.
    own: Option<String>,
    fields: RowFields,
}

impl LimitPage {
    /// None for a key that no row bears.
    pub fn new(frame: Frame, profile: &Profile, key: &str, fields: RowFields) -> Option<Self> {
        let bound = profile.bound(key).ok()?;
        let own = profile.tighter().get(key).map(|it| {
            let on = it.chosen.on.strftime("%-d %B %Y");
            format!("{on}, {}: {}", it.chosen.by, it.chosen.reason)
        });
        let row = profile.row(key);
        let kind = match row {
            _ if key == ROOM => "Out of the fridge, all stretches together".to_owned(),
            Some(row) => row.kind.to_string(),
            None => profile.figure(key)?.what.to_string(),
        };
        let figures = match row {
            _ if key == ROOM => {
                let source = profile.room_source().to_owned();
                vec![("At most".to_owned(), bound.words(), source)]
            }
            Some(row) => figures(profile, row),
            None => one_figure(profile, profile.figure(key)?),
        };
        let published = row.filter(|_| !profile.base.is_code()).and_then(|row| {
            (row.published_days > row.cautious_days).then(|| days(row.published_days.unwrap_or(0)))
        });
        let way = if bound.sense() == Sense::AtMost { "At most" } else { "At least" };
        Some(Self {
            kind,
            key: key.to_owned(),
            figures,
            label: match &bound {
                Bound::Degrees { .. } => format!("{way}, in degrees"),
                Bound::Count { unit, .. } if row.is_some() => {
                    format!("{way}, in {unit} of 24 hours")
                }
                Bound::Count { unit, .. } => format!("{way}, in {unit}"),
            },
            is_degrees: matches!(bound, Bound::Degrees { .. }),
            shipped: bound.words(),
            published,
            own,
            fields,
            frame,
        })
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        let it = &self.fields;
        problems(&[
            ("what", &it.what),
            ("most", &it.most),
            ("scale", &it.scale),
            ("by", &it.by),
            ("reason", &it.reason),
        ])
    }
}

/// A plain figure with its condition and source.
fn one_figure(profile: &Profile, figure: &Figure) -> Vec<(String, String, String)> {
    let source = format!("{}; {}", figure.cited(), figure.status.said());
    let shipped = figure_words(InForce { figure, own: None });
    let mut lines = vec![("As shipped".to_owned(), shipped, source)];
    if let Some(own) = profile.tighter().get(&figure.key) {
        let words = figure_words(InForce { figure, own: Some(own) });
        let whose = format!("the school’s own, by {}: {}", own.chosen.by, own.chosen.reason);
        lines.push(("In force".to_owned(), words, whose));
    }
    if !figure.condition.is_empty() {
        lines.push(("Note".to_owned(), figure.condition.to_string(), String::new()));
    }
    lines
}

/// Each figure of a row with where it is from: what, how much, source.
fn figures(profile: &Profile, row: &Row) -> Vec<(String, String, String)> {
    let source = format!("{}; {}", row.source, row.status.said());
    let mut lines = Vec::new();
    let mut line = |what: &str, figure: String, from: String| {
        lines.push((what.to_owned(), figure, from));
    };
    if let Some(it) = row.published_days {
        line("Published, the day of making as day 1", days(it), source.clone());
    }
    if let Some(it) = row.cautious_days {
        line("Cautious, the figure in force unless chosen otherwise", days(it), why(&row.why));
    }
    if profile.base != Base::Home
        && let Some(it) = profile.days(row)
    {
        line("In this set of rules", days(it), profile.source(row));
    }
    if !row.freezer_months.is_empty() {
        line("Months in the freezer, for taste alone", row.freezer_months.to_string(), source);
    }
    if !row.note.is_empty() {
        line("Note", row.note.to_string(), String::new());
    }
    lines
}

/// Every state of every page here, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let plain = Profile::default();
    let chosen = || crate::domain::limit::Chosen {
        by: "Ada <Berg>".to_owned(),
        on: jiff::civil::date(2027, 5, 12),
        reason: "The fridge is opened all evening".to_owned(),
    };
    let mut own = Profile::default();
    own.tighten("any_cooked", 3, chosen()).expect("it is tighter");
    own.choose_published("cooked_rice", chosen()).expect("it differs");
    let colder =
        crate::domain::heat::Degrees { figure: 3, scale: crate::domain::heat::Scale::Celsius };
    own.tighten_degrees("home_cold", colder, chosen()).expect("it is colder");
    let own = own.version(2, chosen());
    let form = super::form::RowForm {
        key: "any_cooked".to_owned(),
        most: "9".to_owned(),
        ..super::form::RowForm::default()
    };
    let refused = form.check(&plain, jiff::civil::date(2027, 5, 12)).map_err(|it| *it);
    let refused = refused.expect_err("nine is looser");
    let frame = || Frame::sample();
    let one = |profile: &Profile, key: &str, fields: RowFields| {
        let page = LimitPage::new(frame(), profile, key, fields).expect("the row exists");
        page.render().expect("samples are complete")
    };
    let list = |profile| LimitsPage::new(frame(), profile).render().expect("samples are complete");
    vec![
        ("limits", list(&plain)),
        ("limits-own", list(&own)),
        ("limit", one(&own, "cooked_rice", RowFields::default())),
        ("limit-room", one(&plain, ROOM, RowFields::default())),
        ("limit-refused", one(&plain, "any_cooked", refused)),
        ("limit-degrees", one(&own, "home_cold", RowFields::default())),
        ("limits-memory", list(&Profile::shipped(Base::UkAdvice))),
    ]
}
