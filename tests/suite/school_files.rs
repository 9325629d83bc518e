//! A school leaves as a document and lives elsewhere as it was: nothing lost, all or none.

use crate::house;

use std::collections::BTreeMap;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::house::House;
use crate::house::program::{dovetray, said};
use axum::http::StatusCode;
use dovetray::clock::{Chance, Clock};
use dovetray::domain::event::{EventKey, EventKind, EventValue, KitchenEvent};
use dovetray::domain::larder::Larder;
use dovetray::domain::limit::{Base, Chosen, Profile};
use dovetray::domain::reading;
use dovetray::domain::schedule::plan::Effort;
use dovetray::domain::school::SchoolId;
use dovetray::exchange::school_file::{Cell, LEFT_OUT, TABLES, read_school, write_school};
use dovetray::storage::{CopyTaken, ImportError, KitchenOf, NewPlan, Storage};
use sqlx::{Connection, Row, SqliteConnection};

async fn only_school(storage: &Storage) -> SchoolId {
    storage.schools().await.unwrap().first().unwrap().id
}

#[tokio::test]
async fn the_document_holds_every_column_of_every_table_of_a_school() {
    let house = House::open().await;
    let address = format!("sqlite:{}", house.folder().join("dovetray.db").display());
    let mut connection = SqliteConnection::connect(&address).await.unwrap();
    let columns = sqlx::query(
        "select m.name, c.name from sqlite_schema m join pragma_table_info(m.name) c
         where m.type = 'table' and m.name not like 'sqlite_%' and m.name not like '\\_%' escape '\\'",
    )
    .fetch_all(&mut connection)
    .await
    .unwrap();
    let mut schema: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for row in columns {
        let (table, column): (String, String) = (row.get(0), row.get(1));
        if !LEFT_OUT.contains(&table.as_str()) && (table == "school" || column != "school_id") {
            schema.entry(table).or_default().push(column);
        }
    }
    let document = TABLES.iter().map(|table| {
        let names = table.columns.iter().map(|column| column.name().to_owned()).collect();
        (table.name.to_owned(), names)
    });
    let mut document: BTreeMap<String, Vec<String>> = document.collect();
    for columns in schema.values_mut().chain(document.values_mut()) {
        columns.sort();
    }
    assert_eq!(document, schema);
}

/// Fills a house with the two schools of `demo`; the three lines it prints.
fn demo(data: &Path) -> Vec<String> {
    use std::io::{BufRead, BufReader};
    let mut command = Command::new(env!("CARGO_BIN_EXE_dovetray"));
    command.args(["demo", "--listen", "127.0.0.1:0"]).env("DOVETRAY_DATA", data);
    let folder = data.display().to_string();
    let mut server = command
        .args(["--data", &folder])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let lines = BufReader::new(server.stdout.take().unwrap()).lines();
    let lines: Vec<_> = lines.take(3).map(Result::unwrap).collect();
    assert_eq!(lines.len(), 3);
    Command::new("kill").args(["-TERM", &server.id().to_string()]).status().unwrap();
    assert!(server.wait().unwrap().success());
    lines
}

/// What the demonstration does not do by itself: ticks, copies taken, rules of the school.
async fn live_in(data: &Path, name: &str) {
    let storage = house::open_storage(data).await.unwrap();
    let schools = storage.schools().await.unwrap();
    let school = schools.iter().find(|it| it.name.as_str() == name).unwrap().id;
    let (at, chance) = (Clock::System.now(), Chance::System);
    let class = storage.classes(school).await.unwrap().remove(0).class;
    let home = storage.homes(school, class.id).await.unwrap().remove(0).home.id;
    let plan = NewPlan {
        id: chance.key(at),
        home,
        inputs_hash: [7; 32],
        effort: Effort::Normal,
        status: "not found".to_owned(),
        result: r#"{"status":"not found"}"#.to_owned(),
        program: "0.1.0",
        at,
    };
    storage.keep_plan(school, plan).await.unwrap();
    for kitchen in [KitchenOf::Home(home), KitchenOf::Class(class.id)] {
        let event = KitchenEvent {
            id: chance.key(at),
            kind: EventKind::Tick,
            key: EventKey::parse("buy|pea, frozen|each").unwrap(),
            value: EventValue::Nothing,
            client_at: at,
            received_at: at,
        };
        assert!(storage.record_events(school, kitchen, &[event]).await.unwrap());
    }
    for home in [Some(home), None] {
        let publication = class.publication.unwrap();
        let copy = CopyTaken { id: chance.key(at), publication, home, kind: "shopping", at };
        storage.take_copy(school, &copy).await.unwrap();
    }
    let chosen = Chosen {
        by: "Runa".to_owned(),
        on: "2026-11-25".parse().unwrap(),
        reason: "Our fridge is old".to_owned(),
    };
    let mut profile = Profile::shipped(Base::Home).version(1, chosen.clone());
    profile.tighten("soup_stew", 1, chosen).unwrap();
    storage.change_rules(school, chance.key(at), &profile, at).await.unwrap();
    let shipped = Larder::shipped();
    let meaning = reading::meaning("nan's oil", "olive oil", &shipped).unwrap();
    storage.save_meaning(school, &meaning, at).await.unwrap();
    storage.close().await;
}

/// Only its owner reads a file or opens a folder.
fn is_private(path: impl AsRef<Path>) -> bool {
    std::fs::metadata(path).unwrap().permissions().mode().trailing_zeros() >= 6
}

#[tokio::test]
async fn a_whole_school_goes_out_and_comes_in_letter_for_letter() {
    let shelf = tempfile::tempdir().unwrap();
    let (here, there) = (shelf.path().join("here"), shelf.path().join("there"));
    let file = |name: &str| shelf.path().join(name).display().to_string();
    let name = "Tarnwick Cookery Room";
    demo(&here);
    live_in(&here, name).await;

    let which = dovetray(&here, &["export", &file("a.json")]).output().unwrap();
    assert!(
        said(&which).contains("2 schools are meant; name one with --school"),
        "{}",
        said(&which)
    );
    let out = dovetray(&here, &["export", &file("a.json"), "--school", name]).output().unwrap();
    assert!(out.status.success(), "{}", said(&out));
    let again = dovetray(&here, &["export", &file("a.json"), "--school", name]).output().unwrap();
    assert!(!again.status.success(), "a file that exists is never overwritten");
    assert!(is_private(file("a.json")) && is_private(&here), "others on the machine can read it");

    let came = dovetray(&there, &["import", &file("a.json")]).output().unwrap();
    assert!(came.status.success(), "{}", said(&came));
    let back = dovetray(&there, &["export", &file("b.json")]).output().unwrap();
    assert!(back.status.success(), "{}", said(&back));
    let (a, b) = (std::fs::read(file("a.json")).unwrap(), std::fs::read(file("b.json")).unwrap());
    assert!(a == b, "the second export differs from the first");

    let read = read_school(std::str::from_utf8(&a).unwrap()).unwrap();
    for (table, rows) in TABLES.iter().zip(&read.tables) {
        assert!(!rows.is_empty(), "{} is empty", table.name);
    }
    let other = String::from_utf8_lossy(&a).contains("Quillfen");
    assert!(!other, "nothing of another school leaves with it");

    let twice = dovetray(&there, &["import", &file("a.json")]).output().unwrap();
    assert!(said(&twice).contains("this school lives here already"), "{}", said(&twice));
    let checked = dovetray(&there, &["check"]).output().unwrap();
    assert!(checked.status.success(), "{}", said(&checked));
}

/// The addresses on a page that start like `door`, without the base of the house.
fn links(page: &str, door: &str) -> Vec<String> {
    let found = page.split("href=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let found = found.filter_map(|link| link.strip_prefix("/classes"));
    let found = found.filter(|link| link.starts_with(door));
    found.map(|link| link.replace("&amp;", "&")).collect()
}

#[tokio::test]
async fn a_school_that_moved_shows_the_same_pages_by_the_same_doors() {
    let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let shelf = tempfile::tempdir().unwrap();
    let file = shelf.path().join("a.json").display().to_string();
    let told = demo(here.path());
    let name = "Tarnwick Cookery Room";
    let out = dovetray(here.path(), &["export", &file, "--school", name]).output().unwrap();
    assert!(out.status.success(), "{}", said(&out));
    let came = dovetray(there.path(), &["import", &file]).output().unwrap();
    assert!(came.status.success(), "{}", said(&came));

    let house = House::open().await;
    let (old, new) = (house.moved_to(here).await, house.moved_to(there).await);
    let instructor = told[1].strip_prefix("instructor: ").unwrap();
    let form = format!("login={}", instructor.replace(' ', "&password="));
    let mut keys = Vec::new();
    for house in [&old, &new] {
        let cookie = house.ask("", "/enter", Some(&form)).await.cookie;
        let key = cookie.strip_prefix("dovetray=").unwrap().split(';').next().unwrap();
        keys.push(key.to_owned());
    }
    let home = told[2].split_once("/h/").unwrap().1;
    let mut seen = Vec::new();
    for (start, door) in [(format!("/h/{home}"), "/h/"), ("/menus".to_owned(), "/menus/")] {
        let mut asked = vec![start];
        let mut next = 0;
        while let Some(path) = asked.get(next).cloned() {
            next += 1;
            let (was, is) =
                (old.ask(&keys[0], &path, None).await, new.ask(&keys[1], &path, None).await);
            assert_eq!((was.status, is.status), (StatusCode::OK, StatusCode::OK), "{path}");
            assert!(was.page == is.page, "{path} differs after the move");
            for link in links(&was.page, door) {
                if !asked.contains(&link) {
                    asked.push(link);
                }
            }
        }
        seen.append(&mut asked);
    }
    for sheet in ["shopping", "ahead", "labels", "allergens", "rules", "recipe-a", "recipe-s"] {
        let end = format!("/sheets/{sheet}");
        let compared = seen.iter().filter(|path| path.ends_with(&end)).count();
        assert!(compared >= 2, "{sheet} of the home and of the menu: {seen:?}");
    }
}

#[tokio::test]
async fn a_torn_document_changes_nothing() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let card = "card=Soft+leeks%0Afor:+6%0A%0A%2B+2+leeks%0A1.+Slice.";
    let dish = house.ask(&key, "/dishes/new", Some(card)).await.leads_to;
    house.ask(&key, &format!("{dish}/publish"), Some("")).await;
    let from = house.state().storage.clone();
    let whole = from.export_school(only_school(&from).await).await.unwrap();
    let place = |name: &str| TABLES.iter().position(|table| table.name == name).unwrap();

    let new = tempfile::tempdir().unwrap();
    let to = house::open_storage(new.path()).await.unwrap();
    let mut torn = whole.clone();
    torn.tables[place("dish")].clear();
    let refused = to.import_school(torn).await.unwrap_err();
    assert!(matches!(&refused, ImportError::Torn(why) if why.contains("FOREIGN KEY")), "{refused}");
    assert!(to.schools().await.unwrap().is_empty(), "nothing of it came in");

    to.import_school(whole.clone()).await.unwrap();
    assert_eq!(to.export_school(only_school(&to).await).await.unwrap(), whole);

    // The same people under another school's key: their log-ins are taken.
    let mut renamed = whole.clone();
    renamed.tables[place("school")][0][0] = Cell::Key(vec![7; 16]);
    let refused = to.import_school(renamed).await.unwrap_err();
    assert!(matches!(refused, ImportError::LoginTaken { .. }), "{refused}");

    // A draft no reader understands is refused by the command before it touches the house.
    let empty = tempfile::tempdir().unwrap();
    let mut strange = whole;
    strange.tables[place("school")][0][2] = Cell::Text("Mars/Olympus".to_owned());
    let file = empty.path().join("strange.json");
    std::fs::write(&file, write_school(&strange)).unwrap();
    let data = empty.path().join("data");
    let came = dovetray(&data, &["import", &file.display().to_string()]).output().unwrap();
    assert!(said(&came).contains("zone"), "{}", said(&came));
    assert!(!data.exists(), "the house was not even founded");
    let page = house.ask(&key, "/dishes", None).await;
    assert_eq!(page.status, StatusCode::OK);
    to.close().await;
}
