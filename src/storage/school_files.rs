//! A whole school out of the house and into another: every row, all or none.

use sqlx::sqlite::{SqliteConnection, SqliteRow};
use sqlx::{AssertSqlSafe, Row};

use super::{Storage, StorageError};
use crate::domain::school::SchoolId;
use crate::exchange::school_file::{Cell, Column, SchoolFile, TABLES, Table};

/// Why a school did not come in; then nothing of it did.
#[derive(Debug, thiserror::Error)]
pub enum ImportError {
    #[error("this school lives here already")]
    Here,
    #[error("somebody here signs in as “{login}” already")]
    LoginTaken { login: String },
    #[error("the document does not hold together: {0}")]
    Torn(String),
    #[error(transparent)]
    Storage(#[from] StorageError),
}

impl Storage {
    /// Everything a school owns, as it stood at one moment.
    pub async fn export_school(&self, school: SchoolId) -> Result<SchoolFile, StorageError> {
        let mut reading = self.readers.begin().await?;
        let mut tables = Vec::with_capacity(TABLES.len());
        for table in TABLES {
            let rows = sqlx::query(AssertSqlSafe(select(table)))
                .bind(school.0)
                .fetch_all(&mut *reading)
                .await?;
            let cells = rows.iter().map(|row| cells(table, row));
            tables.push(cells.collect::<sqlx::Result<_>>()?);
        }
        Ok(SchoolFile { tables })
    }

    /// Brings a school in, with its keys, log-ins and links.
    pub async fn import_school(&self, file: SchoolFile) -> Result<(), ImportError> {
        let schools = file.tables.first().into_iter().flatten();
        for id in schools.filter_map(|row| row.first()) {
            if self.has_school(id).await? {
                return Err(ImportError::Here);
            }
        }
        for row in file.tables.get(1).into_iter().flatten() {
            if let (Some(Cell::Text(login)), Some(Cell::Text(folded))) = (row.get(1), row.get(2))
                && self.has_login(folded).await?
            {
                return Err(ImportError::LoginTaken { login: login.clone() });
            }
        }
        let written = self.write(move |connection| Box::pin(insert_all(connection, file))).await;
        written.map_err(|error| match error {
            StorageError::Database(sqlx::Error::Database(error)) => {
                ImportError::Torn(error.message().to_owned())
            }
            error => error.into(),
        })
    }

    async fn has_school(&self, id: &Cell) -> Result<bool, StorageError> {
        let Cell::Key(id) = id else { return Ok(false) };
        let found: i64 = sqlx::query_scalar("select count(*) from school where school_id = ?")
            .bind(id)
            .fetch_one(&self.readers)
            .await?;
        Ok(found > 0)
    }

    async fn has_login(&self, folded: &str) -> Result<bool, StorageError> {
        let found: i64 = sqlx::query_scalar("select count(*) from account where login_folded = ?")
            .bind(folded)
            .fetch_one(&self.readers)
            .await?;
        Ok(found > 0)
    }
}

async fn insert_all(connection: &mut SqliteConnection, file: SchoolFile) -> sqlx::Result<()> {
    let school = file.tables.first().and_then(|rows| rows.first()?.first().cloned());
    let school = school.unwrap_or(Cell::Empty);
    for (table, rows) in TABLES.iter().zip(file.tables) {
        let statement = insert(table);
        for row in rows {
            let mut query = sqlx::query(AssertSqlSafe(statement.clone()));
            let owner = (table.name != "school").then(|| school.clone());
            for cell in owner.into_iter().chain(row) {
                query = match cell {
                    Cell::Empty => query.bind(None::<i64>),
                    Cell::Key(bytes) => query.bind(bytes),
                    Cell::Text(text) => query.bind(text),
                    Cell::Number(number) => query.bind(number),
                };
            }
            query.execute(&mut *connection).await?;
        }
    }
    Ok(())
}

fn cells(table: &Table, row: &SqliteRow) -> sqlx::Result<Vec<Cell>> {
    let cell = |(place, column): (usize, &Column)| {
        Ok(match column {
            Column::Key(_) => row.try_get::<Option<Vec<u8>>, _>(place)?.map(Cell::Key),
            Column::Text(_) => row.try_get::<Option<String>, _>(place)?.map(Cell::Text),
            Column::Number(_) => row.try_get::<Option<i64>, _>(place)?.map(Cell::Number),
        }
        .unwrap_or(Cell::Empty))
    };
    table.columns.iter().enumerate().map(cell).collect()
}

// The names come from `TABLES` alone, never from a document.

fn select(table: &Table) -> String {
    let order = ["1", "1, 2", "1, 2, 3"][table.columns.len().clamp(1, 3) - 1];
    format!(
        "select {} from {} where school_id = ? order by {order}",
        names(table).join(", "),
        table.name
    )
}

fn insert(table: &Table) -> String {
    let mut columns = names(table);
    if table.name != "school" {
        columns.insert(0, "school_id");
    }
    let marks = vec!["?"; columns.len()].join(", ");
    format!("insert into {} ({}) values ({marks})", table.name, columns.join(", "))
}

fn names(table: &Table) -> Vec<&'static str> {
    table.columns.iter().map(|column| column.name()).collect()
}
