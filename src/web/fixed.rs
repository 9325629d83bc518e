//! Publications as they were read, kept in memory: what is fixed is read once.
//!
//! The school is part of the key, so that no number opens what another school published.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use crate::domain::menu::PublicationId;
use crate::domain::publication::Published;
use crate::domain::school::SchoolId;
use crate::storage::{Storage, StorageError};

/// Beyond this many all are forgotten and read anew: simple, and rare. One takes some 200 kB.
const FIXED_MAX: usize = 32;

type Key = (SchoolId, PublicationId);

/// The memo of the house. Cheap to clone.
#[derive(Clone, Debug, Default)]
pub struct Fixed(Arc<Mutex<HashMap<Key, Arc<Published>>>>);

impl Fixed {
    /// What a school fixed under `id`; `None` when it has no such publication.
    pub async fn publication(
        &self,
        storage: &Storage,
        school: SchoolId,
        id: PublicationId,
    ) -> Result<Option<Arc<Published>>, StorageError> {
        if let Some(known) = self.locked(|fixed| fixed.get(&(school, id)).cloned()) {
            return Ok(Some(known));
        }
        let Some(read) = storage.publication(school, id).await? else { return Ok(None) };
        let read = Arc::new(read);
        self.locked(|fixed| {
            if fixed.len() >= FIXED_MAX {
                fixed.clear();
            }
            fixed.insert((school, id), Arc::clone(&read));
        });
        Ok(Some(read))
    }

    fn locked<T>(&self, look: impl FnOnce(&mut HashMap<Key, Arc<Published>>) -> T) -> T {
        look(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}
