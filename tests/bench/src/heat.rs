//! A pan cooling: one run, the band with both depth searches, and a plain fine grid beside them.

use std::hint::black_box;

use crate::arithmetic::best;
use crate::goal::Goal::{Below, Open};
use crate::goal::line;
use dovetray::domain::warmth::{
    Air, Cover, Face, FoodClass, Layers, Pace, Pan, Place, Plan, Run, Shape, Stage, Substance,
    Vessel, boil_pressure_kpa, celsius, cool, deepest, forecast, march,
};

const DEPTH_M: f64 = 0.0508;
const LEADS: f64 = 0.52;
const HEAT_CAPACITY: f64 = 1055.0 * 3600.0;
const COLD_C: f64 = 5.0;

pub fn print() {
    let food = Substance::constant(LEADS, 1055.0, 3600.0);
    let ours = run(&food);
    let plain = plain();
    line(
        "a 2 in pan until 41 F, 30 layers, us",
        best(|| {
            black_box(run(&food));
        }),
        Below(100.0),
    );
    line("  hours, ours", ours, Open);
    line("  hours, plain grid of 200 layers", plain, Open);
    line("  difference, %", 100.0 * (ours / plain - 1.0).abs(), Below(0.3));
    let pan = Pan {
        depth_m: DEPTH_M,
        width_m: 0.26,
        length_m: 0.33,
        vessel: Vessel::Metal,
        cover: Cover::Open,
    };
    let plan = Plan::in_one_place(pan, celsius(140.0), Stage::until_cold(Place::HomeFridge));
    let stew = FoodClass::Stew.substance();
    let whole = || {
        for run in Run::ALL {
            black_box(cool::<30>(stew, &pan, plan.start_c, &plan.around(run), 2e5, |_| {}));
        }
        black_box((deepest(stew, &plan, Run::Slow), deepest(stew, &plan, Run::Nominal)));
    };
    line("band of three and two depth searches, us", best(whole), Below(4_000.0));
    line(
        "  the same with every mend, us",
        best(|| drop(black_box(forecast(stew, &plan, None)))),
        Open,
    );
}

fn faces() -> [Air; 2] {
    let still = |natural: f64, sees: f64| {
        Air::plain(celsius(38.0), 2.0).natural(natural / 0.25_f64.powf(0.25)).sees(sees)
    };
    [still(0.59, 0.35), still(1.32, 0.95).wet(0.35, 0.6)]
}

/// Hours until the hottest layer is cold.
fn run(food: &Substance) -> f64 {
    let [bottom, top] = faces().map(Face::Open);
    let mut layers = Layers::<30>::at(food, 60.0);
    let shape = Shape { thickness_m: DEPTH_M, round: 0.0 };
    let (mut last, mut cold) = ((0.0, 60.0), 0.0);
    march(&mut layers, food, shape, [&bottom, &top], &Pace::PAN, 50_400.0, |it| {
        if it.hottest <= COLD_C {
            cold = last.0 + (it.seconds - last.0) * (last.1 - COLD_C) / (last.1 - it.hottest);
        }
        last = (it.seconds, it.hottest);
        it.hottest > COLD_C
    });
    cold / 3600.0
}

/// The same by the plainest scheme there is: temperatures, forward steps, 200 layers. It shares no
/// line with the program but the pressure of vapour.
fn plain() -> f64 {
    const LAYERS: usize = 200;
    let across = DEPTH_M / 200.0;
    let step_s = 0.4 * across * across * HEAT_CAPACITY / LEADS;
    let [bottom, top] = faces();
    let mut now = [60.0_f64; LAYERS];
    let mut edges = [60.0_f64; 2];
    let mut seconds = 0.0;
    loop {
        let mut flows = [0.0; LAYERS + 1];
        for i in 1..LAYERS {
            flows[i] = LEADS * (now[i - 1] - now[i]) / across;
        }
        for (air, edge, inner) in [(&bottom, 0, 0), (&top, 1, LAYERS - 1)] {
            // The surface stands where what reaches it leaves it; a few halvings of the way there.
            let half = 2.0 * LEADS / across;
            let mut out = 0.0;
            for _ in 0..3 {
                out = leaves(air, edges[edge]);
                edges[edge] += 0.9 * (now[inner] - out / half - edges[edge]);
            }
            flows[if edge == 0 { 0 } else { LAYERS }] = if edge == 0 { -out } else { out };
        }
        let before = now.iter().copied().fold(f64::MIN, f64::max);
        for (i, celsius) in now.iter_mut().enumerate() {
            *celsius += step_s / (HEAT_CAPACITY * across) * (flows[i] - flows[i + 1]);
        }
        seconds += step_s;
        let hottest = now.iter().copied().fold(f64::MIN, f64::max);
        if hottest <= COLD_C {
            return (seconds - step_s * (COLD_C - hottest) / (before - hottest)) / 3600.0;
        }
    }
}

/// W/m² out of a surface: air, radiation, drying.
fn leaves(air: &Air, surface_c: f64) -> f64 {
    let off = surface_c - air.celsius;
    let moved = air.forced + air.natural * off.abs().powf(0.25);
    let kelvin = |celsius: f64| celsius + 273.15;
    let radiated =
        5.670_374e-8 * air.emissivity * (kelvin(surface_c).powi(4) - kelvin(air.celsius).powi(4));
    let dried = ((101.325 - air.vapour_kpa) / (101.325 - boil_pressure_kpa(surface_c))).ln();
    moved * off + radiated + air.wetness * 16.5 * moved * 101.325 * dried
}
