//! Classes and the private links that lead to them.

use jiff::Timestamp;
use jiff::civil::Date;
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::error::is_foreign;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::class::{Class, ClassId, Lesson, Link, LinkId};
use crate::domain::kitchen::KitchenId;
use crate::domain::menu::{MenuId, PublicationId};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::school::SchoolId;

/// A class with the names it is shown under.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptClass {
    pub class: Class,
    pub version: u32,
    pub menu_name: String,
    /// Number and check word of what its links show.
    pub published: Option<(u32, String)>,
    pub homes: u32,
}

/// What a link opens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenClass {
    pub school: SchoolId,
    pub link: LinkId,
    pub class: Class,
    /// From here on it opens nothing.
    pub until: Timestamp,
}

/// What became of a class that was to be saved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClassSaved {
    Saved,
    /// Changed by somebody else meanwhile, or not there.
    Stale,
    /// Menu or kitchen is not the school's.
    Strange,
}

impl Storage {
    /// Makes a class of a menu with its first link; it shows what was published of the menu last.
    pub async fn add_class(
        &self,
        school: SchoolId,
        class: &Class,
        link: &Link,
        token_hash: [u8; 32],
        made_at: Timestamp,
    ) -> Result<ClassSaved, StorageError> {
        let (class, link) = (class.clone(), link.clone());
        let added = self
            .write(move |connection| {
                Box::pin(async move {
                    let newest: Option<Uuid> = sqlx::query_scalar(
                        "select publication_id from publication
                         where school_id = ? and menu_id = ? order by number desc limit 1",
                    )
                    .bind(school.0)
                    .bind(class.menu.0)
                    .fetch_optional(&mut *connection)
                    .await?;
                    let class = Class { publication: newest.map(PublicationId), ..class };
                    insert_class(&mut *connection, school, &class, made_at).await?;
                    insert_link(connection, school, class.id, &link, token_hash).await?;
                    Ok(1)
                })
            })
            .await;
        saved(added)
    }

    /// Saves what was made from `version`; menu and publication stay.
    pub async fn save_class(
        &self,
        school: SchoolId,
        class: &Class,
        version: u32,
    ) -> Result<ClassSaved, StorageError> {
        let class = class.clone();
        let changed = self
            .write(move |connection| {
                Box::pin(async move {
                    let local =
                        |at: jiff::civil::DateTime| at.strftime("%Y-%m-%dT%H:%M").to_string();
                    let done = sqlx::query(
                        "update cooking_class set serve_local = ?, zone = ?, from_local = ?,
                             to_local = ?, kitchen_id = ?, seats = ?, fee_minor = ?, purge_on = ?,
                             version = version + 1
                         where school_id = ? and class_id = ? and version = ?",
                    )
                    .bind(class.serve.local_text())
                    .bind(class.serve.zone.name())
                    .bind(class.lesson.map(|lesson| local(lesson.from)))
                    .bind(class.lesson.map(|lesson| local(lesson.to)))
                    .bind(class.kitchen.map(|kitchen| kitchen.0))
                    .bind(class.seats.count())
                    .bind(class.fee_minor)
                    .bind(class.purge_on.to_string())
                    .bind(school.0)
                    .bind(class.id.0)
                    .bind(version)
                    .execute(connection)
                    .await?;
                    Ok(done.rows_affected())
                })
            })
            .await;
        saved(changed)
    }

    pub async fn class(
        &self,
        school: SchoolId,
        id: ClassId,
    ) -> Result<Option<KeptClass>, StorageError> {
        let row = sqlx::query_as::<_, ClassRow>(
            "select c.class_id, c.school_id, c.menu_id, c.publication_id, c.serve_local, c.zone,
                 c.from_local, c.to_local, c.kitchen_id, c.seats, c.fee_minor, c.purge_on,
                 c.version, m.name as menu_name, p.number, p.check_word,
                 (select count(*) from home h
                  where h.school_id = c.school_id and h.class_id = c.class_id) as homes
             from cooking_class c
             join menu m on m.school_id = c.school_id and m.menu_id = c.menu_id
             left join publication p on p.school_id = c.school_id
                 and p.publication_id = c.publication_id
             where c.school_id = ? and c.class_id = ?",
        )
        .bind(school.0)
        .bind(id.0)
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(KeptClass::try_from).transpose()?)
    }

    /// The next to be at the table first, then those that were.
    pub async fn classes(&self, school: SchoolId) -> Result<Vec<KeptClass>, StorageError> {
        let rows = sqlx::query_as::<_, ClassRow>(
            "select c.class_id, c.school_id, c.menu_id, c.publication_id, c.serve_local, c.zone,
                 c.from_local, c.to_local, c.kitchen_id, c.seats, c.fee_minor, c.purge_on,
                 c.version, m.name as menu_name, p.number, p.check_word,
                 (select count(*) from home h
                  where h.school_id = c.school_id and h.class_id = c.class_id) as homes
             from cooking_class c
             join menu m on m.school_id = c.school_id and m.menu_id = c.menu_id
             left join publication p on p.school_id = c.school_id
                 and p.publication_id = c.publication_id
             where c.school_id = ? order by c.serve_local desc, c.class_id",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(KeptClass::try_from).collect::<Result<_, _>>()?)
    }

    /// Adds a link; false when the school has no such class.
    pub async fn give_link(
        &self,
        school: SchoolId,
        class: ClassId,
        link: &Link,
        token_hash: [u8; 32],
    ) -> Result<bool, StorageError> {
        let link = link.clone();
        let given = self
            .write(move |connection| {
                Box::pin(
                    async move { insert_link(connection, school, class, &link, token_hash).await },
                )
            })
            .await;
        match given {
            Ok(()) => Ok(true),
            Err(error) if is_foreign(&error) => Ok(false),
            Err(error) => Err(error),
        }
    }

    /// Closes a link for good; homes made through it stay. False when there is none such.
    pub async fn revoke_link(
        &self,
        school: SchoolId,
        class: ClassId,
        link: LinkId,
        at: Timestamp,
    ) -> Result<bool, StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                let done = sqlx::query(
                    "update class_link set revoked_at = coalesce(revoked_at, ?)
                     where school_id = ? and class_id = ? and class_link_id = ?",
                )
                .bind(at.as_second())
                .bind(school.0)
                .bind(class.0)
                .bind(link.0)
                .execute(connection)
                .await?;
                Ok(done.rows_affected() == 1)
            })
        })
        .await
    }

    /// The links of a class, oldest first.
    pub async fn links(&self, school: SchoolId, class: ClassId) -> Result<Vec<Link>, StorageError> {
        let rows = sqlx::query_as::<_, LinkRow>(
            "select class_link_id, token, note, made_at, expires_at, revoked_at from class_link
             where school_id = ? and class_id = ? order by made_at, class_link_id",
        )
        .bind(school.0)
        .bind(class.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(Link::try_from).collect::<Result<_, _>>()?)
    }

    /// The class a token opens at `now`; a wrong, old or closed token opens nothing.
    pub async fn class_of_link(
        &self,
        token_hash: [u8; 32],
        now: Timestamp,
    ) -> Result<Option<OpenClass>, StorageError> {
        let row = sqlx::query_as::<_, OpenClassRow>(
            "select l.class_link_id, l.expires_at, c.class_id, c.school_id, c.menu_id, c.publication_id,
                 c.serve_local, c.zone, c.from_local, c.to_local, c.kitchen_id, c.seats,
                 c.fee_minor, c.purge_on, c.version, '' as menu_name, null as number,
                 null as check_word, 0 as homes
             from class_link l
             join cooking_class c on c.school_id = l.school_id and c.class_id = l.class_id
             where l.token_hash = ? and l.revoked_at is null and l.expires_at > ?",
        )
        .bind(token_hash.as_slice())
        .bind(now.as_second())
        .fetch_optional(&self.readers)
        .await?;
        let open = row.map(|row| {
            let school = SchoolId(row.class.school_id);
            let expires_at =
                Timestamp::from_second(row.expires_at).map_err(|error| CorruptRow {
                    table: "class_link",
                    column: "expires_at",
                    row: row.class_link_id,
                    reason: error.to_string(),
                })?;
            let class = KeptClass::try_from(row.class)?.class;
            let until = expires_at.min(class.closes_at());
            let link = LinkId(row.class_link_id);
            Ok::<_, CorruptRow>(OpenClass { school, link, class, until })
        });
        Ok(open.transpose()?.filter(|open| now < open.until))
    }

    /// Deletes what is due in every school by its own calendar; see [`Storage::purge_homes`].
    pub async fn purge_due(&self, now: Timestamp) -> Result<u64, StorageError> {
        let mut gone = 0;
        for school in self.schools().await? {
            gone += self.purge_homes(school.id, school.zone.local(now).date()).await?;
        }
        Ok(gone)
    }

    /// Deletes the homes, and what they told and ticked, of every class of a school whose day has
    /// come. The answer is how many homes went.
    pub async fn purge_homes(&self, school: SchoolId, today: Date) -> Result<u64, StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                let done = sqlx::query(
                    "delete from home where school_id = ?1 and class_id in
                         (select class_id from cooking_class
                          where school_id = ?1 and purge_on <= ?2)",
                )
                .bind(school.0)
                .bind(today.to_string())
                .execute(connection)
                .await?;
                Ok(done.rows_affected())
            })
        })
        .await
    }
}

fn saved(changed: Result<u64, StorageError>) -> Result<ClassSaved, StorageError> {
    match changed {
        Ok(1) => Ok(ClassSaved::Saved),
        Ok(_) => Ok(ClassSaved::Stale),
        Err(error) if is_foreign(&error) => Ok(ClassSaved::Strange),
        Err(error) => Err(error),
    }
}

pub(super) async fn insert_class(
    connection: &mut SqliteConnection,
    school: SchoolId,
    class: &Class,
    made_at: Timestamp,
) -> sqlx::Result<()> {
    let local = |at: jiff::civil::DateTime| at.strftime("%Y-%m-%dT%H:%M").to_string();
    sqlx::query(
        "insert into cooking_class (class_id, school_id, menu_id, publication_id, serve_local,
             zone, from_local, to_local, kitchen_id, seats, fee_minor, purge_on, made_at)
         values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
    )
    .bind(class.id.0)
    .bind(school.0)
    .bind(class.menu.0)
    .bind(class.publication.map(|publication| publication.0))
    .bind(class.serve.local_text())
    .bind(class.serve.zone.name())
    .bind(class.lesson.map(|lesson| local(lesson.from)))
    .bind(class.lesson.map(|lesson| local(lesson.to)))
    .bind(class.kitchen.map(|kitchen| kitchen.0))
    .bind(class.seats.count())
    .bind(class.fee_minor)
    .bind(class.purge_on.to_string())
    .bind(made_at.as_second())
    .execute(connection)
    .await
    .map(drop)
}

pub(super) async fn insert_link(
    connection: &mut SqliteConnection,
    school: SchoolId,
    class: ClassId,
    link: &Link,
    token_hash: [u8; 32],
) -> sqlx::Result<()> {
    sqlx::query(
        "insert into class_link (class_link_id, school_id, class_id, token_hash, token, note,
             made_at, expires_at, revoked_at)
         values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
    )
    .bind(link.id.0)
    .bind(school.0)
    .bind(class.0)
    .bind(token_hash.as_slice())
    .bind(&link.token)
    .bind(&link.note)
    .bind(link.made_at.as_second())
    .bind(link.expires_at.as_second())
    .bind(link.revoked_at.map(Timestamp::as_second))
    .execute(connection)
    .await
    .map(drop)
}

#[derive(FromRow)]
pub(super) struct ClassRow {
    class_id: Uuid,
    pub(super) school_id: Uuid,
    menu_id: Uuid,
    publication_id: Option<Uuid>,
    serve_local: String,
    zone: String,
    from_local: Option<String>,
    to_local: Option<String>,
    kitchen_id: Option<Uuid>,
    seats: u32,
    fee_minor: Option<u32>,
    purge_on: String,
    version: u32,
    menu_name: String,
    number: Option<u32>,
    check_word: Option<String>,
    homes: u32,
}

#[derive(FromRow)]
struct OpenClassRow {
    class_link_id: Uuid,
    expires_at: i64,
    #[sqlx(flatten)]
    class: ClassRow,
}

impl TryFrom<ClassRow> for KeptClass {
    type Error = CorruptRow;

    fn try_from(row: ClassRow) -> Result<Self, CorruptRow> {
        let corrupt = |column, reason: String| CorruptRow {
            table: "cooking_class",
            column,
            row: row.class_id,
            reason,
        };
        let zone = Zone::parse(&row.zone).map_err(|e| corrupt("zone", e.to_string()))?;
        let lesson = match (&row.from_local, &row.to_local) {
            (Some(from), Some(to)) => {
                let from = from.parse().map_err(|_| corrupt("from_local", from.clone()))?;
                let end = to.parse().map_err(|_| corrupt("to_local", to.clone()))?;
                let lesson = Lesson::new(from, end);
                Some(
                    lesson
                        .ok_or_else(|| corrupt("to_local", "ends before it begins".to_owned()))?,
                )
            }
            _ => None,
        };
        let class = Class {
            id: ClassId(row.class_id),
            menu: MenuId(row.menu_id),
            publication: row.publication_id.map(PublicationId),
            serve: ServiceTime::parse(&row.serve_local, zone)
                .map_err(|e| corrupt("serve_local", e.to_string()))?,
            lesson,
            kitchen: row.kitchen_id.map(KitchenId),
            seats: Portions::new(row.seats).map_err(|e| corrupt("seats", e.to_string()))?,
            fee_minor: row.fee_minor,
            purge_on: row
                .purge_on
                .parse()
                .ok()
                .filter(|day: &Date| (2000..=2200).contains(&day.year()))
                .ok_or_else(|| corrupt("purge_on", row.purge_on.clone()))?,
        };
        Ok(Self {
            class,
            version: row.version,
            menu_name: row.menu_name,
            published: row.number.zip(row.check_word),
            homes: row.homes,
        })
    }
}

#[derive(FromRow)]
struct LinkRow {
    class_link_id: Uuid,
    token: String,
    note: String,
    made_at: i64,
    expires_at: i64,
    revoked_at: Option<i64>,
}

impl TryFrom<LinkRow> for Link {
    type Error = CorruptRow;

    fn try_from(row: LinkRow) -> Result<Self, CorruptRow> {
        let instant = |column, seconds| {
            Timestamp::from_second(seconds).map_err(|error| CorruptRow {
                table: "class_link",
                column,
                row: row.class_link_id,
                reason: error.to_string(),
            })
        };
        Ok(Self {
            id: LinkId(row.class_link_id),
            made_at: instant("made_at", row.made_at)?,
            expires_at: instant("expires_at", row.expires_at)?,
            revoked_at: row.revoked_at.map(|at| instant("revoked_at", at)).transpose()?,
            token: row.token,
            note: row.note,
        })
    }
}
