//! What was done in a school and by whom, for those who answer for it.

use jiff::Timestamp;
use sqlx::FromRow;

use super::{CorruptRow, Storage, StorageError};
use crate::domain::school::SchoolId;

/// So many are shown; all are kept.
const SHOWN: i64 = 40;

/// One thing that was done, or that the house refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deed {
    pub at: Timestamp,
    /// The log-in of whoever did it.
    pub actor: String,
    /// In words, in the past: `published a menu`.
    pub action: String,
    /// The page it is about, below the base; may be empty.
    pub object: String,
    pub is_done: bool,
}

impl Storage {
    /// Keeps a deed under the number of the request that did it.
    pub async fn note_deed(
        &self,
        school: SchoolId,
        deed: Deed,
        request: String,
    ) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "insert into audit_event (at, school_id, actor, action, object, outcome,
                         request_id)
                     values (?, ?, ?, ?, ?, ?, ?)",
                )
                .bind(deed.at.as_second())
                .bind(school.0)
                .bind(deed.actor)
                .bind(deed.action)
                .bind(deed.object)
                .bind(if deed.is_done { "done" } else { "refused" })
                .bind(request)
                .execute(connection)
                .await
                .map(drop)
            })
        })
        .await
    }

    /// The latest deeds of a school, the last one first.
    pub async fn deeds(&self, school: SchoolId) -> Result<Vec<Deed>, StorageError> {
        let rows = sqlx::query_as::<_, DeedRow>(
            "select at, actor, action, object, outcome from audit_event
             where school_id = ? order by at desc, audit_event_id desc limit ?",
        )
        .bind(school.0)
        .bind(SHOWN)
        .fetch_all(&self.readers)
        .await?;
        let deed = |row: DeedRow| {
            let at = Timestamp::from_second(row.at).map_err(|error| CorruptRow {
                table: "audit_event",
                column: "at",
                row: school.0,
                reason: error.to_string(),
            })?;
            let DeedRow { actor, action, object, outcome, .. } = row;
            Ok(Deed { at, actor, action, object, is_done: outcome == "done" })
        };
        rows.into_iter().map(deed).collect()
    }
}

#[derive(FromRow)]
struct DeedRow {
    at: i64,
    actor: String,
    action: String,
    object: String,
    outcome: String,
}
