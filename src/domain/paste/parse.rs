//! The lines of a pasted recipe, sorted by their look and by what stands before them.

use super::{Group, Pasted, Piece};
use crate::domain::card::words::Cursor;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Section {
    /// Nothing has said yet what the lines are.
    Start,
    Ingredients,
    Method,
    Words,
}

/// Sorts plain text in any common shape. Every line that is not blank lands in one place.
pub fn parse(text: &str) -> Pasted {
    let lines: Vec<Piece> = text
        .lines()
        .zip(1..)
        .map(|(words, line)| Piece { line, words: words.trim().to_owned() })
        .collect();
    let is_headed = lines.iter().any(|piece| section(&piece.words) == Some(Section::Ingredients));
    let mut sorter = Sorter {
        pasted: Pasted::default(),
        section: Section::Start,
        is_headed,
        after_blank: true,
        last_food: lines.iter().rposition(|piece| is_food(&piece.words)),
    };
    for (index, piece) in lines.into_iter().enumerate() {
        if piece.words.is_empty() {
            sorter.after_blank = true;
            continue;
        }
        sorter.line(index, piece);
        sorter.after_blank = false;
    }
    let mut pasted = sorter.pasted;
    split_paragraph(&mut pasted.method);
    pasted
}

struct Sorter {
    pasted: Pasted,
    section: Section,
    /// A line says `Ingredients`, so lines before it are none.
    is_headed: bool,
    after_blank: bool,
    /// The last line that looks like food, by index.
    last_food: Option<usize>,
}

impl Sorter {
    fn line(&mut self, index: usize, piece: Piece) {
        if let Some(next) = section(&piece.words) {
            self.section = next;
            self.pasted.headings.push(piece);
            return;
        }
        if is_yield(&piece.words) {
            self.pasted.yields.push(piece);
            return;
        }
        if self.is_title(&piece.words) {
            self.pasted.title = Some(piece);
            return;
        }
        if is_about(&piece.words) {
            self.pasted.words.push(piece);
            return;
        }
        match self.section {
            Section::Words => self.pasted.words.push(piece),
            Section::Ingredients if !self.is_headed && self.is_method(index, &piece.words) => {
                self.section = Section::Method;
                self.method(piece);
            }
            Section::Ingredients => self.ingredient(piece),
            Section::Method => self.method(piece),
            Section::Start => self.start(index, piece),
        }
    }

    fn is_title(&self, words: &str) -> bool {
        self.pasted.title.is_none()
            && self.section == Section::Start
            && self.pasted.ingredients.is_empty()
            && self.pasted.method.is_empty()
            && words.chars().count() <= 80
            && !words.ends_with(['.', ':'])
            && !is_food(words)
            && number(words).is_none()
    }

    fn start(&mut self, index: usize, piece: Piece) {
        let has_food_ahead = self.last_food.is_some_and(|last| last >= index);
        if self.is_headed {
            self.pasted.words.push(piece);
        } else if number(&piece.words).is_some() && !is_food(&piece.words) {
            self.section = Section::Method;
            self.method(piece);
        } else if is_food(&piece.words) || is_group(&piece.words) && has_food_ahead {
            self.section = Section::Ingredients;
            self.ingredient(piece);
        } else if has_food_ahead {
            self.pasted.words.push(piece);
        } else {
            self.section = Section::Method;
            self.method(piece);
        }
    }

    /// Without a heading, the method begins at the first sentence or numbered line.
    fn is_method(&self, index: usize, words: &str) -> bool {
        if is_food(words) {
            return false;
        }
        let bare = bare(words);
        if number(words).is_some() {
            return true;
        }
        if is_group(words) {
            return self.last_food.is_none_or(|last| last < index);
        }
        let is_list = bare.len() < words.len();
        let is_long = bare.split_whitespace().count() > 8;
        let is_sentence = bare.ends_with(['.', '!']) || is_long;
        let apart = self.after_blank && self.last_food.is_none_or(|last| last < index);
        is_sentence || (apart && !is_list)
    }

    fn ingredient(&mut self, piece: Piece) {
        let groups = &mut self.pasted.ingredients;
        if is_group(&piece.words) {
            groups.push(Group { heading: Some(piece), lines: Vec::new() });
            return;
        }
        let words = bare(&piece.words).to_owned();
        push(groups, Piece { words, ..piece });
    }

    fn method(&mut self, piece: Piece) {
        let stripped = number(&piece.words).unwrap_or_else(|| bare(&piece.words));
        if stripped.is_empty() {
            // `Step 1` on a line of its own.
            self.pasted.headings.push(piece);
            return;
        }
        if is_group(stripped) {
            self.pasted.method.push(Group { heading: Some(piece), lines: Vec::new() });
            return;
        }
        if is_remark(stripped) && !self.pasted.method.is_empty() {
            self.pasted.words.push(piece);
            return;
        }
        let is_wrapped = !self.after_blank && stripped.starts_with(char::is_lowercase);
        let last = self.pasted.method.last_mut().and_then(|group| group.lines.last_mut());
        if let Some(last) = last.filter(|last| is_wrapped && !last.words.ends_with(['.', '!', ':']))
        {
            last.words = format!("{} {stripped}", last.words);
            return;
        }
        let words = stripped.to_owned();
        push(&mut self.pasted.method, Piece { line: piece.line, words });
    }
}

fn push(groups: &mut Vec<Group>, piece: Piece) {
    match groups.last_mut() {
        Some(group) => group.lines.push(piece),
        None => groups.push(Group { heading: None, lines: vec![piece] }),
    }
}

/// A whole method in one paragraph: each sentence is a step.
fn split_paragraph(method: &mut [Group]) {
    let [group] = method else { return };
    let [piece] = group.lines.as_slice() else { return };
    let sentences = sentences(&piece.words);
    if sentences.len() < 3 {
        return;
    }
    let line = piece.line;
    group.lines = sentences.into_iter().map(|words| Piece { line, words }).collect();
}

fn sentences(words: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut open = String::new();
    for word in words.split_whitespace() {
        let begins = word.starts_with(char::is_uppercase) && open.ends_with(['.', '!', '?']);
        if begins {
            found.push(std::mem::take(&mut open));
        }
        if !open.is_empty() {
            open.push(' ');
        }
        open.push_str(word);
    }
    found.extend((!open.is_empty()).then_some(open));
    found
}

fn section(words: &str) -> Option<Section> {
    let folded = words.trim_matches(['*', '#', '=', '-', ' ', ':']).to_lowercase();
    let among = |list: &[&str]| list.contains(&folded.as_str());
    if among(&["ingredients", "you need", "you will need", "what you need", "what goes in"]) {
        Some(Section::Ingredients)
    } else if among(&[
        "method",
        "directions",
        "instructions",
        "preparation",
        "steps",
        "procedure",
        "how to make it",
        "what to do",
    ]) {
        Some(Section::Method)
    } else if among(&["notes", "note", "tips", "tip", "nutrition", "storage"]) {
        Some(Section::Words)
    } else {
        None
    }
}

/// `Serves 4`, `Makes 12`, `Yield: 6 servings`.
fn is_yield(words: &str) -> bool {
    let folded = words.to_lowercase();
    let starts = ["serves", "servings", "serving", "yields", "yield", "makes", "feeds", "portions"];
    let rest = starts.iter().find_map(|start| folded.strip_prefix(start));
    let led = rest.is_some_and(|rest| {
        let rest = rest.trim_start_matches([':', ' ']);
        rest.starts_with(|c: char| c.is_ascii_digit() || "about".starts_with(c))
    });
    led && words.chars().count() <= 60
}

/// What a yield says of people.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ServesWords {
    /// `4-6`, as the head of a card takes it.
    pub figures: String,
    /// False when words are left over that the head does not hold.
    pub is_all: bool,
}

/// `Serves 4 to 6` is for 4-6 people; `Makes 12 buns` says nothing of people.
pub fn serves_words(words: &str) -> Option<ServesWords> {
    let mut cursor = Cursor::new(words);
    let of_people = cursor.any(&["serves", "servings", "serving", "feeds", "portions"]);
    let _ = of_people || cursor.any(&["yields", "yield", "makes"]);
    cursor.sign(&[':']);
    let about = cursor.any(&["about", "approximately"]);
    let low = cursor.whole().filter(|count| (1..=500).contains(count))?;
    let joined = cursor.joins() || cursor.word("or");
    let high = if joined { cursor.whole().filter(|it| (low..=500).contains(it))? } else { low };
    let named = cursor.any(&["people", "servings", "serving", "portions", "persons", "guests"]);
    if !(of_people || named || cursor.is_done() && !words.to_lowercase().contains("makes")) {
        return None;
    }
    let leftovers = cursor.any(&["with leftovers", "plus leftovers"]);
    let mut figures = if high > low { format!("{low}-{high}") } else { low.to_string() };
    if leftovers {
        figures.push_str(" with leftovers");
    }
    Some(ServesWords { figures, is_all: cursor.is_done() && !about })
}

/// `Prep time: 20 minutes` and the like: worth reading, and nothing to cook.
fn is_about(words: &str) -> bool {
    let Some((name, _)) = words.split_once(':') else { return false };
    let folded = name.trim().to_lowercase();
    let abouts = [
        "prep",
        "prep time",
        "preparation time",
        "cook time",
        "cooking time",
        "total time",
        "time",
        "active time",
        "difficulty",
        "cuisine",
        "category",
        "author",
        "by",
        "source",
        "course",
        "calories",
        "keywords",
        "note",
        "notes",
        "tip",
    ];
    abouts.contains(&folded.as_str())
}

/// Talk about the dish, after its method.
fn is_remark(words: &str) -> bool {
    let first = words.split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
    let talk =
        ["my", "i", "we", "our", "tip", "tips", "note", "notes", "source", "adapted", "enjoy"];
    talk.contains(&first.to_lowercase().as_str())
}

/// `For the sauce:`, `SAUCE`, `Sauce:`.
fn is_group(words: &str) -> bool {
    let words = words.trim_matches(['*', '#']).trim();
    let count = words.split_whitespace().count();
    let figure = words.starts_with(|c: char| c.is_numeric());
    if figure || count == 0 || count > 6 {
        return false;
    }
    let folded = words.to_lowercase();
    let is_for = ["for the ", "to serve", "to finish", "for serving"]
        .iter()
        .any(|start| folded.starts_with(start))
        && !words.contains([',', '.']);
    let letters = words.chars().filter(|c| c.is_alphabetic()).count();
    let is_capitals = letters >= 4 && !words.chars().any(char::is_lowercase);
    words.ends_with(':') || is_for || is_capitals
}

/// A figure or a bullet with a figure, followed by words that are no sentence.
fn is_food(words: &str) -> bool {
    if number(words).is_some() {
        return false;
    }
    let words = bare(words);
    let mut cursor = Cursor::new(words);
    if cursor.figure().is_none() || words.chars().count() > 120 {
        return false;
    }
    let is_time = Cursor::new(words).stretch().is_some() || Cursor::new(words).degrees().is_some();
    let is_sentence = words.ends_with('.') && words.split_whitespace().count() > 8;
    !is_time && !is_sentence && !cursor.is_done()
}

/// Without the bullet or box before it.
fn bare(words: &str) -> &str {
    let trimmed = words.trim_start_matches(['-', '*', '•', '·', '–', '▢', '☐', '□', '◦', '+']);
    if trimmed.len() < words.len() { trimmed.trim_start() } else { words }
}

/// What follows `3.`, `3)`, `Step 3:`.
fn number(words: &str) -> Option<&str> {
    let folded = words.to_ascii_lowercase();
    let said = folded.starts_with("step ");
    let rest = if said { words[5..].trim_start() } else { words };
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    if !(1..=2).contains(&digits) {
        return None;
    }
    let after = &rest[digits..];
    if said && after.is_empty() {
        return Some("");
    }
    let after = after.strip_prefix(['.', ')', ':'])?;
    let spaced = after.is_empty() || after.starts_with(|c: char| !c.is_ascii_digit());
    spaced.then(|| after.trim_start())
}
