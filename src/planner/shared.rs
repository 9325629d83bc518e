//! What several steps share: the same thing at once, an oven of one heat, an order on one day.

use std::collections::BTreeMap;

use crate::planner::flat::{Length, Lit, Pile, Task};
use crate::planner::model::{End, Limit, Model};
use crate::planner::net::{Net, Part};

impl Model {
    pub fn piles(&mut self, net: &Net) {
        for (thing, &capacity) in net.things.iter().enumerate() {
            let mut pile = Pile { capacity, tasks: Vec::new() };
            self.pile_of_steps(net, thing, &mut pile);
            self.pile_of_waiting(net, thing, &mut pile);
            self.pile_of_kept(net, thing, &mut pile);
            if pile.tasks.iter().map(|task| task.amount).sum::<i64>() > capacity {
                self.flat.piles.push(pile);
            }
        }
    }

    fn pile_of_steps(&mut self, net: &Net, thing: usize, pile: &mut Pile) {
        for (index, step) in net.steps.iter().enumerate() {
            for (mode, what) in step.modes.iter().enumerate() {
                for one in what
                    .uses
                    .iter()
                    .filter(|one| one.thing == thing && one.amount > 0 && one.to > one.from)
                {
                    let mut when = if step.modes.len() > 1 {
                        vec![Lit::Yes(self.modes[index][mode])]
                    } else {
                        Vec::new()
                    };
                    when.extend(self.limit(Limit::Use { thing, step: index }));
                    let when = self.all_of(when);
                    let length = Length::Fixed(one.to - one.from);
                    pile.tasks.push(Task {
                        start: self.starts[index],
                        shift: one.from,
                        length,
                        when,
                        amount: one.amount,
                    });
                }
            }
        }
    }

    fn pile_of_waiting(&mut self, net: &Net, thing: usize, pile: &mut Pile) {
        for (index, step) in net.steps.iter().enumerate() {
            let Some(uses) = self.uses[index] else { continue };
            for (at, hold) in step.holds.iter().enumerate() {
                let (end, plus) = self.ends[index];
                let mut rooms = Vec::new();
                rooms.extend(
                    hold.until_last
                        .iter()
                        .filter(|room| room.0 == thing)
                        .map(|room| ((end, plus), uses.gap, room.1)),
                );
                for room in hold.until_first.iter().filter(|room| room.0 == thing) {
                    rooms.push((
                        (end, plus),
                        self.length_of(net, (end, plus), (uses.first, -room.2)),
                        room.1,
                    ));
                }
                for room in hold.near_use.iter().filter(|room| room.0 == thing) {
                    rooms.push((
                        (uses.first, -room.2),
                        self.length_of(net, (uses.first, -room.2), (uses.last, 0)),
                        room.1,
                    ));
                }
                for ((start, shift), length, amount) in rooms {
                    let mut when = if step.holds.len() > 1 {
                        vec![Lit::Yes(self.holds[index][at])]
                    } else {
                        Vec::new()
                    };
                    when.extend(self.limit(Limit::Room { thing, step: index }));
                    let when = self.all_of(when);
                    pile.tasks.push(Task {
                        start,
                        shift,
                        length: Length::Of(length),
                        when,
                        amount,
                    });
                }
            }
        }
    }

    fn pile_of_kept(&mut self, net: &Net, thing: usize, pile: &mut Pile) {
        for (index, kept) in net.kept.iter().enumerate().filter(|(_, kept)| kept.thing == thing) {
            let length =
                self.length_of(net, (self.starts[kept.from], 0), (self.starts[kept.to], 0));
            self.flat.sum(vec![(length, -1)], -kept.least);
            let when = self.limit(Limit::Kept { kept: index });
            let when = self.all_of(when);
            pile.tasks.push(Task {
                start: self.starts[kept.from],
                shift: 0,
                length: Length::Of(length),
                when,
                amount: kept.amount,
            });
        }
    }

    /// The length between two times, nothing where the second comes first.
    fn length_of(&mut self, net: &Net, from: End, to: End) -> usize {
        let length = self.flat.var(vec![(0, net.horizon)]);
        self.flat.sum(vec![(length, -1), (to.0, 1), (from.0, -1)], from.1 - to.1);
        length
    }

    pub fn aparts(&mut self, net: &Net) {
        // Pairs of parts of the same two steps share a switch of order only across modes, of which one is done.
        let mut orders: BTreeMap<(usize, usize, usize), usize> = BTreeMap::new();
        let mut seen: BTreeMap<(usize, usize, usize, usize), usize> = BTreeMap::new();
        for apart in &net.aparts {
            let (one, other) = (apart.one, apart.other);
            let place = seen.entry((one.step, one.mode, other.step, other.mode)).or_insert(0);
            *place += 1;
            let order =
                *orders.entry((one.step, other.step, *place)).or_insert_with(|| self.flat.switch());
            let chosen = |model: &Self, part: Part| {
                (net.steps[part.step].modes.len() > 1)
                    .then(|| Lit::Yes(model.modes[part.step][part.mode]))
            };
            let mut when: Vec<Lit> =
                [chosen(self, one), chosen(self, other)].into_iter().flatten().collect();
            when.extend(self.limit(Limit::Apart { one: one.step, other: other.step }));
            for (first, second, gap, lit) in [
                (one, other, apart.one_first, Lit::Yes(order)),
                (other, one, apart.other_first, Lit::No(order)),
            ] {
                let mut when = when.clone();
                when.push(lit);
                let terms = vec![(self.starts[first.step], 1), (self.starts[second.step], -1)];
                self.flat.sum_when(when, terms, second.from - first.to - gap);
            }
        }
    }

    pub fn turns(&mut self, net: &Net) {
        for (index, turn) in net.turns.iter().enumerate() {
            for window in 0..net.windows.len() {
                let (Some(before), Some(after)) =
                    (self.lies[turn.before][window], self.lies[turn.after][window])
                else {
                    continue;
                };
                let mut when = vec![Lit::Yes(before), Lit::Yes(after)];
                when.extend(self.limit(Limit::Turn { turn: index }));
                let (end, plus) = self.ends[turn.before];
                self.flat.sum_when(when, vec![(end, 1), (self.starts[turn.after], -1)], -plus);
            }
        }
    }

    /// A switch that is on when all of these are; none when there are none.
    fn all_of(&mut self, lits: Vec<Lit>) -> Option<Lit> {
        match lits.as_slice() {
            [] => None,
            [only] => Some(*only),
            many => {
                let both = self.flat.switch();
                let mut clause: Vec<Lit> = many.iter().map(|lit| lit.turned()).collect();
                clause.push(Lit::Yes(both));
                self.flat.clauses.push(clause);
                Some(Lit::Yes(both))
            }
        }
    }
}
