//! The stages of a search: a first placing, the least first goal, then the shortest time held, each with its bound.

use crate::planner::anneal::{Best, Heat, anneal};
use crate::planner::begin;
use crate::planner::engine::{Engine, Patient};
use crate::planner::least::Seeker;
use crate::planner::model::{self, Model};
use crate::planner::net::{Hold, Net, Placed};
use crate::planner::place::Bench;
use crate::planner::recipe::Recipe;
use crate::planner::work::Work;

/// What a search comes to.
#[derive(Debug, Clone, Default)]
pub struct Found {
    pub best: Option<Best>,
    /// No placing has less of the first goal.
    pub first_lower: i64,
    /// No placing with the least first goal is held shorter.
    pub held_lower: i64,
    /// It is certain that nothing fits.
    pub impossible: bool,
}

impl Found {
    pub fn first_proved(&self) -> bool {
        self.best.as_ref().is_some_and(|best| best.cost.first <= self.first_lower)
    }
}

/// A short question: what contradicts itself is seen in less.
const GLANCE: u64 = 20_000;
/// A question gets so much before the search looks elsewhere for a while.
const QUESTION: u64 = 250_000;

/// A search under way: what is best so far, and who hears of it.
struct Search<'a> {
    net: &'a Net,
    best: Option<Best>,
    seed: u64,
    better: &'a mut dyn FnMut(&Placed),
}

/// Looks for the best placing; `better` hears of each that is better than all before.
pub fn search(
    net: &Net,
    known: Option<Placed>,
    work: &mut Work,
    better: &mut dyn FnMut(&Placed),
) -> Found {
    let model = model::write(net);
    let read = |values: &[i64]| {
        let placed = model.placed(values);
        (net.cost(&placed).first, placed)
    };
    let mut seeker = Seeker::new(Patient::new(&model.flat), &model.costs, &read);
    let mut search = Search { net, best: None, seed: 1, better };
    // What is put aside for the time held.
    let mut account = work.part(work.left() - work.left() / 3);
    if let Some(placed) = known.filter(|placed| fits(net, placed)) {
        seeker.offer(net.cost(&placed).first, &placed);
    }
    search.begin(&mut seeker, &mut account);
    search.lessen(&mut seeker, &model, &mut account);
    work.spend(account.spent());
    let (first_lower, impossible) = (seeker.least.lower, seeker.least.impossible);
    let held_lower = held_lower(net);
    search.shorten(first_lower, held_lower, work);
    Found { best: search.best, first_lower, held_lower, impossible }
}

impl Search<'_> {
    fn offer(&mut self, placed: &Placed) {
        let cost = self.net.cost(placed);
        if self.best.as_ref().is_none_or(|best| cost < best.cost) {
            (self.better)(placed);
            self.best = Some(Best { placed: placed.clone(), cost });
        }
    }

    /// Improves the best by annealing.
    fn anneal(&mut self, lower: i64, heat: Heat, work: &mut Work) -> bool {
        let Some(best) = self.best.clone() else { return false };
        let before = best.cost;
        let after = anneal(self.net, best, lower, heat, self.seed, work);
        self.seed += 1;
        self.offer(&after.placed);
        after.cost < before
    }

    /// A first placing, or the certainty that there is none. The solver sees soon what contradicts itself;
    /// putting steps down again and again finds soon what is only crowded.
    fn begin<E: Engine>(&mut self, seeker: &mut Seeker<'_, E>, work: &mut Work) {
        let mut question = GLANCE;
        while seeker.least.best.is_none() && !seeker.least.impossible && !work.over() {
            seeker.begin(work, question);
            question = QUESTION;
            if seeker.least.best.is_some() || seeker.least.impossible {
                break;
            }
            let mut part = work.part(QUESTION);
            if let Some(placed) = begin::begin(self.net, self.seed, &mut part) {
                seeker.offer(self.net.cost(&placed).first, &placed);
            }
            self.seed += 1;
            work.spend(part.spent());
        }
        if let Some((_, placed)) = &seeker.least.best {
            self.offer(placed);
        }
    }

    /// The least first goal: annealing finds it from above, the solver proves it from below, in turns.
    fn lessen<E: Engine>(&mut self, seeker: &mut Seeker<'_, E>, model: &Model, work: &mut Work) {
        const HOT: f64 = 6_000.0;
        let (mut hot, mut round) = (HOT, QUESTION / 4);
        while !work.over() && !seeker.least.impossible && !seeker.least.proved() {
            let heat = Heat { hot, cold: 20.0, per_first: 500.0, work: round };
            self.anneal(seeker.least.lower, heat, work);
            let Some(best) = &self.best else { break };
            seeker.offer(best.cost.first, &best.placed);
            seeker.engine.resemble(&model.values(self.net, &best.placed), work);
            seeker.run(work, round);
            if let Some((_, placed)) = &seeker.least.best {
                self.offer(placed);
            }
            round = (round * 2).min(QUESTION * 4);
            hot = if hot < HOT / 4.0 { HOT } else { hot / 1.5 };
        }
    }

    /// Spends the rest on the time held, from hot to cold, again and again from the best.
    fn shorten(&mut self, first_lower: i64, held_lower: i64, work: &mut Work) {
        const HOT: f64 = 1_000.0;
        const COLD: f64 = 60.0;
        // So many rounds in a row without anything shorter, and the search rests.
        const IDLE: u32 = 8;
        let whole = work.left();
        // Short at first, so that something good is there early.
        let (mut hot, mut round, mut idle) = (HOT, 60_000, 0);
        while !work.over() && idle < IDLE {
            if self.best.as_ref().is_none_or(|best| best.cost.held <= held_lower) {
                break;
            }
            let heat = Heat { hot, cold: 1.0, per_first: hot * 2.0, work: round };
            idle = if self.anneal(first_lower, heat, work) { 0 } else { idle + 1 };
            hot = if hot < COLD { HOT } else { hot / 1.5 };
            round = (round * 2).min((whole / 6).max(60_000));
        }
    }
}

/// Whether a placing from elsewhere keeps every limit of the net: it can be put back as it lies.
fn fits(net: &Net, placed: &Placed) -> bool {
    let recipe = Recipe::of(net, placed);
    let mut bench = Bench::new(net);
    bench.place(&recipe).is_ok() && bench.result(&recipe) == *placed
}

/// The gaps cannot be shorter than the holds that are possible at all.
fn held_lower(net: &Net) -> i64 {
    let mut lower = 0;
    for (index, step) in net.steps.iter().enumerate().filter(|(_, step)| step.held) {
        let links = net.links.iter().filter(|link| link.waits && link.from == index);
        let least =
            |hold: &Hold| links.clone().map(|link| link.least.max(hold.least)).max().unwrap_or(0);
        lower += step.holds.iter().map(least).min().unwrap_or(0);
    }
    lower
}
