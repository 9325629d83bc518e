//! How much of a thing is taken, unit by unit of time: asked and written far more often than anything else.

/// Units in one block. Most uses lie within two blocks, most waits span many.
const BLOCK: usize = 64;

/// A row of units in blocks; what a whole block takes is noted once.
#[derive(Debug, Clone)]
pub struct Taken {
    units: Vec<i32>,
    /// On top of every unit of the block.
    over: Vec<i32>,
    /// The most of any unit of the block, with what is over it.
    most: Vec<i32>,
    /// Blocks whose units were written.
    written: Vec<bool>,
}

impl Taken {
    pub fn new(length: usize) -> Self {
        let blocks = length.div_ceil(BLOCK);
        Self {
            units: vec![0; blocks * BLOCK],
            over: vec![0; blocks],
            most: vec![0; blocks],
            written: vec![false; blocks],
        }
    }

    pub fn clear(&mut self) {
        for (block, written) in self.written.iter_mut().enumerate() {
            if std::mem::take(written) {
                self.units[block * BLOCK..(block + 1) * BLOCK].fill(0);
            }
        }
        self.over.fill(0);
        self.most.fill(0);
    }

    /// Takes so much, never less than nothing, from one time up to, not with, another.
    pub fn take(&mut self, from: usize, to: usize, amount: i32) {
        let to = to.min(self.units.len());
        let mut at = from;
        while at < to {
            let block = at / BLOCK;
            let end = ((block + 1) * BLOCK).min(to);
            if end - at == BLOCK {
                self.over[block] += amount;
                self.most[block] += amount;
            } else {
                self.written[block] = true;
                let mut most = 0;
                for unit in &mut self.units[at..end] {
                    *unit += amount;
                    most = most.max(*unit);
                }
                self.most[block] = self.most[block].max(most + self.over[block]);
            }
            at = end;
        }
    }

    /// The last unit from one time up to, not with, another that takes more than the limit.
    pub fn last_above(&self, from: usize, to: usize, limit: i32) -> Option<usize> {
        let mut end = to.min(self.units.len());
        while from < end {
            let block = (end - 1) / BLOCK;
            let begin = (block * BLOCK).max(from);
            if self.most[block] > limit {
                let limit = limit - self.over[block];
                let found = self.units[begin..end].iter().rposition(|unit| *unit > limit);
                if let Some(place) = found {
                    return Some(begin + place);
                }
            }
            end = begin;
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::planner::chance::Chance;

    #[test]
    fn blocks_say_what_plain_units_say() {
        let mut chance = Chance::new(7);
        for length in [1, 63, 64, 65, 400] {
            let mut taken = Taken::new(length);
            for _ in 0..20 {
                let mut plain = vec![0; length];
                taken.clear();
                for _ in 0..30 {
                    let mut ends = [chance.below(length + 1), chance.below(length + 1)];
                    ends.sort_unstable();
                    let amount = i32::try_from(chance.below(4)).unwrap();
                    taken.take(ends[0], ends[1], amount);
                    plain[ends[0]..ends[1]].iter_mut().for_each(|unit| *unit += amount);
                    let (from, limit) =
                        (chance.below(length), i32::try_from(chance.below(9)).unwrap());
                    let last = plain[from..].iter().rposition(|unit| *unit > limit);
                    assert_eq!(taken.last_above(from, length, limit), last.map(|it| it + from));
                }
            }
        }
    }
}
