//! What a placing is made from: who goes first, how each step is done, how its food waits, and how late at most.

use crate::planner::chance::Chance;
use crate::planner::net::{Net, Placed};

/// What a placing is made from: who goes first, how, and how late at most.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    pub rank: Vec<f64>,
    pub modes: Vec<usize>,
    pub holds: Vec<usize>,
    /// No later end than this.
    pub caps: Vec<i64>,
}

impl Recipe {
    /// The recipe that puts everything back exactly where it lies.
    pub fn of(net: &Net, placed: &Placed) -> Self {
        let ends: Vec<i64> = (0..net.steps.len()).map(|step| net.end(placed, step)).collect();
        // Of two that end together the one that starts later is placed first: a step without length may follow another.
        #[allow(clippy::cast_precision_loss)]
        let rank = ends
            .iter()
            .zip(&placed.starts)
            .map(|(end, start)| *end as f64 + *start as f64 * 1e-6)
            .collect();
        Self { rank, modes: placed.modes.clone(), holds: placed.holds.clone(), caps: ends }
    }

    /// Chooses ways of waiting that suit how the step is done now.
    pub fn suit_holds(&mut self, net: &Net, step: usize, chance: &mut Chance) {
        for (other, holds) in &net.steps[step].modes[self.modes[step]].only_with {
            if !holds.contains(&self.holds[*other]) && !holds.is_empty() {
                self.holds[*other] = holds[chance.below(holds.len())];
            }
        }
    }
}
