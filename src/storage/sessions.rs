//! Sessions in the database: who was let in, by the hash of what the cookie holds.

use jiff::Timestamp;
use sqlx::FromRow;
use uuid::Uuid;

use super::schools::SchoolRow;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::account::{Account, AccountId, Login, SessionId, stay};
use crate::domain::school::{School, SchoolId};

/// How often "last seen" is written down: a write for each page would be one too many.
const SEEN_EVERY_SECONDS: i64 = 3_600;

/// A browser about to be let in.
#[derive(Clone, Debug)]
pub struct NewSession {
    pub id: SessionId,
    pub token_hash: [u8; 32],
    pub account: AccountId,
    pub school: SchoolId,
    pub device: String,
    pub at: Timestamp,
}

/// Who stands behind a cookie.
#[derive(Clone, Debug)]
pub struct Visit {
    pub session: SessionId,
    pub account: Account,
    pub school: School,
    pub proved_at: Timestamp,
}

/// A session as its owner sees it in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SessionLine {
    pub id: SessionId,
    pub device: String,
    pub made_at: Timestamp,
    pub seen_at: Timestamp,
}

impl Storage {
    /// Lets a browser in, and forgets the account's sessions that have ended by themselves.
    pub async fn add_session(&self, new: &NewSession) -> Result<(), StorageError> {
        let new = new.clone();
        self.write(move |connection| {
            Box::pin(async move {
                let at = new.at.as_second();
                sqlx::query(
                    "delete from session where school_id = ? and account_id = ?
                     and (seen_at <= ? or made_at <= ?)",
                )
                .bind(new.school.0)
                .bind(new.account.0)
                .bind(at - stay::IDLE_MAX_SECONDS)
                .bind(at - stay::WHOLE_MAX_SECONDS)
                .execute(&mut *connection)
                .await?;
                sqlx::query(
                    "insert into session (token_hash, session_id, school_id, account_id, device,
                     made_at, seen_at, proved_at) values (?, ?, ?, ?, ?, ?, ?, ?)",
                )
                .bind(new.token_hash.as_slice())
                .bind(new.id.0)
                .bind(new.school.0)
                .bind(new.account.0)
                .bind(new.device)
                .bind(at)
                .bind(at)
                .bind(at)
                .execute(connection)
                .await
                .map(drop)
            })
        })
        .await
    }

    /// The person behind a cookie; `None` when it was never given out, or has ended.
    pub async fn visit(
        &self,
        token_hash: [u8; 32],
        now: Timestamp,
    ) -> Result<Option<Visit>, StorageError> {
        let row = sqlx::query_as::<_, VisitRow>(
            "select s.session_id, s.account_id, s.made_at, s.seen_at, s.proved_at, a.login,
                    c.school_id, c.name, c.zone, c.settings, c.version
             from session s
             join account a on a.school_id = s.school_id and a.account_id = s.account_id
             join school c on c.school_id = s.school_id
             where s.token_hash = ? and a.disabled_at is null",
        )
        .bind(token_hash.as_slice())
        .fetch_optional(&self.readers)
        .await?;
        let Some(row) = row else { return Ok(None) };
        let now = now.as_second();
        if !stay::lasts(row.made_at, row.seen_at, now) {
            return Ok(None);
        }
        if now - row.seen_at >= SEEN_EVERY_SECONDS {
            self.note_seen(token_hash, now).await?;
        }
        Ok(Some(row.try_into()?))
    }

    async fn note_seen(&self, token_hash: [u8; 32], now: i64) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query("update session set seen_at = ? where token_hash = ?")
                    .bind(now)
                    .bind(token_hash.as_slice())
                    .execute(connection)
                    .await
                    .map(drop)
            })
        })
        .await
    }

    /// Ends the session of a cookie. One that has ended stays so.
    pub async fn end_session(&self, token_hash: [u8; 32]) -> Result<(), StorageError> {
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query("delete from session where token_hash = ?")
                    .bind(token_hash.as_slice())
                    .execute(connection)
                    .await
                    .map(drop)
            })
        })
        .await
    }

    /// The browsers in which an account is signed in, last used first.
    pub async fn sessions(
        &self,
        account: &Account,
        now: Timestamp,
    ) -> Result<Vec<SessionLine>, StorageError> {
        let rows = sqlx::query_as::<_, SessionRow>(
            "select session_id, device, made_at, seen_at from session
             where school_id = ? and account_id = ? order by seen_at desc, session_id",
        )
        .bind(account.school.0)
        .bind(account.id.0)
        .fetch_all(&self.readers)
        .await?;
        let open =
            rows.into_iter().filter(|it| stay::lasts(it.made_at, it.seen_at, now.as_second()));
        Ok(open.map(SessionLine::try_from).collect::<Result<_, _>>()?)
    }

    /// Ends one session of an account. False when it has no such session.
    pub async fn end_one_session(
        &self,
        account: &Account,
        id: SessionId,
    ) -> Result<bool, StorageError> {
        let account = account.clone();
        self.write(move |connection| {
            Box::pin(async move {
                let ended = sqlx::query(
                    "delete from session where school_id = ? and account_id = ? and session_id = ?",
                )
                .bind(account.school.0)
                .bind(account.id.0)
                .bind(id.0)
                .execute(connection)
                .await?;
                Ok(ended.rows_affected() == 1)
            })
        })
        .await
    }

    /// Ends all sessions of an account.
    pub async fn end_all_sessions(&self, account: &Account) -> Result<(), StorageError> {
        let account = account.clone();
        self.write(move |connection| {
            Box::pin(async move {
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

#[derive(FromRow)]
struct VisitRow {
    session_id: Uuid,
    account_id: Uuid,
    made_at: i64,
    seen_at: i64,
    proved_at: i64,
    login: String,
    #[sqlx(flatten)]
    school: SchoolRow,
}

#[derive(FromRow)]
struct SessionRow {
    session_id: Uuid,
    device: String,
    made_at: i64,
    seen_at: i64,
}

fn hour(row: Uuid, column: &'static str, seconds: i64) -> Result<Timestamp, CorruptRow> {
    Timestamp::from_second(seconds).map_err(|error| CorruptRow {
        table: "session",
        column,
        row,
        reason: error.to_string(),
    })
}

impl TryFrom<VisitRow> for Visit {
    type Error = CorruptRow;

    fn try_from(row: VisitRow) -> Result<Self, CorruptRow> {
        let school = School::try_from(row.school)?;
        let login = Login::parse(&row.login).map_err(|error| CorruptRow {
            table: "account",
            column: "login",
            row: row.account_id,
            reason: error.to_string(),
        })?;
        let account =
            Account { id: AccountId(row.account_id), school: school.id, login, disabled_at: None };
        let proved_at = hour(row.session_id, "proved_at", row.proved_at)?;
        Ok(Self { session: SessionId(row.session_id), account, school, proved_at })
    }
}

impl TryFrom<SessionRow> for SessionLine {
    type Error = CorruptRow;

    fn try_from(row: SessionRow) -> Result<Self, CorruptRow> {
        Ok(Self {
            id: SessionId(row.session_id),
            made_at: hour(row.session_id, "made_at", row.made_at)?,
            seen_at: hour(row.session_id, "seen_at", row.seen_at)?,
            device: row.device,
        })
    }
}
