//! What the desk sends: the text, the version it was made from, what was pressed, and fields of rows.

use crate::domain::card::Reading;
use crate::domain::dish::NewDish;
use crate::domain::text::{CardText, DishTitle};

/// Every field of a form by name, in order. A form in rows has as many as the card has lines.
#[derive(Clone, Debug, Default)]
pub struct Fields(pub Vec<(String, String)>);

impl Fields {
    pub fn get(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(it, _)| it == name).map(|(_, value)| value.as_str())
    }

    fn text(&self, name: &str) -> String {
        self.get(name).unwrap_or_default().to_owned()
    }
}

/// Two views of one card.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum View {
    #[default]
    Text,
    Rows,
}

impl View {
    pub fn parse(word: &str) -> Self {
        if word == "rows" { Self::Rows } else { Self::Text }
    }
}

/// What was pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Press {
    Save,
    /// Read it again, and nothing else.
    Read,
    Show(View),
    /// Put in the words that a remark offers; counted from 0.
    Write(usize),
    /// Keep the note that the sentences offer; counted from 0, or all.
    Keep(Option<usize>),
    /// The line of this number means the food suggested at this place; without a place, what stands
    /// in its field.
    Means(usize, Option<usize>),
    /// A button of one row: `step 12`, `up 12`.
    Row(String),
}

impl Press {
    fn parse(word: &str) -> Self {
        let (first, rest) = word.split_once(' ').unwrap_or((word, ""));
        match (first, rest.parse()) {
            ("save", _) => Self::Save,
            ("text", _) => Self::Show(View::Text),
            ("rows", _) => Self::Show(View::Rows),
            ("write", Ok(index)) => Self::Write(index),
            ("keep", Ok(index)) => Self::Keep(Some(index)),
            ("keep", Err(_)) => Self::Keep(None),
            ("means", Ok(line)) => Self::Means(line, None),
            ("means", Err(_)) => rest
                .split_once(' ')
                .and_then(|(line, place)| {
                    Some(Self::Means(line.parse().ok()?, Some(place.parse().ok()?)))
                })
                .unwrap_or(Self::Read),
            ("row", _) => Self::Row(rest.to_owned()),
            _ => Self::Read,
        }
    }
}

/// One submission of the desk.
#[derive(Clone, Debug)]
pub struct DeskForm {
    /// The card with alike line ends; everything typed is in it.
    pub text: String,
    /// Of the stored dish that the text was made from.
    pub version: u32,
    pub view: View,
    pub press: Press,
    pub fields: Fields,
}

impl DeskForm {
    pub fn of(fields: Fields) -> Self {
        Self {
            text: fields.text("card").replace("\r\n", "\n").replace('\r', "\n"),
            version: fields.text("version").parse().unwrap_or(0),
            view: View::parse(fields.get("view").unwrap_or_default()),
            press: Press::parse(fields.get("do").unwrap_or("save")),
            fields,
        }
    }
}

/// A dish, if the text can be one; else everything that is in the way, as finished sentences.
pub fn check(text: &str, reading: &Reading) -> Result<NewDish, Vec<String>> {
    let card = CardText::parse(text);
    if let Err(error) = &card
        && text.trim().is_empty()
    {
        return Err(vec![error.to_string()]);
    }
    let title = DishTitle::parse(&reading.card.title);
    let mut problems = Vec::new();
    if let Err(error) = &title {
        problems.push(format!("{error}: it stands on the first line"));
    }
    if let Err(error) = &card {
        problems.push(error.to_string());
    }
    match (title, card) {
        (Ok(title), Ok(card)) => Ok(NewDish { title, kind: reading.card.kind, card }),
        _ => Err(problems),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn buttons_are_read_and_an_unknown_one_only_reads() {
        let table = [
            ("save", Press::Save),
            ("text", Press::Show(View::Text)),
            ("rows", Press::Show(View::Rows)),
            ("write 3", Press::Write(3)),
            ("row up 12", Press::Row("up 12".to_owned())),
            ("means 7", Press::Means(7, None)),
            ("means 7 1", Press::Means(7, Some(1))),
            ("means x", Press::Read),
            ("keep 2", Press::Keep(Some(2))),
            ("keep all", Press::Keep(None)),
            ("read", Press::Read),
            ("write x", Press::Read),
            ("else", Press::Read),
        ];
        for (word, press) in table {
            assert_eq!(Press::parse(word), press, "{word}");
        }
    }
}
