//! Puts the steps of a net down from the last to the first, each as late as its cap and everything placed allows.

use crate::planner::net::{Net, Placed, Use};
use crate::planner::recipe::Recipe;
use crate::planner::taken::Taken;

pub struct Partner {
    step: usize,
    mode: usize,
    /// Of the step asked about, and of its partner.
    mine: (i64, i64),
    theirs: (i64, i64),
    /// When this step comes first, and when its partner does.
    mine_first: i64,
    theirs_first: i64,
}

#[derive(Debug, Clone, Copy)]
pub struct Follower {
    pub step: usize,
    pub least: i64,
    pub most: i64,
    pub waits: bool,
    pub over: bool,
}

/// Space to place in, used again and again.
pub struct Bench<'a> {
    pub net: &'a Net,
    pub followers: Vec<Vec<Follower>>,
    pub leaders: Vec<Vec<usize>>,
    pub partners: Vec<Vec<Vec<Partner>>>,
    /// Turns with the other step, and whether this step is the one that goes before.
    pub turns: Vec<Vec<(usize, bool)>>,
    /// Tallies, and after them the counts of days, by step.
    pub tallies: Vec<Vec<usize>>,
    pub tally_size: Vec<usize>,
    pub kept_from: Vec<Vec<usize>>,
    pub taken: Vec<Taken>,
    pub limits: Vec<i32>,
    pub minutes: Vec<i64>,
    pub starts: Vec<i64>,
    pub ends: Vec<i64>,
    pub windows: Vec<usize>,
    pub placed: Vec<bool>,
    pub waiting: Vec<usize>,
    pub ready: Vec<usize>,
    pub tally_left: Vec<usize>,
}

/// What came of looking for a place in one window.
#[derive(PartialEq, Eq)]
enum Scan {
    Put,
    Earlier,
    Never,
}

/// Where a step must lie for what follows.
#[derive(Clone, Copy)]
enum Together {
    Free,
    In(usize),
    /// Those that follow lie in two windows.
    Nowhere,
}

impl Together {
    fn allows(self, window: Option<usize>) -> bool {
        match self {
            Self::Free => true,
            Self::In(only) => window == Some(only),
            Self::Nowhere => false,
        }
    }
}

enum Obstacle {
    None,
    /// Not before this end is worth a look.
    Until(i64),
    /// Not in this window.
    Window,
    /// The earlier, the worse.
    Always,
}

const NOWHERE: usize = usize::MAX;

fn small(amount: i64) -> i32 {
    i32::try_from(amount).unwrap_or(i32::MAX)
}

fn at(time: i64) -> usize {
    usize::try_from(time).unwrap_or(0)
}

impl<'a> Bench<'a> {
    pub fn new(net: &'a Net) -> Self {
        let count = net.steps.len();
        let (mut followers, mut leaders) = (vec![Vec::new(); count], vec![Vec::new(); count]);
        for link in &net.links {
            followers[link.from].push(Follower {
                step: link.to,
                least: link.least,
                most: link.most,
                waits: link.waits,
                over: link.over,
            });
            leaders[link.to].push(link.from);
        }
        let mut turns = vec![Vec::new(); count];
        for turn in &net.turns {
            turns[turn.before].push((turn.after, true));
            turns[turn.after].push((turn.before, false));
        }
        let mut bench = Self {
            net,
            followers,
            leaders,
            partners: partners(net),
            turns,
            tallies: vec![Vec::new(); count],
            tally_size: Vec::new(),
            kept_from: vec![Vec::new(); count],
            taken: net.things.iter().map(|_| Taken::new(at(net.horizon) + 1)).collect(),
            limits: net.things.iter().map(|thing| small(*thing)).collect(),
            minutes: vec![0; net.windows.len()],
            starts: vec![0; count],
            ends: vec![0; count],
            windows: vec![NOWHERE; count],
            placed: vec![false; count],
            waiting: vec![0; count],
            ready: Vec::new(),
            tally_left: Vec::new(),
        };
        for (index, kept) in net.kept.iter().enumerate() {
            bench.kept_from[kept.from].push(index);
        }
        for (index, tally) in net.tallies.iter().enumerate() {
            let mut members: Vec<usize> =
                tally.from.into_iter().chain(tally.to.map(|to| to.0)).collect();
            members.extend(tally.modes.iter().map(|one| one.0));
            members.extend(
                tally
                    .gaps
                    .iter()
                    .flat_map(|(link, _)| [net.links[*link].from, net.links[*link].to]),
            );
            bench.watch(index, members, &tally.frozen);
        }
        for (index, days) in net.days.iter().enumerate() {
            bench.watch(net.tallies.len() + index, vec![days.from], &days.frozen);
        }
        bench
    }

    fn clear(&mut self) {
        for thing in &mut self.taken {
            thing.clear();
        }
        self.minutes.fill(0);
        self.placed.fill(false);
        self.tally_left.clone_from(&self.tally_size);
        self.ready.clear();
        for step in 0..self.net.steps.len() {
            self.waiting[step] = self.followers[step].len();
            if self.waiting[step] == 0 {
                self.ready.push(step);
            }
        }
    }

    /// Places every step, or says which could not be placed.
    pub fn place(&mut self, recipe: &Recipe) -> Result<(), usize> {
        self.clear();
        while !self.ready.is_empty() {
            let mut best = 0;
            for next in 1..self.ready.len() {
                if recipe.rank[self.ready[next]] > recipe.rank[self.ready[best]] {
                    best = next;
                }
            }
            let step = self.ready.swap_remove(best);
            if !self.put(recipe, step) {
                return Err(step);
            }
            for index in 0..self.leaders[step].len() {
                let leader = self.leaders[step][index];
                self.waiting[leader] -= 1;
                if self.waiting[leader] == 0 {
                    self.ready.push(leader);
                }
            }
        }
        Ok(())
    }

    pub fn result(&self, recipe: &Recipe) -> Placed {
        Placed {
            starts: self.starts.clone(),
            modes: recipe.modes.clone(),
            holds: recipe.holds.clone(),
        }
    }

    /// The ends that the steps after it allow.
    fn room(&self, recipe: &Recipe, step: usize) -> (i64, i64) {
        let what = &self.net.steps[step];
        let length = what.modes[recipe.modes[step]].length;
        let mut low = what.earliest_end.max(what.earliest_start + length);
        let mut high =
            what.latest_end.min(self.net.horizon).min(what.latest_start.saturating_add(length));
        let hold = what.holds.get(recipe.holds[step]);
        let mut first = i64::MAX;
        for follower in self.followers[step].iter().filter(|follower| !follower.over) {
            let start = self.starts[follower.step];
            let (mut least, mut most) = (follower.least, follower.most);
            if let (true, Some(hold)) = (follower.waits, hold) {
                first = first.min(start);
                least = least.max(hold.least);
                if !hold.most_of_first {
                    most = most.min(hold.most);
                }
            }
            high = high.min(start - least);
            low = low.max(start - most);
        }
        if let Some(hold) = hold.filter(|hold| hold.most_of_first && first < i64::MAX) {
            low = low.max(first - hold.most);
        }
        (low, high.min(recipe.caps[step]))
    }

    fn put(&mut self, recipe: &Recipe, step: usize) -> bool {
        let net = self.net;
        let what = &net.steps[step];
        let mode = &what.modes[recipe.modes[step]];
        if mode.only_with.iter().any(|(other, holds)| !holds.contains(&recipe.holds[*other])) {
            return false;
        }
        let (low, high) = self.room(recipe, step);
        let together = self.together(recipe, step);
        if what.anywhere {
            return together.allows(what.stands_in)
                && self.scan(recipe, step, low, high, NOWHERE) == Scan::Put
                && self.tallies_hold(recipe, step);
        }
        for window in (0..net.windows.len()).rev() {
            let room = &net.windows[window];
            let lowest = low.max(room.start + mode.after_opening + mode.length);
            let highest = high.min(room.end);
            if lowest > highest
                || !together.allows(Some(window))
                || what.not_in.contains(&window)
                || !self.has_minutes(window, mode.hands_minutes)
            {
                if room.end < low {
                    return false;
                }
                continue;
            }
            match self.scan(recipe, step, lowest, highest, window) {
                Scan::Put => return self.tallies_hold(recipe, step),
                Scan::Earlier => {}
                Scan::Never => return false,
            }
        }
        false
    }

    /// The window it must share with what follows.
    fn together(&self, recipe: &Recipe, step: usize) -> Together {
        let hold = self.net.steps[step].holds.get(recipe.holds[step]);
        if !hold.is_some_and(|hold| hold.same_window) {
            return Together::Free;
        }
        let mut windows = self.followers[step]
            .iter()
            .filter(|it| it.waits && !it.over && !self.net.steps[it.step].anywhere)
            .map(|it| self.windows[it.step]);
        match windows.next() {
            None => Together::Free,
            Some(first) if windows.all(|window| window == first) => Together::In(first),
            Some(_) => Together::Nowhere,
        }
    }

    /// Looks from the highest end down to the lowest.
    fn scan(
        &mut self,
        recipe: &Recipe,
        step: usize,
        lowest: i64,
        highest: i64,
        window: usize,
    ) -> Scan {
        let mut end = highest;
        while end >= lowest {
            match self.obstacle(recipe, step, end, window) {
                Obstacle::None => {
                    self.set(recipe, step, end, window);
                    return Scan::Put;
                }
                Obstacle::Until(earlier) => end = earlier.min(end - 1),
                Obstacle::Window => return Scan::Earlier,
                Obstacle::Always => return Scan::Never,
            }
        }
        Scan::Earlier
    }

    fn has_minutes(&self, window: usize, minutes: i64) -> bool {
        self.net.windows[window]
            .free_minutes
            .is_none_or(|free| self.minutes[window] + minutes <= free)
    }

    /// The last time within which the thing has not this much left.
    fn full(&self, thing: usize, from: i64, to: i64, amount: i64) -> Option<i64> {
        let most = self.limits[thing].saturating_sub(small(amount));
        let last = self.taken[thing].last_above(at(from), at(to), most);
        last.map(|place| i64::try_from(place).unwrap_or(0))
    }

    /// Why the step cannot end then.
    fn obstacle(&self, recipe: &Recipe, step: usize, end: i64, window: usize) -> Obstacle {
        let net = self.net;
        let mode = &net.steps[step].modes[recipe.modes[step]];
        let start = end - mode.length;
        for one in &mode.uses {
            if let Some(busy) = self.full(one.thing, start + one.from, start + one.to, one.amount) {
                return Obstacle::Until(busy - one.to + mode.length);
            }
        }
        for partner in &self.partners[step][recipe.modes[step]] {
            if self.placed[partner.step] && recipe.modes[partner.step] == partner.mode {
                let theirs = self.starts[partner.step];
                let before =
                    start + partner.mine.1 + partner.mine_first <= theirs + partner.theirs.0;
                let after =
                    theirs + partner.theirs.1 + partner.theirs_first <= start + partner.mine.0;
                if !before && !after {
                    return Obstacle::Until(
                        theirs + partner.theirs.0 - partner.mine_first - partner.mine.1
                            + mode.length,
                    );
                }
            }
        }
        if window < net.windows.len() {
            for &(other, goes_before) in &self.turns[step] {
                if self.placed[other] && self.windows[other] == window {
                    if goes_before && end > self.starts[other] {
                        return Obstacle::Until(self.starts[other]);
                    }
                    if !goes_before && start < self.ends[other] {
                        return Obstacle::Window;
                    }
                }
            }
        }
        for &kept in &self.kept_from[step] {
            let kept = net.kept[kept];
            let until = self.starts[kept.to].max(start + kept.least);
            if self.full(kept.thing, start, until, kept.amount).is_some() {
                return Obstacle::Always;
            }
        }
        if self.no_room_to_wait(recipe, step, end) { Obstacle::Always } else { Obstacle::None }
    }

    fn waiting_uses(
        &self,
        recipe: &Recipe,
        step: usize,
        end: i64,
        mut each: impl FnMut(usize, i64, i64, i64) -> bool,
    ) -> bool {
        let Some(hold) = self.net.steps[step].holds.get(recipe.holds[step]) else { return false };
        if hold.until_last.is_empty() && hold.until_first.is_empty() && hold.near_use.is_empty() {
            return false;
        }
        let (mut first, mut last) = (i64::MAX, i64::MIN);
        for follower in self.followers[step].iter().filter(|follower| follower.waits) {
            first = first.min(self.starts[follower.step]);
            last = last.max(self.starts[follower.step]);
        }
        if first > last {
            return false;
        }
        let one = hold.until_last.iter().any(|&(thing, amount)| each(thing, end, last, amount));
        let two = hold
            .until_first
            .iter()
            .any(|&(thing, amount, before)| each(thing, end, first - before, amount));
        let three = hold
            .near_use
            .iter()
            .any(|&(thing, amount, before)| each(thing, first - before, last, amount));
        one || two || three
    }

    fn no_room_to_wait(&self, recipe: &Recipe, step: usize, end: i64) -> bool {
        self.waiting_uses(recipe, step, end, |thing, from, to, amount| {
            self.full(thing, from, to, amount).is_some()
        })
    }

    fn take(&mut self, one: Use, start: i64) {
        let (from, to) = (at(start + one.from), at(start + one.to));
        self.taken[one.thing].take(from, to, small(one.amount));
    }

    fn set(&mut self, recipe: &Recipe, step: usize, end: i64, window: usize) {
        let net = self.net;
        let mode = &net.steps[step].modes[recipe.modes[step]];
        let start = end - mode.length;
        self.starts[step] = start;
        self.ends[step] = end;
        self.windows[step] = window;
        self.placed[step] = true;
        if window < net.windows.len() {
            self.minutes[window] += mode.hands_minutes;
        }
        for one in &mode.uses {
            self.take(*one, start);
        }
        let mut rooms: [Option<Use>; 6] = [None; 6];
        let mut count = 0;
        self.waiting_uses(recipe, step, end, |thing, from, to, amount| {
            rooms[count.min(5)] = Some(Use { thing, from, to, amount });
            count += 1;
            false
        });
        for room in rooms.into_iter().flatten() {
            self.take(room, 0);
        }
        for index in 0..self.kept_from[step].len() {
            let kept = net.kept[self.kept_from[step][index]];
            let until = self.starts[kept.to].max(start + kept.least);
            self.take(Use { thing: kept.thing, from: start, to: until, amount: kept.amount }, 0);
        }
    }
}

/// Work of placing everything once.
pub fn decode_work(net: &Net) -> u64 {
    2 + net.steps.len() as u64 / 10
}

fn partners(net: &Net) -> Vec<Vec<Vec<Partner>>> {
    let mut all: Vec<Vec<Vec<Partner>>> =
        net.steps.iter().map(|step| step.modes.iter().map(|_| Vec::new()).collect()).collect();
    for apart in &net.aparts {
        for (mine, theirs, mine_first, theirs_first) in [
            (apart.one, apart.other, apart.one_first, apart.other_first),
            (apart.other, apart.one, apart.other_first, apart.one_first),
        ] {
            all[mine.step][mine.mode].push(Partner {
                step: theirs.step,
                mode: theirs.mode,
                mine: (mine.from, mine.to),
                theirs: (theirs.from, theirs.to),
                mine_first,
                theirs_first,
            });
        }
    }
    all
}
