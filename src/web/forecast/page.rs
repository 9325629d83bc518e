//! View model of the cooling forecast, already in words.

use askama::Template;

use super::of::Of;
use super::steps::CoolingStep;
use crate::domain::caution::forecast as words;
use crate::domain::heat::{Measured, Scale};
use crate::domain::limit::Profile;
use crate::domain::warmth::{
    AskCool, Cooling, Cover, Fault, FoodClass, Forecast, Hold, HoldIn, Likely, Oven, Place, Vessel,
    Warming, celsius, forecast, held, warmed,
};
use crate::drawing::{CoolingCurve, Svg, cooling};
use crate::web::form::Field;
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "forecast/cooling.html")]
pub struct CoolingPage {
    frame: Frame,
    of: Of,
    steps: Vec<StepLink>,
    /// Line of the step that is asked about.
    line: usize,
    /// `Step 5: Spread it thin.`
    lead: String,
    fields: Fields,
    problems: Vec<(&'static str, String)>,
    /// The card said no depth, and nobody has typed one yet.
    wants_depth: bool,
    answer: Option<Answer>,
}

struct StepLink {
    address: String,
    words: String,
    is_here: bool,
}

#[derive(Default)]
struct Fields {
    food: Field,
    depth: Field,
    pan: Field,
    vessel: Field,
    cover: Field,
    start: Field,
    place: Field,
    place_at: Field,
    first: Field,
    first_minutes: Field,
    ice: Field,
}

/// What the three runs say.
struct Answer {
    verdict: &'static str,
    told: &'static str,
    /// `limit` where it is likely too slow, `caution` where it is close, `fits`.
    class: &'static str,
    marks: [Mark; 2],
    curve: Svg,
    cases: Vec<Case>,
    /// In the oven later, from the fridge, the room, the freezer.
    warming: Vec<String>,
    /// How long it stays hot, and cold.
    keeping: Vec<String>,
    /// `Deepest layer in time, also in the slow case: 15 mm.`
    deepest: Vec<String>,
    mends: Vec<(String, &'static str)>,
    assumed: Vec<String>,
    warning: Option<String>,
    reading_step: Option<&'static str>,
}

struct Mark {
    /// The slow case: `4.9 h`.
    slow: String,
    title: &'static str,
    is_met: bool,
    words: String,
}

struct Case {
    line: &'static str,
    name: &'static str,
    to_middle: String,
    to_cold: String,
}

impl CoolingPage {
    pub fn new(
        frame: Frame,
        of: Of,
        steps: Vec<CoolingStep>,
        line: Option<usize>,
        typed: Option<AskCool>,
        profile: &Profile,
    ) -> Self {
        let chosen = line.and_then(|line| steps.iter().find(|it| it.line == line));
        let chosen = chosen.or_else(|| steps.first());
        let from_card = chosen.map(|it| it.asked.clone()).unwrap_or_default();
        let was_typed = typed.is_some();
        let asked = typed.unwrap_or(from_card);
        let wants_depth = !was_typed && asked.depth.is_empty();
        let (line, lead) = chosen.map(|it| (it.line, it.words.clone())).unwrap_or_default();
        let (answer, faults) = match asked.checked() {
            Ok(cooling) => (Some(Answer::of(&cooling, marks_c(profile))), Vec::new()),
            Err(_) if wants_depth => (None, Vec::new()),
            Err(faults) => (None, faults),
        };
        Self {
            steps: links(&of, &steps, line),
            line,
            lead,
            fields: Fields::of(&asked, &faults),
            problems: faults.iter().map(|it| (it.field, it.what.to_string())).collect(),
            wants_depth,
            answer,
            frame,
            of,
        }
    }

    pub fn is_refused(&self) -> bool {
        !self.problems.is_empty()
    }

    fn foods() -> Vec<(&'static str, &'static str)> {
        FoodClass::ALL.map(|it| (it.word(), it.told())).to_vec()
    }

    fn vessels() -> Vec<(&'static str, &'static str)> {
        Vessel::ALL.map(|it| (it.word(), it.word())).to_vec()
    }

    fn covers() -> Vec<(&'static str, &'static str)> {
        let told = |it: Cover| match it {
            Cover::Open => "open, nothing above it",
            Cover::Film => "film or paper lying on the food",
            Cover::Lid => "lid, or wrap with a gap",
            Cover::Foil => "foil",
        };
        Cover::ALL.map(|it| (it.word(), told(it))).to_vec()
    }

    fn places() -> Vec<(&'static str, &'static str)> {
        Place::ALL
            .into_iter()
            .filter(|it| *it != Place::Room)
            .map(|it| (it.word(), told(it)))
            .collect()
    }

    fn firsts() -> Vec<(&'static str, &'static str)> {
        let none = [("", "nowhere else")];
        none.into_iter().chain(Place::ALL.map(|it| (it.word(), told(it)))).collect()
    }
}

fn told(place: Place) -> &'static str {
    match place {
        Place::HomeFridge => "fridge at home",
        Place::WalkInFridge => "walk-in fridge with a fan",
        Place::HomeFreezer => "freezer at home",
        Place::WalkInFreezer => "walk-in freezer",
        Place::BlastChiller => "blast chiller",
        Place::IceBath => "iced water up to the food",
        Place::ColdWater => "cold tap water up to the food",
        Place::Room => "the room",
    }
}

fn links(of: &Of, steps: &[CoolingStep], here: usize) -> Vec<StepLink> {
    let dish = if of.dish.is_empty() { String::new() } else { format!("dish={}&", of.dish) };
    let link = |it: &CoolingStep| StepLink {
        address: format!("{}?{dish}step={}", of.address, it.line),
        words: it.words.clone(),
        is_here: it.line == here,
    };
    steps.iter().map(link).collect()
}

impl Fields {
    fn of(asked: &AskCool, faults: &[Fault]) -> Self {
        let field = |name: &str, typed: &str, usual: &str| Field {
            typed: if typed.trim().is_empty() { usual.to_owned() } else { typed.to_owned() },
            problem: faults.iter().find(|it| it.field == name).map(|it| it.what.to_string()),
        };
        Self {
            food: field("food", &asked.food, "stew"),
            depth: field("depth", &asked.depth, ""),
            pan: field("pan", &asked.pan, "25 x 33 cm"),
            vessel: field("vessel", &asked.vessel, "metal"),
            cover: field("cover", &asked.cover, "open"),
            start: field("start", &asked.start, "60 C"),
            place: field("place", &asked.place, "fridge"),
            place_at: field("place_at", &asked.place_at, ""),
            first: field("first", &asked.first, ""),
            first_minutes: field("first_minutes", &asked.first_minutes, ""),
            ice: field("ice", &asked.ice, ""),
        }
    }
}

impl Answer {
    fn of(cooling: &Cooling, marks_c: (f64, f64)) -> Self {
        let it = forecast(cooling.food.substance(), &cooling.plan, cooling.ice_kg);
        let mends = it.mends.iter().map(|it| (it.to_string(), words::mend_word(it.likely())));
        Self {
            verdict: words::verdict(it.likely),
            told: words::verdict_told(it.likely),
            class: match it.likely {
                Likely::InTime => "fits",
                Likely::TooClose => "caution",
                Likely::TooSlow => "limit",
            },
            marks: marks(&it),
            curve: curve(&it),
            cases: cases(&it),
            warming: warming(cooling),
            keeping: keeping(cooling, marks_c),
            deepest: deepest(&it),
            mends: mends.collect(),
            assumed: words::assumed(&it),
            warning: words::load_warning(&it),
            reading_step: it.wants_reading().then_some(words::READING_STEP),
        }
    }
}

fn marks(it: &Forecast) -> [Mark; 2] {
    let [to_middle, to_cold] = words::told(it);
    let slow = &it.runs[0];
    let mark = |title, seconds: Option<f64>, limit: f64, words| Mark {
        slow: words::one_time(seconds),
        title,
        is_met: seconds.is_some_and(|it| it <= limit),
        words,
    };
    [
        mark("First limit", slow.to_middle_s, 7200.0, to_middle),
        mark("Second limit", slow.to_cold_s, 21_600.0, to_cold),
    ]
}

fn curve(it: &Forecast) -> Svg {
    let points: Vec<_> = it.every(10.0).collect();
    let starts = it.clock_starts_minutes();
    cooling(&CoolingCurve {
        points: &points,
        limits: [starts + 120.0, starts + 360.0],
        words: ["under 21\u{a0}°C by 2\u{a0}h", "under 5\u{a0}°C by 6\u{a0}h"],
        says: "Forecast of the warmest place, three cases, against the two limits. The same figures stand in the table.",
    })
}

fn cases(it: &Forecast) -> Vec<Case> {
    let named = [("thick", "Slow"), ("dashed", "Middle"), ("thin", "Quick")];
    named
        .into_iter()
        .zip(&it.runs)
        .map(|((line, name), run)| Case {
            line,
            name,
            to_middle: words::one_time(run.to_middle_s),
            to_cold: words::one_time(run.to_cold_s),
        })
        .collect()
}

/// Where hot holding ends and cold holding ends, by the profile.
fn marks_c(profile: &Profile) -> (f64, f64) {
    let degrees = |keys: [&str; 3]| {
        let figure = keys.into_iter().find_map(|key| profile.figure(key));
        figure.and_then(|it| it.degrees(Scale::Celsius)).map(Measured::celsius)
    };
    // The code's own two stand where a profile names none.
    let hot = degrees(["home_hot", "hot_hold", "uk_hot"]).unwrap_or(57.0);
    (hot, degrees(["home_cold", "cold_hold", "uk_cold"]).unwrap_or(5.0))
}

/// An oven at 180 C, open, until the coldest place shows 165 F.
fn warming(cooling: &Cooling) -> Vec<String> {
    let told = |(start, start_c): (&str, f64)| {
        let asked = Warming {
            pan: cooling.plan.pan,
            oven: Oven { celsius: 180.0, fan: false },
            start_c,
            until_c: celsius(165.0),
        };
        words::warmed_told(start, warmed(cooling.food.substance(), &asked).as_ref())
    };
    [("fridge", 4.0), ("room", 20.0), ("freezer", -18.0)].map(told).to_vec()
}

fn keeping(cooling: &Cooling, (hot_c, cold_c): (f64, f64)) -> Vec<String> {
    let food = cooling.food.substance();
    let told = |place: HoldIn, start_c: f64, mark_c: f64| {
        let asked = Hold { pan: cooling.plan.pan, start_c, mark_c, kitchen_c: 22.0 };
        words::held_told(place, &held(food, &asked, place), mark_c, start_c > mark_c)
    };
    let hot = HoldIn::HOT.map(|place| told(place, celsius(165.0), hot_c));
    let cold = HoldIn::COLD.map(|place| told(place, cold_c - 2.0, cold_c));
    hot.into_iter().chain(cold).collect()
}

fn deepest(it: &Forecast) -> Vec<String> {
    let line = |told: &str, depth: Option<f64>| {
        let depth = depth.map_or_else(|| "no layer at all".to_owned(), words::depth);
        format!("{told}: {depth}.")
    };
    vec![
        line("Deepest layer in time, also in the slow case", it.deepest_slow_m),
        line("In the middle case", it.deepest_nominal_m),
    ]
}

/// Every state of the page, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let of = || Of {
        title: "Leek soup".to_owned(),
        back: ("/dishes/1".to_owned(), "Back to the card".to_owned()),
        address: "/dishes/1/cooling".to_owned(),
        others: vec![("/dishes/1/cooling?dish=B".to_owned(), "B, Barley".to_owned())],
        dish: "A".to_owned(),
    };
    let step = |line: usize, depth: &str| CoolingStep {
        line,
        number: 5,
        words: "Step 5: Spread it in two wide dishes.".to_owned(),
        asked: AskCool { depth: depth.to_owned(), food: "soup".to_owned(), ..AskCool::default() },
    };
    let typed = |depth: &str, place_at: &str| AskCool {
        depth: depth.to_owned(),
        place_at: place_at.to_owned(),
        cover: "lid".to_owned(),
        ..AskCool::default()
    };
    let page = |steps: Vec<CoolingStep>, typed: Option<AskCool>| {
        let page = CoolingPage::new(Frame::sample(), of(), steps, None, typed, &Profile::default());
        page.render().expect("samples are complete")
    };
    vec![
        ("cooling-in-time", page(vec![step(9, "12 mm")], None)),
        ("cooling-too-slow", page(vec![step(9, ""), step(14, "2 cm")], Some(typed("5 cm", "")))),
        ("cooling-asks-depth", page(vec![step(9, "")], None)),
        ("cooling-refused", page(vec![step(9, "")], Some(typed("2 m", "70 F")))),
        ("cooling-nothing", page(Vec::new(), None)),
    ]
}
