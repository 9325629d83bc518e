//! `read-card`: dish cards in, what was read out, as JSON.

use std::io::{Read, Write};
use std::path::PathBuf;

use clap::Args;

use super::CommandError;
use crate::domain::card::{self, Reading};
use crate::domain::larder::Larder;
use crate::exchange::card::ReadCard;

#[derive(Args)]
pub struct ReadCardArgs {
    /// Card files; `-` reads standard input.
    #[arg(required = true)]
    files: Vec<PathBuf>,
}

/// Prints one JSON document a card, each on one line.
pub fn run(args: &ReadCardArgs) -> Result<(), CommandError> {
    let texts: Vec<String> = args.files.iter().map(text).collect::<Result<_, _>>()?;
    let larder = Larder::shipped();
    let read = |text: &String| card::read(text, &larder);
    let bases: Vec<String> = texts
        .iter()
        .map(read)
        .filter(|reading| reading.card.kind == card::DishKind::Base)
        .map(|reading| reading.card.title)
        .collect();
    let mut out = std::io::stdout().lock();
    for text in &texts {
        let reading: Reading = card::read_with_bases(text, &larder, &bases);
        writeln!(out, "{}", crate::exchange::to_json(&ReadCard::from(&reading)))?;
    }
    Ok(())
}

fn text(file: &PathBuf) -> Result<String, CommandError> {
    let mut text = String::new();
    if file.as_os_str() == "-" {
        std::io::stdin().read_to_string(&mut text)?;
        return Ok(text);
    }
    std::fs::read_to_string(file)
        .map_err(|reason| CommandError::File { file: file.clone(), reason })
}
