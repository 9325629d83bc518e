//! Plans of homes: kept as they were made, found again by what they were made from.

use jiff::Timestamp;
use uuid::Uuid;

use super::error::is_foreign;
use super::{Storage, StorageError};
use crate::domain::home::HomeId;
use crate::domain::schedule::plan::Effort;
use crate::domain::school::SchoolId;

/// A plan to be kept. The result is the document that `plan` prints.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewPlan {
    pub id: Uuid,
    pub home: HomeId,
    pub inputs_hash: [u8; 32],
    pub effort: Effort,
    /// `planned`, `refused` or `not found`.
    pub status: String,
    pub result: String,
    pub program: &'static str,
    pub at: Timestamp,
}

impl Storage {
    /// Keeps a plan; the same problem again changes nothing, and a home that has gone keeps none.
    pub async fn keep_plan(&self, school: SchoolId, plan: NewPlan) -> Result<(), StorageError> {
        let kept = self
            .write(move |connection| {
                Box::pin(async move {
                    sqlx::query(
                        "insert into plan (plan_id, school_id, home_id, inputs_hash, effort, status,
                             result, program, made_at)
                         values (?, ?, ?, ?, ?, ?, ?, ?, ?)
                         on conflict (school_id, home_id, inputs_hash, effort) do nothing",
                    )
                    .bind(plan.id)
                    .bind(school.0)
                    .bind(plan.home.0)
                    .bind(plan.inputs_hash.as_slice())
                    .bind(plan.effort.word())
                    .bind(plan.status)
                    .bind(plan.result)
                    .bind(plan.program)
                    .bind(plan.at.as_second())
                    .execute(connection)
                    .await
                    .map(|_| ())
                })
            })
            .await;
        match kept {
            Err(error) if is_foreign(&error) => Ok(()),
            other => other,
        }
    }

    /// The result for this problem, as it was kept.
    pub async fn kept_plan(
        &self,
        school: SchoolId,
        home: HomeId,
        inputs_hash: [u8; 32],
        effort: Effort,
    ) -> Result<Option<String>, StorageError> {
        let found = sqlx::query_scalar(
            "select result from plan
             where school_id = ? and home_id = ? and inputs_hash = ? and effort = ?",
        )
        .bind(school.0)
        .bind(home.0)
        .bind(inputs_hash.as_slice())
        .bind(effort.word())
        .fetch_optional(&self.readers)
        .await?;
        Ok(found)
    }

    /// The plan before the newest one that a home could cook by: what a new one is compared with.
    pub async fn plan_before(
        &self,
        school: SchoolId,
        home: HomeId,
        inputs_hash: [u8; 32],
    ) -> Result<Option<String>, StorageError> {
        let found = sqlx::query_scalar(
            "select result from plan
             where school_id = ? and home_id = ? and inputs_hash <> ? and status = 'planned'
             order by made_at desc limit 1",
        )
        .bind(school.0)
        .bind(home.0)
        .bind(inputs_hash.as_slice())
        .fetch_optional(&self.readers)
        .await?;
        Ok(found)
    }
}
