//! A roast: when to look first, when it may reach its end point, and how far it rises at rest.
//!
//! A forecast rise never counts as cooking: only measured readings do (`limit::roast`).

use super::air::{Air, Face};
use super::body::{Layers, Pace, Shape, march};
use super::food::Substance;
use super::forecast::Band;
use super::oven::Oven;

/// What was measured of the joint; a rule of thumb stands in for the rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Known {
    AcrossAndLong {
        across_m: f64,
        long_m: f64,
    },
    AcrossAndWeight {
        across_m: f64,
        kilograms: f64,
    },
    /// Half as long again as it is wide: a guess, and the band says so.
    Weight {
        kilograms: f64,
    },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rest {
    Open,
    Foil,
}

/// A joint in an oven until its middle reaches `pull_c`, then at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    pub known: Known,
    pub start_c: f64,
    pub oven: Oven,
    pub pull_c: f64,
    pub rest: Rest,
    pub rest_minutes: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roasted {
    pub first_check_minutes: f64,
    pub minutes: Band,
    /// Of the middle at rest, in kelvin: a quarter of the reckoned rise to all of it.
    pub rise: (f64, f64),
    /// Across and long as reckoned, in metres.
    pub across_m: f64,
    pub long_m: f64,
    pub guessed_shape: bool,
}

const MEAT_KILOGRAMS_A_CUBIC_METRE: f64 = 1053.0;
/// In the oven a crust holds moisture back; at rest juices come out.
const WET_IN_OVEN: f64 = 0.2;
const WET_AT_REST: f64 = 1.0;
const LONGEST_S: f64 = 10.0 * 3600.0;

impl Known {
    fn across_and_long(self) -> (f64, f64) {
        let long_of = |across: f64, kilograms: f64| {
            kilograms
                / MEAT_KILOGRAMS_A_CUBIC_METRE
                / (std::f64::consts::FRAC_PI_4 * across * across)
        };
        match self {
            Self::AcrossAndLong { across_m, long_m } => (across_m, long_m),
            Self::AcrossAndWeight { across_m, kilograms } => {
                (across_m, long_of(across_m, kilograms).max(across_m * 0.8))
            }
            Self::Weight { kilograms } => {
                let volume = kilograms / MEAT_KILOGRAMS_A_CUBIC_METRE;
                let across = (volume / (1.5 * std::f64::consts::FRAC_PI_4)).cbrt();
                (across, 1.5 * across)
            }
        }
    }
}

/// None: the middle does not reach the end point within ten hours, or the oven is no hotter than it.
#[must_use]
pub fn roasted(food: &Substance, joint: &Joint) -> Option<Roasted> {
    let (across_m, long_m) = joint.known.across_and_long();
    let guessed_shape = matches!(joint.known, Known::Weight { .. });
    let (seconds, peak_c) = to_pull_and_peak(food, joint, across_m, long_m)?;
    let minutes = seconds / 60.0;
    let (quick, slow) = if guessed_shape { (0.7, 1.3) } else { (0.8, 1.2) };
    let rise = (peak_c - joint.pull_c).max(0.0);
    Some(Roasted {
        first_check_minutes: minutes * 0.7,
        minutes: Band::around(minutes, quick, slow),
        rise: (0.25 * rise, rise),
        across_m,
        long_m,
        guessed_shape,
    })
}

fn to_pull_and_peak(
    food: &Substance,
    joint: &Joint,
    across_m: f64,
    long_m: f64,
) -> Option<(f64, f64)> {
    // Surface over volume sets how round it is: 1 a long cylinder, 2 a ball.
    let shape = Shape { thickness_m: across_m / 2.0, round: 1.0 + across_m / long_m };
    let mut layers = Layers::<60>::at(food, joint.start_c);
    let oven = Face::Open(joint.oven.over(WET_IN_OVEN));
    let (mut last, mut found) = ((0.0, joint.start_c), None);
    let mut before = layers;
    // In stretches of a minute, so that the rest begins at the end point and not a step after it.
    while found.is_none() {
        if last.0 > LONGEST_S {
            return None;
        }
        before = layers;
        let start_s = last.0;
        let mut reached = last.1;
        let ledger =
            march(&mut layers, food, shape, [&Face::Insulated, &oven], &Pace::OVEN, 60.0, |it| {
                reached = it.middle;
                true
            });
        if reached >= joint.pull_c {
            let part = ((joint.pull_c - last.1) / (reached - last.1).max(1e-9)).clamp(0.0, 1.0);
            found = Some(start_s + ledger.seconds * part);
        }
        last = (start_s + ledger.seconds, reached);
    }
    let seconds = found?;
    let remaining = seconds - (last.0 - 60.0);
    march(&mut before, food, shape, [&Face::Insulated, &oven], &Pace::OVEN, remaining, |_| true);
    Some((seconds, peak(food, joint, &mut before, shape, across_m)))
}

/// The hottest the middle gets while it rests.
fn peak(
    food: &Substance,
    joint: &Joint,
    layers: &mut Layers<60>,
    shape: Shape,
    across_m: f64,
) -> f64 {
    const KITCHEN_C: f64 = 22.0;
    let air = Air::plain(KITCHEN_C, 1.0).natural(1.3 / across_m.powf(0.25));
    let around = match joint.rest {
        Rest::Open => Face::Open(air.sees(0.9).wet(WET_AT_REST, 0.5)),
        Rest::Foil => Face::Lidded(air.sees(0.1)),
    };
    let mut peak = joint.pull_c;
    let seconds = joint.rest_minutes * 60.0;
    march(layers, food, shape, [&Face::Insulated, &around], &Pace::OVEN, seconds, |it| {
        peak = peak.max(it.middle);
        true
    });
    peak
}
