//! A first placing: who finds no room is put down earlier in the next try, until everybody has a place.

use crate::planner::chance::Chance;
use crate::planner::net::{Net, Placed};
use crate::planner::place::{Bench, decode_work};
use crate::planner::recipe::Recipe;
use crate::planner::work::Work;

struct Beginning<'a> {
    net: &'a Net,
    bench: Bench<'a>,
    chance: Chance,
}

/// Looks for any placing that keeps every limit; none when the work given does not suffice.
pub fn begin(net: &Net, seed: u64, work: &mut Work) -> Option<Placed> {
    // After so many tries without a step more, everything is thrown together anew.
    const IDLE: u32 = 2_000;
    let mut beginning = Beginning { net, bench: Bench::new(net), chance: Chance::new(seed) };
    let decode = decode_work(net);
    let mut now = beginning.any();
    let mut next = now.clone();
    let mut most = 0;
    let mut idle = 0;
    while !work.over() {
        work.spend(decode);
        let Err(step) = beginning.bench.place(&next) else {
            return Some(beginning.bench.result(&next));
        };
        let placed = beginning.bench.placed.iter().filter(|placed| **placed).count();
        idle += 1;
        if placed + beginning.chance.below(3) >= most {
            if placed > most {
                idle = 0;
            }
            most = placed;
            std::mem::swap(&mut now, &mut next);
            next.clone_from(&now);
            beginning.repair(&mut next, step);
        } else {
            next.clone_from(&now);
            beginning.shake(&mut next);
        }
        if idle > IDLE {
            now = beginning.any();
            next.clone_from(&now);
            (most, idle) = (0, 0);
        }
    }
    None
}

impl Beginning<'_> {
    fn any(&mut self) -> Recipe {
        let net = self.net;
        let count = net.steps.len();
        let mut recipe = Recipe {
            rank: (0..count).map(|_| self.chance.share()).collect(),
            modes: vec![0; count],
            holds: vec![0; count],
            caps: vec![net.horizon; count],
        };
        for step in 0..count {
            let what = &net.steps[step];
            recipe.modes[step] = self.chance.below(what.modes.len().max(1));
            recipe.holds[step] = self.chance.below(what.holds.len().max(1));
        }
        for step in 0..count {
            recipe.suit_holds(net, step, &mut self.chance);
        }
        recipe
    }

    /// Something is tried for the step that found no place.
    fn repair(&mut self, recipe: &mut Recipe, step: usize) {
        let net = self.net;
        let followers = self.bench.followers[step].len();
        match self.chance.below(5) {
            0 if net.steps[step].modes.len() > 1 => {
                recipe.modes[step] = self.chance.below(net.steps[step].modes.len());
                recipe.suit_holds(net, step, &mut self.chance);
            }
            1 if net.steps[step].holds.len() > 1 => {
                recipe.holds[step] = self.chance.below(net.steps[step].holds.len());
            }
            2 if followers > 0 => {
                let follower = self.bench.followers[step][self.chance.below(followers)].step;
                let earlier = 1 + i64::try_from(self.chance.below(90)).unwrap_or(0);
                recipe.caps[follower] = self.bench.ends[follower] - earlier;
            }
            3 if followers > 0 => {
                let follower = self.bench.followers[step][self.chance.below(followers)].step;
                let window = self.chance.below(net.windows.len());
                recipe.caps[follower] = net.windows[window].end;
            }
            _ => {}
        }
        // It comes before all others from now on, and what it waits for too.
        let mut at = step;
        for _ in 0..=self.chance.below(3) {
            recipe.rank[at] += self.chance.share();
            let Some(follower) = self.bench.followers[at].first() else { break };
            at = follower.step;
        }
    }

    fn shake(&mut self, recipe: &mut Recipe) {
        let net = self.net;
        let step = self.chance.below(net.steps.len());
        match self.chance.below(4) {
            0 => recipe.caps[step] = net.horizon,
            1 => recipe.rank[step] += self.chance.share(),
            2 => recipe.rank[step] -= self.chance.share(),
            _ => {
                recipe.modes[step] = self.chance.below(net.steps[step].modes.len().max(1));
                recipe.holds[step] = self.chance.below(net.steps[step].holds.len().max(1));
                recipe.suit_holds(net, step, &mut self.chance);
            }
        }
    }
}
