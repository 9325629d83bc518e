//! Publishing: a menu and the texts of its dishes, fixed in one transaction.

use jiff::Timestamp;
use sha2::{Digest, Sha256};
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::classes::{insert_class, insert_link};
use super::dish_revisions::{fix_dish, take_check_word};
use super::{CorruptRow, Storage, StorageError};
use crate::domain::class::{Class, ClassId, Link};
use crate::domain::dish::{DishId, DishRevisionId};
use crate::domain::menu::{MenuId, PublicationId, Revision};
use crate::domain::publication::Published;
use crate::domain::school::SchoolId;
use crate::exchange::{rows, snapshot};

/// A menu about to be fixed. The ids are used only for what is made anew.
#[derive(Clone, Debug)]
pub struct NewPublication {
    pub id: PublicationId,
    pub menu: MenuId,
    /// The version of the draft that was laid out.
    pub version: u32,
    pub snapshot: String,
    /// In the order of the snapshot: each dish, the text that was laid out, an id for its revision.
    pub dishes: Vec<(DishId, String, DishRevisionId)>,
    pub at: Timestamp,
    /// A class without hours, made when the menu has no class yet; with its first link.
    pub quiet: Option<(Class, Link, [u8; 32])>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Publishing {
    Done {
        publication: PublicationId,
        /// False when the menu was published before, word for word.
        is_new: bool,
        /// A class of the menu: the quiet one just made, or the first it has.
        class: Option<ClassId>,
    },
    /// The menu or one of its dishes was changed meanwhile.
    Stale,
}

/// A publication as a list shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PublicationLine {
    pub id: PublicationId,
    pub revision: Revision,
    pub copies: u32,
}

impl Storage {
    /// Fixes the menu as it was laid out, and shows it to every class of the menu.
    pub async fn publish(
        &self,
        school: SchoolId,
        new: NewPublication,
    ) -> Result<Publishing, StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                if !is_current(&mut *connection, school, &new).await? {
                    return Ok(Publishing::Stale);
                }
                let (publication, is_new) = fix_menu(&mut *connection, school, &new).await?;
                sqlx::query(
                    "update cooking_class set publication_id = ?
                     where school_id = ? and menu_id = ?",
                )
                .bind(publication.0)
                .bind(school.0)
                .bind(new.menu.0)
                .execute(&mut *connection)
                .await?;
                let class = first_class(connection, school, publication, &new).await?;
                Ok(Publishing::Done { publication, is_new, class })
            })
        })
        .await
    }

    /// What was fixed under `id`, read from its snapshot alone.
    pub async fn publication(
        &self,
        school: SchoolId,
        id: PublicationId,
    ) -> Result<Option<Published>, StorageError> {
        let row = sqlx::query_as::<_, PublicationRow>(
            "select p.publication_id, p.number, p.snapshot, p.check_word, p.published_at,
                 (select json_group_array(
                      json_array(r.number, r.check_word, r.published_at) order by pd.place)
                  from publication_dish pd
                  join dish_revision r on r.school_id = pd.school_id
                      and r.dish_revision_id = pd.dish_revision_id
                  where pd.school_id = p.school_id
                      and pd.publication_id = p.publication_id) as revisions
             from publication p where p.school_id = ? and p.publication_id = ?",
        )
        .bind(school.0)
        .bind(id.0)
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(Published::try_from).transpose()?)
    }

    /// Everything published of a menu, newest first.
    pub async fn publications(
        &self,
        school: SchoolId,
        menu: MenuId,
    ) -> Result<Vec<PublicationLine>, StorageError> {
        let rows = sqlx::query_as::<_, PublicationLineRow>(
            "select p.publication_id, p.number, p.check_word, p.published_at,
                 (select count(*) from copy_taken c
                  where c.school_id = p.school_id and c.publication_id = p.publication_id) as copies
             from publication p where p.school_id = ? and p.menu_id = ? order by p.number desc",
        )
        .bind(school.0)
        .bind(menu.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(PublicationLine::try_from).collect::<Result<_, _>>()?)
    }

    /// The publication of a menu under its number.
    pub async fn publication_numbered(
        &self,
        school: SchoolId,
        menu: MenuId,
        number: u32,
    ) -> Result<Option<PublicationId>, StorageError> {
        let id: Option<Uuid> = sqlx::query_scalar(
            "select publication_id from publication
             where school_id = ? and menu_id = ? and number = ?",
        )
        .bind(school.0)
        .bind(menu.0)
        .bind(number)
        .fetch_optional(&self.readers)
        .await?;
        Ok(id.map(PublicationId))
    }
}

/// True while draft and dishes are those that were laid out.
async fn is_current(
    connection: &mut SqliteConnection,
    school: SchoolId,
    new: &NewPublication,
) -> sqlx::Result<bool> {
    let version: Option<u32> =
        sqlx::query_scalar("select version from menu where school_id = ? and menu_id = ?")
            .bind(school.0)
            .bind(new.menu.0)
            .fetch_optional(&mut *connection)
            .await?;
    if version != Some(new.version) {
        return Ok(false);
    }
    for (dish, text, _) in &new.dishes {
        let card: Option<String> =
            sqlx::query_scalar("select draft from dish where school_id = ? and dish_id = ?")
                .bind(school.0)
                .bind(dish.0)
                .fetch_optional(&mut *connection)
                .await?;
        if card.as_ref() != Some(text) {
            return Ok(false);
        }
    }
    Ok(true)
}

/// The publication of these words: the newest if it says the same, else a new one.
async fn fix_menu(
    connection: &mut SqliteConnection,
    school: SchoolId,
    new: &NewPublication,
) -> sqlx::Result<(PublicationId, bool)> {
    let hash: [u8; 32] = Sha256::digest(&new.snapshot).into();
    let newest: Option<(Uuid, u32, Vec<u8>)> = sqlx::query_as(
        "select publication_id, number, hash from publication
         where school_id = ? and menu_id = ? order by number desc limit 1",
    )
    .bind(school.0)
    .bind(new.menu.0)
    .fetch_optional(&mut *connection)
    .await?;
    let number = newest.as_ref().map_or(1, |(_, number, _)| number + 1);
    if let Some((id, _, kept)) = newest
        && kept == hash
    {
        return Ok((PublicationId(id), false));
    }
    let check_word = take_check_word(&mut *connection, school, &hash).await?;
    sqlx::query(
        "insert into publication (publication_id, school_id, menu_id, number, snapshot, hash,
             check_word, published_at)
         values (?, ?, ?, ?, ?, ?, ?, ?)",
    )
    .bind(new.id.0)
    .bind(school.0)
    .bind(new.menu.0)
    .bind(number)
    .bind(&new.snapshot)
    .bind(hash.as_slice())
    .bind(check_word)
    .bind(new.at.as_second())
    .execute(&mut *connection)
    .await?;
    for (place, (dish, _, revision)) in (0_u32..).zip(&new.dishes) {
        let fixed = fix_dish(&mut *connection, school, *dish, *revision, new.at).await?;
        let fixed = fixed.ok_or(sqlx::Error::RowNotFound)?;
        sqlx::query(
            "insert into publication_dish (school_id, publication_id, place, dish_revision_id)
             values (?, ?, ?, ?)",
        )
        .bind(school.0)
        .bind(new.id.0)
        .bind(place)
        .bind(fixed.dish_revision_id)
        .execute(&mut *connection)
        .await?;
    }
    Ok((new.id, true))
}

/// The first class of the menu; the quiet one is made when there is none.
async fn first_class(
    connection: &mut SqliteConnection,
    school: SchoolId,
    publication: PublicationId,
    new: &NewPublication,
) -> sqlx::Result<Option<ClassId>> {
    let first: Option<Uuid> = sqlx::query_scalar(
        "select class_id from cooking_class
         where school_id = ? and menu_id = ? order by made_at, class_id limit 1",
    )
    .bind(school.0)
    .bind(new.menu.0)
    .fetch_optional(&mut *connection)
    .await?;
    let Some((class, link, hash)) = new.quiet.as_ref().filter(|_| first.is_none()) else {
        return Ok(first.map(ClassId));
    };
    let class = Class { publication: Some(publication), ..class.clone() };
    insert_class(&mut *connection, school, &class, new.at).await?;
    insert_link(connection, school, class.id, link, *hash).await?;
    Ok(Some(class.id))
}

#[derive(FromRow)]
struct PublicationRow {
    publication_id: Uuid,
    number: u32,
    snapshot: String,
    check_word: String,
    published_at: i64,
    revisions: String,
}

impl TryFrom<PublicationRow> for Published {
    type Error = CorruptRow;

    fn try_from(row: PublicationRow) -> Result<Self, CorruptRow> {
        let corrupt = |column, reason| CorruptRow {
            table: "publication",
            column,
            row: row.publication_id,
            reason,
        };
        let at = Timestamp::from_second(row.published_at)
            .map_err(|e| corrupt("published_at", e.to_string()))?;
        let fixed = Revision { number: row.number, check_word: row.check_word.clone(), at };
        let revisions = rows::revisions(&row.revisions).map_err(|e| corrupt("revisions", e))?;
        snapshot::read(&row.snapshot, fixed, &revisions)
            .map_err(|e| corrupt("snapshot", e.to_string()))
    }
}

#[derive(FromRow)]
struct PublicationLineRow {
    publication_id: Uuid,
    number: u32,
    check_word: String,
    published_at: i64,
    copies: u32,
}

impl TryFrom<PublicationLineRow> for PublicationLine {
    type Error = CorruptRow;

    fn try_from(row: PublicationLineRow) -> Result<Self, CorruptRow> {
        let at = Timestamp::from_second(row.published_at).map_err(|error| CorruptRow {
            table: "publication",
            column: "published_at",
            row: row.publication_id,
            reason: error.to_string(),
        })?;
        Ok(Self {
            id: PublicationId(row.publication_id),
            revision: Revision { number: row.number, check_word: row.check_word, at },
            copies: row.copies,
        })
    }
}
