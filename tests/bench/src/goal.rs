//! A figure beside its goal.

/// What a figure should be.
#[derive(Clone, Copy, Debug)]
pub enum Goal {
    AtLeast(f64),
    AtMost(f64),
    Below(f64),
    /// Shown for comparison.
    Open,
}

/// Prints one figure, its goal, and whether it is met.
pub fn line(name: &str, figure: f64, goal: Goal) {
    let (words, is_met) = match goal {
        Goal::AtLeast(least) => (format!("at least {least}"), figure >= least),
        Goal::AtMost(most) => (format!("at most {most}"), figure <= most),
        Goal::Below(end) => (format!("below {end}"), figure < end),
        Goal::Open => {
            println!("{name:<40} {figure:>9.3}");
            return;
        }
    };
    let verdict = if is_met { "met" } else { "MISSED" };
    println!("{name:<40} {figure:>9.3}  goal {words:<14} {verdict}");
}
