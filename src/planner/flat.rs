//! The model every solver reads: whole-number variables, sums that may depend on switches, clauses, and piles of tasks.

/// A statement about one variable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Lit {
    Yes(usize),
    No(usize),
    AtMost(usize, i64),
}

impl Lit {
    /// The opposite; only of switches, which is all that is ever turned round.
    pub fn turned(self) -> Self {
        match self {
            Self::Yes(var) => Self::No(var),
            Self::No(var) => Self::Yes(var),
            Self::AtMost(..) => unreachable!("a bound is never turned round"),
        }
    }

    pub fn var(self) -> usize {
        match self {
            Self::Yes(var) | Self::No(var) | Self::AtMost(var, _) => var,
        }
    }

    pub fn holds(self, values: &[i64]) -> bool {
        match self {
            Self::Yes(var) => values[var] == 1,
            Self::No(var) => values[var] == 0,
            Self::AtMost(var, most) => values[var] <= most,
        }
    }
}

/// The terms together are at most `most`, when all switches of `when` are on.
#[derive(Debug, Clone)]
pub struct Sum {
    pub terms: Vec<(usize, i64)>,
    pub most: i64,
    pub when: Vec<Lit>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Length {
    Fixed(i64),
    Of(usize),
}

#[derive(Debug, Clone, Copy)]
pub struct Task {
    pub start: usize,
    pub shift: i64,
    pub length: Length,
    pub when: Option<Lit>,
    pub amount: i64,
}

/// Tasks that share one thing.
#[derive(Debug, Clone, Default)]
pub struct Pile {
    pub capacity: i64,
    pub tasks: Vec<Task>,
}

#[derive(Debug, Clone, Default)]
pub struct Flat {
    /// Each variable's ranges, in order.
    pub vars: Vec<Vec<(i64, i64)>>,
    pub sums: Vec<Sum>,
    pub clauses: Vec<Vec<Lit>>,
    pub piles: Vec<Pile>,
}

impl Flat {
    pub fn var(&mut self, ranges: Vec<(i64, i64)>) -> usize {
        self.vars.push(ranges);
        self.vars.len() - 1
    }

    pub fn switch(&mut self) -> usize {
        self.var(vec![(0, 1)])
    }

    pub fn sum(&mut self, terms: Vec<(usize, i64)>, most: i64) {
        self.sums.push(Sum { terms, most, when: Vec::new() });
    }

    pub fn sum_when(&mut self, when: Vec<Lit>, terms: Vec<(usize, i64)>, most: i64) {
        self.sums.push(Sum { terms, most, when });
    }

    /// One and only one of the switches.
    pub fn one_of(&mut self, switches: &[usize]) {
        match switches {
            [] => self.clauses.push(Vec::new()),
            [only] => self.vars[*only] = vec![(1, 1)],
            _ => {
                self.clauses.push(switches.iter().map(|&var| Lit::Yes(var)).collect());
                self.sum(switches.iter().map(|&var| (var, 1)).collect(), 1);
            }
        }
    }

    /// What the terms of a sum are together at least.
    pub fn least(&self, sum: &Sum) -> i64 {
        let term = |&(var, times): &(usize, i64)| {
            let ends = self.vars[var].iter().flat_map(|&(low, high)| [low * times, high * times]);
            ends.min().unwrap_or(0)
        };
        sum.terms.iter().map(term).sum()
    }

    pub fn is_switch(&self, var: usize) -> bool {
        self.vars[var].iter().all(|&(low, high)| low >= 0 && high <= 1)
    }
}
