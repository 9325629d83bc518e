//! Forecasts of cooling, warming, roasting and holding, in JSON: what `cool`, `warm` and `roast` print.

use serde::Serialize;

use crate::domain::caution::forecast as words;
use crate::domain::warmth::{Band, Cooled, Forecast, Held, HoldIn, Roasted};

#[derive(Debug, Serialize)]
pub struct WrittenForecast {
    /// `likely in time`, `too close to call`, `cooling likely too slow`: of the slow case.
    verdict: &'static str,
    means: &'static str,
    to_21c_70f: String,
    to_5c_41f: String,
    cases: Vec<WrittenCase>,
    #[serde(skip_serializing_if = "Option::is_none")]
    deepest_in_time_also_slow_mm: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    deepest_in_time_middle_case_mm: Option<u32>,
    mends: Vec<WrittenMend>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ice_kg: Option<f64>,
    ice_runs_out: bool,
    first_hour_watts: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    warning: Option<String>,
    /// Only for what is not clearly in time.
    #[serde(skip_serializing_if = "Option::is_none")]
    reading_step: Option<&'static str>,
    over_the_mark: &'static str,
    note: &'static str,
    rule: &'static str,
    assumed: Vec<String>,
    curve: Vec<WrittenPoint>,
}

#[derive(Debug, Serialize)]
struct WrittenCase {
    case: &'static str,
    /// Counted from 135 F (57 C); none: not within a day and a half.
    to_21c_minutes: Option<u32>,
    to_5c_minutes: Option<u32>,
}

#[derive(Debug, Serialize)]
struct WrittenMend {
    what: String,
    then: &'static str,
}

/// The warmest place, Celsius, minutes after the start.
#[derive(Debug, Serialize)]
struct WrittenPoint {
    minutes: u32,
    slow_c: f64,
    middle_c: f64,
    quick_c: f64,
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded and over nothing"
)]
fn whole(figure: f64) -> u32 {
    figure.max(0.0).round() as u32
}

fn tenth(figure: f64) -> f64 {
    (figure * 10.0).round() / 10.0
}

const CASES: [&str; 3] = ["slow", "middle", "quick"];

impl From<&Forecast> for WrittenForecast {
    fn from(it: &Forecast) -> Self {
        let minutes = |seconds: Option<f64>| seconds.map(|it| whole(it / 60.0));
        let case = |(case, run): (&'static str, &Cooled)| WrittenCase {
            case,
            to_21c_minutes: minutes(run.to_middle_s),
            to_5c_minutes: minutes(run.to_cold_s),
        };
        let [to_middle, to_cold] = words::told(it);
        let millimetres = |depth: Option<f64>| depth.map(|it| whole((it * 1000.0).floor()));
        Self {
            verdict: words::verdict(it.likely),
            means: words::verdict_told(it.likely),
            to_21c_70f: to_middle,
            to_5c_41f: to_cold,
            cases: CASES.into_iter().zip(&it.runs).map(case).collect(),
            deepest_in_time_also_slow_mm: millimetres(it.deepest_slow_m),
            deepest_in_time_middle_case_mm: millimetres(it.deepest_nominal_m),
            mends: it
                .mends
                .iter()
                .map(|it| WrittenMend { what: it.to_string(), then: words::mend_word(it.likely()) })
                .collect(),
            ice_kg: it.ice_kg.map(tenth),
            ice_runs_out: it.ice_runs_out,
            first_hour_watts: whole(it.first_hour_watts),
            warning: words::load_warning(it),
            reading_step: it.wants_reading().then_some(words::READING_STEP),
            over_the_mark: words::OVER_THE_MARK,
            note: words::ESTIMATE,
            rule: words::WHOSE_RULE,
            assumed: words::assumed(it),
            curve: it
                .every(15.0)
                .map(|(minutes, [slow, middle, quick])| WrittenPoint {
                    minutes: whole(minutes),
                    slow_c: tenth(slow),
                    middle_c: tenth(middle),
                    quick_c: tenth(quick),
                })
                .collect(),
        }
    }
}

#[derive(Debug, Serialize)]
struct WrittenBand {
    quick: u32,
    middle: u32,
    slow: u32,
}

impl From<&Band> for WrittenBand {
    fn from(band: &Band) -> Self {
        Self { quick: whole(band.quick), middle: whole(band.nominal), slow: whole(band.slow) }
    }
}

#[derive(Debug, Serialize)]
pub struct WrittenRoast {
    first_check_minutes: u32,
    minutes: WrittenBand,
    /// In kelvin, which are degrees Celsius of difference.
    rise_c: [f64; 2],
    across_mm: u32,
    long_mm: u32,
    shape_is_guessed: bool,
    says: [String; 2],
    /// The end point against the profile.
    #[serde(skip_serializing_if = "Option::is_none")]
    caution: Option<String>,
    note: &'static str,
    credit: &'static str,
}

impl WrittenRoast {
    #[must_use]
    pub fn of(it: &Roasted, pull_c: f64, caution: Option<String>) -> Self {
        Self {
            first_check_minutes: whole(words::first_check_minutes(it)),
            minutes: WrittenBand::from(&it.minutes),
            rise_c: [tenth(it.rise.0), tenth(it.rise.1)],
            across_mm: whole(it.across_m * 1000.0),
            long_mm: whole(it.long_m * 1000.0),
            shape_is_guessed: it.guessed_shape,
            says: words::roast_told(it, pull_c),
            caution,
            note: words::ESTIMATE,
            credit: words::RISE_COUNTS_NOTHING,
        }
    }
}

#[derive(Debug, Serialize)]
pub struct WrittenWarming {
    #[serde(skip_serializing_if = "Option::is_none")]
    minutes: Option<WrittenBand>,
    says: String,
    /// From the fridge, the room, the freezer: to compare.
    from: Vec<WrittenFrom>,
    hold: Vec<String>,
    note: &'static str,
    clock: &'static str,
}

#[derive(Debug, Serialize)]
pub struct WrittenFrom {
    pub start: &'static str,
    pub says: String,
}

impl WrittenWarming {
    #[must_use]
    pub fn of(
        band: Option<&Band>,
        from: Vec<WrittenFrom>,
        holds: &[(HoldIn, Held)],
        mark_c: f64,
    ) -> Self {
        Self {
            minutes: band.map(WrittenBand::from),
            says: band.map_or_else(|| "not within six hours".to_owned(), words::minutes),
            from,
            hold: holds
                .iter()
                .map(|(place, held)| words::held_told(*place, held, mark_c, true))
                .collect(),
            note: words::ESTIMATE,
            clock: words::CLOCK_RULES,
        }
    }
}
