//! What changed between two texts, line by line: the fewest lines out and in.

/// One line of the joined text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Change<'a> {
    pub was: Option<Line<'a>>,
    pub now: Option<Line<'a>>,
}

/// A line with its number, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line<'a> {
    pub number: usize,
    pub text: &'a str,
}

impl Change<'_> {
    pub const fn is_same(&self) -> bool {
        self.was.is_some() && self.now.is_some()
    }
}

/// Lines are compared beyond this many only by their common beginning and end.
///
/// A card of the greatest length may be one letter a line; the table of such a pair would not fit.
const COMPARED_MAX: usize = 2_000;

/// The lines of both texts in order: kept ones once, then what went out before what came in.
pub fn between<'a>(was: &'a str, now: &'a str) -> Vec<Change<'a>> {
    let (was, now) = (numbered(was), numbered(now));
    let alike = |pair: &(&Line<'a>, &Line<'a>)| pair.0.text == pair.1.text;
    let head = was.iter().zip(&now).take_while(alike).count();
    let (was_rest, now_rest) = (&was[head..], &now[head..]);
    let tail = was_rest.iter().rev().zip(now_rest.iter().rev()).take_while(alike).count();
    let was_middle = &was_rest[..was_rest.len() - tail];
    let now_middle = &now_rest[..now_rest.len() - tail];
    let mut changes: Vec<_> = was[..head].iter().zip(&now).map(|(w, n)| same(*w, *n)).collect();
    changes.extend(middle(was_middle, now_middle));
    let ends = was_rest[was_rest.len() - tail..].iter().zip(&now_rest[now_rest.len() - tail..]);
    changes.extend(ends.map(|(w, n)| same(*w, *n)));
    changes
}

fn numbered(text: &str) -> Vec<Line<'_>> {
    text.lines().enumerate().map(|(index, text)| Line { number: index + 1, text }).collect()
}

const fn same<'a>(was: Line<'a>, now: Line<'a>) -> Change<'a> {
    Change { was: Some(was), now: Some(now) }
}

/// The longest common run of lines stays; everything else went out or came in.
fn middle<'a>(was: &[Line<'a>], now: &[Line<'a>]) -> Vec<Change<'a>> {
    let out = |line: &Line<'a>| Change { was: Some(*line), now: None };
    let came = |line: &Line<'a>| Change { was: None, now: Some(*line) };
    if was.len() > COMPARED_MAX || now.len() > COMPARED_MAX {
        return was.iter().map(out).chain(now.iter().map(came)).collect();
    }
    // kept[i][j]: how many lines stay of was[i..] and now[j..].
    let width = now.len() + 1;
    let mut kept = vec![0_u16; (was.len() + 1) * width];
    for (i, old) in was.iter().enumerate().rev() {
        for (j, new) in now.iter().enumerate().rev() {
            kept[i * width + j] = if old.text == new.text {
                kept[(i + 1) * width + j + 1] + 1
            } else {
                kept[(i + 1) * width + j].max(kept[i * width + j + 1])
            };
        }
    }
    let (mut i, mut j) = (0, 0);
    let mut changes = Vec::with_capacity(was.len().max(now.len()));
    while i < was.len() || j < now.len() {
        if i < was.len() && j < now.len() && was[i].text == now[j].text {
            changes.push(same(was[i], now[j]));
            (i, j) = (i + 1, j + 1);
        } else if i < was.len()
            && (j == now.len() || kept[(i + 1) * width + j] >= kept[i * width + j + 1])
        {
            changes.push(out(&was[i]));
            i += 1;
        } else {
            changes.push(came(&now[j]));
            j += 1;
        }
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(was: &str, now: &str) -> String {
        let sign = |change: &Change| match (change.was, change.now) {
            (Some(line), Some(_)) => format!(" {}", line.text),
            (Some(line), None) => format!("-{}", line.text),
            (None, Some(line)) => format!("+{}", line.text),
            (None, None) => unreachable!(),
        };
        between(was, now).iter().map(sign).collect::<Vec<_>>().join("|")
    }

    #[test]
    fn the_fewest_lines_go_out_and_come_in() {
        let table = [
            ("", "", ""),
            ("a\nb", "a\nb", " a| b"),
            ("", "a", "+a"),
            ("a", "", "-a"),
            ("a\nb\nc", "a\nc", " a|-b| c"),
            ("a\nc", "a\nb\nc", " a|+b| c"),
            ("a\nb\nc", "a\nx\nc", " a|-b|+x| c"),
            ("a\nb\nc\nd", "b\nd\ne", "-a| b|-c| d|+e"),
        ];
        for (was, now, expected) in table {
            assert_eq!(written(was, now), expected, "{was:?} to {now:?}");
        }
    }

    #[test]
    fn both_texts_can_be_put_together_again() {
        let (was, now) = ("1\n2\n3\n4\n5\n3", "0\n3\n2\n4\n4\n3\n6");
        let changes = between(was, now);
        let old: Vec<_> = changes.iter().filter_map(|change| change.was).collect();
        let new: Vec<_> = changes.iter().filter_map(|change| change.now).collect();
        assert_eq!(old, numbered(was));
        assert_eq!(new, numbered(now));
    }
}
