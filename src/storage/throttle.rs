//! Counted tries in the database.

use jiff::Timestamp;
use sqlx::FromRow;

use super::{Storage, StorageError};
use crate::domain::account::{Tries, TryKind};

/// Rows as old as this say nothing any more.
const KEEP_SECONDS: i64 = 48 * 3_600;

impl Storage {
    /// Counts a try before it is made, so that many at once count as many. `Err` in the answer:
    /// the seconds to wait.
    pub async fn count_try(
        &self,
        kind: TryKind,
        subject_hash: [u8; 32],
        now: Timestamp,
    ) -> Result<Result<(), i64>, StorageError> {
        let now = now.as_second();
        self.write(move |connection| {
            Box::pin(async move {
                let kept = sqlx::query_as::<_, TriesRow>(
                    "select tries, since_at, free_at from throttle
                     where kind = ? and subject_hash = ?",
                )
                .bind(kind.word())
                .bind(subject_hash.as_slice())
                .fetch_optional(&mut *connection)
                .await?;
                let kept = kept.map(|it| Tries {
                    count: it.tries,
                    since_at: it.since_at,
                    free_at: it.free_at,
                });
                let next = match Tries::one_more(kept, kind, now) {
                    Ok(next) => next,
                    Err(wait) => return Ok(Err(wait)),
                };
                sqlx::query("delete from throttle where free_at < ?")
                    .bind(now - KEEP_SECONDS)
                    .execute(&mut *connection)
                    .await?;
                sqlx::query(
                    "insert into throttle (kind, subject_hash, tries, since_at, free_at)
                     values (?, ?, ?, ?, ?)
                     on conflict (kind, subject_hash) do update set tries = excluded.tries,
                     since_at = excluded.since_at, free_at = excluded.free_at",
                )
                .bind(kind.word())
                .bind(subject_hash.as_slice())
                .bind(next.count)
                .bind(next.since_at)
                .bind(next.free_at)
                .execute(connection)
                .await?;
                Ok(Ok(()))
            })
        })
        .await
    }

    /// Takes one counted try back: the secret was right.
    pub async fn forgive_try(
        &self,
        kind: TryKind,
        subject_hash: [u8; 32],
    ) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "update throttle set tries = max(tries - 1, 0), free_at = since_at
                     where kind = ? and subject_hash = ?",
                )
                .bind(kind.word())
                .bind(subject_hash.as_slice())
                .execute(connection)
                .await
                .map(drop)
            })
        })
        .await
    }

    /// Forgets the tries of a subject that has shown who it is.
    pub async fn forget_tries(
        &self,
        kind: TryKind,
        subject_hash: [u8; 32],
    ) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query("delete from throttle where kind = ? and subject_hash = ?")
                    .bind(kind.word())
                    .bind(subject_hash.as_slice())
                    .execute(connection)
                    .await
                    .map(drop)
            })
        })
        .await
    }
}

#[derive(FromRow)]
struct TriesRow {
    tries: i64,
    since_at: i64,
    free_at: i64,
}
