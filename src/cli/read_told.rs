//! `read-told`: running speech in, draft cards out, as JSON.

use std::io::{Read, Write};

use clap::Args;

use super::CommandError;
use crate::domain::larder::Larder;
use crate::domain::told;
use crate::exchange::told::ReadTold;

#[derive(Args)]
#[command(after_help = "Example:
  echo 'For the slaw, shred half a cabbage and toss it with a cup and a half of yoghurt.' | dovetray read-told

Prints one document: `sentences`, the draft `cards` (each with `card`, `card_with_all`, the offered
`goes_in` lines and `notes`, and the sentences they came from), and `not_placed`. Sentences are counted
from 1, and each stands on exactly one card or in `not_placed`.")]
pub struct ReadToldArgs {
    /// Print only the cards as text, with everything that is offered.
    #[arg(long)]
    cards: bool,
}

/// Reads standard input to its end.
pub fn run(args: &ReadToldArgs) -> Result<(), CommandError> {
    let mut bytes = Vec::new();
    std::io::stdin().lock().read_to_end(&mut bytes)?;
    let text = String::from_utf8_lossy(&bytes);
    let told = told::tell(&text, &Larder::shipped());
    let mut out = std::io::stdout().lock();
    if args.cards {
        for draft in &told.dishes {
            writeln!(out, "{}", draft.keep_all())?;
        }
        return Ok(());
    }
    Ok(writeln!(out, "{}", crate::exchange::to_json(&ReadTold::from(&told)))?)
}
