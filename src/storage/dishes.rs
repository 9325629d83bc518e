//! Dishes in the database.

use jiff::Timestamp;
use sqlx::FromRow;
use uuid::Uuid;

use super::error::is_duplicate;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::card::DishKind;
use crate::domain::dish::{Dish, DishId};
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

impl Storage {
    pub async fn add_dish(&self, school: SchoolId, dish: &Dish) -> Result<(), AddDishError> {
        let dish = dish.clone();
        let added = self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "insert into dish (dish_id, school_id, kind, title, title_folded, draft, written_at)
                     values (?, ?, ?, ?, ?, ?, ?)",
                )
                .bind(dish.id.0)
                .bind(school.0)
                .bind(dish.kind.word())
                .bind(dish.title.as_str())
                .bind(dish.title.folded())
                .bind(dish.card.as_str())
                .bind(dish.written_at.as_second())
                .execute(connection)
                .await
                .map(drop)
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

    /// `None` when the school has no such dish; the caller decides whether that is an error.
    pub async fn dish(&self, school: SchoolId, id: DishId) -> Result<Option<Dish>, StorageError> {
        let row = sqlx::query_as::<_, DishRow>(
            "select dish_id, kind, title, draft, written_at from dish
             where school_id = ? and dish_id = ?",
        )
        .bind(school.0)
        .bind(id.0)
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(Dish::try_from).transpose()?)
    }

    /// All dishes of a school by name.
    pub async fn dishes(&self, school: SchoolId) -> Result<Vec<Dish>, StorageError> {
        let rows = sqlx::query_as::<_, DishRow>(
            "select dish_id, kind, title, draft, written_at from dish
             where school_id = ? order by title_folded",
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
}

impl TryFrom<DishRow> for Dish {
    type Error = CorruptRow;

    fn try_from(row: DishRow) -> Result<Self, CorruptRow> {
        let corrupt =
            |column, reason| CorruptRow { table: "dish", column, row: row.dish_id, reason };
        Ok(Self {
            id: DishId(row.dish_id),
            title: DishTitle::parse(&row.title).map_err(|e| corrupt("title", e.to_string()))?,
            kind: DishKind::parse(&row.kind).map_err(|e| corrupt("kind", e.to_string()))?,
            card: CardText::parse(&row.draft).map_err(|e| corrupt("draft", e.to_string()))?,
            written_at: Timestamp::from_second(row.written_at)
                .map_err(|e| corrupt("written_at", e.to_string()))?,
        })
    }
}
