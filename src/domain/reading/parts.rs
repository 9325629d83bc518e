//! The rest of a line behind its figures: food, preparation, alternatives, flags, purposes.

use std::ops::Range;

use super::words::{self, GARNISH, OPTIONAL, PURPOSES};
use super::{Alternative, IngredientLine, Marks, SpanKind, amounts, token};
use crate::domain::larder::Found;
use crate::domain::quantity::{Amount, Unit};
use num_rational::BigRational;

/// Where the content starts, behind bullets, tick boxes and list numbers.
pub(super) fn past_bullet(text: &str, marks: &mut Marks) -> usize {
    let mut at = text.len() - text.trim_start().len();
    let rest = &text[at..];
    let bullet = rest.chars().next().filter(|c| "-*•▢☐□–—·+".contains(*c));
    if let Some(sign) = bullet {
        at += sign.len_utf8();
    } else if let Some(boxed) = ["[ ]", "[x]", "[]"].iter().find(|it| rest.starts_with(**it)) {
        at += boxed.len();
    } else {
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        if digits > 0 && digits < 3 && rest[digits..].starts_with(')') {
            at += digits + 1;
        }
    }
    at += text[at..].len() - text[at..].trim_start().len();
    marks.mark(0..at, SpanKind::Between);
    at
}

/// `For the sauce:`, `TOPPING`: the name of a group; none for a line with a figure.
pub(super) fn heading(rest: &str) -> Option<String> {
    let rest = rest.trim();
    if rest.is_empty() || rest.chars().any(|c| c.is_numeric()) {
        return None;
    }
    let optional = rest.to_lowercase().starts_with("optional");
    if let Some(name) = rest.strip_suffix(':').filter(|_| !optional) {
        return Some(name.trim().to_owned());
    }
    let loud = rest.chars().all(|c| !c.is_lowercase())
        && rest.chars().filter(|c| c.is_alphabetic()).count() > 3;
    loud.then(|| rest.to_owned())
}

/// `Optional: 1/4 cup seeds`.
pub(super) fn past_optional(
    text: &str,
    start: usize,
    line: &mut IngredientLine,
    marks: &mut Marks,
) -> usize {
    let Some(opening) = text.get(start..start + 9) else { return start };
    if !opening.eq_ignore_ascii_case("optional:") {
        return start;
    }
    line.is_optional = true;
    marks.mark(start..start + 9, SpanKind::Flag);
    start + 9
}

/// A run of bytes between brackets or commas.
struct Piece {
    bytes: Range<usize>,
    in_brackets: bool,
}

/// Reads everything from byte `start` into `line`.
pub(super) fn read(text: &str, start: usize, line: &mut IngredientLine, marks: &mut Marks) {
    let mut pieces = pieces(text, start);
    let mut preparations = Vec::new();
    let mut name = take_name(text, &mut pieces);
    for piece in pieces {
        aside(text, &piece, line, marks, &mut preparations);
    }
    if let Some(bytes) = name.take() {
        read_name(text, bytes, line, marks, &mut preparations);
    }
    if line.amount.is_none() && line.unit.is_none() {
        figures_behind(line, &mut preparations);
    }
    line.preparation = preparations.join(", ");
}

/// Cuts at commas outside brackets, and at brackets.
fn pieces(text: &str, start: usize) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut from = start;
    let mut depth = 0_usize;
    let mut push = |range: Range<usize>, in_brackets: bool| {
        let inside = &text[range.clone()];
        let left = range.start + (inside.len() - inside.trim_start().len());
        let right = left + inside.trim().len();
        if right > left {
            found.push(Piece { bytes: left..right, in_brackets });
        }
    };
    for (at, sign) in text[start..].char_indices() {
        let at = start + at;
        match sign {
            '(' => {
                if depth == 0 {
                    push(from..at, false);
                    from = at + 1;
                }
                depth += 1;
            }
            ')' if depth > 0 => {
                depth -= 1;
                if depth == 0 {
                    push(from..at, true);
                    from = at + 1;
                }
            }
            ',' | ';' if depth == 0 => {
                push(from..at, false);
                from = at + 1;
            }
            _ => {}
        }
    }
    push(from..text.len(), depth > 0);
    found
}

/// The first run outside brackets; `boneless, skinless thighs` and lists that share a head noun
/// (`red, white or black beans`) are joined to it.
fn take_name(text: &str, pieces: &mut Vec<Piece>) -> Option<Range<usize>> {
    let first = pieces.iter().position(|piece| !piece.in_brackets)?;
    let mut bytes = pieces.remove(first).bytes;
    while first < pieces.len() && !pieces[first].in_brackets {
        // `biscuits, egg-free` are bought as such: it is no work of the cook's.
        let next = &text[pieces[first].bytes.clone()];
        if next.ends_with("-free") && !next.contains(' ') {
            bytes.end = pieces.remove(first).bytes.end;
            continue;
        }
        let only_describes =
            text[bytes.clone()].split_whitespace().all(|word| is_describing(&word.to_lowercase()));
        if !only_describes {
            break;
        }
        bytes.end = pieces.remove(first).bytes.end;
    }
    Some(bytes)
}

fn is_describing(word: &str) -> bool {
    words::is_size(word)
        || words::is_preparation(word)
        || words::is_manner(word)
        || matches!(
            word,
            "boneless" | "skinless" | "unsalted" | "skin-on" | "bone-in" | "ripe" | "firm"
        )
}

/// One piece that is not the name.
fn aside(
    text: &str,
    piece: &Piece,
    line: &mut IngredientLine,
    marks: &mut Marks,
    preparations: &mut Vec<String>,
) {
    let words = &text[piece.bytes.clone()];
    let folded = words.to_lowercase();
    let bytes = piece.bytes.clone();
    if GARNISH.iter().any(|it| folded == *it) {
        line.is_garnish = true;
        marks.mark(bytes, SpanKind::Flag);
    } else if OPTIONAL.iter().any(|it| folded == *it) {
        line.is_optional = true;
        marks.mark(bytes, SpanKind::Flag);
    } else if PURPOSES.iter().any(|it| folded.starts_with(it)) || folded == "divided" {
        add_words(&mut line.purpose, words);
        marks.mark(bytes, SpanKind::Purpose);
    } else if folded.starts_with("plus ") {
        let tokens = token::tokens(&words[5..]);
        line.plus.extend(amounts::lone(&tokens).map(|(amount, _)| amount));
        add_words(&mut line.purpose, words);
        marks.mark(bytes, SpanKind::Plus);
    } else if let Some(other) = folded.starts_with("or ").then(|| &words[3..]) {
        alternative(other, line);
        marks.mark(bytes, SpanKind::Alternative);
    } else if let Some((amount, used)) =
        whole_amount(words).filter(|_| is_weight_note(&folded, piece))
    {
        let _ = used;
        if piece.in_brackets {
            line.equivalents.push(amount.clone());
        }
        line.about = Some(amount);
        marks.mark(bytes, SpanKind::Equivalent);
    } else {
        preparations.push(words.to_owned());
        marks.mark(bytes, SpanKind::Preparation);
    }
}

fn is_weight_note(folded: &str, piece: &Piece) -> bool {
    piece.in_brackets
        || ["about ", "approx", "roughly ", "around "].iter().any(|it| folded.starts_with(it))
}

fn whole_amount(words: &str) -> Option<(Amount, usize)> {
    let tokens = token::tokens(words);
    amounts::lone(&tokens).filter(|(_, used)| *used == tokens.len())
}

fn add_words(to: &mut String, words: &str) {
    if !to.is_empty() {
        to.push_str(", ");
    }
    to.push_str(words);
}

/// The food with its alternatives, its leading preparation and its trailing purpose.
fn read_name(
    text: &str,
    bytes: Range<usize>,
    line: &mut IngredientLine,
    marks: &mut Marks,
    preparations: &mut Vec<String>,
) {
    marks.mark(bytes.clone(), SpanKind::Food);
    let mut name = &text[bytes.clone()];
    let at = |part: &str| {
        let from = part.as_ptr() as usize - text.as_ptr() as usize;
        from..from + part.len()
    };
    if let Some(cut) = purpose_start(name) {
        add_words(&mut line.purpose, name[cut..].trim());
        marks.mark(at(&name[cut..]), SpanKind::Purpose);
        let folded = name[cut..].trim().to_lowercase();
        line.is_garnish |= GARNISH.iter().any(|it| folded == *it);
        name = name[..cut].trim_end();
    }
    let mut others = name.split(" or ");
    let first = others.next().unwrap_or_default();
    let others: Vec<&str> = others.collect();
    for other in &others {
        marks.mark(at(other), SpanKind::Alternative);
    }
    let (before, food) = leading_preparation(first);
    if !before.is_empty() {
        marks.mark(at(before), SpanKind::Preparation);
        preparations.insert(0, before.to_owned());
    }
    let food = part_of_fruit(food, line, preparations);
    line.name = trailing_count(food, line).trim().trim_end_matches('.').to_owned();
    line.name = shared_head(&line.name, &others);
    line.food = food_of(&line.name);
    for (place, other) in others.iter().enumerate() {
        alternative(&shared_head(other, &others[place + 1..]), line);
    }
}

/// `to taste`, `for frying`: where a purpose starts inside the name.
fn purpose_start(name: &str) -> Option<usize> {
    let folded = name.to_lowercase();
    let words = PURPOSES.iter().chain(&GARNISH);
    words
        .filter_map(|it| folded.find(&format!(" {it}")))
        .min()
        .filter(|at| name.is_char_boundary(*at))
}

/// `finely chopped red onion`: the adverbs and participles, then the food.
fn leading_preparation(name: &str) -> (&str, &str) {
    let mut end = 0;
    for word in name.split_inclusive(' ') {
        let plain = word.trim().to_lowercase();
        let goes_on =
            words::is_preparation(&plain) || words::is_manner(&plain) || plain == "and" && end > 0;
        if !goes_on || end + word.len() >= name.len() {
            break;
        }
        end += word.len();
    }
    let (before, food) = name.split_at(end);
    let hot_drink =
        matches!(before.trim(), "hot" | "cold" | "warm" | "boiling" | "freshly" | "well");
    if hot_drink && !food.starts_with("water") { ("", name) } else { (before.trim(), food) }
}

/// `juice of 2 limes`, `zest and juice of 1 lemon`.
fn part_of_fruit<'a>(
    name: &'a str,
    line: &mut IngredientLine,
    preparations: &mut Vec<String>,
) -> &'a str {
    let folded = name.to_lowercase();
    let opens = ["juice of ", "zest of ", "zest and juice of ", "juice and zest of "];
    let Some(opening) = opens.iter().find(|it| folded.starts_with(**it)) else { return name };
    let rest = &name[opening.len()..];
    let tokens = token::tokens(rest);
    let mut unread = Marks::none();
    let figures = amounts::read(&tokens, &mut unread);
    let Some(food) = tokens.get(figures.next) else { return name };
    if line.amount.is_none() {
        line.amount = figures.amount;
        line.unit = figures.unit;
    }
    preparations.insert(0, opening.trim_end_matches(" of ").to_owned());
    &rest[food.bytes.start..]
}

/// `3 garlic cloves`: the last word is the unit.
fn trailing_count<'a>(name: &'a str, line: &mut IngredientLine) -> &'a str {
    let Some((food, last)) = name.rsplit_once(' ') else { return name };
    let is_spice = matches!(food, "bay" | "cinnamon" | "curry" | "lime" | "tea");
    match words::trailing_unit(&last.to_lowercase()) {
        Some(unit) if line.is_counted() && !is_spice => {
            let figure = |amount: &Amount| {
                Amount::between(amount.low().clone(), amount.high().clone(), unit)
            };
            line.amount = line.amount.as_ref().map(figure);
            line.unit = Some(unit);
            food
        }
        _ => name,
    }
}

/// The name as a shopper says it: singular, lower case, without words that do not matter.
fn food_of(name: &str) -> String {
    let folded = name.to_lowercase();
    let kept: Vec<&str> =
        folded.split_whitespace().filter(|word| !words::is_no_matter(word)).collect();
    let Some((last, before)) = kept.split_last() else { return folded };
    let one = words::singular(last);
    if before.is_empty() { one } else { format!("{} {one}", before.join(" ")) }
}

/// `red or white onion`: a first food that is a describing word alone takes the head of the next.
fn shared_head(first: &str, others: &[&str]) -> String {
    let lone = first.trim();
    let describes = words::DESCRIBING.contains(&lone.to_lowercase().as_str());
    let head = others.last().and_then(|other| other.trim().rsplit_once(' ')).map(|(_, head)| head);
    match head {
        Some(head) if describes => format!("{lone} {head}"),
        _ => lone.to_owned(),
    }
}

fn alternative(words: &str, line: &mut IngredientLine) {
    let tokens = token::tokens(words);
    let mut unread = Marks::none();
    let figures = amounts::read(&tokens, &mut unread);
    let Some(start) = tokens.get(figures.next) else { return };
    let name = words[start.bytes.start..].trim();
    let folded = name.to_lowercase();
    if matches!(folded.as_str(), "more" | "to taste" | "less" | "so") {
        return;
    }
    let (_, food) = leading_preparation(name);
    line.alternatives.push(Alternative {
        name: food.trim().to_owned(),
        food: food_of(food.trim()),
        amount: figures.amount,
        found: Found::Unknown,
    });
}

/// `Unsalted butter, 3 tbsp, melted`: the figure stands behind.
fn figures_behind(line: &mut IngredientLine, preparations: &mut Vec<String>) {
    let place = preparations.iter().position(|words| whole_amount(words).is_some());
    if let Some(place) = place
        && let Some((amount, _)) = whole_amount(&preparations.remove(place))
    {
        line.unit = Some(amount.unit());
        line.amount = Some(amount);
    } else if let Some((name, behind)) = line.name.clone().rsplit_once(" - ")
        && let Some((amount, _)) = whole_amount(behind)
    {
        line.name = name.to_owned();
        line.food = food_of(name);
        line.unit = Some(amount.unit());
        line.amount = Some(amount);
    }
    let one = BigRational::from_integer(1.into());
    let bare = line.amount.is_none() && line.unit.is_some_and(|unit| unit != Unit::Each);
    if bare && line.name.is_empty() {
        line.amount = line.unit.map(|unit| Amount::of(one, unit));
    }
}
