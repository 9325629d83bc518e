//! A limit of the net by the name a person knows it by.

use crate::domain::card::Place;
use crate::domain::schedule::problem::Limit as Named;
use crate::planner::model::Limit;
use crate::planner::translate::{HANDS, RINGS, Translation};

impl Translation<'_> {
    /// A limit of the net by the name it has in the problem, and the jobs it is about.
    pub fn named(&self, limit: Limit) -> (Named, Vec<usize>) {
        let jobs = self.problem.jobs.len();
        let (name, mut about) = match limit {
            Limit::Use { thing, step } | Limit::Room { thing, step } => {
                (self.thing(thing), vec![step])
            }
            Limit::Kept { kept } => {
                let kept = self.net.kept[kept];
                (self.thing(kept.thing), vec![kept.from, kept.to])
            }
            Limit::Least { link } | Limit::Most { link } | Limit::SameWindow { link } => {
                self.link(link)
            }
            Limit::NotBefore { step } | Limit::NotAfter { step } => (Named::Time(step), vec![step]),
            Limit::Window { step } => {
                let window =
                    self.problem.jobs.get(step).and_then(|job| job.windows.last().copied());
                (Named::Window(window.unwrap_or(0)), vec![step])
            }
            Limit::Opening { step } => {
                let oven =
                    self.ways.get(step).and_then(|ways| ways.iter().find_map(|(_, oven)| *oven));
                (Named::Setting(oven.unwrap_or(0)), vec![step])
            }
            Limit::Free { window } => (Named::DayHands(window), Vec::new()),
            Limit::Apart { one, other } => {
                let oven =
                    self.ways.get(one).and_then(|ways| ways.iter().find_map(|(_, oven)| *oven));
                (Named::Setting(oven.unwrap_or(0)), vec![one, other])
            }
            Limit::Tally { tally } => (self.tallies[tally], self.tally_jobs(tally)),
            Limit::Days { days } => (Named::Keep(self.days[days]), vec![self.net.days[days].from]),
            Limit::Turn { turn } => (
                Named::Order(self.turns[turn]),
                vec![self.net.turns[turn].before, self.net.turns[turn].after],
            ),
            Limit::Suits { step } => (Named::Choice(step), vec![step]),
        };
        about.retain(|job| *job < jobs);
        (name, about)
    }

    fn thing(&self, thing: usize) -> Named {
        match thing {
            HANDS => Named::Hands,
            RINGS => Named::Rings,
            it if it == self.things.fridge => Named::Cold(Place::Fridge),
            it if it == self.things.freezer => Named::Cold(Place::Freezer),
            it if it >= self.things.ovens => Named::Shelves(it - self.things.ovens),
            it => Named::Machine(it - self.things.machines),
        }
    }

    fn link(&self, link: usize) -> (Named, Vec<usize>) {
        let about = vec![self.net.links[link].from, self.net.links[link].to];
        match self.gaps[link] {
            Some(gap) => {
                let what = &self.problem.gaps[gap];
                let of_gap = what.most_minutes.is_some() || what.least_minutes > 0;
                let before = &self.problem.jobs[what.before];
                let name = if of_gap || before.holds.len() > 1 {
                    Named::Gap(gap)
                } else {
                    Named::Hold(what.before, 0)
                };
                (name, about)
            }
            None => (Named::Order(self.orders[link]), about),
        }
    }

    fn tally_jobs(&self, tally: usize) -> Vec<usize> {
        let tally = &self.net.tallies[tally];
        let mut about: Vec<usize> = tally.from.into_iter().chain(tally.to.map(|to| to.0)).collect();
        about.extend(tally.modes.iter().map(|one| one.0));
        about.sort_unstable();
        about.dedup();
        about
    }
}
