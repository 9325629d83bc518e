//! A school's own foods on top of the shipped larder.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::Timestamp;

use super::{CorruptRow, Storage, StorageError};
use crate::domain::larder::{Food, FoodKey, Larder, Meaning, Meant, as_said};
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

#[derive(sqlx::FromRow)]
struct MeaningRow {
    said: String,
    is_line: bool,
    meant: String,
}

impl Storage {
    /// The larder this school reads with: the shipped one and its own rows on top.
    pub async fn larder(&self, school: SchoolId) -> Result<Arc<Larder>, StorageError> {
        if let Some(larder) = self.larders.known(school) {
            return Ok(larder);
        }
        let own = self.own_foods(school).await?;
        let shipped = Larder::shipped();
        let meanings = self.meanings(school).await?;
        let larder = if own.is_empty() { shipped } else { Arc::new(shipped.with(own)) };
        let larder = match meanings.as_slice() {
            [] => larder,
            some => Arc::new(larder.with_meanings(some)),
        };
        Ok(self.larders.keep(school, larder))
    }

    /// What the school's own words mean, in the order of the words.
    pub async fn meanings(&self, school: SchoolId) -> Result<Vec<Meaning>, StorageError> {
        let rows = sqlx::query_as::<_, MeaningRow>(
            "select said, is_line, meant from meaning where school_id = ? order by said",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        let meaning = |MeaningRow { said, is_line, meant }| {
            let is = if is_line { Meant::Line(meant) } else { Meant::Food(FoodKey::new(&meant)) };
            Meaning { said, is }
        };
        Ok(rows.into_iter().map(meaning).collect())
    }

    /// Keeps a correction; the newest of the same words stands.
    pub async fn save_meaning(
        &self,
        school: SchoolId,
        meaning: &Meaning,
        at: Timestamp,
    ) -> Result<(), StorageError> {
        let said = meaning.said.clone();
        let (is_line, meant) = match &meaning.is {
            Meant::Line(line) => (true, line.clone()),
            Meant::Food(key) => (false, key.to_string()),
        };
        let saved = self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "insert into meaning (school_id, said, is_line, meant, made_at)
                     values (?, ?, ?, ?, ?)
                     on conflict (school_id, said) do update
                     set is_line = excluded.is_line, meant = excluded.meant,
                         made_at = excluded.made_at",
                )
                .bind(school.0)
                .bind(said)
                .bind(is_line)
                .bind(meant)
                .bind(at.as_second())
                .execute(connection)
                .await
                .map(drop)
            })
        });
        let saved = saved.await;
        self.larders.forget(school);
        saved
    }

    /// Takes a correction away: its words are read as written again.
    pub async fn drop_meaning(&self, school: SchoolId, said: &str) -> Result<(), StorageError> {
        let said = as_said(said);
        let dropped = self.write(move |connection| {
            Box::pin(async move {
                sqlx::query("delete from meaning where school_id = ? and said = ?")
                    .bind(school.0)
                    .bind(said)
                    .execute(connection)
                    .await
                    .map(drop)
            })
        });
        let dropped = dropped.await;
        self.larders.forget(school);
        dropped
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
