//! The warmest place against the clock: a band from quick to slow, and the two limits as walls.

use std::fmt::Write;

use super::{Svg, escaped};

/// Hours and Celsius; the figures stand in a table beside it, too.
pub struct CoolingCurve<'a> {
    /// Minutes from the start, and slow, middle, quick in Celsius.
    pub points: &'a [(f64, [f64; 3])],
    /// Minutes from the start at which the limits stand: they count from 135 F.
    pub limits: [f64; 2],
    /// What the limits say.
    pub words: [&'a str; 2],
    pub says: &'a str,
}

const WIDTH: f64 = 760.0;
const HEIGHT: f64 = 300.0;
const LEFT: f64 = 92.0;
const TOP: f64 = 34.0;
const FOOT: f64 = 44.0;
const COLD: f64 = -2.0;
const MARKS: [(f64, f64); 2] = [(21.1, 70.0), (5.0, 41.0)];

pub fn cooling(curve: &CoolingCurve<'_>) -> Svg {
    let hottest = curve.points.first().map_or(60.0, |it| it.1[0]).max(30.0) + 4.0;
    let last = curve.points.last().map_or(60.0, |it| it.0).max(curve.limits[1] + 30.0);
    let x = |minutes: f64| LEFT + (WIDTH - LEFT - 12.0) * minutes / last;
    let y = |celsius: f64| TOP + (HEIGHT - TOP - FOOT) * (hottest - celsius) / (hottest - COLD);
    let mut marks = String::new();
    grid(&mut marks, hottest, last, &x, &y);
    band(&mut marks, curve, &x, &y);
    for (place, ((limit, mark), words)) in
        curve.limits.iter().zip(MARKS).zip(curve.words).enumerate()
    {
        let (at, down) = (x(*limit), y(mark.0));
        let (anchor, beside) = if place == 0 { ("start", at + 8.0) } else { ("end", at - 8.0) };
        let _ = write!(
            marks,
            "<path class=\"lim\" d=\"M{at:.1} {TOP}V{down:.1}\"/>\
             <path class=\"lim foot\" d=\"M{:.1} {down:.1}h28\"/>\
             <text class=\"limt halo\" x=\"{beside:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\">{}</text>",
            at - 14.0,
            TOP - 12.0 + 20.0 * f64::from(u8::from(place == 1)),
            escaped(words)
        );
    }
    Svg(format!(
        "<svg class=\"curve\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" aria-label=\"{}\">{marks}</svg>",
        escaped(curve.says)
    ))
}

fn grid(
    marks: &mut String,
    hottest: f64,
    last: f64,
    x: &impl Fn(f64) -> f64,
    y: &impl Fn(f64) -> f64,
) {
    let floor = HEIGHT - FOOT;
    for celsius in [5.0, 21.0, 40.0, 60.0, 80.0, 100.0] {
        if celsius <= hottest {
            let down = y(celsius);
            let _ = write!(
                marks,
                "<path class=\"grid\" d=\"M{LEFT} {down:.1}H{WIDTH}\"/>\
                 <text class=\"axis\" x=\"{:.0}\" y=\"{:.1}\" text-anchor=\"end\">{celsius:.0} °C</text>",
                LEFT - 10.0,
                down + 5.0
            );
        }
    }
    let hours = last / 60.0;
    let step = if hours > 16.0 {
        4.0
    } else if hours > 9.0 {
        2.0
    } else {
        1.0
    };
    let mut hour = 0.0;
    while hour <= hours {
        let at = x(hour * 60.0);
        let _ = write!(
            marks,
            "<path class=\"grid\" d=\"M{at:.1} {TOP}V{floor}\"/>\
             <text class=\"axis\" x=\"{at:.1}\" y=\"{:.0}\" text-anchor=\"middle\">{hour:.0} h</text>",
            floor + 24.0
        );
        hour += step;
    }
}

fn band(
    marks: &mut String,
    curve: &CoolingCurve<'_>,
    x: &impl Fn(f64) -> f64,
    y: &impl Fn(f64) -> f64,
) {
    let line = |case: usize| {
        let mut line = String::new();
        for (minutes, cases) in curve.points {
            let _ = write!(line, "{:.1},{:.1} ", x(*minutes), y(cases[case]));
        }
        line
    };
    let mut around = line(2);
    for (minutes, cases) in curve.points.iter().rev() {
        let _ = write!(around, "{:.1},{:.1} ", x(*minutes), y(cases[0]));
    }
    let _ = write!(marks, "<polygon class=\"band\" points=\"{}\"/>", around.trim_end());
    for (case, class) in [(2, "quick"), (1, "middle"), (0, "slow")] {
        let _ = write!(marks, "<polyline class=\"{class}\" points=\"{}\"/>", line(case).trim_end());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_slow_line_is_drawn_last_and_every_text_is_escaped() {
        let points =
            [(0.0, [60.0, 60.0, 60.0]), (120.0, [40.0, 30.0, 20.0]), (360.0, [20.0, 9.0, 5.0])];
        let drawn = cooling(&CoolingCurve {
            points: &points,
            limits: [125.0, 365.0],
            words: ["under 21 <C>", "under 5"],
            says: "the \"warmest\" place",
        })
        .to_string();
        assert!(drawn.find("class=\"slow\"") > drawn.find("class=\"quick\""), "{drawn}");
        assert!(drawn.contains("under 21 &lt;C&gt;") && drawn.contains("&quot;warmest&quot;"));
        assert!(!drawn.contains("NaN") && !drawn.contains("inf"));
    }
}
