//! A question about heat as typed, and the same checked: all that is wrong at once, nothing reckoned from it.

use super::cooling::{Pan, Plan, Stage};
use super::food::FoodClass;
use super::nonsense::Nonsense;
use super::oven::{Oven, Warming};
use super::place::{Cover, Place, Vessel};
use super::roast::{Joint, Known, Rest};
use super::typed;

/// Fields as typed; empty ones stand for what is usual.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AskCool {
    pub food: String,
    pub depth: String,
    pub pan: String,
    pub vessel: String,
    pub cover: String,
    pub start: String,
    pub place: String,
    /// Of the air of the place.
    pub place_at: String,
    /// Where it stands first, and how long.
    pub first: String,
    pub first_minutes: String,
    pub ice: String,
}

/// What was understood, ready to be reckoned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cooling {
    pub food: FoodClass,
    pub plan: Plan,
    pub ice_kg: Option<f64>,
}

/// What is wrong, and with which field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    pub field: &'static str,
    pub what: Nonsense,
}

/// Collects what is wrong and goes on.
#[derive(Default)]
struct Faults {
    field: &'static str,
    all: Vec<Fault>,
}

impl Faults {
    /// The field that is read next.
    fn on(&mut self, field: &'static str) -> &mut Self {
        self.field = field;
        self
    }

    fn push(&mut self, what: Nonsense) {
        self.all.push(Fault { field: self.field, what });
    }

    fn take<T>(&mut self, read: Result<T, Nonsense>) -> Option<T> {
        read.map_err(|fault| self.push(fault)).ok()
    }

    /// A figure in its range, or a fault that names it as typed.
    fn within(
        &mut self,
        read: Result<f64, Nonsense>,
        (low, high): (f64, f64),
        fault: impl FnOnce() -> Nonsense,
    ) -> Option<f64> {
        let figure = self.take(read)?;
        if (low - 1e-9..=high + 1e-9).contains(&figure) {
            return Some(figure);
        }
        self.push(fault());
        None
    }
}

fn or<'a>(typed: &'a str, usual: &'a str) -> &'a str {
    if typed.trim().is_empty() { usual } else { typed.trim() }
}

fn named<T: Copy>(
    what: &'static str,
    typed: &str,
    all: &[T],
    word: impl Fn(T) -> &'static str,
    found: Option<T>,
) -> Result<T, Nonsense> {
    found.ok_or_else(|| Nonsense::Word {
        what,
        typed: typed.to_owned(),
        known: all.iter().map(|it| word(*it)).collect::<Vec<_>>().join(", "),
    })
}

fn food(typed: &str, usual: &str) -> Result<FoodClass, Nonsense> {
    let word = or(typed, usual);
    named("a food", word, &FoodClass::ALL, FoodClass::word, FoodClass::named(word))
}

fn place(typed: &str, usual: &str) -> Result<Place, Nonsense> {
    let word = or(typed, usual);
    named("a place", word, &Place::ALL, Place::word, Place::named(word))
}

fn dish(faults: &mut Faults, depth: &str, pan: &str, vessel: &str, cover: &str) -> Option<Pan> {
    let shown = depth.trim().to_owned();
    let depth =
        faults.on("depth").within(typed::length(depth), (0.003, 0.25), || Nonsense::Depth(shown));
    let pan = or(pan, "25x33 cm");
    let sides = faults.on("pan").take(typed::pan(pan));
    let sides = sides.and_then(|(width_m, length_m)| {
        let range = 0.05..=0.8;
        if range.contains(&width_m) && range.contains(&length_m) {
            return Some((width_m, length_m));
        }
        faults.on("pan").push(Nonsense::Width(pan.to_owned()));
        None
    });
    let vessel = or(vessel, "metal");
    let vessel = faults.on("vessel").take(named(
        "a dish",
        vessel,
        &Vessel::ALL,
        Vessel::word,
        Vessel::named(vessel),
    ));
    let cover = or(cover, "open");
    let cover = faults.on("cover").take(named(
        "a cover",
        cover,
        &Cover::ALL,
        Cover::word,
        Cover::named(cover),
    ));
    let (width_m, length_m) = sides?;
    Some(Pan { depth_m: depth?, width_m, length_m, vessel: vessel?, cover: cover? })
}

impl AskCool {
    pub fn checked(&self) -> Result<Cooling, Vec<Fault>> {
        let mut faults = Faults::default();
        let food = faults.on("food").take(food(&self.food, "stew"));
        let pan = dish(&mut faults, &self.depth, &self.pan, &self.vessel, &self.cover);
        let start = or(&self.start, "60C");
        let start_c = faults
            .within(typed::temperature(start), (30.0, 100.0), || Nonsense::Start(start.to_owned()));
        let place_c = self.place_c(&mut faults);
        let last = place_c.map(|(place, celsius)| Stage { place, celsius, seconds: None });
        let first = self.first_stage(&mut faults);
        let ice_kg = (!self.ice.trim().is_empty())
            .then(|| {
                let fault = || Nonsense::Ice(self.ice.trim().to_owned());
                faults.on("ice").within(typed::weight(&self.ice), (0.0, 100.0), fault)
            })
            .flatten();
        if let (true, Some(food), Some(pan), Some(start_c), Some(last)) =
            (faults.all.is_empty(), food, pan, start_c, last)
        {
            let stages = match first {
                Some(first) => [Some(first), Some(last), None],
                None => [Some(last), None, None],
            };
            return Ok(Cooling { food, plan: Plan { pan, start_c, stages }, ice_kg });
        }
        Err(faults.all)
    }

    fn place_c(&self, faults: &mut Faults) -> Option<(Place, Option<f64>)> {
        let place = faults.on("place").take(place(&self.place, "fridge"))?;
        if self.place_at.trim().is_empty() {
            return Some((place, None));
        }
        let (low, high) = place.can_be_c();
        let told = |celsius: f64| format!("{celsius:.0} C ({:.0} F)", super::fahrenheit(celsius));
        let fault = || Nonsense::Place {
            place: place.named_first(),
            low: told(low),
            high: told(high),
            typed: self.place_at.trim().to_owned(),
        };
        let at =
            faults.on("place_at").within(typed::temperature(&self.place_at), (low, high), fault)?;
        Some((place, Some(at)))
    }

    fn first_stage(&self, faults: &mut Faults) -> Option<Stage> {
        if self.first.trim().is_empty() {
            return None;
        }
        let place = faults.on("first").take(place(&self.first, ""));
        let minutes = faults.on("first_minutes").take(typed::minutes(&self.first_minutes));
        Some(Stage { place: place?, celsius: None, seconds: Some(minutes? * 60.0) })
    }
}

fn oven(faults: &mut Faults, typed: &str, fan: bool) -> Option<Oven> {
    let fault = || Nonsense::Oven(typed.trim().to_owned());
    let celsius = faults.on("oven").within(typed::temperature(typed), (80.0, 290.0), fault)?;
    Some(Oven { celsius, fan })
}

/// The end point lies over the start and under the oven.
fn end(
    faults: &mut Faults,
    field: &'static str,
    typed: &str,
    start: Option<f64>,
    oven: Option<Oven>,
) -> Option<f64> {
    let low = start.map_or(40.0, |it| it.max(40.0));
    let high = oven.map_or(99.0, |it| it.celsius.min(99.0));
    let fault = || Nonsense::End(typed.trim().to_owned());
    faults.on(field).within(typed::temperature(typed), (low, high), fault)
}

/// A dish made ahead, on its way into the oven.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AskWarm {
    pub food: String,
    pub depth: String,
    pub pan: String,
    pub vessel: String,
    pub cover: String,
    pub start: String,
    pub oven: String,
    pub fan: bool,
    pub until: String,
}

impl AskWarm {
    pub fn checked(&self) -> Result<(FoodClass, Warming), Vec<Fault>> {
        let mut faults = Faults::default();
        let food = faults.on("food").take(food(&self.food, "bake"));
        let pan =
            dish(&mut faults, &self.depth, &self.pan, or(&self.vessel, "ceramic"), &self.cover);
        let start = or(&self.start, "4C");
        let fault = || Nonsense::GoesIn(start.to_owned());
        let start_c = faults.on("start").within(typed::temperature(start), (-30.0, 80.0), fault);
        let oven = oven(&mut faults, or(&self.oven, "180C"), self.fan);
        let until_c = end(&mut faults, "until", or(&self.until, "165F"), start_c, oven);
        match (faults.all.is_empty(), food, pan, start_c, oven, until_c) {
            (true, Some(food), Some(pan), Some(start_c), Some(oven), Some(until_c)) => {
                Ok((food, Warming { pan, oven, start_c, until_c }))
            }
            _ => Err(faults.all),
        }
    }
}

/// A joint.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AskRoast {
    pub food: String,
    pub across: String,
    pub long: String,
    pub weight: String,
    pub start: String,
    pub oven: String,
    pub fan: bool,
    pub pull: String,
    pub rest_minutes: String,
    pub foil: bool,
}

impl AskRoast {
    pub fn checked(&self) -> Result<(FoodClass, Joint), Vec<Fault>> {
        let mut faults = Faults::default();
        let food = faults.on("food").take(food(&self.food, "meat"));
        let known = self.known(&mut faults);
        let start = or(&self.start, "5C");
        let fault = || Nonsense::GoesIn(start.to_owned());
        let start_c = faults.on("start").within(typed::temperature(start), (-2.0, 40.0), fault);
        let oven = oven(&mut faults, or(&self.oven, "180C"), self.fan);
        let pull_c = end(&mut faults, "pull", or(&self.pull, "63C"), start_c, oven);
        let rest_minutes = faults.on("rest").take(typed::minutes(or(&self.rest_minutes, "10")));
        let rest = if self.foil { Rest::Foil } else { Rest::Open };
        match (faults.all.is_empty(), food, known, start_c, oven, pull_c, rest_minutes) {
            (
                true,
                Some(food),
                Some(known),
                Some(start_c),
                Some(oven),
                Some(pull_c),
                Some(rest_minutes),
            ) => Ok((food, Joint { known, start_c, oven, pull_c, rest, rest_minutes })),
            _ => Err(faults.all),
        }
    }

    fn known(&self, faults: &mut Faults) -> Option<Known> {
        let said = |text: &str| (!text.trim().is_empty()).then(|| text.trim().to_owned());
        let across = said(&self.across).map(|text| {
            faults
                .on("across")
                .within(typed::length(&text), (0.02, 0.3), || Nonsense::Across(text.clone()))
        });
        let kilograms = said(&self.weight).map(|text| {
            faults
                .on("weight")
                .within(typed::weight(&text), (0.1, 20.0), || Nonsense::Weight(text.clone()))
        });
        let least = across.flatten().unwrap_or(0.02);
        let long = said(&self.long).map(|text| {
            faults
                .on("long")
                .within(typed::length(&text), (least, 1.0), || Nonsense::Long(text.clone()))
        });
        match (across, long, kilograms) {
            (Some(across), Some(long), _) => {
                Some(Known::AcrossAndLong { across_m: across?, long_m: long? })
            }
            (Some(across), None, Some(kilograms)) => {
                Some(Known::AcrossAndWeight { across_m: across?, kilograms: kilograms? })
            }
            (None, _, Some(kilograms)) => Some(Known::Weight { kilograms: kilograms? }),
            // A long joint is the slower guess when only its thickness is known.
            (Some(across), None, None) => {
                let across_m = across?;
                Some(Known::AcrossAndLong { across_m, long_m: across_m * 4.0 })
            }
            (None, _, None) => {
                faults.on("across").push(Nonsense::NoJoint);
                None
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(faults: &[Fault]) -> Vec<String> {
        faults.iter().map(|it| it.what.to_string()).collect()
    }

    #[test]
    fn nothing_is_reckoned_from_nonsense_and_all_of_it_is_said() {
        let asked = AskCool {
            depth: "2 m".to_owned(),
            place_at: "70F".to_owned(),
            food: "lava".to_owned(),
            ..AskCool::default()
        };
        let faults = asked.checked().unwrap_err();
        let fields: Vec<_> = faults.iter().map(|it| it.field).collect();
        assert_eq!(fields, ["food", "depth", "place_at"]);
        let faults = said(&faults);
        assert_eq!(faults.len(), 3, "{faults:?}");
        assert!(
            faults[0].starts_with("lava is not known here; a food is one of: soup, stew"),
            "{faults:?}"
        );
        assert!(faults[1].contains("2 m is not a depth"), "{faults:?}");
        assert!(
            faults[2].starts_with("Fridge is between -1 C (30 F) and 8 C (46 F); 70F is not."),
            "{faults:?}"
        );
        let depth = |text: &str| AskCool { depth: text.to_owned(), ..AskCool::default() };
        assert!(depth("0 cm").checked().is_err() && depth("").checked().is_err());
        assert!(depth("15 mm").checked().is_ok());
    }

    #[test]
    fn a_joint_needs_a_measure_and_an_end_point_that_can_be_reached() {
        assert_eq!(AskRoast::default().checked().unwrap_err()[0].what, Nonsense::NoJoint);
        let joint = |pull: &str, oven: &str| AskRoast {
            weight: "1.2 kg".to_owned(),
            pull: pull.to_owned(),
            oven: oven.to_owned(),
            ..AskRoast::default()
        };
        assert!(joint("120F", "425F").checked().is_ok());
        assert!(joint("120C", "220C").checked().is_err(), "Celsius typed for Fahrenheit");
        assert!(joint("60C", "60C").checked().is_err());
    }
}
