//! Accounts in the database. A password is only ever a hash here.

use jiff::Timestamp;
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::error::is_duplicate;
use super::{CorruptRow, Storage, StorageError, schools};
use crate::domain::account::{Account, AccountId, Login};
use crate::domain::school::{School, SchoolId};

/// An account about to be kept.
#[derive(Clone, Debug)]
pub struct NewAccount {
    pub id: AccountId,
    pub school: SchoolId,
    pub login: Login,
    pub password_hash: String,
    pub at: Timestamp,
}

/// What is needed to let somebody in, or not.
#[derive(Clone, Debug)]
pub struct Credentials {
    pub account: Account,
    pub password_hash: String,
}

/// How adding an account can fail in a way the person can put right.
#[derive(Debug, thiserror::Error)]
pub enum AddAccountError {
    #[error("this name is taken")]
    LoginTaken,
    #[error(transparent)]
    Storage(StorageError),
}

impl From<StorageError> for AddAccountError {
    fn from(error: StorageError) -> Self {
        if is_duplicate(&error, "account.login_folded") {
            Self::LoginTaken
        } else {
            Self::Storage(error)
        }
    }
}

impl Storage {
    pub async fn add_account(&self, new: &NewAccount) -> Result<(), AddAccountError> {
        let new = new.clone();
        Ok(self.write(move |connection| Box::pin(insert(connection, new))).await?)
    }

    /// A new school with its first instructor: both or neither.
    pub async fn found_school(
        &self,
        school: &School,
        first: &NewAccount,
    ) -> Result<(), AddAccountError> {
        let (school, first) = (school.clone(), first.clone());
        Ok(self
            .write(move |connection| {
                Box::pin(async move {
                    schools::insert(&mut *connection, school).await?;
                    insert(connection, first).await
                })
            })
            .await?)
    }

    /// The account of a log-in; the door does not know the school before.
    pub async fn credentials(&self, login: &Login) -> Result<Option<Credentials>, StorageError> {
        let row = sqlx::query_as::<_, AccountRow>(
            "select account_id, school_id, login, password_hash, disabled_at
             from account where login_folded = ?",
        )
        .bind(login.folded())
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(Credentials::try_from).transpose()?)
    }

    /// The instructors of a school by name.
    pub async fn accounts(&self, school: SchoolId) -> Result<Vec<Account>, StorageError> {
        let rows = sqlx::query_as::<_, AccountRow>(
            "select account_id, school_id, login, password_hash, disabled_at
             from account where school_id = ? order by login_folded",
        )
        .bind(school.0)
        .fetch_all(&self.readers)
        .await?;
        let read = |row| Credentials::try_from(row).map(|it| it.account);
        Ok(rows.into_iter().map(read).collect::<Result<_, _>>()?)
    }

    /// Sets a new hash of the same password, made at a higher cost.
    pub async fn rehash(&self, account: &Account, hash: String) -> Result<(), StorageError> {
        let account = account.clone();
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "update account set password_hash = ? where school_id = ? and account_id = ?",
                )
                .bind(hash)
                .bind(account.school.0)
                .bind(account.id.0)
                .execute(connection)
                .await
                .map(drop)
            })
        })
        .await
    }

    /// Changes the password, and ends every session and open link but the session kept.
    pub async fn change_password(
        &self,
        account: &Account,
        hash: String,
        kept: Option<[u8; 32]>,
    ) -> Result<(), StorageError> {
        let account = account.clone();
        self.write(move |connection| {
            Box::pin(set_password(connection, account.school, account.id, hash, kept))
        })
        .await
    }

    /// Shuts an account out from this moment, or lets it in again.
    pub async fn set_disabled(
        &self,
        account: &Account,
        disabled_at: Option<Timestamp>,
    ) -> Result<(), StorageError> {
        let account = account.clone();
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "update account set disabled_at = ?, version = version + 1
                     where school_id = ? and account_id = ?",
                )
                .bind(disabled_at.map(Timestamp::as_second))
                .bind(account.school.0)
                .bind(account.id.0)
                .execute(&mut *connection)
                .await?;
                sqlx::query("delete from session where school_id = ? and account_id = ?")
                    .bind(account.school.0)
                    .bind(account.id.0)
                    .execute(connection)
                    .await
                    .map(drop)
            })
        })
        .await
    }
}

pub(super) async fn insert(connection: &mut SqliteConnection, new: NewAccount) -> sqlx::Result<()> {
    sqlx::query(
        "insert into account (account_id, school_id, login, login_folded, password_hash, made_at)
         values (?, ?, ?, ?, ?, ?)",
    )
    .bind(new.id.0)
    .bind(new.school.0)
    .bind(new.login.as_str())
    .bind(new.login.folded())
    .bind(new.password_hash)
    .bind(new.at.as_second())
    .execute(connection)
    .await
    .map(drop)
}

pub(super) async fn set_password(
    connection: &mut SqliteConnection,
    school: SchoolId,
    account: AccountId,
    hash: String,
    kept: Option<[u8; 32]>,
) -> sqlx::Result<()> {
    sqlx::query(
        "update account set password_hash = ?, version = version + 1
         where school_id = ? and account_id = ?",
    )
    .bind(hash)
    .bind(school.0)
    .bind(account.0)
    .execute(&mut *connection)
    .await?;
    sqlx::query("delete from session where school_id = ? and account_id = ? and token_hash <> ?")
        .bind(school.0)
        .bind(account.0)
        .bind(kept.unwrap_or_default().as_slice())
        .execute(&mut *connection)
        .await?;
    sqlx::query(
        "delete from one_time_link where purpose = 'reset' and school_id = ? and account_id = ?",
    )
    .bind(school.0)
    .bind(account.0)
    .execute(connection)
    .await
    .map(drop)
}

#[derive(FromRow)]
struct AccountRow {
    account_id: Uuid,
    school_id: Uuid,
    login: String,
    password_hash: String,
    disabled_at: Option<i64>,
}

impl TryFrom<AccountRow> for Credentials {
    type Error = CorruptRow;

    fn try_from(row: AccountRow) -> Result<Self, CorruptRow> {
        let corrupt =
            |column, reason| CorruptRow { table: "account", column, row: row.account_id, reason };
        let disabled_at = row.disabled_at.map(Timestamp::from_second).transpose();
        let account = Account {
            id: AccountId(row.account_id),
            school: SchoolId(row.school_id),
            login: Login::parse(&row.login).map_err(|e| corrupt("login", e.to_string()))?,
            disabled_at: disabled_at.map_err(|e| corrupt("disabled_at", e.to_string()))?,
        };
        Ok(Self { account, password_hash: row.password_hash })
    }
}
