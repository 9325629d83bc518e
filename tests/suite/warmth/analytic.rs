//! Textbook bodies, for which the answer is known: Heisler's series, Plank's formula, Neumann's front.

use std::f64::consts::{FRAC_PI_2, PI};

use dovetray::domain::warmth::{Air, Face, Layers, Pace, Shape, Side, Substance, march};

/// Slab 0, cylinder 1, ball 2.
#[derive(Clone, Copy, Debug)]
enum Body {
    Slab,
    Cylinder,
    Ball,
}

impl Body {
    fn round(self) -> f64 {
        match self {
            Self::Slab => 0.0,
            Self::Cylinder => 1.0,
            Self::Ball => 2.0,
        }
    }

    /// Zero at the roots of the series.
    fn equation(self, z: f64, biot: f64) -> f64 {
        match self {
            Self::Slab => z * z.sin() - biot * z.cos(),
            Self::Cylinder => z * bessel(1, z) - biot * bessel(0, z),
            Self::Ball => z * z.cos() - (1.0 - biot) * z.sin(),
        }
    }

    fn share(self, z: f64) -> f64 {
        match self {
            Self::Slab => 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()),
            Self::Cylinder => {
                let (j0, j1) = (bessel(0, z), bessel(1, z));
                2.0 / z * j1 / (j0 * j0 + j1 * j1)
            }
            Self::Ball => 4.0 * (z.sin() - z * z.cos()) / (2.0 * z - (2.0 * z).sin()),
        }
    }

    fn roots(self, biot: f64, count: usize) -> Vec<f64> {
        let mut found = Vec::new();
        let mut low = 1e-4;
        while found.len() < count {
            let high = low + 0.02;
            if self.equation(low, biot) * self.equation(high, biot) < 0.0 {
                let (mut a, mut b) = (low, high);
                for _ in 0..50 {
                    let middle = f64::midpoint(a, b);
                    if self.equation(a, biot) * self.equation(middle, biot) <= 0.0 {
                        b = middle;
                    } else {
                        a = middle;
                    }
                }
                found.push(a);
            }
            low = high;
        }
        found
    }

    /// What is left of the difference in the middle.
    fn middle(self, biot: f64, fourier: f64) -> f64 {
        self.roots(biot, 8).iter().map(|z| self.share(*z) * (-z * z * fourier).exp()).sum()
    }
}

/// By its integral; the trapezoid is exact for a periodic function.
fn bessel(order: u32, x: f64) -> f64 {
    const PARTS: u32 = 64;
    let of = |i: u32| {
        let turn = PI * (f64::from(i) + 0.5) / f64::from(PARTS);
        (f64::from(order) * turn - x * turn.sin()).cos()
    };
    (0..PARTS).map(of).sum::<f64>() / f64::from(PARTS)
}

const LEADS: f64 = 0.5;
const HEAT_CAPACITY: f64 = 3.8e6;

fn marched(body: Body, biot: f64, fourier: f64) -> f64 {
    let half = 0.03;
    let food = Substance::constant(LEADS, 1000.0, 3800.0);
    let air = Face::Open(Air::plain(0.0, biot * LEADS / half));
    let shape = Shape { thickness_m: half, round: body.round() };
    let mut layers = Layers::<60>::at(&food, 80.0);
    let seconds = fourier * half * half * HEAT_CAPACITY / LEADS;
    let pace =
        Pace { first_s: seconds / 4000.0, growth: 1.05, most_s: seconds / 150.0, ..Pace::PAN };
    let mut cells = [0.0; 2];
    march(&mut layers, &food, shape, [&Face::Insulated, &air], &pace, seconds, |_| true);
    for (i, cell) in cells.iter_mut().enumerate() {
        *cell = layers.celsius(&food, i);
    }
    // The middle itself, from the two innermost layers: the curve is flat there.
    (cells[0] + (cells[0] - cells[1]) / 8.0) / 80.0
}

/// Three of them, with the names they have in the list of checks.
#[test]
fn the_named_cases() {
    for (id, body, biot, fourier, told) in [
        ("A1", Body::Slab, 1.0, 0.5, 0.77253),
        ("A2", Body::Cylinder, 1.0, 0.5, 0.54859),
        ("A3", Body::Ball, 10.0, 0.2, 0.38266),
    ] {
        let found = marched(body, biot, fourier);
        println!("{id}: {found:.5}, the series of 60 terms {told}");
        assert!((found / told - 1.0).abs() < 1e-3);
        assert!((body.middle(biot, fourier) / told - 1.0).abs() < 1e-4);
    }
}

#[test]
fn slab_cylinder_and_ball_follow_their_series_within_a_thousandth() {
    let mut worst: f64 = 0.0;
    for body in [Body::Slab, Body::Cylinder, Body::Ball] {
        for biot in [0.1, 1.0, 10.0, 100.0] {
            for fourier in [0.1, 0.2, 0.5, 1.0, 2.0] {
                let exact = body.middle(biot, fourier);
                if exact < 0.01 {
                    continue; // a fiftieth of a degree of 80
                }
                let error = marched(body, biot, fourier) / exact - 1.0;
                worst = worst.max(error.abs());
                assert!(
                    error.abs() < 1e-3,
                    "{body:?} Bi {biot} Fo {fourier}: {exact}, off {:.3} %",
                    error * 100.0
                );
            }
        }
    }
    println!(
        "Heisler series (slab, cylinder, ball; Bi 0.1 to 100): at most {:.3} %",
        worst * 100.0
    );
}

/// First roots at Bi = 1: Table 4-2 of a heat-transfer textbook, read (1.5708 for the ball).
#[test]
fn first_roots_are_those_of_the_textbook_table() {
    for (id, body, root) in [
        ("A4a", Body::Slab, 0.8603),
        ("A4b", Body::Cylinder, 1.2558),
        ("A4c", Body::Ball, FRAC_PI_2),
    ] {
        let found = body.roots(1.0, 1)[0];
        println!("{id}: {found:.4}, the table {root}");
        assert!((found / root - 1.0).abs() < 1e-4);
    }
    assert!((Body::Ball.roots(1.0, 1)[0] - FRAC_PI_2).abs() < 1e-9);
}

/// The sides of a pan are the slab series of its width; they begin without a jump and never rise.
#[test]
fn the_sides_of_a_pan_follow_the_slab_series() {
    for (width_m, loses) in [(0.25, 8.0), (0.33, 8.0), (0.1, 100.0), (0.6, 25.0), (0.05, 1.0)] {
        let (leads, spreads) = (0.54, 1.41e-7);
        let side = Side::of(width_m, loses, leads, spreads);
        let biot = loses * width_m / 2.0 / leads;
        let mut last = 1.0;
        for step in 1..200 {
            let fourier = f64::from(step) * 0.01;
            let left = side.left(fourier * (width_m / 2.0) * (width_m / 2.0) / spreads);
            let exact = Body::Slab.middle(biot, fourier);
            assert!(left <= last && last - left < 0.06, "{width_m} {fourier}: {last} {left}");
            if fourier > 0.03 {
                assert!((left - exact).abs() < 1e-4, "{width_m} {fourier}: {left} {exact}");
            }
            last = left;
        }
    }
}

/// Plank's formula (computed; inputs of a textbook example, memory): a slab that has only heat of melting.
#[test]
fn freezing_follows_planks_formula_within_a_thousandth() {
    let (across, loses, leads, latent) = (0.0635, 17.0, 1.038, 1057.0 * 0.75 * 335e3);
    for (body, parts) in [(Body::Slab, 2.0), (Body::Cylinder, 4.0), (Body::Ball, 6.0)] {
        let exact =
            latent / 26.1 * (across / loses / parts + across * across / leads / parts / 4.0);
        // Nothing to cool before and hardly anything after; a range of a fiftieth of a degree.
        let food = Substance::melting(-2.79, 0.02, latent, [leads, 2e3], [leads, 2e3]);
        let shape = Shape { thickness_m: across / 2.0, round: body.round() };
        let mut layers = Layers::<120>::at(&food, -2.789_9);
        let air = Face::Open(Air::plain(-28.9, loses));
        let (mut last, mut done) = ((0.0, 0.0), 0.0);
        march(
            &mut layers,
            &food,
            shape,
            [&Face::Insulated, &air],
            &Pace { most_s: 4.0, ..Pace::ICE },
            exact * 1.5,
            |it| {
                if it.middle <= -2.82 {
                    done = last.0 + (it.seconds - last.0) * (last.1 + 2.82) / (last.1 - it.middle);
                    return false;
                }
                last = (it.seconds, it.middle);
                true
            },
        );
        let error = done / exact - 1.0;
        println!(
            "B2, Plank {body:?}: {:.3} h, exact {:.3} h, {:+.3} %",
            done / 3600.0,
            exact / 3600.0,
            error * 100.0
        );
        assert!(error.abs() < 1e-3, "{body:?} {error}");
    }
}

const LAYERS: usize = 240;

/// The front in a half-space that freezes from its face: Neumann's exact answer (computed).
#[test]
fn a_freezing_front_follows_neumann_within_a_thousandth() {
    let (above, below) = ([0.5, 1050.0 * 3600.0], [1.5, 1050.0 * 1900.0]);
    let (wall, start, melts, latent) = (-20.0, 10.0, -1.0, 1050.0 * 240e3);
    let spread = |it: [f64; 2]| it[0] / it[1];
    let (wet, ice) = (spread(above), spread(below));
    let balance = |l: f64| {
        below[0] * (melts - wall) / ice.sqrt() * (-l * l).exp() / error_function(l)
            - above[0] * (start - melts) / wet.sqrt() * (-l * l * ice / wet).exp()
                / (1.0 - error_function(l * (ice / wet).sqrt()))
            - l * PI.sqrt() * latent * ice.sqrt()
    };
    let (mut low, mut high) = (1e-3, 2.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if balance(middle) > 0.0 { low = middle } else { high = middle }
    }
    let (thickness, cell) = (0.12, 157);
    let depth = thickness - 157.5 * thickness / 240.0;
    let exact = (depth / 2.0 / low).powi(2) / ice;
    let food = Substance::melting(melts + 0.02, 0.04, latent, above, below);
    let mut layers = Layers::<LAYERS>::at(&food, start);
    let face = Face::Open(Air::plain(wall, 1e6));
    let shape = Shape { thickness_m: thickness, round: 0.0 };
    let pace = Pace { first_s: 1.0, growth: 1.02, most_s: 5.0, ..Pace::ICE };
    // The front is in the middle of the layer when half of its heat of melting is gone.
    let half = food.heat_at(melts);
    let (mut seconds, mut before, mut found) = (0.0, layers.heat(cell), 0.0);
    while seconds < exact * 1.1 {
        let ledger = march(
            &mut layers,
            &food,
            shape,
            [&Face::Insulated, &face],
            &pace_after(seconds, pace),
            60.0,
            |_| true,
        );
        seconds += ledger.seconds;
        let now = layers.heat(cell);
        if now < half {
            found = seconds - 60.0 * (half - now) / (before - now);
            break;
        }
        before = now;
    }
    let error = found / exact - 1.0;
    println!(
        "B1, Neumann front at {:.1} mm: {:.4} h, exact {:.4} h, {:+.3} %",
        depth * 1000.0,
        found / 3600.0,
        exact / 3600.0,
        error * 100.0
    );
    assert!(error.abs() < 1e-3, "{error}");
}

/// Small steps only while the face is new.
fn pace_after(seconds: f64, pace: Pace) -> Pace {
    if seconds < 60.0 { pace } else { Pace { first_s: pace.most_s, ..pace } }
}

/// Its own series.
fn error_function(x: f64) -> f64 {
    let (mut term, mut sum) = (x, x);
    for n in 1..80 {
        let n = f64::from(n);
        term *= -x * x / n;
        sum += term / (2.0 * n + 1.0);
    }
    2.0 / PI.sqrt() * sum
}
