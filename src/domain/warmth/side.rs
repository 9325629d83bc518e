//! The sides of a pan: the hottest layer loses through them too. The excess over the air is multiplied
//! by the series of the width and of the length (product rule; within 0.15 % of a full reckoning).

const TERMS: usize = 6;
/// Before this the middle has felt nothing of the side.
const FELT: f64 = 0.03;

/// One pair of sides, as the series of a slab of that width.
#[derive(Clone, Copy, Debug)]
pub struct Side {
    roots: [f64; TERMS],
    shares: [f64; TERMS],
    per_second: f64,
}

impl Side {
    /// `loses`: W/m²/K at the sides.
    #[must_use]
    pub fn of(width_m: f64, loses: f64, leads: f64, spreads: f64) -> Self {
        let half = width_m / 2.0;
        let biot = (loses * half / leads).max(1e-9);
        let mut roots = [0.0; TERMS];
        let mut shares = [0.0; TERMS];
        for i in 0..TERMS {
            let root = root(biot, i);
            roots[i] = root;
            shares[i] = 4.0 * root.sin() / (2.0 * root + (2.0 * root).sin());
        }
        Self { roots, shares, per_second: spreads / (half * half) }
    }

    /// What is left of the excess in the middle.
    #[must_use]
    pub fn left(&self, seconds: f64) -> f64 {
        let time = seconds * self.per_second;
        if time < FELT {
            return 1.0;
        }
        let mut sum = 0.0;
        for (root, share) in self.roots.iter().zip(&self.shares) {
            let fades = root * root * time;
            if fades > 16.0 {
                break;
            }
            sum += share * (-fades).exp();
        }
        sum.min(1.0)
    }
}

/// The root of z tan z = biot in the `i`-th half turn, by bisection made quick with Newton's step.
fn root(biot: f64, i: usize) -> f64 {
    let from = i as f64 * std::f64::consts::PI;
    let (mut low, mut high) = (from, from + std::f64::consts::FRAC_PI_2);
    let mut at = f64::midpoint(low, high);
    // In every second half turn the curve falls through its root.
    let rises = if i.is_multiple_of(2) { 1.0 } else { -1.0 };
    for _ in 0..40 {
        let (sine, cosine) = at.sin_cos();
        let value = rises * (at * sine - biot * cosine);
        if value > 0.0 {
            high = at;
        } else {
            low = at;
        }
        let slope = rises * (sine + at * cosine + biot * sine);
        let next = at - value / slope;
        let next = if next > low && next < high { next } else { f64::midpoint(low, high) };
        if (next - at).abs() < 1e-13 {
            return next;
        }
        at = next;
    }
    at
}

/// Both pairs; a round pot has none here.
#[derive(Clone, Copy, Debug, Default)]
pub struct Sides {
    pub width: Option<Side>,
    pub length: Option<Side>,
}

impl Sides {
    #[must_use]
    pub fn left(&self, seconds: f64) -> f64 {
        self.width.map_or(1.0, |it| it.left(seconds))
            * self.length.map_or(1.0, |it| it.left(seconds))
    }
}
