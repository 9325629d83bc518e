//! Hands, rings, ovens, machines and cold room, counted at every single minute.

use std::collections::BTreeMap;

use super::Found;
use crate::domain::card::Place;
use crate::domain::schedule::plan::{Plan, minutes};
use crate::domain::schedule::problem::{Limit, Problem, SHELF, Stretch, Way};

/// Who takes how much of one thing at each minute.
#[derive(Default)]
struct Count {
    at: BTreeMap<i32, Vec<(usize, u32)>>,
}

impl Count {
    fn add(&mut self, job: usize, from: i32, to: i32, amount: u32) {
        if amount > 0 {
            for minute in from..to {
                self.at.entry(minute).or_default().push((job, amount));
            }
        }
    }

    fn stretch(&mut self, job: usize, start: i32, it: Stretch) {
        self.add(job, start + minutes(it.from_minute), start + minutes(it.to_minute), it.count);
    }

    /// The first minute at which more is taken than there is.
    fn over(&self, there: u32) -> Option<(i32, Vec<usize>)> {
        let (minute, uses) = self.at.iter().find(|(_, uses)| {
            uses.iter().map(|it| u64::from(it.1)).sum::<u64>() > u64::from(there)
        })?;
        let mut jobs: Vec<usize> = uses.iter().map(|it| it.0).collect();
        jobs.sort_unstable();
        jobs.dedup();
        Some((*minute, jobs))
    }
}

pub fn all(problem: &Problem, plan: &Plan, found: &mut Found) {
    hands(problem, plan, found);
    ovens(problem, plan, found);
    machines(problem, plan, found);
    cold(problem, plan, found);
}

/// Jobs that are still to do, with their start and way.
fn open<'a>(problem: &'a Problem, plan: &'a Plan) -> impl Iterator<Item = (usize, i32, &'a Way)> {
    problem
        .jobs
        .iter()
        .zip(&plan.jobs)
        .enumerate()
        .filter(|(_, (job, _))| job.done.is_none())
        .map(|(place, (job, placed))| (place, placed.start_minute, &job.ways[placed.way]))
}

fn hands(problem: &Problem, plan: &Plan, found: &mut Found) {
    let (mut hands, mut rings) = (Count::default(), Count::default());
    let mut by_day: BTreeMap<usize, (u32, Vec<usize>)> = BTreeMap::new();
    for (job, start, way) in open(problem, plan) {
        for stretch in &way.hands {
            hands.stretch(job, start, *stretch);
        }
        if let Some(ring) = way.ring {
            rings.stretch(job, start, ring);
        }
        if let Some(window) = plan.window(problem, job).filter(|_| way.hands_minutes() > 0) {
            let day = by_day.entry(window).or_default();
            day.0 += way.hands_minutes();
            day.1.push(job);
        }
    }
    if let Some((minute, jobs)) = hands.over(problem.hands) {
        found.breach(Limit::Hands, &jobs, Some(minute), "more are needed at once");
    }
    if let Some((minute, jobs)) = rings.over(problem.rings) {
        found.breach(Limit::Rings, &jobs, Some(minute), "more are needed at once");
    }
    for (window, (sum, jobs)) in by_day {
        if sum > problem.windows[window].hands_minutes {
            let but = format!("{sum} min are planned");
            found.breach(Limit::DayHands(window), &jobs, None, &but);
        }
    }
}

/// One stretch of one job in one oven.
struct InOven {
    job: usize,
    from: i32,
    to: i32,
    window: Option<usize>,
    is_alone: bool,
    /// First and last heat.
    ends: (i32, i32),
}

fn ovens(problem: &Problem, plan: &Plan, found: &mut Found) {
    for oven in 0..problem.ovens.len() {
        let mut shelves = Count::default();
        let mut heats: BTreeMap<i32, Vec<(usize, i32)>> = BTreeMap::new();
        let mut stretches = Vec::new();
        for (job, start, way) in open(problem, plan) {
            let Some(used) = way.oven.as_ref().filter(|_| plan.jobs[job].oven == Some(oven)) else {
                continue;
            };
            let from = start + minutes(used.from_minute);
            let mut at = from;
            for stage in &used.stages {
                for minute in at..at + minutes(stage.minutes) {
                    heats.entry(minute).or_default().push((job, stage.tenths_celsius));
                }
                at += minutes(stage.minutes);
            }
            shelves.add(job, from, at, used.shelf_sixtieths);
            let heat = |stage: Option<&crate::domain::schedule::problem::HeatStage>| {
                stage.map_or(0, |it| it.tenths_celsius)
            };
            stretches.push(InOven {
                job,
                from,
                to: at,
                window: plan.window(problem, job),
                is_alone: used.is_alone,
                ends: (heat(used.stages.first()), heat(used.stages.last())),
            });
        }
        if let Some((minute, jobs)) = shelves.over(problem.ovens[oven].shelves * SHELF) {
            found.breach(Limit::Shelves(oven), &jobs, Some(minute), "more are needed at once");
        }
        let alone = |job: usize| stretches.iter().any(|it| it.job == job && it.is_alone);
        let clash = heats.iter().find_map(|(minute, uses)| {
            let pairs = uses
                .iter()
                .enumerate()
                .flat_map(|(at, one)| uses[at + 1..].iter().map(move |two| (one, two)));
            let clash = |one: &(usize, i32), two: &(usize, i32)| {
                (one.1 - two.1).abs() > problem.tolerance_tenths || alone(one.0) || alone(two.0)
            };
            pairs
                .into_iter()
                .find(|(one, two)| clash(one, two))
                .map(|(one, two)| (*minute, [one.0, two.0]))
        });
        if let Some((minute, jobs)) = clash {
            found.breach(Limit::Setting(oven), &jobs, Some(minute), "two are needed at once");
        }
        changes(problem, oven, &stretches, found);
    }
}

/// Between two jobs of different heat lie the minutes of heating up.
fn changes(problem: &Problem, oven: usize, stretches: &[InOven], found: &mut Found) {
    for one in stretches {
        for two in stretches.iter().filter(|two| two.window == one.window && one.to <= two.from) {
            let is_other = (one.ends.1 - two.ends.0).abs() > problem.tolerance_tenths;
            let needed = minutes(problem.ovens[oven].preheat_minutes);
            if is_other && two.from - one.to < needed {
                let but = format!("there are {} min", two.from - one.to);
                let jobs = [one.job, two.job];
                found.breach(Limit::Setting(oven), &jobs, Some(two.from), &but);
            }
        }
    }
}

fn machines(problem: &Problem, plan: &Plan, found: &mut Found) {
    for (machine, there) in problem.machines.iter().enumerate() {
        let mut count = Count::default();
        for (job, start, way) in open(problem, plan) {
            let uses = way.machines.iter().filter(|it| it.machine == machine);
            for stretch in uses.map(|it| it.stretch) {
                let own_end = start + minutes(stretch.to_minute);
                let kept =
                    problem.kept_machines.iter().find(|it| it.machine == machine && it.from == job);
                let end = kept.map_or(own_end, |kept| own_end.max(plan.jobs[kept.to].start_minute));
                count.add(job, start + minutes(stretch.from_minute), end, stretch.count);
            }
        }
        if let Some((minute, jobs)) = count.over(there.count) {
            found.breach(Limit::Machine(machine), &jobs, Some(minute), "more are needed at once");
        }
    }
}

fn cold(problem: &Problem, plan: &Plan, found: &mut Found) {
    let (mut fridge, mut freezer) = (Changes::default(), Changes::default());
    for (job, it) in problem.jobs.iter().enumerate() {
        let hold = &it.holds[plan.jobs[job].hold];
        let uses: Vec<i32> =
            problem.gaps_after(job).map(|(_, gap)| plan.next_minute(gap.next)).collect();
        let (Some(first), Some(last)) = (uses.iter().min(), uses.iter().max()) else { continue };
        let end = plan.end_minute(problem, job);
        match hold.place {
            Some(Place::Fridge) => fridge.add(job, end, *last, hold.centilitres),
            Some(Place::Freezer) => {
                let thaw = hold.thaw_minutes.map_or(*last, |thaw| first - minutes(thaw));
                freezer.add(job, end, thaw, hold.centilitres);
                fridge.add(job, thaw.max(end), *last, hold.centilitres);
            }
            _ => {}
        }
    }
    for (place, boxes, there) in [
        (Place::Fridge, &fridge, problem.fridge_centilitres),
        (Place::Freezer, &freezer, problem.freezer_centilitres),
    ] {
        if let Some((minute, jobs)) = boxes.over(there) {
            found.breach(Limit::Cold(place), &jobs, Some(minute), "more would stand there");
        }
    }
}

/// Boxes that stand for days: what changes at a minute tells what is there until the next change.
#[derive(Default)]
struct Changes {
    boxes: Vec<(usize, i32, i32, u32)>,
}

impl Changes {
    fn add(&mut self, job: usize, from: i32, to: i32, amount: u32) {
        if from < to && amount > 0 {
            self.boxes.push((job, from, to, amount));
        }
    }

    fn over(&self, there: u32) -> Option<(i32, Vec<usize>)> {
        let mut minutes: Vec<i32> = self.boxes.iter().map(|it| it.1).collect();
        minutes.sort_unstable();
        minutes.into_iter().find_map(|minute| {
            let now = self.boxes.iter().filter(|it| (it.1..it.2).contains(&minute));
            let (jobs, amounts): (Vec<usize>, Vec<u64>) =
                now.map(|it| (it.0, u64::from(it.3))).unzip();
            (amounts.iter().sum::<u64>() > u64::from(there)).then_some((minute, jobs))
        })
    }
}
