//! Running words cut so that a figure and its unit stay together, and spans of time in words.

use crate::domain::menu::Sitting;

/// `Ines, for 4.`, or `For 9.` where the table has no name.
pub(super) fn for_whom(sitting: &Sitting) -> String {
    let guests = sitting.guests.count();
    match sitting.name.as_str() {
        "" => format!("For {guests}."),
        name => format!("{name}, for {guests}."),
    }
}

/// A stretch of text. A figure with its unit is one piece, printed bold and never parted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    pub words: String,
    pub is_figure: bool,
}

/// What may follow a figure and belongs to it.
const UNITS: &[&str] = &[
    "min", "minutes", "minute", "h", "hours", "hour", "days", "day", "seconds", "second", "weeks",
    "week", "C", "F", "°C", "°F", "g", "kg", "ml", "cl", "dl", "l", "litres", "litre", "mm", "cm",
    "in", "inch", "inches", "tsp", "tbsp", "cup", "cups", "oz", "lb", "%", "times",
];

/// Cuts `text` into figures with their units and the words between.
pub fn pieces(text: &str) -> Vec<Piece> {
    let mut cut = Cut::default();
    let mut tokens: Vec<&str> = text.split_inclusive(' ').collect();
    let mut at = 0;
    while at < tokens.len() {
        if let Some(inside) = tokens[at].strip_prefix('(') {
            cut.words("(");
            tokens[at] = inside;
        }
        match figure(&tokens[at..]) {
            Some((words, tail, used)) => {
                cut.figure(words);
                cut.words(&tail);
                at += used;
            }
            None => {
                cut.words(tokens[at]);
                at += 1;
            }
        }
    }
    cut.pieces
}

#[derive(Default)]
struct Cut {
    pieces: Vec<Piece>,
}

impl Cut {
    fn words(&mut self, words: &str) {
        if words.is_empty() {
            return;
        }
        match self.pieces.last_mut() {
            Some(last) if !last.is_figure => last.words.push_str(words),
            _ => self.pieces.push(Piece { words: words.to_owned(), is_figure: false }),
        }
    }

    fn figure(&mut self, words: String) {
        self.pieces.push(Piece { words, is_figure: true });
    }
}

/// A figure at the head of `tokens`: its words, what trails it (a stop, a space), and how many
/// tokens it took.
fn figure(tokens: &[&str]) -> Option<(String, String, usize)> {
    let first = tokens[0].trim_end();
    if let Some((figure, unit, tail)) = joined(first) {
        let space = &tokens[0][first.len()..];
        return Some((format!("{figure}\u{a0}{unit}"), format!("{tail}{space}"), 1));
    }
    let mut used = 0;
    let mut words = String::new();
    while used < 2 && tokens.get(used).is_some_and(|token| is_number(token.trim_end())) {
        words.push_str(tokens[used].trim_end());
        words.push('\u{a0}');
        used += 1;
    }
    let next = tokens.get(used).filter(|_| used > 0)?;
    let unit = next.trim_end_matches([' ', '.', ',', ';', ':', ')']);
    if !UNITS.contains(&unit) {
        return None;
    }
    words.push_str(unit);
    Some((words, next[unit.len()..].to_owned(), used + 1))
}

/// `200C,` as figure, unit and what trails.
fn joined(token: &str) -> Option<(&str, &str, &str)> {
    let figure_end = token.find(|c: char| !is_of_number(c)).filter(|&end| end > 0)?;
    let (figure, rest) = token.split_at(figure_end);
    let unit = rest.trim_end_matches(['.', ',', ';', ':', ')']);
    let known = is_number(figure) && UNITS.contains(&unit);
    known.then(|| (figure, unit, &rest[unit.len()..]))
}

fn is_number(token: &str) -> bool {
    token.starts_with(|c: char| c.is_ascii_digit() || "½¼¾⅓⅔".contains(c))
        && token.chars().all(is_of_number)
        && token.ends_with(|c: char| c.is_ascii_digit() || "½¼¾⅓⅔".contains(c))
}

fn is_of_number(c: char) -> bool {
    c.is_ascii_digit() || "./-–½¼¾⅓⅔".contains(c)
}

/// `8 min`, `2 h`, `2 h 30 min`; up to 100 minutes stay minutes, as a kitchen clock counts them.
pub fn span(minutes: u32) -> String {
    let (hours, rest) = (minutes / 60, minutes % 60);
    match (hours, rest) {
        _ if minutes < 120 && rest != 0 || minutes < 60 => format!("{minutes}\u{a0}min"),
        (_, 0) => format!("{hours}\u{a0}h"),
        _ => format!("{hours}\u{a0}h {rest}\u{a0}min"),
    }
}

/// A limit of keeping: whole days where it is whole days, hours below.
pub fn keeping(minutes: u32) -> String {
    const DAY: u32 = 24 * 60;
    match (minutes / DAY, minutes % DAY) {
        (1, 0) => "1\u{a0}day".to_owned(),
        (days, 0) if days > 0 => format!("{days}\u{a0}days"),
        _ => span(minutes),
    }
}

/// `2 times` up to ten in words, as one says it at the stove.
pub fn times(count: u32) -> String {
    match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        3 => "three times".to_owned(),
        4 => "four times".to_owned(),
        5 => "five times".to_owned(),
        6 => "six times".to_owned(),
        _ => format!("{count}\u{a0}times"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(text: &str) -> Vec<String> {
        let cut = pieces(text);
        let again: String = cut.iter().map(|piece| piece.words.as_str()).collect();
        assert_eq!(again.replace('\u{a0}', " ").replace(' ', ""), text.replace(' ', ""));
        cut.into_iter()
            .filter(|it| it.is_figure)
            .map(|it| it.words.replace('\u{a0}', " "))
            .collect()
    }

    #[test]
    fn a_figure_never_parts_from_its_unit() {
        assert_eq!(figures("Leave 20 min."), ["20 min"]);
        assert_eq!(figures("no deeper than 1 1/2 inch; until below 41 F"), ["1 1/2 inch", "41 F"]);
        assert_eq!(figures("Roast at 200C, then 10-15 minutes more"), ["200 C", "10-15 minutes"]);
        assert_eq!(figures("slices (5 mm) thick"), ["5 mm"]);
    }

    #[test]
    fn a_number_without_a_unit_is_a_word() {
        assert_eq!(figures("Stir in 2 eggs, then 3."), Vec::<String>::new());
        assert_eq!(figures("from 1."), Vec::<String>::new());
    }

    #[test]
    fn spans_are_said_as_a_kitchen_says_them() {
        let said = [8, 60, 65, 90, 120, 150, 180].map(span).map(|it| it.replace('\u{a0}', " "));
        assert_eq!(said, ["8 min", "1 h", "65 min", "90 min", "2 h", "2 h 30 min", "3 h"]);
        let kept = [120, 1440, 2880, 1500].map(keeping).map(|it| it.replace('\u{a0}', " "));
        assert_eq!(kept, ["2 h", "1 day", "2 days", "25 h"]);
    }
}
