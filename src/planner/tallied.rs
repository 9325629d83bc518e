//! Sums of times that a placing must keep: ages, minutes out of the cold, days.

use crate::planner::net::Frozen;
use crate::planner::place::Bench;
use crate::planner::recipe::Recipe;

impl Bench<'_> {
    /// The tallies of which this was the last step hold; placing it earlier could only make them worse.
    pub fn tallies_hold(&mut self, recipe: &Recipe, step: usize) -> bool {
        for index in 0..self.tallies[step].len() {
            let tally = self.tallies[step][index];
            self.tally_left[tally] -= 1;
            let holds = |bench: &Self| match tally.checked_sub(bench.net.tallies.len()) {
                None => bench.tally_holds(recipe, tally),
                Some(days) => bench.days_hold(recipe, days),
            };
            if self.tally_left[tally] == 0 && !holds(self) {
                return false;
            }
        }
        true
    }

    fn tally_holds(&self, recipe: &Recipe, tally: usize) -> bool {
        let net = self.net;
        let tally = &net.tallies[tally];
        if tally.only_with.is_some_and(|(step, hold)| recipe.holds[step] != hold) {
            return true;
        }
        let mut sum = 0;
        if let Some(from) = tally.from {
            sum -= self.ends[from];
        }
        if let Some((to, at_end)) = tally.to {
            sum += if at_end { self.ends[to] } else { self.starts[to] };
        }
        sum += tally
            .modes
            .iter()
            .filter(|(step, mode, _)| recipe.modes[*step] == *mode)
            .map(|one| one.2)
            .sum::<i64>();
        for (link, holds) in &tally.gaps {
            let link = &net.links[*link];
            if holds.contains(&recipe.holds[link.from]) {
                sum += self.starts[link.to] - self.ends[link.from];
            }
        }
        if let Some(frozen) = Self::only_frozen(recipe, &tally.frozen) {
            sum -= (self.thaw_start(frozen) - self.ends[frozen.step]).max(0);
        }
        sum <= tally.most
    }

    fn only_frozen(recipe: &Recipe, all: &[Frozen]) -> Option<Frozen> {
        let mut frozen = all.iter().filter(|one| recipe.holds[one.step] == one.hold);
        let first = frozen.next()?;
        frozen.next().is_none().then_some(*first)
    }

    fn thaw_start(&self, frozen: Frozen) -> i64 {
        let waits = self.followers[frozen.step].iter().filter(|follower| follower.waits);
        waits.map(|follower| self.starts[follower.step]).min().unwrap_or(0) - frozen.thaw
    }

    fn days_hold(&self, recipe: &Recipe, index: usize) -> bool {
        let net = self.net;
        let days = &net.days[index];
        if days.only_with.is_some_and(|(step, hold)| recipe.holds[step] != hold) {
            return true;
        }
        let made = net.day(self.ends[days.from]);
        let mut frozen =
            days.frozen.iter().filter(|one| recipe.holds[one.step] == one.hold).peekable();
        if frozen.peek().is_none() {
            return days.until_day < made + days.most;
        }
        frozen.all(|one| {
            let used = net.day(self.ends[one.step]) - made + 1;
            used < days.most && days.until_day < net.day(self.thaw_start(*one)) + days.most - used
        })
    }

    pub fn watch(&mut self, tally: usize, mut members: Vec<usize>, frozen: &[Frozen]) {
        for one in frozen {
            members.push(one.step);
            members.extend(self.followers[one.step].iter().map(|follower| follower.step));
        }
        members.sort_unstable();
        members.dedup();
        self.tally_size.push(members.len());
        for member in members {
            self.tallies[member].push(tally);
        }
    }
}
