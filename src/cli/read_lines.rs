//! `read-lines`: ingredient lines in, what was read out, as JSON, line by line.

use std::io::{BufRead, Write};

use clap::Args;

use super::CommandError;
use crate::domain::larder::Larder;
use crate::domain::reading::read_line;
use crate::exchange::lines::{ReadLine, SCHEMA};

/// What each field means; shown by `--help`.
pub const FIELDS_HELP: &str = "\
Example:
  echo '2 x 400 g tins plum tomatoes, drained' | dovetray read-lines

One JSON object a line, in order; `--schema` prints its JSON Schema:
  line           the line as it was given
  quantity_low   exact fraction as text such as \"3/2\", null for none; null under `up to`
  quantity_high  the far end of a range, else the same
  unit           g kg mg ml cl dl l tsp dsp tbsp cup fl_oz pint quart gallon oz lb clove sprig bunch
                 head batch loaf ear can jar pack bottle carton tub bag slice stick stalk sheet
                 piece cube block ball leaf pinch dash drop splash drizzle knob handful dollop,
                 or null for a bare count and for none
  food           singular, as a shopper names it; empty for a heading
  preparation    work, state, or part wanted: `peeled`, `zest and juice`
  optional       true for `optional`, `if you like`
  garnish        true for `to garnish`, `to decorate`
  alternatives   foods that may stand in for it
  together       every food, where the line names several that are all wanted
  is_heading     the line names a group: `For the sauce:`
  packs          size of one pack: `2 x 400 g tins` has 400 g here
  equivalents    the same amount said another way: `250 g / 9 oz`
  plus           more of the same food: `1 cup plus 2 tbsp`
  purpose        what for: `to taste`, `plus extra for dusting`
  remark         any other words: `such as kale`
  food_row       row of the shipped larder with exactly this name, else null
  confidence     known: that row; perhaps: a suggestion to confirm; unknown

Nothing is refused: what is not understood stays in the food, and a figure that cannot be, such as
1/0 or -3, gives no quantity. Lines over 1000 bytes are kept as words.";

#[derive(Args)]
#[command(after_help = FIELDS_HELP)]
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
