//! Made ahead, then into the oven: minutes from the fridge, the room or the freezer.

use super::air::{Air, Face};
use super::body::{Layers, Pace, Shape, march};
use super::cooling::Pan;
use super::food::Substance;
use super::forecast::Band;
use super::place::Cover;
use super::side::{Side, Sides};

/// Vapour in the air of an oven, kPa.
const VAPOUR_KPA: f64 = 5.0;
/// Of a browning top: a skin forms early.
const WETNESS: f64 = 0.2;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oven {
    pub celsius: f64,
    pub fan: bool,
}

impl Oven {
    /// Moved by warmth (6) or by a fan (17 W/m²/K), beside the radiation of its walls.
    const fn moved(self) -> f64 {
        if self.fan { 17.0 } else { 6.0 }
    }

    /// Over food that lies open.
    #[must_use]
    pub const fn over(self, wetness: f64) -> Air {
        Air::plain(self.celsius, self.moved()).sees(0.9).wet_in(wetness, VAPOUR_KPA)
    }

    const fn under(self, wall: f64) -> Air {
        Air::plain(self.celsius, self.moved()).sees(0.9).behind(wall)
    }
}

/// How a dish warms: until its coldest place reaches `until_c`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warming {
    pub pan: Pan,
    pub oven: Oven,
    pub start_c: f64,
    pub until_c: f64,
}

const SIDE: f64 = 12.0;
const LONGEST_S: f64 = 6.0 * 3600.0;

/// Minutes: a quarter either way, which is also what was seen between fridge and room.
/// None: the coldest place does not get there within six hours.
#[must_use]
pub fn warmed(food: &Substance, asked: &Warming) -> Option<Band> {
    let seconds = seconds_to(food, asked)?;
    Some(Band::around(seconds / 60.0, 0.75, 1.25))
}

fn seconds_to(food: &Substance, asked: &Warming) -> Option<f64> {
    let pan = &asked.pan;
    let top = match pan.cover {
        Cover::Open => Face::Open(asked.oven.over(WETNESS)),
        Cover::Film => Face::Open(asked.oven.over(0.0)),
        Cover::Lid => Face::Lidded(asked.oven.over(0.0)),
        Cover::Foil => Face::Lidded(Air { emissivity: 0.1, ..asked.oven.over(0.0) }),
    };
    let bottom = Face::Open(asked.oven.under(pan.vessel.wall()));
    let side = |width_m: f64| Some(Side::of(width_m, SIDE, food.leads, food.spreads));
    let sides = Sides { width: side(pan.width_m), length: side(pan.length_m) };
    let shape = Shape { thickness_m: pan.depth_m, round: 0.0 };
    let mut layers = Layers::<40>::at(food, asked.start_c);
    let frozen = asked.start_c < 0.0;
    let pace = if frozen { Pace::ICE } else { Pace::OVEN };
    let (mut last, mut found) = ((0.0, asked.start_c), None);
    // The sides of ice are not those of food: a frozen dish gets no help from them.
    march(&mut layers, food, shape, [&bottom, &top], &pace, LONGEST_S, |it| {
        let left = if frozen { 1.0 } else { sides.left(it.seconds) };
        let coldest = asked.oven.celsius + (it.coldest - asked.oven.celsius) * left;
        if coldest >= asked.until_c {
            let part = ((asked.until_c - last.1) / (coldest - last.1).max(1e-9)).clamp(0.0, 1.0);
            found = Some(last.0 + (it.seconds - last.0) * part);
        }
        last = (it.seconds, coldest);
        found.is_none()
    });
    found
}
