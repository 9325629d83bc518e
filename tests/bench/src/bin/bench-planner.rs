//! Measures the search on menus it makes up itself from a seed; with a folder it writes the models for the referee.
//!
//! `bench-planner [SEED] [FOLDER]`: small, medium and large menus from the seed on.

#![allow(clippy::unwrap_used, reason = "its figures are its own, and small")]
#![allow(clippy::disallowed_methods, reason = "a benchmark reads the clock")]

use std::fmt::Write as _;
use std::time::Instant;

use dovetray::domain::schedule::plan::{Effort, NoCancel};
use dovetray::planner::chance::Chance;
use dovetray::planner::flat::{Length, Lit};
use dovetray::planner::model::{self, Model};
use dovetray::planner::net::{Hold, Link, Mode, Net, Step, Use, Window};
use dovetray::planner::search::search;
use dovetray::planner::work::{self, Work};

const DAY: i64 = 1_440;
const HANDS: usize = 0;
const SHELVES: usize = 1;
const MIXER: usize = 2;
const FRIDGE: usize = 3;
const FREEZER: usize = 4;

/// Name, dishes, evenings before the serving day, cooks.
const SIZES: [(&str, usize, i64, i64); 3] =
    [("small", 5, 3, 1), ("medium", 8, 5, 1), ("large", 14, 7, 2)];

struct Maker {
    net: Net,
    chance: Chance,
    table: usize,
}

impl Maker {
    fn between(&mut self, least: i64, most: i64) -> i64 {
        least
            + i64::try_from(self.chance.below(usize::try_from(most - least + 1).unwrap())).unwrap()
    }

    fn step(&mut self, dish: usize, length: i64, hands: bool, thing: Option<usize>) -> usize {
        let mut mode = Mode { length, ..Mode::default() };
        let whole = |thing| Use { thing, from: 0, to: length, amount: 1 };
        if hands {
            mode.hands_minutes = length;
            mode.uses.push(whole(HANDS));
        }
        mode.uses.extend(thing.map(whole));
        let hold = Hold { most: 30, ..Hold::default() };
        let step = Step { dish, modes: vec![mode], holds: vec![hold], ..Step::any_time() };
        self.net.steps.push(step);
        self.net.steps.len() - 1
    }

    fn follow(&mut self, from: usize, to: usize, holds: Vec<Hold>) {
        self.net.steps[from].held = holds.len() > 1;
        self.net.steps[from].holds = holds;
        let link = Link { from, to, least: 0, most: self.net.horizon, waits: true, over: false };
        self.net.links.push(link);
    }

    fn cold(&mut self, days: i64) -> Vec<Hold> {
        let litres = self.between(1, 3);
        let counter = Hold { most: 60, ..Hold::default() };
        let fridge =
            Hold { most: days * DAY, until_last: vec![(FRIDGE, litres)], ..Hold::default() };
        let freezer = Hold {
            least: 840,
            most: 6 * DAY,
            until_first: vec![(FREEZER, litres, 720)],
            near_use: vec![(FRIDGE, litres, 720)],
            ..Hold::default()
        };
        if self.chance.below(3) == 0 {
            vec![counter, fridge, freezer]
        } else {
            vec![counter, fridge]
        }
    }

    fn dish(&mut self, dish: usize) {
        let (chop, cook) = (self.between(8, 25), self.between(20, 70));
        let baked = dish.is_multiple_of(3);
        let machine = (self.chance.below(3) == 0).then_some(MIXER);
        let first = self.step(dish, chop, true, machine);
        let length = self.between(5, 15);
        let second = self.step(dish, length, true, None);
        let third = self.step(dish, cook, false, baked.then_some(SHELVES));
        let length = self.between(3, 8);
        let last = self.step(dish, length, true, None);
        let days = self.between(1, 3);
        let holds = self.cold(days);
        self.follow(first, second, holds);
        let straight = vec![Hold { most: 10, ..Hold::default() }];
        self.follow(second, third, straight);
        let hot = vec![Hold { most: 30, ..Hold::default() }];
        let after = if dish.is_multiple_of(6) { hot } else { self.cold(2) };
        self.follow(third, last, after);
        self.follow(last, self.table, vec![Hold { most: 60, ..Hold::default() }]);
        for _ in 0..self.chance.below(3) {
            let length = self.between(4, 15);
            let extra = self.step(dish, length, true, None);
            let days = self.between(1, 4);
            let holds = self.cold(days);
            self.follow(extra, if dish.is_multiple_of(2) { second } else { last }, holds);
        }
    }
}

fn menu((name, dishes, days, cooks): (&str, usize, i64, i64), seed: u64) -> Net {
    let serving = days * DAY + 19 * 60;
    let mut windows: Vec<Window> = (0..days)
        .map(|day| Window { start: day * DAY + 1_080, end: day * DAY + 1_320, ..Window::default() })
        .collect();
    let start = days * DAY + 600;
    windows.push(Window { start, end: serving, serving: true, ..Window::default() });
    let litres = i64::try_from(dishes).unwrap() * 3;
    let net = Net {
        unit_minutes: 1,
        horizon: serving,
        windows,
        things: vec![cooks, 2, 1, litres, litres / 2],
        ..Net::default()
    };
    let mut maker = Maker { net, chance: Chance::new(seed * 31 + name.len() as u64), table: 0 };
    let table = Step {
        dish: dishes,
        anywhere: true,
        earliest_end: serving,
        latest_end: serving,
        earliest_start: serving,
        modes: vec![Mode::default()],
        holds: vec![Hold::default()],
        ..Step::any_time()
    };
    maker.net.steps.push(table);
    for dish in 0..dishes {
        maker.dish(dish);
    }
    maker.net
}

fn main() {
    let mut words = std::env::args().skip(1);
    let seed: u64 = words.next().and_then(|word| word.parse().ok()).unwrap_or(1);
    let folder = words.next();
    println!("menu        effort   first     all  hands (least)    held (least), minutes");
    for size in SIZES {
        for seed in seed..seed + 3 {
            let net = menu(size, seed);
            if let Some(folder) = &folder {
                let path = format!("{folder}/{}-{seed}.json", size.0);
                std::fs::write(path, json(&model::write(&net))).expect("the folder can be written");
            }
            for effort in [Effort::Small, Effort::Normal] {
                one(&format!("{}-{seed}", size.0), &net, effort);
            }
        }
    }
}

fn one(name: &str, net: &Net, effort: Effort) {
    let begun = Instant::now();
    let mut first = None;
    let mut account = Work::new(work::of(effort), &NoCancel);
    let found = search(net, None, &mut account, &mut |_| {
        first.get_or_insert_with(|| begun.elapsed());
    });
    let all = begun.elapsed().as_secs_f64();
    let effort = effort.word();
    match (&found.best, first) {
        (Some(best), Some(first)) => {
            let (cost, first) = (best.cost, first.as_secs_f64());
            let (hands, held) = (found.first_lower, found.held_lower);
            println!(
                "{name:<11} {effort:<7} {first:>5.3} s {all:>5.2} s {:>6} ({hands:>4}) {:>8} ({held})",
                cost.first, cost.held
            );
        }
        _ if found.impossible => println!("{name:<11} {effort:<7} nothing fits, {all:.2} s"),
        _ => println!("{name:<11} {effort:<7} no answer, {all:.2} s"),
    }
}

/// The model as the referee reads it: a switch is its number from 1 on, off when negative.
fn json(model: &Model) -> String {
    let lit = |lit: Lit| match lit {
        Lit::Yes(var) => format!("{}", var + 1),
        Lit::No(var) => format!("-{}", var + 1),
        Lit::AtMost(..) => unreachable!("models are written with switches only"),
    };
    let list = |items: Vec<String>| format!("[{}]", items.join(","));
    let terms = |terms: &[(usize, i64)]| {
        list(terms.iter().map(|(var, times)| format!("[{var},{times}]")).collect())
    };
    let lits = |lits: &[Lit]| list(lits.iter().map(|one| lit(*one)).collect());
    let flat = &model.flat;
    let vars = flat
        .vars
        .iter()
        .map(|ranges| list(ranges.iter().map(|(low, high)| format!("[{low},{high}]")).collect()));
    let sums = flat.sums.iter().map(|sum| {
        let (left, when) = (terms(&sum.terms), lits(&sum.when));
        format!("{{\"terms\":{left},\"most\":{},\"when\":{when}}}", sum.most)
    });
    let piles = flat.piles.iter().map(|pile| {
        let tasks = pile.tasks.iter().map(|task| {
            let (length, of) = match task.length {
                Length::Fixed(length) => (length.to_string(), "null".to_owned()),
                Length::Of(var) => ("null".to_owned(), var.to_string()),
            };
            let when = task.when.map_or("null".to_owned(), lit);
            let (start, shift, amount) = (task.start, task.shift, task.amount);
            format!(
                "{{\"start\":{start},\"shift\":{shift},\"length\":{length},\"of\":{of},\"when\":{when},\"amount\":{amount}}}"
            )
        });
        format!("{{\"capacity\":{},\"tasks\":{}}}", pile.capacity, list(tasks.collect()))
    });
    let mut all = String::new();
    write!(all, "{{\"vars\":{},", list(vars.collect())).expect("a string takes all");
    write!(all, "\"sums\":{},", list(sums.collect())).expect("a string takes all");
    let clauses = flat.clauses.iter().map(|clause| lits(clause));
    write!(all, "\"clauses\":{},", list(clauses.collect())).expect("a string takes all");
    write!(all, "\"piles\":{},", list(piles.collect())).expect("a string takes all");
    let costs = model.costs.iter().map(|(one, cost)| format!("[{},{cost}]", lit(*one)));
    write!(all, "\"costs\":{},", list(costs.collect())).expect("a string takes all");
    write!(all, "\"held\":{}}}", model.held).expect("a string takes all");
    all
}
