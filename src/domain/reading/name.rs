//! The words that name the food: what is bought, what the cook does to it, what may stand in for it.

use std::ops::Range;

use super::parts::{add_words, tidy};
use super::words::{self, GARNISH, PURPOSES};
use super::{Alternative, IngredientLine, Marks, SpanKind, amounts, token};
use crate::domain::larder::{Found, Larder};
use crate::domain::quantity::Amount;

pub(super) struct Reader<'a> {
    pub line: &'a mut IngredientLine,
    pub larder: &'a Larder,
    pub preparations: &'a mut Vec<String>,
}

impl Reader<'_> {
    /// The food with its alternatives, the work on it, and its trailing purpose.
    pub(super) fn read(&mut self, text: &str, bytes: Range<usize>, marks: &mut Marks) {
        marks.mark(bytes.clone(), SpanKind::Food);
        let at = |part: &str| {
            let from = part.as_ptr() as usize - text.as_ptr() as usize;
            from..from + part.len()
        };
        let name = self.without_purpose(&text[bytes], |part, kind| marks.mark(at(part), kind));
        let name = self.part_of_fruit(name);
        let (before, name) = self.leading_preparation(name);
        if !before.is_empty() {
            marks.mark(at(before), SpanKind::Preparation);
            self.preparations.push(tidy(before.trim_end_matches(',')));
        }
        let choices = choices(name);
        let (first, others) = choices.split_first().unwrap_or((&name, &[]));
        for other in others {
            marks.mark(at(other), SpanKind::Alternative);
        }
        let (food, behind) = self.trailing_preparation(first);
        if !behind.is_empty() {
            marks.mark(at(behind), SpanKind::Preparation);
            self.preparations.push(tidy(behind));
        }
        let (others, behind) = self.trailing_of_last(others);
        if let Some(behind) = behind {
            marks.mark(at(behind), SpanKind::Preparation);
            self.preparations.push(tidy(behind));
        }
        let counted = trailing_count(food, self.line);
        let name = tidy(counted).trim_end_matches('.').to_owned();
        self.line.name = shared_head(&name, &others, self.larder);
        self.line.food = food_of(&self.line.name);
        for (place, other) in others.iter().enumerate() {
            let whole = shared_head(other, &others[place + 1..], self.larder);
            alternative(&whole, self.line);
        }
    }

    /// Cuts off `to taste`, `for frying`, `plus more for the pan`.
    fn without_purpose<'a>(
        &mut self,
        name: &'a str,
        mut mark: impl FnMut(&str, SpanKind),
    ) -> &'a str {
        let mut name = name;
        if let Some(cut) = words_start(name, &[" plus "]) {
            another_use(name[cut..].trim(), self.line);
            mark(&name[cut..], SpanKind::Plus);
            name = name[..cut].trim_end();
        }
        if let Some(cut) =
            words_start(name, &PURPOSES).into_iter().chain(words_start(name, &GARNISH)).min()
        {
            let words = name[cut..].trim();
            add_words(&mut self.line.purpose, words);
            mark(&name[cut..], SpanKind::Purpose);
            let folded = words.to_lowercase();
            self.line.is_garnish |= GARNISH.iter().any(|it| folded == *it);
            name = name[..cut].trim_end();
        }
        if name.get(..5).is_some_and(|it| it.eq_ignore_ascii_case("each ")) {
            mark(&name[..5], SpanKind::Between);
            name = &name[5..];
        }
        name
    }

    /// `finely chopped red onion`: the adverbs and participles, then the food. What the larder knows
    /// whole stays whole: `flaked almonds`, `boneless pork loin`.
    fn leading_preparation<'a>(&self, name: &'a str) -> (&'a str, &'a str) {
        let mut end = 0;
        let mut last_is_work = false;
        for word in name.split_inclusive(' ') {
            let plain = word.trim().trim_end_matches(',').to_lowercase();
            let is_freshly_ground = plain == "ground" && name[..end].ends_with("reshly ");
            let is_work =
                words::is_preparation(&plain) || words::is_manner(&plain) || is_freshly_ground;
            let is_listed = words::is_quality(&plain)
                && (word.trim().ends_with(',') || name[..end].trim_end().ends_with(','));
            let next = name[end + word.len()..].split([' ', ',']).next().unwrap_or_default();
            let next = next.to_lowercase();
            let joins = last_is_work
                && matches!(plain.as_str(), "and" | "or")
                && (words::is_preparation(&next) || words::is_manner(&next));
            // `freshly` is work whatever the shop calls the rest.
            let is_known = || {
                if plain == "freshly" || is_freshly_ground {
                    return false;
                }
                let whole = name[end..].split(" or ").next().unwrap_or_default();
                self.larder.knows(&tidy(whole))
            };
            if !(is_work || is_listed || joins) || end + word.len() >= name.len() || is_known() {
                break;
            }
            end += word.len();
            last_is_work = is_work || is_listed;
        }
        // Whole sauces and drinks begin so: `hot sauce`, `hot smoked trout`, `well water`.
        let (before, food) = name.split_at(end);
        let is_own = matches!(before.trim(), "hot" | "freshly" | "well" | "very")
            && !["water", "milk", "stock"].iter().any(|it| food.starts_with(it));
        if is_own { ("", name) } else { (before.trim(), food) }
    }

    /// `red onion finely diced`, `butter at room temperature`: the work stands behind, without a comma.
    fn trailing_preparation<'a>(&self, name: &'a str) -> (&'a str, &'a str) {
        if self.larder.knows(name) {
            return (name, "");
        }
        if let Some(cut) = words_start(name, &words::STATES_BEHIND) {
            return (name[..cut].trim_end(), name[cut..].trim());
        }
        let mut starts = vec![0];
        starts.extend(name.match_indices(' ').map(|(at, _)| at + 1));
        let words: Vec<String> = name.split(' ').map(str::to_lowercase).collect();
        for place in 1..words.len() {
            let word = words[place].as_str();
            let opens = words::is_preparation(word)
                || words::is_manner(word)
                    && words.get(place + 1).is_some_and(|it| words::is_preparation(it));
            if opens && is_all_work(&words[place..]) {
                return (name[..starts[place]].trim_end(), &name[starts[place]..]);
            }
        }
        (name, "")
    }

    fn trailing_of_last<'a>(&self, others: &[&'a str]) -> (Vec<&'a str>, Option<&'a str>) {
        let mut others = others.to_vec();
        let Some(last) = others.last_mut() else { return (others, None) };
        let (food, behind) = self.trailing_preparation(last);
        *last = food;
        (others, (!behind.is_empty()).then_some(behind))
    }

    /// `juice of 2 limes`, `finely grated zest of 1 lemon`, `leaves of 3 sprigs thyme`.
    fn part_of_fruit<'a>(&mut self, name: &'a str) -> &'a str {
        let Some((opening, rest)) = name.split_once(" of ") else { return name };
        let folded = opening.to_lowercase();
        let mut says_part = false;
        let only_parts = folded.split_whitespace().all(|word| {
            let is_part = matches!(word, "juice" | "zest" | "rind" | "peel" | "leaves" | "seeds");
            says_part |= is_part;
            is_part
                || matches!(word, "and" | "the")
                || words::is_manner(word)
                || words::is_preparation(word)
        });
        let tokens = token::tokens(rest);
        let mut unread = Marks::none();
        let figures = amounts::read(&tokens, &mut unread);
        let Some(food) = tokens.get(figures.next) else { return name };
        if !(only_parts && says_part) {
            return name;
        }
        if self.line.amount.is_none() {
            self.line.amount = figures.amount;
            self.line.unit = figures.unit;
        }
        self.preparations.push(opening.to_owned());
        &rest[food.bytes.start..]
    }
}

/// Only work to the end: participles and adverbs, then at most a phrase (`cut into strips`).
fn is_all_work(words: &[String]) -> bool {
    const PHRASE: [&str; 17] = [
        "in",
        "into",
        "to",
        "on",
        "at",
        "with",
        "off",
        "from",
        "by",
        "as",
        "if",
        "then",
        "half",
        "lengthways",
        "lengthwise",
        "crosswise",
        "crossways",
    ];
    for word in words {
        let word = word.trim_end_matches(',');
        if PHRASE.contains(&word) {
            return true;
        }
        let is_work =
            words::is_preparation(word) || words::is_manner(word) || matches!(word, "and" | "or");
        if !is_work {
            return false;
        }
    }
    true
}

/// Where one of `openings` starts inside the name, never at its front.
fn words_start(name: &str, openings: &[&str]) -> Option<usize> {
    let folded = name.to_lowercase();
    let found = openings.iter().filter_map(|it| {
        let opening = format!(" {}", it.trim_start());
        folded.find(&opening)
    });
    found.min().filter(|at| name.is_char_boundary(*at))
}

/// `plus more for the pan`, `plus 1 tbsp for the tin`: another use of the same food.
pub(super) fn another_use(words: &str, line: &mut IngredientLine) {
    let behind = words.strip_prefix("plus ").unwrap_or(words);
    line.plus.extend(amounts::lone(&token::tokens(behind)).map(|(amount, _)| amount));
    add_words(&mut line.purpose, words);
}

/// The foods that `or`, `and/or` or a stroke sets side by side.
fn choices(name: &str) -> Vec<&str> {
    let mut found: Vec<&str> = name
        .split(" or ")
        .flat_map(|it| it.split(" and/or "))
        .flat_map(|it| {
            let long = |part: &str| part.trim().chars().filter(|c| c.is_alphabetic()).count() > 2;
            match it.split_once('/') {
                Some((one, other)) if long(one) && long(other) => vec![one.trim(), other.trim()],
                _ => vec![it],
            }
        })
        .collect();
    // `grapeseed, sunflower or other neutral oil`: one list. Work keeps its comma.
    if found.len() > 1 && found[0].contains(", ") {
        let work = |it: &str| {
            it.split(' ').any(|word| words::is_preparation(word) || words::is_quality(word))
        };
        if !found[0].split(", ").any(work) {
            let first = found.remove(0);
            found.splice(0..0, first.split(", "));
        }
    }
    found.retain(|it| !it.trim().is_empty());
    found
}

/// `3 garlic cloves`: the last word is the unit.
fn trailing_count<'a>(name: &'a str, line: &mut IngredientLine) -> &'a str {
    let Some((food, last)) = name.rsplit_once(' ') else { return name };
    let is_spice = matches!(
        food.to_lowercase().as_str(),
        "bay" | "cinnamon" | "curry" | "lime" | "tea" | "vine"
    );
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
pub(super) fn food_of(name: &str) -> String {
    let folded = name.to_lowercase();
    let kept: Vec<&str> =
        folded.split_whitespace().filter(|word| !words::is_no_matter(word)).collect();
    let Some((last, before)) = kept.split_last() else { return folded };
    let one = words::singular(last);
    if before.is_empty() { one } else { format!("{} {one}", before.join(" ")) }
}

/// `red or white onion`: a first food that only describes takes the head of the next.
fn shared_head(first: &str, others: &[&str], larder: &Larder) -> String {
    let lone = tidy(first);
    others.last().and_then(|other| completed(&lone, other, larder)).unwrap_or(lone)
}

/// `mushroom` beside `vegetable stock` is mushroom stock; `butter` beside `olive oil` is butter.
pub(super) fn completed(lone: &str, other: &str, larder: &Larder) -> Option<String> {
    let lone = lone.trim();
    let other = other.trim();
    let last = lone.rsplit(' ').next()?.to_lowercase();
    let is_one_word = !lone.contains(' ');
    let (_, tail) = other.split_once(' ')?;
    let (_, head) = other.rsplit_once(' ')?;
    // `dry cider or apple juice` are two drinks: a noun lends itself to few heads.
    let describes = words::is_describing(&last)
        || is_one_word && words::is_source(&last) && words::is_drawn_from(head);
    let known = [tail, head].into_iter().find_map(|head| {
        let whole = format!("{lone} {head}");
        (is_one_word && larder.knows(&whole)).then_some(whole)
    });
    known.or_else(|| describes.then(|| format!("{lone} {head}")))
}

/// `dill, or 1 tsp dried`: the same food in another state.
pub(super) fn complete_states(line: &mut IngredientLine) {
    for other in &mut line.alternatives {
        let is_state = ["dried", "fresh", "frozen", "ground", "canned", "tinned"]
            .contains(&other.name.to_lowercase().as_str());
        if is_state && !line.food.is_empty() {
            other.name = format!("{} {}", other.name.to_lowercase(), line.food);
            other.food.clone_from(&other.name);
        }
    }
}

/// A food that may stand in for the first, with an amount of its own or none.
pub(super) fn alternative(words: &str, line: &mut IngredientLine) {
    let tokens = token::tokens(words);
    let mut unread = Marks::none();
    let figures = amounts::read(&tokens, &mut unread);
    let Some(start) = tokens.get(figures.next) else { return };
    let name = tidy(&words[start.bytes.start..]);
    let folded = name.to_lowercase();
    if matches!(folded.as_str(), "more" | "to taste" | "less" | "so" | "as needed") {
        return;
    }
    line.alternatives.push(Alternative {
        food: food_of(&name),
        name,
        amount: figures.amount,
        found: Found::Unknown,
    });
}
