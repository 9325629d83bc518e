//! What the keeper of a server relies on: copies that are whole, faults that are named, no write lost.

use crate::house::program::{ask, dovetray, said, serve};
use crate::house::{self, House};
use axum::http::StatusCode;
use dovetray::storage::{self, BackupError, StartError, StorageError};
use sqlx::{Connection, SqliteConnection};

#[tokio::test]
async fn story_39_back_up_and_move() {
    let house = House::open().await;
    let key = house.school("Tarnwick Cookery Room").await;
    let card = "card=Soft+leeks%0Afor:+6%0A%0A%2B+2+leeks%0A1.+Slice.";
    let dish = house.ask(&key, "/dishes/new", Some(card)).await.leads_to;
    house.ask(&key, &format!("{dish}/publish"), Some("")).await;
    let shelf = tempfile::tempdir().unwrap();
    let file = shelf.path().join("copy.db");
    let made = storage::back_up(house.folder(), &file).await.unwrap();
    assert!(made.rows.contains(&("dish".to_owned(), 1)), "{:?}", made.rows);
    let again = storage::back_up(house.folder(), &file).await.unwrap_err();
    assert!(matches!(again, BackupError::Exists { .. }), "{again}");
    let left: Vec<_> =
        std::fs::read_dir(&shelf).unwrap().map(|it| it.unwrap().file_name()).collect();
    assert_eq!(left, ["copy.db"]);

    let into_used = storage::restore(&file, house.folder()).await.unwrap_err();
    assert!(matches!(into_used, BackupError::NotEmpty { .. }), "{into_used}");
    let new = tempfile::tempdir().unwrap();
    assert_eq!(storage::restore(&file, new.path()).await.unwrap(), made);
    assert_eq!(storage::check(new.path()).await.unwrap(), made);
    let moved = house.moved_to(new).await;
    let paths = ["/dishes", &dish, &format!("{dish}/edit"), "/dishes/new", "/school"];
    for path in paths {
        let (here, there) = (house.ask(&key, path, None).await, moved.ask(&key, path, None).await);
        assert_eq!(here.status, StatusCode::OK, "{path}");
        assert_eq!(here.page, there.page, "{path}: byte for byte, signed in as before");
    }
}

#[tokio::test]
async fn a_damaged_backup_is_not_brought_back() {
    let house = House::open().await;
    house.school("Tarnwick Cookery Room").await;
    let shelf = tempfile::tempdir().unwrap();
    let file = shelf.path().join("copy.db");
    storage::back_up(house.folder(), &file).await.unwrap();
    let whole = std::fs::read(&file).unwrap();
    let half = whole.len() / 2;
    let mut noise = whole.clone();
    noise[4096..8192].fill(0xa5);
    let cases = [
        ("cut", whole[..half].to_vec()),
        ("noise", noise),
        ("text", b"not a database at all".repeat(400)),
        ("empty", Vec::new()),
    ];
    for (name, bytes) in cases {
        let bad = shelf.path().join(name);
        std::fs::write(&bad, bytes).unwrap();
        let new = tempfile::tempdir().unwrap();
        let refused = storage::restore(&bad, new.path()).await.unwrap_err();
        assert!(matches!(refused, BackupError::Damaged { .. }), "{name}: {refused}");
        assert!(std::fs::read_dir(new.path()).unwrap().next().is_none(), "{name}: nothing is left");
    }
}

#[tokio::test]
async fn check_names_what_is_wrong() {
    let house = House::open().await;
    house.school("Tarnwick Cookery Room").await;
    let shelf = tempfile::tempdir().unwrap();
    let file = shelf.path().join("copy.db");
    storage::back_up(house.folder(), &file).await.unwrap();
    let new = tempfile::tempdir().unwrap();
    assert!(matches!(storage::check(new.path()).await, Err(BackupError::NoHouse { .. })));
    storage::restore(&file, new.path()).await.unwrap();
    let database = new.path().join("dovetray.db");
    let address = format!("sqlite:{}", database.display());
    let mut connection = SqliteConnection::connect(&address).await.unwrap();
    sqlx::query("pragma foreign_keys = off").execute(&mut connection).await.unwrap();
    sqlx::query("delete from school").execute(&mut connection).await.unwrap();
    connection.close().await.unwrap();
    let broken = storage::check(new.path()).await.unwrap_err();
    assert!(broken.to_string().contains("refers to nothing"), "{broken}");
    std::fs::write(&database, "").unwrap();
    let lost = storage::check(new.path()).await.unwrap_err();
    let is_lost =
        matches!(lost, BackupError::Storage(StorageError::Start(StartError::Lost { .. })));
    assert!(is_lost, "{lost}");
}

#[tokio::test]
async fn new_tables_come_after_a_checked_copy() {
    let house = House::open().await;
    house.school("Tarnwick Cookery Room").await;
    let shelf = tempfile::tempdir().unwrap();
    let file = shelf.path().join("copy.db");
    storage::back_up(house.folder(), &file).await.unwrap();
    let new = tempfile::tempdir().unwrap();
    storage::restore(&file, new.path()).await.unwrap();
    // An older house: the last migration was not run yet.
    let address = format!("sqlite:{}", new.path().join("dovetray.db").display());
    let mut connection = SqliteConnection::connect(&address).await.unwrap();
    let last: i64 = sqlx::query_scalar("select max(version) from _sqlx_migrations")
        .fetch_one(&mut connection)
        .await
        .unwrap();
    sqlx::query("delete from _sqlx_migrations where version = ?")
        .bind(last)
        .execute(&mut connection)
        .await
        .unwrap();
    connection.close().await.unwrap();
    // Its tables are there already, so the step itself fails; the copy was made before it.
    assert!(house::open_storage(new.path()).await.is_err());
    let copy = new.path().join(format!("before-{last}.db"));
    let copied = storage::restore(&copy, &shelf.path().join("again")).await.unwrap();
    assert!(copied.rows.contains(&("school".to_owned(), 1)));
}

#[test]
fn a_killed_server_has_lost_nothing_it_had_acknowledged() {
    const CYCLES: usize = 20;
    const WRITERS: usize = 3;
    let data = tempfile::tempdir().unwrap();
    let password = data.path().join("password");
    std::fs::write(&password, "quince ladle barrow moth").unwrap();
    let mut add = dovetray(data.path(), &["user", "add", "ada", "--found", "Kitchen"]);
    let added = add.arg("--password-file").arg(&password).output().unwrap();
    assert!(added.status.success(), "{}", said(&added));
    let mut cookie = String::new();
    let mut acknowledged: Vec<String> = Vec::new();
    for cycle in 0..CYCLES {
        let (mut server, address) = serve(data.path());
        if cookie.is_empty() {
            let form = "login=ada&password=quince+ladle+barrow+moth";
            let entered = ask(&address, "POST", "/enter", "", form).unwrap();
            let set = entered.split("set-cookie: ").nth(1).unwrap();
            set.split(';').next().unwrap().clone_into(&mut cookie);
        }
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| {
                let (address, cookie) = (address.clone(), cookie.clone());
                std::thread::spawn(move || {
                    let mut kept = Vec::new();
                    for number in 0.. {
                        let name = format!("Dish-{cycle}-{writer}-{number}");
                        let form = format!("card={name}%0A1.+Slice.");
                        match ask(&address, "POST", "/dishes/new", &cookie, &form) {
                            Some(answer) if answer.starts_with("HTTP/1.1 303") => kept.push(name),
                            Some(answer) => panic!("{answer}"),
                            None => break,
                        }
                    }
                    kept
                })
            })
            .collect();
        // Each cycle is cut at another moment of the work.
        std::thread::sleep(std::time::Duration::from_millis(20 + 7 * cycle as u64));
        server.kill().unwrap();
        server.wait().unwrap();
        for writer in writers {
            acknowledged.extend(writer.join().unwrap());
        }
    }
    assert!(acknowledged.len() > CYCLES, "{}: the loop wrote next to nothing", acknowledged.len());
    let checked = dovetray(data.path(), &["check"]).output().unwrap();
    assert!(checked.status.success(), "{}", said(&checked));
    let (mut server, address) = serve(data.path());
    let page = ask(&address, "GET", "/dishes", &cookie, "").unwrap();
    server.kill().unwrap();
    server.wait().unwrap();
    let lost: Vec<_> =
        acknowledged.iter().filter(|name| !page.contains(&format!(">{name}<"))).collect();
    assert!(lost.is_empty(), "of {} acknowledged, lost: {lost:?}", acknowledged.len());
}
