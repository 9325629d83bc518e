//! Running speech cut into sentences. Every byte that is not white space lies in exactly one.

use std::ops::Range;

/// Nobody follows a longer sentence; where no full stop was spoken, a turn of speech parts it.
const LONG: usize = 220;

/// A longer run without any turn is parted at a space, and without a space at a letter.
const LONGEST: usize = 600;

/// A part of a long sentence is no shorter than this.
const SHORT: usize = 40;

/// Words behind which a dot ends no sentence, unless a capital follows.
const SHORTENED: &[&str] = &[
    "min", "mins", "hr", "hrs", "approx", "deg", "tbsp", "tsp", "oz", "lb", "lbs", "e.g", "i.e",
    "no", "c", "st", "mr", "mrs", "dr", "g", "kg", "ml",
];

/// Where running speech turns, best first.
const TURNS: &[&str] = &[
    " and then ",
    ", then ",
    " okay so ",
    " ok so ",
    " right so ",
    ", so then ",
    " so then ",
    ", so ",
    ", now ",
    ", and ",
    " and you ",
    " so ",
];

/// The sentences of `text`, as trimmed byte ranges in order.
pub fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut start = 0;
    for (at, end) in ends(text) {
        if at > start {
            push(text, start..at, &mut found);
        }
        start = end;
    }
    push(text, start..text.len(), &mut found);
    found
}

/// Adds what stands between two ends, parted where it is too long.
fn push(text: &str, bytes: Range<usize>, found: &mut Vec<Range<usize>>) {
    let mut rest = trimmed(text, bytes);
    while rest.len() > LONG {
        let Some(at) = turn(text, &rest) else { break };
        let first = trimmed(text, rest.start..at);
        if !first.is_empty() {
            found.push(first);
        }
        rest = trimmed(text, at..rest.end);
    }
    if !rest.is_empty() {
        found.push(rest);
    }
}

fn trimmed(text: &str, bytes: Range<usize>) -> Range<usize> {
    let inside = &text[bytes.clone()];
    let start = bytes.start + (inside.len() - inside.trim_start().len());
    start..start + inside.trim().len()
}

/// Where a long stretch is parted, looking no further than [`LONGEST`].
fn turn(text: &str, bytes: &Range<usize>) -> Option<usize> {
    let near = floor(text, bytes.end.min(bytes.start + LONGEST));
    let from = ceil(text, (bytes.start + SHORT).min(near));
    let to = floor(text, near.saturating_sub(1).max(from));
    let folded = text[from..to].to_ascii_lowercase();
    let is_inside = |at: usize| bytes.end - (from + at) > SHORT;
    let spoken = TURNS.iter().find_map(|turn| {
        let at = folded.match_indices(turn).map(|(at, _)| at).find(|at| is_inside(*at))?;
        let comma = usize::from(turn.starts_with(','));
        Some(from + at + comma)
    });
    spoken.or_else(|| {
        let is_over = bytes.len() > LONGEST;
        let space = || text[from..near].rfind(char::is_whitespace).map(|at| from + at);
        is_over.then(|| space().unwrap_or(near))
    })
}

fn floor(text: &str, mut at: usize) -> usize {
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn ceil(text: &str, mut at: usize) -> usize {
    while !text.is_char_boundary(at) {
        at += 1;
    }
    at
}

/// Where sentences end: behind the sign, and where the next may begin.
fn ends(text: &str) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    let mut line_start = 0;
    for at in 0..bytes.len() {
        match bytes[at] {
            b'.' | b'!' | b'?' | b';' => {
                let behind = closing(bytes, at + 1);
                let is_end = bytes.get(behind).is_none_or(u8::is_ascii_whitespace);
                if is_end && !is_shortened(text, at) {
                    found.push((behind, behind));
                }
            }
            b'\n' => {
                if is_line_end(text, line_start..at) {
                    found.push((at, at + 1));
                }
                line_start = at + 1;
            }
            _ => {}
        }
    }
    found
}

/// Past quotation marks, brackets and further dots.
fn closing(bytes: &[u8], mut at: usize) -> usize {
    while bytes.get(at).is_some_and(|it| matches!(it, b'"' | b'\'' | b')' | b'.' | b'!' | b'?')) {
        at += 1;
    }
    at
}

fn is_shortened(text: &str, at: usize) -> bool {
    if text.as_bytes()[at] != b'.' {
        return false;
    }
    let from = floor(text, at.saturating_sub(8));
    let word = text[from..at].rsplit(|c: char| !(c.is_alphabetic() || c == '.')).next();
    let word = word.unwrap_or_default().to_ascii_lowercase();
    let next = text[at + 1..].trim_start().chars().next();
    let is_list = text[from..at].ends_with(|c: char| c.is_ascii_digit())
        && text[from..at].trim_start_matches(|c: char| c != '\n').trim().len() <= 2
        && text[from..at].contains('\n');
    (SHORTENED.contains(&word.as_str()) || is_list)
        && next.is_some_and(|it| is_list || !it.is_uppercase())
}

/// A line ends a sentence where the next begins something new; a wrapped line goes on.
fn is_line_end(text: &str, line: Range<usize>) -> bool {
    const WRAPPED: usize = 50;
    let words = text[line.clone()].trim();
    let next = &text[line.end + 1..];
    let first = next.trim_start_matches([' ', '\t', '\r']).chars().next();
    let opens = first.is_none_or(|it| {
        it == '\n' || it.is_uppercase() || it.is_ascii_digit() || "-*•–".contains(it)
    });
    words.is_empty()
        || first == Some('\n')
        || words.ends_with(':') && words.len() < WRAPPED
        || opens && words.len() < WRAPPED && !words.ends_with(',')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str) -> Vec<&str> {
        sentences(text).into_iter().map(|bytes| &text[bytes]).collect()
    }

    #[test]
    fn sentences_end_where_a_speaker_stops() {
        for (text, expected) in [
            ("Fry it. Then stir", &["Fry it.", "Then stir"][..]),
            ("Give it 1.5 hours. Done!", &["Give it 1.5 hours.", "Done!"]),
            ("Bake 20 min. or so. Rest", &["Bake 20 min. or so.", "Rest"]),
            ("Bake 20 min. Rest it", &["Bake 20 min.", "Rest it"]),
            ("Soup\nFry an onion\n\nand stir", &["Soup", "Fry an onion", "and stir"]),
            (
                "a line that is wrapped by whatever sent it to us here\nGoes on",
                &["a line that is wrapped by whatever sent it to us here\nGoes on"],
            ),
            ("He said \"stop.\" Then went", &["He said \"stop.\"", "Then went"]),
            ("  \n ", &[]),
        ] {
            assert_eq!(cut(text), expected, "{text:?}");
        }
    }

    #[test]
    fn speech_without_a_stop_is_parted_at_its_turns() {
        let text = "so you fry the onions in a little butter until they are soft and then you add \
                    the stock and let it come up slowly and then when it is hot you put in the peas \
                    and then you blend the whole lot and taste it and that is that for the soup";
        let parts = cut(text);
        assert!(parts.len() > 1 && parts[1].starts_with("and then you add"), "{parts:?}");
        assert!(cut(&"x".repeat(100_000)).iter().all(|it| it.len() <= LONGEST));
    }

    proptest::proptest! {
        #[test]
        fn every_byte_lies_in_one_sentence(
            text in "(\\PC|[.] |\n|\n\n| and then |; |[a-z]{1,9} |\u{2028}){0,200}"
        ) {
            let mut at = 0;
            for bytes in sentences(&text) {
                proptest::prop_assert!(bytes.start >= at && !bytes.is_empty());
                proptest::prop_assert!(text[at..bytes.start].trim().is_empty());
                at = bytes.end;
            }
            proptest::prop_assert!(text[at..].trim().is_empty());
        }
    }
}
