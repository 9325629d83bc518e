//! What a plan says of each job, and of each pair of jobs.

use super::Found;
use crate::domain::card::Place;
use crate::domain::schedule::plan::{Plan, minutes};
use crate::domain::schedule::problem::{Gap, Hold, Limit, Next, Problem};
use crate::domain::schedule::words::{clock, span};

/// Each job has a way, a hold and, where the way needs one, an oven; what is done stays done.
pub fn choices(problem: &Problem, plan: &Plan, found: &mut Found) {
    if problem.jobs.len() != plan.jobs.len() {
        let job = problem.jobs.len().min(plan.jobs.len());
        let sentence = format!(
            "The plan has {} jobs and the menu has {}.",
            plan.jobs.len(),
            problem.jobs.len()
        );
        let limit = Limit::Choice(job);
        found.breaches.push(super::Breach { limit, jobs: Vec::new(), minute: None, sentence });
        return;
    }
    for (place, (job, placed)) in problem.jobs.iter().zip(&plan.jobs).enumerate() {
        let Some(way) = job.ways.get(placed.way) else {
            found.breach(Limit::Choice(place), &[place], None, "the plan names another way");
            continue;
        };
        if placed.hold >= job.holds.len() {
            found.breach(Limit::Choice(place), &[place], None, "the plan lets it wait elsewhere");
        }
        let has_oven = placed.oven.is_some_and(|oven| oven < problem.ovens.len());
        if job.done.is_none()
            && (way.oven.is_some() != has_oven || placed.oven.is_some() != has_oven)
        {
            found.breach(Limit::Choice(place), &[place], None, "the plan gives it another oven");
        }
        if let Some(done) = job.done {
            let is_as_done = placed.start_minute == done.start_minute
                && done.hold.is_none_or(|hold| hold == placed.hold);
            if !is_as_done {
                found.breach(Limit::Choice(place), &[place], None, "it was done otherwise");
            }
        }
        // Far outside every window the minutes are not counted one by one.
        let (first, last) =
            (earliest(problem), problem.windows.last().map_or(0, |it| it.to_minute));
        if job.done.is_none() && !(first..=last).contains(&placed.start_minute) {
            found.breach(Limit::Choice(place), &[place], None, "no day is that day");
        }
    }
}

fn earliest(problem: &Problem) -> i32 {
    problem.windows.first().map_or(0, |it| it.from_minute)
}

/// Each job inside one of its windows, not before it may begin, and ended in its time.
pub fn times(problem: &Problem, plan: &Plan, found: &mut Found) {
    for (place, (job, placed)) in problem.jobs.iter().zip(&plan.jobs).enumerate() {
        if job.done.is_some() {
            continue;
        }
        let (start, end) = (placed.start_minute, plan.end_minute(problem, place));
        let window = plan.window(problem, place);
        match window {
            None => found.breach(Limit::Time(place), &[place], Some(start), "nobody cooks then"),
            Some(window) if !job.windows.contains(&window) => {
                found.breach(Limit::Time(place), &[place], Some(start), "this is another day");
            }
            Some(window) => {
                let hours = &problem.windows[window];
                if end > hours.to_minute {
                    let until = format!("it lasts until {}", clock(problem, end));
                    found.breach(Limit::Window(window), &[place], Some(end), &until);
                }
                let way = &job.ways[placed.way];
                if let (Some(oven), Some(which)) = (&way.oven, placed.oven) {
                    let hot = hours.from_minute + minutes(problem.ovens[which].preheat_minutes);
                    if start + minutes(oven.from_minute) < hot {
                        let but = "the oven is not hot yet";
                        found.breach(Limit::Setting(which), &[place], Some(start), but);
                    }
                }
            }
        }
        if start < job.start_from_minute || start < problem.now_minute {
            let but = format!("it begins at {}", clock(problem, start));
            found.breach(Limit::Time(place), &[place], Some(start), &but);
        }
        if !(job.end_from_minute..=job.end_by_minute).contains(&end) {
            let but = format!("it ends at {}", clock(problem, end));
            found.breach(Limit::Time(place), &[place], Some(end), &but);
        }
        if job.pinned_minute.is_some_and(|minute| minute != start) {
            found.breach(Limit::Time(place), &[place], Some(start), "the plan moves it");
        }
    }
}

/// Each wait between its least and its most, in the place that was chosen for it.
pub fn gaps(problem: &Problem, plan: &Plan, found: &mut Found) {
    for (place, gap) in problem.gaps.iter().enumerate() {
        let job = &problem.jobs[gap.before];
        let next_done = |next| match next {
            Next::Job(next) => problem.jobs[next].done.is_some(),
            Next::Table(_) => false,
        };
        if job.done.is_some() && next_done(gap.next) {
            continue;
        }
        let chosen = plan.jobs[gap.before].hold;
        let hold = &job.holds[chosen];
        let length = plan.next_minute(gap.next) - plan.end_minute(problem, gap.before);
        let about: Vec<usize> = match gap.next {
            Next::Job(next) => vec![gap.before, next],
            Next::Table(_) => vec![gap.before],
        };
        let at = Some(plan.next_minute(gap.next));
        if length < 0 {
            let but = match gap.next {
                Next::Job(_) => {
                    format!("that begins {} before it is over", span(length.unsigned_abs()))
                }
                Next::Table(_) => format!("it is ready {} late", span(length.unsigned_abs())),
            };
            found.breach(Limit::Gap(place), &about, at, &but);
            continue;
        }
        if let Some((least, most)) = hold_bounds(problem, plan, gap, hold)
            && !(least..=most).contains(&length)
        {
            found.breach(Limit::Hold(gap.before, chosen), &about, at, &would_wait(length));
        }
        let most = gap.most_minutes.map_or(i32::MAX, minutes);
        if length < minutes(gap.least_minutes) || length > most {
            found.breach(Limit::Gap(place), &about, at, &would_wait(length));
        }
        if let Next::Job(next) = gap.next {
            follows(problem, plan, (place, gap), next, found);
        }
    }
}

fn follows(
    problem: &Problem,
    plan: &Plan,
    (place, gap): (usize, &Gap),
    next: usize,
    found: &mut Found,
) {
    let hold = &problem.jobs[gap.before].holds[plan.jobs[gap.before].hold];
    let about = [gap.before, next];
    let start = Some(plan.jobs[next].start_minute);
    if problem.jobs[next].done.is_some() {
        return;
    }
    let is_over_day = plan.window(problem, gap.before) != plan.window(problem, next);
    if hold.place.is_none() && is_over_day {
        found.breach(Limit::Gap(place), &about, start, "nothing says where it waits overnight");
    }
    let way = &problem.jobs[next].ways[plan.jobs[next].way];
    if gap.is_main && hold.start_from() > way.from {
        found.breach(Limit::Choice(next), &about, start, "it comes in colder than that");
    }
}

fn would_wait(length: i32) -> String {
    match u32::try_from(length) {
        Ok(length) => format!("it would wait {}", span(length)),
        Err(_) => format!("it would begin {} too early", span(length.unsigned_abs())),
    }
}

/// The least and most of a gap by the hold; a box from the freezer is thawed once, for its first use.
fn hold_bounds(problem: &Problem, plan: &Plan, gap: &Gap, hold: &Hold) -> Option<(i32, i32)> {
    let (least, most) = (minutes(hold.least_minutes), minutes(hold.most_minutes));
    let Some(thaw) = hold.thaw_minutes.filter(|_| hold.place == Some(Place::Freezer)) else {
        return Some((least, most));
    };
    let end = plan.end_minute(problem, gap.before);
    let first = problem.gaps_after(gap.before).map(|(_, it)| plan.next_minute(it.next)).min()?;
    let is_first = plan.next_minute(gap.next) == first;
    let thaw = minutes(thaw);
    Some(if is_first { (least + thaw, most.saturating_add(thaw)) } else { (first - end, i32::MAX) })
}

/// Cooling in time, orders, and minutes out of the cold along each way to the table.
pub fn spans(problem: &Problem, plan: &Plan, found: &mut Found) {
    let is_done = |job: usize| problem.jobs[job].done.is_some();
    for (place, it) in problem.spans.iter().enumerate() {
        let (from, to) = (it.from_end_of, it.to_end_of);
        let length = plan.end_minute(problem, to) - plan.end_minute(problem, from);
        if length > minutes(it.most_minutes) && !(is_done(from) && is_done(to)) {
            let but = format!("it would take {}", span(length.unsigned_abs()));
            let at = Some(plan.end_minute(problem, to));
            found.breach(Limit::Span(place), &[from, to], at, &but);
        }
    }
    for (place, it) in problem.orders.iter().enumerate() {
        let (before, after) = (it.before, it.after);
        let other_day = plan.window(problem, before) != plan.window(problem, after);
        if (it.only_on_one_day && other_day) || (is_done(before) && is_done(after)) {
            continue;
        }
        let start = plan.jobs[after].start_minute;
        if plan.end_minute(problem, before) > start {
            found.breach(Limit::Order(place), &[before, after], Some(start), "the other is first");
        }
    }
    for (place, it) in problem.rooms.iter().enumerate() {
        let works =
            it.jobs.iter().map(|job| match problem.jobs[*job].ways.get(plan.jobs[*job].way) {
                Some(way) => minutes(way.out_minutes),
                None => 0,
            });
        let waits = it.gaps.iter().map(|gap| {
            let gap = &problem.gaps[*gap];
            let hold = &problem.jobs[gap.before].holds[plan.jobs[gap.before].hold];
            let length = plan.next_minute(gap.next) - plan.end_minute(problem, gap.before);
            if hold.is_out() { length } else { 0 }
        });
        let sum = works.sum::<i32>() + waits.sum::<i32>();
        if sum > minutes(it.most_minutes) && !it.jobs.iter().all(|job| is_done(*job)) {
            let but = format!("it would be {}", span(sum.unsigned_abs()));
            found.breach(Limit::Room(place), &it.jobs, None, &but);
        }
    }
}
