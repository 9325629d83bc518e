//! The one place where the constraint solver is called: a small trait, and the solver behind it.

use huub::actions::IntDecisionActions;
use huub::model::expressions::{BoolFormula, IntLinearExp};
use huub::model::{self, Model};
use huub::solver::branchers::WarmStartBrancher;
use huub::solver::{
    self, IntLitMeaning, SearchStrategy, Solver, Status, TerminationSignal, Valuation,
};

use crate::planner::chance::Chance;
use crate::planner::flat::{Flat, Length, Lit};
use crate::planner::work::Work;

/// What the solver says to one question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    /// A value for every variable.
    Found(Vec<i64>),
    /// Impossible; these of the assumptions are enough to make it so.
    Impossible(Vec<Lit>),
    /// The work given was used up.
    Stopped,
}

/// A solver that learns from question to question.
pub trait Engine {
    /// Looks for values under the assumptions, spending at most the work given.
    fn ask(&mut self, assuming: &[Lit], work: &mut Work, most: u64) -> Answer;
    /// From now on at least one of these holds.
    fn learn(&mut self, clause: &[Lit]);
    /// Answers are looked for near these values first.
    fn resemble(&mut self, values: &[(usize, i64)], work: &mut Work);
    /// One more switch, numbered after the variables of the model.
    fn switch(&mut self) -> usize;
}

/// The solver looks up so often in one piece of a question; then the work is counted, and somebody who
/// calls it off need not wait longer.
const PIECE: u64 = 150;

/// To take up a placing that is known, so much is enough where it can be taken up at all.
const TAKE_UP: u64 = 4 * PIECE;

#[derive(Clone, Copy)]
enum Seen {
    Switch(solver::View<bool>),
    Whole(solver::View<i64>),
}

#[derive(Clone, Copy)]
enum Meant {
    Switch(model::View<bool>),
    Whole(model::View<i64>),
}

/// Lazy clause generation: propagation as in a constraint solver, learning as in a clause solver.
pub struct Learning {
    solver: Solver,
    seen: Vec<Seen>,
    impossible: bool,
}

struct Writer<'a> {
    flat: &'a Flat,
    model: Model,
    meant: Vec<Meant>,
}

/// The model contradicts itself before any search.
struct Contradiction;

impl Writer<'_> {
    fn whole(&self, var: usize) -> model::View<i64> {
        match self.meant[var] {
            Meant::Switch(switch) => switch.into(),
            Meant::Whole(whole) => whole,
        }
    }

    fn lit(&self, lit: Lit) -> model::View<bool> {
        match (lit, self.meant[lit.var()]) {
            (Lit::Yes(_), Meant::Switch(switch)) => switch,
            (Lit::No(_), Meant::Switch(switch)) => !switch,
            (Lit::AtMost(_, most), _) => self.whole(lit.var()).leq(most),
            (Lit::Yes(var), Meant::Whole(_)) => self.whole(var).geq(1),
            (Lit::No(var), Meant::Whole(_)) => self.whole(var).leq(0),
        }
    }

    fn vars(&mut self, order: &[usize]) {
        let mut meant = vec![None; self.flat.vars.len()];
        for &var in order {
            let ranges = &self.flat.vars[var];
            let one = match ranges.as_slice() {
                [(0, 1)] => Meant::Switch(self.model.new_bool_decision()),
                [(low, high)] if low == high && self.flat.is_switch(var) => {
                    Meant::Switch((*low == 1).into())
                }
                many => {
                    let domain: huub::Set<i64> =
                        many.iter().map(|&(low, high)| low..=high).collect();
                    Meant::Whole(self.model.new_int_decision(domain))
                }
            };
            meant[var] = Some(one);
        }
        self.meant = meant.into_iter().flatten().collect();
    }

    fn clause(
        &mut self,
        lits: impl Iterator<Item = model::View<bool>>,
    ) -> Result<(), Contradiction> {
        let atoms: Vec<BoolFormula> = lits.map(BoolFormula::Atom).collect();
        if atoms.is_empty() {
            return Err(Contradiction);
        }
        self.model.proposition(BoolFormula::Or(atoms)).post().map_err(|_| Contradiction)
    }

    fn sums(&mut self) -> Result<(), Contradiction> {
        let flat = self.flat;
        for sum in &flat.sums {
            let mut left = IntLinearExp::from(0i64);
            for &(var, times) in &sum.terms {
                left += IntLinearExp::from(self.whole(var)) * times;
            }
            let when: Vec<model::View<bool>> = sum.when.iter().map(|&lit| self.lit(lit)).collect();
            // The solver breaks off where a sum of switches can never hold (seen with huub 100.1.0).
            if flat.least(sum) > sum.most {
                self.clause(when.into_iter().map(|lit| !lit))?;
                continue;
            }
            let switch = match when.as_slice() {
                [] => {
                    self.model.linear(left).le(sum.most).post().map_err(|_| Contradiction)?;
                    continue;
                }
                [only] => *only,
                many => {
                    let all = self.model.new_bool_decision();
                    self.clause(many.iter().map(|lit| !*lit).chain([all]))?;
                    all
                }
            };
            self.model
                .linear(left)
                .le(sum.most)
                .implied_by(switch)
                .post()
                .map_err(|_| Contradiction)?;
        }
        Ok(())
    }

    /// The solver's own constraint for things of which there is one is not used: it can break off the program
    /// when it explains a start in a gap between two windows (seen with huub 100.1.0).
    fn piles(&mut self) -> Result<(), Contradiction> {
        let flat = self.flat;
        for pile in &flat.piles {
            let (mut starts, mut lengths, mut amounts) = (Vec::new(), Vec::new(), Vec::new());
            for task in &pile.tasks {
                let start = self.whole(task.start) + task.shift;
                starts.push(start);
                lengths.push(match task.length {
                    Length::Fixed(length) => model::View::<i64>::from(length),
                    Length::Of(var) => self.whole(var),
                });
                amounts.push(match task.when {
                    Some(when) => self.lit(when) * task.amount,
                    None => model::View::<i64>::from(task.amount),
                });
            }
            let posted =
                self.model.cumulative().start_times(starts).durations(lengths).usages(amounts);
            posted.capacity(pile.capacity).post().map_err(|_| Contradiction)?;
        }
        Ok(())
    }

    fn all(&mut self, order: &[usize]) -> Result<(), Contradiction> {
        self.vars(order);
        let flat = self.flat;
        for clause in &flat.clauses {
            let lits: Vec<_> = clause.iter().map(|&lit| self.lit(lit)).collect();
            self.clause(lits.into_iter())?;
        }
        self.sums()?;
        self.piles()
    }
}

impl Learning {
    pub fn new(flat: &Flat, order: &[usize]) -> Self {
        let mut writer = Writer { flat, model: Model::default(), meant: Vec::new() };
        let contradiction =
            || Self { solver: Solver::default(), seen: Vec::new(), impossible: true };
        if writer.all(order).is_err() {
            return contradiction();
        }
        let Ok((mut solver, map)): Result<(Solver, _), _> =
            writer.model.lower().restart(true).to_solver()
        else {
            return contradiction();
        };
        let meant = writer.meant;
        let seen: Vec<Seen> = meant
            .into_iter()
            .map(|one| match one {
                Meant::Switch(switch) => Seen::Switch(map.get(&mut solver, switch)),
                Meant::Whole(whole) => Seen::Whole(map.get(&mut solver, whole)),
            })
            .collect();
        solver.set_search_strategy(SearchStrategy::Sat);
        Self { solver, seen, impossible: false }
    }

    fn lit(&mut self, lit: Lit) -> solver::View<bool> {
        match (lit, self.seen[lit.var()]) {
            (Lit::Yes(_), Seen::Switch(switch)) => switch,
            (Lit::No(_), Seen::Switch(switch)) => !switch,
            (Lit::AtMost(_, most), Seen::Whole(whole)) => {
                whole.lit(&mut self.solver, IntLitMeaning::Less(most + 1))
            }
            (Lit::AtMost(_, most), Seen::Switch(switch)) => {
                if most >= 1 {
                    true.into()
                } else if most < 0 {
                    false.into()
                } else {
                    !switch
                }
            }
            (Lit::Yes(_), Seen::Whole(whole)) => {
                whole.lit(&mut self.solver, IntLitMeaning::GreaterEq(1))
            }
            (Lit::No(_), Seen::Whole(whole)) => whole.lit(&mut self.solver, IntLitMeaning::Less(1)),
        }
    }
}

impl Learning {
    /// Looks for values under the assumptions until it has looked up so often.
    fn piece(&mut self, assuming: &[Lit], most_looks: u64, work: &mut Work) -> Answer {
        if self.impossible {
            return Answer::Impossible(Vec::new());
        }
        let mut looks = 0;
        self.solver.set_terminate_callback(Some(move || {
            looks += 1;
            if looks > most_looks {
                TerminationSignal::Terminate
            } else {
                TerminationSignal::Continue
            }
        }));
        let views: Vec<solver::View<bool>> = assuming.iter().map(|&lit| self.lit(lit)).collect();
        let seen = self.seen.clone();
        let (mut found, mut core) = (None, Vec::new());
        let before = self.solver.solver_statistics().cp_propagator_calls;
        let status = self.solver.solve_assuming(
            views.iter().copied(),
            |solution| {
                let values = seen.iter().map(|one| match one {
                    Seen::Switch(switch) => i64::from(switch.val(solution)),
                    Seen::Whole(whole) => whole.val(solution),
                });
                found = Some(values.collect());
            },
            |failed| {
                core = assuming
                    .iter()
                    .zip(&views)
                    .filter(|(_, view)| failed.fail(**view))
                    .map(|(lit, _)| *lit)
                    .collect();
            },
        );
        let calls = self.solver.solver_statistics().cp_propagator_calls - before;
        work.spend(calls / Work::CALLS + Work::QUESTION);
        match (status, found) {
            (_, Some(values)) => Answer::Found(values),
            (Status::Unsatisfiable, None) => Answer::Impossible(core),
            _ => Answer::Stopped,
        }
    }

    fn learn(&mut self, clause: &[Lit]) {
        let views: Vec<_> = clause.iter().map(|&lit| self.lit(lit)).collect();
        if !self.impossible && self.solver.add_clause(views).is_err() {
            self.impossible = true;
        }
    }

    fn resemble(&mut self, values: &[(usize, i64)], work: &mut Work) {
        if self.impossible || values.is_empty() {
            return;
        }
        let near = values.iter().map(|&(var, value)| match self.seen[var] {
            Seen::Switch(switch) if value == 1 => switch,
            Seen::Switch(switch) => !switch,
            Seen::Whole(whole) => whole.lit(&mut self.solver, IntLitMeaning::Eq(value)),
        });
        let near = near.collect();
        // Taken up once by decisions, the values stay what the solver tries first.
        WarmStartBrancher::new_in(&mut self.solver, near);
        self.solver.set_search_strategy(SearchStrategy::Branchers);
        self.piece(&[], TAKE_UP, work);
        self.solver.set_search_strategy(SearchStrategy::Sat);
    }

    fn switch(&mut self) -> usize {
        let fresh = self.solver.new_bool_decision();
        self.seen.push(Seen::Switch(fresh.into()));
        self.seen.len() - 1
    }
}

/// Begins anew in another order when an answer is long in coming: now and then a search takes a bad turn and never returns.
pub struct Patient<'a> {
    flat: &'a Flat,
    engine: Learning,
    learned: Vec<Vec<Lit>>,
    switches: usize,
    near: Vec<(usize, i64)>,
    chance: Chance,
}

impl<'a> Patient<'a> {
    /// The shortest stretch of work before beginning anew.
    const STRETCH: u64 = 100_000;

    pub fn new(flat: &'a Flat) -> Self {
        let order: Vec<usize> = (0..flat.vars.len()).collect();
        let engine = Learning::new(flat, &order);
        Self {
            flat,
            engine,
            learned: Vec::new(),
            switches: 0,
            near: Vec::new(),
            chance: Chance::new(1),
        }
    }

    fn anew(&mut self, work: &mut Work) {
        let mut order: Vec<usize> = (0..self.flat.vars.len()).collect();
        self.chance.shuffle(&mut order);
        self.engine = Learning::new(self.flat, &order);
        for _ in 0..self.switches {
            self.engine.switch();
        }
        for clause in &self.learned {
            self.engine.learn(clause);
        }
        self.engine.resemble(&self.near, work);
    }
}

/// 1, 1, 2, 1, 1, 2, 4, ...: mostly short stretches, now and then a long one.
fn stretch(mut index: u64) -> u64 {
    loop {
        let mut size = 1;
        while size < index + 1 {
            size = 2 * size + 1;
        }
        if size == index + 1 {
            return size.div_ceil(2);
        }
        index -= size / 2;
    }
}

impl Engine for Patient<'_> {
    fn ask(&mut self, assuming: &[Lit], work: &mut Work, most: u64) -> Answer {
        let mut account = work.part(most);
        let mut tries = 0;
        let answer = loop {
            let end = account.spent() + Self::STRETCH * stretch(tries);
            let answer = loop {
                let answer = self.engine.piece(assuming, PIECE, &mut account);
                if answer != Answer::Stopped || account.over() || account.spent() >= end {
                    break answer;
                }
            };
            if answer != Answer::Stopped || account.over() {
                break answer;
            }
            tries += 1;
            account.spend(Work::ANEW);
            self.anew(&mut account);
        };
        work.spend(account.spent());
        answer
    }

    fn learn(&mut self, clause: &[Lit]) {
        self.learned.push(clause.to_vec());
        self.engine.learn(clause);
    }

    fn resemble(&mut self, values: &[(usize, i64)], work: &mut Work) {
        self.near = values.to_vec();
        self.engine.resemble(values, work);
    }

    fn switch(&mut self) -> usize {
        self.switches += 1;
        self.engine.switch()
    }
}
