//! `read-lines`: ingredient lines in, what was read out, as JSON, line by line.

use std::io::{BufRead, Write};

use clap::Args;

use super::CommandError;
use crate::domain::larder::Larder;
use crate::domain::reading::read_line;
use crate::exchange::lines::{ReadLine, SCHEMA};

#[derive(Args)]
#[command(
    after_help = "Example:\n  echo '2 x 400 g tins plum tomatoes, drained' | dovetray read-lines"
)]
pub struct ReadLinesArgs {
    /// Print the JSON Schema of one printed line, and read nothing.
    #[arg(long)]
    schema: bool,
}

/// Reads standard input to its end; one JSON object a line, in order.
pub fn run(args: &ReadLinesArgs) -> Result<(), CommandError> {
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    if args.schema {
        return Ok(writeln!(out, "{SCHEMA}")?);
    }
    let larder = Larder::shipped();
    let mut input = std::io::stdin().lock();
    let mut bytes = Vec::new();
    loop {
        bytes.clear();
        if input.read_until(b'\n', &mut bytes)? == 0 {
            return Ok(out.flush()?);
        }
        // A line that is no UTF-8 is read as well as it can be, and keeps its place.
        let text = String::from_utf8_lossy(&bytes);
        let line = read_line(text.trim_end_matches(['\n', '\r']), &larder);
        writeln!(out, "{}", crate::exchange::to_json(&ReadLine::from(&line)))?;
    }
}
