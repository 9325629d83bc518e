//! View model of the roast forecast, already in words.

use askama::Template;

use super::of::Of;
use super::roast_steps::{RoastStep, food_word};
use crate::domain::caution::end_point::{EndPoint, Joint, end_point};
use crate::domain::caution::forecast as words;
use crate::domain::limit::Profile;
use crate::domain::warmth::{AskRoast, Fault, roasted};
use crate::web::form::Field;
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "forecast/roast.html")]
pub struct RoastPage {
    frame: Frame,
    of: Of,
    steps: Vec<(String, String, bool)>,
    line: usize,
    lead: String,
    fields: Fields,
    has_fan: bool,
    has_foil: bool,
    problems: Vec<(&'static str, String)>,
    /// The card said no size, and nobody has typed one yet.
    wants_size: bool,
    /// True when the end point is under the least the limits ask for.
    is_below: bool,
    caution: Option<String>,
    answer: Option<Answer>,
    profile: &'static str,
}

#[derive(Default)]
struct Fields {
    across: Field,
    long: Field,
    weight: Field,
    start: Field,
    oven: Field,
    pull: Field,
    rest: Field,
}

struct Answer {
    first_check: String,
    told: Option<[String; 2]>,
    is_guessed: bool,
}

impl RoastPage {
    pub fn new(
        frame: Frame,
        of: Of,
        steps: Vec<RoastStep>,
        line: Option<usize>,
        typed: Option<AskRoast>,
        profile: &Profile,
    ) -> Self {
        let chosen = line.and_then(|line| steps.iter().find(|it| it.line == line));
        let chosen = chosen.or_else(|| steps.first());
        let joint = chosen.map_or(Joint::Whole, |it| it.joint);
        let from_card = chosen.map(|it| it.asked.clone()).unwrap_or_default();
        let was_typed = typed.is_some();
        let asked = AskRoast { food: food_word(joint).to_owned(), ..typed.unwrap_or(from_card) };
        let is_sized = [&asked.across, &asked.weight].iter().any(|it| !it.trim().is_empty());
        let (line, lead) = chosen.map(|it| (it.line, it.words.clone())).unwrap_or_default();
        let checked = asked.checked();
        let lacks = checked.as_ref().ok().and_then(|(_, it)| {
            end_point(profile, joint, words::as_typed(&asked.pull, it.pull_c), false)
        });
        let wants_size = !was_typed && !is_sized;
        let faults = match &checked {
            Err(faults) if !wants_size => faults.clone(),
            _ => Vec::new(),
        };
        Self {
            steps: links(&of, &steps, line),
            line,
            lead,
            fields: Fields::of(&asked, &faults),
            has_fan: asked.fan,
            has_foil: asked.foil,
            problems: faults.iter().map(|it| (it.field, it.what.to_string())).collect(),
            wants_size,
            is_below: matches!(lacks, Some(EndPoint::Below { .. })),
            caution: lacks.map(|it| it.to_string()),
            answer: checked.ok().map(|(food, it)| Answer::of(food.substance(), &it)),
            profile: profile.base.title(),
            frame,
            of,
        }
    }

    pub fn is_refused(&self) -> bool {
        !self.problems.is_empty()
    }
}

fn links(of: &Of, steps: &[RoastStep], here: usize) -> Vec<(String, String, bool)> {
    let dish = if of.dish.is_empty() { String::new() } else { format!("dish={}&", of.dish) };
    let link = |it: &RoastStep| {
        (format!("{}?{dish}step={}", of.address, it.line), it.words.clone(), it.line == here)
    };
    steps.iter().map(link).collect()
}

impl Fields {
    fn of(asked: &AskRoast, faults: &[Fault]) -> Self {
        let field = |name: &str, typed: &str, usual: &str| Field {
            typed: if typed.trim().is_empty() { usual.to_owned() } else { typed.to_owned() },
            problem: faults.iter().find(|it| it.field == name).map(|it| it.what.to_string()),
        };
        Self {
            across: field("across", &asked.across, ""),
            long: field("long", &asked.long, ""),
            weight: field("weight", &asked.weight, ""),
            start: field("start", &asked.start, "5 C"),
            oven: field("oven", &asked.oven, "180 C"),
            pull: field("pull", &asked.pull, "63 C"),
            rest: field("rest", &asked.rest_minutes, "10"),
        }
    }
}

impl Answer {
    fn of(food: &crate::domain::warmth::Substance, joint: &crate::domain::warmth::Joint) -> Self {
        match roasted(food, joint) {
            Some(it) => Self {
                first_check: words::first_check(&it),
                told: Some(words::roast_told(&it, joint.pull_c)),
                is_guessed: it.guessed_shape,
            },
            None => Self { first_check: String::new(), told: None, is_guessed: false },
        }
    }
}

/// Every state of the page, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let of = || Of {
        title: "Pork loin".to_owned(),
        back: ("/dishes/1".to_owned(), "Back to the card".to_owned()),
        address: "/dishes/1/roast".to_owned(),
        others: vec![("/dishes/1/roast?dish=B".to_owned(), "B, Fillet".to_owned())],
        dish: "A".to_owned(),
    };
    let step = |line: usize, weight: &str, pull: &str| RoastStep {
        line,
        words: "Step 4: Roast.".to_owned(),
        joint: Joint::Whole,
        asked: AskRoast {
            weight: weight.to_owned(),
            oven: "375F".to_owned(),
            pull: pull.to_owned(),
            ..AskRoast::default()
        },
    };
    let typed = |across: &str, pull: &str| AskRoast {
        across: across.to_owned(),
        pull: pull.to_owned(),
        oven: "425F".to_owned(),
        foil: true,
        ..AskRoast::default()
    };
    let page = |steps: Vec<RoastStep>, typed: Option<AskRoast>| {
        let page = RoastPage::new(Frame::sample(), of(), steps, None, typed, &Profile::default());
        page.render().expect("samples are complete")
    };
    vec![
        ("roast-by-weight", page(vec![step(9, "3.3 lb", "145F")], None)),
        (
            "roast-below",
            page(vec![step(9, "", "120F"), step(14, "", "145F")], Some(typed("6.5 cm", "120F"))),
        ),
        ("roast-asks-size", page(vec![step(9, "", "145F")], None)),
        ("roast-refused", page(vec![step(9, "", "145F")], Some(typed("2 m", "145C")))),
        ("roast-nothing", page(Vec::new(), None)),
    ]
}
