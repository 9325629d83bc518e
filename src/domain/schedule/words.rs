//! How jobs, minutes and limits are named for people.

use super::problem::{Limit, Next, Problem};
use crate::domain::card::Place;

/// `A Chilled pea and lettuce soup, step 4`.
pub fn job_words(problem: &Problem, job: usize) -> String {
    let it = &problem.jobs[job];
    let dish = &problem.dishes[it.dish];
    format!("{} {}, step {}", dish.letter, dish.title, it.number)
}

/// Names of several jobs, joined: `... and ...`.
pub fn jobs_words(problem: &Problem, jobs: &[usize]) -> String {
    let names: Vec<String> = jobs.iter().map(|job| job_words(problem, *job)).collect();
    joined(&names)
}

/// `a, b and c`.
pub fn joined(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// `16:05`, on the wall of this table.
pub fn clock(problem: &Problem, minute: i32) -> String {
    problem.zone.local(problem.instant(minute)).strftime("%H:%M").to_string()
}

/// `Saturday 26 June, 16:05`.
pub fn day_and_clock(problem: &Problem, minute: i32) -> String {
    problem.zone.local(problem.instant(minute)).strftime("%A %-d %B, %H:%M").to_string()
}

/// `Saturday 26 June`.
pub fn day_words(problem: &Problem, window: usize) -> String {
    problem.windows[window].date.strftime("%A %-d %B").to_string()
}

/// `1 h 05 min`, `20 min`, `2 days 3 h`.
pub fn span(minutes: u32) -> String {
    let (days, hours, rest) = (minutes / 1_440, minutes / 60 % 24, minutes % 60);
    match (days, hours, rest) {
        (0, 0, rest) => format!("{rest} min"),
        (0, hours, 0) => format!("{hours} h"),
        (0, hours, rest) => format!("{hours} h {rest:02} min"),
        (1, 0, _) => "1 day".to_owned(),
        (1, hours, _) => format!("1 day {hours} h"),
        (days, 0, _) => format!("{days} days"),
        (days, hours, _) => format!("{days} days {hours} h"),
    }
}

/// What the limit is, with its figure: the beginning of a sentence, without a full stop.
pub fn limit_words(problem: &Problem, limit: Limit) -> String {
    match limit {
        Limit::Window(window) => {
            let it = &problem.windows[window];
            let (from, to) = (clock(problem, it.from_minute), clock(problem, it.to_minute));
            format!("On {} there is time from {from} to {to}", day_words(problem, window))
        }
        Limit::DayHands(window) => format!(
            "On {} there are {} of free hands",
            day_words(problem, window),
            span(problem.windows[window].hands_minutes)
        ),
        Limit::Hands => counted(problem.hands, "pair of hands", "pairs of hands"),
        Limit::Rings => counted(problem.rings, "ring", "rings"),
        Limit::Shelves(oven) => format!(
            "{} has {}",
            problem.ovens[oven].name,
            some(problem.ovens[oven].shelves, "shelf", "shelves")
        ),
        Limit::Setting(oven) => format!(
            "{} has one setting at a time and needs {} min for another",
            problem.ovens[oven].name, problem.ovens[oven].preheat_minutes
        ),
        Limit::Machine(machine) => {
            let it = &problem.machines[machine];
            counted(it.count, &it.name, &format!("{}s", it.name))
        }
        Limit::Cold(place) => {
            let litres = match place {
                Place::Freezer => problem.freezer_centilitres,
                _ => problem.fridge_centilitres,
            };
            format!("The {} has {} free", place.word(), litres_words(litres))
        }
        Limit::Hold(job, hold) => {
            let it = &problem.jobs[job].holds[hold];
            if it.because.is_empty() {
                let most = span(it.most_minutes);
                format!("{} waits at most {most}", job_words(problem, job))
            } else {
                format!("{}: {}", job_words(problem, job), it.because.trim_end_matches('.'))
            }
        }
        Limit::Gap(gap) => gap_words(problem, gap),
        Limit::Keep(keep) => {
            let it = &problem.keeps[keep];
            let name = job_words(problem, it.from);
            format!("{name}: {}", it.because.trim_end_matches('.'))
        }
        Limit::Span(span) => {
            let it = &problem.spans[span];
            format!("{}: {}", job_words(problem, it.to_end_of), it.because.trim_end_matches('.'))
        }
        Limit::Room(room) => problem.rooms[room].because.trim_end_matches('.').to_owned(),
        Limit::Order(order) => problem.orders[order].because.trim_end_matches('.').to_owned(),
        Limit::Time(job) => time_words(problem, job),
        Limit::Choice(job) => format!("{} is done in one of its ways", job_words(problem, job)),
    }
}

fn gap_words(problem: &Problem, place: usize) -> String {
    let gap = &problem.gaps[place];
    let name = job_words(problem, gap.before);
    if !gap.because.is_empty() && matches!(gap.next, Next::Table(_)) {
        return format!("{name}: {}", gap.because.trim_end_matches('.'));
    }
    match (gap.next, gap.most_minutes) {
        (Next::Table(_), Some(most)) => {
            format!("{name} is at the table within {most} min of being ready")
        }
        (Next::Table(_), None) => format!("{name} is ready before the table"),
        (Next::Job(next), _) if gap.because.is_empty() => {
            format!("{} follows {name}", job_words(problem, next))
        }
        (Next::Job(next), _) => {
            let why = gap.because.trim_end_matches('.');
            format!("{} follows {name}: {why}", job_words(problem, next))
        }
    }
}

fn time_words(problem: &Problem, job: usize) -> String {
    let it = &problem.jobs[job];
    let name = job_words(problem, job);
    if let Some(minute) = it.pinned_minute {
        return format!("{name} is pinned to {}", day_and_clock(problem, minute));
    }
    let days: Vec<String> = it.windows.iter().map(|day| day_words(problem, *day)).collect();
    if it.windows.len() < problem.windows.len() && it.end_from_minute <= 0 {
        return format!("{name} may be done on {}", joined(&days));
    }
    let by = day_and_clock(problem, it.end_by_minute);
    if it.start_from_minute > problem.now_minute {
        let from = day_and_clock(problem, it.start_from_minute);
        return format!("{name} begins not before {from} and is done by {by}");
    }
    format!("{name} is done by {by}")
}

/// `2.4 l`, rounded up to a tenth.
pub fn litres_words(centilitres: u32) -> String {
    let tenths = centilitres.div_ceil(10);
    format!("{}.{} l", tenths / 10, tenths % 10)
}

fn counted(count: u32, one: &str, many: &str) -> String {
    let is = if count == 1 { "is" } else { "are" };
    format!("There {is} {}", some(count, one, many))
}

fn some(count: u32, one: &str, many: &str) -> String {
    if count == 0 {
        return format!("no {one}");
    }
    format!("{count} {}", if count == 1 { one } else { many })
}
