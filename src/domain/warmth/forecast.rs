//! Will it cool in time: three runs, a verdict on the slow one, the deepest layer that passes, and mends.

use super::cooling::{Cool, Cooled, Pan, Plan, STAGES, Stage, cool};
use super::food::Substance;
use super::place::{Cover, Place, Run};

/// Three figures, never one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    pub quick: f64,
    pub nominal: f64,
    pub slow: f64,
}

impl Band {
    #[must_use]
    pub const fn around(nominal: f64, quick: f64, slow: f64) -> Self {
        Self { quick: nominal * quick, nominal, slow: nominal * slow }
    }
}

/// The limits counted from 135 F, in seconds (Food Code 3-501.14).
const TO_MIDDLE_S: f64 = 2.0 * 3600.0;
const TO_COLD_S: f64 = 6.0 * 3600.0;
/// A run that takes longer has no figure.
const LONGEST_S: f64 = 36.0 * 3600.0;
/// Layers of food; a finer grid moves nothing by more than 0.3 %, under a blast chiller 0.5 %.
const LAYERS: usize = 30;

/// Never "passes" or "fails": those words are for readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Likely {
    /// The slow run too is in time.
    InTime,
    /// In time as reckoned, not in the slow run.
    TooClose,
    TooSlow,
}

/// Curve of one run at fixed times, for drawing and table.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Minutes from the start of cooling, and the hottest place in Celsius.
    pub points: Vec<(f64, f64)>,
}

/// What would bring it into time, the least work first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mend {
    /// Take the lid or the foil off.
    Uncover {
        likely: Likely,
    },
    /// Into this many dishes of the same size, this deep at most.
    Split {
        dishes: u32,
        depth_m: f64,
        likely: Likely,
    },
    /// In iced water first, then back to the place; kilograms of ice.
    IceFirst {
        ice_kg: f64,
        minutes: f64,
        likely: Likely,
    },
    /// All the way in iced water.
    IceAllTheWay {
        ice_kg: f64,
        likely: Likely,
    },
    /// In the freezer first, then back to the place.
    FreezerFirst {
        minutes: f64,
        likely: Likely,
    },
    BlastChiller {
        likely: Likely,
    },
}

impl Mend {
    #[must_use]
    pub const fn likely(&self) -> Likely {
        match self {
            Self::Uncover { likely }
            | Self::Split { likely, .. }
            | Self::IceFirst { likely, .. }
            | Self::IceAllTheWay { likely, .. }
            | Self::FreezerFirst { likely, .. }
            | Self::BlastChiller { likely } => *likely,
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    pub plan: Plan,
    pub likely: Likely,
    /// Slow, nominal, quick.
    pub runs: [Cooled; 3],
    pub curves: [Curve; 3],
    /// The deepest layer in these places that is in time also in the slow run, and in the nominal one.
    pub deepest_slow_m: Option<f64>,
    pub deepest_nominal_m: Option<f64>,
    pub mends: Vec<Mend>,
    pub kilograms: f64,
    /// Ice for the stretch in the bath, reserve included; none without a bath.
    pub ice_kg: Option<f64>,
    /// Ice that was said to be there does not last: the verdict is never better than too close.
    pub ice_runs_out: bool,
    /// Mean heat given off in the first hour, W; a home fridge carries off about 100 to 150 (MEMORY).
    pub first_hour_watts: f64,
}

impl Forecast {
    /// Whatever is not clearly in time gets a step to measure in.
    #[must_use]
    pub fn wants_reading(&self) -> bool {
        self.likely != Likely::InTime
    }

    /// Slow, middle and quick at every `minutes`, until the slow case is cold or a day is over.
    pub fn every(&self, minutes: f64) -> impl Iterator<Item = (f64, [f64; 3])> + '_ {
        let last = |curve: &Curve| curve.points.last().map_or(0.0, |it| it.0);
        let end = self.curves.iter().map(last).fold(0.0, f64::max).min(24.0 * 60.0);
        let count = (end / minutes).ceil().max(1.0) as u32;
        (0..=count).map(move |i| {
            let at = f64::from(i) * minutes;
            (at, [0, 1, 2].map(|case: usize| self.curves[case].at(at)))
        })
    }

    /// Minutes from the start until the middle case is at 135 F, where the clock of the rule begins.
    #[must_use]
    pub fn clock_starts_minutes(&self) -> f64 {
        let points = &self.curves[1].points;
        let crossed = points.windows(2).find(|two| two[1].1 <= super::cooling::FROM_C);
        crossed.filter(|two| two[0].1 > super::cooling::FROM_C).map_or(0.0, |two| {
            let part = (two[0].1 - super::cooling::FROM_C) / (two[0].1 - two[1].1);
            two[0].0 + (two[1].0 - two[0].0) * part
        })
    }
}

impl Curve {
    /// By a straight line between steps; after the last it stays there.
    #[must_use]
    pub fn at(&self, minutes: f64) -> f64 {
        let after = self.points.partition_point(|it| it.0 < minutes);
        match (after.checked_sub(1).and_then(|it| self.points.get(it)), self.points.get(after)) {
            (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (minutes - a.0) / (b.0 - a.0).max(1e-9),
            (Some(only), None) | (None, Some(only)) => only.1,
            (None, None) => f64::NAN,
        }
    }
}

/// Ice for food that goes from hot to cold in it, kilograms for each kilogram (heat balance), and a fifth more.
const ICE_TO_COLD: f64 = 0.6 * 1.2;
const ICE_TO_MIDDLE: f64 = 0.4 * 1.2;

fn likely(slow: &Cooled, nominal: &Cooled) -> Likely {
    if in_time(slow) {
        Likely::InTime
    } else if in_time(nominal) {
        Likely::TooClose
    } else {
        Likely::TooSlow
    }
}

fn in_time(run: &Cooled) -> bool {
    run.to_middle_s.is_some_and(|it| it <= TO_MIDDLE_S)
        && run.to_cold_s.is_some_and(|it| it <= TO_COLD_S)
}

fn run(food: &Substance, plan: &Plan, which: Run, most_s: f64, tell: impl FnMut(Cool)) -> Cooled {
    cool::<LAYERS>(food, &plan.pan, plan.start_c, &plan.around(which), most_s, tell)
}

/// No run is looked at past the limits when only the verdict is wanted; the way to 135 F comes on top.
const VERDICT_S: f64 = TO_COLD_S + 4.0 * 3600.0;

/// The verdict alone, in two runs; ice nobody spoke of is not counted on.
#[must_use]
pub fn likely_of(food: &Substance, plan: &Plan) -> Likely {
    let found = verdict(food, plan);
    if found == Likely::InTime && ice_needed(plan, 1.0).is_some() {
        Likely::TooClose
    } else {
        found
    }
}

fn verdict(food: &Substance, plan: &Plan) -> Likely {
    let slow = run(food, plan, Run::Slow, VERDICT_S, |_| {});
    if in_time(&slow) {
        return Likely::InTime;
    }
    likely(&slow, &run(food, plan, Run::Nominal, VERDICT_S, |_| {}))
}

/// The deepest layer in time, by halving: twelve runs. None: not even three millimetres.
#[must_use]
pub fn deepest(food: &Substance, plan: &Plan, which: Run) -> Option<f64> {
    let passes =
        |depth_m: f64| in_time(&run(food, &plan.with_depth(depth_m), which, VERDICT_S, |_| {}));
    let (mut low, mut high) = (0.003, 0.15);
    if !passes(low) {
        return None;
    }
    for _ in 0..11 {
        let middle = f64::midpoint(low, high);
        if passes(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

/// `ice_kg`: ice at hand, when it was said.
#[must_use]
pub fn forecast(food: &Substance, plan: &Plan, ice_kg: Option<f64>) -> Forecast {
    let mut curves: [Vec<(f64, f64)>; 3] = [const { Vec::new() }; 3];
    let mut runs = [Cooled::default(); 3];
    for ((which, curve), done) in Run::ALL.into_iter().zip(&mut curves).zip(&mut runs) {
        curve.reserve(512);
        *done = run(food, plan, which, LONGEST_S, |it| curve.push((it.seconds / 60.0, it.hottest)));
    }
    let pan = &plan.pan;
    let area = pan.width_m * pan.length_m;
    let kilograms = area * pan.depth_m * food.kilograms_a_cubic_metre;
    let needed = ice_needed(plan, kilograms);
    let ice_runs_out = needed.zip(ice_kg).is_some_and(|(needed, there)| there < needed);
    let unknown_ice = needed.is_some() && ice_kg.is_none();
    let mut verdict = likely(&runs[0], &runs[1]);
    if (ice_runs_out || unknown_ice) && verdict == Likely::InTime {
        verdict = Likely::TooClose;
    }
    let mut it = Forecast {
        plan: *plan,
        likely: verdict,
        runs,
        curves: curves.map(|points| Curve { points }),
        deepest_slow_m: deepest(food, plan, Run::Slow),
        deepest_nominal_m: deepest(food, plan, Run::Nominal),
        mends: Vec::new(),
        kilograms,
        ice_kg: needed,
        ice_runs_out,
        first_hour_watts: runs[1].first_hour * area / 3600.0,
    };
    if it.likely != Likely::InTime {
        it.mends = mends(food, &it);
    }
    it
}

/// None without a bath; less when the food leaves it at the middle mark.
fn ice_needed(plan: &Plan, kilograms: f64) -> Option<f64> {
    let bath = plan.stages.iter().flatten().find(|it| it.place == Place::IceBath)?;
    Some(kilograms * if bath.seconds.is_some() { ICE_TO_MIDDLE } else { ICE_TO_COLD })
}

/// Ranked: those that are in time first, in the order of the work they make.
fn mends(food: &Substance, now: &Forecast) -> Vec<Mend> {
    let plan = &now.plan;
    let last = plan.stages.iter().flatten().last().copied();
    let Some(last) = last else { return Vec::new() };
    let home = Stage { seconds: None, ..last };
    let open = Plan { pan: Pan { cover: Cover::Open, ..plan.pan }, ..*plan };
    let with = |stages: [Option<Stage>; STAGES]| Plan { stages, ..open };
    let mut found = Vec::new();
    if plan.pan.cover != Cover::Open {
        found.push(Mend::Uncover { likely: verdict(food, &open) });
    }
    if let Some(split) = split(food, &open, plan.pan.depth_m) {
        found.push(split);
    }
    if last.place != Place::IceBath {
        found.extend(ice_first(food, now, &with, home));
        let bath = with([Some(Stage::until_cold(Place::IceBath)), None, None]);
        let likely = verdict(food, &bath);
        found.push(Mend::IceAllTheWay { ice_kg: now.kilograms * ICE_TO_COLD, likely });
    }
    if matches!(last.place, Place::HomeFridge | Place::WalkInFridge) {
        // Stopped before the edge freezes.
        let minutes = 60.0;
        let freezer =
            if last.place == Place::HomeFridge { Place::HomeFreezer } else { Place::WalkInFreezer };
        let first = Stage { place: freezer, celsius: None, seconds: Some(minutes * 60.0) };
        let likely = verdict(food, &with([Some(first), Some(home), None]));
        found.push(Mend::FreezerFirst { minutes, likely });
    }
    // A home has no blast chiller.
    if matches!(last.place, Place::WalkInFridge | Place::WalkInFreezer) {
        let blast = with([Some(Stage::until_cold(Place::BlastChiller)), None, None]);
        found.push(Mend::BlastChiller { likely: verdict(food, &blast) });
    }
    found.retain(|it| it.likely() != Likely::TooSlow);
    found.sort_by_key(Mend::likely);
    found
}

fn split(food: &Substance, open: &Plan, depth_m: f64) -> Option<Mend> {
    let (deepest_m, likely) = match deepest(food, open, Run::Slow) {
        Some(it) if it >= 0.008 => (it, Likely::InTime),
        _ => (deepest(food, open, Run::Nominal)?, Likely::TooClose),
    };
    // Told in whole millimetres, never deeper than reckoned.
    let depth_mm = (deepest_m * 1000.0).floor();
    let dishes = (depth_m * 1000.0 / depth_mm).ceil();
    (dishes > 1.0 && dishes <= 40.0).then(|| Mend::Split {
        dishes: dishes as u32,
        depth_m: depth_mm / 1000.0,
        likely,
    })
}

/// The shortest bath, in steps of a quarter of an hour, after which the rest is in time at home.
fn ice_first(
    food: &Substance,
    now: &Forecast,
    with: &impl Fn([Option<Stage>; STAGES]) -> Plan,
    home: Stage,
) -> Option<Mend> {
    let bath = |minutes: f64| {
        let first = Stage { place: Place::IceBath, celsius: None, seconds: Some(minutes * 60.0) };
        verdict(food, &with([Some(first), Some(home), None]))
    };
    (2..=8)
        .map(|quarter| f64::from(quarter) * 15.0)
        .find(|minutes| bath(*minutes) == Likely::InTime)
        .map(|minutes| Mend::IceFirst {
            ice_kg: now.kilograms * ICE_TO_MIDDLE,
            minutes,
            likely: Likely::InTime,
        })
}
