//! What a forecast of heat says: every sentence of it. Readings alone are called pass or fail.
//!
//! Times in steps of five minutes, hours to a tenth; a band, never one figure.

use std::fmt;

use crate::domain::heat::{Degrees, Scale};
use crate::domain::text::capital;
use crate::domain::warmth::{
    Band, Cooled, Fault, Forecast, Held, HoldIn, Likely, Mend, Place, Roasted, fahrenheit,
};

/// Stands under every forecast.
pub const ESTIMATE: &str =
    "Estimate only; it can be wrong by half. A thermometer reading always overrules it.";
/// What to do with a reading over the mark (Food Code 3-501.14 and its annex; the second from memory).
pub const OVER_THE_MARK: &str = "Over 21\u{a0}°C (70\u{a0}°F) at 2\u{a0}h: heat it to 74\u{a0}°C (165\u{a0}°F) once and cool it again \
    by a quicker way, or discard it. Over 5\u{a0}°C (41\u{a0}°F) at 6\u{a0}h: discard it.";
/// The step that a plan gets whose cooling is not clearly in time.
pub const READING_STEP: &str = "Measure the thickest place 2\u{a0}h after it passed 57\u{a0}°C (135\u{a0}°F): it must be \
    21\u{a0}°C (70\u{a0}°F) or colder. Measure again at 6\u{a0}h: 5\u{a0}°C (41\u{a0}°F) or colder.";
/// Whose rule the two marks are.
pub const WHOSE_RULE: &str = "The two marks are a rule for food establishments (FDA Food Code 3-501.14); for a home they are a careful guide.";
/// A predicted rise is never counted as cooking.
pub const RISE_COUNTS_NOTHING: &str =
    "The rise at rest is reckoned and counts for nothing: only what the thermometer shows counts.";
/// Stands with every word about food that was frozen or is kept warm.
pub const CLOCK_RULES: &str = "The clock of the rule holds whatever this estimate says.";
/// Where the author gave no minutes.
pub const OUR_ESTIMATE: &str = "our estimate: the card gives no minutes";
/// Mark on a plan; it refuses nothing.
pub const LIKELY_TOO_SLOW: &str = "cooling likely too slow";
/// A fridge that has to carry off more warms up, and with it all that stands in it.
pub const FRIDGE_WATTS: f64 = 100.0;

/// Short: for a heading or a badge.
#[must_use]
pub const fn verdict(likely: Likely) -> &'static str {
    match likely {
        Likely::InTime => "likely in time",
        Likely::TooClose => "too close to call",
        Likely::TooSlow => LIKELY_TOO_SLOW,
    }
}

/// In one sentence.
#[must_use]
pub const fn verdict_told(likely: Likely) -> &'static str {
    match likely {
        Likely::InTime => "Estimated to meet both cooling limits, also in the slow case.",
        Likely::TooClose => {
            "In time in the middle case, not surely in the slow one: measure at 2\u{a0}h and at 6\u{a0}h."
        }
        Likely::TooSlow => {
            "Not in time even in the middle case. Mend it as below, or measure and be ready to act."
        }
    }
}

/// `2.6 to 5.1 h`, `35 to 60 min`; quick to slow.
#[must_use]
pub fn hours(quick_s: Option<f64>, slow_s: Option<f64>) -> String {
    let tenths = |seconds: f64| format!("{:.1}", seconds / 3600.0);
    let fives = |seconds: f64| ((seconds / 300.0).round() * 5.0).max(5.0);
    match (quick_s, slow_s) {
        (Some(quick), Some(slow)) if slow < 5400.0 => {
            let (quick, slow) = (fives(quick), fives(slow));
            if (quick - slow).abs() < 1.0 {
                format!("about {slow:.0}\u{a0}min")
            } else {
                format!("{quick:.0} to {slow:.0}\u{a0}min")
            }
        }
        (Some(quick), Some(slow)) => format!("{} to {}\u{a0}h", tenths(quick), tenths(slow)),
        (Some(quick), None) => format!("{}\u{a0}h or much longer", tenths(quick)),
        (None, _) => "longer than a day and a half".to_owned(),
    }
}

/// One run alone.
#[must_use]
pub fn one_time(seconds: Option<f64>) -> String {
    seconds.map_or_else(
        || "longer than a day and a half".to_owned(),
        |it| {
            if it < 5400.0 {
                format!("{:.0}\u{a0}min", ((it / 300.0).round() * 5.0).max(5.0))
            } else {
                format!("{:.1}\u{a0}h", it / 3600.0)
            }
        },
    )
}

/// To each mark, with its limit.
#[must_use]
pub fn told(forecast: &Forecast) -> [String; 2] {
    let [slow, _, quick] = &forecast.runs;
    let of = |it: fn(&Cooled) -> Option<f64>| hours(it(quick), it(slow));
    [
        format!("{} to 21\u{a0}°C (70\u{a0}°F); the limit is 2\u{a0}h.", of(|it| it.to_middle_s)),
        format!(
            "{} to 5\u{a0}°C (41\u{a0}°F) in all; the limit is 6\u{a0}h.",
            of(|it| it.to_cold_s)
        ),
    ]
}

/// `15 mm (5/8 in)`: down to the millimetre below, and to the eighth of an inch below.
#[must_use]
pub fn depth(metres: f64) -> String {
    let eighths = (metres / 0.0254 * 8.0 + 1e-6).floor();
    let inches = match (eighths / 8.0).floor() {
        whole if eighths - whole * 8.0 < 0.5 => format!("{whole:.0}"),
        whole => {
            let (mut over, mut under) = (eighths - whole * 8.0, 8.0);
            while over % 2.0 < 0.5 {
                over /= 2.0;
                under /= 2.0;
            }
            if whole < 0.5 {
                format!("{over:.0}/{under:.0}")
            } else {
                format!("{whole:.0} {over:.0}/{under:.0}")
            }
        }
    };
    format!("{:.0}\u{a0}mm ({inches}\u{a0}in)", (metres * 1000.0 + 1e-6).floor())
}

/// Up to the next tenth of a kilogram.
#[must_use]
pub fn ice(kilograms: f64) -> String {
    let tenths = (kilograms * 10.0 - 1e-6).ceil().max(1.0) / 10.0;
    format!("{tenths:.1}\u{a0}kg ({:.1}\u{a0}lb)", (tenths / 0.453_592_37 * 10.0).ceil() / 10.0)
}

impl fmt::Display for Mend {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Uncover { .. } => {
                f.write_str("Cool it open, nothing above it; cover it only when it is cold.")
            }
            Self::Split { dishes, depth_m, .. } => write!(
                f,
                "Spread it over {dishes} dishes of this size, open, at most {} deep.",
                depth(*depth_m)
            ),
            Self::IceFirst { ice_kg, minutes, .. } => write!(
                f,
                "Stand it in iced water up to the level of the food for {minutes:.0}\u{a0}min, with {} of ice, then move it back, open.",
                ice(*ice_kg)
            ),
            Self::IceAllTheWay { ice_kg, .. } => write!(
                f,
                "Leave it in iced water up to the level of the food until it is cold, with {} of ice; add ice before it is gone.",
                ice(*ice_kg)
            ),
            Self::FreezerFirst { minutes, .. } => write!(
                f,
                "Put it open into the freezer for {minutes:.0}\u{a0}min, then back; look that the edge does not freeze."
            ),
            Self::BlastChiller { .. } => f.write_str("Use a blast chiller."),
        }
    }
}

/// After a mend: whether it too wants a thermometer.
#[must_use]
pub const fn mend_word(likely: Likely) -> &'static str {
    match likely {
        Likely::InTime => "in time, also in the slow case",
        Likely::TooClose | Likely::TooSlow => "in time in the middle case: measure",
    }
}

/// What the forecast rests on beside what was typed.
#[must_use]
pub fn assumed(forecast: &Forecast) -> Vec<String> {
    let pan = &forecast.plan.pan;
    let mut lines = vec![format!(
        "{:.1}\u{a0}kg in a {} dish of {:.0} x {:.0}\u{a0}cm, {} deep, {}; from {:.0}\u{a0}°C ({:.0}\u{a0}°F).",
        forecast.kilograms,
        pan.vessel.word(),
        pan.width_m * 100.0,
        pan.length_m * 100.0,
        depth(pan.depth_m),
        pan.cover.word(),
        forecast.plan.start_c,
        fahrenheit(forecast.plan.start_c)
    )];
    for stage in forecast.plan.stages.iter().flatten() {
        let at = stage.celsius.unwrap_or(stage.place.usual_c());
        let air =
            if matches!(stage.place, Place::IceBath | Place::ColdWater) { "water" } else { "air" };
        let long = stage
            .seconds
            .map_or_else(|| "until cold".to_owned(), |it| format!("for {:.0}\u{a0}min", it / 60.0));
        lines.push(format!(
            "{}, {air} of {at:.0}\u{a0}°C ({:.0}\u{a0}°F), {long}. The slow case is warmer and moves less air.",
            stage.place.named_first(),
            fahrenheit(at)
        ));
    }
    lines.push("The food does not move: what is stirred, or flows, cools quicker.".to_owned());
    if let Some(needed) = forecast.ice_kg {
        lines.push(format!(
            "{} of ice, a fifth of it in reserve. Without ice the bath is warm water.",
            ice(needed)
        ));
    }
    lines
}

/// What the food does to its surroundings, when it is much.
#[must_use]
pub fn load_warning(forecast: &Forecast) -> Option<String> {
    let last = forecast.plan.stages.iter().flatten().last()?;
    (last.place == Place::HomeFridge && forecast.first_hour_watts > FRIDGE_WATTS).then(|| {
        format!(
            "It gives off about {:.0}\u{a0}W in the first hour; a home fridge carries off about 100 to 150. \
             Two dishes at once warm it, and this forecast does not reckon with that.",
            (forecast.first_hour_watts / 10.0).round() * 10.0
        )
    })
}

/// `25 to 40 min`; down and up to the next five.
#[must_use]
pub fn minutes(band: &Band) -> String {
    let low = ((band.quick / 5.0).floor() * 5.0).max(5.0);
    let high = (band.slow / 5.0).ceil() * 5.0;
    if high >= 180.0 {
        return format!("{:.1} to {:.1}\u{a0}h", low / 60.0, high / 60.0);
    }
    if high - low < 1.0 {
        format!("about {high:.0}\u{a0}min")
    } else {
        format!("{low:.0} to {high:.0}\u{a0}min")
    }
}

/// Both scales, whole degrees.
#[must_use]
pub fn degrees(celsius: f64) -> String {
    format!("{celsius:.0}\u{a0}°C ({:.0}\u{a0}°F)", fahrenheit(celsius))
}

/// Minutes until the first look, in fives and downwards: a look too early costs nothing.
#[must_use]
pub fn first_check_minutes(roasted: &Roasted) -> f64 {
    let early = roasted.first_check_minutes.min(roasted.minutes.quick);
    ((early / 5.0).floor() * 5.0).max(5.0)
}

/// `45 min`
#[must_use]
pub fn first_check(roasted: &Roasted) -> String {
    format!("{:.0}\u{a0}min", first_check_minutes(roasted))
}

/// When to look first, how long it may take, what the rest adds.
#[must_use]
pub fn roast_told(roasted: &Roasted, pull_c: f64) -> [String; 2] {
    let (least, most) = roasted.rise;
    [
        format!(
            "Look first after {}; likely {} until the middle shows {}.",
            first_check(roasted),
            minutes(&roasted.minutes),
            degrees(pull_c)
        ),
        format!(
            "Resting usually adds {:.0} to {:.0}\u{a0}°C ({:.0} to {:.0}\u{a0}°F).",
            least.floor(),
            most.ceil(),
            (least * 1.8).floor(),
            (most * 1.8).ceil()
        ),
    ]
}

/// One way of keeping a dish on the right side of its mark.
#[must_use]
pub fn held_told(place: HoldIn, held: &Held, mark_c: f64, is_hot: bool) -> String {
    let side = if is_hot { "over" } else { "under" };
    let until = |band: &Option<Band>| {
        band.as_ref().map_or_else(|| "8\u{a0}h and longer".to_owned(), minutes)
    };
    format!(
        "{}: {side} {} on the whole for {}, its skin and edge for {}.",
        capital(place.word()),
        degrees(mark_c),
        until(&held.inside),
        until(&held.edge)
    )
}

/// An end point in the scale it was typed in: whole degrees and never higher than typed, so that a
/// fraction never lifts it over a limit.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "an end point lies between 40 and 99 C")]
pub fn as_typed(typed: &str, celsius: f64) -> Degrees {
    if typed.trim().to_lowercase().ends_with('f') {
        let figure = (fahrenheit(celsius) + 1e-6).floor() as i32;
        return Degrees { figure, scale: Scale::Fahrenheit };
    }
    Degrees { figure: (celsius + 1e-6).floor() as i32, scale: Scale::Celsius }
}

/// What a log of a roast adds beside the verdict, which it never changes.
#[must_use]
pub fn credit_told(logs: f64) -> String {
    format!(
        "Beef only: these readings earn {:.1} of the 6.5 reductions of FSIS Appendix A. \
         It is told beside the answer; the row of the limits decides.",
        (logs * 10.0).floor() / 10.0
    )
}

/// The answer when the end point is out of reach.
pub const NEVER_THERE: &str =
    "The middle does not reach that end point within ten hours in this oven.";

/// Minutes in an oven from one start.
#[must_use]
pub fn warmed_told(start: &str, band: Option<&Band>) -> String {
    let told = band.map_or_else(|| "not within six hours".to_owned(), minutes);
    format!("From the {start}: {told}.")
}

/// All that was wrong, one after the other.
#[must_use]
pub fn nonsense(faults: &[Fault]) -> String {
    faults.iter().map(|it| it.what.to_string()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depths_and_ice_err_on_the_careful_side() {
        assert_eq!(depth(0.0151), "15\u{a0}mm (1/2\u{a0}in)");
        assert_eq!(depth(0.0254), "25\u{a0}mm (1\u{a0}in)");
        assert_eq!(depth(0.0445), "44\u{a0}mm (1 3/4\u{a0}in)");
        assert_eq!(ice(3.31), "3.4\u{a0}kg (7.5\u{a0}lb)");
    }

    #[test]
    fn no_sentence_promises_anything() {
        let mends = [
            Mend::Uncover { likely: Likely::InTime },
            Mend::Split { dishes: 4, depth_m: 0.015, likely: Likely::InTime },
            Mend::IceFirst { ice_kg: 1.1, minutes: 45.0, likely: Likely::InTime },
            Mend::IceAllTheWay { ice_kg: 3.31, likely: Likely::InTime },
            Mend::FreezerFirst { minutes: 60.0, likely: Likely::TooClose },
            Mend::BlastChiller { likely: Likely::InTime },
        ];
        let verdicts = [Likely::InTime, Likely::TooClose, Likely::TooSlow];
        let all = mends
            .iter()
            .map(ToString::to_string)
            .chain(verdicts.map(|it| format!("{} {}", verdict(it), verdict_told(it))))
            .chain([ESTIMATE, OVER_THE_MARK, READING_STEP, RISE_COUNTS_NOTHING].map(str::to_owned));
        for words in all {
            let small = words.to_lowercase();
            for promise in ["safe", "pass", "fail"] {
                // "passed" is what a thermometer does.
                assert!(!small.replace("passed", "").contains(promise), "{words}");
            }
        }
    }
}
