//! The log of a kitchen, and who took which sheet.

use jiff::Timestamp;
use sqlx::FromRow;
use sqlx::sqlite::SqliteConnection;
use uuid::Uuid;

use super::error::is_foreign;
use super::{CorruptRow, Storage, StorageError};
use crate::domain::class::ClassId;
use crate::domain::event::{EventKey, EventKind, KitchenEvent};
use crate::domain::home::HomeId;
use crate::domain::menu::PublicationId;
use crate::domain::school::SchoolId;
use crate::exchange::event::{read_value, write_value};
use crate::exchange::rows;

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
    /// Adds what happened; an event sent again changes nothing. False when the kitchen has gone.
    pub async fn record_events(
        &self,
        school: SchoolId,
        kitchen: Kitchen,
        events: &[KitchenEvent],
    ) -> Result<bool, StorageError> {
        let new = |event: &KitchenEvent| NewEvent { school, kitchen, event: event.clone() };
        let recorded = if let [event] = events {
            self.write_event(new(event)).await
        } else {
            let events: Vec<_> = events.iter().map(new).collect();
            self.write(move |connection| {
                Box::pin(async move { insert_all(connection, &events).await })
            })
            .await
        };
        match recorded {
            Ok(()) => Ok(true),
            Err(error) if is_foreign(&error) => Ok(false),
            Err(error) => Err(error),
        }
    }

    /// Everything that happened in a home, in the order it arrived.
    pub async fn home_events(
        &self,
        school: SchoolId,
        home: HomeId,
    ) -> Result<Vec<KitchenEvent>, StorageError> {
        let rows = sqlx::query_as::<_, EventRow>(
            "select event_id, kind, key, value, client_at, received_at from kitchen_event
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
            "select event_id, kind, key, value, client_at, received_at from kitchen_event
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

/// An event on its way into the log of its kitchen.
pub(super) struct NewEvent {
    school: SchoolId,
    kitchen: Kitchen,
    event: KitchenEvent,
}

/// Adds all or, when one breaks a rule of the schema, none of them.
pub(super) async fn insert_all(
    connection: &mut SqliteConnection,
    events: impl IntoIterator<Item = &NewEvent>,
) -> sqlx::Result<()> {
    let rows: Vec<_> = events.into_iter().map(NewEvent::columns).collect();
    let adding = sqlx::query(
        "insert into kitchen_event (event_id, school_id, class_id, home_id, kind, key, value,
             client_at, received_at)
         select unhex(value ->> 0), unhex(value ->> 1), unhex(value ->> 2), unhex(value ->> 3),
             value ->> 4, value ->> 5, value ->> 6, value ->> 7, value ->> 8
         from json_each(?) where true on conflict do nothing",
    )
    .bind(rows::write(&rows));
    adding.execute(connection).await.map(drop)
}

/// Ids in hex, as `unhex` reads them back.
type Columns =
    (String, String, Option<String>, Option<String>, &'static str, String, String, i64, i64);

impl NewEvent {
    fn columns(&self) -> Columns {
        let (home, class) = self.kitchen.columns();
        let hex = |id: Uuid| id.simple().to_string();
        let Self { school, event, .. } = self;
        (
            hex(event.id),
            hex(school.0),
            class.map(hex),
            home.map(hex),
            event.kind.word(),
            event.key.as_str().to_owned(),
            write_value(&event.value),
            event.client_at.as_second(),
            event.received_at.as_second(),
        )
    }
}

#[derive(FromRow)]
struct EventRow {
    event_id: Uuid,
    kind: String,
    key: String,
    value: String,
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
            value: read_value(&row.value).map_err(|error| corrupt("value", error))?,
            client_at: instant("client_at", row.client_at)?,
            received_at: instant("received_at", row.received_at)?,
        })
    }
}
