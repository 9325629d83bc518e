//! `export` and `import`: one school as a JSON document, out of a house and into another.

use std::io::Write;
use std::os::unix::fs::OpenOptionsExt;
use std::path::PathBuf;

use clap::Args;

use super::temporary::TemporaryFolder;
use super::{CommandError, House};
use crate::clock::{Chance, Clock};
use crate::exchange::school_file::{SchoolFile, read_school, write_school};
use crate::storage::{NewHouse, Storage};

const WHAT: &str = "\
The document is {\"document\": \"dovetray school\", \"edition\": 1, \"tables\": {...}}: the rows of each
table by its name, each row with the names of its columns. Keys and hashes are hexadecimal, moments
are seconds since 1970 in UTC. It holds all that the school owns: instructors with the hashes of
their passwords, dishes and what was published, foods, kitchens, rules, menus, classes, links and
homes with the allergies their guests told. Keep it as you keep the keys. Who is signed in, links
that work once and the notes of the door stay behind.";

#[derive(Args)]
#[command(after_help = WHAT)]
pub struct ExportArgs {
    /// File to make; one that exists is never overwritten. `-` writes to standard output.
    file: PathBuf,
    /// The school, by its name; needed only where several live.
    #[arg(long)]
    school: Option<String>,
    #[command(flatten)]
    house: House,
}

#[derive(Args)]
#[command(after_help = WHAT)]
pub struct ImportArgs {
    /// File that `export` made. All of it comes in, or nothing.
    file: PathBuf,
    #[command(flatten)]
    house: House,
}

pub async fn export(args: ExportArgs) -> Result<(), CommandError> {
    let storage = args.house.open().await?;
    let mut schools = storage.schools().await?;
    if let Some(name) = &args.school {
        schools.retain(|school| school.name.as_str() == name.trim());
    }
    let [school] = schools.as_slice() else {
        storage.close().await;
        return Err(CommandError::WhichSchool { found: schools.len() });
    };
    let file = storage.export_school(school.id).await?;
    storage.close().await;
    let text = write_school(&file);
    if args.file.as_os_str() == "-" {
        return Ok(std::io::stdout().write_all(text.as_bytes())?);
    }
    let fail = |reason| CommandError::File { file: args.file.clone(), reason };
    // Hashes of passwords and the allergies of guests stand in it, as in a backup.
    let mut options = std::fs::OpenOptions::new();
    let mut made =
        options.write(true).create_new(true).mode(0o600).open(&args.file).map_err(fail)?;
    made.write_all(text.as_bytes()).and_then(|()| made.sync_all()).map_err(fail)?;
    println!("{}: {}, {} rows", args.file.display(), school.name, rows(&file));
    Ok(())
}

pub async fn import(args: ImportArgs) -> Result<(), CommandError> {
    let text = std::fs::read_to_string(&args.file)
        .map_err(|reason| CommandError::File { file: args.file.clone(), reason })?;
    let file = read_school(&text)
        .map_err(|error| CommandError::Document { file: args.file.clone(), error })?;
    let (count, copy) = (rows(&file), file.clone());
    try_out(copy).await?;
    let storage = args.house.open().await?;
    let imported = storage.import_school(file).await;
    storage.close().await;
    imported?;
    println!("{}: brought in, {count} rows", args.file.display());
    Ok(())
}

/// Brings the school into a house of its own first, and reads all of it there.
async fn try_out(file: SchoolFile) -> Result<(), CommandError> {
    let folder = TemporaryFolder::new("import")?;
    let at = Clock::System.now();
    let new = NewHouse { id: Chance::System.key(at), at };
    let storage = Storage::open(folder.path(), new).await?;
    let imported = storage.import_school(file).await;
    let read = storage.read_all_documents().await;
    storage.close().await;
    imported?;
    Ok(read?)
}

fn rows(file: &SchoolFile) -> usize {
    file.tables.iter().map(Vec::len).sum()
}
