//! One exact small search: which whole things, and how many of each, cover a need.
//!
//! Serves vessels (least shelf) and packs (least waste). Sizes are whole numbers in a unit that the
//! caller chose, so that nothing is rounded here.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::Zero;

/// Something that comes in wholes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// How much of the need one covers; over 0.
    pub size: u64,
    /// What one costs, in the caller's own unit.
    pub cost: u64,
}

/// The largest figure of which every size is a whole multiple.
pub fn common_grain(sizes: &[BigRational]) -> Option<BigRational> {
    let gcd = |mut a: BigInt, mut b: BigInt| {
        while !b.is_zero() {
            (a, b) = (b.clone(), a % b);
        }
        a
    };
    let lcm = |a: &BigInt, b: &BigInt| a / gcd(a.clone(), b.clone()) * b;
    let first = sizes.first().filter(|size| !size.is_zero())?;
    let below = sizes.iter().fold(first.denom().clone(), |all, size| lcm(&all, size.denom()));
    let scaled =
        sizes.iter().map(|size| (size * BigRational::from_integer(below.clone())).to_integer());
    let above = scaled.reduce(gcd)?;
    Some(BigRational::new(above, below))
}

/// A table of at most so many rows answers small needs, whatever the sizes.
const ROWS_MAX: u64 = 20_000;
/// At most so many ways are tried where a table would be too long.
const WAYS_MAX: u64 = 200_000;

/// How many of each item cover `need` at least: least cost, then least over, then fewest.
///
/// None when there is no item. A need of 0 takes nothing. Exact wherever the table or the ways stay
/// within their bounds, which no kitchen leaves; beyond, the largest item fills first.
pub fn cover(need: u64, items: &[Item]) -> Option<Vec<u64>> {
    let (place, largest) = items.iter().enumerate().max_by_key(|(_, item)| item.size)?;
    if let [only] = items {
        return Some(vec![need.div_ceil(only.size.max(1))]);
    }
    let mut filled = 0;
    let mut left = need;
    while left > largest.size && rows(left, items) > ROWS_MAX && ways(left, items) > WAYS_MAX {
        // Halving what is above the bound keeps this short.
        let more = (left / largest.size / 2).max(1);
        filled += more;
        left -= more * largest.size;
    }
    let mut counts =
        if rows(left, items) <= ROWS_MAX { by_table(left, items)? } else { by_trying(left, items) };
    counts[place] += filled;
    Some(counts)
}

fn rows(need: u64, items: &[Item]) -> u64 {
    need.saturating_add(items.iter().map(|item| item.size).max().unwrap_or(0))
}

/// Counts of all items but the smallest, whose count follows.
fn ways(need: u64, items: &[Item]) -> u64 {
    let smallest = items.iter().map(|item| item.size).min().unwrap_or(1).max(1);
    let all = items.iter().map(|item| need / item.size.max(1) + 2);
    all.fold(1, u64::saturating_mul) / (need / smallest + 2)
}

fn by_table(need: u64, items: &[Item]) -> Option<Vec<u64>> {
    let best = table(need, items);
    let reach = usize::try_from(need).ok()?;
    let end = (reach..best.len())
        .filter_map(|covered| best[covered].map(|it| (it.cost, covered, it.count)))
        .min()?;
    let mut counts = vec![0; items.len()];
    let mut at = end.1;
    while at > 0 {
        let last = best[at]?.last;
        counts[last] += 1;
        at -= usize::try_from(items[last].size).ok()?;
    }
    Some(counts)
}

/// The cheapest way to cover exactly so much, and the item it took last.
#[derive(Clone, Copy, Debug)]
struct Best {
    cost: u64,
    count: u64,
    last: usize,
}

fn table(need: u64, items: &[Item]) -> Vec<Option<Best>> {
    let length = usize::try_from(rows(need, items)).unwrap_or(usize::MAX);
    let mut best: Vec<Option<Best>> = vec![None; length.max(1)];
    best[0] = Some(Best { cost: 0, count: 0, last: 0 });
    for covered in 1..best.len() {
        for (last, item) in items.iter().enumerate() {
            let size = usize::try_from(item.size).unwrap_or(usize::MAX);
            let Some(before) = covered.checked_sub(size).and_then(|at| best[at]) else { continue };
            let way = Best { cost: before.cost + item.cost, count: before.count + 1, last };
            if best[covered].is_none_or(|it| (way.cost, way.count) < (it.cost, it.count)) {
                best[covered] = Some(way);
            }
        }
    }
    best
}

/// Every count of the larger items, each finished with as few of the smallest as will do.
fn by_trying(need: u64, items: &[Item]) -> Vec<u64> {
    let mut order: Vec<usize> = (0..items.len()).collect();
    order.sort_by_key(|at| std::cmp::Reverse(items[*at].size));
    let smallest = order.pop().unwrap_or(0);
    let mut counts = vec![0; items.len()];
    let mut best: Option<((u64, u64, u64), Vec<u64>)> = None;
    for _ in 0..=WAYS_MAX {
        let covered: u64 = order.iter().map(|at| counts[*at] * items[*at].size).sum();
        counts[smallest] = need.saturating_sub(covered).div_ceil(items[smallest].size.max(1));
        let sum = |of: fn(&Item) -> u64| -> u64 {
            items.iter().zip(&counts).map(|(item, n)| of(item) * n).sum()
        };
        let way = (sum(|it| it.cost), sum(|it| it.size), counts.iter().sum());
        if best.as_ref().is_none_or(|(it, _)| way < *it) {
            best = Some((way, counts.clone()));
        }
        let more = |at: &usize| counts[*at] < need.div_ceil(items[*at].size.max(1));
        let Some(turn) = order.iter().position(more) else { break };
        counts[order[turn]] += 1;
        for at in &order[..turn] {
            counts[*at] = 0;
        }
    }
    best.map_or(counts, |(_, counts)| counts)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Tries every count of every item.
    fn slow_twin(need: u64, items: &[Item]) -> Option<(u64, u64, u64)> {
        let most: Vec<u64> = items.iter().map(|item| need.div_ceil(item.size)).collect();
        let mut best = None;
        let mut counts = vec![0; items.len()];
        loop {
            let size: u64 = counts.iter().zip(items).map(|(n, item)| n * item.size).sum();
            let cost: u64 = counts.iter().zip(items).map(|(n, item)| n * item.cost).sum();
            let way = (cost, size, counts.iter().sum());
            if size >= need && best.is_none_or(|it| way < it) {
                best = Some(way);
            }
            let Some(next) = (0..items.len()).find(|&at| counts[at] < most[at]) else {
                return best;
            };
            counts[next] += 1;
            counts[..next].fill(0);
        }
    }

    fn item() -> impl Strategy<Value = Item> {
        (1..12_u64, 0..9_u64).prop_map(|(size, cost)| Item { size, cost })
    }

    proptest! {
        #[test]
        fn agrees_with_trying_everything(need in 0..40_u64, items in prop::collection::vec(item(), 1..4)) {
            let counts = cover(need, &items).unwrap();
            let size: u64 = counts.iter().zip(&items).map(|(n, item)| n * item.size).sum();
            let cost: u64 = counts.iter().zip(&items).map(|(n, item)| n * item.cost).sum();
            prop_assert_eq!(Some((cost, size, counts.iter().sum())), slow_twin(need, &items));
        }
    }

    proptest! {
        #[test]
        fn trying_agrees_with_the_table(need in 0..40_u64, items in prop::collection::vec(item(), 1..4)) {
            let measure = |counts: &[u64]| -> (u64, u64, u64) {
                let sum = |of: fn(&Item) -> u64| -> u64 {
                    counts.iter().zip(&items).map(|(n, item)| n * of(item)).sum()
                };
                (sum(|it| it.cost), sum(|it| it.size), counts.iter().sum())
            };
            prop_assert_eq!(
                measure(&by_trying(need, &items)),
                measure(&by_table(need, &items).unwrap())
            );
        }
    }

    /// A pound beside half a kilogram: the common grain is a hundredth of a milligram.
    #[test]
    fn sizes_without_a_common_measure_are_still_few_packs() {
        let packs = [45_359_237, 50_000_000].map(|size| Item { size, cost: size });
        assert_eq!(cover(95_000_000, &packs), Some(vec![1, 1]));
        assert_eq!(cover(90_000_000, &packs), Some(vec![2, 0]));
        let many = cover(45_359_237 * 100_000, &packs).unwrap();
        assert!(many[0] + many[1] >= 90_000);
    }

    #[test]
    fn a_need_without_items_has_no_answer() {
        assert_eq!(cover(3, &[]), None);
        assert_eq!(cover(0, &[Item { size: 2, cost: 1 }]), Some(vec![0]));
    }
}
