//! Writes a net as the model the solver reads, and reads a placing back out of its answer.

use crate::planner::flat::{Flat, Lit};
use crate::planner::net::{Hold, Net, Placed};

/// One limit that can be left out on its own, to find which few of them clash.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Limit {
    /// The step needs the thing while it is done.
    Use {
        thing: usize,
        step: usize,
    },
    /// What waits after a step needs room.
    Room {
        thing: usize,
        step: usize,
    },
    /// A thing kept over several steps.
    Kept {
        kept: usize,
    },
    Least {
        link: usize,
    },
    Most {
        link: usize,
    },
    NotBefore {
        step: usize,
    },
    NotAfter {
        step: usize,
    },
    /// The step must lie within a time of work.
    Window {
        step: usize,
    },
    /// The oven must be hot first.
    Opening {
        step: usize,
    },
    Free {
        window: usize,
    },
    Apart {
        one: usize,
        other: usize,
    },
    Tally {
        tally: usize,
    },
    Days {
        days: usize,
    },
    /// It is not put away, so what follows is done on the same day.
    SameWindow {
        link: usize,
    },
    Turn {
        turn: usize,
    },
    /// Only some ways of waiting suit how the step is done.
    Suits {
        step: usize,
    },
}

/// Where a step ends: a variable and what is added to it.
pub type End = (usize, i64);

#[derive(Debug, Default)]
pub struct Model {
    pub flat: Flat,
    pub starts: Vec<usize>,
    pub ends: Vec<End>,
    pub modes: Vec<Vec<usize>>,
    /// For each step and window the switch that it lies there; none where it cannot.
    pub lies: Vec<Vec<Option<usize>>>,
    pub holds: Vec<Vec<usize>>,
    /// For each step the time of its first and of its last use, and the gap up to that.
    pub uses: Vec<Option<Uses>>,
    /// What it costs when a switch is on.
    pub costs: Vec<(Lit, i64)>,
    pub held: usize,
    pub gaps: Vec<usize>,
    /// The switch of each limit, when limits can be left out.
    pub limits: Vec<(Limit, usize)>,
    pub guarded: bool,
}

#[derive(Debug, Clone, Copy)]
pub struct Uses {
    pub first: usize,
    pub last: usize,
    pub gap: usize,
}

/// The plain model, every limit in force.
pub fn write(net: &Net) -> Model {
    build(net, false)
}

/// The model with a switch for every limit, to find out which clash.
pub fn write_guarded(net: &Net) -> Model {
    build(net, true)
}

fn build(net: &Net, guarded: bool) -> Model {
    let mut model = Model { guarded, ..Model::default() };
    for step in 0..net.steps.len() {
        model.step(net, step);
    }
    for step in 0..net.steps.len() {
        model.waiting(net, step);
    }
    for link in 0..net.links.len() {
        model.link(net, link);
    }
    for step in 0..net.steps.len() {
        model.suits(net, step);
    }
    model.piles(net);
    model.aparts(net);
    model.turns(net);
    for tally in 0..net.tallies.len() {
        model.tally(net, tally);
    }
    for days in 0..net.days.len() {
        model.days(net, days);
    }
    model.free_minutes(net);
    if !guarded {
        model.costs(net);
        model.held(net);
    }
    model
}

/// Ranges in order without overlap.
fn merged(mut ranges: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    ranges.sort_unstable();
    let mut all: Vec<(i64, i64)> = Vec::new();
    for (low, high) in ranges {
        match all.last_mut() {
            Some(last) if low <= last.1 + 1 => last.1 = last.1.max(high),
            _ => all.push((low, high)),
        }
    }
    all
}

impl Model {
    pub fn limit(&mut self, limit: Limit) -> Vec<Lit> {
        if !self.guarded {
            return Vec::new();
        }
        let known = self.limits.iter().find(|(other, _)| *other == limit).map(|(_, var)| *var);
        let var = known.unwrap_or_else(|| {
            let var = self.flat.switch();
            self.limits.push((limit, var));
            var
        });
        vec![Lit::Yes(var)]
    }

    fn step(&mut self, net: &Net, index: usize) {
        let step = &net.steps[index];
        let lengths: Vec<i64> = step.modes.iter().map(|mode| mode.length).collect();
        let (shortest, longest) = (
            lengths.iter().copied().min().unwrap_or(0),
            lengths.iter().copied().max().unwrap_or(0),
        );
        let places: Vec<bool> =
            (0..net.windows.len()).map(|window| net.may_lie(index, window)).collect();
        let mut domain = Vec::new();
        for (_, room) in
            net.windows.iter().enumerate().filter(|(window, _)| places[*window] && !step.anywhere)
        {
            let low = room.start.max(step.earliest_start).max(step.earliest_end - longest);
            domain.push((low, (room.end.min(step.latest_end) - shortest).min(step.latest_start)));
        }
        if step.anywhere {
            domain = vec![(
                step.earliest_end.max(step.earliest_start + shortest) - longest,
                step.latest_end - shortest,
            )];
        } else if self.guarded || domain.is_empty() {
            domain = vec![(0, net.horizon)];
        }
        let domain = merged(domain);
        let start = self.flat.var(domain.clone());
        self.starts.push(start);
        let modes: Vec<usize> = lengths.iter().map(|_| self.flat.switch()).collect();
        self.flat.one_of(&modes);
        let end = if shortest == longest {
            (start, shortest)
        } else {
            let end = self.flat.var(merged(
                domain.iter().map(|&(low, high)| (low + shortest, high + longest)).collect(),
            ));
            self.flat.sum(vec![(end, -1), (start, 1)], -shortest);
            self.flat.sum(vec![(end, 1), (start, -1)], longest);
            for (&mode, &length) in modes.iter().zip(&lengths) {
                if length < longest {
                    self.flat.sum_when(vec![Lit::Yes(mode)], vec![(end, 1), (start, -1)], length);
                }
                if length > shortest {
                    self.flat.sum_when(vec![Lit::Yes(mode)], vec![(end, -1), (start, 1)], -length);
                }
            }
            (end, 0)
        };
        self.modes.push(modes);
        self.ends.push(end);
        self.times(net, index);
        if step.anywhere {
            self.lies.push(vec![None; net.windows.len()]);
        } else {
            self.windows(net, index, &places);
        }
    }

    fn times(&mut self, net: &Net, index: usize) {
        let step = &net.steps[index];
        let (start, (end, plus)) = (self.starts[index], self.ends[index]);
        if step.earliest_end > 0 {
            let when = self.limit(Limit::NotBefore { step: index });
            self.flat.sum_when(when, vec![(end, -1)], plus - step.earliest_end);
        }
        if step.earliest_start > 0 {
            let when = self.limit(Limit::NotBefore { step: index });
            self.flat.sum_when(when, vec![(start, -1)], -step.earliest_start);
        }
        if step.latest_start < net.horizon {
            let when = self.limit(Limit::NotAfter { step: index });
            self.flat.sum_when(when, vec![(start, 1)], step.latest_start);
        }
        let when = if step.latest_end < net.horizon {
            self.limit(Limit::NotAfter { step: index })
        } else {
            Vec::new()
        };
        self.flat.sum_when(when, vec![(end, 1)], step.latest_end.min(net.horizon) - plus);
    }

    fn windows(&mut self, net: &Net, index: usize, places: &[bool]) {
        let step = &net.steps[index];
        let (start, (end, plus)) = (self.starts[index], self.ends[index]);
        // With limits that can be left out, a window stays possible when only the hour of the step forbids it.
        let open: Vec<bool> = if self.guarded {
            (0..places.len()).map(|window| !step.not_in.contains(&window)).collect()
        } else {
            places.to_vec()
        };
        let lies: Vec<Option<usize>> =
            open.into_iter().map(|yes| yes.then(|| self.flat.switch())).collect();
        let known: Vec<usize> = lies.iter().flatten().copied().collect();
        if self.guarded {
            let mut clause: Vec<Lit> =
                self.limit(Limit::Window { step: index }).into_iter().map(Lit::turned).collect();
            clause.extend(known.iter().map(|&var| Lit::Yes(var)));
            self.flat.clauses.push(clause);
            self.flat.sum(known.iter().map(|&var| (var, 1)).collect(), 1);
        } else {
            self.flat.one_of(&known);
        }
        for (room, lie) in net.windows.iter().zip(&lies) {
            let Some(lie) = *lie else { continue };
            let when =
                if known.len() == 1 && !self.guarded { Vec::new() } else { vec![Lit::Yes(lie)] };
            self.flat.sum_when(when.clone(), vec![(start, -1)], -room.start);
            self.flat.sum_when(when.clone(), vec![(end, 1)], room.end - plus);
            for (at, mode) in
                step.modes.iter().enumerate().filter(|(_, mode)| mode.after_opening > 0)
            {
                let mut when = when.clone();
                if step.modes.len() > 1 {
                    when.push(Lit::Yes(self.modes[index][at]));
                }
                when.extend(self.limit(Limit::Opening { step: index }));
                self.flat.sum_when(when, vec![(start, -1)], -room.start - mode.after_opening);
            }
        }
        self.lies.push(lies);
    }

    /// The choice of how the food waits after a step, and the times of its first and last use.
    fn waiting(&mut self, net: &Net, index: usize) {
        let step = &net.steps[index];
        let holds: Vec<usize> = step.holds.iter().map(|_| self.flat.switch()).collect();
        if !holds.is_empty() {
            self.flat.one_of(&holds);
        }
        self.holds.push(holds);
        let followers: Vec<usize> = net
            .links
            .iter()
            .filter(|link| link.waits && link.from == index)
            .map(|link| link.to)
            .collect();
        let with_room = |hold: &Hold| {
            !(hold.until_last.is_empty() && hold.until_first.is_empty() && hold.near_use.is_empty())
        };
        if followers.is_empty() || !(step.held || step.holds.iter().any(with_room)) {
            self.uses.push(None);
            return;
        }
        let starts: Vec<usize> = followers.iter().map(|&follower| self.starts[follower]).collect();
        let (first, last) = if let [only] = starts.as_slice() {
            (*only, *only)
        } else {
            self.first_and_last(net, &starts)
        };
        let most =
            step.holds.iter().map(|hold| hold.most.min(net.horizon)).max().unwrap_or(net.horizon);
        let most = if self.guarded || starts.len() > 1 { net.horizon } else { most };
        let gap = self.flat.var(vec![(0, most.max(0))]);
        let (end, plus) = self.ends[index];
        self.flat.sum(vec![(gap, 1), (last, -1), (end, 1)], -plus);
        self.flat.sum(vec![(gap, -1), (last, 1), (end, -1)], plus);
        for (at, hold) in step
            .holds
            .iter()
            .enumerate()
            .filter(|(_, hold)| hold.most_of_first && hold.most < net.horizon)
        {
            let mut when = if step.holds.len() > 1 {
                vec![Lit::Yes(self.holds[index][at])]
            } else {
                Vec::new()
            };
            when.extend(
                net.links
                    .iter()
                    .position(|link| link.waits && link.from == index)
                    .map_or(Vec::new(), |link| self.limit(Limit::Most { link })),
            );
            self.flat.sum_when(when, vec![(first, 1), (end, -1)], hold.most + plus);
        }
        self.uses.push(Some(Uses { first, last, gap }));
    }

    fn first_and_last(&mut self, net: &Net, starts: &[usize]) -> (usize, usize) {
        let (first, last) =
            (self.flat.var(vec![(0, net.horizon)]), self.flat.var(vec![(0, net.horizon)]));
        let (is_first, is_last): (Vec<usize>, Vec<usize>) =
            starts.iter().map(|_| (self.flat.switch(), self.flat.switch())).unzip();
        self.flat.one_of(&is_first);
        self.flat.one_of(&is_last);
        for (at, &start) in starts.iter().enumerate() {
            self.flat.sum(vec![(first, 1), (start, -1)], 0);
            self.flat.sum_when(vec![Lit::Yes(is_first[at])], vec![(first, -1), (start, 1)], 0);
            self.flat.sum(vec![(last, -1), (start, 1)], 0);
            self.flat.sum_when(vec![Lit::Yes(is_last[at])], vec![(last, 1), (start, -1)], 0);
        }
        (first, last)
    }

    fn link(&mut self, net: &Net, index: usize) {
        let link = &net.links[index];
        if link.over {
            return;
        }
        let ((end, plus), start) = (self.ends[link.from], self.starts[link.to]);
        // The gap is start - end - plus.
        if self.guarded {
            // What is made from a thing comes after it, whatever else is left out.
            self.flat.sum(vec![(end, 1), (start, -1)], -plus);
        }
        let none = [Hold { most: net.horizon, ..Hold::default() }];
        let holds: &[Hold] = if link.waits && !net.steps[link.from].holds.is_empty() {
            &net.steps[link.from].holds
        } else {
            &none
        };
        let least = |hold: &Hold| hold.least.max(link.least);
        let several =
            net.links.iter().filter(|other| other.waits && other.from == link.from).count() > 1;
        let of_hold =
            |hold: &Hold| if hold.most_of_first && several { net.horizon } else { hold.most };
        let most = |hold: &Hold| of_hold(hold).min(link.most).min(net.horizon);
        for (at, hold) in holds.iter().enumerate() {
            let only = if holds.len() == 1 {
                Vec::new()
            } else {
                vec![Lit::Yes(self.holds[link.from][at])]
            };
            if link.waits && hold.same_window {
                self.same_window(net, index, &only);
            }
            let mut when = only.clone();
            when.extend(if least(hold) > 0 {
                self.limit(Limit::Least { link: index })
            } else {
                Vec::new()
            });
            self.flat.sum_when(when, vec![(end, 1), (start, -1)], -plus - least(hold));
            if most(hold) < net.horizon {
                let mut when = only;
                when.extend(self.limit(Limit::Most { link: index }));
                self.flat.sum_when(when, vec![(start, 1), (end, -1)], most(hold) + plus);
            }
        }
        if !self.guarded && holds.len() > 1 {
            let least_of_all = holds.iter().map(least).min().unwrap_or(0);
            let most_of_all = holds.iter().map(most).max().unwrap_or(net.horizon);
            self.flat.sum(vec![(end, 1), (start, -1)], -plus - least_of_all);
            self.flat.sum(vec![(start, 1), (end, -1)], most_of_all + plus);
        }
    }

    fn same_window(&mut self, net: &Net, index: usize, only: &[Lit]) {
        let link = &net.links[index];
        if net.steps[link.to].anywhere {
            return;
        }
        let mut off: Vec<Lit> = only.iter().map(|lit| lit.turned()).collect();
        off.extend(self.limit(Limit::SameWindow { link: index }).into_iter().map(Lit::turned));
        if net.steps[link.from].anywhere {
            let here = net.steps[link.from].stands_in.and_then(|window| self.lies[link.to][window]);
            off.extend(here.map(Lit::Yes));
            self.flat.clauses.push(off);
            return;
        }
        for window in 0..net.windows.len() {
            if let Some(from) = self.lies[link.from][window] {
                let mut clause = off.clone();
                clause.push(Lit::No(from));
                clause.extend(self.lies[link.to][window].map(Lit::Yes));
                self.flat.clauses.push(clause);
            }
        }
    }

    fn suits(&mut self, net: &Net, index: usize) {
        for (at, mode) in net.steps[index].modes.iter().enumerate() {
            for (step, allowed) in &mode.only_with {
                let mut clause = vec![Lit::No(self.modes[index][at])];
                clause.extend(allowed.iter().map(|&hold| Lit::Yes(self.holds[*step][hold])));
                clause
                    .extend(self.limit(Limit::Suits { step: index }).into_iter().map(Lit::turned));
                self.flat.clauses.push(clause);
            }
        }
    }

    /// The values that say a placing.
    pub fn values(&self, net: &Net, placed: &Placed) -> Vec<(usize, i64)> {
        let mut values = Vec::new();
        for step in 0..net.steps.len() {
            let (start, end) = (placed.starts[step], net.end(placed, step));
            let window = net.window_of(start, end);
            values.extend(window.and_then(|at| self.lies[step][at]).map(|var| (var, 1)));
            values.extend(self.modes[step].get(placed.modes[step]).map(|&var| (var, 1)));
            values.extend(self.holds[step].get(placed.holds[step]).map(|&var| (var, 1)));
            values.push((self.starts[step], start));
        }
        values
    }

    /// The placing that an answer of the solver means.
    pub fn placed(&self, values: &[i64]) -> Placed {
        let chosen =
            |switches: &Vec<usize>| switches.iter().position(|&var| values[var] == 1).unwrap_or(0);
        Placed {
            starts: self.starts.iter().map(|&var| values[var]).collect(),
            modes: self.modes.iter().map(chosen).collect(),
            holds: self.holds.iter().map(chosen).collect(),
        }
    }
}
