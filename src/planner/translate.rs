//! A problem with its names and reasons as a net for the search, and a placing as a plan.

use crate::domain::card::Place;
use crate::domain::schedule::plan::{Placed as PlacedJob, Plan};
use crate::domain::schedule::problem::{
    Hold as ProblemHold, Job, Limit as Named, Next, OvenUse, Prefer, Problem, SHELF, Way,
};
use crate::planner::net::{
    Apart, First, Hold, Link, Mode, Net, Part, Placed, Step, Turn, Use, Window,
};

/// A net, and what its numbers stand for in the problem.
pub struct Translation<'a> {
    pub problem: &'a Problem,
    pub net: Net,
    /// For each job and mode the way and the oven.
    pub ways: Vec<Vec<(usize, Option<usize>)>>,
    /// For each job and hold its place in the problem.
    pub holds: Vec<Vec<usize>>,
    /// The gap that each link stands for; none for an order.
    pub gaps: Vec<Option<usize>>,
    pub orders: Vec<usize>,
    pub tallies: Vec<Named>,
    pub days: Vec<usize>,
    pub turns: Vec<usize>,
    pub things: Things,
    /// Minute 0 of the problem lies so late in the net.
    pub shift: i64,
}

fn use_of(thing: usize, from: u32, to: u32, amount: u32) -> Use {
    Use { thing, from: i64::from(from), to: i64::from(to), amount: i64::from(amount) }
}

/// Where each shared thing stands among the things of the net.
#[derive(Debug, Clone, Copy)]
pub struct Things {
    pub machines: usize,
    pub ovens: usize,
    pub fridge: usize,
    pub freezer: usize,
}

pub const HANDS: usize = 0;
pub const RINGS: usize = 1;

/// Reads a problem; every minute of it is a unit of the net.
pub fn translate(problem: &Problem) -> Translation<'_> {
    let machines = 2;
    let ovens = machines + problem.machines.len();
    let fridge = ovens + problem.ovens.len();
    let things = Things { machines, ovens, fridge, freezer: fridge + 1 };
    let first = problem
        .jobs
        .iter()
        .filter_map(|job| job.done.map(|done| done.start_minute))
        .min()
        .unwrap_or(0);
    let mut translation = Translation {
        problem,
        net: Net::default(),
        ways: Vec::new(),
        holds: Vec::new(),
        gaps: Vec::new(),
        orders: Vec::new(),
        tallies: Vec::new(),
        days: Vec::new(),
        turns: Vec::new(),
        things,
        shift: i64::from(-first.min(0)),
    };
    translation.kitchen();
    for job in 0..problem.jobs.len() {
        translation.job(job);
    }
    translation.links();
    translation.settings();
    translation.limits();
    translation
}

impl Translation<'_> {
    pub fn time(&self, minute: i32) -> i64 {
        i64::from(minute) + self.shift
    }

    fn kitchen(&mut self) {
        let problem = self.problem;
        let mut things = vec![i64::from(problem.hands), i64::from(problem.rings)];
        things.extend(problem.machines.iter().map(|machine| i64::from(machine.count)));
        things.extend(problem.ovens.iter().map(|oven| i64::from(oven.shelves * SHELF)));
        things.extend([
            i64::from(problem.fridge_centilitres),
            i64::from(problem.freezer_centilitres),
        ]);
        let last_window = problem.windows.iter().map(|window| window.to_minute).max().unwrap_or(0);
        let tables = problem.gaps.iter().filter_map(|gap| match gap.next {
            Next::Table(minute) => Some(minute),
            Next::Job(_) => None,
        });
        let done = problem.jobs.iter().filter_map(|job| job.done.map(|done| done.end_minute));
        let last = tables.chain(done).chain([last_window]).max().unwrap_or(0);
        let serving = problem.serving();
        let windows = problem.windows.iter().enumerate().map(|(place, window)| Window {
            start: self.time(window.from_minute),
            end: self.time(window.to_minute),
            serving: place == serving,
            free_minutes: Some(i64::from(window.hands_minutes)),
        });
        let windows = windows.collect();
        self.net = Net {
            unit_minutes: 1,
            horizon: self.time(last),
            windows,
            things,
            midnights: problem.midnights.iter().map(|midnight| self.time(*midnight)).collect(),
            first: match problem.prefer {
                Prefer::LeastOnTheDay => First::Serving,
                Prefer::FewestDays => First::Days,
                Prefer::Freshest => First::Nothing,
            },
            ..Net::default()
        };
    }

    fn job(&mut self, index: usize) {
        let job = &self.problem.jobs[index];
        let mut step = Step { dish: job.dish, held: true, ..Step::any_time() };
        let mut kept_holds: Vec<usize> = (0..job.holds.len()).collect();
        if let Some(done) = job.done {
            if let Some(hold) = done.hold {
                kept_holds = vec![hold];
            }
            step.anywhere = true;
            step.stands_in = self.problem.windows.iter().position(|window| {
                (window.from_minute..window.to_minute).contains(&done.start_minute)
            });
            step.earliest_end = self.time(done.end_minute);
            step.latest_end = step.earliest_end;
            step.earliest_start = self.time(done.start_minute);
            step.latest_start = step.earliest_start;
            step.modes.push(Mode {
                length: i64::from(done.end_minute - done.start_minute),
                ..Mode::default()
            });
            self.ways.push(vec![(0, None)]);
        } else {
            self.times(job, &mut step);
            let mut ways = Vec::new();
            for (place, way) in job.ways.iter().enumerate() {
                let ovens: Vec<Option<usize>> = if way.oven.is_some() {
                    (0..self.problem.ovens.len()).map(Some).collect()
                } else {
                    vec![None]
                };
                for oven in ovens {
                    step.modes.push(self.mode(index, way, oven));
                    ways.push((place, oven));
                }
            }
            self.ways.push(ways);
        }
        step.holds = kept_holds.iter().map(|&hold| self.hold(index, &job.holds[hold])).collect();
        self.holds.push(kept_holds);
        self.net.steps.push(step);
    }

    fn times(&self, job: &Job, step: &mut Step) {
        let begin = job
            .start_from_minute
            .max(self.problem.now_minute)
            .max(job.pinned_minute.unwrap_or(i32::MIN));
        step.earliest_start = self.time(begin).max(0);
        step.earliest_end = self.time(job.end_from_minute).max(0);
        step.latest_end = self.time(job.end_by_minute);
        if let Some(pinned) = job.pinned_minute {
            step.latest_start = self.time(pinned);
        }
        step.not_in = (0..self.problem.windows.len())
            .filter(|window| !job.windows.contains(window))
            .collect();
    }

    fn mode(&self, job: usize, way: &Way, oven: Option<usize>) -> Mode {
        let mut mode = Mode {
            length: i64::from(way.minutes),
            hands_minutes: i64::from(way.hands_minutes()),
            ..Mode::default()
        };
        mode.uses.extend(
            way.hands.iter().map(|it| use_of(HANDS, it.from_minute, it.to_minute, it.count)),
        );
        mode.uses.extend(
            way.ring.iter().map(|it| use_of(RINGS, it.from_minute, it.to_minute, it.count)),
        );
        self.machines_and_oven(job, way, oven, &mut mode);
        self.suits(job, way, &mut mode);
        mode
    }

    fn machines_and_oven(&self, job: usize, way: &Way, oven: Option<usize>, mode: &mut Mode) {
        for one in &way.machines {
            // Kept over to another job: counted there, from the start of this one.
            if !self
                .problem
                .kept_machines
                .iter()
                .any(|kept| kept.from == job && kept.machine == one.machine)
            {
                mode.uses.push(use_of(
                    self.things.machines + one.machine,
                    one.stretch.from_minute,
                    one.stretch.to_minute,
                    one.stretch.count,
                ));
            }
        }
        if let (Some(used), Some(oven)) = (&way.oven, oven) {
            let amount = if used.is_alone {
                self.problem.ovens[oven].shelves * SHELF
            } else {
                used.shelf_sixtieths
            };
            let amount = amount.max(used.shelf_sixtieths);
            mode.uses.push(use_of(
                self.things.ovens + oven,
                used.from_minute,
                used.from_minute + used.minutes(),
                amount,
            ));
            mode.after_opening = (i64::from(self.problem.ovens[oven].preheat_minutes)
                - i64::from(used.from_minute))
            .max(0);
        }
    }

    /// How what comes in may have waited: no colder than the way allows.
    fn suits(&self, job: usize, way: &Way, mode: &mut Mode) {
        for (_, gap) in self.problem.gaps_before(job).filter(|(_, gap)| gap.is_main) {
            let before = &self.problem.jobs[gap.before];
            let kept = before.done.and_then(|done| done.hold);
            let open = (0..before.holds.len()).filter(|hold| kept.is_none_or(|kept| kept == *hold));
            let suits = open
                .enumerate()
                .filter(|(_, hold)| before.holds[*hold].start_from() <= way.from)
                .map(|(place, _)| place);
            mode.only_with.push((gap.before, suits.collect()));
        }
    }

    fn hold(&self, job: usize, hold: &ProblemHold) -> Hold {
        let (mut least, mut most) = (i64::from(hold.least_minutes), i64::from(hold.most_minutes));
        let litres = i64::from(hold.centilitres);
        let mut room = Hold::default();
        match (hold.place, hold.thaw_minutes.map(i64::from)) {
            (Some(Place::Fridge), _) => room.until_last.push((self.things.fridge, litres)),
            (Some(Place::Freezer), None) => room.until_last.push((self.things.freezer, litres)),
            (Some(Place::Freezer), Some(thaw)) => {
                room.until_first.push((self.things.freezer, litres, thaw));
                room.near_use.push((self.things.fridge, litres, thaw));
                least += thaw;
                most += thaw;
                room.most_of_first = self.problem.gaps_after(job).count() > 1;
            }
            (None, _) => room.same_window = true,
            _ => {}
        }
        Hold { least, most, ..room }
    }

    fn links(&mut self) {
        let problem = self.problem;
        let mut tables: Vec<(i32, usize)> = Vec::new();
        for (place, gap) in problem.gaps.iter().enumerate() {
            let to = match gap.next {
                Next::Job(job) => job,
                Next::Table(minute) => match tables.iter().find(|(known, _)| *known == minute) {
                    Some((_, step)) => *step,
                    None => {
                        let step = self.table(minute);
                        tables.push((minute, step));
                        step
                    }
                },
            };
            let most = gap.most_minutes.map_or(self.net.horizon, i64::from);
            let is_done = |job: usize| problem.jobs.get(job).is_some_and(|job| job.done.is_some());
            let over = is_done(gap.before) && is_done(to);
            self.net.links.push(Link {
                from: gap.before,
                to,
                least: i64::from(gap.least_minutes),
                most,
                waits: true,
                over,
            });
            self.gaps.push(Some(place));
            self.orders.push(usize::MAX);
        }
        for (place, order) in problem.orders.iter().enumerate() {
            if order.only_on_one_day {
                self.net.turns.push(Turn { before: order.before, after: order.after });
                self.turns.push(place);
            } else if !(problem.jobs[order.before].done.is_some()
                && problem.jobs[order.after].done.is_some())
            {
                self.net.links.push(Link {
                    from: order.before,
                    to: order.after,
                    least: 0,
                    most: self.net.horizon,
                    waits: false,
                    over: false,
                });
                self.gaps.push(None);
                self.orders.push(place);
            }
        }
    }

    /// The table as a step without length at its minute.
    fn table(&mut self, minute: i32) -> usize {
        let at = self.time(minute);
        let dish = self.problem.dishes.len();
        let step = Step {
            dish,
            anywhere: true,
            earliest_end: at,
            latest_end: at,
            earliest_start: at,
            latest_start: at,
            modes: vec![Mode::default()],
            holds: vec![Hold { most: self.net.horizon, ..Hold::default() }],
            ..Step::any_time()
        };
        self.net.steps.push(step);
        self.net.steps.len() - 1
    }

    /// Two that are too far apart in heat do not share an oven, and heating up lies between them.
    fn settings(&mut self) {
        let problem = self.problem;
        let mut baked: Vec<(usize, usize, usize, &OvenUse)> = Vec::new();
        for (job, ways) in self.ways.iter().enumerate() {
            for (mode, &(way, oven)) in ways.iter().enumerate() {
                if let (Some(used), Some(oven)) = (&problem.jobs[job].ways[way].oven, oven) {
                    baked.push((job, mode, oven, used));
                }
            }
        }
        for (place, one) in baked.iter().enumerate() {
            for other in baked[..place].iter().filter(|other| other.0 != one.0 && other.2 == one.2)
            {
                let preheat = i64::from(problem.ovens[one.2].preheat_minutes);
                self.aparts_of((other.0, other.1, other.3), (one.0, one.1, one.3), preheat);
            }
        }
    }

    fn aparts_of(
        &mut self,
        one: (usize, usize, &OvenUse),
        other: (usize, usize, &OvenUse),
        preheat: i64,
    ) {
        let tolerance = self.problem.tolerance_tenths;
        let parts = |(step, mode, used): (usize, usize, &OvenUse)| {
            let mut from = i64::from(used.from_minute);
            let last = used.stages.len().saturating_sub(1);
            let parts = used.stages.iter().enumerate().map(|(place, stage)| {
                let part = Part { step, mode, from, to: from + i64::from(stage.minutes) };
                from = part.to;
                (part, stage.tenths_celsius, place == 0, place == last)
            });
            parts.collect::<Vec<_>>()
        };
        for (mine, heat, is_first, is_last) in parts(one) {
            for (theirs, other_heat, other_is_first, other_is_last) in parts(other) {
                if (heat - other_heat).abs() > tolerance {
                    let one_first = if is_last && other_is_first { preheat } else { 0 };
                    let other_first = if other_is_last && is_first { preheat } else { 0 };
                    self.net.aparts.push(Apart {
                        one: mine,
                        other: theirs,
                        one_first,
                        other_first,
                    });
                }
            }
        }
    }

    /// A plan as a placing; none where it names what the net does not have.
    pub fn placed(&self, plan: &Plan) -> Option<Placed> {
        let steps = &self.net.steps;
        let mut placed = Placed {
            starts: steps.iter().map(|step| step.earliest_start).collect(),
            modes: vec![0; steps.len()],
            holds: vec![0; steps.len()],
        };
        for (job, what) in plan.jobs.iter().enumerate() {
            placed.starts[job] = self.time(what.start_minute);
            if self.problem.jobs[job].done.is_none() {
                let mode = (what.way, what.oven);
                placed.modes[job] = self.ways[job].iter().position(|known| *known == mode)?;
            }
            placed.holds[job] = self.holds[job].iter().position(|known| *known == what.hold)?;
        }
        Some(placed)
    }

    /// A placing in the words of the problem.
    pub fn plan(&self, placed: &Placed) -> Plan {
        let jobs = self.problem.jobs.iter().enumerate().map(|(job, what)| {
            let (way, oven) = self.ways[job][placed.modes[job]];
            let start_minute = match what.done {
                Some(done) => done.start_minute,
                None => i32::try_from(placed.starts[job] - self.shift).unwrap_or(i32::MAX),
            };
            PlacedJob { start_minute, way, hold: self.holds[job][placed.holds[job]], oven }
        });
        Plan { jobs: jobs.collect() }
    }
}
