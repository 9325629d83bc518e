//! How long a dish stays on the right side of its mark: under foil, in an insulated box, on ice.

use super::air::Face;
use super::body::{Layers, Pace, Shape, march};
use super::cooling::Pan;
use super::food::Substance;
use super::forecast::Band;
use super::place::{Around, Cover, Place, Run, Vessel};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HoldIn {
    /// On the table as it is.
    Open,
    Foil,
    /// A box of foam, 3 cm thick, closed.
    Box,
    /// Standing in ice up to its level.
    Ice,
}

impl HoldIn {
    pub const ALL: [Self; 4] = [Self::Open, Self::Foil, Self::Box, Self::Ice];

    /// Ways to keep it hot, and ways to keep it cold.
    pub const HOT: [Self; 3] = [Self::Open, Self::Foil, Self::Box];
    pub const COLD: [Self; 3] = [Self::Open, Self::Box, Self::Ice];

    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open on the table",
            Self::Foil => "under foil",
            Self::Box => "in an insulated box",
            Self::Ice => "standing in ice",
        }
    }

    fn around(self, vessel: Vessel, kitchen_c: f64) -> Around {
        let at = |place, cover, vessel| {
            let celsius = (place == Place::Room).then_some(kitchen_c);
            Around::of(place, celsius, cover, vessel, Run::Nominal)
        };
        match self {
            Self::Open => at(Place::Room, Cover::Open, vessel),
            Self::Foil => at(Place::Room, Cover::Foil, vessel),
            Self::Ice => {
                let mut it = at(Place::IceBath, Cover::Foil, vessel);
                it.top = at(Place::Room, Cover::Foil, vessel).top;
                it
            }
            Self::Box => {
                let mut it = at(Place::Room, Cover::Foil, Vessel::Foam);
                it.top = match it.top {
                    Face::Lidded(air) => Face::Open(air.behind(Vessel::Foam.wall())),
                    other => other,
                };
                it
            }
        }
    }
}

/// From `start_c` until it passes `mark_c`, upwards or downwards by where the start lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    pub pan: Pan,
    pub start_c: f64,
    pub mark_c: f64,
    pub kitchen_c: f64,
}

/// Minutes until the mean and until the worst place passes the mark; none: not within eight hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    pub inside: Option<Band>,
    pub edge: Option<Band>,
}

const LONGEST_S: f64 = 8.0 * 3600.0;

#[must_use]
pub fn held(food: &Substance, asked: &Hold, place: HoldIn) -> Held {
    let around = place.around(asked.pan.vessel, asked.kitchen_c);
    let shape = Shape { thickness_m: asked.pan.depth_m, round: 0.0 };
    let hot = asked.start_c > asked.mark_c;
    let mut layers = Layers::<30>::at(food, asked.start_c);
    let (mut mean, mut worst) = (Watch::at(asked), Watch::at(asked));
    march(&mut layers, food, shape, [&around.bottom, &around.top], &Pace::PAN, LONGEST_S, |it| {
        let minutes = it.seconds / 60.0;
        let (low, high) =
            (it.left_surface.min(it.right_surface), it.left_surface.max(it.right_surface));
        let far = if hot { low.min(it.coldest) } else { high.max(it.hottest) };
        mean.see(minutes, it.mean, asked.mark_c);
        worst.see(minutes, far, asked.mark_c);
        mean.passed.is_none() || worst.passed.is_none()
    });
    let band = |it: Option<f64>| it.map(|it| Band::around(it, 0.6, 1.3));
    Held { inside: band(mean.passed), edge: band(worst.passed) }
}

/// Watches one figure pass the mark, from whichever side.
struct Watch {
    last: (f64, f64),
    passed: Option<f64>,
}

impl Watch {
    const fn at(asked: &Hold) -> Self {
        Self { last: (0.0, asked.start_c), passed: None }
    }

    fn see(&mut self, minutes: f64, celsius: f64, mark: f64) {
        let (before, now) = (self.last.1 - mark, celsius - mark);
        if self.passed.is_none() && before * now < 0.0 {
            self.passed = Some(self.last.0 + (minutes - self.last.0) * before / (before - now));
        }
        self.last = (minutes, celsius);
    }
}
