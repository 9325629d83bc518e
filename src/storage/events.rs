//! The log of a kitchen, and who took which sheet.

use jiff::Timestamp;
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::{CorruptRow, Storage, StorageError};
use crate::domain::class::ClassId;
use crate::domain::event::{EventKey, EventKind, KitchenEvent};
use crate::domain::home::HomeId;
use crate::domain::menu::PublicationId;
use crate::domain::school::SchoolId;

/// Whose kitchen an event is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kitchen {
    Home(HomeId),
    Class(ClassId),
}

impl Kitchen {
    const fn columns(self) -> (Option<Uuid>, Option<Uuid>) {
        match self {
            Self::Home(home) => (Some(home.0), None),
            Self::Class(class) => (None, Some(class.0)),
        }
    }
}

/// A sheet that was printed or saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopyTaken {
    pub id: Uuid,
    pub publication: PublicationId,
    /// None when the instructor took it.
    pub home: Option<HomeId>,
    /// Which sheet: `shopping`, `recipes`.
    pub kind: &'static str,
    pub at: Timestamp,
}

impl Storage {
    /// Adds what happened; an event sent again changes nothing.
    pub async fn record_events(
        &self,
        school: SchoolId,
        kitchen: Kitchen,
        events: &[KitchenEvent],
    ) -> Result<(), StorageError> {
        let (home, class) = kitchen.columns();
        if let [event] = events {
            let event = event.clone();
            let add = self.write_statement(move |connection| {
                Box::pin(async move { insert(connection, school, (home, class), &event).await })
            });
            return add.await;
        }
        let events = events.to_vec();
        self.write(move |connection| {
            Box::pin(async move {
                for event in &events {
                    insert(&mut *connection, school, (home, class), event).await?;
                }
                Ok(())
            })
        })
        .await
    }

    /// Everything that happened in a home, in the order it arrived.
    pub async fn home_events(
        &self,
        school: SchoolId,
        home: HomeId,
    ) -> Result<Vec<KitchenEvent>, StorageError> {
        let rows = sqlx::query_as::<_, EventRow>(
            "select event_id, kind, key, client_at, received_at from kitchen_event
             where school_id = ? and home_id = ? order by received_at, event_id",
        )
        .bind(school.0)
        .bind(home.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(KitchenEvent::try_from).collect::<Result<_, _>>()?)
    }

    /// Everything that happened in a class, in the order it arrived.
    pub async fn class_events(
        &self,
        school: SchoolId,
        class: ClassId,
    ) -> Result<Vec<KitchenEvent>, StorageError> {
        let rows = sqlx::query_as::<_, EventRow>(
            "select event_id, kind, key, client_at, received_at from kitchen_event
             where school_id = ? and class_id = ? order by received_at, event_id",
        )
        .bind(school.0)
        .bind(class.0)
        .fetch_all(&self.readers)
        .await?;
        Ok(rows.into_iter().map(KitchenEvent::try_from).collect::<Result<_, _>>()?)
    }

    /// Notes that somebody took a sheet.
    pub async fn take_copy(&self, school: SchoolId, copy: &CopyTaken) -> Result<(), StorageError> {
        let copy = copy.clone();
        self.write(move |connection| {
            Box::pin(async move {
                sqlx::query(
                    "insert into copy_taken (copy_taken_id, school_id, publication_id, home_id,
                         kind, taken_at)
                     values (?, ?, ?, ?, ?, ?)",
                )
                .bind(copy.id)
                .bind(school.0)
                .bind(copy.publication.0)
                .bind(copy.home.map(|home| home.0))
                .bind(copy.kind)
                .bind(copy.at.as_second())
                .execute(connection)
                .await
                .map(drop)
            })
        })
        .await
    }
}

async fn insert(
    connection: &mut SqliteConnection,
    school: SchoolId,
    (home, class): (Option<Uuid>, Option<Uuid>),
    event: &KitchenEvent,
) -> sqlx::Result<()> {
    let adding = sqlx::query(
        "insert into kitchen_event (event_id, school_id, class_id, home_id, kind, key, client_at,
             received_at)
         values (?, ?, ?, ?, ?, ?, ?, ?) on conflict do nothing",
    )
    .bind(event.id)
    .bind(school.0)
    .bind(class)
    .bind(home)
    .bind(event.kind.word())
    .bind(event.key.as_str())
    .bind(event.client_at.as_second())
    .bind(event.received_at.as_second());
    adding.execute(connection).await.map(drop)
}

#[derive(FromRow)]
struct EventRow {
    event_id: Uuid,
    kind: String,
    key: String,
    client_at: i64,
    received_at: i64,
}

impl TryFrom<EventRow> for KitchenEvent {
    type Error = CorruptRow;

    fn try_from(row: EventRow) -> Result<Self, CorruptRow> {
        let corrupt = |column, reason: String| CorruptRow {
            table: "kitchen_event",
            column,
            row: row.event_id,
            reason,
        };
        let instant = |column, seconds| {
            Timestamp::from_second(seconds).map_err(|error| corrupt(column, error.to_string()))
        };
        Ok(Self {
            id: row.event_id,
            kind: EventKind::parse(&row.kind).ok_or_else(|| corrupt("kind", row.kind.clone()))?,
            key: EventKey::parse(&row.key).ok_or_else(|| corrupt("key", row.key.clone()))?,
            client_at: instant("client_at", row.client_at)?,
            received_at: instant("received_at", row.received_at)?,
        })
    }
}
