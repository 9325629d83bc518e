//! The least sum of costs, from both sides: what cannot be avoided is proved core by core, what is found bounds it from above.

use std::collections::BTreeMap;

use crate::planner::engine::{Answer, Engine};
use crate::planner::flat::Lit;
use crate::planner::net::Placed;
use crate::planner::work::Work;

/// How low the sum is known to go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Least {
    pub lower: i64,
    /// The best placing found and its sum.
    pub best: Option<(i64, Placed)>,
    /// Nothing at all fits the model.
    pub impossible: bool,
}

impl Least {
    pub fn proved(&self) -> bool {
        self.best.as_ref().is_some_and(|(sum, _)| *sum <= self.lower)
    }
}

/// At least two, three, ... of the things of a core cost: the next such switch of a counted core.
#[derive(Debug, Clone, Copy)]
struct Next {
    counter: usize,
    place: usize,
}

/// A search that can be taken up again where it was left.
pub struct Seeker<'a, E> {
    pub engine: E,
    /// What values mean and what they really cost: a switch may be on without need.
    read: &'a dyn Fn(&[i64]) -> (i64, Placed),
    /// What is still to be paid for each cost that is not yet in a core.
    open: BTreeMap<Key, i64>,
    level: i64,
    counters: Vec<Vec<Lit>>,
    next: BTreeMap<Key, Next>,
    pub least: Least,
}

/// Costs in a fixed order, the same in every run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Key(usize, bool);

impl Key {
    fn of(lit: Lit) -> Self {
        Self(lit.var(), matches!(lit, Lit::Yes(_)))
    }

    fn lit(self) -> Lit {
        if self.1 { Lit::Yes(self.0) } else { Lit::No(self.0) }
    }
}

const TRIM: u64 = 8_000;

impl<'a, E: Engine> Seeker<'a, E> {
    pub fn new(engine: E, costs: &[(Lit, i64)], read: &'a dyn Fn(&[i64]) -> (i64, Placed)) -> Self {
        let mut open = BTreeMap::new();
        for &(lit, cost) in costs {
            *open.entry(Key::of(lit)).or_insert(0) += cost;
        }
        let level = open.values().copied().max().unwrap_or(0);
        let least = Least { lower: 0, best: None, impossible: false };
        Self { engine, read, open, level, counters: Vec::new(), next: BTreeMap::new(), least }
    }

    /// A placing found elsewhere.
    pub fn offer(&mut self, sum: i64, placed: &Placed) {
        if self.least.best.as_ref().is_none_or(|(best, _)| sum < *best) {
            self.least.best = Some((sum, placed.clone()));
        }
    }

    /// Any placing at all.
    pub fn begin(&mut self, work: &mut Work, question: u64) {
        match self.engine.ask(&[], work, question) {
            Answer::Found(values) => self.found(&values),
            Answer::Impossible(_) => self.least.impossible = true,
            Answer::Stopped => {}
        }
    }

    /// Seeks the least sum of the costs of the switches that are on, one question at most so much work.
    pub fn run(&mut self, work: &mut Work, question: u64) {
        while !work.over() && !self.least.proved() && !self.least.impossible {
            self.harden();
            let level = self.level;
            let mut assuming: Vec<(Key, i64)> = self
                .open
                .iter()
                .filter(|(_, cost)| **cost >= level)
                .map(|(key, cost)| (*key, *cost))
                .collect();
            assuming.sort_by_key(|(key, cost)| (-cost, *key));
            let lits: Vec<Lit> = assuming.iter().map(|(key, _)| key.lit().turned()).collect();
            match self.engine.ask(&lits, work, question) {
                Answer::Found(values) => {
                    self.found(&values);
                    let Some(lower) =
                        self.open.values().copied().filter(|cost| *cost < level).max()
                    else {
                        // Nothing that is left to pay was needed.
                        if let Some((best, _)) = &self.least.best {
                            self.least.lower = *best;
                        }
                        break;
                    };
                    // About halving, so that heavy costs are settled first.
                    self.level = self
                        .open
                        .values()
                        .copied()
                        .filter(|cost| *cost <= lower && *cost * 2 > lower)
                        .min()
                        .unwrap_or(lower);
                }
                Answer::Impossible(core) if core.is_empty() => {
                    self.nothing_left();
                    break;
                }
                Answer::Impossible(core) => {
                    let core = self.trim(core, work);
                    if core.is_empty() {
                        self.nothing_left();
                        break;
                    }
                    self.relax(&core);
                }
                Answer::Stopped => break,
            }
        }
    }

    /// Impossible without any assumption: only what is no better was shut out, or there is nothing.
    fn nothing_left(&mut self) {
        match &self.least.best {
            Some((sum, _)) => self.least.lower = *sum,
            None => self.least.impossible = true,
        }
    }

    fn found(&mut self, values: &[i64]) {
        let (sum, placed) = (self.read)(values);
        self.offer(sum, &placed);
    }

    /// What costs more than the room that is left can never be paid.
    fn harden(&mut self) {
        let Some((best, _)) = self.least.best else { return };
        let room = best - self.least.lower;
        let over: Vec<Key> =
            self.open.iter().filter(|(_, cost)| **cost >= room).map(|(key, _)| *key).collect();
        for key in over {
            self.engine.learn(&[key.lit().turned()]);
            self.open.remove(&key);
        }
    }

    /// A smaller core, by leaving assumptions out one by one.
    fn trim(&mut self, mut core: Vec<Lit>, work: &mut Work) -> Vec<Lit> {
        let mut index = 0;
        while index < core.len() && core.len() > 1 && !work.over() {
            let mut fewer = core.clone();
            fewer.remove(index);
            match self.engine.ask(&fewer, work, TRIM) {
                Answer::Impossible(smaller) => {
                    core = fewer.into_iter().filter(|lit| smaller.contains(lit)).collect();
                }
                Answer::Found(values) => {
                    self.found(&values);
                    index += 1;
                }
                Answer::Stopped => index += 1,
            }
            if core.is_empty() {
                break;
            }
        }
        core
    }

    /// At least one thing of the core costs: that much is certain, and a counter watches for more of them.
    fn relax(&mut self, core: &[Lit]) {
        let keys: Vec<Key> = core.iter().map(|lit| Key::of(lit.turned())).collect();
        let least = keys.iter().filter_map(|key| self.open.get(key)).copied().min().unwrap_or(0);
        self.least.lower += least;
        for key in &keys {
            if let Some(cost) = self.open.get_mut(key) {
                *cost -= least;
                if *cost == 0 {
                    self.open.remove(key);
                }
            }
            if let Some(next) = self.next.remove(key) {
                self.watch(next.counter, next.place + 1, least);
                if self.open.contains_key(key) {
                    self.next.insert(*key, next);
                }
            }
        }
        self.engine.learn(&core.iter().map(|lit| lit.turned()).collect::<Vec<_>>());
        if core.len() > 1 {
            let inputs: Vec<Lit> = core.iter().map(|lit| lit.turned()).collect();
            let outputs = self.count(&inputs);
            self.counters.push(outputs);
            self.watch(self.counters.len() - 1, 1, least);
        }
    }

    /// Opens the switch "more than `place` of them" of a counter at a cost.
    fn watch(&mut self, counter: usize, place: usize, cost: i64) {
        if let Some(&lit) = self.counters[counter].get(place) {
            let key = Key::of(lit);
            *self.open.entry(key).or_insert(0) += cost;
            self.next.insert(key, Next { counter, place });
        }
    }

    /// Switches "at least one, two, ... of these", forced on when so many are.
    fn count(&mut self, inputs: &[Lit]) -> Vec<Lit> {
        if inputs.len() == 1 {
            return inputs.to_vec();
        }
        let (left, right) = inputs.split_at(inputs.len() / 2);
        let (left, right) = (self.count(left), self.count(right));
        let outputs: Vec<Lit> = inputs.iter().map(|_| Lit::Yes(self.engine.switch())).collect();
        for from_left in 0..=left.len() {
            for from_right in 0..=right.len() {
                if from_left + from_right == 0 {
                    continue;
                }
                let mut clause = vec![outputs[from_left + from_right - 1]];
                clause.extend(from_left.checked_sub(1).map(|at| left[at].turned()));
                clause.extend(from_right.checked_sub(1).map(|at| right[at].turned()));
                self.engine.learn(&clause);
            }
        }
        outputs
    }
}
