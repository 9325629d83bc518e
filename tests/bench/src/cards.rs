//! How long it takes to read a card of fifteen steps, and a thousand ingredient lines. The goals are
//! under 200 microseconds and under 10 milliseconds.

use std::hint::black_box;
use std::time::Instant;

use crate::goal::Goal::{Below, Open};
use crate::goal::line;
use dovetray::domain::card;
use dovetray::domain::larder::Larder;
use dovetray::domain::offer::offers;
use dovetray::domain::reading::read_line;

const LOAF: &str = include_str!("../../../src/cli/demo/cards/a-two-colour-fruit-ice-loaf.txt");
const BARLEY: &str = include_str!("../../../src/cli/demo/cards/b-barley-with-mushrooms.txt");
const ROUNDS: usize = 20;
const READINGS: u32 = 100;

/// The ten steps of the ice loaf and five of the barley, with what goes in.
fn fifteen_steps() -> String {
    let mut text = LOAF.replace("finish:", "part: third layer");
    text.push_str("finish:\n");
    let steps = BARLEY.lines().skip_while(|line| !line.starts_with("1."));
    for line in steps.take_while(|line| !line.starts_with("6.")) {
        text.push_str(line);
        text.push('\n');
    }
    text
}

/// Prints the best of several rounds, in microseconds.
#[expect(clippy::disallowed_methods, reason = "a benchmark is about time")]
pub fn report() {
    let text = fifteen_steps();
    let larder = Larder::shipped();
    let reading = card::read(&text, &larder);
    let steps = reading.card.steps().count();
    let best = |work: &dyn Fn()| {
        let round = || {
            let begun = Instant::now();
            (0..READINGS).for_each(|_| work());
            begun.elapsed().as_secs_f64() * 1e6 / f64::from(READINGS)
        };
        (0..ROUNDS).map(|_| round()).fold(f64::INFINITY, f64::min)
    };
    let read = best(&|| drop(black_box(card::read(black_box(&text), &larder))));
    let offered = best(&|| drop(black_box(offers(black_box(&text), &reading))));
    println!();
    line(&format!("reading a card of {steps} steps, us"), read, Below(200.0));
    line("its offered notes, us", offered, Open);
}

/// Prints how long a thousand ingredient lines take, each looked up in the larder.
#[expect(clippy::disallowed_methods, reason = "a benchmark is about time")]
pub fn report_lines() {
    let table = include_str!("../../lines/by-hand.tsv");
    let lines: Vec<&str> = table.lines().skip(1).filter_map(|row| row.split('\t').next()).collect();
    let lines: Vec<&str> = lines.iter().copied().cycle().take(1_000).collect();
    let larder = Larder::shipped();
    let round = || {
        let begun = Instant::now();
        for line in &lines {
            drop(black_box(read_line(black_box(line), &larder)));
        }
        begun.elapsed().as_secs_f64() * 1e3
    };
    let best = (0..ROUNDS).map(|_| round()).fold(f64::INFINITY, f64::min);
    line("reading 1000 ingredient lines, ms", best, Below(10.0));
}
