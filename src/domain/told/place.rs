//! Which dish each sentence belongs to: the one it names, else the one being spoken of.

use std::ops::Range;

use super::dish::{self, Named, fold};
use super::name;
use crate::domain::spoken;

/// The sentences, parted where a dish is left for another, and the dish of each.
pub struct Placed {
    pub sentences: Vec<Range<usize>>,
    /// One a sentence; none is not placed.
    pub homes: Vec<Option<usize>>,
}

/// Gives every sentence one dish, or none.
pub fn place(
    text: &str,
    sentences: &[Range<usize>],
    dishes: &[Named],
    has_amounts: impl Fn(&Range<usize>) -> bool,
) -> Placed {
    let mut placed = Placed { sentences: Vec::new(), homes: Vec::new() };
    let mut current: Option<usize> = None;
    for (index, whole) in sentences.iter().enumerate() {
        let named: Vec<usize> =
            (0..dishes.len()).filter(|dish| dishes[*dish].sentence == index).collect();
        for bytes in parted(text, whole, dishes) {
            let folded = fold(&text[bytes.clone()]);
            let begun = &placed.homes;
            let speech = Speech { folded: &folded, dishes, begun, current };
            let home = match named.as_slice() {
                [] => speech.home(),
                [only] => speech.strong().or(Some(*only)),
                // A list of dishes belongs to none of them.
                _ if !has_amounts(&bytes) => {
                    current = None;
                    None
                }
                _ => speech.home().or(Some(named[0])),
            };
            let is_list = named.len() > 1 && home.is_none();
            let home = if home.is_none() && !is_list && is_talk(&folded) && !has_amounts(&bytes) {
                None
            } else {
                let first = || (current.is_none() && has_amounts(&bytes)).then_some(0);
                let home = home.or_else(first).filter(|it| *it < dishes.len());
                current = home.or(current);
                home
            };
            placed.sentences.push(bytes);
            placed.homes.push(home);
        }
    }
    placed
}

/// `..., and for the salad you whisk`: a sentence that leaves one dish for another is two.
fn parted(text: &str, bytes: &Range<usize>, dishes: &[Named]) -> Vec<Range<usize>> {
    const JOINS: &[&str] = &[
        ", and for the ",
        ", then for the ",
        " and for the ",
        " then for the ",
        ", then the ",
        ", and the ",
        ", now the ",
        ", meanwhile the ",
        " and then the ",
        ", for the ",
        " and meanwhile the ",
        ", and then for the ",
    ];
    let folded = fold(&text[bytes.clone()]);
    let mut cuts: Vec<usize> = Vec::new();
    for join in JOINS {
        for (at, _) in folded.match_indices(join) {
            let behind: Vec<&str> = folded[at + join.len()..].split(' ').take(3).collect();
            let of = |words: &[&str]| {
                dishes.iter().position(|dish| words.iter().any(|it| is_called(it, &dish.head)))
            };
            let before: Vec<&str> = folded[..at].split(' ').collect();
            if let Some(next) = of(&behind)
                && of(&before) != Some(next)
                && at > 12
            {
                cuts.push(at + usize::from(join.starts_with(',')));
            }
        }
    }
    cuts.sort_unstable();
    cuts.dedup_by(|later, earlier| *later < *earlier + 12);
    let mut found = Vec::new();
    let mut start = bytes.start;
    for cut in cuts.into_iter().map(|it| it + bytes.start).chain([bytes.end]) {
        let inside = &text[start..cut];
        let from = start + inside.len() - inside.trim_start().len();
        if !inside.trim().is_empty() {
            found.push(from..from + inside.trim().len());
        }
        start = cut;
    }
    found
}

/// `soups.` is a soup.
fn is_called(word: &str, head: &str) -> bool {
    let word = word.trim_matches(|c: char| !c.is_alphanumeric());
    let word = word.strip_suffix("'s").or_else(|| word.strip_suffix("’s")).unwrap_or(word);
    word == head || one(word) == one(head)
}

fn one(word: &str) -> &str {
    word.strip_suffix('s').unwrap_or(word)
}

/// Words to the listeners, about no dish.
fn is_talk(folded: &str) -> bool {
    const TALK: &[&str] = &[
        "any questions",
        "thank",
        "welcome",
        "hello",
        "good evening",
        "good morning",
        "hi everyone",
        "hi all",
        "enjoy",
        "whole menu",
        "whole meal",
        "that's everything",
        "that's it",
        "that's all",
        "that's lunch",
        "that's dinner",
        "that's supper",
        "that's your",
        "good luck",
        "see you",
        "that's the lot",
        "okay so that",
        "bye",
        "there you go",
    ];
    TALK.iter().any(|it| folded.contains(it))
}

/// One sentence against the dishes.
struct Speech<'a> {
    folded: &'a str,
    dishes: &'a [Named],
    /// The dishes of the sentences before.
    begun: &'a [Option<usize>],
    current: Option<usize>,
}

/// A dish named in the sentence.
struct Mention {
    dish: usize,
    at: usize,
    /// Only beside what is done: `serve it with the bread`.
    is_beside: bool,
    /// In `while the bread is in the oven`.
    is_meanwhile: bool,
}

impl Speech<'_> {
    fn home(&self) -> Option<usize> {
        if let Some(strong) = self.strong() {
            return Some(strong);
        }
        let mentions = self.mentions();
        let behind = mentions.iter().find(|it| it.is_meanwhile).map(|it| it.dish);
        let left = behind.or_else(|| self.leaves().then_some(self.current).flatten());
        if is_talk(self.folded) && mentions.is_empty() {
            return None;
        }
        // `Next toss two pounds of carrots`: a turn to the carrots that nobody has spoken of yet.
        let is_turn = ["next", "last", "finally"].iter().any(|it| {
            self.folded.strip_prefix(it).is_some_and(|rest| rest.starts_with([' ', ',']))
        });
        if is_turn
            && let Some(dish) = self.by_words(self.current)
            && !self.begun.contains(&Some(dish))
        {
            return Some(dish);
        }
        // While one dish is in the oven, another is worked on, if anything says which.
        if left.is_some() && left == self.current || self.current.is_none() {
            return self.by_words(left).or(self.current);
        }
        self.current
    }

    /// The dish that the sentence is about by its own words.
    fn strong(&self) -> Option<usize> {
        let mentions = self.mentions();
        let plain = mentions.iter().filter(|it| !it.is_beside && !it.is_meanwhile);
        plain.min_by_key(|it| it.at).map(|it| it.dish)
    }

    /// `while that is in the oven`, `meanwhile`.
    fn leaves(&self) -> bool {
        ["while that", "while it", "while they", "meanwhile", "in the meantime", "while those"]
            .iter()
            .any(|it| self.folded.contains(it))
    }

    fn mentions(&self) -> Vec<Mention> {
        const POINTERS: &[&str] =
            &["the", "that", "this", "your", "our", "my", "those", "these", "for"];
        let words = words_of(self.folded);
        let whiles = self.whiles();
        let mut found = Vec::new();
        for (place, (word, bytes)) in words.iter().enumerate() {
            if !self.dishes.iter().any(|dish| is_called(word, &dish.head)) {
                continue;
            }
            let from = place.saturating_sub(4);
            let near = &words[from..place];
            let pointer = near.iter().rposition(|it| POINTERS.contains(&it.0));
            let is_near = pointer.is_some_and(|it| {
                !self.folded[near[it].1.end..bytes.start].contains([',', '.', ':', '('])
            });
            let is_first = place <= 2 && self.opens(&words[..place]);
            if !(is_near || is_first) {
                continue;
            }
            let said: Vec<&str> =
                near[pointer.map_or(0, |it| it + 1)..].iter().map(|it| it.0).collect();
            let Some(dish) = self.called(word, &said) else { continue };
            let is_beside = pointer.is_some_and(|it| stands_beside(&words[..from + it]));
            let is_meanwhile = whiles.iter().any(|it| it.contains(&bytes.start));
            found.push(Mention { dish, at: bytes.start, is_beside, is_meanwhile });
        }
        found
    }

    /// Only fillers and words of a title stand before.
    fn opens(&self, before: &[(&str, Range<usize>)]) -> bool {
        const FILLERS: &[&str] = &[
            "so",
            "right",
            "now",
            "ok",
            "okay",
            "then",
            "and",
            "next",
            "first",
            "meanwhile",
            "back",
            "finally",
        ];
        before.iter().all(|(word, _)| {
            FILLERS.contains(word)
                || self.dishes.iter().any(|dish| dish.words.iter().any(|it| it == word))
        })
    }

    /// Of dishes with one head the one whose other words were said, else the one spoken of.
    fn called(&self, word: &str, said: &[&str]) -> Option<usize> {
        let same: Vec<usize> =
            (0..self.dishes.len()).filter(|it| is_called(word, &self.dishes[*it].head)).collect();
        if let [only] = same.as_slice() {
            // `the lemon tart` is not the onion tart: something else is meant.
            return Some(*only);
        }
        let count = |dish: usize| {
            let own = &self.dishes[dish].words;
            said.iter().filter(|it| own.iter().any(|word| word == *it)).count()
        };
        let best = same.iter().copied().max_by_key(|it| (count(*it), std::cmp::Reverse(*it)))?;
        if count(best) == 0 && self.current.is_some_and(|it| same.contains(&it)) {
            return self.current;
        }
        Some(best)
    }

    /// From each `while` to the comma, to who does something meanwhile, or to the end.
    fn whiles(&self) -> Vec<Range<usize>> {
        let mut found = Vec::new();
        for opening in ["while ", "whilst "] {
            for (at, _) in self.folded.match_indices(opening) {
                if self.folded[..at].ends_with(char::is_alphanumeric) {
                    continue;
                }
                // `while that is in the oven you warm the cabbage`: nobody spoke the comma.
                let ends =
                    [",", " you ", " we ", " i ", " you'll ", " we'll ", " i'll ", " let's "];
                let behind = at + opening.len();
                let rest = &self.folded[behind..];
                // Who is busy meanwhile stands right behind: `while you wait`.
                let own = rest.find(' ').unwrap_or(rest.len());
                let end = ends.iter().filter_map(|it| rest[own..].find(it)).min();
                found.push(at..end.map_or(self.folded.len(), |end| behind + own + end));
            }
        }
        found
    }

    /// The only dish but `left` whose title shares a word with the sentence.
    fn by_words(&self, left: Option<usize>) -> Option<usize> {
        let has = |word: &str| {
            self.folded
                .split(|c: char| !c.is_alphanumeric())
                .any(|it| one(it) == one(word) && it.len() > 2)
        };
        let mut hits = (0..self.dishes.len()).filter(|dish| {
            let own = self.dishes[*dish].words.iter();
            let own = own.filter(|it| !dish::is_joining(it) && it.len() > 3);
            Some(*dish) != left && own.clone().any(|it| has(it))
        });
        let first = hits.next()?;
        hits.next().is_none().then_some(first)
    }
}

fn words_of(folded: &str) -> Vec<(&str, Range<usize>)> {
    let mut words = Vec::new();
    let mut at = 0;
    while at < folded.len() {
        if let Some((word, bytes)) = name::word(folded, at) {
            at = bytes.end;
            words.push((word, bytes));
        } else {
            at += folded[at..].chars().next().map_or(1, char::len_utf8);
        }
    }
    words
}

/// `with the bread` speaks of something else; `start with the bread` does not.
fn stands_beside(before: &[(&str, Range<usize>)]) -> bool {
    const BESIDE: &str = "with alongside beside under above below as like before than until after";
    let last = |back: usize| before.iter().rev().nth(back).map_or("", |it| it.0);
    let is_begun = last(1).starts_with("start") || last(1).starts_with("beg") || last(1) == "on";
    BESIDE.split(' ').any(|it| it == last(0)) && !is_begun
}

/// `feeds six`, `enough for eight to ten`, `there are six of us`.
pub fn serves(folded: &str) -> Option<String> {
    const LEADS: &[&str] = &[
        "serves ",
        "serving ",
        "feeds ",
        "feeding ",
        "enough for ",
        "dinner for ",
        "lunch for ",
        "supper for ",
        "cooking for ",
        "there'll be ",
        "there are ",
        "there will be ",
        "this is for ",
        "does ",
    ];
    // `For six.`, and nothing else.
    let whole = folded.trim().trim_end_matches(['.', '!']);
    let of_all = whole.strip_prefix("for ").filter(|rest| {
        spoken::range(rest).is_some_and(|(low, high)| high.length.max(low.length) == rest.len())
    });
    if let Some(rest) = of_all {
        return serves(&format!("serves {rest}"));
    }
    for lead in LEADS {
        let Some(at) = folded.find(lead) else { continue };
        let mut rest = &folded[at + lead.len()..];
        for filler in ["about ", "roughly ", "a table of ", "around "] {
            rest = rest.strip_prefix(filler).unwrap_or(rest);
        }
        let Some((low, high)) = spoken::range(rest) else { continue };
        let (Some(one), Some(other)) = (low.whole(), high.whole()) else { continue };
        let behind = rest[high.length.max(low.length)..].trim_start();
        let of_people = ["of us", "people", "of you", "guests", "at the table", "persons", "with"]
            .iter()
            .any(|it| behind.starts_with(it));
        let is_end = behind.is_empty() || behind.starts_with(['.', ',', '!', ';']);
        let is_there = lead.starts_with("there");
        let is_meal = lead.ends_with("er for ") || lead.ends_with("ch for ");
        let is_end = is_end || is_meal && (behind.starts_with("and ") || behind.starts_with("- "));
        if low.is_article || other > 500 || !(of_people || is_end && !is_there) {
            continue;
        }
        return Some(if one == other { one.to_string() } else { format!("{one}-{other}") });
    }
    None
}
