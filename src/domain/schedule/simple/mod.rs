//! A plain planner: from the table backwards, each job as late as it can stand, with turning back.
//!
//! It is slow and proves nothing. It stands in where no search is at hand, and beside the search in
//! tests. Its work is counted, so that the same problem gives the same plan.

mod room;

use self::room::Room;
use super::check;
use super::plan::{Outcome, Placed, Plan, minutes};
use super::problem::{Hold, Next, Prefer, Problem, StartFrom, Way};
use crate::domain::card::Place;
use crate::domain::limit::{Age, Clock, Frozen};

/// Places tried before the dish that stuck is put in front and all begins anew.
const TRIES: u32 = 6_000;
const ROUNDS: usize = 60;

/// A plan that the checker passes, or none found.
pub fn plan(problem: &Problem) -> Outcome {
    let mut front: Vec<usize> = (0..problem.dishes.len()).collect();
    front.sort_by_key(|dish| std::cmp::Reverse(oven_minutes(problem, *dish)));
    let mut weights = vec![0_u32; problem.dishes.len()];
    for _ in 0..ROUNDS {
        front.sort_by_key(|dish| std::cmp::Reverse(weights[*dish]));
        let order = backwards(problem, &front);
        let mut search = Search::new(problem, &order);
        if search.place(0) {
            let plan =
                Plan { jobs: search.placed.iter().map(|it| it.unwrap_or(NOWHERE)).collect() };
            if check(problem, &plan).is_empty() {
                return Outcome::Planned { plan, bound: None, is_cancelled: false };
            }
        }
        let stuck = problem.jobs[order[search.furthest.min(order.len() - 1)]].dish;
        weights[stuck] += 1;
    }
    Outcome::Unknown { is_cancelled: false }
}

const NOWHERE: Placed = Placed { start_minute: i32::MIN / 4, way: 0, hold: 0, oven: None };

fn oven_minutes(problem: &Problem, dish: usize) -> u32 {
    let jobs = problem.jobs.iter().filter(|job| job.dish == dish);
    jobs.filter_map(|job| job.ways[0].oven.as_ref()).map(|oven| oven.minutes()).sum()
}

/// Jobs so that each stands after all that follow it in time; dishes in the given order.
fn backwards(problem: &Problem, front: &[usize]) -> Vec<usize> {
    let mut order = Vec::new();
    let mut is_in = vec![false; problem.jobs.len()];
    let is_free = |job: usize, is_in: &[bool]| {
        let gaps = problem.gaps_after(job).all(|(_, gap)| match gap.next {
            Next::Job(next) => is_in[next],
            Next::Table(_) => true,
        });
        let orders = problem.orders.iter().filter(|it| it.before == job);
        gaps && orders.into_iter().all(|it| it.only_on_one_day || is_in[it.after])
    };
    while order.len() < problem.jobs.len() {
        let next = front.iter().find_map(|dish| {
            (0..problem.jobs.len()).rev().find(|job| {
                problem.jobs[*job].dish == *dish && !is_in[*job] && is_free(*job, &is_in)
            })
        });
        let Some(next) = next.or_else(|| is_in.iter().position(|it| !it)) else { break };
        is_in[next] = true;
        order.push(next);
    }
    order
}

struct Search<'a> {
    problem: &'a Problem,
    order: &'a [usize],
    placed: Vec<Option<Placed>>,
    room: Room,
    tries: u32,
    /// How many jobs stood at once at best.
    furthest: usize,
}

impl<'a> Search<'a> {
    fn new(problem: &'a Problem, order: &'a [usize]) -> Self {
        let placed = vec![None; problem.jobs.len()];
        Self { problem, order, placed, room: Room::of(problem), tries: 0, furthest: 0 }
    }

    /// Places the job at this place of the order and all behind it.
    fn place(&mut self, at: usize) -> bool {
        let Some(&job) = self.order.get(at) else { return true };
        self.furthest = self.furthest.max(at);
        if let Some(done) = self.problem.jobs[job].done {
            return self.done(at, job, done.start_minute, done.hold);
        }
        for window in self.windows(job) {
            for hold in self.holds(job, window) {
                for way in self.ways(job, hold) {
                    if self.in_ovens(at, job, (window, hold, way)) {
                        return true;
                    }
                    if self.tries >= TRIES {
                        return false;
                    }
                }
            }
        }
        false
    }

    fn done(&mut self, at: usize, job: usize, start_minute: i32, hold: Option<usize>) -> bool {
        let holds =
            hold.map_or_else(|| (0..self.problem.jobs[job].holds.len()).collect(), |it| vec![it]);
        for hold in holds {
            self.placed[job] = Some(Placed { start_minute, way: 0, hold, oven: None });
            if self.fits(job) && self.place(at + 1) {
                return true;
            }
            self.placed[job] = None;
        }
        false
    }

    /// Earlier days first where the serving day is to be light, the last of them first.
    fn windows(&self, job: usize) -> Vec<usize> {
        let mut windows = self.problem.jobs[job].windows.clone();
        windows.reverse();
        if self.problem.prefer != Prefer::Freshest
            && windows.first() == Some(&self.problem.serving())
        {
            windows.rotate_left(1);
        }
        windows
    }

    fn holds(&self, job: usize, window: usize) -> Vec<usize> {
        let holds = &self.problem.jobs[job].holds;
        let mut found: Vec<usize> = (0..holds.len()).collect();
        found.retain(|hold| {
            window == self.problem.serving()
                || holds[*hold].place.is_some()
                || self.stays(job, window)
        });
        found
    }

    /// All that follows stands in this window, so that it may go straight on.
    fn stays(&self, job: usize, window: usize) -> bool {
        self.problem.gaps_after(job).all(|(_, gap)| match gap.next {
            Next::Job(next) => self.window_of(next) == Some(window),
            Next::Table(_) => window == self.problem.serving(),
        })
    }

    fn window_of(&self, job: usize) -> Option<usize> {
        let start = self.placed[job]?.start_minute;
        self.problem.windows.iter().position(|it| (it.from_minute..it.to_minute).contains(&start))
    }

    /// From the cold before warm, and the author's first setting before others.
    fn ways(&self, job: usize, _hold: usize) -> Vec<usize> {
        let ways = &self.problem.jobs[job].ways;
        let mut found: Vec<usize> = (0..ways.len()).collect();
        found.sort_by_key(|way| (ways[*way].kind, std::cmp::Reverse(ways[*way].from)));
        found
    }

    fn in_ovens(
        &mut self,
        at: usize,
        job: usize,
        (window, hold, way): (usize, usize, usize),
    ) -> bool {
        let it = &self.problem.jobs[job].ways[way];
        let ovens: Vec<Option<usize>> = match it.oven {
            None => vec![None],
            Some(_) => (0..self.problem.ovens.len()).map(Some).collect(),
        };
        let Some((least, most)) = self.starts(job, window, hold, way) else { return false };
        for oven in ovens {
            let mut start = most;
            while start >= least {
                let Some(found) = self.latest(job, it, oven, (least, start)) else { break };
                self.tries += 1;
                if self.tries >= TRIES {
                    return false;
                }
                self.placed[job] = Some(Placed { start_minute: found, way, hold, oven });
                if self.fits(job) {
                    self.room.put(self.problem, job, it, (found, oven), &self.placed);
                    if self.place(at + 1) {
                        return true;
                    }
                    self.room.take(self.problem, job, it, (found, oven), &self.placed);
                }
                self.placed[job] = None;
                start = found - 3;
            }
        }
        false
    }

    /// The latest start at which hands, ovens, rings and machines are free.
    fn latest(
        &self,
        job: usize,
        way: &Way,
        oven: Option<usize>,
        (least, most): (i32, i32),
    ) -> Option<i32> {
        (least..=most)
            .rev()
            .find(|start| self.room.is_free(self.problem, job, way, (*start, oven), &self.placed))
    }

    /// The first and last start that windows, times and gaps leave.
    fn starts(&self, job: usize, window: usize, hold: usize, way: usize) -> Option<(i32, i32)> {
        let it = &self.problem.jobs[job];
        let hours = &self.problem.windows[window];
        let way = &it.ways[way];
        let long = minutes(way.minutes);
        let preheat = way.oven.as_ref().map_or(0, |used| {
            let least =
                self.problem.ovens.iter().map(|oven| oven.preheat_minutes).min().unwrap_or(0);
            minutes(least) - minutes(used.from_minute)
        });
        let mut least =
            (hours.from_minute + preheat).max(it.start_from_minute).max(self.problem.now_minute);
        least = least.max(it.end_from_minute - long);
        let mut most = (hours.to_minute - long).min(it.end_by_minute - long);
        for (_, gap) in self.problem.gaps_after(job) {
            let next = match gap.next {
                Next::Job(next) => self.placed[next]?.start_minute,
                Next::Table(minute) => minute,
            };
            let (short, far) = bounds(&it.holds[hold]);
            let far = far.min(gap.most_minutes.map_or(i32::MAX / 4, minutes));
            let short = short.max(minutes(gap.least_minutes));
            most = most.min(next - short - long);
            least = least.max(next.saturating_sub(far) - long);
        }
        if let Some(pinned) = it.pinned_minute {
            (least, most) = (least.max(pinned), most.min(pinned));
        }
        (least <= most).then_some((least, most))
    }

    /// The limits that tie this job to those that stand already.
    fn fits(&self, job: usize) -> bool {
        self.follows(job) && self.ages(job) && self.spans(job) && self.rooms(job)
    }

    fn end(&self, job: usize) -> Option<i32> {
        let it = &self.problem.jobs[job];
        if let Some(done) = it.done {
            return Some(done.end_minute);
        }
        let placed = self.placed[job]?;
        Some(placed.start_minute + minutes(it.ways[placed.way].minutes))
    }

    fn follows(&self, job: usize) -> bool {
        let hold = |job: usize| {
            let placed = self.placed[job]?;
            Some(&self.problem.jobs[job].holds[placed.hold])
        };
        let after = self.problem.gaps_after(job).all(|(_, gap)| {
            let Next::Job(next) = gap.next else { return true };
            let (Some(hold), Some(placed)) = (hold(job), self.placed[next]) else { return true };
            let from: StartFrom = self.problem.jobs[next].ways[placed.way].from;
            let is_same = hold.place.is_some() || self.window_of(job) == self.window_of(next);
            is_same && (!gap.is_main || hold.start_from() <= from)
        });
        let orders = self.problem.orders.iter().filter(|it| it.before == job || it.after == job);
        after
            && orders.into_iter().all(|it| {
                let (Some(end), Some(after)) = (self.end(it.before), self.placed[it.after]) else {
                    return true;
                };
                let other_day = self.window_of(it.before) != self.window_of(it.after);
                (it.only_on_one_day && other_day) || end <= after.start_minute
            })
            && Room::cold_fits(self.problem, &self.placed)
    }

    fn ages(&self, job: usize) -> bool {
        let problem = self.problem;
        problem.keeps.iter().filter(|it| it.from == job).all(|limit| {
            let is_held = limit.held.is_none_or(|(held, hold)| {
                self.placed[held].is_none_or(|placed| placed.hold == hold)
            });
            let Some(end) = self.end(job).filter(|_| is_held) else { return true };
            let frozen = limit.frozen.iter().filter_map(|it| self.frozen(*it)).min();
            let age = Age {
                made_at: problem.instant(end),
                frozen: frozen.map(|(at, thaw)| Frozen {
                    at: problem.instant(at),
                    thaw_at: problem.instant(thaw),
                }),
            };
            let eaten = problem.instant(limit.until_minute);
            let is_elapsed = matches!(limit.clock, Clock::Elapsed(_));
            let ends = limit.clock.end(&age, &problem.zone);
            ends.is_ok_and(|end| eaten < end || (is_elapsed && eaten == end))
        })
    }

    fn frozen(&self, job: usize) -> Option<(i32, i32)> {
        let placed = self.placed[job]?;
        let hold = &self.problem.jobs[job].holds[placed.hold];
        let first =
            self.problem.gaps_after(job).filter_map(|(_, gap)| self.next(gap.next)).min()?;
        let end = self.end(job)?;
        let thaw = first - minutes(hold.thaw_minutes.unwrap_or(0));
        (hold.place == Some(Place::Freezer)).then_some((end, thaw.max(end)))
    }

    fn next(&self, next: Next) -> Option<i32> {
        match next {
            Next::Job(job) => self.placed[job].map(|it| it.start_minute),
            Next::Table(minute) => Some(minute),
        }
    }

    fn spans(&self, job: usize) -> bool {
        let spans = self.problem.spans.iter();
        spans.filter(|it| it.from_end_of == job || it.to_end_of == job).all(|it| {
            let (Some(from), Some(to)) = (self.end(it.from_end_of), self.end(it.to_end_of)) else {
                return true;
            };
            to - from <= minutes(it.most_minutes)
        })
    }

    fn rooms(&self, job: usize) -> bool {
        self.problem.rooms.iter().filter(|it| it.jobs.contains(&job) || self.leaves(it, job)).all(
            |it| {
                let works = it.jobs.iter().filter_map(|job| {
                    let placed = self.placed[*job]?;
                    Some(minutes(self.problem.jobs[*job].ways[placed.way].out_minutes))
                });
                let waits = it.gaps.iter().filter_map(|gap| {
                    let gap = &self.problem.gaps[*gap];
                    let placed = self.placed[gap.before]?;
                    let is_out = self.problem.jobs[gap.before].holds[placed.hold].is_out();
                    let length = self.next(gap.next)? - self.end(gap.before)?;
                    is_out.then_some(length)
                });
                works.sum::<i32>() + waits.sum::<i32>() <= minutes(it.most_minutes)
            },
        )
    }

    fn leaves(&self, room: &super::problem::RoomClock, job: usize) -> bool {
        room.gaps.iter().any(|gap| self.problem.gaps[*gap].before == job)
    }
}

/// The least and most of a hold, the thaw counted in.
fn bounds(hold: &Hold) -> (i32, i32) {
    let thaw = hold.thaw_minutes.filter(|_| hold.place == Some(Place::Freezer)).map_or(0, minutes);
    (minutes(hold.least_minutes) + thaw, minutes(hold.most_minutes).saturating_add(thaw))
}
