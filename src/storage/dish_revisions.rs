//! Fixed texts of dishes, and the words that name them on paper.

use jiff::Timestamp;
use sha2::{Digest, Sha256};
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::{CorruptRow, Storage, StorageError};
use crate::domain::check_word;
use crate::domain::dish::{DishId, DishRevision, DishRevisionId};
use crate::domain::school::SchoolId;
use crate::domain::text::CardText;

impl Storage {
    /// Fixes the dish's text as it stands. A text that is fixed already keeps its number and word.
    ///
    /// `None` when the school has no such dish. `new` is used only when a revision is made.
    pub async fn publish_dish_revision(
        &self,
        school: SchoolId,
        dish: DishId,
        new: DishRevisionId,
        at: Timestamp,
    ) -> Result<Option<DishRevision>, StorageError> {
        let row = self
            .write(move |connection| Box::pin(fix_dish(connection, school, dish, new, at)))
            .await?;
        Ok(row.map(DishRevision::try_from).transpose()?)
    }

    /// All fixed texts of a dish, newest first.
    pub async fn dish_revisions(
        &self,
        school: SchoolId,
        dish: DishId,
    ) -> Result<Vec<DishRevision>, StorageError> {
        let rows = sqlx::query_as::<_, DishRevisionRow>(
            "select dish_revision_id, dish_id, number, card, hash, check_word, published_at
             from dish_revision where school_id = ? and dish_id = ? order by number desc",
        )
        .bind(school.0)
        .bind(dish.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(DishRevision::try_from).collect::<Result<_, _>>()?)
    }
}

/// Fixes a dish inside a job of the writer, so that a menu and its dishes are published together.
pub(super) async fn fix_dish(
    connection: &mut SqliteConnection,
    school: SchoolId,
    dish: DishId,
    new: DishRevisionId,
    at: Timestamp,
) -> sqlx::Result<Option<DishRevisionRow>> {
    let card: Option<String> =
        sqlx::query_scalar("select draft from dish where school_id = ? and dish_id = ?")
            .bind(school.0)
            .bind(dish.0)
            .fetch_optional(&mut *connection)
            .await?;
    let Some(card) = card else { return Ok(None) };
    let hash: [u8; 32] = Sha256::digest(&card).into();
    let fixed = sqlx::query_as::<_, DishRevisionRow>(
        "select dish_revision_id, dish_id, number, card, hash, check_word, published_at
         from dish_revision where school_id = ? and dish_id = ? and hash = ?",
    )
    .bind(school.0)
    .bind(dish.0)
    .bind(hash.as_slice())
    .fetch_optional(&mut *connection)
    .await?;
    if fixed.is_some() {
        return Ok(fixed);
    }
    let check_word = take_check_word(&mut *connection, school, &hash).await?;
    let row = DishRevisionRow {
        dish_revision_id: new.0,
        dish_id: dish.0,
        number: next_number(&mut *connection, school, dish).await?,
        card,
        hash: hash.to_vec(),
        check_word,
        published_at: at.as_second(),
    };
    sqlx::query(
        "insert into dish_revision (dish_revision_id, school_id, dish_id, number, card, hash,
             check_word, published_at)
         values (?, ?, ?, ?, ?, ?, ?, ?)",
    )
    .bind(row.dish_revision_id)
    .bind(school.0)
    .bind(row.dish_id)
    .bind(row.number)
    .bind(&row.card)
    .bind(&row.hash)
    .bind(&row.check_word)
    .bind(row.published_at)
    .execute(connection)
    .await?;
    Ok(Some(row))
}

async fn next_number(
    connection: &mut SqliteConnection,
    school: SchoolId,
    dish: DishId,
) -> sqlx::Result<u32> {
    sqlx::query_scalar(
        "select coalesce(max(number), 0) + 1 from dish_revision
         where school_id = ? and dish_id = ?",
    )
    .bind(school.0)
    .bind(dish.0)
    .fetch_one(connection)
    .await
}

/// The first word of the text's own list that no other text of the school bears; taken from now on.
pub(super) async fn take_check_word(
    connection: &mut SqliteConnection,
    school: SchoolId,
    hash: &[u8; 32],
) -> sqlx::Result<String> {
    for word in check_word::candidates(hash) {
        let taken = sqlx::query(
            "insert into check_word (school_id, word) values (?, ?) on conflict do nothing",
        )
        .bind(school.0)
        .bind(&word)
        .execute(&mut *connection)
        .await?;
        if taken.rows_affected() == 1 {
            return Ok(word);
        }
    }
    Err(sqlx::Error::RowNotFound)
}

#[derive(FromRow)]
pub(super) struct DishRevisionRow {
    pub(super) dish_revision_id: Uuid,
    dish_id: Uuid,
    number: u32,
    card: String,
    hash: Vec<u8>,
    check_word: String,
    published_at: i64,
}

impl TryFrom<DishRevisionRow> for DishRevision {
    type Error = CorruptRow;

    fn try_from(row: DishRevisionRow) -> Result<Self, CorruptRow> {
        let corrupt = |column, reason| CorruptRow {
            table: "dish_revision",
            column,
            row: row.dish_revision_id,
            reason,
        };
        Ok(Self {
            id: DishRevisionId(row.dish_revision_id),
            dish: DishId(row.dish_id),
            number: row.number,
            card: CardText::parse(&row.card).map_err(|e| corrupt("card", e.to_string()))?,
            hash: row
                .hash
                .try_into()
                .map_err(|_| corrupt("hash", "a checksum has 32 bytes".to_owned()))?,
            check_word: row.check_word,
            published_at: Timestamp::from_second(row.published_at)
                .map_err(|e| corrupt("published_at", e.to_string()))?,
        })
    }
}
