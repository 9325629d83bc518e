//! The name of a food inside a sentence, and where it ends.

use std::ops::Range;

use super::words;
use crate::domain::larder::Larder;
use crate::domain::spoken;

/// Longer runs of words are no name of a food.
const WORDS_MAX: usize = 8;

/// A food as it was said.
#[derive(Clone, Debug)]
pub struct Name {
    /// With what is done to it: `onions, finely chopped`.
    pub words: String,
    /// The last word of the food itself.
    pub last: String,
    pub end: usize,
    /// The larder has a food of this name, or of its last words.
    pub is_known: bool,
}

/// The word at or behind `at`, if only spaces or a hyphen stand between.
pub fn word(folded: &str, at: usize) -> Option<(&str, Range<usize>)> {
    let rest = folded.get(at..)?;
    let behind = rest.trim_start_matches([' ', '-']);
    let start = at + rest.len() - behind.len();
    let mut end = 0;
    let mut signs = behind.char_indices().peekable();
    while let Some((at, sign)) = signs.next() {
        let next_is_letter = signs.peek().is_some_and(|(_, next)| next.is_alphabetic());
        let joins = matches!(sign, '-' | '\'' | '’') && at > 0 && next_is_letter;
        if !(sign.is_alphabetic() || joins) {
            break;
        }
        end = at + sign.len_utf8();
    }
    (end > 0).then(|| (&behind[..end], start..start + end))
}

/// Reads a name that begins at or behind `at`.
pub fn read(folded: &str, raw: &str, at: usize, larder: &Larder) -> Option<Name> {
    let mut run = run(folded, at);
    // `chicken thighs fried`: what stands behind the food and is no work on it ends the name.
    let is_whole = |run: &[(String, Range<usize>)]| {
        let words: Vec<&str> = run.iter().map(|it| it.0.as_str()).collect();
        known_end(&words, larder)
    };
    while let Some((last, _)) = run.last()
        && run.len() > 1
        && (is_stray(last) || words::is_order_too(last) && !is_whole(&run))
    {
        run.pop();
    }
    let (first, last) = (run.first()?.1.start, run.last()?.1.end);
    let is_food: Vec<&str> = run.iter().map(|it| it.0.as_str()).collect();
    let kept = food_words(&is_food);
    let last_word = (*kept.last()?).to_owned();
    let is_known = known(&kept, larder);
    let mut words = raw[first..last].split_whitespace().collect::<Vec<_>>().join(" ");
    let mut end = last;
    if let Some((other, behind)) = alternative(folded, end, &kept, larder) {
        words = format!("{words} or {other}");
        end = behind;
    }
    if let Some(behind) = work_behind(folded, end) {
        let said = raw[end..behind].trim_start_matches([',', ' ']);
        words = format!("{words}, {}", said.split_whitespace().collect::<Vec<_>>().join(" "));
        end = behind;
    }
    let is_food = last_word.len() > 1 && !words::is_no_food(&last_word);
    is_food.then_some(Name { words, last: last_word, end, is_known })
}

/// Words up to the first that ends a name.
fn run(folded: &str, at: usize) -> Vec<(String, Range<usize>)> {
    let mut found: Vec<(String, Range<usize>)> = Vec::new();
    let mut at = at;
    while let Some((word, bytes)) = word(folded, at) {
        let is_last_done = found.last().is_some_and(|it| words::is_done_to(&it.0));
        let next = || self::word(folded, bytes.end).map(|it| it.0).unwrap_or_default();
        let joins = word == "and" && is_last_done && words::is_done_to(next());
        let is_first = found.is_empty();
        let is_figure = !is_first && spoken::number(&folded[bytes.start..]).is_some();
        // `dairy-free spread` is bought as such.
        let is_spread = word == "spread"
            && found.last().is_some_and(|it| it.0.ends_with("-free") || it.0 == "vegan");
        let is_end = words::ends_name(word) && !joins && !is_spread;
        if is_end || is_figure || found.len() >= WORDS_MAX {
            break;
        }
        // A name does not go on behind an `-ing`: `an onion frying`.
        if !is_first && word.ends_with("ing") && !matches!(word, "dumpling" | "pudding" | "icing") {
            break;
        }
        if word == "of" && !found.is_empty() {
            break;
        }
        found.push((word.to_owned(), bytes.clone()));
        at = bytes.end;
    }
    found
}

/// Without what is done to the food, before and behind.
fn food_words<'a>(words: &[&'a str]) -> Vec<&'a str> {
    let mut kept: Vec<&str> = words.to_vec();
    while kept.len() > 1
        && kept.last().is_some_and(|it| words::is_done_to(it) || matches!(*it, "and"))
    {
        kept.pop();
    }
    kept
}

fn is_stray(word: &str) -> bool {
    let is_done = word.ends_with("ed") && word.len() > 4 && word != "aniseed" && word != "linseed";
    let is_seed = word.ends_with("seed") || word.ends_with("weed");
    is_done && !is_seed && !words::is_done_to(word)
        || matches!(word, "and" | "thing" | "stuff" | "bits" | "sort" | "kind" | "lot" | "ones")
}

/// The whole name, or its last words, or the plant before `cloves`, `sticks`.
fn known(words: &[&str], larder: &Larder) -> bool {
    let has = |words: &[&str]| {
        (0..words.len()).any(|from| {
            let name = words[from..].join(" ");
            larder.knows(&name) || larder.knows(&singular(&name))
        })
    };
    if has(words) {
        return true;
    }
    match words.split_last() {
        Some((last, plant)) => words::measure(last).is_some() && has(plant),
        None => false,
    }
}

/// The last words, two at least, are a name: `oat cream`.
fn known_end(words: &[&str], larder: &Larder) -> bool {
    let last = words.last().copied().unwrap_or_default();
    last == "cream"
        || (0..words.len().saturating_sub(1)).any(|from| larder.knows(&words[from..].join(" ")))
}

/// One form for many: enough for a name that the larder holds in both.
fn singular(name: &str) -> String {
    if let Some(stem) = name.strip_suffix("ies") {
        return format!("{stem}y");
    }
    for ending in ["oes", "shes", "ches", "ses", "xes"] {
        if let Some(stem) = name.strip_suffix(ending) {
            return format!("{stem}{}", &ending[..ending.len() - 2]);
        }
    }
    name.strip_suffix('s').unwrap_or(name).to_owned()
}

/// The word by which two names of one food are known as such: `plain flour` and `the flour`.
pub fn stem(name: &str) -> String {
    let name = name.split(',').next().unwrap_or_default().to_lowercase();
    let name = name.split(" or ").next().unwrap_or_default().trim().to_owned();
    let words: Vec<&str> = name.split_whitespace().collect();
    let kept = food_words(&words);
    singular(kept.last().copied().unwrap_or_default())
}

/// ` or sunflower oil`, if it is a food and no second thought.
fn alternative(
    folded: &str,
    at: usize,
    first: &[&str],
    larder: &Larder,
) -> Option<(String, usize)> {
    let ("or", bytes) = word(folded, at)? else { return None };
    let run = run(folded, bytes.end);
    if spoken::number(folded[bytes.end..].trim_start()).is_some() {
        return None;
    }
    let words: Vec<&str> = run.iter().map(|it| it.0.as_str()).collect();
    let words = food_words(&words);
    let end = run.get(words.len().checked_sub(1)?)?.1.end;
    // `red or white onions`: the first leans on the second.
    let leans = first.last().zip(words.last()).is_some_and(|(_, last)| {
        let whole = format!("{} {last}", first.join(" "));
        larder.knows(&whole) || larder.knows(&singular(&whole))
    });
    (known(&words, larder) || leans).then(|| (words.join(" "), end))
}

/// `, finely chopped`, `, softened and cubed`: only work, up to the next sign or turn.
fn work_behind(folded: &str, at: usize) -> Option<usize> {
    let rest = folded[at..].strip_prefix(',')?;
    let mut end = folded.len() - rest.len();
    let mut is_work = false;
    for _ in 0..6 {
        let Some((word, bytes)) = word(folded, end) else { break };
        let joins = word == "and" && is_work && {
            let next = self::word(folded, bytes.end).map(|it| it.0).unwrap_or_default();
            words::is_done_to(next)
        };
        if !(words::is_done_to(word) || joins) {
            break;
        }
        is_work = true;
        end = bytes.end;
    }
    let ends_done = folded[at..end].ends_with(['d', 'n', 't', 'm']);
    (is_work && ends_done).then_some(end)
}
