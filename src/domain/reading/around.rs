//! Work said around a food, taken out of its name: before it, behind it, and as a shape.
//!
//! ```text
//! leading = (size | work | manner work | quality ",")*     sizes stay in the name as written
//! work    = participle | "hot" … water or stock; not what makes another food of it
//! ```

use super::behind::is_all_work;
use super::figure::{is_mark, word};
use super::plural::food_of;
use super::token::{Token, written};
use super::{IngredientLine, Marks, SpanKind};
use super::{words, work};
use crate::domain::larder::{FoodKey, Larder};
use crate::domain::quantity::Unit;

/// `finely chopped red onion`: the adverbs and participles, then the food. What the larder knows
/// whole stays whole: `flaked almonds`, `boneless pork loin`. Sizes stay in the name as written.
pub(super) fn leading<'b>(
    text: &str,
    name: &[Token<'b>],
    larder: &Larder,
) -> (Vec<Token<'b>>, Vec<Token<'b>>) {
    let (mut work, mut kept) = (Vec::new(), Vec::new());
    let mut at = 0;
    let known = |from: usize| {
        let until = name[from..].iter().position(|it| it.word() == "or" || it.is_mark(','));
        let whole = written(text, &name[from..from + until.unwrap_or(name.len() - from)]);
        known_as(&whole, larder)
    };
    // `chopped tomatoes` are another food than tomatoes; `grated parmesan` is the same.
    let is_own_food = |from: usize| known(from).is_some_and(|whole| known(from + 1) != Some(whole));
    while at + 1 < name.len() {
        let step = leading_step(name, at, !work.is_empty());
        match step {
            Leading::Size => kept.push(name[at].clone()),
            Leading::Work(count) => {
                // The larder is asked for cooked rice all the same, see `look_up`.
                let by_hand = word(name, at) == "cooked"
                    || count > 1
                    || is_temperature(name, at)
                    || is_cut_of_meat(name, at);
                if !by_hand && is_own_food(at) {
                    break;
                }
                work.extend_from_slice(&name[at..at + count]);
                at += count;
                continue;
            }
            Leading::Skipped => {}
            Leading::Food => break,
        }
        at += 1;
    }
    // `loosely packed`: sizes in front of nothing are the name itself.
    kept.extend_from_slice(&name[at..]);
    (work, kept)
}

/// The food of which these words are the whole name, in the singular or plural.
pub(super) fn known_as<'l>(words: &str, larder: &'l Larder) -> Option<&'l FoodKey> {
    let folded = words.to_lowercase();
    larder.known(&folded).or_else(|| larder.known(&food_of(&folded)))
}

/// `boneless, skinless thighs`: listed before the cut, it is what the cook wants done.
fn is_cut_of_meat(name: &[Token], at: usize) -> bool {
    matches!(word(name, at), "boneless" | "skinless" | "skin-on" | "bone-in")
}

enum Leading {
    Size,
    /// How many tokens are work.
    Work(usize),
    Skipped,
    Food,
}

fn leading_step(name: &[Token], at: usize, has_work: bool) -> Leading {
    let (this, next) = (word(name, at), word(name, at + 1));
    let comma = usize::from(is_mark(name, at + 1, ','));
    let is_listed = comma > 0 || at > 0 && is_mark(name, at - 1, ',');
    // Unsalted butter is another thing to buy.
    let is_wanted = work::is_quality(this)
        && !(this.ends_with("salted") && word(name, name.len() - 1) == "butter");
    if is_wanted && is_listed && at + 1 + comma < name.len() {
        return Leading::Work(1 + comma);
    }
    if work::is_manner(this) {
        // `freshly ground`, `very finely chopped`; `fine salt` is a salt.
        let adverbs = name[at..].iter().take_while(|it| work::is_manner(it.word())).count();
        let behind = word(name, at + adverbs);
        if work::is_preparation(behind) && name.len() > at + adverbs + 1 {
            return Leading::Work(adverbs + 1);
        }
        if words::is_size_of_food(behind) || words::is_no_matter(this) {
            return Leading::Size;
        }
        return Leading::Food;
    }
    if words::is_no_matter(this) || is_size_phrase(this, next) {
        return Leading::Size;
    }
    if is_mark(name, at, ',') && (at == 0 || words::is_no_matter(word(name, at - 1))) {
        return Leading::Size;
    }
    if has_work && (matches!(this, "and" | "or") || is_mark(name, at, ',')) {
        let more = name[at + 1..].iter().take_while(|it| work::is_manner(it.word())).count();
        let is_work = work::is_preparation(word(name, at + 1 + more));
        return if is_work && name.len() > at + 2 + more {
            Leading::Work(more + 2)
        } else if is_mark(name, at, ',') {
            Leading::Skipped
        } else {
            Leading::Food
        };
    }
    if is_temperature(name, at) {
        return Leading::Work(1 + comma);
    }
    if work::is_preparation(this) && !stays_in_name(this, next) {
        return Leading::Work(1 + comma);
    }
    match this {
        "each" | "of" if at == 0 => Leading::Skipped,
        _ => Leading::Food,
    }
}

fn is_size_phrase(this: &str, next: &str) -> bool {
    matches!(this, "extra" | "very") && words::is_size_of_food(next)
}

/// `hot vegetable stock`, `lukewarm milk`; `hot sauce` and `hot smoked trout` are bought so.
fn is_temperature(name: &[Token], at: usize) -> bool {
    let is_warmth = matches!(
        word(name, at),
        "hot" | "warm" | "lukewarm" | "tepid" | "boiling" | "cold" | "iced"
    );
    let runs = |it: &Token| {
        matches!(
            it.word(),
            "water" | "milk" | "stock" | "broth" | "cream" | "coffee" | "tea" | "butter"
        )
    };
    is_warmth && name[at + 1..].iter().take(3).any(runs)
}

/// Work that is part of what is bought: `ground cumin`, `minced lamb`, `hot sauce`.
fn stays_in_name(this: &str, next: &str) -> bool {
    match this {
        "hot" | "warm" => true,
        "toasted" => next == "sesame",
        "blanched" => matches!(next, "almonds" | "almond" | "hazelnuts" | "peanuts"),
        "minced" => {
            matches!(next, "lamb" | "beef" | "pork" | "turkey" | "chicken" | "veal" | "meat")
        }
        _ => work::is_named_so(this),
    }
}

/// `red onion finely diced`, `butter at room temperature`: the work stands behind, without a comma.
pub(super) fn trailing<'a, 'b>(
    text: &str,
    food: &'a [Token<'b>],
    larder: &Larder,
) -> (&'a [Token<'b>], &'a [Token<'b>]) {
    let opens = |at: &usize| {
        let this = word(food, *at);
        let is_work = work::is_preparation(this)
            || work::is_manner(this) && work::is_preparation(word(food, at + 1));
        is_work && is_all_work(&food[*at..])
    };
    let cut = (1..food.len()).find(opens);
    match cut {
        Some(at) if !larder.knows(&written(text, food)) => food.split_at(at),
        _ => (food, &[]),
    }
}

/// `lemon wedges, to serve`: lemons, cut. Of `4 lemon wedges` nobody buys four lemons.
pub(super) fn without_shape<'a, 'b>(
    text: &str,
    food: &'a [Token<'b>],
    line: &IngredientLine,
    marks: &mut Marks,
    larder: &Larder,
    preparations: &mut Vec<String>,
) -> &'a [Token<'b>] {
    let Some((last, rest)) = food.split_last() else { return food };
    let is_shape = work::is_shape(last.word()) && line.unit != Some(Unit::Each);
    let is_known = || known_as(&written(text, rest), larder).is_some();
    if !is_shape || known_as(&written(text, food), larder).is_some() || !is_known() {
        return food;
    }
    marks.mark_tokens(std::slice::from_ref(last), SpanKind::Preparation);
    preparations.push(last.word().to_owned());
    rest
}
