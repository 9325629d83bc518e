//! Shortens the time held by many small changes, of which at first also bad ones are kept.

use crate::planner::chance::Chance;
use crate::planner::net::{Cost, Net, Placed};
use crate::planner::place::{Bench, decode_work};
use crate::planner::recipe::Recipe;
use crate::planner::work::Work;

/// The best placing so far.
#[derive(Debug, Clone)]
pub struct Best {
    pub placed: Placed,
    pub cost: Cost,
}

/// How a stretch of annealing goes: what a change for the worse may cost at first and at last, in units held.
#[derive(Debug, Clone, Copy)]
pub struct Heat {
    pub hot: f64,
    pub cold: f64,
    /// What a unit of the first goal counts against units held.
    pub per_first: f64,
    pub work: u64,
}

struct Annealing<'a> {
    net: &'a Net,
    bench: Bench<'a>,
    chance: Chance,
    steps_of: Vec<Vec<usize>>,
    /// Steps that wait, and that have more than one way to.
    choosing: Vec<usize>,
    many_ways: Vec<usize>,
    best: Best,
    decode: u64,
    lower: i64,
}

/// Improves the best placing with the work given; `lower` is what the first goal cannot fall below.
pub fn anneal(net: &Net, best: Best, lower: i64, heat: Heat, seed: u64, work: &mut Work) -> Best {
    let dishes = net.steps.iter().map(|step| step.dish + 1).max().unwrap_or(0);
    let mut steps_of = vec![Vec::new(); dishes];
    for (index, step) in net.steps.iter().enumerate() {
        steps_of[step.dish].push(index);
    }
    let choosing = (0..net.steps.len()).filter(|step| net.steps[*step].holds.len() > 1).collect();
    let many_ways = (0..net.steps.len()).filter(|step| net.steps[*step].modes.len() > 1).collect();
    let mut annealing = Annealing {
        net,
        bench: Bench::new(net),
        chance: Chance::new(seed),
        steps_of,
        choosing,
        many_ways,
        best,
        decode: decode_work(net),
        lower,
    };
    annealing.round(heat, work);
    annealing.best
}

impl Annealing<'_> {
    /// How bad a placing is. Among those held as long, the one with fewer minutes of hands leaves room for others.
    #[allow(clippy::cast_precision_loss)]
    fn energy(&self, cost: Cost, recipe: &Recipe, per_first: f64) -> f64 {
        const PER_HANDS_MINUTE: f64 = 4.0;
        let modes = self.net.steps.iter().zip(&recipe.modes);
        let hands: i64 = modes.map(|(step, mode)| step.modes[*mode].hands_minutes).sum();
        (cost.first - self.lower).max(0) as f64 * per_first
            + cost.held as f64
            + cost.blocks as f64 * 0.01
            + hands as f64 * PER_HANDS_MINUTE
    }

    #[allow(clippy::cast_precision_loss)]
    fn round(&mut self, heat: Heat, work: &mut Work) {
        let mut account = work.part(heat.work);
        let whole = account.left().max(1) as f64;
        let mut now = Recipe::of(self.net, &self.best.placed);
        if self.bench.place(&now).is_err() {
            debug_assert!(false, "a placing can be put back as it lies");
            return;
        }
        self.loosen(&mut now);
        let mut energy = if self.bench.place(&now).is_ok() {
            self.energy(self.cost(&now), &now, heat.per_first)
        } else {
            now = Recipe::of(self.net, &self.best.placed);
            self.energy(self.best.cost, &now, heat.per_first)
        };
        let mut next = now.clone();
        while !account.over() {
            account.spend(self.decode);
            let gone = 1.0 - account.left() as f64 / whole;
            let warm = heat.hot * (heat.cold / heat.hot).powf(gone);
            next.clone_from(&now);
            for _ in 0..=self.chance.below(3) {
                self.change(&mut next);
            }
            if self.bench.place(&next).is_err() {
                continue;
            }
            let cost = self.cost(&next);
            let new = self.energy(cost, &next, heat.per_first);
            if cost < self.best.cost {
                self.best = Best { placed: self.bench.result(&next), cost };
            }
            if new <= energy || self.chance.share() < ((energy - new) / warm).exp() {
                std::mem::swap(&mut now, &mut next);
                energy = new;
            }
        }
        work.spend(account.spent());
    }

    /// Caps at the end of the window instead of at the very minute: the same placing, free to move.
    fn loosen(&mut self, recipe: &mut Recipe) {
        let (starts, ends) = (self.bench.starts.clone(), self.bench.ends.clone());
        for (step, cap) in recipe.caps.iter_mut().enumerate() {
            let window = self.net.window_of(starts[step], ends[step]);
            *cap = window.map_or(self.net.horizon, |window| self.net.windows[window].end);
        }
    }

    fn cost(&self, recipe: &Recipe) -> Cost {
        self.net.cost(&self.bench.result(recipe))
    }

    fn window_at(&self, cap: i64) -> usize {
        self.net.windows.iter().rposition(|window| window.start < cap).unwrap_or(0)
    }

    fn near_window(&mut self, now: i64) -> i64 {
        let all = self.net.windows.len();
        let here = self.window_at(now);
        let window = match self.chance.below(4) {
            0 => all - 1,
            1 => here.saturating_sub(1),
            2 => (here + 1).min(all - 1),
            _ => self.chance.below(all),
        };
        self.net.windows[window].end
    }

    fn change(&mut self, recipe: &mut Recipe) {
        let count = self.net.steps.len();
        let step = self.chance.below(count);
        match self.chance.below(10) {
            0 => {
                let other = self.chance.below(count);
                recipe.rank.swap(step, other);
            }
            1 => {
                let other = self.chance.below(count);
                recipe.rank[step] = recipe.rank[other] + self.chance.share() - 0.5;
            }
            2 if !self.many_ways.is_empty() => {
                let step = self.many_ways[self.chance.below(self.many_ways.len())];
                recipe.modes[step] = self.chance.below(self.net.steps[step].modes.len());
                recipe.suit_holds(self.net, step, &mut self.chance);
            }
            3 if !self.choosing.is_empty() => {
                let step = self.choosing[self.chance.below(self.choosing.len())];
                recipe.holds[step] = self.chance.below(self.net.steps[step].holds.len());
                self.suit_modes(recipe, step);
            }
            4 => recipe.caps[step] = self.near_window(recipe.caps[step]),
            5 => {
                recipe.caps[step] =
                    self.bench.ends[step] - i64::try_from(self.chance.below(6)).unwrap_or(0);
            }
            6 => recipe.caps[step] = self.net.horizon,
            7 | 8 => self.pull(recipe, step),
            _ => {
                let dish = self.net.steps[step].dish;
                let together = self.chance.below(2) == 0;
                let cap = self.near_window(recipe.caps[step]);
                for index in 0..self.steps_of[dish].len() {
                    let other = self.steps_of[dish][index];
                    if self.chance.below(3) > 0 {
                        recipe.caps[other] =
                            if together { cap } else { self.near_window(recipe.caps[other]) };
                    }
                }
            }
        }
    }

    /// The step is put down before the others of a later window, and who has no room there goes earlier.
    fn pull(&mut self, recipe: &mut Recipe, step: usize) {
        let here = self.window_at(self.bench.ends[step]);
        let later = here + 1 + self.chance.below(2);
        let Some(window) = self.net.windows.get(later) else { return };
        let start = window.start;
        recipe.caps[step] = window.end;
        let count = self.net.steps.len();
        for _ in 0..12 {
            let other = self.chance.below(count);
            if self.bench.starts[other] >= start && self.bench.ends[other] <= recipe.caps[step] {
                recipe.rank[step] = recipe.rank[other] + self.chance.share();
                break;
            }
        }
    }

    /// Ways of doing what follows that suit how the food waits now.
    fn suit_modes(&mut self, recipe: &mut Recipe, step: usize) {
        let net = self.net;
        for link in net.links.iter().filter(|link| link.from == step) {
            let suits = |mode: usize| {
                net.steps[link.to].modes[mode]
                    .only_with
                    .iter()
                    .all(|(other, holds)| holds.contains(&recipe.holds[*other]))
            };
            if !suits(recipe.modes[link.to]) {
                let fit: Vec<usize> =
                    (0..net.steps[link.to].modes.len()).filter(|mode| suits(*mode)).collect();
                if !fit.is_empty() {
                    recipe.modes[link.to] = fit[self.chance.below(fit.len())];
                }
            }
        }
    }
}
