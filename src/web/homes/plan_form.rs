//! What a home sends about its plan: its kitchen, its days, and what is best for it.

use super::form::Problems;
use crate::domain::home::{Arrangement, CookDay};
use crate::domain::kitchen::{ColdRoom, Kitchen, OVENS_MOST, SHELVES_MOST, kitchen_for_plans};
use crate::domain::schedule::problem::Prefer;

/// How many days the form holds lines for.
const LINES: usize = 5;

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlanForm {
    pub version: u32,
    pub ovens: String,
    pub shelves: String,
    pub rings: String,
    pub hands: String,
    pub fridge: String,
    pub freezer: String,
    pub prefer: String,
    /// Date, from, to, free minutes; as typed.
    pub days: Vec<DayTyped>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DayTyped {
    pub date: String,
    pub from: String,
    pub to: String,
    pub minutes: String,
}

const PREFERS: [(Prefer, &str, &str); 3] = [
    (Prefer::LeastOnTheDay, "least", "least work on the day"),
    (Prefer::Freshest, "fresh", "as fresh as can be"),
    (Prefer::FewestDays, "days", "fewest days of work"),
];

impl PlanForm {
    pub fn of_home(arrangement: &Arrangement, version: u32) -> Self {
        let kitchen = kitchen_of(arrangement);
        let word = |prefer: Prefer| PREFERS.iter().find(|it| it.0 == prefer).map_or("", |it| it.1);
        let day = |day: &CookDay| DayTyped {
            date: day.date.to_string(),
            from: day.from.strftime("%H:%M").to_string(),
            to: day.to.strftime("%H:%M").to_string(),
            minutes: day.hands_minutes.map_or_else(String::new, |it| it.to_string()),
        };
        let mut days: Vec<DayTyped> = arrangement.cook_days.iter().map(day).collect();
        days.resize_with(days.len().max(LINES - 1) + 1, DayTyped::default);
        Self {
            version,
            ovens: kitchen.ovens.len().to_string(),
            shelves: kitchen.ovens.first().map_or(0, |oven| oven.shelves).to_string(),
            rings: kitchen.rings.to_string(),
            hands: kitchen.hands.to_string(),
            fridge: kitchen.fridge.word().to_owned(),
            freezer: kitchen.freezer.word().to_owned(),
            prefer: word(arrangement.wishes.prefer).to_owned(),
            days,
        }
    }

    pub fn of(pairs: &[(String, String)]) -> Self {
        let one = |key: &str| {
            let found = pairs.iter().rev().find(|(it, _)| it == key);
            found.map_or_else(String::new, |(_, value)| value.trim().to_owned())
        };
        let all = |key: &str| -> Vec<String> {
            let found = pairs.iter().filter(|(it, _)| it == key);
            found.map(|(_, value)| value.trim().to_owned()).collect()
        };
        let (dates, from, to, minutes) = (all("date"), all("from"), all("to"), all("minutes"));
        let at = |list: &[String], place: usize| list.get(place).cloned().unwrap_or_default();
        let day = |place| DayTyped {
            date: at(&dates, place),
            from: at(&from, place),
            to: at(&to, place),
            minutes: at(&minutes, place),
        };
        Self {
            version: one("version").parse().unwrap_or(0),
            ovens: one("ovens"),
            shelves: one("shelves"),
            rings: one("rings"),
            hands: one("hands"),
            fridge: one("fridge"),
            freezer: one("freezer"),
            prefer: one("prefer"),
            days: (0..dates.len().min(40)).map(day).collect(),
        }
    }

    /// The arrangement with what was typed, or everything that is wrong.
    pub fn check(&self, before: &Arrangement) -> Result<Arrangement, Problems> {
        let mut problems = Problems::new();
        let mut number = |field: &'static str, typed: &str, least: u32, most: u32| {
            let found = typed.parse::<u32>().ok().filter(|it| (least..=most).contains(it));
            if found.is_none() {
                problems.push((field, format!("Write a whole number from {least} to {most}")));
            }
            found.unwrap_or(least)
        };
        let ovens = number("ovens", &self.ovens, 0, OVENS_MOST);
        let shelves = number("shelves", &self.shelves, 1, SHELVES_MOST);
        let rings = number("rings", &self.rings, 0, 60);
        let hands = number("hands", &self.hands, 1, 60);
        let mut days = Vec::new();
        for typed in self.days.iter().filter(|it| !it.date.is_empty()) {
            match typed.read() {
                Ok(day) => days.push(day),
                Err(words) => problems.push(("days", words)),
            }
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        days.sort();
        let mut kitchen = kitchen_of(before);
        let mut oven = kitchen
            .ovens
            .first()
            .copied()
            .unwrap_or(crate::domain::kitchen::Oven { shelves, preheat_minutes: 15 });
        oven.shelves = shelves;
        kitchen.ovens = vec![oven; ovens as usize];
        (kitchen.rings, kitchen.hands) = (rings, hands);
        kitchen.fridge = ColdRoom::parse(&self.fridge).unwrap_or(kitchen.fridge);
        kitchen.freezer = ColdRoom::parse(&self.freezer).unwrap_or(kitchen.freezer);
        let prefer =
            PREFERS.iter().find(|it| it.1 == self.prefer).map_or(Prefer::default(), |it| it.0);
        let mut after = before.clone();
        (after.kitchen, after.cook_days) = (Some(kitchen), days);
        after.wishes.prefer = prefer;
        Ok(after)
    }

    pub fn rooms(typed: &str) -> Vec<(&'static str, &'static str, bool)> {
        ColdRoom::ALL.iter().map(|it| (it.word(), it.words(), it.word() == typed)).collect()
    }

    pub fn prefers(&self) -> Vec<(&'static str, &'static str, bool)> {
        PREFERS.iter().map(|it| (it.1, it.2, it.1 == self.prefer)).collect()
    }
}

impl DayTyped {
    fn read(&self) -> Result<CookDay, String> {
        let date = self
            .date
            .parse()
            .map_err(|_| format!("Write a day like 2027-06-25; “{}” is not read", self.date))?;
        let mut day = CookDay::whole(date);
        let time = |typed: &str, other: jiff::civil::Time| match typed {
            "" => Ok(other),
            typed => typed
                .parse()
                .map_err(|_| format!("Write an hour like 17:30; “{typed}” is not read")),
        };
        day.from = time(&self.from, day.from)?;
        day.to = time(&self.to, day.to)?;
        if !self.minutes.is_empty() {
            let minutes = self.minutes.parse::<u32>();
            day.hands_minutes = Some(minutes.map_err(|_| {
                format!("Write free minutes as a whole number; “{}” is not one", self.minutes)
            })?);
        }
        Ok(day)
    }
}

/// Its own kitchen, or one for plans.
pub fn kitchen_of(arrangement: &Arrangement) -> Kitchen {
    arrangement.kitchen.clone().unwrap_or_else(kitchen_for_plans)
}
