//! When somebody cooks, in minutes that pass.

use jiff::civil::{Date, DateTime, Time};
use jiff::{SignedDuration, Timestamp, ToSpan};

use super::{Facts, Field, Nonsense};
use crate::domain::home::CookDay;
use crate::domain::limit::day_start;
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::schedule::problem::{Machine, Oven, Problem, Window};

/// The most cook days of one plan.
const DAYS_MOST: usize = 31;
/// How far before the serving day a cook day may lie: a freezer's half year.
const AHEAD_DAYS_MOST: i32 = 190;

#[derive(Default)]
pub struct Days {
    windows: Vec<(Date, Timestamp, Timestamp, u32)>,
}

/// The windows of work, the serving day last; or everything that is wrong with them.
pub fn days(facts: &Facts) -> Result<Days, Vec<Nonsense>> {
    let serve = &facts.sitting.serve;
    let serving = serve.local.date();
    let mut found = Vec::new();
    let mut say = |sentence: String| found.push(Nonsense { field: Field::CookDays, sentence });
    let mut days: Vec<CookDay> = facts.cook_days.to_vec();
    days.sort();
    if days.len() > DAYS_MOST {
        say(format!("A plan holds at most {DAYS_MOST} cook days; these are {}", days.len()));
    }
    for pair in days.windows(2).filter(|pair| pair[0].date == pair[1].date) {
        say(format!("{} stands here twice; give its hours once", said(pair[0].date)));
    }
    for day in &days {
        let name = said(day.date);
        let ahead = serving.since(day.date).map_or(0, |span| span.get_days());
        if day.date > serving {
            say(format!("{name} is after the serving day, {}", said(serving)));
        } else if ahead > AHEAD_DAYS_MOST {
            say(format!("{name} is more than {AHEAD_DAYS_MOST} days ahead; nothing keeps so long"));
        }
        if day.hands_minutes == Some(0) {
            say(format!("{name} has no free minutes; give it some or take the day away"));
        }
        if day.from >= day.to {
            say(format!("{name} ends before it begins; give its hours as from and to"));
        }
    }
    if !days.iter().any(|day| day.date == serving) {
        days.push(CookDay::whole(serving));
    }
    let end = table_end(facts);
    let zone = &serve.zone;
    let windows: Vec<_> = days
        .iter()
        .filter(|day| day.date <= serving)
        .map(|day| {
            let from = instant(zone, day.date, day.from);
            let is_serving = day.date == serving;
            let to = if is_serving { end } else { instant(zone, day.date, day.to) };
            let from = if is_serving { from.min(serve.instant()) } else { from };
            let minutes = to.duration_since(from).as_mins().max(0);
            let hands = i64::from(facts.kitchen.hands).saturating_mul(minutes);
            let all = u32::try_from(hands).unwrap_or(u32::MAX);
            (day.date, from, to, day.hands_minutes.map_or(all, |free| free.min(all)))
        })
        .collect();
    if found.is_empty() { Ok(Days { windows }) } else { Err(found) }
}

/// The serving day ends when the last dish is at the table.
fn table_end(facts: &Facts) -> Timestamp {
    let sweet = SignedDuration::from_mins(i64::from(facts.laid.sweet_after_minutes));
    let at = facts.sitting.serve.instant();
    at.saturating_add(sweet).unwrap_or(at)
}

fn said(date: Date) -> String {
    date.strftime("%A %-d %B").to_string()
}

fn instant(zone: &Zone, date: Date, time: Time) -> Timestamp {
    ServiceTime { local: DateTime::from_parts(date, time), zone: zone.clone() }.instant()
}

/// `The oven`, or `Oven 2`.
pub fn oven_name(place: usize, count: usize) -> String {
    if count == 1 { "The oven".to_owned() } else { format!("Oven {}", place + 1) }
}

impl Days {
    /// A problem with its days and its kitchen, and nothing to do yet.
    pub fn problem(&self, facts: &Facts) -> Problem {
        let kitchen = facts.kitchen;
        let zone = facts.sitting.serve.zone.clone();
        let first = self.windows.first().map_or(facts.sitting.serve.local.date(), |it| it.0);
        let from = day_start(first, &zone);
        let mut problem = Problem {
            from,
            now_minute: 0,
            midnights: Vec::new(),
            windows: Vec::new(),
            dishes: Vec::new(),
            jobs: Vec::new(),
            gaps: Vec::new(),
            keeps: Vec::new(),
            spans: Vec::new(),
            rooms: Vec::new(),
            orders: Vec::new(),
            kept_machines: Vec::new(),
            ovens: Vec::new(),
            rings: kitchen.rings,
            hands: kitchen.hands,
            machines: Vec::new(),
            fridge_centilitres: kitchen.fridge.fridge_litres() * 100,
            freezer_centilitres: kitchen.freezer.freezer_litres() * 100,
            tolerance_tenths: TOLERANCE_TENTHS,
            prefer: facts.wishes.prefer,
            offers: Vec::new(),
            zone,
        };
        problem.now_minute = facts.now.map_or(i32::MIN / 4, |now| problem.minute(now));
        problem.windows = self.windows.iter().map(|it| window(&problem, it)).collect();
        problem.midnights = midnights(&problem, facts);
        problem.ovens = (kitchen.ovens.iter().enumerate())
            .map(|(place, oven)| Oven {
                name: oven_name(place, kitchen.ovens.len()),
                shelves: oven.shelves,
                preheat_minutes: oven.preheat_minutes,
            })
            .collect();
        problem.machines = (kitchen.machines.named().iter())
            .filter(|(_, count)| *count > 0)
            .map(|(name, count)| Machine { name: (*name).to_owned(), count: *count })
            .collect();
        problem
    }
}

/// A dial is set to the nearest 5: 375 F and 190 C are one setting.
const TOLERANCE_TENTHS: i32 = 30;

fn window(problem: &Problem, it: &(Date, Timestamp, Timestamp, u32)) -> Window {
    Window {
        date: it.0,
        from_minute: problem.minute(it.1),
        to_minute: problem.minute(it.2),
        hands_minutes: it.3,
    }
}

/// From the day of the first thing done to the day after the table.
fn midnights(problem: &Problem, facts: &Facts) -> Vec<i32> {
    let zone = &problem.zone;
    let done = facts.done.values().map(|it| it.start).min().unwrap_or(problem.from);
    let mut date = zone.local(done.min(problem.from)).date();
    let last = zone.local(table_end(facts)).date().saturating_add(1.day());
    let mut found = Vec::new();
    while date <= last {
        found.push(problem.minute(day_start(date, zone)));
        date = date.saturating_add(1.day());
    }
    found
}
