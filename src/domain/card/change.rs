//! The smallest rewrite of a card's text for a change made in a form, or for a remark taken up.
//!
//! Nothing but the words concerned is touched: line ends, spaces, order and the author's spelling
//! of everything else stay. What is set to what it says already leaves the text as it is.

use std::collections::VecDeque;

use super::note::{Note, NoteKind};
use super::shape::{head_of, step_number};
use super::{LineKind, Reading};
use crate::domain::remark::{Place, Remark};

/// One change. Lines are those of the text before any change, counted from 1.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edit {
    /// The author's words of a step, without its notes.
    Sentence {
        step: usize,
        words: String,
    },
    /// All notes of one kind on a step; none takes them out.
    Notes {
        step: usize,
        kind: NoteKind,
        notes: Vec<Note>,
    },
    /// Notes that are no notes of the card, as they stand between their brackets.
    Kept {
        step: usize,
        words: Vec<String>,
    },
    /// What goes in on a line, without the plus; empty takes the line out.
    GoesIn {
        line: usize,
        words: String,
    },
    AddGoesIn {
        step: usize,
        words: String,
    },
    /// What a head says; empty takes the line out.
    Head {
        line: usize,
        value: String,
    },
    AddHead {
        name: &'static str,
        value: String,
    },
    AddStep {
        part: usize,
    },
    TakeOut {
        step: usize,
    },
    /// Changes places with the step above it in its part.
    MoveUp {
        step: usize,
    },
    /// Before the finish; at the end where there is none.
    AddPart {
        name: String,
    },
}

/// The text after all `edits`. `reading` is that of `text`.
pub fn change(text: &str, reading: &Reading, edits: &[Edit]) -> String {
    let mut sheet = Sheet::of(text, reading);
    for edit in edits {
        sheet.edit(edit);
    }
    sheet.text(text)
}

/// The text with the words of a remark put in; none where they have no single place.
pub fn put_in(text: &str, reading: &Reading, remark: &Remark) -> Option<String> {
    let (Place::Line(line), Some(words)) = (&remark.place, &remark.write) else { return None };
    let mut sheet = Sheet::of(text, reading);
    let at = line.checked_sub(1).filter(|&at| at < sheet.lines.len())?;
    match sheet.kinds.get(at)? {
        LineKind::Step | LineKind::Words if words.starts_with('[') => {
            sheet.put_note(at, words, &remark.sentence)?;
        }
        LineKind::GoesIn if words.starts_with("+ ") => {
            sheet.edit(&Edit::GoesIn { line: *line, words: words[2..].to_owned() });
        }
        LineKind::Head | LineKind::Part => {
            let (name, value) = head_of(words)?;
            let own = head_of(sheet.lines[at].trim())?.0;
            if name != own {
                return None;
            }
            sheet.edit(&Edit::Head { line: *line, value: value.to_owned() });
        }
        _ => return None,
    }
    Some(sheet.text(text))
}

/// The heads of a card with their lines: name and value as typed.
pub fn heads<'a>(text: &'a str, reading: &Reading) -> Vec<(usize, &'a str, &'a str)> {
    let lines = text.lines().zip(&reading.lines).enumerate();
    lines
        .filter(|(_, (_, kind))| **kind == LineKind::Head)
        .map(|(at, (line, _))| match head_of(line.trim()) {
            Some((name, value)) => (at + 1, name, value),
            None => (at + 1, "", line.trim()),
        })
        .collect()
}

/// The lines while they are changed. A line's number stays its own until the text is put together.
struct Sheet<'a> {
    reading: &'a Reading,
    kinds: Vec<LineKind>,
    lines: Vec<String>,
    out: Vec<bool>,
    /// New lines before and after each.
    before: Vec<Vec<String>>,
    after: Vec<Vec<String>>,
    /// In what order the old lines come.
    order: Vec<usize>,
}

impl<'a> Sheet<'a> {
    fn of(text: &str, reading: &'a Reading) -> Self {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let mut kinds = reading.lines.clone();
        if lines.is_empty() {
            lines.push(String::new());
            kinds.push(LineKind::Blank);
        }
        let count = lines.len();
        Self {
            reading,
            kinds,
            lines,
            out: vec![false; count],
            before: vec![Vec::new(); count],
            after: vec![Vec::new(); count],
            order: (0..count).collect(),
        }
    }

    /// Puts the lines together; a text that ended with a line end still does.
    fn text(self, was: &str) -> String {
        let Self { mut lines, out, before, after, order, .. } = self;
        let mut all = Vec::with_capacity(lines.len());
        for at in order {
            all.extend(before[at].iter().cloned());
            if !out[at] {
                all.push(std::mem::take(&mut lines[at]));
            }
            all.extend(after[at].iter().cloned());
        }
        let mut text = all.join("\n");
        if was.ends_with('\n') && !text.is_empty() {
            text.push('\n');
        }
        text
    }

    fn edit(&mut self, edit: &Edit) {
        match edit {
            Edit::Sentence { step, words } => self.sentence(*step, words),
            Edit::Notes { step, kind, notes } => {
                let words: Vec<_> = notes.iter().map(Note::words).collect();
                let same = |inside: &str, at: usize| {
                    Note::read(inside).is_ok_and(|read| notes.get(at) == Some(&read.note))
                };
                let is_one =
                    |inside: &str| Note::read(inside).is_ok_and(|read| read.note.kind() == *kind);
                if !self.is_said_first(*step, *kind, notes) {
                    self.brackets(*step, &words, is_one, same);
                }
            }
            Edit::Kept { step, words } => {
                let same = |inside: &str, at: usize| words.get(at).is_some_and(|it| it == inside);
                self.brackets(*step, words, |inside| Note::read(inside).is_err(), same);
            }
            Edit::GoesIn { line, words } => self.goes_in(*line, words),
            Edit::AddGoesIn { step, words } => {
                if let Some(at) = self.end(*step) {
                    self.after[at].push(format!("   + {}", one_line(words)));
                }
            }
            Edit::Head { line, value } => self.head(*line, value),
            Edit::AddHead { name, value } => self.add_head(name, value),
            Edit::AddStep { part } => self.add_step(*part),
            Edit::TakeOut { step } => {
                for at in self.block(*step) {
                    self.out[at] = true;
                }
            }
            Edit::MoveUp { step } => self.move_up(*step),
            Edit::AddPart { name } => self.add_part(name),
        }
    }

    /// The lines of a step from its number to the last line under it, blank ends left out.
    fn block(&self, step: usize) -> Vec<usize> {
        let Some(first) = step.checked_sub(1).filter(|&at| at < self.lines.len()) else {
            return Vec::new();
        };
        let under = |kind: LineKind| matches!(kind, LineKind::Words | LineKind::GoesIn);
        let rest = (first + 1..self.lines.len())
            .take_while(|&at| under(self.kinds[at]) || self.kinds[at] == LineKind::Blank);
        let mut block: Vec<_> = std::iter::once(first).chain(rest).collect();
        while block.len() > 1 && block.last().is_some_and(|&at| self.kinds[at] == LineKind::Blank) {
            block.pop();
        }
        block
    }

    fn end(&self, step: usize) -> Option<usize> {
        self.block(step).last().copied()
    }

    /// The lines of a step that hold its words and notes.
    fn worded(&self, step: usize) -> Vec<usize> {
        let mut lines = self.block(step);
        lines.retain(|&at| matches!(self.kinds[at], LineKind::Step | LineKind::Words));
        lines
    }

    fn sentence(&mut self, step: usize, words: &str) {
        let words = one_line(words);
        if self.reading.card.steps().any(|(_, it)| it.line == step && it.text == words) {
            return;
        }
        let worded = self.worded(step);
        let Some((&first, more)) = worded.split_first() else {
            // What goes in stood without a sentence: give it one.
            if let Some(at) = step.checked_sub(1).filter(|&at| at < self.lines.len()) {
                let number = if self.is_numbered() { "1. " } else { "" };
                self.before[at].push(format!("{number}{words}"));
            }
            return;
        };
        let lead = lead(&self.lines[first]).to_owned();
        let notes = notes_of(&self.lines[first]);
        self.lines[first] = format!("{lead}{}", joined(&words, &notes));
        for &at in more {
            let notes = notes_of(&self.lines[at]);
            let indent = indent(&self.lines[at]).to_owned();
            self.out[at] = notes.is_empty();
            self.lines[at] = format!("{indent}{}", notes.join(" "));
        }
    }

    /// Makes the brackets of one kind say `words`, in order; those that do already stay as typed.
    /// Of a kind that stands once, the first note counts: a second one stays as the author left it.
    fn is_said_first(&self, step: usize, kind: NoteKind, notes: &[Note]) -> bool {
        let [note] = notes else { return false };
        let said = self.worded(step).into_iter().find_map(|at| {
            let mut inside = pieces(&self.lines[at]).into_iter().filter(|piece| piece.0);
            inside.find_map(|(_, _, inside)| {
                Note::read(inside).ok().map(|read| read.note).filter(|it| it.kind() == kind)
            })
        });
        !kind.may_repeat() && said.as_ref() == Some(note)
    }

    fn brackets(
        &mut self,
        step: usize,
        words: &[String],
        is_one: impl Fn(&str) -> bool,
        same: impl Fn(&str, usize) -> bool,
    ) {
        let worded = self.worded(step);
        let Some(&first) = worded.first() else {
            if !words.is_empty() {
                let notes: Vec<_> = words.iter().map(|it| format!("[{it}]")).collect();
                let number = if self.is_numbered() { "1. " } else { "" };
                if let Some(at) = step.checked_sub(1).filter(|&at| at < self.lines.len()) {
                    self.before[at].push(format!("{number}{}", notes.join(" ")));
                }
            }
            return;
        };
        let old: Vec<String> = worded
            .iter()
            .flat_map(|&at| pieces(&self.lines[at]))
            .filter(|(is_note, _, inside)| *is_note && is_one(inside))
            .map(|(_, _, inside)| inside.to_owned())
            .collect();
        let (kept, mut fresh) = matched(&old, words.len(), same);
        let mut kept = kept.into_iter();
        for &at in &worded {
            let mut line = String::new();
            for (is_note, raw, inside) in pieces(&self.lines[at]) {
                if !is_note || !is_one(inside) || kept.next() == Some(true) {
                    line.push_str(raw);
                } else if let Some(word) = fresh.pop_front() {
                    line.push_str(&format!("[{}]", words[word]));
                } else {
                    line.truncate(line.trim_end().len());
                }
            }
            self.lines[at] = line;
        }
        for word in fresh {
            let line = &mut self.lines[first];
            line.truncate(line.trim_end().len());
            line.push_str(&format!(" [{}]", words[word]));
        }
    }

    /// Puts one note in: for the bracket the remark quotes, for the one of its kind, or at the end.
    fn put_note(&mut self, at: usize, words: &str, sentence: &str) -> Option<()> {
        let inside = words.strip_prefix('[')?.strip_suffix(']')?;
        let note = Note::read(inside).ok()?.note;
        let quoted = |inside: &str| sentence.contains(&format!("“[{inside}]”"));
        let alike = |old: &str| match (&note, Note::read(old).map(|read| read.note)) {
            (Note::Touch(new), Ok(Note::Touch(old))) => new.what == old.what,
            (Note::Stop(new), Ok(Note::Stop(old))) => new.place == old.place,
            (new, Ok(old)) => new.kind() == old.kind() && !new.kind().may_repeat(),
            (_, Err(_)) => false,
        };
        let pieces = pieces(&self.lines[at]);
        let is_bracket = |piece: &&(bool, &str, &str)| piece.0;
        let place = pieces
            .iter()
            .filter(is_bracket)
            .find(|(_, _, old)| quoted(old))
            .or_else(|| pieces.iter().filter(is_bracket).find(|(_, _, old)| alike(old)))
            .map(|(_, raw, _)| *raw);
        self.lines[at] = match place {
            Some(raw) => self.lines[at].replacen(raw, words, 1),
            None => format!("{} {words}", self.lines[at].trim_end()),
        };
        Some(())
    }

    fn goes_in(&mut self, line: usize, words: &str) {
        let Some(at) = line.checked_sub(1).filter(|&at| at < self.lines.len()) else { return };
        let words = one_line(words);
        if words.is_empty() {
            self.out[at] = true;
            return;
        }
        let old = &self.lines[at];
        let plus = match old.trim_start().strip_prefix('+') {
            Some(rest) => old.len() - rest.trim_start().len(),
            None => indent(old).len(),
        };
        if one_line(&old[plus..]) != words {
            self.lines[at] = format!("{}{words}", &old[..plus]);
        }
    }

    fn head(&mut self, line: usize, value: &str) {
        let Some(at) = line.checked_sub(1).filter(|&at| at < self.lines.len()) else { return };
        let value = one_line(value);
        let Some((name, rest)) = self.lines[at].split_once(':') else {
            self.lines[at] = value;
            return;
        };
        if one_line(rest) == value {
            return;
        }
        if value.is_empty() && !["dish", "base", "part"].contains(&name.trim()) {
            self.out[at] = true;
        } else {
            let space =
                if rest.starts_with(char::is_whitespace) || rest.is_empty() { " " } else { "" };
            self.lines[at] = format!("{name}:{space}{value}");
        }
    }

    /// After the last head of the dish, before its first part or step.
    fn add_head(&mut self, name: &str, value: &str) {
        let value = one_line(value);
        if value.is_empty() {
            return;
        }
        let top =
            self.kinds.iter().take_while(|kind| matches!(kind, LineKind::Head | LineKind::Blank));
        let last = top.enumerate().filter(|(_, kind)| **kind == LineKind::Head).last();
        let line = format!("{name}: {value}");
        match last {
            Some((at, _)) => self.after[at].push(line),
            None => self.before[0].push(line),
        }
    }

    /// A numbered step at the end of the part that begins at `part`; 0 for a card without parts.
    fn add_step(&mut self, part: usize) {
        let steps = self.reading.card.parts.iter().find(|it| it.line == part);
        let last = steps.and_then(|part| part.steps.last());
        let number = last.map_or(1, |step| step.number + 1);
        let line = if self.is_numbered() { format!("{number}. ") } else { "[8 min]".to_owned() };
        let at = match last {
            Some(step) => self.end(step.line),
            None => part.checked_sub(1).or(Some(self.lines.len() - 1)),
        };
        if let Some(at) = at.filter(|&at| at < self.after.len()) {
            self.after[at].push(line);
        }
    }

    fn move_up(&mut self, step: usize) {
        let mut parts = self.reading.card.parts.iter();
        let pair = parts.find_map(|part| {
            let at = part.steps.iter().position(|it| it.line == step)?;
            Some((part.steps.get(at.checked_sub(1)?)?, &part.steps[at]))
        });
        let Some((above, below)) = pair else { return };
        let (above_lines, below_lines) = (self.block(above.line), self.block(below.line));
        // A reference by number must go on meaning the same step, so that then numbers move along.
        if self.reading.card.steps().all(|(_, step)| step.after.is_empty()) {
            self.renumber(above.line, below.number);
            self.renumber(below.line, above.number);
        }
        let Some(start) = self.order.iter().position(|&at| at == above_lines[0]) else { return };
        let between: Vec<_> =
            (above_lines[0]..below_lines[0]).filter(|at| !above_lines.contains(at)).collect();
        let new: Vec<_> = below_lines.into_iter().chain(between).chain(above_lines).collect();
        self.order.splice(start..start + new.len(), new);
    }

    fn renumber(&mut self, step: usize, number: u32) {
        let line = &mut self.lines[step - 1];
        if step_number(line.trim_start()).is_some() {
            let start = indent(line).len();
            let digits = line[start..].bytes().take_while(u8::is_ascii_digit).count();
            line.replace_range(start..start + digits, &number.to_string());
        }
    }

    fn add_part(&mut self, name: &str) {
        let name = one_line(name);
        if name.is_empty() {
            return;
        }
        let finish = self.reading.card.parts.iter().find(|part| part.is_finish && part.line > 0);
        let number = if self.is_numbered() || self.reading.card.steps().next().is_none() {
            "1. "
        } else {
            ""
        };
        let new = vec![format!("part: {name}"), number.to_owned(), String::new()];
        match finish {
            Some(part) => self.before[part.line - 1].extend(new),
            None => {
                let last = self.lines.len() - 1;
                self.after[last].extend(std::iter::once(String::new()).chain(new));
            }
        }
    }

    fn is_numbered(&self) -> bool {
        self.lines.iter().any(|line| step_number(line.trim_start()).is_some())
    }
}

/// Which of the old brackets stay as typed, and which of the new ones are still to be written.
fn matched(
    old: &[String],
    new: usize,
    same: impl Fn(&str, usize) -> bool,
) -> (Vec<bool>, VecDeque<usize>) {
    let mut fresh: VecDeque<usize> = (0..new).collect();
    let stays = |inside: &String| {
        let place = fresh.iter().position(|&at| same(inside, at));
        place.and_then(|place| fresh.remove(place)).is_some()
    };
    let kept = old.iter().map(stays).collect();
    (kept, fresh)
}

/// Words as they may stand on one line.
fn one_line(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn indent(line: &str) -> &str {
    &line[..line.len() - line.trim_start().len()]
}

/// What stands before the words of a step: its indent and number.
fn lead(line: &str) -> &str {
    let words = line.trim_start();
    match step_number(words) {
        Some((_, rest)) => &line[..line.len() - rest.len()],
        None => indent(line),
    }
}

fn joined(words: &str, notes: &[String]) -> String {
    let all: Vec<_> = std::iter::once(words)
        .filter(|words| !words.is_empty())
        .chain(notes.iter().map(String::as_str))
        .collect();
    all.join(" ")
}

fn notes_of(line: &str) -> Vec<String> {
    let pieces = pieces(line);
    pieces.iter().filter(|piece| piece.0).map(|(_, raw, _)| (*raw).to_owned()).collect()
}

/// The line cut at brackets: whether it is one, as typed, and what stands inside.
fn pieces(line: &str) -> Vec<(bool, &str, &str)> {
    let mut found = Vec::new();
    let mut rest = line;
    while let Some(open) = rest.find('[') {
        let Some(length) = rest[open..].find(']') else { break };
        let (words, note) = (&rest[..open], &rest[open..=open + length]);
        found.push((false, words, words));
        found.push((true, note, note[1..length].trim()));
        rest = &rest[open + length + 1..];
    }
    found.push((false, rest, rest));
    found
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::super::step::{Hands, Place as At, Stop};
    use super::*;
    use crate::domain::larder::Larder;

    const CARD: &str = "dish: Bowl\nfor:  6\n\npart: barley\n1. Boil [soft]  it. [4 min] [hob 30 min]\n   + 300 g  barley\n\n2. Drain. [8 Min]\n  and wash. [stop fridge 2 days]\nfinish:\n1. Eat.\n";

    fn changed(text: &str, edits: &[Edit]) -> String {
        change(text, &read(text, &Larder::default()), edits)
    }

    /// Only the line (counted from 1) that holds `was` may change, and only there.
    fn check(edit: Edit, was: &str, now: &str) {
        assert_eq!(CARD.matches(was).count(), 1, "{was}");
        assert_eq!(changed(CARD, &[edit]), CARD.replace(was, now));
    }

    fn hands(minutes: u32) -> Vec<Note> {
        vec![Note::Hands(Hands { minutes, scales: true })]
    }

    #[test]
    fn only_the_words_concerned_change() {
        let notes = |step, kind, notes| Edit::Notes { step, kind, notes };
        check(notes(5, NoteKind::Hands, hands(5)), "[4 min]", "[5 min]");
        check(notes(5, NoteKind::Hands, Vec::new()), " [4 min]", "");
        check(notes(8, NoteKind::Hands, hands(8)), "[8 Min]", "[8 Min]");
        check(notes(11, NoteKind::Hands, hands(2)), "Eat.", "Eat. [2 min]");
        let stop = Stop {
            place: At::Fridge,
            most_minutes: 1_440,
            by: None,
            because: None,
            from_freezer: None,
        };
        let stops = notes(8, NoteKind::Stop, vec![Note::Stop(stop)]);
        check(stops, "[stop fridge 2 days]", "[stop fridge 1 day]");
        let kept = Edit::Kept { step: 5, words: vec!["al dente".to_owned()] };
        check(kept, "[soft]", "[al dente]");
        let line = |words: &str| Edit::GoesIn { line: 6, words: words.to_owned() };
        check(line("320 g barley"), "+ 300 g  barley", "+ 320 g barley");
        check(line(""), "   + 300 g  barley\n", "");
        check(line("300 g barley"), "+ 300 g  barley", "+ 300 g  barley");
        let head = |value: &str| Edit::Head { line: 2, value: value.to_owned() };
        check(head("8"), "for:  6", "for: 8");
        check(head("6"), "for:  6", "for:  6");
        check(head(""), "for:  6\n", "");
    }

    #[test]
    fn a_new_sentence_keeps_the_notes_of_all_its_lines() {
        let sentence = |step, words: &str| Edit::Sentence { step, words: words.to_owned() };
        check(sentence(5, "Boil it."), "Boil [soft]  it.", "Boil [soft]  it.");
        check(sentence(5, "Simmer."), "Boil [soft]  it. [4 min]", "Simmer. [soft] [4 min]");
        check(
            sentence(8, "Drain well."),
            "2. Drain. [8 Min]\n  and wash. [stop",
            "2. Drain well. [8 Min]\n  [stop",
        );
    }

    #[test]
    fn steps_parts_and_heads_come_and_go() {
        let line = Edit::AddGoesIn { step: 8, words: "salt".to_owned() };
        check(line, "2 days]\n", "2 days]\n   + salt\n");
        check(Edit::AddStep { part: 4 }, "2 days]\n", "2 days]\n3. \n");
        check(
            Edit::TakeOut { step: 8 },
            "2. Drain. [8 Min]\n  and wash. [stop fridge 2 days]\n",
            "",
        );
        let part = Edit::AddPart { name: "crumb".to_owned() };
        check(part, "finish:", "part: crumb\n1. \n\nfinish:");
        let head = Edit::AddHead { name: "course", value: "main".to_owned() };
        check(head, "for:  6\n", "for:  6\ncourse: main\n");
        let moved = changed(CARD, &[Edit::MoveUp { step: 8 }]);
        let steps: Vec<_> = moved.lines().skip(4).take(5).collect();
        assert_eq!(
            steps,
            [
                "1. Drain. [8 Min]",
                "  and wash. [stop fridge 2 days]",
                "",
                "2. Boil [soft]  it. [4 min] [hob 30 min]",
                "   + 300 g  barley",
            ]
        );
        assert_eq!(changed(CARD, &[Edit::MoveUp { step: 5 }]), CARD, "the first stays first");
    }

    #[test]
    fn a_plain_card_stays_plain() {
        let plain = "Soup\n300 g lentils\nBoil the lentils.\n";
        let edit = Edit::Notes { step: 3, kind: NoteKind::Hands, notes: hands(5) };
        assert_eq!(changed(plain, &[edit]), plain.replace("lentils.", "lentils. [5 min]"));
        let edit = Edit::GoesIn { line: 2, words: "400 g lentils".to_owned() };
        assert_eq!(changed(plain, &[edit]), plain.replace("300", "400"));
    }

    #[test]
    fn the_words_of_a_remark_are_put_in_and_answer_it() {
        let table = [
            (
                "1. Bake. [oven 200C 40 min] [at 60 min: stir]",
                "1. Bake. [oven 200C 40 min] [at 20 min: stir]",
            ),
            ("1. Freeze. [stop freezer 30 days]", "1. Freeze. [stop freezer 30 days, thaw 24 h]"),
            ("1. Rest. [rest 40 min to 15 min]", "1. Rest. [rest 15 min to 40 min]"),
            ("1. Boil.\n + 60-40 g rice", "1. Boil.\n + 40-60 g rice"),
        ];
        for (was, now) in table {
            let text = format!("dish: Bowl\n{was}\n");
            let reading = read(&text, &Larder::default());
            let remark = reading.remarks.iter().find(|remark| remark.write.is_some()).unwrap();
            let put = put_in(&text, &reading, remark).unwrap();
            assert_eq!(put, format!("dish: Bowl\n{now}\n"));
            let again = read(&put, &Larder::default());
            assert!(!again.remarks.contains(remark), "{put}");
        }
    }
}
