//! A whole school as one JSON document: every row it owns, letter for letter.
//!
//! `{"document": "dovetray school", "edition": 1, "tables": {"school": [{…}], "dish": [{…}], …}}`.
//! Each row names each of its columns. Keys and hashes are hexadecimal, moments are seconds since
//! 1970 in UTC, and documents inside a row stay the text they are, since some are hashed. The
//! school's own key stands in its row of `school` alone.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::document::DocumentError;

/// How a column is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// Hexadecimal.
    Key(&'static str),
    Text(&'static str),
    /// A whole number.
    Number(&'static str),
}
use Column::{Key, Number, Text};

impl Column {
    pub const fn name(self) -> &'static str {
        match self {
            Key(name) | Text(name) | Number(name) => name,
        }
    }
}

/// One table of the document; its first columns tell its rows apart and give their order.
#[derive(Debug)]
pub struct Table {
    pub name: &'static str,
    pub columns: &'static [Column],
}

/// What belongs to the house and its doors, and therefore to no school's document: who is signed
/// in, links that work once, tries at the door, and the notes the house keeps on its doors.
pub const LEFT_OUT: [&str; 5] = ["instance", "session", "one_time_link", "throttle", "audit_event"];

/// In an order in which each row comes after those it refers to.
#[rustfmt::skip]
pub const TABLES: &[Table] = &[
    Table { name: "school", columns: &[
        Key("school_id"), Text("name"), Text("zone"), Text("settings"), Number("version"),
    ] },
    Table { name: "account", columns: &[
        Key("account_id"), Text("login"), Text("login_folded"), Text("password_hash"),
        Number("made_at"), Number("disabled_at"), Number("version"),
    ] },
    Table { name: "check_word", columns: &[Text("word")] },
    Table { name: "dish", columns: &[
        Key("dish_id"), Text("kind"), Text("title"), Text("title_folded"), Text("draft"),
        Number("written_at"), Number("archived_at"), Number("version"),
    ] },
    Table { name: "dish_revision", columns: &[
        Key("dish_revision_id"), Key("dish_id"), Number("number"), Text("card"), Key("hash"),
        Text("check_word"), Number("published_at"),
    ] },
    Table { name: "food", columns: &[
        Text("food_key"), Text("food"), Number("changed_at"), Number("version"),
    ] },
    Table { name: "meaning", columns: &[
        Text("said"), Number("is_line"), Text("meant"), Number("made_at"),
    ] },
    Table { name: "price", columns: &[Key("price_id"), Text("currency"), Text("price")] },
    Table { name: "kitchen", columns: &[
        Key("kitchen_id"), Text("name"), Text("name_folded"), Text("kitchen"), Number("version"),
    ] },
    Table { name: "rule_profile", columns: &[
        Key("rule_profile_id"), Text("base"), Number("number"), Text("changed_by"), Text("reason"),
        Number("from_at"),
    ] },
    Table { name: "rule_row", columns: &[
        Key("rule_profile_id"), Text("rule_key"), Number("most"), Number("degrees"), Text("scale"),
        Number("is_published"), Text("changed_by"), Text("changed_on"), Text("reason"),
    ] },
    Table { name: "menu", columns: &[
        Key("menu_id"), Text("name"), Text("draft"), Number("changed_at"), Number("version"),
    ] },
    Table { name: "menu_dish", columns: &[Key("menu_id"), Number("place"), Key("dish_id")] },
    Table { name: "publication", columns: &[
        Key("publication_id"), Key("menu_id"), Number("number"), Text("snapshot"), Key("hash"),
        Text("check_word"), Number("published_at"),
    ] },
    Table { name: "publication_dish", columns: &[
        Key("publication_id"), Number("place"), Key("dish_revision_id"),
    ] },
    Table { name: "cooking_class", columns: &[
        Key("class_id"), Key("menu_id"), Key("publication_id"), Text("serve_local"), Text("zone"),
        Text("from_local"), Text("to_local"), Key("kitchen_id"), Number("seats"),
        Number("fee_minor"), Text("arrangement"), Text("purge_on"), Number("made_at"),
        Number("version"),
    ] },
    Table { name: "class_link", columns: &[
        Key("class_link_id"), Key("class_id"), Key("token_hash"), Text("token"), Text("note"),
        Number("made_at"), Number("expires_at"), Number("revoked_at"),
    ] },
    Table { name: "home", columns: &[
        Key("home_id"), Key("class_id"), Key("key_hash"), Text("name"), Number("guests"),
        Text("serve_local"), Text("zone"), Text("arrangement"), Number("share_name"),
        Number("seen_number"), Number("attended_at"), Number("made_at"), Number("version"),
    ] },
    Table { name: "home_allergy", columns: &[
        Key("home_id"), Text("allergen"), Number("strict"), Number("consent_at"),
        Number("words_version"),
    ] },
    Table { name: "kitchen_event", columns: &[
        Key("event_id"), Key("class_id"), Key("home_id"), Text("kind"), Text("key"),
        Text("value"), Number("client_at"), Number("received_at"),
    ] },
    Table { name: "plan", columns: &[
        Key("plan_id"), Key("home_id"), Key("inputs_hash"), Text("effort"), Text("status"),
        Text("result"), Text("program"), Number("made_at"),
    ] },
    Table { name: "copy_taken", columns: &[
        Key("copy_taken_id"), Key("publication_id"), Key("home_id"), Text("kind"),
        Number("taken_at"),
    ] },
];

/// One value of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    Empty,
    Key(Vec<u8>),
    Text(String),
    Number(i64),
}

/// The rows of each of [`TABLES`], their cells in the order of the columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SchoolFile {
    pub tables: Vec<Vec<Vec<Cell>>>,
}

const DOCUMENT: &str = "dovetray school";
const EDITION: u32 = 1;
/// So many problems are named at once.
const PROBLEMS_MAX: usize = 20;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    document: String,
    edition: u32,
    tables: Map<String, Value>,
}

/// The document as text.
pub fn write_school(file: &SchoolFile) -> String {
    let mut tables = Map::new();
    for (table, rows) in TABLES.iter().zip(&file.tables) {
        let rows = rows.iter().map(|row| {
            let names = table.columns.iter().map(|column| column.name().to_owned());
            Value::Object(names.zip(row.iter().map(shown)).collect())
        });
        tables.insert(table.name.to_owned(), rows.collect());
    }
    let written = Written { document: DOCUMENT.to_owned(), edition: EDITION, tables };
    serde_json::to_string_pretty(&written).expect("these structs have text keys only") + "\n"
}

/// Reads the document; every problem found is in the one error.
pub fn read_school(text: &str) -> Result<SchoolFile, DocumentError> {
    let fail = |reason: String| Err(DocumentError::new(reason));
    let mut written: Written = match serde_json::from_str(text) {
        Ok(written) => written,
        Err(error) => return fail(error.to_string()),
    };
    if written.document != DOCUMENT {
        return fail(format!("expected a “{DOCUMENT}”, found “{}”", written.document));
    }
    if written.edition != EDITION {
        return fail(format!("this program reads edition {EDITION}, found {}", written.edition));
    }
    let mut wrong = Vec::new();
    let mut tables = Vec::with_capacity(TABLES.len());
    for table in TABLES {
        match written.tables.remove(table.name) {
            Some(Value::Array(rows)) => tables.push(read_rows(table, rows, &mut wrong)),
            _ => wrong.push(format!("{}: expected a list of rows", table.name)),
        }
    }
    wrong.extend(written.tables.keys().map(|name| format!("{name}: no such table")));
    if tables.first().is_some_and(|schools| schools.len() != 1) {
        wrong.push("school: expected one row".to_owned());
    }
    if wrong.is_empty() {
        return Ok(SchoolFile { tables });
    }
    let more = wrong.len().saturating_sub(PROBLEMS_MAX);
    wrong.truncate(PROBLEMS_MAX);
    if more > 0 {
        wrong.push(format!("and {more} more"));
    }
    fail(wrong.join("; "))
}

fn read_rows(table: &Table, rows: Vec<Value>, wrong: &mut Vec<String>) -> Vec<Vec<Cell>> {
    let mut read = Vec::with_capacity(rows.len());
    for (place, row) in rows.into_iter().enumerate() {
        let mut complain = |what: String| wrong.push(format!("{}[{place}]: {what}", table.name));
        let Value::Object(mut row) = row else {
            complain("expected an object".to_owned());
            continue;
        };
        let mut cells = Vec::with_capacity(table.columns.len());
        for &column in table.columns {
            let found = row.remove(column.name());
            match found.map(|value| cell(column, value)) {
                Some(Ok(cell)) => cells.push(cell),
                Some(Err(expected)) => complain(format!("{}: expected {expected}", column.name())),
                None => complain(format!("{} is missing", column.name())),
            }
        }
        for name in row.keys() {
            complain(format!("no column is called {name}"));
        }
        read.push(cells);
    }
    read
}

fn cell(column: Column, value: Value) -> Result<Cell, &'static str> {
    match (column, value) {
        (_, Value::Null) => Ok(Cell::Empty),
        (Key(_), Value::String(text)) => {
            unhex(&text).map(Cell::Key).ok_or("hexadecimal digits, two a byte")
        }
        (Key(_), _) => Err("hexadecimal digits"),
        (Text(_), Value::String(text)) => Ok(Cell::Text(text)),
        (Text(_), _) => Err("text"),
        (Number(_), value) => value.as_i64().map(Cell::Number).ok_or("a whole number"),
    }
}

fn shown(cell: &Cell) -> Value {
    match cell {
        Cell::Empty => Value::Null,
        Cell::Key(bytes) => bytes
            .iter()
            .flat_map(|byte| [byte >> 4, byte & 15])
            .filter_map(|it| char::from_digit(it.into(), 16))
            .collect::<String>()
            .into(),
        Cell::Text(text) => text.clone().into(),
        Cell::Number(number) => (*number).into(),
    }
}

fn unhex(text: &str) -> Option<Vec<u8>> {
    let digit = |sign: u8| char::from(sign).to_digit(16).and_then(|it| u8::try_from(it).ok());
    let pairs = text.as_bytes().chunks(2);
    pairs.map(|pair| Some(digit(*pair.first()?)? << 4 | digit(*pair.get(1)?)?)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn empty() -> SchoolFile {
        let mut tables = vec![Vec::new(); TABLES.len()];
        let text = |text: &str| Cell::Text(text.to_owned());
        let school = vec![
            Cell::Key(vec![0, 255, 16]),
            text("Tarnwick “Cookery” \u{1f372} Room"),
            text("Europe/Oslo"),
            text("{ }"),
            Cell::Number(i64::MAX),
        ];
        tables[0].push(school);
        SchoolFile { tables }
    }

    #[test]
    fn what_is_written_reads_back_the_same() {
        let file = empty();
        assert_eq!(read_school(&write_school(&file)), Ok(file));
    }

    #[test]
    fn all_problems_are_named_at_once() {
        let text = write_school(&empty())
            .replace("\"00ff10\"", "\"00f\"")
            .replace("\"Europe/Oslo\"", "7")
            .replace("\"settings\"", "\"setting\"")
            .replace("\"menu_dish\": []", "\"menu_dash\": []");
        let error = read_school(&text).unwrap_err().to_string();
        for part in [
            "school[0]: school_id: expected hexadecimal digits, two a byte",
            "school[0]: zone: expected text",
            "school[0]: settings is missing",
            "school[0]: no column is called setting",
            "menu_dish: expected a list of rows",
            "menu_dash: no such table",
        ] {
            assert!(error.contains(part), "{part} in {error}");
        }
    }

    #[test]
    fn another_document_or_edition_is_refused_by_name() {
        let text = write_school(&empty());
        let newer = text.replace("\"edition\": 1", "\"edition\": 2");
        assert!(read_school(&newer).unwrap_err().to_string().contains("edition 1, found 2"));
        let other = text.replace("dovetray school", "dovetray menu");
        assert!(read_school(&other).unwrap_err().to_string().contains("found “dovetray menu”"));
    }
}
