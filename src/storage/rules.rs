//! The rules of a school: the newest version is in force, older ones stay.

use std::sync::Arc;

use jiff::Timestamp;
use sqlx::FromRow;
use uuid::Uuid;

use super::error::is_duplicate;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::heat::{Degrees, Scale};
use crate::domain::limit::{Base, Chosen, Profile, Tighter};
use crate::domain::moment::Zone;
use crate::domain::school::SchoolId;

/// How a change of rules can fail in a way the instructor can put right.
#[derive(Debug, thiserror::Error)]
pub enum ChangeRulesError {
    #[error("the rules were changed by somebody else meanwhile")]
    Moved,
    #[error(transparent)]
    Storage(StorageError),
}

impl Storage {
    /// The rules in force; a school that changed nothing works by the shipped `home` set.
    pub async fn profile(&self, school: SchoolId) -> Result<Arc<Profile>, StorageError> {
        let Some(row) = sqlx::query_as::<_, ProfileRow>(
            "select rule_profile_id, base, number, changed_by, reason, from_at from rule_profile
             where school_id = ? order by number desc limit 1",
        )
        .bind(school.0)
        .fetch_optional(&self.readers)
        .await?
        else {
            return Ok(Arc::new(Profile::default()));
        };
        let rows = sqlx::query_as::<_, RuleRow>(
            "select rule_key, most, degrees, scale, is_published, changed_by, changed_on, reason
             from rule_row where school_id = ? and rule_profile_id = ?",
        )
        .bind(school.0)
        .bind(row.rule_profile_id)
        .fetch_all(&self.readers)
        .await?;
        Ok(Arc::new(assemble(row, rows)?))
    }

    /// Keeps `profile` as the next version. Its number must be one above the version in force.
    pub async fn change_rules(
        &self,
        school: SchoolId,
        id: Uuid,
        profile: &Profile,
        from_at: Timestamp,
    ) -> Result<(), ChangeRulesError> {
        let profile = profile.clone();
        let kept = self.write(move |connection| {
            Box::pin(async move {
                let (by, reason) =
                    profile.chosen.as_ref().map_or(("", ""), |it| (&*it.by, &*it.reason));
                sqlx::query(
                    "insert into rule_profile
                     (rule_profile_id, school_id, base, number, changed_by, reason, from_at)
                     values (?, ?, ?, ?, ?, ?, ?)",
                )
                .bind(id)
                .bind(school.0)
                .bind(profile.base.word())
                .bind(profile.number)
                .bind(by)
                .bind(reason)
                .bind(from_at.as_second())
                .execute(&mut *connection)
                .await?;
                for (key, row) in profile.tighter() {
                    sqlx::query(
                        "insert into rule_row (rule_profile_id, school_id, rule_key, most, degrees,
                         scale, is_published, changed_by, changed_on, reason)
                         values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    )
                    .bind(id)
                    .bind(school.0)
                    .bind(&**key)
                    .bind(row.most)
                    .bind(row.degrees.map(|it| it.figure))
                    .bind(row.degrees.map(|it| it.scale.letter()))
                    .bind(row.is_published)
                    .bind(&*row.chosen.by)
                    .bind(row.chosen.on.to_string())
                    .bind(&*row.chosen.reason)
                    .execute(&mut *connection)
                    .await?;
                }
                Ok(())
            })
        });
        kept.await.map_err(|error| {
            if is_duplicate(&error, "rule_profile.number") {
                ChangeRulesError::Moved
            } else {
                ChangeRulesError::Storage(error)
            }
        })
    }
}

fn assemble(row: ProfileRow, rows: Vec<RuleRow>) -> Result<Profile, CorruptRow> {
    let id = row.rule_profile_id;
    let corrupt = |table, column, reason: String| CorruptRow { table, column, row: id, reason };
    let base = Base::parse(&row.base)
        .ok_or_else(|| corrupt("rule_profile", "base", format!("no base {}", row.base)))?;
    let from_at = Timestamp::from_second(row.from_at)
        .map_err(|e| corrupt("rule_profile", "from_at", e.to_string()))?;
    let zone =
        Zone::parse("Etc/UTC").map_err(|e| corrupt("rule_profile", "from_at", e.to_string()))?;
    let on = zone.local(from_at).date();
    let chosen = Chosen { by: row.changed_by, on, reason: row.reason };
    let mut profile = Profile::shipped(base).version(row.number, chosen);
    for row in rows {
        let on = row
            .changed_on
            .parse()
            .map_err(|e: jiff::Error| corrupt("rule_row", "changed_on", e.to_string()))?;
        let chosen = Chosen { by: row.changed_by, on, reason: row.reason };
        let degrees = match (row.degrees, row.scale.as_deref().map(Scale::parse)) {
            (Some(figure), Some(Some(scale))) => Some(Degrees { figure, scale }),
            (None, None) => None,
            _ => return Err(corrupt("rule_row", "degrees", "degrees without a scale".to_owned())),
        };
        let own = Tighter { most: row.most, degrees, is_published: row.is_published, chosen };
        profile.restore(&row.rule_key, own);
    }
    Ok(profile)
}

#[derive(FromRow)]
struct ProfileRow {
    rule_profile_id: Uuid,
    base: String,
    number: u32,
    changed_by: String,
    reason: String,
    from_at: i64,
}

#[derive(FromRow)]
struct RuleRow {
    rule_key: String,
    most: Option<u32>,
    degrees: Option<i32>,
    scale: Option<String>,
    is_published: bool,
    changed_by: String,
    changed_on: String,
    reason: String,
}
