//! `demo`: two invented schools, ready to click through, made by the same calls as the pages.

mod found;
mod schools;

use std::io::Write;

use clap::Args;

use super::CommandError;
use super::serve;
use super::temporary::TemporaryFolder;
use crate::clock::{Chance, Clock};
use crate::config::Config;
use crate::storage::{HouseLock, NewHouse, Storage, StorageError};

#[derive(Args)]
#[command(after_help = "\
It prints three lines, then serves until it is stopped:
  address: http://127.0.0.1:8080/
  instructor: NAME PASSWORD
  student: http://127.0.0.1:8080/h/...
The second school's log-in is said on standard error, after \"also:\".
Without --data everything lies in a new temporary folder, which goes when it stops.")]
pub struct DemoArgs {
    #[command(flatten)]
    settings: super::Settings,
}

/// Fills a new house and serves it.
pub async fn run(args: DemoArgs) -> Result<(), CommandError> {
    let keeps = args.settings.house.data.is_some();
    let mut config = args.settings.check()?;
    let folder = if keeps { None } else { Some(TemporaryFolder::new("demo")?) };
    if let Some(folder) = &folder {
        config.data.clone_from(folder.path());
    }
    let [told, second] = fill(&config).await?;
    let announce = move |public_url: &crate::config::PublicUrl| {
        let mut out = std::io::stdout();
        let lines = format!(
            "address: {public_url}/\ninstructor: {} {}\nstudent: {public_url}/h/{}\n",
            told.login, told.password, told.home_key
        );
        // A reader that went away does not stop the kitchen.
        let _ = out.write_all(lines.as_bytes()).and_then(|()| out.flush());
        // Standard output holds the three lines that programs read; the second school is for people.
        let also = format!("also: {} {}\n", second.login, second.password);
        let _ = std::io::stderr().write_all(also.as_bytes());
    };
    serve::run_and_say(config, announce).await
}

/// What a visitor needs to come in.
pub struct Told {
    pub login: String,
    pub password: String,
    pub home_key: String,
}

/// Nobody serves the folder while it is filled.
async fn fill(config: &Config) -> Result<[Told; 2], CommandError> {
    let _lock = HouseLock::take(&config.data).map_err(StorageError::from)?;
    let (clock, chance) = (Clock::System, Chance::System);
    let at = clock.now();
    let new = NewHouse { id: chance.key(at), at };
    let storage = Storage::open(&config.data, new).await?;
    if !storage.schools().await?.is_empty() {
        storage.close().await;
        return Err(CommandError::NotEmpty { folder: config.data.clone() });
    }
    let told = [
        found::school(&storage, &schools::TARNWICK, clock, &chance).await?,
        found::school(&storage, &schools::QUILLFEN, clock, &chance).await?,
    ];
    storage.close().await;
    Ok(told)
}
