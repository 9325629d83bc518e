//! A school's own foods on top of the shipped larder.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::Timestamp;
use sqlx::sqlite::SqliteConnection;

use super::writer::Running;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::larder::{Food, FoodKey, Larder, Meaning, Meant, as_said};
use crate::domain::school::SchoolId;
use crate::exchange::document;

/// Larders in memory: the same one is handed out until a food of its school changes, so that cards
/// read with it stay read.
#[derive(Clone, Debug, Default)]
pub(super) struct Larders(Arc<Mutex<Held>>);

#[derive(Debug, Default)]
struct Held {
    of_school: HashMap<SchoolId, Arc<Larder>>,
    /// Rises whenever a larder is forgotten: what was read before that may be out of date.
    turn: u64,
}

impl Larders {
    /// The larder kept, or the turn in which it is to be read.
    fn known(&self, school: SchoolId) -> Result<Arc<Larder>, u64> {
        self.locked(|held| held.of_school.get(&school).cloned().ok_or(held.turn))
    }

    /// Keeps what was read in `turn`, unless a food or word changed meanwhile.
    fn keep(&self, turn: u64, school: SchoolId, larder: Arc<Larder>) -> Arc<Larder> {
        self.locked(|held| {
            if held.turn == turn {
                Arc::clone(held.of_school.entry(school).or_insert(larder))
            } else {
                larder
            }
        })
    }

    fn forget(&self, school: SchoolId) {
        self.locked(|held| {
            held.of_school.remove(&school);
            held.turn += 1;
        });
    }

    fn locked<T>(&self, look: impl FnOnce(&mut Held) -> T) -> T {
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
        let turn = match self.larders.known(school) {
            Ok(larder) => return Ok(larder),
            Err(turn) => turn,
        };
        let own = self.own_foods(school).await?;
        let shipped = Larder::shipped();
        let meanings = self.meanings(school).await?;
        let larder = if own.is_empty() { shipped } else { Arc::new(shipped.with(own)) };
        let larder = match meanings.as_slice() {
            [] => larder,
            some => Arc::new(larder.with_meanings(some)),
        };
        Ok(self.larders.keep(turn, school, larder))
    }

    /// Writes, and reads the larder of the school anew when it is asked for next.
    async fn write_larder<J>(&self, school: SchoolId, job: J) -> Result<(), StorageError>
    where
        J: for<'c> FnOnce(&'c mut SqliteConnection) -> Running<'c, sqlx::Result<()>>,
        J: Send + 'static,
    {
        let written = self.write(job).await;
        self.larders.forget(school);
        written
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
        self.write_larder(school, move |connection| {
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
        })
        .await
    }

    /// Takes a correction away: its words are read as written again.
    pub async fn drop_meaning(&self, school: SchoolId, said: &str) -> Result<(), StorageError> {
        let said = as_said(said);
        self.write_larder(school, move |connection| {
            Box::pin(async move {
                sqlx::query("delete from meaning where school_id = ? and said = ?")
                    .bind(school.0)
                    .bind(said)
                    .execute(connection)
                    .await
                    .map(drop)
            })
        })
        .await
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
        self.write_larder(school, move |connection| {
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
        })
        .await
    }

    /// Takes a school's own row away; what was shipped under its key is back.
    pub async fn drop_food(&self, school: SchoolId, key: &FoodKey) -> Result<(), StorageError> {
        let key = key.to_string();
        self.write_larder(school, move |connection| {
            Box::pin(async move {
                sqlx::query("delete from food where school_id = ? and food_key = ?")
                    .bind(school.0)
                    .bind(key)
                    .execute(connection)
                    .await
                    .map(drop)
            })
        })
        .await
    }
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::*;

    #[test]
    fn a_larder_read_before_a_change_is_not_kept_after_it() {
        let (larders, school) = (Larders::default(), SchoolId(Uuid::nil()));
        let turn = larders.known(school).unwrap_err();
        larders.forget(school);
        larders.keep(turn, school, Larder::shipped());
        let turn = larders.known(school).unwrap_err();
        larders.keep(turn, school, Larder::shipped());
        assert!(larders.known(school).is_ok());
    }
}
