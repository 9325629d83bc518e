//! Counts over the whole life of a food: minutes out of the fridge, times it was heated again.

use super::profile::Profile;
use crate::domain::heat::Measured;
use crate::domain::trace::{Trace, TraceLine};

/// One stretch out of cold and heat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// `Step 2, hands`, `On the way`, `At the table`.
    pub what: String,
    pub minutes: u32,
}

/// All stretches together against the minutes allowed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomClock {
    pub total_minutes: u32,
    pub limit_minutes: u32,
    pub trace: Trace,
}

impl RoomClock {
    pub const fn is_within(&self) -> bool {
        self.total_minutes <= self.limit_minutes
    }

    pub const fn over_minutes(&self) -> u32 {
        self.total_minutes.saturating_sub(self.limit_minutes)
    }

    pub const fn left_minutes(&self) -> u32 {
        self.limit_minutes.saturating_sub(self.total_minutes)
    }
}

/// Adds up preparing, carrying, standing and serving; `air` is the room, where it is known.
pub fn room_clock(profile: &Profile, air: Option<Measured>, stretches: &[Stretch]) -> RoomClock {
    let limit_minutes =
        air.map_or_else(|| profile.room_minutes(), |air| profile.room_minutes_in(air));
    let mut lines = Vec::new();
    let mut total = 0_u32;
    for stretch in stretches {
        total = total.saturating_add(stretch.minutes);
        lines.push(TraceLine::new(
            format!("+ {}\u{a0}min", stretch.minutes),
            format!("{total}\u{a0}min"),
            format!("{}.", stretch.what),
        ));
    }
    if let Some(air) = air {
        let half = if limit_minutes < profile.room_minutes() {
            "hotter than 32 °C (90 °F), so the time is halved"
        } else {
            "the usual time"
        };
        lines.push(TraceLine::new(air.to_string(), "room", format!("The room: {half}.")));
    }
    let words = if total <= limit_minutes {
        format!(
            "{total} of {limit_minutes}\u{a0}min out of the fridge; {}\u{a0}min are left ({}).",
            limit_minutes - total,
            profile.room_source()
        )
    } else {
        format!(
            "{total}\u{a0}min out of the fridge, {}\u{a0}min over the {limit_minutes} allowed ({}).",
            total - limit_minutes,
            profile.room_source()
        )
    };
    let answer = TraceLine::new(format!("{total}\u{a0}min"), "in all", words);
    RoomClock { total_minutes: total, limit_minutes, trace: Trace { lines, answer } }
}

/// How often a food may still be heated again; none where the rules set no number.
pub fn reheats_left(profile: &Profile, heated_again: u32) -> Option<i64> {
    let most = profile.in_force("uk_reheat").and_then(|it| it.count())?;
    Some(i64::from(most) - i64::from(heated_again))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::heat::Scale;
    use crate::domain::limit::Base;
    use proptest::prelude::*;

    fn stretches(minutes: &[u32]) -> Vec<Stretch> {
        let name = |minutes: &u32| Stretch { what: "Out".to_owned(), minutes: *minutes };
        minutes.iter().map(name).collect()
    }

    /// Worked example 9.2, A and B, on the consumer two-hour rule (USDA FSIS): one hour above 90 F.
    #[test]
    fn minutes_out_of_the_fridge_add_up() {
        let home = Profile::default();
        let air = |figure| Some(Measured::whole(figure, Scale::Fahrenheit));
        let a = room_clock(&home, air(72), &stretches(&[35, 50, 70]));
        assert_eq!((a.total_minutes, a.limit_minutes, a.over_minutes()), (155, 120, 35), "9.2A");
        let b = room_clock(&home, air(95), &stretches(&[35, 50, 70]));
        assert_eq!((b.total_minutes, b.limit_minutes, b.over_minutes()), (155, 60, 95), "9.2B");
        assert!(!a.is_within() && !b.is_within());
        let edge = room_clock(&home, air(90), &stretches(&[60]));
        assert_eq!(edge.limit_minutes, 120, "90 F itself is not above 90 F");
        let celsius =
            room_clock(&home, Some(Measured::whole(33, Scale::Celsius)), &stretches(&[61]));
        assert!(!celsius.is_within(), "above 32 C the hour holds");
    }

    #[test]
    fn only_the_advice_that_counts_reheatings_has_a_number() {
        assert_eq!(reheats_left(&Profile::shipped(Base::UkAdvice), 1), Some(0));
        assert_eq!(reheats_left(&Profile::shipped(Base::UkAdvice), 2), Some(-1));
        for base in [Base::Home, Base::FoodCode2022, Base::FoodCode2017] {
            assert_eq!(reheats_left(&Profile::shipped(base), 3), None);
        }
    }

    proptest! {
        #[test]
        fn one_more_stretch_never_leaves_more(
            minutes in proptest::collection::vec(0u32..200, 0..8), more in 0u32..200,
        ) {
            let home = Profile::default();
            let before = room_clock(&home, None, &stretches(&minutes));
            let mut longer = minutes.clone();
            longer.push(more);
            let after = room_clock(&home, None, &stretches(&longer));
            prop_assert!(after.left_minutes() <= before.left_minutes());
            prop_assert!(after.over_minutes() >= before.over_minutes());
            prop_assert_eq!(before.total_minutes, minutes.iter().sum::<u32>());
        }
    }
}
