//! Slips of the pen: how far a typed name is from a known one.

/// Shorter names have too many neighbours.
pub(super) const LETTERS_MIN: usize = 5;

/// From this length on two letters may be wrong.
const LONG: usize = 8;

const LONGEST: usize = 40;

/// How many letters were left out, added, changed or swapped; none when it is more than a slip.
pub(super) fn distance(typed: &str, known: &str) -> Option<usize> {
    let most = if typed.len() >= LONG && known.len() >= LONG { 2 } else { 1 };
    if typed.len().abs_diff(known.len()) > 2 * most || typed.len().max(known.len()) > LONGEST {
        return None;
    }
    let typed: Vec<char> = typed.chars().collect();
    let known: Vec<char> = known.chars().collect();
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=known.len()).collect();
    for row in 1..=typed.len() {
        let mut now = vec![row];
        for column in 1..=known.len() {
            let same = typed[row - 1] == known[column - 1];
            let changed = last[column - 1] + usize::from(!same);
            let mut least = changed.min(last[column] + 1).min(now[column - 1] + 1);
            let swapped = row > 1
                && column > 1
                && typed[row - 1] == known[column - 2]
                && typed[row - 2] == known[column - 1];
            if swapped {
                least = least.min(before[column - 2] + 1);
            }
            now.push(least);
        }
        if now.iter().all(|it| *it > most) {
            return None;
        }
        before = std::mem::replace(&mut last, now);
    }
    last.last().copied().filter(|away| *away <= most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_or_two_in_a_long_name_are_a_slip() {
        for (typed, known, away) in [
            ("corriander", "coriander", Some(1)),
            ("vegtable stock", "vegetable stock", Some(1)),
            ("brocolli", "broccoli", Some(2)),
            ("parsely", "parsley", Some(1)),
            ("carot", "carrot", Some(1)),
            ("leeks", "beets", None),
            ("butternut squash", "butter", None),
        ] {
            assert_eq!(distance(typed, known), away, "{typed}");
        }
    }
}
