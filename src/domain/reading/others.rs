//! Several foods in one line: those that may stand in for the first, and those wanted beside it.
//!
//! ```text
//! choices = food (("or" | "/" | "and/or") food)*  |  food ("," food)* "or" food
//! beside  = food ("and" | "&" | ",") food         `salt and pepper`, `1 onion and 2 carrots`
//! ```
//! A word that only describes takes the head of the next food: `red or white onion`.

use super::around::{known_as, leading, trailing};
use super::figure::{is_mark, is_number, word};
use super::parts::amount_and_food;
use super::plural::{food_of, singular};
use super::token::{Token, written};
use super::{Alternative, IngredientLine, units, work};
use crate::domain::larder::{Found, Larder};
use crate::domain::quantity::Amount;

/// The foods that `or`, `and/or`, a stroke or a list sets side by side.
pub(super) fn choices<'b>(name: &[Token<'b>]) -> Vec<Vec<Token<'b>>> {
    let mut found: Vec<Vec<Token>> = vec![Vec::new()];
    for (at, token) in name.iter().enumerate() {
        let is_long = |it: Option<&Token>| it.is_some_and(|it| it.word().len() > 2);
        let stroke =
            token.is_mark('/') && is_long(name.get(at + 1)) && at > 0 && is_long(name.get(at - 1));
        // The front of `and/or`.
        let slash = if token.word() == "and" { at + 1 } else { at };
        let is_front = is_mark(name, slash, '/') && word(name, slash + 1) == "or";
        if token.word() == "or" || stroke {
            found.push(Vec::new());
        } else if let Some(last) = found.last_mut().filter(|_| !is_front) {
            last.push(token.clone());
        }
    }
    found.retain(|it| !it.is_empty());
    // `grapeseed, sunflower or other neutral oil`: one list. Work keeps its comma.
    if found.len() > 1 && found[0].iter().any(|it| it.is_mark(',')) {
        let is_work = |it: &Token| work::is_preparation(it.word()) || work::is_quality(it.word());
        if !found[0].iter().any(is_work) {
            let first = found.remove(0);
            let list = first.split(|it| it.is_mark(',')).filter(|it| !it.is_empty());
            found.splice(0..0, list.map(<[Token]>::to_vec));
        }
    }
    for food in &mut found {
        while food.last().is_some_and(|it| it.is_mark(',')) {
            food.pop();
        }
    }
    found
}

/// `red or white onion`: a first food that only describes takes the head of the next.
pub(super) fn shared_head(first: &str, others: &[&str], larder: &Larder) -> String {
    let completed = others.last().and_then(|other| completed(first, other, larder));
    completed.unwrap_or_else(|| first.to_owned())
}

/// `mushroom` beside `vegetable stock` is mushroom stock; `butter` beside `olive oil` is butter;
/// `short-` beside `medium-grain rice` is short-grain rice.
pub(super) fn completed(lone: &str, other: &str, larder: &Larder) -> Option<String> {
    let lone = lone.trim();
    let other = other.trim();
    if let Some(stem) = lone.strip_suffix('-') {
        let (_, tail) = other.split_once('-')?;
        return Some(format!("{stem}-{tail}"));
    }
    let last = lone.rsplit(' ').next()?.to_lowercase();
    let is_one_word = !lone.contains(' ');
    let Some((_, tail)) = other.split_once(' ') else {
        // `canned or cooked chickpeas`, once the work is taken out.
        return (is_one_word && work::is_describing(&last)).then(|| format!("{lone} {other}"));
    };
    let (_, head) = other.rsplit_once(' ')?;
    // `dry cider or apple juice` are two drinks: a noun lends itself to few heads.
    let describes = work::is_describing(&last)
        || is_one_word && work::is_source(&last) && work::is_drawn_from(&head.to_lowercase());
    // `cherry or plum tomatoes`, `lemon or lime juice`: what the larder knows by both words.
    let known = [tail, head].into_iter().find_map(|head| {
        let whole = format!("{lone} {head}");
        let names = is_one_word && whole != other && singular(&last) == last;
        // What stands before the head is a food too: lime juice, but maple syrup.
        let before = other.strip_suffix(head).unwrap_or_default().trim();
        let is_pair = larder.knows(before) || work::is_source(&before.to_lowercase());
        let known = known_as(&whole, larder).filter(|_| names && is_pair)?;
        // `feta or goat's cheese`: feta cheese is feta.
        (known_as(lone, larder) != Some(known)).then_some(whole)
    });
    // `fresh or dried curry leaves`: both describe all that follows.
    let opens = other.split(' ').next().unwrap_or_default().to_lowercase();
    let head = if work::is_describing(&opens) { tail } else { head };
    known.or_else(|| describes.then(|| format!("{lone} {head}")))
}

/// `salt and pepper`, `each cumin, coriander and turmeric`: the foods that are wanted together.
pub(super) fn together(
    text: &str,
    name: &[Token],
    line: &mut IngredientLine,
    larder: &Larder,
    preparations: &mut Vec<String>,
) {
    let joins = |it: &Token| it.word() == "and" || it.is_mark('&') || it.is_mark(',');
    let known = larder.knows(&line.food);
    // `1 onion and 2 carrots`
    if line.amount.is_some()
        && let Some(at) = (1..name.len()).find(|at| joins(&name[*at]) && is_number(name, at + 1))
    {
        let more = name[at + 1..].split(joins).map(|it| amount_and_food(it).1);
        let more: Vec<String> = more.map(|it| food_of(&written(text, it).to_lowercase())).collect();
        line.name = written(text, &name[..at]);
        line.food = food_of(&line.name.to_lowercase());
        return also(line, more);
    }
    if known || !name.iter().any(|it| it.word() == "and" || it.is_mark('&')) {
        return;
    }
    let mut works = Vec::new();
    let mut names = Vec::new();
    for food in name.split(joins).filter(|food| !food.is_empty()) {
        let (work, food) = leading(text, food, larder);
        names.push(plant_of(food_of(&written(text, &food).to_lowercase()), larder));
        works.extend((!work.is_empty()).then(|| written(text, &work)));
    }
    if names.len() < 2 || !names.iter().any(|it| larder.suggests(it)) {
        return;
    }
    line.food = match names.split_last() {
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
        None => return,
    };
    line.together = names;
    preparations.append(&mut works);
}

/// `dill, or 1 tsp dried`: the same food in another state.
pub(super) fn complete_states(line: &mut IngredientLine) {
    for other in &mut line.alternatives {
        let folded = other.name.to_lowercase();
        let is_state =
            ["dried", "fresh", "frozen", "ground", "canned", "tinned"].contains(&folded.as_str());
        if is_state && !line.food.is_empty() {
            let plant = line.food.strip_suffix(" leaf").unwrap_or(&line.food);
            other.name = format!("{folded} {plant}");
            other.food = food_of(&other.name);
        }
    }
}

/// `stock (vegetable or chicken)`: kinds of the food, the first of them meant.
pub(super) fn complete_kinds(kinds: &[String], line: &mut IngredientLine, larder: &Larder) {
    let Some((first, others)) = kinds.split_first() else { return };
    let base = line.name.clone();
    line.name = format!("{first} {base}");
    line.food = food_of(&line.name.to_lowercase());
    for other in others {
        alternative(format!("{other} {base}"), None, line, larder);
    }
}

/// Foods behind an `or`, in a piece of their own.
pub(super) fn alternatives(
    text: &str,
    tokens: &[Token],
    line: &mut IngredientLine,
    larder: &Larder,
) {
    let mut others = Vec::new();
    for other in &choices(tokens) {
        let (amount, food) = amount_and_food(other);
        let (_, food) = leading(text, food, larder);
        let (food, _) = trailing(text, &food, larder);
        others.push((written(text, food), amount));
    }
    let names: Vec<&str> = others.iter().map(|it| it.0.as_str()).collect();
    for (place, (other, amount)) in others.iter().enumerate() {
        let whole = shared_head(other, &names[place + 1..], larder);
        alternative(whole, amount.clone(), line, larder);
    }
}

/// A food that may stand in for the first, with an amount of its own or none.
pub(super) fn alternative(
    name: String,
    amount: Option<Amount>,
    line: &mut IngredientLine,
    larder: &Larder,
) {
    let first = name.split(' ').next().unwrap_or_default();
    if name.is_empty() || matches!(first, "more" | "less" | "so" | "as" | "to" | "enough") {
        return;
    }
    let food = plant_of(food_of(&name.to_lowercase()), larder);
    // `1 small or medium onion` is one food.
    if food != line.food {
        line.alternatives.push(Alternative { food, name, amount, found: Found::Unknown });
    }
}

/// `basil leaf` in a cup is basil, a `whole clove` a clove: what the larder knows without the word
/// for a part, and not with it.
pub(super) fn plant_of(food: String, larder: &Larder) -> String {
    let uncut = food.strip_prefix("whole ").filter(|it| larder.knows(it));
    if let Some(uncut) = uncut
        && (!larder.knows(&food) || uncut == "clove")
    {
        return uncut.to_owned();
    }
    let Some((plant, last)) = food.rsplit_once(' ') else { return food };
    let is_part = matches!(last, "leaf" | "sprig" | "frond" | "thread" | "strand");
    let drops = is_part && larder.knows(plant) && (last == "leaf" || !larder.knows(&food));
    let own = last == "leaf" && units::trailing_unit(last, plant).is_none();
    if drops && !own { plant.to_owned() } else { food }
}

/// More foods that are wanted beside the first, which may not have been read yet.
pub(super) fn also(line: &mut IngredientLine, more: Vec<String>) {
    if line.together.is_empty() {
        line.together.push(line.food.clone());
    }
    line.together.extend(more);
}
