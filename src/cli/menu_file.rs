//! `shop` and `keeps`: a menu file in, a list or the limits out, as JSON.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use clap::Args;

use super::CommandError;
use crate::domain::keeps::{Prefer, ahead, keeps, room_clocks};
use crate::domain::table::shopping_list_with;
use crate::exchange::keeps::{WrittenKeeps, WrittenRoom};
use crate::exchange::menu_file::{MenuFile, read_menu};
use crate::exchange::shopping::{WrittenShop, to_csv};

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
    \"at_home\": {\"caster sugar\": \"200 g\"},
    \"prices\": {\"currency\": \"EUR\", \"rows\": [
      {\"food\": \"olive oil\", \"pack\": \"1 l\", \"minor\": 980, \"on\": \"2027-05-01\"}]},
    \"spoons\": \"round\"
  }
Only serve, zone, guests and cards are needed. Foods stand on top of the shipped larder, as
export writes them. Prices are whole cents a pack. A base is a card that begins with base: and
comes along when a dish takes it. tests/demo/midsummer-lunch.json is a whole file.

`shop` prints the list by aisle (needed: what the steps ask for; as_bought: before trim is lost;
buy: packs, weigh or at_least), what to find first, what to check at home, foods the larder does
not know, what the rule of the table says, the cost where prices are given, and remarks on cards.

`keeps` prints every stop with all the figures that hold there, whose they are, where each was read
and how well (VERIFIED, PARTIAL, MEMORY), the earliest moment and the sum behind it; raw foods with
their clock from the shop. With --rooms: minutes out of the fridge over the life of each dish.";

#[derive(Args)]
#[command(after_help = FILE_HELP)]
pub struct MenuFileArgs {
    /// The menu file; `-` reads standard input.
    file: PathBuf,
    /// Print a table for a spreadsheet instead of JSON (`shop` only).
    #[arg(long)]
    csv: bool,
    /// Print minutes out of the fridge, dish by dish, instead of the stops (`keeps` only).
    #[arg(long)]
    rooms: bool,
}

/// Prints the combined shopping list.
pub fn shop(args: &MenuFileArgs) -> Result<(), CommandError> {
    let file = read(&args.file)?;
    let ahead = ahead(&file.laid, &file.sitting, Prefer::Late);
    let list = shopping_list_with(&file.laid, &file.sitting, &ahead, &file.at_home);
    let text = if args.csv {
        to_csv(&list)
    } else {
        crate::exchange::to_json(&WrittenShop::of(&file, &list)) + "\n"
    };
    Ok(std::io::stdout().write_all(text.as_bytes())?)
}

/// Prints each dish and base with its stops, how early each may be made, and why.
pub fn print_keeps(args: &MenuFileArgs) -> Result<(), CommandError> {
    let MenuFile { laid, sitting, .. } = read(&args.file)?;
    if args.rooms {
        let rooms: Vec<WrittenRoom> =
            room_clocks(&laid, &sitting).iter().map(WrittenRoom::from).collect();
        writeln!(std::io::stdout(), "{}", crate::exchange::to_json(&rooms))?;
        return Ok(());
    }
    let all: Vec<WrittenKeeps> = keeps(&laid, &sitting).iter().map(WrittenKeeps::from).collect();
    writeln!(std::io::stdout(), "{}", crate::exchange::to_json(&all))?;
    Ok(())
}

pub(super) fn read(file: &Path) -> Result<MenuFile, CommandError> {
    let text = read_text(file)?;
    read_menu(&text).map_err(|error| CommandError::Document { file: file.to_owned(), error })
}

/// The text of a file, or of standard input for `-`.
pub(super) fn read_text(file: &Path) -> Result<String, CommandError> {
    let mut text = String::new();
    if file.as_os_str() == "-" {
        std::io::stdin().read_to_string(&mut text)?;
    } else {
        text = std::fs::read_to_string(file)
            .map_err(|reason| CommandError::File { file: file.to_owned(), reason })?;
    }
    Ok(text)
}
