//! Dishes in the database: drafts that are changed, and put away.

use jiff::Timestamp;
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::error::is_duplicate;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::card::DishKind;
use crate::domain::dish::{Dish, DishId, NewDish};
use crate::domain::school::SchoolId;
use crate::domain::text::{CardText, DishTitle};

/// How storing a dish can fail in a way the instructor can put right.
#[derive(Debug, thiserror::Error)]
pub enum AddDishError {
    #[error("a dish with this name exists")]
    TitleTaken,
    #[error(transparent)]
    Storage(StorageError),
}

/// How saving a change can fail in a way the instructor can put right.
#[derive(Debug, thiserror::Error)]
pub enum SaveDishError {
    #[error("no such dish")]
    NotThere,
    #[error("the dish was changed meanwhile")]
    Stale(Box<Dish>),
    #[error("another dish has this name")]
    TitleTaken,
    #[error(transparent)]
    Storage(StorageError),
}

/// What became of a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saved {
    Changed,
    /// The same words were there already; the version stays.
    Unchanged,
}

/// What a job that saves found in the row.
enum Found {
    Nothing,
    Newer(DishRow),
    Done(Saved),
}

async fn put_dish(
    connection: &mut SqliteConnection,
    school: SchoolId,
    dish: &Dish,
) -> Result<(), sqlx::Error> {
    sqlx::query(
        "insert into dish (dish_id, school_id, kind, title, title_folded, draft,
             written_at, archived_at, version)
         values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
    )
    .bind(dish.id.0)
    .bind(school.0)
    .bind(dish.kind.word())
    .bind(dish.title.as_str())
    .bind(dish.title.folded())
    .bind(dish.card.as_str())
    .bind(dish.written_at.as_second())
    .bind(dish.archived_at.map(Timestamp::as_second))
    .bind(dish.version)
    .execute(connection)
    .await
    .map(drop)
}

impl Storage {
    pub async fn add_dish(&self, school: SchoolId, dish: &Dish) -> Result<(), AddDishError> {
        self.add_dishes(school, std::slice::from_ref(dish)).await
    }

    /// All of them or none.
    pub async fn add_dishes(&self, school: SchoolId, dishes: &[Dish]) -> Result<(), AddDishError> {
        let dishes = dishes.to_vec();
        let added = self.write(move |connection| {
            Box::pin(async move {
                for dish in &dishes {
                    put_dish(connection, school, dish).await?;
                }
                Ok(())
            })
        });
        added.await.map_err(|error| {
            if is_duplicate(&error, "dish.title_folded") {
                AddDishError::TitleTaken
            } else {
                AddDishError::Storage(error)
            }
        })
    }

    /// Saves the text that was made from `version`. A newer one in between wins and comes back.
    pub async fn save_dish(
        &self,
        school: SchoolId,
        id: DishId,
        new: &NewDish,
        version: u32,
        written_at: Timestamp,
    ) -> Result<Saved, SaveDishError> {
        let new = new.clone();
        let found = self.write(move |connection| {
            Box::pin(async move {
                let row = sqlx::query_as::<_, DishRow>(
                    "select dish_id, kind, title, draft, written_at, archived_at, version from dish
                     where school_id = ? and dish_id = ?",
                )
                .bind(school.0)
                .bind(id.0)
                .fetch_optional(&mut *connection)
                .await?;
                let Some(row) = row else { return Ok(Found::Nothing) };
                if row.draft == new.card.as_str() {
                    return Ok(Found::Done(Saved::Unchanged));
                }
                if row.version != version {
                    return Ok(Found::Newer(row));
                }
                sqlx::query(
                    "update dish set kind = ?, title = ?, title_folded = ?, draft = ?,
                         written_at = ?, version = version + 1
                     where school_id = ? and dish_id = ?",
                )
                .bind(new.kind.word())
                .bind(new.title.as_str())
                .bind(new.title.folded())
                .bind(new.card.as_str())
                .bind(written_at.as_second())
                .bind(school.0)
                .bind(id.0)
                .execute(connection)
                .await?;
                Ok(Found::Done(Saved::Changed))
            })
        });
        match found.await {
            Ok(Found::Done(saved)) => Ok(saved),
            Ok(Found::Nothing) => Err(SaveDishError::NotThere),
            Ok(Found::Newer(row)) => Err(match Dish::try_from(row) {
                Ok(dish) => SaveDishError::Stale(Box::new(dish)),
                Err(corrupt) => SaveDishError::Storage(corrupt.into()),
            }),
            Err(error) if is_duplicate(&error, "dish.title_folded") => {
                Err(SaveDishError::TitleTaken)
            }
            Err(error) => Err(SaveDishError::Storage(error)),
        }
    }

    /// Puts a dish away; it stays in every menu it is in. False when the school has none such.
    pub async fn archive_dish(
        &self,
        school: SchoolId,
        id: DishId,
        at: Timestamp,
    ) -> Result<bool, StorageError> {
        self.set_archived(school, id, Some(at.as_second())).await
    }

    /// Takes a dish out again. False when the school has none such.
    pub async fn bring_back_dish(
        &self,
        school: SchoolId,
        id: DishId,
    ) -> Result<bool, StorageError> {
        self.set_archived(school, id, None).await
    }

    async fn set_archived(
        &self,
        school: SchoolId,
        id: DishId,
        archived_at: Option<i64>,
    ) -> Result<bool, StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                let changed = sqlx::query(
                    "update dish set archived_at = ? where school_id = ? and dish_id = ?",
                )
                .bind(archived_at)
                .bind(school.0)
                .bind(id.0)
                .execute(connection)
                .await?;
                Ok(changed.rows_affected() == 1)
            })
        })
        .await
    }

    /// `None` when the school has no such dish; the caller decides whether that is an error.
    pub async fn dish(&self, school: SchoolId, id: DishId) -> Result<Option<Dish>, StorageError> {
        let row = sqlx::query_as::<_, DishRow>(
            "select dish_id, kind, title, draft, written_at, archived_at, version from dish
             where school_id = ? and dish_id = ?",
        )
        .bind(school.0)
        .bind(id.0)
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(Dish::try_from).transpose()?)
    }

    /// All dishes of a school in use, by name.
    pub async fn dishes(&self, school: SchoolId) -> Result<Vec<Dish>, StorageError> {
        let rows = sqlx::query_as::<_, DishRow>(
            "select dish_id, kind, title, draft, written_at, archived_at, version from dish
             where school_id = ? and archived_at is null order by title_folded",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(Dish::try_from).collect::<Result<_, _>>()?)
    }

    /// The titles of a school's bases in use: what a card may name as going in.
    pub async fn base_titles(&self, school: SchoolId) -> Result<Vec<String>, StorageError> {
        let titles = sqlx::query_scalar(
            "select title from dish where school_id = ? and kind = 'base' and archived_at is null
             order by title_folded",
        );
        Ok(titles.bind(school.0).fetch_all(&self.readers).await?)
    }

    /// The dishes of a school that were put away, by name.
    pub async fn archived_dishes(&self, school: SchoolId) -> Result<Vec<Dish>, StorageError> {
        let rows = sqlx::query_as::<_, DishRow>(
            "select dish_id, kind, title, draft, written_at, archived_at, version from dish
             where school_id = ? and archived_at is not null order by title_folded",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(Dish::try_from).collect::<Result<_, _>>()?)
    }
}

#[derive(FromRow)]
struct DishRow {
    dish_id: Uuid,
    kind: String,
    title: String,
    draft: String,
    written_at: i64,
    archived_at: Option<i64>,
    version: u32,
}

impl TryFrom<DishRow> for Dish {
    type Error = CorruptRow;

    fn try_from(row: DishRow) -> Result<Self, CorruptRow> {
        let corrupt =
            |column, reason| CorruptRow { table: "dish", column, row: row.dish_id, reason };
        let archived_at = row.archived_at.map(Timestamp::from_second).transpose();
        Ok(Self {
            id: DishId(row.dish_id),
            title: DishTitle::parse(&row.title).map_err(|e| corrupt("title", e.to_string()))?,
            kind: DishKind::parse(&row.kind).map_err(|e| corrupt("kind", e.to_string()))?,
            card: CardText::parse(&row.draft).map_err(|e| corrupt("draft", e.to_string()))?,
            written_at: Timestamp::from_second(row.written_at)
                .map_err(|e| corrupt("written_at", e.to_string()))?,
            archived_at: archived_at.map_err(|e| corrupt("archived_at", e.to_string()))?,
            version: row.version,
        })
    }
}
