//! One file that holds everything: made beside a running server, checked, and brought back.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};

use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{AssertSqlSafe, ConnectOptions, Connection, Row};
use uuid::Uuid;

use super::{Storage, StorageError, marker};

/// Why a copy was not made, or is not to be trusted.
#[derive(Debug, thiserror::Error)]
pub enum BackupError {
    #[error("{path}: exists already; name a new file")]
    Exists { path: PathBuf },
    #[error("{path}: is not empty; restore into a new folder")]
    NotEmpty { path: PathBuf },
    #[error("{path}: there is no house in this folder")]
    NoHouse { path: PathBuf },
    #[error("{path}: is damaged or not a backup of a house: {reason}")]
    Damaged { path: PathBuf, reason: String },
    #[error("{path}: {reason}")]
    File { path: PathBuf, reason: std::io::Error },
    #[error(transparent)]
    Storage(#[from] StorageError),
}

/// What a file was found to hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contents {
    pub house: Uuid,
    /// Each table with its rows.
    pub rows: Vec<(String, i64)>,
}

/// Copies the house in `folder` into the new file `target`, while a server may be writing, and
/// checks the copy. The file appears under its name only when it is good.
pub async fn back_up(folder: &Path, target: &Path) -> Result<Contents, BackupError> {
    let source = folder.join(marker::DATABASE);
    if !fs::metadata(&source).is_ok_and(|file| file.len() > 0) {
        return Err(BackupError::NoHouse { path: folder.to_owned() });
    }
    let settings = super::settings(&source);
    let mut connection = settings.connect().await.map_err(|error| damaged(&source, error))?;
    let made = copy(&mut connection, target).await;
    connection.close().await.map_err(StorageError::from)?;
    made
}

pub(super) async fn copy(
    connection: &mut SqliteConnection,
    target: &Path,
) -> Result<Contents, BackupError> {
    if target.exists() {
        return Err(BackupError::Exists { path: target.to_owned() });
    }
    let failed = |reason| BackupError::File { path: target.to_owned(), reason };
    let part = target.with_added_extension("part");
    if part.exists() {
        fs::remove_file(&part).map_err(failed)?;
    }
    let before = contents(connection).await.map_err(StorageError::from)?;
    let name = part.display().to_string().replace('\'', "''");
    sqlx::raw_sql(AssertSqlSafe(format!("vacuum into '{name}'")))
        .execute(&mut *connection)
        .await
        .map_err(StorageError::from)?;
    let after = contents(connection).await.map_err(StorageError::from)?;
    let copied = verify(&part).await?;
    // What nobody wrote meanwhile must be the same, row for row.
    let differs = before
        .rows
        .iter()
        .zip(&after.rows)
        .zip(&copied.rows)
        .find(|((one, two), copy)| one.0 != copy.0 || (one == two && one != copy));
    if let Some(((one, _), _)) = differs {
        let reason = format!("the rows of {} were not all copied", one.0);
        return Err(BackupError::Damaged { path: part, reason });
    }
    if copied.house != before.house || copied.rows.len() != before.rows.len() {
        let reason = "it names another house".to_owned();
        return Err(BackupError::Damaged { path: part, reason });
    }
    fs::set_permissions(&part, fs::Permissions::from_mode(0o600)).map_err(failed)?;
    fs::File::open(&part).and_then(|file| file.sync_all()).map_err(failed)?;
    // Unlike a renaming, a link never takes the place of a file that appeared meanwhile.
    fs::hard_link(&part, target).map_err(failed)?;
    fs::remove_file(&part).map_err(failed)?;
    Ok(copied)
}

/// Reads a whole database file: its structure, its indexes, its references, its house.
pub async fn verify(file: &Path) -> Result<Contents, BackupError> {
    let wrong = |error: sqlx::Error| damaged(file, error);
    let options = SqliteConnectOptions::new().filename(file).read_only(true);
    let mut connection = options.connect().await.map_err(wrong)?;
    let structure = sqlx::raw_sql("pragma integrity_check").fetch_all(&mut connection).await;
    let words: Vec<String> =
        structure.map_err(wrong)?.iter().map(|row| row.get::<String, _>(0)).collect();
    if words != ["ok"] {
        return Err(BackupError::Damaged { path: file.to_owned(), reason: words.join("; ") });
    }
    let broken = sqlx::raw_sql("pragma foreign_key_check").fetch_all(&mut connection).await;
    if let Some(row) = broken.map_err(wrong)?.first() {
        let table: String = row.get(0);
        let reason = format!("a row of {table} refers to nothing");
        return Err(BackupError::Damaged { path: file.to_owned(), reason });
    }
    let found = contents(&mut connection).await.map_err(wrong)?;
    connection.close().await.map_err(StorageError::from)?;
    Ok(found)
}

/// Brings a checked copy into an empty folder; a server started there is the same house.
pub async fn restore(file: &Path, folder: &Path) -> Result<Contents, BackupError> {
    let failed = |path: &Path| {
        let path = path.to_owned();
        move |reason| BackupError::File { path, reason }
    };
    let copied = verify(file).await?;
    fs::create_dir_all(folder).map_err(failed(folder))?;
    if fs::read_dir(folder).map_err(failed(folder))?.next().is_some() {
        return Err(BackupError::NotEmpty { path: folder.to_owned() });
    }
    let target = folder.join(marker::DATABASE);
    let part = target.with_added_extension("part");
    fs::copy(file, &part).map_err(failed(&part))?;
    fs::File::open(&part).and_then(|file| file.sync_all()).map_err(failed(&part))?;
    let found = verify(&part).await?;
    if found != copied {
        let reason = "the copy is not what the file held".to_owned();
        return Err(BackupError::Damaged { path: part, reason });
    }
    // The marker last: a folder with a database and none is taken over, one without is refused.
    fs::rename(&part, &target).map_err(failed(&target))?;
    marker::write(&folder.join(marker::MARKER), found.house).map_err(StorageError::from)?;
    Ok(found)
}

/// Checks the house in `folder`: the file, the marker, and that every document can be read.
pub async fn check(folder: &Path) -> Result<Contents, BackupError> {
    marker::check_files(folder).map_err(StorageError::from)?;
    let file = folder.join(marker::DATABASE);
    if !file.exists() {
        return Err(BackupError::NoHouse { path: folder.to_owned() });
    }
    let found = verify(&file).await?;
    marker::check_named(folder, found.house).map_err(StorageError::from)?;
    Ok(found)
}

impl Storage {
    /// Reads every document that is kept; the first that cannot be read is the answer.
    pub async fn read_all_documents(&self) -> Result<(), StorageError> {
        for school in self.schools().await? {
            self.accounts(school.id).await?;
            self.dishes(school.id).await?;
            self.own_foods(school.id).await?;
            self.prices(school.id, school.settings.currency).await?;
            self.profile(school.id).await?;
            self.kitchens(school.id).await?;
            for menu in self.menus(school.id).await? {
                self.menu(school.id, menu.id).await?;
                self.publications(school.id, menu.id).await?;
            }
            for class in self.classes(school.id).await? {
                self.links(school.id, class.class.id).await?;
                self.homes(school.id, class.class.id).await?;
            }
        }
        Ok(())
    }
}

fn damaged(path: &Path, error: impl std::fmt::Display) -> BackupError {
    BackupError::Damaged { path: path.to_owned(), reason: error.to_string() }
}

async fn contents(connection: &mut SqliteConnection) -> sqlx::Result<Contents> {
    let house =
        sqlx::query_scalar("select instance_id from instance").fetch_one(&mut *connection).await?;
    let tables: Vec<String> = sqlx::query_scalar(
        "select name from sqlite_schema where type = 'table' and name not like 'sqlite_%'
         order by name",
    )
    .fetch_all(&mut *connection)
    .await?;
    let mut rows = Vec::with_capacity(tables.len());
    for table in tables {
        let count = format!("select count(*) from \"{table}\"");
        let row = sqlx::raw_sql(AssertSqlSafe(count)).fetch_one(&mut *connection).await?;
        rows.push((table, row.get(0)));
    }
    Ok(Contents { house, rows })
}
