//! A school's own foods on top of the shipped larder.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::Timestamp;

use super::{CorruptRow, Storage, StorageError};
use crate::domain::larder::{Food, FoodKey, Larder};
use crate::domain::school::SchoolId;
use crate::exchange::document;

/// Larders in memory: the same one is handed out until a food of its school changes, so that cards
/// read with it stay read.
#[derive(Clone, Debug, Default)]
pub(super) struct Larders(Arc<Mutex<HashMap<SchoolId, Arc<Larder>>>>);

impl Larders {
    fn known(&self, school: SchoolId) -> Option<Arc<Larder>> {
        self.locked(|larders| larders.get(&school).cloned())
    }

    fn keep(&self, school: SchoolId, larder: Arc<Larder>) -> Arc<Larder> {
        self.locked(|larders| Arc::clone(larders.entry(school).or_insert(larder)))
    }

    fn forget(&self, school: SchoolId) {
        self.locked(|larders| larders.remove(&school));
    }

    fn locked<T>(&self, look: impl FnOnce(&mut HashMap<SchoolId, Arc<Larder>>) -> T) -> T {
        look(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Storage {
    /// The larder this school reads with: the shipped one and its own rows on top.
    pub async fn larder(&self, school: SchoolId) -> Result<Arc<Larder>, StorageError> {
        if let Some(larder) = self.larders.known(school) {
            return Ok(larder);
        }
        let own = self.own_foods(school).await?;
        let shipped = Larder::shipped();
        let larder = if own.is_empty() { shipped } else { Arc::new(shipped.with(own)) };
        Ok(self.larders.keep(school, larder))
    }

    /// The rows a school wrote itself, by key.
    pub async fn own_foods(&self, school: SchoolId) -> Result<Vec<Food>, StorageError> {
        let rows = sqlx::query_scalar::<_, String>(
            "select food from food where school_id = ? order by food_key",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        let read = |text: &String| {
            document::read(text).map_err(|error| CorruptRow {
                table: "food",
                column: "food",
                row: school.0,
                reason: error.to_string(),
            })
        };
        Ok(rows.iter().map(read).collect::<Result<_, _>>()?)
    }

    /// Writes foods of a school, all or none; a key that is there already is changed.
    pub async fn save_foods(
        &self,
        school: SchoolId,
        foods: &[Food],
        at: Timestamp,
    ) -> Result<(), StorageError> {
        let rows: Vec<(String, String)> =
            foods.iter().map(|food| (food.key.to_string(), document::write(food))).collect();
        let saved = self.write(move |connection| {
            Box::pin(async move {
                for (key, text) in rows {
                    sqlx::query(
                        "insert into food (school_id, food_key, food, changed_at) values (?, ?, ?, ?)
                         on conflict (school_id, food_key) do update
                         set food = excluded.food, changed_at = excluded.changed_at,
                             version = version + 1",
                    )
                    .bind(school.0)
                    .bind(key)
                    .bind(text)
                    .bind(at.as_second())
                    .execute(&mut *connection)
                    .await?;
                }
                Ok(())
            })
        });
        let saved = saved.await;
        self.larders.forget(school);
        saved
    }

    /// Takes a school's own row away; what was shipped under its key is back.
    pub async fn drop_food(&self, school: SchoolId, key: &FoodKey) -> Result<(), StorageError> {
        let key = key.to_string();
        let dropped = self.write(move |connection| {
            Box::pin(async move {
                sqlx::query("delete from food where school_id = ? and food_key = ?")
                    .bind(school.0)
                    .bind(key)
                    .execute(connection)
                    .await
                    .map(drop)
            })
        });
        let dropped = dropped.await;
        self.larders.forget(school);
        dropped
    }
}
