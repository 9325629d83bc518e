//! One pan cooling: when its hottest place passes the two marks of the rule.

use super::body::{Glance, Layers, Pace, Shape, march};
use super::celsius;
use super::food::Substance;
use super::place::{Around, Cover, Place, Run, Vessel};
use super::side::{Side, Sides};

/// Metres. `length_m` none: a round pot of that width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pan {
    pub depth_m: f64,
    pub width_m: f64,
    pub length_m: f64,
    pub vessel: Vessel,
    pub cover: Cover,
}

/// A stretch in one place; the last has no end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stage {
    pub place: Place,
    /// Of its air or water; none: as usual there.
    pub celsius: Option<f64>,
    pub seconds: Option<f64>,
}

impl Stage {
    #[must_use]
    pub const fn until_cold(place: Place) -> Self {
        Self { place, celsius: None, seconds: None }
    }
}

/// At most this many stretches.
pub const STAGES: usize = 3;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    pub pan: Pan,
    pub start_c: f64,
    pub stages: [Option<Stage>; STAGES],
}

impl Plan {
    #[must_use]
    pub const fn in_one_place(pan: Pan, start_c: f64, stage: Stage) -> Self {
        Self { pan, start_c, stages: [Some(stage), None, None] }
    }

    #[must_use]
    pub const fn with_depth(self, depth_m: f64) -> Self {
        Self { pan: Pan { depth_m, ..self.pan }, ..self }
    }

    /// Every surrounding of one run, in order.
    #[must_use]
    pub fn around(&self, run: Run) -> [Option<(Around, f64)>; STAGES] {
        self.stages.map(|stage| {
            let it = stage?;
            let cover = self.pan.cover;
            Some((
                Around::of(it.place, it.celsius, cover, self.pan.vessel, run),
                it.seconds.unwrap_or(LONGEST_S),
            ))
        })
    }
}

/// Food Code 3-501.14: from 135 F, to 70 F, to 41 F. The printed Celsius figures are not computed with.
pub const FROM_C: f64 = celsius(135.0);
pub const MIDDLE_C: f64 = celsius(70.0);
pub const COLD_C: f64 = celsius(41.0);
const LONGEST_S: f64 = 60.0 * 3600.0;

/// When the hottest place passed the marks, in seconds after 135 F (or after the start when it was lower).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cooled {
    pub to_middle_s: Option<f64>,
    pub to_cold_s: Option<f64>,
    /// Heat given off in the first hour and in all, J for each square metre of the pan.
    pub first_hour: f64,
    pub in_all: f64,
}

/// One place in time of the cooling, for a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cool {
    pub seconds: f64,
    pub hottest: f64,
    pub mean: f64,
    pub top: f64,
}

/// Marches one run of `around` until cold or `most_s`; `tell` hears of every step.
pub fn cool<const N: usize>(
    food: &Substance,
    pan: &Pan,
    start_c: f64,
    around: &[Option<(Around, f64)>],
    most_s: f64,
    mut tell: impl FnMut(Cool),
) -> Cooled {
    let mut layers = Layers::<N>::at(food, start_c);
    let shape = Shape { thickness_m: pan.depth_m, round: 0.0 };
    let mut done = Cooled::default();
    let mut marks = Marks::starting(start_c);
    let (mut before_s, mut kept, mut given) = (0.0, 1.0, 0.0);
    for (around, stretch) in around.iter().flatten() {
        let sides = Sides {
            width: Some(Side::of(pan.width_m, around.side, food.leads, food.spreads)),
            length: Some(Side::of(pan.length_m, around.side, food.leads, food.spreads)),
        };
        let mut stage_kept = 1.0;
        let seconds = stretch.min(most_s - before_s);
        let ledger = march(
            &mut layers,
            food,
            shape,
            [&around.bottom, &around.top],
            &Pace::PAN,
            seconds,
            |it: &Glance| {
                stage_kept = sides.left(it.seconds);
                let hottest = around.celsius + (it.hottest - around.celsius) * kept * stage_kept;
                let now = before_s + it.seconds;
                let out = given - it.through_left - it.through_right;
                if now <= 3600.0 {
                    done.first_hour = out;
                }
                done.in_all = out;
                tell(Cool { seconds: now, hottest, mean: it.mean, top: it.right_surface });
                marks.pass(now, hottest, &mut done)
            },
        );
        kept *= stage_kept;
        before_s += ledger.seconds;
        given = done.in_all;
        if done.to_cold_s.is_some() || before_s >= most_s {
            break;
        }
    }
    done
}

/// Watches the marks pass.
struct Marks {
    last: (f64, f64),
    from_s: Option<f64>,
}

impl Marks {
    fn starting(start_c: f64) -> Self {
        let from_s = (start_c <= FROM_C).then_some(0.0);
        Self { last: (0.0, start_c), from_s }
    }

    /// False when there is nothing left to wait for.
    fn pass(&mut self, seconds: f64, celsius: f64, done: &mut Cooled) -> bool {
        let last = self.last;
        let crossed = |mark: f64| {
            (celsius <= mark).then(|| {
                if last.1 > mark {
                    last.0 + (seconds - last.0) * (last.1 - mark) / (last.1 - celsius)
                } else {
                    last.0
                }
            })
        };
        if self.from_s.is_none() {
            self.from_s = crossed(FROM_C);
        }
        if let Some(from) = self.from_s {
            done.to_middle_s = done.to_middle_s.or_else(|| crossed(MIDDLE_C).map(|it| it - from));
            done.to_cold_s = done.to_cold_s.or_else(|| crossed(COLD_C).map(|it| it - from));
        }
        self.last = (seconds, celsius);
        done.to_cold_s.is_none()
    }
}
