//! Limits and goals that are sums: ages, minutes out of the cold, free minutes of a day, what is to be least.

use crate::planner::flat::Lit;
use crate::planner::model::{End, Limit, Model};
use crate::planner::net::{Days, First, Frozen, Net};

impl Model {
    pub fn tally(&mut self, net: &Net, index: usize) {
        let tally = &net.tallies[index];
        let mut terms = Vec::new();
        let mut most = tally.most;
        if let Some(from) = tally.from {
            let (end, plus) = self.ends[from];
            terms.push((end, -1));
            most += plus;
        }
        if let Some((to, at_end)) = tally.to {
            let (time, plus) = if at_end { self.ends[to] } else { (self.starts[to], 0) };
            terms.push((time, 1));
            most -= plus;
        }
        for &(step, mode, adds) in tally.modes.iter().filter(|(_, _, adds)| *adds != 0) {
            terms.push((self.modes[step][mode], adds));
        }
        for (link, holds) in &tally.gaps {
            terms.push((self.gap_with(net, *link, holds), 1));
        }
        for at in 0..tally.frozen.len() {
            terms.push((self.frozen(net, &tally.frozen, at), -1));
        }
        let mut when = self.limit(Limit::Tally { tally: index });
        if let Some((step, hold)) = tally.only_with {
            when.push(Lit::Yes(self.holds[step][hold]));
        }
        self.flat.sum_when(when, terms, most);
    }

    /// The gap of a link where the food waits in one of these ways, else nothing.
    fn gap_with(&mut self, net: &Net, link: usize, holds: &[usize]) -> usize {
        let link = &net.links[link];
        let ((end, plus), start) = (self.ends[link.from], self.starts[link.to]);
        let counted = self.flat.var(vec![(0, net.horizon)]);
        for &hold in holds {
            let when = if net.steps[link.from].holds.len() > 1 {
                vec![Lit::Yes(self.holds[link.from][hold])]
            } else {
                Vec::new()
            };
            self.flat.sum_when(when, vec![(counted, -1), (start, 1), (end, -1)], plus);
        }
        counted
    }

    /// At most the frozen time of one of these, and nothing when it is not the only one that is frozen.
    fn frozen(&mut self, net: &Net, all: &[Frozen], at: usize) -> usize {
        let frozen = all[at];
        let counted = self.flat.var(vec![(0, net.horizon)]);
        let (end, plus) = self.ends[frozen.step];
        for link in net.links.iter().filter(|link| link.waits && link.from == frozen.step) {
            let terms = vec![(counted, 1), (self.starts[link.to], -1), (end, 1)];
            // Thawing may take the whole gap.
            let switch = self.flat.switch();
            self.flat.sum_when(vec![Lit::Yes(switch)], terms, -plus - frozen.thaw);
            self.flat.sum_when(vec![Lit::No(switch)], vec![(counted, 1)], 0);
        }
        self.flat.sum_when(
            vec![Lit::No(self.holds[frozen.step][frozen.hold])],
            vec![(counted, 1)],
            0,
        );
        for other in all.iter().filter(|other| other.step != frozen.step) {
            self.flat.sum_when(
                vec![Lit::Yes(self.holds[other.step][other.hold])],
                vec![(counted, 1)],
                0,
            );
        }
        counted
    }

    pub fn days(&mut self, net: &Net, index: usize) {
        let Days { from, only_with, until_day, most, ref frozen } = net.days[index];
        let mut when = self.limit(Limit::Days { days: index });
        if let Some((step, hold)) = only_with {
            when.push(Lit::Yes(self.holds[step][hold]));
        }
        // No later than the true day of making.
        let made = self.day_at_most(net, self.ends[from]);
        let mut not_frozen = when.clone();
        not_frozen.extend(frozen.iter().map(|one| Lit::No(self.holds[one.step][one.hold])));
        self.flat.sum_when(not_frozen, vec![(made, -1)], most - 1 - until_day);
        for one in frozen {
            let mut when = when.clone();
            when.push(Lit::Yes(self.holds[one.step][one.hold]));
            let frozen_on = self.day_at_least(net, self.ends[one.step]);
            self.flat.sum_when(when.clone(), vec![(frozen_on, 1), (made, -1)], most - 2);
            for link in net.links.iter().filter(|link| link.waits && link.from == one.step) {
                let thawed_on = self.day_at_most(net, (self.starts[link.to], -one.thaw));
                self.flat.sum_when(
                    when.clone(),
                    vec![(thawed_on, -1), (frozen_on, 1), (made, -1)],
                    most - 2 - until_day,
                );
            }
        }
    }

    /// A day that is not after the day of this time.
    fn day_at_most(&mut self, net: &Net, (time, plus): End) -> usize {
        let day = self.flat.var(vec![(0, i64::try_from(net.midnights.len()).unwrap_or(0))]);
        let mut terms = vec![(day, 1)];
        for &midnight in net.midnights.iter().skip(1) {
            let passed = self.flat.switch();
            self.flat.sum_when(vec![Lit::Yes(passed)], vec![(time, -1)], plus - midnight);
            terms.push((passed, -1));
        }
        self.flat.sum(terms, 0);
        day
    }

    /// A day that is not before the day of this time.
    fn day_at_least(&mut self, net: &Net, (time, plus): End) -> usize {
        let day = self.flat.var(vec![(0, i64::try_from(net.midnights.len()).unwrap_or(0))]);
        let mut terms = vec![(day, -1)];
        for &midnight in net.midnights.iter().skip(1) {
            let passed = self.flat.switch();
            self.flat.sum_when(vec![Lit::No(passed)], vec![(time, 1)], midnight - 1 - plus);
            terms.push((passed, 1));
        }
        self.flat.sum(terms, 0);
        day
    }

    /// Switches that a step lies in a window with a mode, with the hands minutes it costs there.
    fn minutes_in(&mut self, net: &Net, window: usize) -> Vec<(usize, i64)> {
        let mut costs = Vec::new();
        for (index, step) in net.steps.iter().enumerate() {
            let Some(lies) = self.lies[index][window] else { continue };
            let most = step.modes.iter().map(|mode| mode.hands_minutes).max().unwrap_or(0);
            if step.modes.iter().all(|mode| mode.hands_minutes == most) {
                if most > 0 {
                    costs.push((lies, most));
                }
                continue;
            }
            for (mode, what) in
                step.modes.iter().enumerate().filter(|(_, mode)| mode.hands_minutes > 0)
            {
                let both = self.flat.switch();
                self.flat.clauses.push(vec![
                    Lit::No(lies),
                    Lit::No(self.modes[index][mode]),
                    Lit::Yes(both),
                ]);
                costs.push((both, what.hands_minutes));
            }
        }
        costs
    }

    pub fn free_minutes(&mut self, net: &Net) {
        for (index, window) in net.windows.iter().enumerate() {
            if let Some(free) = window.free_minutes {
                let costs = self.minutes_in(net, index);
                if costs.iter().map(|cost| cost.1).sum::<i64>() > free {
                    let when = self.limit(Limit::Free { window: index });
                    self.flat.sum_when(when, costs, free);
                }
            }
        }
    }

    pub fn costs(&mut self, net: &Net) {
        for (index, window) in net.windows.iter().enumerate() {
            match net.first {
                First::Serving if window.serving => {
                    let costs = self.minutes_in(net, index);
                    self.costs
                        .extend(costs.into_iter().map(|(var, minutes)| (Lit::Yes(var), minutes)));
                }
                First::Days if !window.serving => {
                    let used = self.flat.switch();
                    let lies: Vec<usize> =
                        self.lies.iter().filter_map(|lies| lies[index]).collect();
                    self.flat
                        .clauses
                        .extend(lies.into_iter().map(|lies| vec![Lit::No(lies), Lit::Yes(used)]));
                    self.costs.push((Lit::Yes(used), 1));
                }
                _ => {}
            }
        }
    }

    pub fn held(&mut self, net: &Net) {
        self.gaps = net
            .steps
            .iter()
            .zip(&self.uses)
            .filter(|(step, _)| step.held)
            .filter_map(|(_, uses)| uses.map(|uses| uses.gap))
            .collect();
        let most = self
            .gaps
            .iter()
            .filter_map(|&gap| self.flat.vars[gap].last())
            .map(|range| range.1)
            .sum();
        self.held = self.flat.var(vec![(0, most)]);
        let mut terms: Vec<(usize, i64)> = self.gaps.iter().map(|&gap| (gap, 1)).collect();
        terms.push((self.held, -1));
        self.flat.sum(terms, 0);
    }
}
