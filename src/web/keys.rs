//! Which home a key opens, so that a tick reads nothing of storage before it writes.
//!
//! Nothing has to be forgotten here when a home goes: the schema refuses an event of it.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::domain::home::HomeId;
use crate::domain::school::SchoolId;

/// Beyond this many keys all are forgotten and looked up anew: simple, and rare.
const KEYS_MAX: usize = 10_000;

/// The key ring of the house, by the hash of each key. Cheap to clone.
#[derive(Clone, Debug, Default)]
pub struct Keys(Arc<Mutex<Ring>>);

type Ring = HashMap<[u8; 32], (SchoolId, HomeId)>;

impl Keys {
    pub fn known(&self, hash: &[u8; 32]) -> Option<(SchoolId, HomeId)> {
        self.locked().get(hash).copied()
    }

    pub fn keep(&self, hash: [u8; 32], home: (SchoolId, HomeId)) {
        let mut held = self.locked();
        if held.len() >= KEYS_MAX {
            held.clear();
        }
        held.insert(hash, home);
    }

    fn locked(&self) -> MutexGuard<'_, Ring> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
