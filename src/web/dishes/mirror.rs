//! The lines of a card with their numbers and marks, as the read view and the editor show them.

/// One line of the text.
#[derive(Debug)]
pub struct MirrorLine {
    pub number: usize,
    /// `bad`, `yel`, `ask` or nothing.
    pub class: &'static str,
    pub is_head: bool,
    pub pieces: Vec<Piece>,
}

/// Words, or a note with its brackets.
#[derive(Debug)]
pub struct Piece {
    pub text: String,
    pub is_note: bool,
}

/// Heads that stand out; the script of the editor has the same list.
const HEADS: [&str; 4] = ["dish:", "base:", "part:", "finish:"];

/// All lines of `text`; `marks` gives the class of some, the gravest first.
pub fn lines(text: &str, marks: &[(usize, &'static str)]) -> Vec<MirrorLine> {
    let line = |(index, text): (usize, &str)| {
        let number = index + 1;
        let folded = text.trim_start().to_lowercase();
        MirrorLine {
            number,
            class: marks.iter().find(|(line, _)| *line == number).map_or("", |(_, class)| class),
            is_head: HEADS.iter().any(|head| folded.starts_with(head)),
            pieces: pieces(text),
        }
    };
    text.lines().enumerate().map(line).collect()
}

fn pieces(line: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut rest = line;
    while let Some(open) = rest.find('[') {
        let Some(length) = rest[open..].find(']') else { break };
        if open > 0 {
            pieces.push(Piece { text: rest[..open].to_owned(), is_note: false });
        }
        let close = open + length + 1;
        pieces.push(Piece { text: rest[open..close].to_owned(), is_note: true });
        rest = &rest[close..];
    }
    if !rest.is_empty() {
        pieces.push(Piece { text: rest.to_owned(), is_note: false });
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_of_a_line_is_in_one_piece() {
        for line in ["", "a", "[8 min]", "Slice. [8 min] [day of]", "[open", "a [b] c [d", "]["] {
            let joined: String = pieces(line).into_iter().map(|piece| piece.text).collect();
            assert_eq!(joined, line);
        }
        let notes = pieces("Slice. [8 min] Fry [day of]");
        let notes: Vec<_> =
            notes.iter().filter(|it| it.is_note).map(|it| it.text.as_str()).collect();
        assert_eq!(notes, ["[8 min]", "[day of]"]);
    }
}
