//! What is asked about a reading before anything is worked out from it.

use jiff::{SignedDuration, Timestamp};

use super::Probe;
use crate::domain::caution::ReadingProblem;
use crate::domain::heat::{Measured, Scale};
use crate::domain::moment::Zone;

/// What a log is kept of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LogKind {
    Cooling,
    /// Made of food at room temperature.
    FromRoom,
    Hot,
    Cold,
    Core,
}

impl LogKind {
    pub const ALL: [Self; 5] = [Self::Cooling, Self::FromRoom, Self::Hot, Self::Cold, Self::Core];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Cooling => "cooling",
            Self::FromRoom => "from-room",
            Self::Hot => "hot",
            Self::Cold => "cold",
            Self::Core => "core",
        }
    }

    pub const fn title(self) -> &'static str {
        match self {
            Self::Cooling => "Cooling",
            Self::FromRoom => "Cooling, mixed from food at room temperature",
            Self::Hot => "Holding hot",
            Self::Cold => "Holding cold",
            Self::Core => "The middle of what is cooked",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == word)
    }
}

/// Passes a reading that can be one. `is_sure` is said by whoever typed it after being asked.
pub fn check_reading(
    kind: LogKind,
    probe: Probe,
    earlier: &[Probe],
    is_sure: bool,
    now: Timestamp,
    zone: &Zone,
) -> Result<Probe, ReadingProblem> {
    let hour = |at: Timestamp| zone.local(at).strftime("%a %-d, %H:%M").to_string();
    let at = hour(probe.at);
    // A clock may run a little ahead of ours.
    if probe.at > now.saturating_add(SignedDuration::from_mins(5)).unwrap_or(now) {
        return Err(ReadingProblem::NotYet { at });
    }
    if now.duration_since(probe.at) > SignedDuration::from_hours(72) {
        return Err(ReadingProblem::LongAgo { at });
    }
    if let Some(last) = earlier.last().filter(|last| last.at >= probe.at) {
        return Err(ReadingProblem::NotInOrder { at, last: hour(last.at) });
    }
    let celsius = probe.heat.celsius();
    if !(-40.0..=130.0).contains(&celsius) {
        // 135 typed with Celsius chosen is a hot soup in Fahrenheit.
        return match meant(probe.heat).filter(|it| plausible(kind, *it, earlier)) {
            Some(meant) => Err(other_scale(probe.heat, meant)),
            None => Err(ReadingProblem::NotFood { typed: probe.heat }),
        };
    }
    if is_sure {
        return Ok(probe);
    }
    let meant = meant(probe.heat).filter(|it| plausible(kind, *it, earlier));
    if !plausible(kind, probe.heat, earlier)
        && let Some(meant) = meant
    {
        return Err(other_scale(probe.heat, meant));
    }
    if kind == LogKind::Cold && celsius >= 15.0 {
        return Err(ReadingProblem::RoomWarm { typed: probe.heat });
    }
    Ok(probe)
}

/// The same figure in the other scale.
fn meant(heat: Measured) -> Option<Measured> {
    let there = Measured { tenths: heat.tenths, scale: heat.scale.other() };
    (-30.0..=110.0).contains(&there.celsius()).then_some(there)
}

fn other_scale(typed: Measured, meant: Measured) -> ReadingProblem {
    let how = if typed.celsius() < meant.celsius() { "very cold" } else { "very hot" };
    ReadingProblem::OtherScale { typed, meant, how }
}

/// What such a log usually shows, in Celsius.
fn plausible(kind: LogKind, heat: Measured, earlier: &[Probe]) -> bool {
    let celsius = heat.celsius();
    let usual = match kind {
        // The first reading of cooling is hot; each later one lies between it and the fridge.
        LogKind::Cooling => match earlier.last() {
            None => 38.0..=110.0,
            Some(last) => -2.0..=(last.heat.celsius() + 30.0).max(60.0),
        },
        LogKind::FromRoom => -2.0..=45.0,
        LogKind::Hot => 38.0..=110.0,
        LogKind::Cold => -5.0..=25.0,
        LogKind::Core if earlier.is_empty() => 25.0..=105.0,
        LogKind::Core => 35.0..=105.0,
    };
    // 47 F in a box of hot food is nearer to a slip than to a reading.
    let is_cold_in_hot = matches!(kind, LogKind::Hot | LogKind::Core)
        && heat.scale == Scale::Fahrenheit
        && heat.tenths < 1000;
    usual.contains(&celsius) && !is_cold_in_hot
}

/// Millimetres of a depth typed in centimetres.
pub fn check_depth_mm(typed: &str) -> Result<u32, ReadingProblem> {
    let centimetres: f64 =
        typed.trim().replace(',', ".").parse().map_err(|_| ReadingProblem::NoDepth)?;
    if !(0.5..=30.0).contains(&centimetres) {
        return Err(ReadingProblem::NoDepth);
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "5 to 300")]
    Ok((centimetres * 10.0).round() as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: i64 = 1_800_000_000;

    fn probe(minutes_ago: i64, figure: i32, scale: Scale) -> Probe {
        let at = Timestamp::from_second(NOW - minutes_ago * 60).unwrap();
        Probe { at, heat: Measured::whole(figure, scale) }
    }

    fn ask(
        kind: LogKind,
        it: Probe,
        earlier: &[Probe],
        sure: bool,
    ) -> Result<Probe, ReadingProblem> {
        let now = Timestamp::from_second(NOW).unwrap();
        check_reading(kind, it, earlier, sure, now, &Zone::parse("Etc/UTC").unwrap())
    }

    use Scale::{Celsius as C, Fahrenheit as F};

    #[test]
    fn a_scale_that_was_left_on_the_wrong_letter_is_asked_about() {
        let hot = ask(LogKind::Hot, probe(1, 47, F), &[], false).unwrap_err();
        let ReadingProblem::OtherScale { meant, .. } = &hot else { panic!("{hot}") };
        assert_eq!(*meant, Measured::whole(47, C));
        assert!(hot.to_string().contains("Did you mean 47\u{a0}°C?"), "{hot}");
        assert!(ask(LogKind::Hot, probe(1, 47, F), &[], true).is_ok(), "it may be right");
        for (kind, figure, scale) in [
            (LogKind::Cooling, 135, C),
            (LogKind::Cooling, 82, F),
            (LogKind::Core, 165, C),
            (LogKind::Core, 63, F),
            (LogKind::Cold, 40, C),
            (LogKind::Hot, 140, C),
        ] {
            let asked = ask(kind, probe(1, figure, scale), &[], false);
            assert!(
                matches!(asked, Err(ReadingProblem::OtherScale { .. })),
                "{kind:?} {figure}: {asked:?}"
            );
        }
        let earlier = [probe(130, 82, C)];
        assert!(ask(LogKind::Cooling, probe(1, 20, C), &earlier, false).is_ok());
        assert!(ask(LogKind::Cooling, probe(1, 135, F), &[], false).is_ok());
        assert!(ask(LogKind::Core, probe(1, 30, C), &[], false).is_ok());
    }

    #[test]
    fn nonsense_is_said_to_be_nonsense_even_when_somebody_is_sure() {
        let absurd = ask(LogKind::Hot, probe(1, 900, F), &[], true).unwrap_err();
        assert!(matches!(absurd, ReadingProblem::NotFood { .. }), "{absurd}");
        let room = ask(LogKind::Cold, probe(1, 70, F), &[], false).unwrap_err();
        assert!(matches!(room, ReadingProblem::RoomWarm { .. }), "{room}");
        assert!(ask(LogKind::Cold, probe(1, 70, F), &[], true).is_ok(), "the fridge did fail");
        let depth = |typed: &str| check_depth_mm(typed);
        assert_eq!(depth("2,5"), Ok(25));
        for nonsense in ["0", "200", "-3", "deep", "NaN", "inf"] {
            assert_eq!(depth(nonsense), Err(ReadingProblem::NoDepth), "{nonsense}");
        }
    }

    #[test]
    fn readings_come_in_order_and_never_from_tomorrow() {
        let earlier = [probe(20, 80, C)];
        let before = ask(LogKind::Cooling, probe(30, 60, C), &earlier, true);
        assert!(matches!(before, Err(ReadingProblem::NotInOrder { .. })));
        let twice = ask(LogKind::Cooling, probe(20, 60, C), &earlier, true);
        assert!(matches!(twice, Err(ReadingProblem::NotInOrder { .. })), "one reading a minute");
        let tomorrow = ask(LogKind::Cooling, probe(-60, 60, C), &earlier, true);
        assert!(matches!(tomorrow, Err(ReadingProblem::NotYet { .. })));
        let old = ask(LogKind::Cooling, probe(5_000, 60, C), &[], true);
        assert!(matches!(old, Err(ReadingProblem::LongAgo { .. })));
    }
}
