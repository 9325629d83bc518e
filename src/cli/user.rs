//! `user`: who may enter, for whoever keeps the server. Works while the server runs.

use std::io::Read;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};

use super::{CommandError, House};
use crate::clock::{Chance, Clock};
use crate::domain::account::{Account, AccountId, Login, Password};
use crate::domain::moment::Zone;
use crate::domain::school::{School, SchoolId, SchoolName, SchoolSettings};
use crate::storage::{LinkPurpose, NewAccount, Storage};
use crate::web::{Cost, Hasher, new_link};

#[derive(Args)]
#[command(after_help = "Examples:
  dovetray user list
  dovetray user invite --school \"Tarnwick Cookery Room\"
  dovetray user reset ada@example.org
  echo 'quince ladle barrow moth' | dovetray user add ada --found \"Tarnwick Cookery Room\"

A link opens once. It is printed here and kept nowhere; only its hash is.")]
pub struct UserArgs {
    #[command(subcommand)]
    command: UserCommand,
}

#[derive(Subcommand)]
enum UserCommand {
    /// List the instructors of every school.
    List(House),
    /// Add an instructor; the password is read from standard input or a file.
    Add(AddArgs),
    /// Print a link by which a person joins a school, or founds one, choosing log-in and password.
    Invite(InviteArgs),
    /// Print a link by which an instructor chooses a new password; it opens for an hour.
    Reset(WhoArgs),
    /// Shut an instructor out at once; everything of the school stays.
    Disable(WhoArgs),
    /// Let an instructor in again.
    Enable(WhoArgs),
}

#[derive(Args)]
struct AddArgs {
    /// Name to sign in with.
    login: String,
    /// School that the instructor joins, by its name.
    #[arg(long, conflicts_with = "found", required_unless_present = "found")]
    school: Option<String>,
    /// Name of a new school, founded with this instructor.
    #[arg(long)]
    found: Option<String>,
    /// Time zone of a new school.
    #[arg(long, default_value = "Etc/UTC")]
    zone: String,
    /// File that holds the password in its first line; else standard input.
    #[arg(long)]
    password_file: Option<PathBuf>,
    #[command(flatten)]
    house: House,
}

#[derive(Args)]
struct InviteArgs {
    /// School to join, by its name; without it the link founds a new school.
    #[arg(long)]
    school: Option<String>,
    #[command(flatten)]
    house: House,
}

#[derive(Args)]
struct WhoArgs {
    /// Name the instructor signs in with.
    login: String,
    #[command(flatten)]
    house: House,
}

pub async fn run(args: UserArgs) -> Result<(), CommandError> {
    match args.command {
        UserCommand::List(house) => list(&house.open().await?).await,
        UserCommand::Add(args) => add(args).await,
        UserCommand::Invite(args) => invite(args).await,
        UserCommand::Reset(args) => reset(args).await,
        UserCommand::Disable(args) => set_disabled(args, true).await,
        UserCommand::Enable(args) => set_disabled(args, false).await,
    }
}

async fn list(storage: &Storage) -> Result<(), CommandError> {
    for school in storage.schools().await? {
        println!("{}", school.name);
        for account in storage.accounts(school.id).await? {
            let state = if account.disabled_at.is_some() { " (shut out)" } else { "" };
            println!("  {}{state}", account.login);
        }
    }
    storage.close().await;
    Ok(())
}

async fn add(args: AddArgs) -> Result<(), CommandError> {
    let (clock, chance) = (Clock::System, Chance::System);
    let at = clock.now();
    let login = Login::parse(&args.login)?;
    let typed = password(args.password_file.as_deref())?;
    let storage = args.house.open().await?;
    let school = match (&args.found, &args.school) {
        (Some(name), _) => School {
            id: SchoolId(chance.key(at)),
            name: SchoolName::parse(name)?,
            zone: Zone::parse(&args.zone)?,
            settings: SchoolSettings::default(),
            version: 1,
        },
        (None, name) => school_called(&storage, name.as_deref().unwrap_or_default()).await?,
    };
    let password = Password::parse(&typed, &[school.name.as_str(), login.as_str()])?;
    let hash = Hasher::new(Cost::STANDARD).hash(&password, chance.bytes()).await?;
    let id = AccountId(chance.key(at));
    let new = NewAccount { id, school: school.id, login, password_hash: hash, at };
    if args.found.is_some() {
        storage.found_school(&school, &new).await?;
    } else {
        storage.add_account(&new).await?;
    }
    storage.close().await;
    println!("{} may enter {}", new.login, school.name);
    Ok(())
}

async fn invite(args: InviteArgs) -> Result<(), CommandError> {
    let storage = args.house.open().await?;
    let purpose = match &args.school {
        Some(name) => LinkPurpose::Invite(school_called(&storage, name).await?.id),
        None => LinkPurpose::SetUp,
    };
    print_link(storage, &args.house, purpose).await
}

async fn reset(args: WhoArgs) -> Result<(), CommandError> {
    let storage = args.house.open().await?;
    let account = account_called(&storage, &args.login).await?;
    let purpose = LinkPurpose::Reset(account.school, account.id);
    print_link(storage, &args.house, purpose).await
}

async fn print_link(
    storage: Storage,
    house: &House,
    purpose: LinkPurpose,
) -> Result<(), CommandError> {
    let url = house.address()?;
    let link = new_link(&storage, Clock::System, &Chance::System, &url, purpose).await?;
    storage.close().await;
    println!("{link}");
    Ok(())
}

async fn set_disabled(args: WhoArgs, disabled: bool) -> Result<(), CommandError> {
    let storage = args.house.open().await?;
    let account = account_called(&storage, &args.login).await?;
    let at = disabled.then(|| Clock::System.now());
    storage.set_disabled(&account, at).await?;
    storage.close().await;
    println!("{} {}", account.login, if disabled { "is shut out" } else { "may enter" });
    Ok(())
}

async fn school_called(storage: &Storage, name: &str) -> Result<School, CommandError> {
    let schools = storage.schools().await?;
    let found = schools.into_iter().find(|school| school.name.as_str() == name.trim());
    found.ok_or_else(|| CommandError::NoSchool { name: name.to_owned() })
}

async fn account_called(storage: &Storage, login: &str) -> Result<Account, CommandError> {
    let found = storage.credentials(&Login::parse(login)?).await?;
    found.map(|it| it.account).ok_or_else(|| CommandError::NoAccount { login: login.to_owned() })
}

/// The first line: a file or an `echo` ends it with a line feed.
fn password(file: Option<&Path>) -> Result<String, CommandError> {
    let mut text = String::new();
    match file {
        Some(file) => text = std::fs::read_to_string(file)?,
        None => {
            std::io::stdin().read_to_string(&mut text)?;
        }
    }
    Ok(text.lines().next().unwrap_or_default().to_owned())
}
