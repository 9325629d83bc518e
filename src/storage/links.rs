//! One-time links in the database, by the hash of what they hold.

use jiff::Timestamp;
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::{AddAccountError, NewAccount, Storage, StorageError, accounts, schools};
use crate::domain::account::{Account, AccountId};
use crate::domain::school::{School, SchoolId};

/// What a link opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkPurpose {
    /// Founding a school.
    SetUp,
    /// Joining one.
    Invite(SchoolId),
    /// Choosing a new password.
    Reset(SchoolId, AccountId),
}

impl LinkPurpose {
    const fn word(self) -> &'static str {
        match self {
            Self::SetUp => "set-up",
            Self::Invite(_) => "invite",
            Self::Reset(..) => "reset",
        }
    }

    const fn parts(self) -> (Option<Uuid>, Option<Uuid>) {
        match self {
            Self::SetUp => (None, None),
            Self::Invite(school) => (Some(school.0), None),
            Self::Reset(school, account) => (Some(school.0), Some(account.0)),
        }
    }
}

/// How going through a link can fail.
#[derive(Debug, thiserror::Error)]
pub enum UseLinkError {
    #[error("the link has been used, or its time is over")]
    Ended,
    #[error("this name is taken")]
    LoginTaken,
    #[error(transparent)]
    Storage(StorageError),
}

impl From<StorageError> for UseLinkError {
    fn from(error: StorageError) -> Self {
        match AddAccountError::from(error) {
            AddAccountError::LoginTaken => Self::LoginTaken,
            AddAccountError::Storage(error) => Self::Storage(error),
        }
    }
}

impl Storage {
    /// Keeps a new link. Older ones that open the same for the same person are ended, except
    /// invitations, of which there may be several.
    pub async fn add_link(
        &self,
        token_hash: [u8; 32],
        purpose: LinkPurpose,
        made_at: Timestamp,
        expires_at: Timestamp,
    ) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                let (school, account) = purpose.parts();
                sqlx::query(
                    "delete from one_time_link where purpose = ? and purpose <> 'invite'
                     and school_id is ? and account_id is ?",
                )
                .bind(purpose.word())
                .bind(school)
                .bind(account)
                .execute(&mut *connection)
                .await?;
                sqlx::query(
                    "insert into one_time_link (token_hash, purpose, school_id, account_id, made_at,
                     expires_at) values (?, ?, ?, ?, ?, ?)",
                )
                .bind(token_hash.as_slice())
                .bind(purpose.word())
                .bind(school)
                .bind(account)
                .bind(made_at.as_second())
                .bind(expires_at.as_second())
                .execute(connection)
                .await
                .map(drop)
            })
        })
        .await
    }

    /// What a link opens; `None` when it never existed, was used, or its time is over.
    pub async fn link(
        &self,
        token_hash: [u8; 32],
        now: Timestamp,
    ) -> Result<Option<LinkPurpose>, StorageError> {
        let row = sqlx::query_as::<_, LinkRow>(
            "select school_id, account_id from one_time_link
             where token_hash = ? and used_at is null and expires_at > ?",
        )
        .bind(token_hash.as_slice())
        .bind(now.as_second())
        .fetch_optional(&self.readers)
        .await?;
        Ok(row.map(|row| match (row.school_id, row.account_id) {
            (None, _) => LinkPurpose::SetUp,
            (Some(school), None) => LinkPurpose::Invite(SchoolId(school)),
            (Some(school), Some(account)) => {
                LinkPurpose::Reset(SchoolId(school), AccountId(account))
            }
        }))
    }

    /// Founds a school through a link: two people at once found one.
    pub async fn found_by_link(
        &self,
        token_hash: [u8; 32],
        school: &School,
        first: &NewAccount,
    ) -> Result<(), UseLinkError> {
        let (school, first) = (school.clone(), first.clone());
        let used = self
            .write(move |connection| {
                Box::pin(async move {
                    let open = use_up(&mut *connection, token_hash, first.at).await?;
                    if open {
                        schools::insert(&mut *connection, school).await?;
                        accounts::insert(connection, first).await?;
                    }
                    Ok(open)
                })
            })
            .await?;
        if used { Ok(()) } else { Err(UseLinkError::Ended) }
    }

    /// Joins a school through a link.
    pub async fn join_by_link(
        &self,
        token_hash: [u8; 32],
        new: &NewAccount,
    ) -> Result<(), UseLinkError> {
        let new = new.clone();
        let used = self
            .write(move |connection| {
                Box::pin(async move {
                    let open = use_up(&mut *connection, token_hash, new.at).await?;
                    if open {
                        accounts::insert(connection, new).await?;
                    }
                    Ok(open)
                })
            })
            .await?;
        if used { Ok(()) } else { Err(UseLinkError::Ended) }
    }

    /// Sets the password chosen through a link; all sessions of the account end.
    pub async fn reset_by_link(
        &self,
        token_hash: [u8; 32],
        account: &Account,
        hash: String,
        at: Timestamp,
    ) -> Result<(), UseLinkError> {
        let account = account.clone();
        let used = self
            .write(move |connection| {
                Box::pin(async move {
                    let open = use_up(&mut *connection, token_hash, at).await?;
                    if open {
                        let (school, id) = (account.school, account.id);
                        accounts::set_password(connection, school, id, hash, None).await?;
                    }
                    Ok(open)
                })
            })
            .await?;
        if used { Ok(()) } else { Err(UseLinkError::Ended) }
    }
}

/// True when the link was open and this use is the one that counts.
async fn use_up(
    connection: &mut SqliteConnection,
    token_hash: [u8; 32],
    now: Timestamp,
) -> sqlx::Result<bool> {
    let used = sqlx::query(
        "update one_time_link set used_at = ?
         where token_hash = ? and used_at is null and expires_at > ?",
    )
    .bind(now.as_second())
    .bind(token_hash.as_slice())
    .bind(now.as_second())
    .execute(connection)
    .await?;
    Ok(used.rows_affected() == 1)
}

#[derive(FromRow)]
struct LinkRow {
    school_id: Option<Uuid>,
    account_id: Option<Uuid>,
}
