//! One exact small search: which whole things, and how many of each, cover a need.
//!
//! Serves vessels (least shelf) and packs (least waste). Sizes are whole numbers in a unit that the
//! caller chose, so that nothing is rounded here.

/// Something that comes in wholes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// How much of the need one covers; over 0.
    pub size: u64,
    /// What one costs, in the caller's own unit.
    pub cost: u64,
}

/// Needs beyond this many units are first filled by the largest item.
const UNITS_MAX: u64 = 20_000;

/// How many of each item cover `need` at least: least cost, then least over, then fewest.
///
/// None when there is no item. A need of 0 takes nothing.
pub fn cover(need: u64, items: &[Item]) -> Option<Vec<u64>> {
    let largest = items.iter().enumerate().max_by_key(|(_, item)| item.size)?;
    let filled = if need > UNITS_MAX { (need - UNITS_MAX) / largest.1.size } else { 0 };
    let left = need - filled * largest.1.size;
    let best = table(left, items);
    let reach = usize::try_from(left).ok()?;
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
    counts[largest.0] += filled;
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
    let over = items.iter().map(|item| item.size).max().unwrap_or(0);
    let length = usize::try_from(need + over).unwrap_or(usize::MAX);
    let mut best: Vec<Option<Best>> = vec![None; length];
    if let Some(nothing) = best.first_mut() {
        *nothing = Some(Best { cost: 0, count: 0, last: 0 });
    }
    for covered in 1..length {
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

    #[test]
    fn a_need_without_items_has_no_answer() {
        assert_eq!(cover(3, &[]), None);
        assert_eq!(cover(0, &[Item { size: 2, cost: 1 }]), Some(vec![0]));
    }
}
