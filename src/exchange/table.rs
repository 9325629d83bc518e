//! A table as a spreadsheet saves or copies it: a line of headings, then one thing a line.

/// More lines than a school's larder will ever need.
pub const LINES_MAX: usize = 2_000;

/// One line with its number in the text, from 1, and the cells that are not empty by heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableRow {
    pub line: u64,
    cells: Vec<(String, String)>,
}

impl TableRow {
    /// Empty where the line has no such cell.
    pub fn cell(&self, heading: &str) -> &str {
        self.cells.iter().find(|(it, _)| it == heading).map_or("", |(_, cell)| cell)
    }

    pub fn has_any(&self, headings: &[&str]) -> bool {
        headings.iter().any(|heading| !self.cell(heading).is_empty())
    }
}

/// Why a text is no table, or a line of it cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TableProblem {
    #[error("the first line must hold the headings, like: food; pack; price")]
    NoHeadings,
    #[error("“{0}” is no heading known here")]
    UnknownHeading(String),
    #[error("the heading “{0}” stands twice")]
    HeadingTwice(String),
    #[error("{found} cells for {wanted} headings")]
    Cells { found: usize, wanted: usize },
    #[error("more than {LINES_MAX} lines; split the table")]
    TooLong,
    #[error("a line cannot be read as text")]
    NoText,
}

/// Reads a table whose cells are parted by tabs, semicolons or commas, whichever the headings use.
/// `known` gives each heading a name of ours. All problems with their lines, or all rows.
pub fn read_table(
    text: &str,
    known: impl Fn(&str) -> Option<&'static str>,
) -> Result<Vec<TableRow>, Vec<(u64, TableProblem)>> {
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let parted = [b'\t', b';', b','].into_iter().find(|it| first.contains(char::from(*it)));
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .delimiter(parted.unwrap_or(b';'))
        .from_reader(text.as_bytes());
    let mut records = reader.records();
    let mut headings: Vec<&'static str> = Vec::new();
    let mut problems = Vec::new();
    let mut rows = Vec::new();
    let mut is_first = true;
    while let Some(record) = records.next() {
        let Ok(record) = record else {
            problems.push((records.reader().position().line(), TableProblem::NoText));
            continue;
        };
        let line = record.position().map_or(1, |at| line_at(text, at.byte()));
        if record.iter().all(str::is_empty) {
            continue;
        }
        if is_first {
            is_first = false;
            headings = read_headings(&record, line, &known, &mut problems);
            continue;
        }
        if rows.len() >= LINES_MAX {
            problems.push((line, TableProblem::TooLong));
            break;
        }
        let filled =
            (0..record.len()).rev().find(|at| !record[*at].is_empty()).map_or(0, |at| at + 1);
        if filled > headings.len() && problems.is_empty() {
            let wanted = headings.len();
            problems.push((line, TableProblem::Cells { found: filled, wanted }));
            continue;
        }
        let cells = headings
            .iter()
            .zip(record.iter())
            .filter(|(heading, cell)| !heading.is_empty() && !cell.is_empty());
        let cells = cells.map(|(heading, cell)| ((*heading).to_owned(), cell.to_owned())).collect();
        rows.push(TableRow { line, cells });
    }
    if is_first {
        problems.push((1, TableProblem::NoHeadings));
    }
    if problems.is_empty() { Ok(rows) } else { Err(problems) }
}

/// The line of a record: the reader counts one from the empty lines before it.
fn line_at(text: &str, byte: u64) -> u64 {
    let at = usize::try_from(byte).unwrap_or(text.len()).min(text.len());
    let empty = text.as_bytes()[at..].iter().take_while(|it| matches!(it, b'\r' | b'\n')).count();
    let before = &text.as_bytes()[..at + empty];
    1 + before.iter().filter(|it| **it == b'\n').map(|_| 1).sum::<u64>()
}

fn read_headings(
    record: &csv::StringRecord,
    line: u64,
    known: &impl Fn(&str) -> Option<&'static str>,
    problems: &mut Vec<(u64, TableProblem)>,
) -> Vec<&'static str> {
    let mut headings = Vec::new();
    for typed in record {
        match known(&typed.to_lowercase()) {
            // A column without a heading is somebody's own note.
            _ if typed.is_empty() => headings.push(""),
            None => problems.push((line, TableProblem::UnknownHeading(typed.to_owned()))),
            Some(heading) if headings.contains(&heading) => {
                problems.push((line, TableProblem::HeadingTwice(typed.to_owned())));
            }
            Some(heading) => headings.push(heading),
        }
    }
    headings
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known(heading: &str) -> Option<&'static str> {
        ["food", "pack", "price"].into_iter().find(|it| *it == heading)
    }

    #[test]
    fn commas_semicolons_and_tabs_part_cells_and_quotes_hold_them() {
        for text in [
            "Food;Pack;Price\nleeks;1 kg;2,40\n\n\"oil; olive\";1 l;9.80\n",
            "\u{feff}Food\tPack\tPrice\r\nleeks\t1 kg\t2,40\r\n\r\noil; olive\t1 l\t9.80",
            "food,pack,price\nleeks,1 kg,\"2,40\"\n,,\noil; olive,1 l,9.80",
        ] {
            let rows = read_table(text, known).unwrap();
            let cells: Vec<_> = rows
                .iter()
                .map(|it| [it.cell("food"), it.cell("pack"), it.cell("price")])
                .collect();
            assert_eq!(cells, [["leeks", "1 kg", "2,40"], ["oil; olive", "1 l", "9.80"]]);
            assert_eq!(rows[1].line, 4);
        }
    }

    #[test]
    fn what_is_no_table_is_said_with_its_line() {
        let problems = |text| read_table(text, known).unwrap_err();
        assert_eq!(problems("  \n"), [(1, TableProblem::NoHeadings)]);
        let typed = "taste".to_owned();
        assert_eq!(problems("food;taste\na;b"), [(1, TableProblem::UnknownHeading(typed))]);
        let wide = TableProblem::Cells { found: 4, wanted: 3 };
        assert_eq!(problems("food;pack;price\na;b;c;d\n"), [(2, wide)]);
        let long = format!("food\n{}", "a\n".repeat(LINES_MAX + 1));
        assert_eq!(problems(&long).last().unwrap().1, TableProblem::TooLong);
    }
}
