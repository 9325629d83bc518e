//! `shop` and `keeps`: a menu file in, a list or the limits out, as JSON.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use clap::Args;

use super::CommandError;
use crate::domain::keeps::keeps;
use crate::domain::menu::{Laid, Sitting};
use crate::domain::table::shopping_list;
use crate::exchange::keeps::WrittenKeeps;
use crate::exchange::menu_file::read_menu;
use crate::exchange::shopping::{WrittenList, to_csv};

/// How the file is written; shown by `--help`.
pub const FILE_HELP: &str = "\
The menu file is one JSON document:
  {
    \"menu\": \"Midsummer lunch\",
    \"serve\": \"2027-06-26T13:00\", \"zone\": \"Europe/Oslo\", \"guests\": 8,
    \"cards\": [\"dish: Soft leeks\\nfor: 4\\n1. Sweat the leeks. [20 min]\\n   + 1 kg leeks\\n\"],
    \"choices\": {\"duck fat\": \"sunflower oil\"},
    \"must_not\": {\"allergens\": [\"milk\"], \"others\": [\"kiwi\"], \"strict\": true},
    \"shop_on\": \"2027-06-24\", \"freezer_litres\": 0, \"without\": [\"Chickpea flat loaf\"],
    \"foods\": [{\"key\": \"leek\", \"name\": \"leek\", \"plural\": \"leeks\", \"aisle\": \"greens\"}],
    \"spoons\": \"round\"
  }
Only serve, zone, guests and cards are needed. Foods stand on top of the shipped larder.";

#[derive(Args)]
#[command(after_help = FILE_HELP)]
pub struct MenuFileArgs {
    /// The menu file; `-` reads standard input.
    file: PathBuf,
    /// Print a table for a spreadsheet instead of JSON (`shop` only).
    #[arg(long)]
    csv: bool,
}

/// Prints the combined shopping list.
pub fn shop(args: &MenuFileArgs) -> Result<(), CommandError> {
    let (laid, sitting) = read(&args.file)?;
    let list = shopping_list(&laid, &sitting);
    let text = if args.csv {
        to_csv(&list)
    } else {
        crate::exchange::to_json(&WrittenList::from(&list)) + "\n"
    };
    Ok(std::io::stdout().write_all(text.as_bytes())?)
}

/// Prints each dish and base with its stops, how early each may be made, and why.
pub fn print_keeps(args: &MenuFileArgs) -> Result<(), CommandError> {
    let (laid, sitting) = read(&args.file)?;
    let all: Vec<WrittenKeeps> = keeps(&laid, &sitting).iter().map(WrittenKeeps::from).collect();
    writeln!(std::io::stdout(), "{}", crate::exchange::to_json(&all))?;
    Ok(())
}

fn read(file: &Path) -> Result<(Laid, Sitting), CommandError> {
    let mut text = String::new();
    if file.as_os_str() == "-" {
        std::io::stdin().read_to_string(&mut text)?;
    } else {
        text = std::fs::read_to_string(file)
            .map_err(|reason| CommandError::File { file: file.to_owned(), reason })?;
    }
    read_menu(&text).map_err(|error| CommandError::Document { file: file.to_owned(), error })
}
