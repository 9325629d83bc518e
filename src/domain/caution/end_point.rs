//! An end point against the least that the profile of the school asks for.

use std::fmt;

use crate::domain::heat::{Degrees, Scale};
use crate::domain::limit::{Base, Figure, Profile};

/// What is measured in the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Joint {
    Poultry,
    Mince,
    /// A whole, untouched piece of beef, lamb or pork.
    Whole,
    Fish,
}

/// What an end point lacks. `Display` is the caution in the step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EndPoint {
    /// Reached, and this rest belongs to the cooking (USDA/HHS chart: 145 F and 3 min).
    ThenRest { minutes: u32 },
    /// Reached when it is held so long (Food Code 3-401.11(B)(1)).
    ThenHold { seconds: u32 },
    /// Undercooked by this profile. `at_risk`: some guest may not have it at all.
    Below { least_f: i32, least_c: i32, rest_minutes: u32, at_risk: bool },
}

/// None: the end point is enough as it is. `at_risk`: guests who are very young, old, pregnant or ill.
#[must_use]
pub fn end_point(
    profile: &Profile,
    joint: Joint,
    core: Degrees,
    at_risk: bool,
) -> Option<EndPoint> {
    let (key, has_table) = match (profile.base, joint) {
        (Base::UkAdvice, _) => ("uk_core_75", false),
        (Base::Home, Joint::Poultry) => ("us_poultry", false),
        (Base::Home, Joint::Mince) => ("us_ground_red", false),
        (Base::Home, Joint::Whole) => ("us_whole_red", false),
        (Base::Home, Joint::Fish) => ("us_fish", false),
        (_, Joint::Poultry) => ("fc_poultry", false),
        (_, Joint::Mince) => ("fc_ground", false),
        (_, Joint::Whole) => ("fc_roast_145", true),
        (_, Joint::Fish) => ("fc_fish", false),
    };
    let figure = profile.figure(key)?;
    if has_table && let Some(row) = row_of_table(profile, core) {
        let seconds = row.hold_seconds.unwrap_or(0);
        return (seconds > 0).then_some(EndPoint::ThenHold { seconds });
    }
    let rest_minutes = figure.rest_minutes.unwrap_or(0);
    if reached(figure, core) {
        return (rest_minutes > 0).then_some(EndPoint::ThenRest { minutes: rest_minutes });
    }
    let least = |scale| figure.degrees(scale).map(|it| -(-it.tenths).div_euclid(10));
    Some(EndPoint::Below {
        least_f: least(Scale::Fahrenheit)?,
        least_c: least(Scale::Celsius)?,
        rest_minutes,
        at_risk,
    })
}

/// Between two rows the lower one; below 130 F none. Nothing is put in between (rule book 1.2.1).
fn row_of_table(profile: &Profile, core: Degrees) -> Option<&Figure> {
    let rows = profile.figures().filter(|it| it.key.starts_with("fc_roast_"));
    rows.filter(|row| reached(row, core)).max_by_key(|row| row.fahrenheit.map(|it| it.tenths))
}

/// Compared in the scale it was typed in, with the figure printed in that scale.
fn reached(figure: &Figure, core: Degrees) -> bool {
    figure.degrees(core.scale).is_some_and(|least| core.figure * 10 >= least.tenths)
}

impl fmt::Display for EndPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ThenRest { minutes } => {
                write!(f, "Then rest it {minutes}\u{a0}min uncut: the rest belongs to the cooking.")
            }
            Self::ThenHold { seconds } => write!(
                f,
                "It must stay at this end point or above for {}, as the thermometer shows it.",
                span(*seconds)
            ),
            Self::Below { least_f, least_c, rest_minutes, at_risk } => {
                write!(
                    f,
                    "Undercooked by the limits the school chose: they ask for {least_c}\u{a0}°C ({least_f}\u{a0}°F)"
                )?;
                if *rest_minutes > 0 {
                    write!(f, " and {rest_minutes}\u{a0}min of rest")?;
                }
                f.write_str(". Meat below that may make people ill; a rise at rest counts only when it is measured.")?;
                if *at_risk {
                    f.write_str(" Not for this table: guests who are very young, old, pregnant or ill may not have it.")
                } else {
                    f.write_str(" Never for guests who are very young, old, pregnant or ill.")
                }
            }
        }
    }
}

fn span(seconds: u32) -> String {
    if seconds >= 120 && seconds.is_multiple_of(60) {
        format!("{}\u{a0}min", seconds / 60)
    } else {
        format!("{seconds}\u{a0}s")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(figure: i32, scale: Scale) -> Degrees {
        Degrees { figure, scale }
    }

    fn home(joint: Joint, core: Degrees) -> Option<EndPoint> {
        end_point(&Profile::shipped(Base::Home), joint, core, false)
    }

    #[test]
    fn a_home_asks_for_145_and_three_minutes_and_poultry_for_165() {
        let fahrenheit = |figure| at(figure, Scale::Fahrenheit);
        let rest = Some(EndPoint::ThenRest { minutes: 3 });
        assert_eq!(home(Joint::Whole, fahrenheit(145)), rest);
        assert_eq!(home(Joint::Whole, at(63, Scale::Celsius)), rest, "the chart's own pair");
        assert!(matches!(
            home(Joint::Whole, fahrenheit(120)),
            Some(EndPoint::Below { least_f: 145, least_c: 63, rest_minutes: 3, .. })
        ));
        assert_eq!(home(Joint::Poultry, fahrenheit(165)), None);
        assert!(matches!(
            home(Joint::Poultry, fahrenheit(164)),
            Some(EndPoint::Below { least_f: 165, .. })
        ));
        assert!(matches!(
            home(Joint::Mince, fahrenheit(145)),
            Some(EndPoint::Below { least_f: 160, .. })
        ));
    }

    #[test]
    fn a_licensed_kitchen_has_the_roast_table_row_by_row() {
        // Food Code 3-401.11(B)(1), both editions read: F and seconds.
        const TABLE: [(i32, u32); 16] = [
            (130, 6720),
            (131, 5340),
            (133, 3360),
            (135, 2160),
            (136, 1680),
            (138, 1080),
            (140, 720),
            (142, 480),
            (144, 300),
            (145, 240),
            (147, 134),
            (149, 85),
            (151, 54),
            (153, 34),
            (155, 22),
            (157, 14),
        ];
        for base in [Base::FoodCode2022, Base::FoodCode2017] {
            let profile = Profile::shipped(base);
            let asks =
                |figure| end_point(&profile, Joint::Whole, at(figure, Scale::Fahrenheit), false);
            for (figure, seconds) in TABLE {
                assert_eq!(asks(figure), Some(EndPoint::ThenHold { seconds }), "{figure} F");
            }
            assert_eq!(asks(134), Some(EndPoint::ThenHold { seconds: 3360 }), "the row below");
            assert_eq!(asks(158), None);
            assert!(matches!(asks(129), Some(EndPoint::Below { least_f: 145, .. })));
        }
    }

    #[test]
    fn the_caution_says_for_whom_it_never_is() {
        let below = |at_risk| {
            let profile = Profile::shipped(Base::Home);
            end_point(&profile, Joint::Whole, at(120, Scale::Fahrenheit), at_risk)
                .unwrap()
                .to_string()
        };
        assert!(below(false).contains("145\u{a0}°F") && below(false).contains("Never for guests"));
        assert!(below(true).contains("Not for this table"));
        assert!(!below(true).to_lowercase().contains("safe"));
    }
}
