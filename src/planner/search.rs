//! The stages of a search: a first placing, the least first goal, then the shortest time held, each with its bound.

use crate::planner::anneal::{Best, Heat, anneal};
use crate::planner::engine::Patient;
use crate::planner::least::Seeker;
use crate::planner::model::{self, Model};
use crate::planner::net::{Net, Placed};
use crate::planner::place::{Bench, Recipe};
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

/// A question gets so much before the search looks elsewhere for a while.
const QUESTION: u64 = 250_000;

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
    // What is put aside for the time held.
    let for_first = work.left() - work.left() / 3;
    let mut account = work.part(for_first);
    let mut best: Option<Best> = None;
    let mut seed = 1;
    if let Some(placed) = known.filter(|placed| fits(net, placed)) {
        seeker.offer(net.cost(&placed).first, &placed);
    } else {
        seeker.begin(&mut account, QUESTION);
    }
    if let Some((_, placed)) = &seeker.least.best {
        best = Some(lesser(net, None, placed, better));
    }
    while !account.over() && !seeker.least.impossible {
        seeker.run(&mut account, QUESTION);
        if let Some((_, placed)) = &seeker.least.best {
            best = Some(lesser(net, best, placed, better));
        }
        if seeker.least.impossible || seeker.least.proved() {
            break;
        }
        if let Some(known) = best.take() {
            let heats = [Heat { share: 0.02, work: QUESTION * 2 }];
            let known = anneal(net, known, seeker.least.lower, &heats, seed, &mut account);
            seeker.offer(known.cost.first, &known.placed);
            best = Some(known);
            seed += 1;
        }
    }
    work.spend(account.spent());
    let (first_lower, impossible) = (seeker.least.lower, seeker.least.impossible);
    drop(seeker);
    let mut found = Found { best, first_lower, held_lower: 0, impossible };
    if let Some(best) = found.best.take() {
        found.held_lower = held_lower(net, &model);
        found.best = Some(shorten(net, best, &found, work, better));
    }
    found
}

/// Whether a placing from elsewhere keeps every limit of the net: it can be put back as it lies.
fn fits(net: &Net, placed: &Placed) -> bool {
    let recipe = Recipe::of(net, placed);
    let mut bench = Bench::new(net);
    bench.place(&recipe).is_ok() && bench.result(&recipe) == *placed
}

/// So many rounds in a row without anything shorter, and the search rests.
const IDLE: u32 = 4;

fn lesser(net: &Net, best: Option<Best>, placed: &Placed, better: &mut dyn FnMut(&Placed)) -> Best {
    let cost = net.cost(placed);
    match best {
        Some(best) if best.cost <= cost => best,
        _ => {
            better(placed);
            Best { placed: placed.clone(), cost }
        }
    }
}

/// Spends the rest on the time held, from hot to cold, again and again from the best.
fn shorten(
    net: &Net,
    mut best: Best,
    found: &Found,
    work: &mut Work,
    better: &mut dyn FnMut(&Placed),
) -> Best {
    let mut seed = 100;
    let mut share = 0.02;
    let whole = work.left();
    // Short at first, so that something good is there early.
    let mut round = 60_000;
    let mut idle = 0;
    while !work.over() && best.cost.held > found.held_lower && idle < IDLE {
        let heat = Heat { share, work: round };
        let before = best.cost;
        best = anneal(net, best, found.first_lower, &[heat], seed, work);
        idle += 1;
        if best.cost < before {
            better(&best.placed);
            idle = 0;
        }
        seed += 1;
        share = (share / 1.5).max(0.003);
        round = (round * 2).min((whole / 6).max(60_000));
    }
    best
}

/// The gaps cannot be shorter than the holds that are possible at all.
fn held_lower(net: &Net, model: &Model) -> i64 {
    let _ = model;
    let mut lower = 0;
    for (index, step) in net.steps.iter().enumerate().filter(|(_, step)| step.held) {
        let links = net.links.iter().filter(|link| link.waits && link.from == index);
        let least = |hold: &crate::planner::net::Hold| {
            links.clone().map(|link| link.least.max(hold.least)).max().unwrap_or(0)
        };
        lower += step.holds.iter().map(least).min().unwrap_or(0);
    }
    lower
}
