//! Where food cools, and how well: every place three times, slow, nominal and quick.
//!
//! Coefficients are judgement within what was published (MEMORY where no source stands beside them):
//! even measured ones for food are only known to within a third.

use super::air::{Air, Face};
use super::celsius;

/// One of the three answers that are always given together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Run {
    Slow,
    Nominal,
    Quick,
}

impl Run {
    pub const ALL: [Self; 3] = [Self::Slow, Self::Nominal, Self::Quick];

    /// How well the air carries heat, against the nominal.
    const fn air(self) -> f64 {
        match self {
            Self::Slow => 0.6,
            Self::Nominal => 1.0,
            Self::Quick => 1.4,
        }
    }

    const fn wetness(self) -> f64 {
        match self {
            Self::Slow => 0.1,
            Self::Nominal => 0.35,
            Self::Quick => 0.7,
        }
    }

    /// A refrigerator is seldom where its dial stands: 2 F either way.
    const fn drift_c(self) -> f64 {
        match self {
            Self::Slow => 2.0 / 1.8,
            Self::Nominal => 0.0,
            Self::Quick => -2.0 / 1.8,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    HomeFridge,
    WalkInFridge,
    HomeFreezer,
    WalkInFreezer,
    BlastChiller,
    IceBath,
    /// From the tap, moved now and then.
    ColdWater,
    Room,
}

impl Place {
    pub const ALL: [Self; 8] = [
        Self::HomeFridge,
        Self::WalkInFridge,
        Self::HomeFreezer,
        Self::WalkInFreezer,
        Self::BlastChiller,
        Self::IceBath,
        Self::ColdWater,
        Self::Room,
    ];

    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::HomeFridge => "fridge",
            Self::WalkInFridge => "walk-in",
            Self::HomeFreezer => "freezer",
            Self::WalkInFreezer => "walk-in freezer",
            Self::BlastChiller => "blast chiller",
            Self::IceBath => "ice bath",
            Self::ColdWater => "cold water",
            Self::Room => "room",
        }
    }

    /// At the start of a sentence.
    #[must_use]
    pub fn named_first(self) -> String {
        let word = self.word();
        word[..1].to_uppercase() + &word[1..]
    }

    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase().replace('_', " ");
        Self::ALL.into_iter().find(|it| it.word() == word || it.word().replace(' ', "-") == word)
    }

    /// Where its air (or water) stands unless something else is said.
    #[must_use]
    pub const fn usual_c(self) -> f64 {
        match self {
            Self::HomeFridge | Self::WalkInFridge => celsius(38.0),
            Self::HomeFreezer => -18.0,
            Self::WalkInFreezer => -20.0,
            Self::BlastChiller => -10.0,
            Self::IceBath => 0.5,
            Self::ColdWater => 14.0,
            Self::Room => 22.0,
        }
    }

    /// The least and the most its air can be: beyond it the word is wrong or the figure is.
    #[must_use]
    pub const fn can_be_c(self) -> (f64, f64) {
        match self {
            Self::HomeFridge | Self::WalkInFridge => (-1.0, 8.0),
            Self::HomeFreezer | Self::WalkInFreezer => (-40.0, -5.0),
            Self::BlastChiller => (-40.0, 3.0),
            Self::IceBath => (0.0, 5.0),
            Self::ColdWater => (1.0, 25.0),
            Self::Room => (10.0, 45.0),
        }
    }

    /// A bath of water up to the level of the food.
    #[must_use]
    pub const fn is_bath(self) -> bool {
        matches!(self, Self::IceBath | Self::ColdWater)
    }

    /// Air over an open top.
    fn top(self, at: f64, run: Run) -> Air {
        let (forced, natural, share) = match self {
            Self::HomeFridge | Self::HomeFreezer | Self::IceBath => (2.0, RISES, 0.6),
            Self::WalkInFridge => (9.0, 0.0, 0.8),
            Self::WalkInFreezer => (12.0, 0.0, 0.8),
            Self::BlastChiller => (30.0, 0.0, 0.8),
            // Over tap water stands the air of the kitchen.
            Self::ColdWater | Self::Room => (1.0, RISES, 0.5),
        };
        let (forced, natural) = (forced * run.air(), natural * run.air());
        Air::plain(at, forced).natural(natural).sees(0.95).wet(run.wetness(), share)
    }

    /// Under the dish, on a shelf; in a bath the water reaches up to the food's level.
    fn bottom(self, at: f64, run: Run, vessel: Vessel) -> Air {
        let (forced, natural, emissivity, wall) = match self {
            Self::HomeFridge | Self::HomeFreezer => (2.0, SINKS, 0.35, 0.0),
            Self::WalkInFridge => (6.0, 0.0, 0.35, 0.0),
            Self::WalkInFreezer => (9.0, 0.0, 0.35, 0.0),
            Self::BlastChiller => (25.0, 0.0, 0.35, 0.0),
            Self::IceBath | Self::ColdWater => (bath(run), 0.0, 0.0, 0.0),
            Self::Room => (1.0, SINKS, 0.0, TABLE),
        };
        let part = if self.is_bath() { 1.0 } else { run.air() };
        Air::plain(at, forced * part)
            .natural(natural * part)
            .sees(emissivity)
            .behind(vessel.wall() + wall)
    }

    fn side(self, run: Run) -> f64 {
        match self {
            Self::HomeFridge | Self::HomeFreezer | Self::Room => 8.0 * run.air(),
            Self::WalkInFridge => 9.0 * run.air(),
            Self::WalkInFreezer => 12.0 * run.air(),
            Self::BlastChiller => 25.0 * run.air(),
            Self::IceBath | Self::ColdWater => bath(run) * 2.0 / 3.0,
        }
    }
}

/// Still air over and under a dish 25 cm wide: 1.32 and 0.59 over the fourth root of its width.
const RISES: f64 = 1.866_761_902_332_486;
const SINKS: f64 = 0.834_386_001_800_126_1;
/// A wooden table under a dish, m²K/W.
const TABLE: f64 = 0.02;

/// Ice water against a pan; the slow bath is one that nobody moves and that is 3 C warmer.
const fn bath(run: Run) -> f64 {
    match run {
        Run::Slow => 60.0,
        Run::Nominal => 150.0,
        Run::Quick => 300.0,
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Vessel {
    Metal,
    Glass,
    Ceramic,
    Plastic,
    Foam,
}

impl Vessel {
    pub const ALL: [Self; 5] = [Self::Metal, Self::Glass, Self::Ceramic, Self::Plastic, Self::Foam];

    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metal => "metal",
            Self::Glass => "glass",
            Self::Ceramic => "ceramic",
            Self::Plastic => "plastic",
            Self::Foam => "foam",
        }
    }

    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == word.trim().to_lowercase())
    }

    /// m²K/W. Plastic: Dickerson and Read 1973 (an eighth of an inch acts like an eighth more food).
    #[must_use]
    pub const fn wall(self) -> f64 {
        match self {
            Self::Metal => 0.0003,
            Self::Glass | Self::Ceramic => 0.005,
            Self::Plastic => 0.01,
            Self::Foam => 0.9,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cover {
    Open,
    /// Lying on the food.
    Film,
    Lid,
    Foil,
}

impl Cover {
    pub const ALL: [Self; 4] = [Self::Open, Self::Film, Self::Lid, Self::Foil];

    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Film => "film",
            Self::Lid => "lid",
            Self::Foil => "foil",
        }
    }

    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == word.trim().to_lowercase())
    }

    pub(super) fn over(self, air: Air) -> Face {
        let dry = Air { wetness: 0.0, ..air };
        match self {
            Self::Open => Face::Open(air),
            Self::Film => Face::Open(Air { emissivity: 0.9, ..dry }.behind(1e-4)),
            Self::Lid => Face::Lidded(Air { emissivity: 0.9, ..dry }),
            Self::Foil => Face::Lidded(Air { emissivity: 0.08, ..dry }),
        }
    }
}

/// All that surrounds a dish.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    pub bottom: Face,
    pub top: Face,
    /// Lost at the sides, W/m²/K, and to what.
    pub side: f64,
    pub celsius: f64,
}

impl Around {
    #[must_use]
    pub fn of(place: Place, celsius: Option<f64>, cover: Cover, vessel: Vessel, run: Run) -> Self {
        let said = celsius.unwrap_or(place.usual_c());
        let bath = match run {
            Run::Slow if place == Place::IceBath => 1.7,
            Run::Slow => 2.0,
            Run::Quick if place == Place::ColdWater => -2.0,
            Run::Nominal | Run::Quick => 0.0,
        };
        let at = said + if place.is_bath() { bath } else { run.drift_c() };
        let above = match place {
            // Over an ice bath stands the air of a refrigerator, over tap water that of the kitchen.
            Place::IceBath => Place::HomeFridge.usual_c() + run.drift_c(),
            Place::ColdWater => Place::Room.usual_c() + run.drift_c(),
            _ => at,
        };
        Self {
            bottom: Face::Open(place.bottom(at, run, vessel)),
            top: cover.over(place.top(above, run)),
            side: side_through(place.side(run), vessel),
            celsius: at,
        }
    }
}

/// The sides are of the same stuff as the bottom.
fn side_through(side: f64, vessel: Vessel) -> f64 {
    1.0 / (1.0 / side + vessel.wall())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::warmth::boil_pressure_kpa;

    #[test]
    fn still_air_figures_are_those_of_a_dish_25_cm_wide() {
        assert!((RISES - 1.32 / 0.25_f64.powf(0.25)).abs() < 1e-12);
        assert!((SINKS - 0.59 / 0.25_f64.powf(0.25)).abs() < 1e-12);
        assert!((boil_pressure_kpa(100.0) - 101.3).abs() < 1.5);
    }

    #[test]
    fn words_are_found_again() {
        for place in Place::ALL {
            assert_eq!(Place::named(place.word()), Some(place));
        }
        assert_eq!(Place::named("ice-bath"), Some(Place::IceBath));
        assert_eq!(Vessel::named("Glass "), Some(Vessel::Glass));
        assert_eq!(Cover::named("lid"), Some(Cover::Lid));
    }
}
