//! The kitchens of a school.

use sha2::{Digest, Sha256};
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::error::is_duplicate;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::kitchen::{Kitchen, KitchenId, usual_kitchens};
use crate::domain::school::SchoolId;
use crate::exchange::document;

/// A kitchen with what is needed to change it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptKitchen {
    pub id: KitchenId,
    pub kitchen: Kitchen,
    pub version: u32,
}

/// What became of a kitchen that was to be saved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KitchenSaved {
    Saved,
    NameTaken,
    /// Changed by somebody else meanwhile, or not there.
    Stale,
}

impl Storage {
    pub async fn add_kitchen(
        &self,
        school: SchoolId,
        id: KitchenId,
        kitchen: &Kitchen,
    ) -> Result<KitchenSaved, StorageError> {
        let kitchen = kitchen.clone();
        let added = self
            .write(move |connection| Box::pin(insert(connection, school, id, kitchen)))
            .await
            .map(|()| 1);
        saved(added)
    }

    /// Saves what was made from `version`.
    pub async fn save_kitchen(
        &self,
        school: SchoolId,
        id: KitchenId,
        kitchen: &Kitchen,
        version: u32,
    ) -> Result<KitchenSaved, StorageError> {
        let kitchen = kitchen.clone();
        let changed = self
            .write(move |connection| {
                Box::pin(async move {
                    let done = sqlx::query(
                        "update kitchen set name = ?, name_folded = ?, kitchen = ?,
                             version = version + 1
                         where school_id = ? and kitchen_id = ? and version = ?",
                    )
                    .bind(kitchen.name.as_str())
                    .bind(kitchen.name.folded())
                    .bind(document::write(&kitchen))
                    .bind(school.0)
                    .bind(id.0)
                    .bind(version)
                    .execute(connection)
                    .await?;
                    Ok(done.rows_affected())
                })
            })
            .await;
        saved(changed)
    }

    /// By name.
    pub async fn kitchens(&self, school: SchoolId) -> Result<Vec<KeptKitchen>, StorageError> {
        let rows = sqlx::query_as::<_, KitchenRow>(
            "select kitchen_id, kitchen, version from kitchen
             where school_id = ? order by name_folded",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(KeptKitchen::try_from).collect::<Result<_, _>>()?)
    }

    pub async fn kitchen(
        &self,
        school: SchoolId,
        id: KitchenId,
    ) -> Result<Option<KeptKitchen>, StorageError> {
        let row = sqlx::query_as::<_, KitchenRow>(
            "select kitchen_id, kitchen, version from kitchen
             where school_id = ? and kitchen_id = ?",
        )
        .bind(school.0)
        .bind(id.0)
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(KeptKitchen::try_from).transpose()?)
    }
}

fn saved(changed: Result<u64, StorageError>) -> Result<KitchenSaved, StorageError> {
    match changed {
        Ok(1) => Ok(KitchenSaved::Saved),
        Ok(_) => Ok(KitchenSaved::Stale),
        Err(error) if is_duplicate(&error, "kitchen.name_folded") => Ok(KitchenSaved::NameTaken),
        Err(error) => Err(error),
    }
}

async fn insert(
    connection: &mut SqliteConnection,
    school: SchoolId,
    id: KitchenId,
    kitchen: Kitchen,
) -> sqlx::Result<()> {
    sqlx::query(
        "insert into kitchen (kitchen_id, school_id, name, name_folded, kitchen)
         values (?, ?, ?, ?, ?)",
    )
    .bind(id.0)
    .bind(school.0)
    .bind(kitchen.name.as_str())
    .bind(kitchen.name.folded())
    .bind(document::write(&kitchen))
    .execute(connection)
    .await
    .map(drop)
}

/// Gives a new school the usual kitchens, inside the job that founds it.
///
/// Their ids come from the school's own, since chance is not to be had here.
pub(super) async fn furnish(
    connection: &mut SqliteConnection,
    school: SchoolId,
) -> sqlx::Result<()> {
    for kitchen in usual_kitchens() {
        let sum: [u8; 32] = Sha256::new()
            .chain_update(school.0)
            .chain_update(kitchen.name.as_str())
            .finalize()
            .into();
        let mut id = [0; 16];
        id.copy_from_slice(&sum[..16]);
        let id = KitchenId(uuid::Builder::from_custom_bytes(id).into_uuid());
        insert(&mut *connection, school, id, kitchen).await?;
    }
    Ok(())
}

#[derive(FromRow)]
struct KitchenRow {
    kitchen_id: Uuid,
    kitchen: String,
    version: u32,
}

impl TryFrom<KitchenRow> for KeptKitchen {
    type Error = CorruptRow;

    fn try_from(row: KitchenRow) -> Result<Self, CorruptRow> {
        let kitchen = document::read(&row.kitchen).map_err(|error| CorruptRow {
            table: "kitchen",
            column: "kitchen",
            row: row.kitchen_id,
            reason: error.to_string(),
        })?;
        Ok(Self { id: KitchenId(row.kitchen_id), kitchen, version: row.version })
    }
}
