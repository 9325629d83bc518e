//! The asked side: this same program started a second time, so that its processor time is its own.
//!
//! On three ports: a bare handler, our site, and our site with no memory for class pages.

use std::io::Write;
use std::net::SocketAddr;
use std::path::Path;

use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::routing::{get, post};
use dovetray::clock::{Chance, Clock};
use dovetray::config::PublicUrl;
use dovetray::domain::event::{EventKey, EventKind, KitchenEvent};
use dovetray::domain::home::HomeId;
use dovetray::domain::school::SchoolId;
use dovetray::storage::{KitchenOf, NewHouse, Storage};
use dovetray::web::{AppState, listen, router};
use tokio::net::TcpListener;

use crate::Failure;
use crate::house::{self, House};

#[derive(Clone)]
struct Bare {
    storage: Storage,
    school: SchoolId,
    home: HomeId,
}

/// Makes a house in `folder`, says where it is served, and serves until it is killed.
pub async fn run(folder: &Path) -> Result<(), Failure> {
    let (clock, chance) = (Clock::System, Chance::System);
    let at = clock.now();
    let storage = Storage::open(folder, NewHouse { id: chance.key(at), at }).await?;
    let House { school, home, cookie, token, key } = house::make(&storage, &chance, at).await?;
    let bare = Bare { storage: storage.clone(), school, home };
    let bare = serve(|_| bare_router(bare)).await?;
    let site = |address: SocketAddr| {
        let url = PublicUrl::parse(&format!("http://{address}")).expect("an address");
        AppState::new(storage.clone(), clock, chance.clone(), url)
    };
    let ours = serve(|address| router(&site(address))).await?;
    let fresh = serve(|address| router(&site(address).holding_pages(0))).await?;
    println!("{bare} {ours} {fresh} {cookie} {token} {key}");
    std::io::stdout().flush()?;
    // Ends with the program that started it.
    std::io::copy(&mut std::io::stdin().lock(), &mut std::io::sink())?;
    Ok(())
}

fn bare_router(bare: Bare) -> Router {
    Router::new()
        .route("/", get(async || "hello"))
        .route("/writes", get(writes))
        .route("/tick", post(tick))
        .with_state(bare)
}

/// How many writes were kept so far, and in how many commits.
async fn writes(State(bare): State<Bare>) -> String {
    let (writes, commits) = bare.storage.writes_and_commits();
    format!("{writes} {commits}")
}

/// One durable write with nothing of the site around it.
async fn tick(State(bare): State<Bare>) -> Result<StatusCode, StatusCode> {
    let at = Clock::System.now();
    let key = EventKey::parse("buy|leek|each").ok_or(StatusCode::BAD_REQUEST)?;
    let id = Chance::System.key(at);
    let event = KitchenEvent {
        id,
        kind: EventKind::Tick,
        key,
        value: dovetray::domain::event::EventValue::Nothing,
        client_at: at,
        received_at: at,
    };
    let of = KitchenOf::Home(bare.home);
    let done = bare.storage.record_events(bare.school, of, &[event]).await;
    done.map(|_| StatusCode::NO_CONTENT).map_err(|_| StatusCode::INTERNAL_SERVER_ERROR)
}

async fn serve(app: impl FnOnce(SocketAddr) -> Router) -> std::io::Result<SocketAddr> {
    let listener = TcpListener::bind("127.0.0.1:0").await?;
    let address = listener.local_addr()?;
    tokio::spawn(listen::serve(listener, app(address), Vec::new(), std::future::pending()));
    Ok(address)
}
