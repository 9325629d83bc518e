//! What is taken at each minute while a plain plan grows.

use std::collections::BTreeMap;

use crate::domain::card::Place;
use crate::domain::schedule::plan::{Placed, minutes};
use crate::domain::schedule::problem::{Next, Problem, SHELF, Stretch, Way};

/// Counts by minute from the first window on; what lies outside is free.
pub struct Room {
    from: i32,
    hands: Vec<u32>,
    rings: Vec<u32>,
    machines: Vec<Vec<u32>>,
    /// For each oven the jobs in it: job, from, to, shelves, heats by stage, alone.
    ovens: Vec<BTreeMap<usize, InOven>>,
    day_hands: Vec<u32>,
}

#[derive(Clone)]
struct InOven {
    from: i32,
    to: i32,
    shelf_sixtieths: u32,
    is_alone: bool,
    stages: Vec<(i32, i32, i32)>,
}

impl Room {
    pub fn of(problem: &Problem) -> Self {
        let from = problem.windows.first().map_or(0, |it| it.from_minute);
        let to = problem.windows.last().map_or(0, |it| it.to_minute);
        let long = usize::try_from(to - from + 1).unwrap_or(0);
        Self {
            from,
            hands: vec![0; long],
            rings: vec![0; long],
            machines: vec![vec![0; long]; problem.machines.len()],
            ovens: vec![BTreeMap::new(); problem.ovens.len()],
            day_hands: vec![0; problem.windows.len()],
        }
    }

    fn range(&self, start: i32, it: Stretch) -> std::ops::Range<usize> {
        let at = |minute: u32| usize::try_from(start + minutes(minute) - self.from).unwrap_or(0);
        let end = at(it.to_minute).min(self.hands.len());
        at(it.from_minute).min(end)..end
    }

    /// The machine uses of a job; what is kept for the next step lasts until that begins.
    fn machine_uses(
        problem: &Problem,
        job: usize,
        way: &Way,
        start: i32,
        placed: &[Option<Placed>],
    ) -> Vec<(usize, Stretch)> {
        let uses = way.machines.iter().map(|it| {
            let kept = problem
                .kept_machines
                .iter()
                .find(|kept| kept.from == job && kept.machine == it.machine);
            let next = kept.and_then(|kept| placed[kept.to]).map(|next| next.start_minute - start);
            let until = next.and_then(|minute| u32::try_from(minute).ok()).unwrap_or(0);
            let to_minute = it.stretch.to_minute.max(until);
            (it.machine, Stretch { to_minute, ..it.stretch })
        });
        uses.collect()
    }

    pub fn is_free(
        &self,
        problem: &Problem,
        job: usize,
        way: &Way,
        (start, oven): (i32, Option<usize>),
        placed: &[Option<Placed>],
    ) -> bool {
        let free = |counts: &[u32], it: Stretch, there: u32| {
            counts[self.range(start, it)].iter().all(|taken| taken + it.count <= there)
        };
        let window =
            problem.windows.iter().position(|it| (it.from_minute..it.to_minute).contains(&start));
        let day = window.is_none_or(|window| {
            self.day_hands[window] + way.hands_minutes() <= problem.windows[window].hands_minutes
        });
        day && way.hands.iter().all(|it| free(&self.hands, *it, problem.hands))
            && way.ring.is_none_or(|it| free(&self.rings, it, problem.rings))
            && Self::machine_uses(problem, job, way, start, placed).into_iter().all(
                |(machine, it)| free(&self.machines[machine], it, problem.machines[machine].count),
            )
            && oven.is_none_or(|oven| self.oven_is_free(problem, way, (start, oven)))
    }

    fn oven_is_free(&self, problem: &Problem, way: &Way, (start, oven): (i32, usize)) -> bool {
        let Some(one) = in_oven(way, start) else { return true };
        let preheat = minutes(problem.ovens[oven].preheat_minutes);
        let window =
            problem.windows.iter().find(|it| (it.from_minute..it.to_minute).contains(&start));
        if window.is_some_and(|it| one.from < it.from_minute + preheat) {
            return false;
        }
        let there = problem.ovens[oven].shelves * SHELF;
        let near = |one: i32, two: i32| (one - two).abs() <= problem.tolerance_tenths;
        let apart = self.ovens[oven].values().all(|two| {
            let overlap = one.from < two.to && two.from < one.to;
            if overlap {
                !one.is_alone
                    && !two.is_alone
                    && one.stages.iter().all(|a| {
                        two.stages.iter().all(|b| a.0 >= b.1 || b.0 >= a.1 || near(a.2, b.2))
                    })
            } else {
                let (first, then) = if one.to <= two.from { (&one, two) } else { (two, &one) };
                let heats = (
                    first.stages.last().map_or(0, |it| it.2),
                    then.stages.first().map_or(0, |it| it.2),
                );
                near(heats.0, heats.1) || then.from - first.to >= preheat
            }
        });
        // Shelves are fullest where something goes in.
        let fullest = |at: i32| {
            let inside = self.ovens[oven].values().filter(|it| (it.from..it.to).contains(&at));
            inside.map(|it| it.shelf_sixtieths).sum::<u32>() + one.shelf_sixtieths <= there
        };
        let ins = self.ovens[oven]
            .values()
            .map(|it| it.from)
            .filter(|at| (one.from..one.to).contains(at));
        apart && ins.chain([one.from]).all(fullest)
    }

    pub fn put(
        &mut self,
        problem: &Problem,
        job: usize,
        way: &Way,
        at: (i32, Option<usize>),
        placed: &[Option<Placed>],
    ) {
        self.change(problem, job, way, at, placed, true);
    }

    pub fn take(
        &mut self,
        problem: &Problem,
        job: usize,
        way: &Way,
        at: (i32, Option<usize>),
        placed: &[Option<Placed>],
    ) {
        self.change(problem, job, way, at, placed, false);
    }

    fn change(
        &mut self,
        problem: &Problem,
        job: usize,
        way: &Way,
        (start, oven): (i32, Option<usize>),
        placed: &[Option<Placed>],
        is_put: bool,
    ) {
        let set = |counts: &mut [u32], count: u32| {
            for it in counts {
                *it = if is_put { *it + count } else { it.saturating_sub(count) };
            }
        };
        for it in &way.hands {
            let range = self.range(start, *it);
            set(&mut self.hands[range], it.count);
        }
        if let Some(it) = way.ring {
            let range = self.range(start, it);
            set(&mut self.rings[range], it.count);
        }
        for (machine, it) in Self::machine_uses(problem, job, way, start, placed) {
            let range = self.range(start, it);
            set(&mut self.machines[machine][range], it.count);
        }
        let window =
            problem.windows.iter().position(|it| (it.from_minute..it.to_minute).contains(&start));
        if let Some(window) = window {
            set(&mut self.day_hands[window..=window], way.hands_minutes());
        }
        if let Some(oven) = oven {
            if is_put {
                if let Some(it) = in_oven(way, start) {
                    self.ovens[oven].insert(job, it);
                }
            } else {
                self.ovens[oven].remove(&job);
            }
        }
    }

    /// The boxes of all jobs that stand fit into fridge and freezer.
    pub fn cold_fits(problem: &Problem, placed: &[Option<Placed>]) -> bool {
        let mut boxes: Vec<(Place, i32, i32, u32)> = Vec::new();
        for (job, it) in problem.jobs.iter().enumerate() {
            let Some(placed_job) = placed[job] else { continue };
            let hold = &it.holds[placed_job.hold];
            if hold.centilitres == 0 {
                continue;
            }
            let uses = problem.gaps_after(job).filter_map(|(_, gap)| match gap.next {
                Next::Job(next) => placed[next].map(|it| it.start_minute),
                Next::Table(minute) => Some(minute),
            });
            let uses: Vec<i32> = uses.collect();
            let (Some(&first), Some(&last)) = (uses.iter().min(), uses.iter().max()) else {
                continue;
            };
            let end = it.done.map_or_else(
                || placed_job.start_minute + minutes(it.ways[placed_job.way].minutes),
                |done| done.end_minute,
            );
            match hold.place {
                Some(Place::Fridge) => boxes.push((Place::Fridge, end, last, hold.centilitres)),
                Some(Place::Freezer) => {
                    let thaw = hold.thaw_minutes.map_or(last, |thaw| first - minutes(thaw));
                    boxes.push((Place::Freezer, end, thaw, hold.centilitres));
                    boxes.push((Place::Fridge, thaw.max(end), last, hold.centilitres));
                }
                _ => {}
            }
        }
        boxes.iter().all(|(place, at, ..)| {
            let now = boxes.iter().filter(|it| it.0 == *place && (it.1..it.2).contains(at));
            let there = match place {
                Place::Freezer => problem.freezer_centilitres,
                _ => problem.fridge_centilitres,
            };
            now.map(|it| u64::from(it.3)).sum::<u64>() <= u64::from(there)
        })
    }
}

fn in_oven(way: &Way, start: i32) -> Option<InOven> {
    let used = way.oven.as_ref()?;
    let from = start + minutes(used.from_minute);
    let mut at = from;
    let stages = used.stages.iter().map(|stage| {
        let begin = at;
        at += minutes(stage.minutes);
        (begin, at, stage.tenths_celsius)
    });
    let stages: Vec<_> = stages.collect();
    let (shelf_sixtieths, is_alone) = (used.shelf_sixtieths, used.is_alone);
    Some(InOven { from, to: at, shelf_sixtieths, is_alone, stages })
}
