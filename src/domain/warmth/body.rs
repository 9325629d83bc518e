//! A body in layers, marched through time. The unknown is heat, so that ice needs no special case.

use super::air::{Edge, Face, Line};
use super::food::Substance;

/// Thickness of the layered direction in metres; `round` 0 a slab, 1 a cylinder, 2 a ball, counted from the middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    pub thickness_m: f64,
    pub round: f64,
}

/// How long the steps of time are, and how often a step is looked at again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    pub first_s: f64,
    pub growth: f64,
    pub most_s: f64,
    pub passes: usize,
    /// Backward steps only (steady, first order) instead of centred ones after four.
    pub backward: bool,
}

impl Pace {
    /// Cooling and warming of unfrozen food.
    pub const PAN: Self =
        Self { first_s: 10.0, growth: 1.1, most_s: 300.0, passes: 1, backward: false };
    /// Ovens: steep at the surface.
    pub const OVEN: Self =
        Self { first_s: 5.0, growth: 1.05, most_s: 30.0, passes: 4, backward: false };
    /// While ice forms or melts.
    pub const ICE: Self =
        Self { first_s: 5.0, growth: 1.05, most_s: 60.0, passes: 12, backward: true };
}

/// The state: heat of each layer, and both faces.
#[derive(Clone, Copy, Debug)]
pub struct Layers<const N: usize> {
    heat: [f64; N],
    left: Edge,
    right: Edge,
}

/// What is told after each step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glance {
    pub seconds: f64,
    pub hottest: f64,
    pub coldest: f64,
    pub mean: f64,
    /// The innermost layer, at the left face.
    pub middle: f64,
    pub left_surface: f64,
    pub right_surface: f64,
    /// Heat come in so far through each face, J for the area of the body (a slab: for 1 m²).
    pub through_left: f64,
    pub through_right: f64,
}

/// Where the heat went.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ledger {
    pub seconds: f64,
    pub steps: usize,
    pub through_left: f64,
    pub through_right: f64,
}

impl<const N: usize> Layers<N> {
    #[must_use]
    pub fn at(substance: &Substance, celsius: f64) -> Self {
        let edge = Edge::at(celsius);
        Self { heat: [substance.heat_at(celsius); N], left: edge, right: edge }
    }

    /// Heat of the whole body, J (a slab: for 1 m²).
    #[must_use]
    pub fn total(&self, shape: Shape) -> f64 {
        let grid = Grid::<N>::of(shape);
        self.heat.iter().zip(&grid.volume).map(|(heat, volume)| heat * volume).sum()
    }

    #[must_use]
    pub fn celsius(&self, substance: &Substance, layer: usize) -> f64 {
        substance.read(self.heat[layer]).celsius
    }

    #[must_use]
    pub fn heat(&self, layer: usize) -> f64 {
        self.heat[layer]
    }
}

struct Grid<const N: usize> {
    layer_m: f64,
    volume: [f64; N],
    /// Outer face of each layer over the thickness; the innermost face apart.
    led: [f64; N],
    inner: f64,
    outer: f64,
}

impl<const N: usize> Grid<N> {
    fn of(shape: Shape) -> Self {
        let layer_m = shape.thickness_m / N as f64;
        let round = shape.round;
        let slab = round <= 0.0;
        let area = |i: usize| if slab { 1.0 } else { (i as f64 * layer_m).powf(round) };
        let filled = |i: usize| (i as f64 * layer_m).powf(round + 1.0) / (round + 1.0);
        let mut volume = [layer_m; N];
        let mut led = [1.0 / layer_m; N];
        if !slab {
            for i in 0..N {
                volume[i] = filled(i + 1) - filled(i);
                led[i] = area(i + 1) / layer_m;
            }
        }
        Self { layer_m, volume, led, inner: area(0), outer: area(N) }
    }
}

/// What is read of every layer at the present guess.
struct Look<const N: usize> {
    celsius: [f64; N],
    celsius_per_heat: [f64; N],
    led: [f64; N],
    led_per_heat: [f64; N],
    leads_left: f64,
    leads_right: f64,
}

impl<const N: usize> Look<N> {
    const EMPTY: Self = Self {
        celsius: [0.0; N],
        celsius_per_heat: [0.0; N],
        led: [0.0; N],
        led_per_heat: [0.0; N],
        leads_left: 0.0,
        leads_right: 0.0,
    };

    #[inline]
    fn read(&mut self, substance: &Substance, heat: &[f64; N]) {
        for (i, heat) in heat.iter().enumerate() {
            let it = substance.read(*heat);
            self.celsius[i] = it.celsius;
            self.celsius_per_heat[i] = it.celsius_per_heat;
            self.led[i] = it.led;
            self.led_per_heat[i] = it.led_per_heat;
            if i == 0 {
                self.leads_left = it.leads;
            }
            if i == N - 1 {
                self.leads_right = it.leads;
            }
        }
    }
}

/// Marches for at most `seconds`; `tell` hears of the start and of every step, and stops it with `false`.
pub fn march<const N: usize>(
    layers: &mut Layers<N>,
    substance: &Substance,
    shape: Shape,
    faces: [&Face; 2],
    pace: &Pace,
    seconds: f64,
    mut tell: impl FnMut(&Glance) -> bool,
) -> Ledger {
    let grid = Grid::<N>::of(shape);
    let whole: f64 = 1.0 / grid.volume.iter().sum::<f64>();
    let mut look = Look::<N>::EMPTY;
    look.read(substance, &layers.heat);
    let mut ledger = Ledger::default();
    let mut step_s = pace.first_s;
    let mut glance = glance_at(layers, &look, &grid, whole, &ledger);
    if !tell(&glance) {
        return ledger;
    }
    while ledger.seconds < seconds - 1e-9 {
        let taken = step_s.min(seconds - ledger.seconds);
        let icy = substance.may_be_icy(glance.coldest);
        let now = if pace.backward || icy || ledger.steps < 4 { 1.0 } else { 0.5 };
        let passes = match (icy, ledger.steps) {
            (true, _) => pace.passes.max(12),
            (false, 0..4) => pace.passes.max(2),
            _ => pace.passes,
        };
        let before = [layers.left.heat, layers.right.heat];
        one_step(layers, &mut look, substance, &grid, faces, &Step { taken, now, passes });
        ledger.through_left +=
            taken * grid.inner * (now * layers.left.heat + (1.0 - now) * before[0]);
        ledger.through_right +=
            taken * grid.outer * (now * layers.right.heat + (1.0 - now) * before[1]);
        ledger.seconds += taken;
        ledger.steps += 1;
        glance = glance_at(layers, &look, &grid, whole, &ledger);
        if !tell(&glance) {
            break;
        }
        step_s = (step_s * pace.growth).min(pace.most_s);
    }
    ledger
}

struct Step {
    taken: f64,
    /// The share of the new state in the flow: 1 backward, 0.5 centred.
    now: f64,
    passes: usize,
}

/// J/m³, about a hundred-thousandth of a degree.
const SETTLED: f64 = 30.0;

fn one_step<const N: usize>(
    layers: &mut Layers<N>,
    look: &mut Look<N>,
    substance: &Substance,
    grid: &Grid<N>,
    faces: [&Face; 2],
    step: &Step,
) {
    let now = step.now;
    let before = layers.heat;
    let flowed = if now < 1.0 { flow_of_old(layers, look, grid, 1.0 - now) } else { [0.0; N] };
    let per_step = 1.0 / step.taken;
    let half = 2.0 / grid.layer_m;
    for _ in 0..step.passes {
        let left = layers.left.line(faces[0], half * look.leads_left);
        let right = layers.right.line(faces[1], half * look.leads_right);
        let (ahead, known) =
            eliminated(layers, look, grid, &before, &flowed, [left, right], [per_step, now]);
        let mut change = 0.0;
        let mut most: f64 = 0.0;
        let mut last_change = 0.0;
        for i in (0..N).rev() {
            change = known[i] - ahead[i] * change;
            layers.heat[i] += change;
            most = most.max(change.abs());
            if i == N - 1 {
                last_change = change;
            }
        }
        let moved = |i: usize, by: f64| look.celsius[i] + by * look.celsius_per_heat[i];
        layers.left.settle(faces[0], left, moved(0, change));
        layers.right.settle(faces[1], right, moved(N - 1, last_change));
        look.read(substance, &layers.heat);
        if most < SETTLED {
            break;
        }
    }
}

/// The share `old` of the flow between layers and through the faces, from the state before the step.
#[inline]
fn flow_of_old<const N: usize>(
    layers: &Layers<N>,
    look: &Look<N>,
    grid: &Grid<N>,
    old: f64,
) -> [f64; N] {
    let mut flowed = [0.0; N];
    flowed[0] = old * grid.inner * layers.left.heat;
    flowed[N - 1] += old * grid.outer * layers.right.heat;
    for i in 0..N - 1 {
        let flow = old * grid.led[i] * (look.led[i + 1] - look.led[i]);
        flowed[i] += flow;
        flowed[i + 1] -= flow;
    }
    flowed
}

/// The three-banded system of one pass, assembled and eliminated in one sweep: what flows out of one
/// layer is what flows into the next, so that no heat is lost between them.
#[inline]
fn eliminated<const N: usize>(
    layers: &Layers<N>,
    look: &Look<N>,
    grid: &Grid<N>,
    before: &[f64; N],
    flowed: &[f64; N],
    faces: [Line; 2],
    [per_step, now]: [f64; 2],
) -> ([f64; N], [f64; N]) {
    let (mut ahead, mut known) = ([0.0; N], [0.0; N]);
    let [left, right] = faces;
    let (mut came, mut came_slope, mut lower) = (0.0, 0.0, 0.0);
    let (mut last_ahead, mut last_known) = (0.0, 0.0);
    for i in 0..N {
        let held = grid.volume[i] * per_step;
        let mut diagonal = held + came_slope * look.led_per_heat[i];
        let mut right_side = flowed[i] - held * (layers.heat[i] - before[i]) - came;
        let mut upper = 0.0;
        if i == 0 {
            right_side += now * grid.inner * (left.most - left.slope * look.celsius[0]);
            diagonal += now * grid.inner * left.slope * look.celsius_per_heat[0];
        }
        if i < N - 1 {
            let led = now * grid.led[i];
            came = led * (look.led[i + 1] - look.led[i]);
            came_slope = led;
            right_side += came;
            diagonal += led * look.led_per_heat[i];
            upper = -led * look.led_per_heat[i + 1];
        } else {
            right_side += now * grid.outer * (right.most - right.slope * look.celsius[i]);
            diagonal += now * grid.outer * right.slope * look.celsius_per_heat[i];
        }
        let pivot = 1.0 / (diagonal - lower * last_ahead);
        last_ahead = upper * pivot;
        last_known = (right_side - lower * last_known) * pivot;
        ahead[i] = last_ahead;
        known[i] = last_known;
        lower = -came_slope * look.led_per_heat[i];
    }
    (ahead, known)
}

#[inline]
fn glance_at<const N: usize>(
    layers: &Layers<N>,
    look: &Look<N>,
    grid: &Grid<N>,
    whole: f64,
    ledger: &Ledger,
) -> Glance {
    let (mut hottest, mut coldest, mut sum) = (look.celsius[0], look.celsius[0], 0.0);
    for i in 0..N {
        let celsius = look.celsius[i];
        hottest = if celsius > hottest { celsius } else { hottest };
        coldest = if celsius < coldest { celsius } else { coldest };
        sum += celsius * grid.volume[i];
    }
    Glance {
        seconds: ledger.seconds,
        hottest,
        coldest,
        mean: sum * whole,
        middle: look.celsius[0],
        left_surface: layers.left.food_c,
        right_surface: layers.right.food_c,
        through_left: ledger.through_left,
        through_right: ledger.through_right,
    }
}
