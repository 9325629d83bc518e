//! The end of cooking: degrees in the middle, how long they hold, and the rest that belongs to it.
//!
//! A row of the rules is met when all readings from one on stay at or above it for as long as it asks;
//! the earliest row counts, nothing is interpolated and no credit is added up (rule book 1.2.1).

use jiff::Timestamp;

use super::{Checked, Probe, Verdict, is_within, lines, minutes_between};
use crate::domain::caution::Advice;
use crate::domain::caution::forecast::credit_told;
use crate::domain::heat::{Measured, Scale};
use crate::domain::limit::{Base, InForce, Profile, Sense};
use crate::domain::moment::Zone;
use crate::domain::trace::{Moment, Trace, TraceLine};
use crate::domain::warmth;

/// What is measured in the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CoreFood {
    Poultry,
    Roast,
    Steak,
    Ground,
    Fish,
    EggDish,
    Stuffed,
    HeatedAgain,
}

impl CoreFood {
    pub const ALL: [Self; 8] = [
        Self::Poultry,
        Self::Roast,
        Self::Steak,
        Self::Ground,
        Self::Fish,
        Self::EggDish,
        Self::Stuffed,
        Self::HeatedAgain,
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Poultry => "poultry",
            Self::Roast => "roast",
            Self::Steak => "steak",
            Self::Ground => "ground",
            Self::Fish => "fish",
            Self::EggDish => "egg",
            Self::Stuffed => "stuffed",
            Self::HeatedAgain => "again",
        }
    }

    pub const fn title(self) -> &'static str {
        match self {
            Self::Poultry => "poultry, whole, in parts or minced",
            Self::Roast => "whole roast of beef, lamb, pork or cured pork",
            Self::Steak => "steaks and chops in one piece",
            Self::Ground => "minced or pierced meat",
            Self::Fish => "fish",
            Self::EggDish => "egg dish",
            Self::Stuffed => "anything stuffed",
            Self::HeatedAgain => "cooked before and heated again",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == word)
    }

    /// The figures of these rules, any of which is enough.
    fn keys(self, base: Base) -> Vec<&'static str> {
        const GROUND: [&str; 4] =
            ["fc_ground", "fc_ground_alt_150", "fc_ground_alt_145", "fc_ground_alt_158"];
        match (base, self) {
            (Base::UkAdvice, _) => vec!["uk_core_70", "uk_core_75"],
            (Base::Home, Self::Poultry) => vec!["us_poultry"],
            (Base::Home, Self::Roast | Self::Steak) => vec!["us_whole_red"],
            (Base::Home, Self::Ground) => vec!["us_ground_red"],
            (Base::Home, Self::Fish) => vec!["us_fish"],
            (Base::Home, Self::EggDish) => vec!["us_egg_dishes"],
            (Base::Home, Self::Stuffed) => vec!["us_stuffing"],
            (Base::Home, Self::HeatedAgain) => vec!["us_leftovers"],
            (_, Self::Poultry) => vec!["fc_poultry"],
            (_, Self::Roast) => ROAST.to_vec(),
            (_, Self::Steak) => vec!["fc_meat_intact"],
            (_, Self::Ground) => GROUND.to_vec(),
            (_, Self::Fish) => vec!["fc_fish"],
            (_, Self::EggDish) => [&["fc_egg_pooled"], &GROUND[1..]].concat(),
            (_, Self::Stuffed) => vec!["fc_stuffed"],
            (_, Self::HeatedAgain) => vec!["fc_reheat"],
        }
    }

    fn rows(self, profile: &Profile) -> Vec<InForce<'_>> {
        let keys = self.keys(profile.base).into_iter();
        keys.filter_map(|key| profile.in_force(key)).collect()
    }
}

/// Food Code 3-401.11(B)(1), by degrees F.
const ROAST: [&str; 17] = [
    "fc_roast_130",
    "fc_roast_131",
    "fc_roast_133",
    "fc_roast_135",
    "fc_roast_136",
    "fc_roast_138",
    "fc_roast_140",
    "fc_roast_142",
    "fc_roast_144",
    "fc_roast_145",
    "fc_roast_147",
    "fc_roast_149",
    "fc_roast_151",
    "fc_roast_153",
    "fc_roast_155",
    "fc_roast_157",
    "fc_roast_158",
];

/// A hold this short is watched while the probe stands: the page asks for the figure that remains.
const WATCHED_SECONDS: u32 = 60;

/// What the rules ask for, in words for the page: `74 °C or more`.
pub fn least_words(profile: &Profile, food: CoreFood, scale: Scale) -> String {
    let rows = food.rows(profile);
    let said = |row: &InForce<'_>| {
        let degrees = row.degrees(scale).map(|it| it.to_string()).unwrap_or_default();
        let hold = row.figure.hold_seconds.map(|it| match it {
            seconds if seconds.is_multiple_of(60) => format!(" for {}\u{a0}min", seconds / 60),
            seconds => format!(" for {seconds}\u{a0}s"),
        });
        let rest = row.figure.rest_minutes.map(|it| format!(" and {it}\u{a0}min of rest"));
        format!("{degrees}{}{}", hold.unwrap_or_default(), rest.unwrap_or_default())
    };
    match &rows[..] {
        [] => String::new(),
        [one] => said(one),
        [first, .., last] => format!("{} down to {}, by table", said(first), said(last)),
    }
}

/// Reads the log of one middle. `rested` are the minutes it stood off the heat, once it does.
pub fn core(
    profile: &Profile,
    food: CoreFood,
    readings: &[Probe],
    rested: Option<u32>,
    zone: &Zone,
) -> Option<Checked> {
    let (first, last) = (readings.first()?, readings.last()?);
    let rows = food.rows(profile);
    let found = rows.iter().filter_map(|row| Some((met(row, readings)?, row)));
    let found = found.min_by_key(|(at, _)| *at);
    let mut lines = lines(readings, zone, first.at);
    if food == CoreFood::Roast {
        lines.push(credit(readings, first.at));
    }
    let (verdict, words, next) = match found {
        Some((at, row)) => {
            let limit = row.degrees(last.heat.scale)?;
            lines.push(TraceLine::at(
                Moment::of(at, zone),
                format!("{limit} met{}. {}.", hold_words(row), row.source()),
            ));
            rest_of(row, at, last, rested, limit, zone)
        }
        None => not_met(&rows, readings, rested, zone)?,
    };
    let answer = TraceLine::new(verdict.word(), "", words.clone());
    let by = next.iter().find_map(|it| match it {
        Advice::HoldUntil { until, .. } | Advice::RestUntil { until } => Some(*until),
        _ => None,
    });
    Some(Checked { verdict, found: vec![words], next, by, trace: Trace { lines, answer } })
}

/// Only from what was measured, and by degrees F, as its table is printed.
fn credit(readings: &[Probe], start: Timestamp) -> TraceLine {
    let measured = readings.iter().map(|it| warmth::Measured {
        minutes: it.at.duration_since(start).as_secs_f64() / 60.0,
        fahrenheit: warmth::fahrenheit(it.heat.celsius()),
    });
    let logs = warmth::beef_logs(&measured.collect::<Vec<_>>());
    TraceLine::new(format!("{:.1}", (logs * 10.0).floor() / 10.0), "credit", credit_told(logs))
}

fn is_at(row: &InForce<'_>, probe: &Probe) -> bool {
    row.degrees(probe.heat.scale).is_some_and(|limit| is_within(probe.heat, limit, Sense::AtLeast))
}

/// The reading that proves the row, if one does.
fn met(row: &InForce<'_>, readings: &[Probe]) -> Option<Timestamp> {
    let hold = row.figure.hold_seconds.filter(|it| *it > WATCHED_SECONDS).map_or(0, i64::from);
    let mut since: Option<Timestamp> = None;
    for probe in readings {
        if !is_at(row, probe) {
            since = None;
            continue;
        }
        let from = *since.get_or_insert(probe.at);
        if probe.at.duration_since(from).as_secs() >= hold {
            return Some(probe.at);
        }
    }
    None
}

fn hold_words(row: &InForce<'_>) -> String {
    match row.figure.hold_seconds {
        Some(seconds) if seconds > WATCHED_SECONDS => {
            format!(" for {}\u{a0}min", seconds.div_ceil(60))
        }
        Some(seconds) => format!(" for {seconds}\u{a0}s, watched on the thermometer"),
        None => String::new(),
    }
}

fn rest_of(
    row: &InForce<'_>,
    at: Timestamp,
    last: &Probe,
    rested: Option<u32>,
    limit: Measured,
    zone: &Zone,
) -> (Verdict, String, Vec<Advice>) {
    let hour = Moment::of(at, zone).hour();
    let Some(rest) = row.figure.rest_minutes else {
        return (Verdict::Pass, format!("{limit} met at {hour}: PASS."), vec![Advice::KeepLog]);
    };
    let stood = i64::from(rested.unwrap_or(0)).max(minutes_between(at, last.at));
    if stood >= i64::from(rest) {
        let words = format!("{limit} met at {hour} and {rest}\u{a0}min of rest: PASS.");
        return (Verdict::Pass, words, vec![Advice::KeepLog]);
    }
    let words = format!("{limit} met at {hour}; {rest}\u{a0}min of rest are not over: UNPROVEN.");
    let until = Moment::of(super::after(at, i64::from(rest)), zone);
    (Verdict::Unproven, words, vec![Advice::RestUntil { until }])
}

/// Nothing is met: still cooking, or done and too low.
fn not_met(
    rows: &[InForce<'_>],
    readings: &[Probe],
    rested: Option<u32>,
    zone: &Zone,
) -> Option<(Verdict, String, Vec<Advice>)> {
    let last = readings.last()?;
    let scale = last.heat.scale;
    let easiest = rows.iter().filter_map(|row| row.degrees(scale)).min()?;
    let hottest = rows.iter().filter(|row| row.figure.rest_minutes.is_some() || rows.len() == 1);
    let wanted = hottest.filter_map(|row| row.degrees(scale)).min().unwrap_or(easiest);
    if rested.is_some() {
        let least = rows.iter().filter_map(|row| row.degrees(scale)).max()?;
        let words = format!("{wanted} never reached, or not for long enough: FAIL.");
        return Some((Verdict::Fail, words, vec![Advice::BackToTheHeat { least }]));
    }
    // The row whose time is over first, if the food stays where it is.
    let soon = rows.iter().filter_map(|row| {
        let since = readings.iter().rev().take_while(|it| is_at(row, it)).last()?.at;
        let hold = i64::from(row.figure.hold_seconds.unwrap_or(0));
        let until = since.checked_add(jiff::SignedDuration::from_secs(hold)).ok()?;
        Some((until, row.degrees(scale)?))
    });
    let (words, next) = match soon.min_by_key(|(until, _)| *until) {
        Some((until, least)) => {
            let until = Moment::of(until, zone);
            let words = format!("{least} reached, not yet long enough: UNPROVEN.");
            (words, Advice::HoldUntil { least, until })
        }
        None => {
            let words = format!("{} is under {wanted}: not yet, UNPROVEN.", last.heat);
            (words, Advice::BackToTheHeat { least: wanted })
        }
    };
    Some((Verdict::Unproven, words, vec![next]))
}

/// How the oven heats (Food Code 3-401.11(B)(2)).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OvenKind {
    StillDry,
    Convection,
    Humid,
}

/// Whether the oven is one in which the roast table holds. None where these rules have no such rule.
pub fn roast_oven(
    profile: &Profile,
    oven: OvenKind,
    weight_grams: u32,
    air: Measured,
) -> Option<Verdict> {
    // 10 lb; the code prints 4.5 kg.
    let is_large = weight_grams >= 4_500;
    let key = match (oven, is_large) {
        (OvenKind::StillDry, false) => "fc_oven_still_small",
        (OvenKind::StillDry, true) => "fc_oven_still_large",
        (OvenKind::Convection, false) => "fc_oven_convection_small",
        (OvenKind::Convection, true) => "fc_oven_convection_large",
        (OvenKind::Humid, _) => "fc_oven_humid",
    };
    let rule = profile.in_force(key)?;
    let limit = rule.degrees(air.scale)?;
    let holds = is_within(air, limit, rule.figure.sense);
    Some(if holds { Verdict::Pass } else { Verdict::Fail })
}
