//! What was read from cards, kept in memory: the same text with the same larder is read once.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use sha2::{Digest, Sha256};

use crate::domain::card::{self, Reading};
use crate::domain::larder::Larder;

/// Texts held in one half; a few schools with some hundred dishes each.
const HALF_MAX: usize = 1_000;

/// A text by its checksum, and the larder by where it lies in memory.
type Key = ([u8; 32], usize);

/// The memo of the house. Cheap to clone.
#[derive(Clone, Debug, Default)]
pub struct Cards(Arc<Mutex<Halves>>);

/// When the young half is full it becomes the old one; what is not asked for again falls out.
#[derive(Debug, Default)]
struct Halves {
    young: HashMap<Key, Entry>,
    old: HashMap<Key, Entry>,
}

#[derive(Clone, Debug)]
struct Entry {
    reading: Arc<Reading>,
    /// Held, so that no other larder can come to lie at the same place.
    _larder: Arc<Larder>,
}

impl Cards {
    /// The card that a text says, with what was remarked on it.
    ///
    /// `bases` are the titles of the school's bases: a name that goes in may stand for one.
    pub fn read(&self, text: &str, larder: &Arc<Larder>, bases: &[String]) -> Arc<Reading> {
        let mut sum = Sha256::new_with_prefix(text);
        for base in bases {
            // No text holds this byte in UTF-8, so that the parts cannot run together.
            sum.update([0xff]);
            sum.update(base);
        }
        let key = (sum.finalize().into(), Arc::as_ptr(larder).addr());
        if let Some(reading) = self.known(&key) {
            return reading;
        }
        let reading = Arc::new(card::read_with_bases(text, larder, bases));
        let entry = Entry { reading: Arc::clone(&reading), _larder: Arc::clone(larder) };
        self.halves(|halves| halves.put(key, entry));
        reading
    }

    fn known(&self, key: &Key) -> Option<Arc<Reading>> {
        self.halves(|halves| {
            if let Some(entry) = halves.young.get(key) {
                return Some(Arc::clone(&entry.reading));
            }
            let entry = halves.old.remove(key)?;
            let reading = Arc::clone(&entry.reading);
            halves.put(*key, entry);
            Some(reading)
        })
    }

    fn halves<T>(&self, look: impl FnOnce(&mut Halves) -> T) -> T {
        // A memo is right or empty; a panic elsewhere cannot leave it half-changed.
        look(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Halves {
    fn put(&mut self, key: Key, entry: Entry) {
        if self.young.len() >= HALF_MAX {
            self.old = std::mem::take(&mut self.young);
        }
        self.young.insert(key, entry);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_read_once_for_each_larder_and_the_memo_stays_bounded() {
        let (cards, one) = (Cards::default(), Arc::new(Larder::default()));
        let other = Arc::new(Larder::default());
        let first = cards.read("Leeks\n+ leeks", &one, &[]);
        assert!(Arc::ptr_eq(&first, &cards.read("Leeks\n+ leeks", &one, &[])));
        assert!(!Arc::ptr_eq(&first, &cards.read("Leeks\n+ leeks", &other, &[])));
        assert!(!Arc::ptr_eq(&first, &cards.read("Leeks\n+ leeks", &one, &["Leeks".to_owned()])));
        for number in 0..3 * HALF_MAX {
            cards.read(&format!("Dish {number}"), &one, &[]);
        }
        let held = cards.halves(|halves| halves.young.len() + halves.old.len());
        assert!(held <= 2 * HALF_MAX, "{held}");
        let again = cards.read("Leeks\n+ leeks", &one, &[]);
        assert!(!Arc::ptr_eq(&first, &again), "the oldest fell out");
        assert_eq!(first, again);
    }
}
