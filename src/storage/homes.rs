//! Homes: the tables that cook a menu, opened by their own key.

use jiff::Timestamp;
use sqlx::FromRow;
use uuid::Uuid;

use super::error::is_foreign;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::class::ClassId;
use crate::domain::home::{Allergy, Home, HomeId};
use crate::domain::menu::{MenuId, PublicationId};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::school::SchoolId;
use crate::exchange::{document, rows};

/// A home with what it told, as a page needs it: one row of the database.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptHome {
    pub school: SchoolId,
    pub home: Home,
    pub version: u32,
    pub allergies: Vec<Allergy>,
    pub menu: MenuId,
    /// What its class shows now, with its number; none while nothing is published.
    pub publication: Option<(PublicationId, u32)>,
}

/// What became of a home that was to be saved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HomeSaved {
    Saved,
    /// Changed on another device meanwhile, or not there.
    Stale,
}

impl Storage {
    /// Joins a class; false when there is no such class.
    pub async fn join(
        &self,
        school: SchoolId,
        home: &Home,
        key_hash: [u8; 32],
        at: Timestamp,
    ) -> Result<bool, StorageError> {
        let home = home.clone();
        let joined = self
            .write(move |connection| {
                Box::pin(async move {
                    sqlx::query(
                        "insert into home (home_id, school_id, class_id, key_hash, name, guests,
                             serve_local, zone, arrangement, share_name, seen_number, made_at)
                         values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    )
                    .bind(home.id.0)
                    .bind(school.0)
                    .bind(home.class.0)
                    .bind(key_hash.as_slice())
                    .bind(&home.name)
                    .bind(home.guests.count())
                    .bind(home.serve.local_text())
                    .bind(home.serve.zone.name())
                    .bind(document::write(&home.arrangement))
                    .bind(home.shares_name)
                    .bind(home.seen_number)
                    .bind(at.as_second())
                    .execute(connection)
                    .await
                    .map(drop)
                })
            })
            .await;
        match joined {
            Ok(()) => Ok(true),
            Err(error) if is_foreign(&error) => Ok(false),
            Err(error) => Err(error),
        }
    }

    /// The home a key opens.
    pub async fn home_of_key(&self, key_hash: [u8; 32]) -> Result<Option<KeptHome>, StorageError> {
        let row = sqlx::query_as::<_, HomeRow>(
            "select h.home_id, h.school_id, h.class_id, h.name, h.guests, h.serve_local, h.zone,
                 h.arrangement, h.share_name, h.seen_number, h.version, c.menu_id,
                 c.publication_id, p.number,
                 (select json_group_array(
                      json_array(a.allergen, a.strict, a.consent_at, a.words_version))
                  from home_allergy a
                  where a.school_id = h.school_id and a.home_id = h.home_id) as allergies
             from home h
             join cooking_class c on c.school_id = h.school_id and c.class_id = h.class_id
             left join publication p on p.school_id = c.school_id
                 and p.publication_id = c.publication_id
             where h.key_hash = ?",
        )
        .bind(key_hash.as_slice())
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(KeptHome::try_from).transpose()?)
    }

    /// Every home of a class, in the order they joined.
    pub async fn homes(
        &self,
        school: SchoolId,
        class: ClassId,
    ) -> Result<Vec<KeptHome>, StorageError> {
        let rows = sqlx::query_as::<_, HomeRow>(
            "select h.home_id, h.school_id, h.class_id, h.name, h.guests, h.serve_local, h.zone,
                 h.arrangement, h.share_name, h.seen_number, h.version, c.menu_id,
                 c.publication_id, p.number,
                 (select json_group_array(
                      json_array(a.allergen, a.strict, a.consent_at, a.words_version))
                  from home_allergy a
                  where a.school_id = h.school_id and a.home_id = h.home_id) as allergies
             from home h
             join cooking_class c on c.school_id = h.school_id and c.class_id = h.class_id
             left join publication p on p.school_id = c.school_id
                 and p.publication_id = c.publication_id
             where h.school_id = ? and h.class_id = ? order by h.made_at, h.home_id",
        )
        .bind(school.0)
        .bind(class.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(KeptHome::try_from).collect::<Result<_, _>>()?)
    }

    /// Saves guests, hour, name and arrangement made from `version`.
    pub async fn save_home(
        &self,
        school: SchoolId,
        home: &Home,
        version: u32,
    ) -> Result<HomeSaved, StorageError> {
        let home = home.clone();
        self.write(move |connection| {
            Box::pin(async move {
                let done = sqlx::query(
                    "update home set name = ?, guests = ?, serve_local = ?, zone = ?,
                         arrangement = ?, share_name = ?, version = version + 1
                     where school_id = ? and home_id = ? and version = ?",
                )
                .bind(&home.name)
                .bind(home.guests.count())
                .bind(home.serve.local_text())
                .bind(home.serve.zone.name())
                .bind(document::write(&home.arrangement))
                .bind(home.shares_name)
                .bind(school.0)
                .bind(home.id.0)
                .bind(version)
                .execute(connection)
                .await?;
                let is_saved = done.rows_affected() == 1;
                Ok(if is_saved { HomeSaved::Saved } else { HomeSaved::Stale })
            })
        })
        .await
    }

    /// Replaces what a home told of its allergies; an empty list forgets them all.
    pub async fn tell_allergies(
        &self,
        school: SchoolId,
        home: HomeId,
        allergies: &[Allergy],
    ) -> Result<(), StorageError> {
        let allergies = allergies.to_vec();
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query("delete from home_allergy where school_id = ? and home_id = ?")
                    .bind(school.0)
                    .bind(home.0)
                    .execute(&mut *connection)
                    .await?;
                for allergy in &allergies {
                    sqlx::query(
                        "insert into home_allergy (school_id, home_id, allergen, strict,
                             consent_at, words_version)
                         values (?, ?, ?, ?, ?, ?)",
                    )
                    .bind(school.0)
                    .bind(home.0)
                    .bind(&allergy.what)
                    .bind(allergy.strict)
                    .bind(allergy.consent_at.as_second())
                    .bind(allergy.words_version)
                    .execute(&mut *connection)
                    .await?;
                }
                Ok(())
            })
        })
        .await
    }

    /// Notes that a home has read what changed up to the publication of this number.
    pub async fn read_changes(
        &self,
        school: SchoolId,
        home: HomeId,
        number: u32,
    ) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "update home set seen_number = max(seen_number, ?)
                     where school_id = ? and home_id = ?",
                )
                .bind(number)
                .bind(school.0)
                .bind(home.0)
                .execute(connection)
                .await
                .map(drop)
            })
        })
        .await
    }

    /// A home leaves, and everything it told and ticked with it.
    pub async fn leave(&self, school: SchoolId, home: HomeId) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query("delete from home where school_id = ? and home_id = ?")
                    .bind(school.0)
                    .bind(home.0)
                    .execute(connection)
                    .await
                    .map(drop)
            })
        })
        .await
    }
}

#[derive(FromRow)]
struct HomeRow {
    home_id: Uuid,
    school_id: Uuid,
    class_id: Uuid,
    name: String,
    guests: u32,
    serve_local: String,
    zone: String,
    arrangement: String,
    share_name: bool,
    seen_number: u32,
    version: u32,
    menu_id: Uuid,
    publication_id: Option<Uuid>,
    number: Option<u32>,
    allergies: String,
}

impl TryFrom<HomeRow> for KeptHome {
    type Error = CorruptRow;

    fn try_from(row: HomeRow) -> Result<Self, CorruptRow> {
        let corrupt =
            |column, reason| CorruptRow { table: "home", column, row: row.home_id, reason };
        let zone = Zone::parse(&row.zone).map_err(|e| corrupt("zone", e.to_string()))?;
        let home = Home {
            id: HomeId(row.home_id),
            class: ClassId(row.class_id),
            guests: Portions::new(row.guests).map_err(|e| corrupt("guests", e.to_string()))?,
            serve: ServiceTime::parse(&row.serve_local, zone)
                .map_err(|e| corrupt("serve_local", e.to_string()))?,
            arrangement: document::read(&row.arrangement)
                .map_err(|e| corrupt("arrangement", e.to_string()))?,
            shares_name: row.share_name,
            seen_number: row.seen_number,
            name: row.name,
        };
        Ok(Self {
            school: SchoolId(row.school_id),
            home,
            version: row.version,
            allergies: rows::allergies(&row.allergies).map_err(|e| corrupt("allergies", e))?,
            menu: MenuId(row.menu_id),
            publication: row.publication_id.map(PublicationId).zip(row.number),
        })
    }
}
