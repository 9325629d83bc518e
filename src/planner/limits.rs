//! The limits of a problem that are sums of times, as the net counts them.

use crate::domain::card::Place;
use crate::domain::limit::Clock;
use crate::domain::schedule::problem::{KeepLimit, Limit as Named};
use crate::planner::net::{Days, Frozen, Kept, Tally};
use crate::planner::translate::Translation;

impl Translation<'_> {
    pub fn limits(&mut self) {
        let problem = self.problem;
        for (place, keep) in problem.keeps.iter().enumerate() {
            self.keep(place, keep);
        }
        let is_done = |job: usize| problem.jobs[job].done.is_some();
        for (place, span) in problem.spans.iter().enumerate() {
            if !(is_done(span.from_end_of) && is_done(span.to_end_of)) {
                let tally = Tally {
                    most: i64::from(span.most_minutes),
                    from: Some(span.from_end_of),
                    to: Some((span.to_end_of, true)),
                    ..Tally::default()
                };
                self.net.tallies.push(tally);
                self.tallies.push(Named::Span(place));
            }
        }
        for (place, room) in problem.rooms.iter().enumerate() {
            if room.jobs.iter().all(|job| is_done(*job)) {
                continue;
            }
            let mut tally = Tally { most: i64::from(room.most_minutes), ..Tally::default() };
            for &job in &room.jobs {
                let minutes = |way: usize| i64::from(problem.jobs[job].ways[way].out_minutes);
                tally.modes.extend(
                    self.ways[job]
                        .iter()
                        .enumerate()
                        .map(|(mode, (way, _))| (job, mode, minutes(*way))),
                );
            }
            for &gap in &room.gaps {
                let before = problem.gaps[gap].before;
                let out = self.holds[before]
                    .iter()
                    .enumerate()
                    .filter(|(_, hold)| problem.jobs[before].holds[**hold].is_out());
                tally.gaps.push((gap, out.map(|(place, _)| place).collect()));
            }
            self.net.tallies.push(tally);
            self.tallies.push(Named::Room(place));
        }
        self.kept_machines();
    }

    fn kept_machines(&mut self) {
        let problem = self.problem;
        for kept in &problem.kept_machines {
            let uses = problem.jobs[kept.from]
                .ways
                .iter()
                .flat_map(|way| &way.machines)
                .filter(|used| used.machine == kept.machine);
            let (least, amount) = uses.fold((0, 0), |(least, amount), used| {
                (least.max(used.stretch.to_minute), amount.max(used.stretch.count))
            });
            if problem.jobs[kept.from].done.is_none() && amount > 0 {
                self.net.kept.push(Kept {
                    thing: self.things.machines + kept.machine,
                    from: kept.from,
                    to: kept.to,
                    least: i64::from(least),
                    amount: i64::from(amount),
                });
            }
        }
    }

    fn keep(&mut self, place: usize, keep: &KeepLimit) {
        let mut only_with = None;
        if let Some((job, hold)) = keep.held {
            let Some(hold) = self.holds[job].iter().position(|known| *known == hold) else {
                return;
            };
            only_with = Some((job, hold));
        }
        let mut frozen = Vec::new();
        for &job in &keep.frozen {
            for (place, &hold) in self.holds[job].iter().enumerate() {
                let hold = &self.problem.jobs[job].holds[hold];
                if hold.place == Some(Place::Freezer) {
                    frozen.push(Frozen {
                        step: job,
                        hold: place,
                        thaw: hold.thaw_minutes.map_or(0, i64::from),
                    });
                }
            }
        }
        let until = self.time(keep.until_minute);
        match keep.clock {
            Clock::Elapsed(minutes) => {
                self.net.tallies.push(Tally {
                    most: i64::from(minutes) - until,
                    from: Some(keep.from),
                    only_with,
                    frozen,
                    ..Tally::default()
                });
                self.tallies.push(Named::Keep(place));
            }
            // Not at all: eaten as it is made, before that minute is over.
            Clock::Days(0) => {
                self.net.tallies.push(Tally {
                    most: -until - 1,
                    from: Some(keep.from),
                    only_with,
                    ..Tally::default()
                });
                self.tallies.push(Named::Keep(place));
            }
            Clock::Days(days) => {
                self.net.days.push(Days {
                    from: keep.from,
                    only_with,
                    until_day: self.net.day(until),
                    most: i64::from(days),
                    frozen,
                });
                self.days.push(place);
            }
        }
    }
}
