//! What SQLite itself does on this disk: one row a commit in a loop, as durable as the site writes.

use std::path::Path;
use std::time::{Duration, Instant};

use rusqlite::{Connection, params};

const LASTING: Duration = Duration::from_millis(700);

/// Rows a second.
#[expect(clippy::disallowed_methods, reason = "a benchmark is about time")]
pub fn rows_a_second(folder: &Path) -> rusqlite::Result<f64> {
    let connection = Connection::open(folder.join("bare.db"))?;
    connection.execute_batch(
        "pragma journal_mode = wal; pragma synchronous = full;
         create table event (event_id blob primary key, home_id blob not null, kind text not null,
             key text not null, client_at integer not null, received_at integer not null) strict;
         create index event_of_home on event (home_id, received_at);",
    )?;
    let mut insert = connection.prepare("insert into event values (?, ?, 'tick', ?, ?, ?)")?;
    let (begun, mut rows) = (Instant::now(), 0_u32);
    while begun.elapsed() < LASTING {
        let id = uuid::Uuid::from_u128(u128::from(rows).wrapping_mul(0x9e37_79b9_7f4a_7c15));
        insert.execute(params![id.as_bytes(), &[7_u8; 16], "buy|leek|each", rows, rows])?;
        rows += 1;
    }
    Ok(f64::from(rows) / begun.elapsed().as_secs_f64())
}
