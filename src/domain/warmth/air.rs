//! What touches a surface: moving air, warm walls, drying, a lid with a gap, the wall of a dish.

/// Stefan-Boltzmann, W/m²/K⁴.
const RADIATES: f64 = 5.670_374e-8;
/// Pressure of the room, kPa.
const ROOM_KPA: f64 = 101.325;
/// Heat carried off by vapour for each W/m²/K of air and kPa of difference (Lewis relation, MEMORY).
const DRIES: f64 = 16.5;

/// Pressure of vapour over water, kPa.
#[must_use]
#[inline]
pub fn boil_pressure_kpa(celsius: f64) -> f64 {
    0.610_78 * (17.27 * celsius / (celsius + 237.3)).exp()
}

#[inline]
fn boil_pressure_and_slope(celsius: f64) -> (f64, f64) {
    let pressure = boil_pressure_kpa(celsius);
    let from = celsius + 237.3;
    (pressure, pressure * 17.27 * 237.3 / (from * from))
}

/// Surroundings of one surface. Coefficients in W/m²/K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    pub celsius: f64,
    /// Moved by a fan or by stirring.
    pub forced: f64,
    /// Moved by warmth alone: this times the fourth root of the difference.
    pub natural: f64,
    pub emissivity: f64,
    pub walls_celsius: f64,
    /// 0 dry or under a skin, 1 open water.
    pub wetness: f64,
    pub vapour_kpa: f64,
    /// Of a dish or wrap between food and air, m²K/W. Nothing dries through it.
    pub wall: f64,
}

impl Air {
    /// Dry, without radiation.
    #[must_use]
    pub const fn plain(celsius: f64, forced: f64) -> Self {
        Self {
            celsius,
            forced,
            natural: 0.0,
            emissivity: 0.0,
            walls_celsius: celsius,
            wetness: 0.0,
            vapour_kpa: 0.0,
            wall: 0.0,
        }
    }

    #[must_use]
    pub const fn natural(self, natural: f64) -> Self {
        Self { natural, ..self }
    }

    #[must_use]
    pub const fn sees(self, emissivity: f64) -> Self {
        Self { emissivity, ..self }
    }

    /// Wet, in air with this share of the vapour it can hold.
    #[must_use]
    pub fn wet(self, wetness: f64, share: f64) -> Self {
        Self { wetness, vapour_kpa: share * boil_pressure_kpa(self.celsius), ..self }
    }

    /// Wet, in air with this pressure of vapour.
    #[must_use]
    pub const fn wet_in(self, wetness: f64, vapour_kpa: f64) -> Self {
        Self { wetness, vapour_kpa, ..self }
    }

    #[must_use]
    pub const fn behind(self, wall: f64) -> Self {
        Self { wall, ..self }
    }

    /// Heat into a surface at `surface_c`, W/m², and how it changes with it.
    #[inline]
    fn into(&self, surface_c: f64) -> (f64, f64) {
        let off = surface_c - self.celsius;
        let distance = off.abs();
        let natural = if self.natural > 0.0 { self.natural * distance.sqrt().sqrt() } else { 0.0 };
        let moved = self.forced + natural;
        let mut heat = -moved * off;
        let mut slope = -(self.forced + 1.25 * natural);
        if self.emissivity > 0.0 {
            let (a, b) = (surface_c + 273.15, self.walls_celsius + 273.15);
            let (a2, b2) = (a * a, b * b);
            heat += RADIATES * self.emissivity * (b2 * b2 - a2 * a2);
            slope -= 4.0 * RADIATES * self.emissivity * a2 * a;
        }
        if self.wetness > 0.0 {
            let (dried, per_kelvin) = self.dried(surface_c);
            let carried = self.wetness * DRIES * ROOM_KPA;
            let moved_slope = if distance > 1e-6 { 0.25 * natural / off } else { 0.0 };
            heat -= carried * moved * dried;
            slope -= carried * (moved * per_kelvin + moved_slope * dried);
        }
        (heat, slope.min(-1e-9))
    }

    /// Stefan flow: without end at the boiling point, so that a wet surface never passes it. The last
    /// hundredths are a straight line, for the solver's sake.
    #[inline]
    fn dried(&self, surface_c: f64) -> (f64, f64) {
        const LAST_C: f64 = 99.5;
        let at = surface_c.min(LAST_C);
        let (pressure, slope) = boil_pressure_and_slope(at);
        let room = ROOM_KPA - pressure;
        let per_kelvin = slope / room;
        (((ROOM_KPA - self.vapour_kpa) / room).ln() + per_kelvin * (surface_c - at), per_kelvin)
    }
}

/// One face of the food.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Face {
    Insulated,
    Open(Air),
    /// Lid or foil over a head space full of vapour; the air is outside it, its emissivity the lid's.
    Lidded(Air),
}

/// Across the head space: air, and vapour condensing under the lid.
const GAP: f64 = 7.0;
const GAP_WET: f64 = 2.0 * DRIES;

impl Face {
    #[must_use]
    pub const fn air(&self) -> Option<&Air> {
        match self {
            Self::Insulated => None,
            Self::Open(air) | Self::Lidded(air) => Some(air),
        }
    }
}

/// A face as a straight line around where it is now: heat in = `most` - `slope` * layer temperature.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Line {
    pub most: f64,
    pub slope: f64,
}

/// What the march remembers of a face between steps.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Edge {
    /// Outside of the dish, where it touches the air.
    pub surface_c: f64,
    /// Of the food itself.
    pub food_c: f64,
    pub lid_c: f64,
    pub heat: f64,
    /// Of the line just drawn.
    inside: f64,
    bare: f64,
    outer: Line,
}

impl Edge {
    pub fn at(celsius: f64) -> Self {
        Self { surface_c: celsius, food_c: celsius, lid_c: celsius, ..Self::default() }
    }

    /// `inside`: from the middle of the outermost layer to its surface, W/m²/K.
    #[inline]
    pub fn line(&mut self, face: &Face, inside: f64) -> Line {
        self.bare = inside;
        let surface = match face {
            Face::Insulated => return Line::default(),
            Face::Open(air) => {
                let (heat, slope) = air.into(self.surface_c);
                self.inside =
                    if air.wall > 0.0 { inside / (1.0 + inside * air.wall) } else { inside };
                Line { most: heat - slope * self.surface_c, slope: -slope }
            }
            Face::Lidded(air) => {
                self.inside = inside;
                let (heat, slope) = air.into(self.lid_c);
                self.outer = Line { most: heat - slope * self.lid_c, slope: -slope };
                self.through_gap()
            }
        };
        let share = self.inside / (self.inside + surface.slope);
        Line { most: surface.most * share, slope: surface.slope * share }
    }

    fn through_gap(&self) -> Line {
        let (under, under_slope) = boil_pressure_and_slope(self.lid_c.min(100.0));
        let (over, over_slope) = boil_pressure_and_slope(self.surface_c.min(100.0));
        let crossing = GAP * (self.lid_c - self.surface_c) + GAP_WET * (under - over);
        let (lid, food) = (GAP + GAP_WET * under_slope, GAP + GAP_WET * over_slope);
        let most = crossing
            + lid * (self.outer.most / self.outer.slope - self.lid_c)
            + food * self.surface_c;
        let share = 1.0 / (1.0 + lid / self.outer.slope);
        Line { most: most * share, slope: food * share }
    }

    /// After the layer's new temperature is known.
    #[inline]
    pub fn settle(&mut self, face: &Face, line: Line, layer_c: f64) {
        self.heat = line.most - line.slope * layer_c;
        if matches!(face, Face::Insulated) {
            self.surface_c = layer_c;
            self.food_c = layer_c;
            return;
        }
        self.food_c = layer_c + self.heat / self.bare;
        // A guess is never moved further than a guess may be wrong.
        let surface = layer_c + self.heat / self.inside;
        self.surface_c += (surface - self.surface_c).clamp(-25.0, 25.0);
        if matches!(face, Face::Lidded(_)) {
            let lid = (self.outer.most - self.heat) / self.outer.slope;
            self.lid_c += (lid - self.lid_c).clamp(-25.0, 25.0);
        }
    }
}
