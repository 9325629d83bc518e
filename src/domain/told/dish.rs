//! Which dishes a talk is about: how they are brought up, and the words they are known by.

use std::ops::Range;

use super::name;
use super::phrases::{self, COURSES, FILLERS, LISTS, MENU, NO_TITLE, SEQUENCE};
use super::words;
use crate::domain::larder::Larder;
use crate::domain::spoken;

/// More dishes than a menu has letters are no menu.
pub const DISHES_MAX: usize = 26;

/// A dish as it was brought up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// As said, without its article: `beetroot salad with horseradish`.
    pub title: String,
    /// Folded words of the title.
    pub words: Vec<String>,
    /// The noun it is called by: `salad`.
    pub head: String,
    pub course: Option<&'static str>,
    /// Sentence that first names it.
    pub sentence: usize,
    /// Bytes of that name in the talk.
    pub bytes: Range<usize>,
}

/// How a phrase brings up a dish.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lead {
    /// `we're making`: a list may follow, and any name counts.
    Menu,
    /// `for dessert`: a name with an article, or of a dish.
    Course(&'static str),
    /// `it's a`: a list may follow, of nouns that name dishes.
    List,
    /// `next is`, `for the`: one noun that names a dish.
    Dish,
}

/// Every dish of the talk, in the order it is brought up.
/// Besides them the bytes of all their names: no amount of a dish begins there.
pub fn dishes(
    text: &str,
    sentences: &[Range<usize>],
    larder: &Larder,
) -> (Vec<Named>, Vec<Range<usize>>) {
    let mut found: Vec<Named> = Vec::new();
    let mut names = Vec::new();
    let later = fold(text);
    for (index, bytes) in sentences.iter().enumerate() {
        if found.len() >= DISHES_MAX {
            break;
        }
        let folded = fold(&text[bytes.clone()]);
        let later = later.get(bytes.end..).unwrap_or_default();
        let raw = &text[bytes.clone()];
        let finder = Finder { folded: &folded, raw, later, larder, sentence: index };
        let mut named = finder.heading().into_iter().collect::<Vec<_>>();
        named.append(&mut finder.brought_up());
        for mut new in named {
            new.bytes = new.bytes.start + bytes.start..new.bytes.end + bytes.start;
            names.push(new.bytes.clone());
            join(new, &mut found);
        }
    }
    found.truncate(DISHES_MAX);
    (found, names)
}

/// Letters folded and white space made alike, byte for byte.
pub fn fold(text: &str) -> String {
    text.to_ascii_lowercase().replace(['\n', '\t', '\r'], " ")
}

/// The same dish by a shorter or longer name is one dish.
fn join(new: Named, found: &mut Vec<Named>) {
    let same = found.iter_mut().find(|old| {
        let within = |few: &[String], many: &[String]| few.iter().all(|it| many.contains(it));
        let is_like = old.head == new.head || new.words.contains(&old.head) && old.words.len() == 1;
        is_like && (within(&new.words, &old.words) || within(&old.words, &new.words))
    });
    match same {
        Some(old) => {
            if new.words.len() > old.words.len() {
                old.title = new.title;
                old.words = new.words;
                old.head = new.head;
            }
            old.course = old.course.or(new.course);
        }
        None => found.push(new),
    }
}

struct Finder<'a> {
    folded: &'a str,
    raw: &'a str,
    /// All that is said after this sentence, folded.
    later: &'a str,
    larder: &'a Larder,
    sentence: usize,
}

impl Finder<'_> {
    /// `Dal:` or `The plum cake.`, at the front of a sentence or all of it.
    fn heading(&self) -> Option<Named> {
        const FILLERS: &[&str] =
            &["right", "so", "ok", "okay", "now", "then", "and", "well", "the", "our", "a", "an"];
        const TURNS: &[&str] = &["first", "next", "up", "last", "finally", "lastly"];
        let mut at = 0;
        let (mut is_turned, mut has_article) = (false, false);
        while let Some((word, bytes)) = name::word(self.folded, at) {
            if !FILLERS.contains(&word) && !TURNS.contains(&word) {
                break;
            }
            is_turned |= TURNS.contains(&word);
            has_article |= word == "a" || word == "an";
            at = bytes.end + usize::from(self.folded[bytes.end..].starts_with(','));
        }
        let (bytes, words) = self.run(at)?;
        let behind = self.folded[bytes.end..].trim_start();
        let is_all = behind.chars().all(|it| ".!:".contains(it));
        let head = head_of(&words)?;
        let is_led = behind.starts_with(':') || behind.starts_with("- ");
        let is_dish = words::is_dish(&head) && !self.larder.knows(&words.join(" "));
        let is_short =
            words.len() <= 3 && behind.starts_with(':') && self.raw.starts_with(char::is_uppercase);
        let is_name = is_led && is_all && !self.is_food(&words) && !words::is_part(&head)
            || is_short && !is_all && self.is_food(&words) && !words::is_part(&head);
        let fits = words.len() <= 6 && ((is_led || is_all) && is_dish || is_name);
        let is_turn = ["first", "next", "now", "last"].iter().any(|it| {
            behind.strip_prefix(it).is_some_and(|it| it.starts_with(['.', ',', ':', '!']))
        });
        // `First a beetroot hummus.`, and nothing more.
        let is_opened = is_turned && has_article && is_all && words.len() <= 6;
        let fits = fits || is_turn && is_dish || is_opened;
        let starts_well = !words::is_order(&words[0]) && !is_no_title(&words);
        (fits && starts_well).then(|| self.named(&bytes, words, None)).flatten()
    }

    /// Names behind the phrases that bring up dishes.
    fn brought_up(&self) -> Vec<Named> {
        let menu = MENU.split('|').map(|it| (it, Lead::Menu));
        let courses = COURSES
            .iter()
            .flat_map(|(course, all)| all.split('|').map(|it| (it, Lead::Course(course))));
        let lists = LISTS.split('|').map(|it| (it, Lead::List));
        let others = SEQUENCE.split('|').map(|it| (it, Lead::Dish));
        let mut hits: Vec<(usize, usize, Lead)> = Vec::new();
        for (phrase, lead) in menu.chain(courses).chain(lists).chain(others) {
            for (at, _) in self.folded.match_indices(phrase) {
                let end = at + phrase.len();
                let is_whole = !self.folded[..at].ends_with(char::is_alphanumeric)
                    && !self.folded[end..].starts_with(char::is_alphanumeric);
                if is_whole {
                    hits.push((at, end, lead));
                }
            }
        }
        // Of phrases that begin together the longest counts.
        hits.sort_by_key(|hit| (hit.0, std::cmp::Reverse(hit.1)));
        hits.dedup_by_key(|hit| hit.0);
        let mut found = self.only_names();
        let mut read_to = 0;
        for (place, (_, end, lead)) in hits.iter().enumerate() {
            // `for dessert we're having`: the second phrase stands in the first.
            let next = hits.get(place + 1).filter(|next| next.0 <= end + 3);
            let (end, lead) = match (next, lead) {
                (Some(_), Lead::Course(_)) => (next.map_or(*end, |it| it.1), *lead),
                (_, lead) => (*end, *lead),
            };
            if end < read_to {
                continue;
            }
            let (mut names, to) = self.list(end, lead);
            if !names.is_empty() {
                read_to = to;
            }
            found.append(&mut names);
        }
        found
    }

    /// `Tomato tart, potato salad, lemon posset.`: nothing but names of dishes, perhaps behind a colon.
    fn only_names(&self) -> Vec<Named> {
        let colon = self.folded.find(':').map(|at| at + 1);
        for start in std::iter::once(0).chain(colon) {
            let (names, to) = self.list(start, Lead::List);
            let is_all = self.folded[to..].trim_matches([' ', '.', '!']).is_empty();
            if is_all && names.len() > 1 {
                return names;
            }
        }
        Vec::new()
    }

    /// `For the cranachan, toast`: an unknown noun at the front, between `for the` and a comma.
    fn is_opening(&self, bytes: &Range<usize>) -> bool {
        let before = self.folded[..bytes.start].trim();
        let is_first = ["for the", "and for the", "then for the", "now for the", "so for the"];
        is_first.contains(&before) && self.folded[bytes.end..].starts_with(',')
    }

    /// `a soup, a pie and a fool`: as many names as fit.
    fn list(&self, start: usize, lead: Lead) -> (Vec<Named>, usize) {
        let mut found = Vec::new();
        let mut at = start;
        loop {
            let (from, article) = self.past_fillers(at);
            let Some((bytes, words)) = self.run(from).map(|run| self.parted(run)) else { break };
            // Behind a dish, what has an article is one too.
            let kind = if lead == Lead::List && !found.is_empty() { Lead::Menu } else { lead };
            let is_opening = self.is_opening(&bytes) && words.len() == 1 && !is_no_title(&words);
            let is_unknown = is_opening && !self.is_food(&words) && !words::is_part(&words[0]);
            let is_listed = kind != Lead::Dish && self.is_taken_up(&words, article);
            if !(is_unknown || is_listed || self.fits(&words, article, kind)) {
                break;
            }
            let course = match lead {
                Lead::Course(course) => Some(course),
                _ => None,
            };
            let Some(named) = self.named(&bytes, words, course) else { break };
            found.push(named);
            at = bytes.end;
            let rest = &self.folded[at..];
            let aside = if lead == Lead::Dish { 0 } else { aside(rest) };
            at += aside;
            let rest = &rest[aside..];
            let join = [
                ", and then ",
                ", and ",
                ", then ",
                " and then ",
                " and ",
                " with ",
                ", plus ",
                ", ",
            ]
            .iter()
            .find(|it| rest.starts_with(**it));
            // `a stew a salad and a cake`: nobody spoke the comma.
            let is_run_on = [" a ", " an "].iter().any(|it| rest.starts_with(it));
            if is_run_on && lead != Lead::Dish {
                continue;
            }
            let Some(join) = join.filter(|_| lead != Lead::Dish) else { break };
            at += join.len();
        }
        (found, at)
    }

    /// `herby bulgur wheat and poached quinces` are two, when both are spoken of by themselves later.
    fn parted(
        &self,
        (bytes, mut words): (Range<usize>, Vec<String>),
    ) -> (Range<usize>, Vec<String>) {
        let Some(and) = words.iter().position(|it| it == "and") else { return (bytes, words) };
        let is_dish = head_of(&words).is_some_and(|head| words::is_dish(&head));
        let both = [&words[..and], &words[and + 1..]].map(|half| self.called_later(half).is_some());
        if is_dish || both != [true, true] {
            return (bytes, words);
        }
        words.truncate(and);
        let mut end = bytes.start;
        for _ in 0..and {
            end = name::word(self.folded, end).map_or(end, |it| it.1.end);
        }
        (bytes.start..end, words)
    }

    /// The last of the words by which it is spoken of later: `the bulgur`.
    fn called_later(&self, words: &[String]) -> Option<String> {
        let later = |word: &&String| {
            let said = format!("the {word}");
            word.len() > 3
                && self.later.match_indices(&said).any(|(at, _)| {
                    !self.later[at + said.len()..].starts_with(char::is_alphanumeric)
                })
        };
        words.iter().rev().find(later).cloned()
    }

    /// What was listed without a noun that names dishes is one all the same when it is spoken of later:
    /// `some red cabbage`, and then `warm the cabbage`; without an article only `The cabbage.` will do.
    fn is_taken_up(&self, words: &[String], article: &str) -> bool {
        const FILLERS: &str = "so|right|now|ok|okay|then|and|next|last|for|on|to|with|back|well";
        let Some(head) = head_of(words) else { return false };
        if is_no_title(words) || words::is_part(&head) || words::is_order(&words[0]) {
            return false;
        }
        let said = format!("the {head}");
        self.later.match_indices(&said).any(|(at, _)| {
            let behind = self.later[at + said.len()..].chars().next();
            let before = self.later[..at].rsplit(['.', '!', '?']).next().unwrap_or_default();
            let mut before = before.split_whitespace().map(|it| it.trim_matches(','));
            let is_front = before.all(|word| phrases::has(FILLERS, word));
            let is_whole = behind.is_none_or(|it| !it.is_alphanumeric());
            let is_heading = is_front && behind.is_some_and(|it| ".,:".contains(it));
            is_whole && (article == "a" || is_heading)
        })
    }

    /// Past `there's`, `a`, `lovely`; and whether an article stood among them.
    fn past_fillers(&self, start: usize) -> (usize, &'static str) {
        let mut at = start;
        let mut article = "";
        for _ in 0..8 {
            let sign = self.folded[at..].trim_start();
            let skipped = self.folded[at..].len() - sign.len();
            if sign.starts_with([',', ':']) && article.is_empty() {
                at += skipped + 1;
                continue;
            }
            let Some((word, bytes)) = name::word(self.folded, at) else { break };
            match word {
                "a" | "an" | "some" => article = "a",
                "the" | "this" | "that" => article = "the",
                "tray" | "dish" | "pot" | "bowl" | "pan" | "plate" | "platter" | "pile" => {
                    let Some(("of", of)) = name::word(self.folded, bytes.end) else { break };
                    at = of.end;
                    continue;
                }
                _ if phrases::has(FILLERS, word) => {}
                _ => break,
            }
            at = bytes.end;
        }
        (at, article)
    }

    /// The words of a title that begins at or behind `at`.
    fn run(&self, at: usize) -> Option<(Range<usize>, Vec<String>)> {
        let mut words: Vec<String> = Vec::new();
        let mut bytes: Option<Range<usize>> = None;
        let mut at = at;
        let mut with = None;
        while let Some((word, found)) = name::word(self.folded, at) {
            let next = name::word(self.folded, found.end).map(|it| it.0).unwrap_or_default();
            let article = matches!(next, "a" | "an" | "some" | "the" | "then");
            // `bread and butter pudding` is one.
            let last_is_dish = words.last().is_some_and(|it| words::is_dish(it) && it != "bread");
            let ends = match word {
                "with" => {
                    let led = || article && self.leads_to_dish(found.end);
                    words.is_empty() || with.is_some() || next == "it" || next == "that" || led()
                }
                "and" | "or" => {
                    words.is_empty()
                        || next.is_empty()
                        || last_is_dish
                        || article
                        || words::ends_name(next)
                }
                "of" | "in" | "à" | "la" | "on" => words.is_empty() || article && word != "of",
                "the" | "a" | "an" | "some" => words.last().is_none_or(|it| it != "with"),
                // `cornbread made with oat milk` is called by its bread.
                "made" => !words.is_empty(),
                "up" | "down" | "first" | "well" | "right" | "left" => true,
                _ => words::ends_name(word) && !words::is_dish(word),
            };
            if ends
                || words.len() >= 10
                || spoken::number(&word_only(word)).is_some() && !article_word(word)
            {
                break;
            }
            if word == "with" {
                with = Some(words.len());
            }
            words.push(word.to_owned());
            bytes = Some(bytes.map_or(found.clone(), |it: Range<usize>| it.start..found.end));
            at = found.end;
        }
        while words.last().is_some_and(|it| {
            matches!(it.as_str(), "with" | "and" | "of" | "in" | "on" | "a" | "the" | "an" | "some")
        }) {
            words.pop();
        }
        let last = words.len();
        (last > 0).then_some(())?;
        // The bytes end with the last word kept.
        let bytes = bytes?;
        let mut end = bytes.start;
        for _ in 0..last {
            end = name::word(self.folded, end)?.1.end;
        }
        Some((bytes.start..end, words))
    }

    /// Within a few words and before any sign stands a noun that names a dish.
    fn leads_to_dish(&self, at: usize) -> bool {
        let mut at = at;
        for _ in 0..5 {
            let Some((word, bytes)) = name::word(self.folded, at) else { return false };
            if words::is_dish(word) {
                return true;
            }
            at = bytes.end;
        }
        false
    }

    fn fits(&self, words: &[String], article: &str, lead: Lead) -> bool {
        let Some(head) = head_of(words) else { return false };
        if is_no_title(words) || words::is_order(&words[0]) && !words::is_dish(&head) {
            return false;
        }
        let is_dish = words::is_dish(&head);
        let known = self.larder.knows(&words.join(" "));
        match lead {
            Lead::Menu => {
                is_dish && !(known && article == "the")
                    || article == "a" && !self.is_food(words)
                    || article.is_empty() && words.len() > 1
            }
            Lead::Course(_) => {
                is_dish || article != "the" && words.len() > 1 && !self.is_food(words)
            }
            Lead::List => is_dish && (article == "a" || !known),
            Lead::Dish => is_dish && !known && !words::is_part(&head),
        }
    }

    fn is_food(&self, words: &[String]) -> bool {
        let name = words.join(" ");
        self.larder.knows(&name)
    }

    fn named(
        &self,
        bytes: &Range<usize>,
        words: Vec<String>,
        course: Option<&'static str>,
    ) -> Option<Named> {
        let said = self.raw[bytes.clone()].split_whitespace().collect::<Vec<_>>().join(" ");
        let mut letters = said.chars();
        let first = letters.next()?;
        let title: String = first.to_uppercase().chain(letters).take(80).collect();
        let head = head_of(&words)?;
        // `herby bulgur wheat` is spoken of as `the bulgur`.
        let is_called = words::is_dish(&head) || self.later.contains(&format!("the {head}"));
        let head = self.called_later(&words).filter(|_| !is_called).unwrap_or(head);
        let words = words.into_iter().filter(|it| !is_joining(it)).collect();
        Some(Named { title, words, head, course, sentence: self.sentence, bytes: bytes.clone() })
    }
}

fn word_only(word: &str) -> String {
    format!("{word} ")
}

fn article_word(word: &str) -> bool {
    matches!(word, "a" | "an")
}

pub fn is_joining(word: &str) -> bool {
    matches!(word, "with" | "and" | "of" | "in" | "on" | "the" | "a" | "an" | "or" | "some")
}

/// Bytes of `for the vegetarians` before the list goes on.
fn aside(rest: &str) -> usize {
    const OPENS: &[&str] =
        &[" for ", " that ", " which ", " to start", " to begin", " made ", " as a ", " as the "];
    let opens = OPENS.iter().any(|it| rest.starts_with(it));
    let goes_on = || {
        [", a ", ", an ", ", and a ", ", and an ", " and a ", ", then a "]
            .iter()
            .filter_map(|it| rest.find(it))
            .min()
    };
    if opens { goes_on().filter(|at| *at < 60).unwrap_or(0) } else { 0 }
}

/// The noun that a title is called by: the last before `with`, and of `leg of lamb` the lamb.
fn head_of(words: &[String]) -> Option<String> {
    let before: Vec<&String> =
        words.iter().take_while(|it| !matches!(it.as_str(), "with" | "in" | "on")).collect();
    before.last().map(|it| (*it).clone())
}

/// What looks like a name and is none.
fn is_no_title(words: &[String]) -> bool {
    const NO_HEAD: &[&str] = &["main", "starter", "side", "dessert", "sweet", "pudding rice"];
    // `today is dairy free`: a rule, not a dish.
    const RULE: &[&str] = &["free", "vegetarian", "vegan", "halal", "kosher", "paleo", "keto"];
    let first = words.first().map(String::as_str).unwrap_or_default();
    let head = head_of(words).unwrap_or_default();
    phrases::has(NO_TITLE, first)
        || phrases::has(NO_TITLE, &head)
        || NO_HEAD.contains(&head.as_str())
        || RULE.contains(&head.as_str())
        || words::measure(first).is_some() && words.get(1).is_some_and(|it| it == "of")
        || matches!(first, "juice" | "zest" | "more" | "extra" | "little" | "few" | "couple")
}
