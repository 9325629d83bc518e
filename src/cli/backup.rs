//! `backup`, `restore`, `check`: one file that holds everything, and whether it is whole.

use std::path::PathBuf;

use clap::Args;

use super::{CommandError, House};
use crate::storage::{self, Contents};

#[derive(Args)]
#[command(after_help = "Example, each night:
  dovetray backup /var/backups/dovetray-$(date +%F).db

Copying the database file of a running server by other means loses what was just written.")]
pub struct BackupArgs {
    /// File to make; one that exists is never overwritten.
    file: PathBuf,
    #[command(flatten)]
    house: House,
}

#[derive(Args)]
#[command(after_help = "Example, on a new machine:
  dovetray restore dovetray-2027-06-26.db --data /var/lib/dovetray
  dovetray serve --data /var/lib/dovetray")]
pub struct RestoreArgs {
    /// File that `backup` made.
    file: PathBuf,
    #[command(flatten)]
    house: House,
}

#[derive(Args)]
pub struct CheckArgs {
    #[command(flatten)]
    house: House,
}

pub async fn back_up(args: BackupArgs) -> Result<(), CommandError> {
    let contents = storage::back_up(&args.house.folder()?, &args.file).await?;
    println!("{}: checked, {}", args.file.display(), words(&contents));
    Ok(())
}

pub async fn restore(args: RestoreArgs) -> Result<(), CommandError> {
    let folder = args.house.folder()?;
    let contents = storage::restore(&args.file, &folder).await?;
    println!("{}: brought back and checked, {}", folder.display(), words(&contents));
    Ok(())
}

pub async fn check(args: CheckArgs) -> Result<(), CommandError> {
    let folder = args.house.folder()?;
    let contents = storage::check(&folder).await?;
    let storage = args.house.open().await?;
    let read = storage.read_all_documents().await;
    storage.close().await;
    read?;
    println!("{}: whole, {}", folder.display(), words(&contents));
    Ok(())
}

fn words(contents: &Contents) -> String {
    let rows: i64 = contents.rows.iter().map(|(_, rows)| rows).sum();
    format!("house {}, {} tables, {rows} rows", contents.house, contents.rows.len())
}
