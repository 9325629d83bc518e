//! View model of the page for another pan, already in words.

use askama::Template;

use super::of::Of;
use super::pan::Asked;
use crate::domain::pan::{Filling, Pan, Swap, depth_mm, swap};
use crate::web::form::Field;
use crate::web::frame::Frame;

const INCH_MM: f64 = 25.4;

#[derive(Template)]
#[template(path = "forecast/pan.html")]
pub struct PanPage {
    frame: Frame,
    of: Of,
    fields: Fields,
    problems: Vec<(&'static str, String)>,
    answer: Option<Answer>,
}

#[derive(Default)]
struct Fields {
    from: Field,
    from_count: Field,
    lay: Field,
    to: Field,
    to_count: Field,
    filling: Field,
}

struct Answer {
    /// `0.86`
    factor: String,
    /// `37 mm (1.45 in) deep`
    lies: Option<String>,
    fullness: Option<String>,
    is_too_full: bool,
    limit: &'static str,
    /// What it does to the time.
    times: Vec<String>,
}

#[derive(Clone, Copy, Debug, thiserror::Error)]
#[error("Write how many pans: from 1 to 50")]
struct CountError;

fn count(typed: &str) -> Result<u32, CountError> {
    typed.trim().parse().ok().filter(|count| (1..=50).contains(count)).ok_or(CountError)
}

#[derive(Clone, Copy, Debug, thiserror::Error)]
#[error("Choose one of the list")]
struct FillingError;

fn filling(typed: &str) -> Result<Filling, FillingError> {
    Filling::ALL.into_iter().find(|it| it.word() == typed).ok_or(FillingError)
}

impl PanPage {
    /// The pan of the card stands in the form until another is typed.
    pub fn new(frame: Frame, of: Of, vessels: &[String], asked: Asked) -> Self {
        let or = |typed: String, usual: &str| {
            if typed.is_empty() { usual.to_owned() } else { typed }
        };
        let from = or(asked.from, vessels.first().map_or("", String::as_str));
        let from_count = or(asked.from_count, "1");
        let to_count = or(asked.to_count, "1");
        let kind = or(asked.filling, Filling::Batter.word());
        if asked.to.is_empty() {
            let fields = Fields {
                from: Field::with(&from),
                from_count: Field::with(&from_count),
                lay: Field::with(&asked.lay),
                to: Field::default(),
                to_count: Field::with(&to_count),
                filling: Field::with(&kind),
            };
            return Self { frame, of, fields, problems: Vec::new(), answer: None };
        }
        let depth = |typed: &str| match typed.trim() {
            "" => Ok(None),
            typed => depth_mm(typed).map(Some).map_err(|_| "Write a depth with its unit: 3 cm"),
        };
        let mut fields = Fields::default();
        let (old, old_count, lay, new, new_count, chosen);
        (old, fields.from) = Field::check(from, Pan::parse);
        (old_count, fields.from_count) = Field::check(from_count, count);
        (lay, fields.lay) = Field::check(asked.lay, depth);
        (new, fields.to) = Field::check(asked.to, Pan::parse);
        (new_count, fields.to_count) = Field::check(to_count, count);
        (chosen, fields.filling) = Field::check(kind, filling);
        let all = old.zip(old_count).zip(new.zip(new_count)).zip(lay.zip(chosen));
        let answer = all.map(|((from, to), (lay, filling))| {
            Answer::of(&swap(from, lay, to, filling), lay, filling)
        });
        let problems = fields.problems();
        Self { frame, of, fields, problems, answer }
    }

    pub fn is_refused(&self) -> bool {
        !self.problems.is_empty()
    }

    fn fillings() -> Vec<(&'static str, &'static str)> {
        Filling::ALL.map(|it| (it.word(), it.words())).to_vec()
    }
}

impl Fields {
    fn problems(&self) -> Vec<(&'static str, String)> {
        let all = [
            ("from", &self.from),
            ("from_count", &self.from_count),
            ("lay", &self.lay),
            ("to", &self.to),
            ("to_count", &self.to_count),
            ("filling", &self.filling),
        ];
        all.iter().filter_map(|(id, field)| Some((*id, field.problem.clone()?))).collect()
    }
}

impl Answer {
    fn of(found: &Swap, lay_mm: Option<f64>, filling: Filling) -> Self {
        let depth = |mm: f64| format!("{mm:.0} mm ({:.2} in)", mm / INCH_MM);
        let limit = match filling {
            Filling::Batter => "two thirds",
            Filling::Casserole => "three quarters",
        };
        Self {
            factor: format!("{:.2}", found.same_depth_factor),
            lies: found.lies_mm.map(depth),
            fullness: found.full.map(|full| format!("{:.0} %", full * 100.0)),
            is_too_full: found.is_too_full,
            limit,
            times: lay_mm.zip(found.lies_mm).map(|it| times(it.0, it.1)).unwrap_or_default(),
        }
    }
}

/// What another depth does to the time in the oven.
fn times(lay_mm: f64, lies_mm: f64) -> Vec<String> {
    let mut found = Vec::new();
    let ratio = lies_mm / lay_mm;
    if ratio < 0.95 {
        found.push(
            "It lies shallower and is done sooner: look 5 to 10 minutes before the card says."
                .to_owned(),
        );
    } else if ratio > 1.05 {
        found.push(format!(
            "It lies deeper and takes longer: for something solid up to about {:.1} times the minutes of \
             the card (with the square of the depth; common knowledge, from memory). Look when the minutes \
             of the card are over, and go by the end the card gives.",
            ratio * ratio
        ));
    } else {
        found.push("It lies about as deep: the minutes of the card stand.".to_owned());
    }
    if (lies_mm - lay_mm).abs() > INCH_MM / 2.0 {
        found.push(
            "The depth changes by more than half an inch (13 mm): published charts advise against it."
                .to_owned(),
        );
    }
    found
}

/// Every state, for the golden pages.
pub fn samples() -> Vec<(&'static str, String)> {
    let page = |vessels: &[&str], asked: Asked| {
        let of = Of {
            title: "Leek bake".to_owned(),
            back: ("/dishes/1".to_owned(), "Back to the card".to_owned()),
            address: "/dishes/1/pan".to_owned(),
            dish: "A".to_owned(),
            others: vec![("/dishes/1/pan?dish=B".to_owned(), "B, Barley loaf".to_owned())],
        };
        let vessels: Vec<String> = vessels.iter().map(|it| (*it).to_owned()).collect();
        let page = PanPage::new(Frame::sample(), of, &vessels, asked);
        page.render().expect("samples are complete")
    };
    let asked = |to: &str, lay: &str, filling: &str| Asked {
        to: to.to_owned(),
        lay: lay.to_owned(),
        filling: filling.to_owned(),
        ..Asked::default()
    };
    vec![
        ("pan-asks", page(&["tray 40x30 cm"], Asked::default())),
        ("pan-fits", page(&["dish 33x23 cm"], asked("round 25x8 cm", "3 cm", "batter"))),
        ("pan-too-full", page(&["dish 33x23 cm"], asked("round 25x5 cm", "3 cm", "casserole"))),
        ("pan-no-depth", page(&["dish 33x23 cm"], asked("square 9 in", "", "batter"))),
        ("pan-refused", page(&["loaf tin"], asked("a big one", "deep", "soup"))),
    ]
}
