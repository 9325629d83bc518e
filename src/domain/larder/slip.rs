//! Slips of the pen: how far a typed name is from a known one.

/// Shorter names have too many neighbours.
pub(super) const LETTERS_MIN: usize = 5;

/// From this length on two letters may be wrong.
const LONG: usize = 8;

const LONGEST: usize = 40;

/// A name with the set of its letters, so that most others need not be compared.
#[derive(Clone, Debug)]
pub(super) struct Name {
    pub text: String,
    letters: u32,
}

impl Name {
    pub(super) fn of(text: &str) -> Self {
        let bit = |byte: u8| 1_u32 << (byte % 32);
        Self { text: text.to_owned(), letters: text.bytes().fold(0, |set, byte| set | bit(byte)) }
    }

    /// False when the two differ in more letters, or in length, than a slip could make them.
    pub(super) fn may_be(&self, other: &Self) -> bool {
        let most = most(&self.text, &other.text);
        let longer = self.text.len().abs_diff(other.text.len());
        (self.letters ^ other.letters).count_ones() as usize <= 2 * most && longer <= 2 * most
    }
}

fn most(typed: &str, known: &str) -> usize {
    if typed.len() >= LONG && known.len() >= LONG { 2 } else { 1 }
}

/// How many letters were left out, added, changed or swapped; none when it is more than a slip.
pub(super) fn distance(typed: &str, known: &str) -> Option<usize> {
    let most = most(typed, known);
    if typed.len().abs_diff(known.len()) > 2 * most || typed.len().max(known.len()) > LONGEST {
        return None;
    }
    let (typed, known) = (letters(typed), letters(known));
    let (typed, known) = (&typed.0[..typed.1], &known.0[..known.1]);
    // Every unknown name is held against some hundred known ones: no memory is asked for.
    let [mut before, mut last, mut now] = [[0_usize; LONGEST + 1]; 3];
    for (column, away) in last.iter_mut().enumerate() {
        *away = column;
    }
    for row in 1..=typed.len() {
        now[0] = row;
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
            now[column] = least;
        }
        if now[..=known.len()].iter().all(|it| *it > most) {
            return None;
        }
        before = std::mem::replace(&mut last, now);
    }
    Some(last[known.len()]).filter(|away| *away <= most)
}

/// The letters of a name of at most [`LONGEST`] bytes, and how many they are.
fn letters(name: &str) -> ([char; LONGEST], usize) {
    let (mut letters, mut count) = ([' '; LONGEST], 0);
    for (place, letter) in letters.iter_mut().zip(name.chars()) {
        *place = letter;
        count += 1;
    }
    (letters, count)
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
