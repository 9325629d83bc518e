//! The words that name the food: what is bought, what the cook does to it, what may stand in for it.
//!
//! ```text
//! name   = part-of-fruit? leading food (("or" | "/" | "and/or" | ",") food)* work? behind*
//! part   = work* ("juice" | "zest" | "leaves" …) ("and" …)* ("of" | "from") amount
//! leading = (size | work | manner work | quality ",")*     work is taken out of the name
//! food   = words count-unit?                               `garlic cloves` counts cloves
//!        | food "and" food                                 both are wanted
//! ```

use super::around::{leading, trailing, without_shape};
use super::behind::{self, Behind};
use super::figure::{is_number, word};
use super::others::{also, alternative, choices, plant_of, shared_head, together};
use super::parts::amount_and_food;
use super::plural::food_of;
use super::token::{Token, TokenKind, is_picture, written};
use super::units::{self, is_measured};
use super::{IngredientLine, Marks, SpanKind, amounts};
use super::{words, work};
use crate::domain::larder::Larder;
use crate::domain::quantity::{Amount, Unit};

/// Reads the food of a line with its alternatives; the work on it goes to `preparations`.
pub(super) fn read(
    text: &str,
    name: &[Token],
    line: &mut IngredientLine,
    marks: &mut Marks,
    larder: &Larder,
    preparations: &mut Vec<String>,
) {
    for token in name {
        marks.mark_tokens(std::slice::from_ref(token), SpanKind::Food);
    }
    let unquoted: Vec<Token> = name.iter().filter(|it| !is_quote(it)).cloned().collect();
    let mut after = Vec::new();
    let name = part_of_fruit(text, &unquoted, line, marks, preparations);
    let name = without_behind(text, name, line, marks, &mut after);
    // `chopped tomatoes` in a tin were chopped by somebody else.
    let is_tinned = matches!(line.unit, Some(Unit::Can | Unit::Jar));
    let (work, name) =
        if is_tinned { (Vec::new(), name.to_vec()) } else { leading(text, name, larder) };
    if !work.is_empty() {
        mark_each(&work, SpanKind::Preparation, marks);
        preparations.push(written(text, &work).trim_end_matches(',').to_owned());
    }
    let mut choices = choices(&name);
    let first = if choices.is_empty() { Vec::new() } else { choices.remove(0) };
    let (first, work) = trailing(text, &first, larder);
    let mut others = Vec::new();
    for other in &choices {
        let (amount, food) = amount_and_food(other);
        marks.mark_tokens(food, SpanKind::Alternative);
        let (_, food) = leading(text, food, larder);
        let (food, work) = trailing(text, &food, larder);
        if !work.is_empty() {
            marks.mark_tokens(work, SpanKind::Preparation);
            preparations.push(written(text, work));
        }
        others.push((written(text, food), amount));
    }
    if !work.is_empty() {
        marks.mark_tokens(work, SpanKind::Preparation);
        preparations.push(written(text, work));
    }
    let first = without_shape(text, first, line, marks, larder, preparations);
    preparations.append(&mut after);
    let counted = trailing_count(first, line, marks);
    let lone = written(text, counted).trim_end_matches('.').to_owned();
    let names: Vec<&str> = others.iter().map(|it| it.0.as_str()).collect();
    line.name = shared_head(&lone, &names, larder);
    line.food = plant_of(food_of(&line.name.to_lowercase()), larder);
    together(text, counted, line, larder, preparations);
    if let Some(first) = line.together.first_mut().filter(|it| it.is_empty()) {
        first.clone_from(&line.food);
    }
    for (place, (other, amount)) in others.iter().enumerate() {
        let whole = shared_head(other, &names[place + 1..], larder);
        alternative(whole, amount.clone(), line, larder);
    }
}

fn is_quote(token: &Token) -> bool {
    if matches!(token.is, TokenKind::Mark(sign) if is_picture(sign)) {
        return true;
    }
    ['"', '“', '”', '\'', '`', '‘', '’', '„', '®', '™', '*'].iter().any(|mark| token.is_mark(*mark))
}

fn mark_each(tokens: &[Token], kind: SpanKind, marks: &mut Marks) {
    for token in tokens {
        marks.mark_tokens(std::slice::from_ref(token), kind);
    }
}

/// Puts words that are no food where they belong.
pub(super) fn put(
    text: &str,
    behind: Behind,
    tokens: &[Token],
    line: &mut IngredientLine,
    marks: &mut Marks,
    preparations: &mut Vec<String>,
) {
    let words = written(text, tokens);
    let kind = match behind {
        Behind::AnotherUse => {
            another_use(tokens, &words, line);
            SpanKind::Plus
        }
        Behind::Garnish => {
            line.is_garnish = true;
            SpanKind::Flag
        }
        Behind::Optional => {
            line.is_optional = true;
            SpanKind::Flag
        }
        Behind::Purpose => {
            add_words(&mut line.purpose, &words);
            SpanKind::Purpose
        }
        Behind::Preparation => {
            preparations.push(words);
            SpanKind::Preparation
        }
        Behind::Remark => {
            add_words(&mut line.remark, &words);
            SpanKind::Remark
        }
    };
    marks.mark_tokens(tokens, kind);
}

fn add_words(to: &mut String, words: &str) {
    if !to.is_empty() {
        to.push_str(", ");
    }
    to.push_str(words);
}

/// `plus more for the pan`, `plus 1 tbsp for the tin`, `plus 1 whole egg`.
fn another_use(tokens: &[Token], words: &str, line: &mut IngredientLine) {
    let (amount, food) = amount_and_food(&tokens[1..]);
    let is_food = |it: &Token| words::is_size(it.word()) || behind::opens(food, 0).is_none();
    let unit = amount.as_ref().map(Amount::unit);
    let names_unit = || food.iter().any(|it| units::unit(it.word()).is_some());
    if unit == Some(Unit::Each) && !food.is_empty() && food.iter().all(is_food) && !names_unit() {
        let named: Vec<&str> =
            food.iter().map(Token::word).filter(|it| !words::is_size(it)).collect();
        also(line, vec![food_of(&named.join(" "))]);
    }
    let measured = amount.filter(|it| is_measured(it.unit()));
    let says_all = measured.is_some() && food.is_empty();
    line.plus.extend(measured);
    if !says_all {
        add_words(&mut line.purpose, words);
    }
}

/// Cuts off what stands behind the food in the same breath.
fn without_behind<'a, 'b>(
    text: &str,
    name: &'a [Token<'b>],
    line: &mut IngredientLine,
    marks: &mut Marks,
    preparations: &mut Vec<String>,
) -> &'a [Token<'b>] {
    let opening = |from: usize| {
        (from..name.len()).find_map(|at| behind::opens(name, at).map(|behind| (at, behind)))
    };
    let Some((mut at, mut behind)) = opening(1) else { return name };
    let food = at;
    // `to taste or` belongs to the alternatives: only what runs to the end is cut off.
    while let Some((next, opened)) = opening(at + 1).filter(|it| it.1 != behind) {
        put(text, behind, &name[at..next], line, marks, preparations);
        (at, behind) = (next, opened);
    }
    put(text, behind, &name[at..], line, marks, preparations);
    &name[..food]
}

/// `juice of 2 limes`, `finely grated zest of 1 lemon`, `leaves from 3 sprigs thyme`.
fn part_of_fruit<'a, 'b>(
    text: &str,
    name: &'a [Token<'b>],
    line: &mut IngredientLine,
    marks: &mut Marks,
    preparations: &mut Vec<String>,
) -> &'a [Token<'b>] {
    let mut says_part = false;
    let mut is_opening = |it: &Token| {
        let word = it.word();
        let is_part =
            matches!(word, "juice" | "zest" | "rind" | "peel" | "leaves" | "seeds" | "pulp");
        says_part |= is_part;
        is_part
            || matches!(word, "and" | "the")
            || it.is_mark('&')
            || work::is_manner(word)
            || work::is_preparation(word)
    };
    let opening = name.iter().take_while(|it| is_opening(it)).count();
    let joint = word(name, opening);
    let has_of = matches!(joint, "of" | "from");
    let start = opening + usize::from(has_of);
    if !says_part || start >= name.len() || !(has_of || is_number(name, start)) {
        return name;
    }
    let mut trial = Marks::none();
    let figures = amounts::read(name, start, &mut trial);
    if line.amount.is_none() {
        if has_of && figures.amount.is_none() && line.unit.is_none() && joint == "from" {
            return name;
        }
        amounts::read(name, start, marks);
        line.amount = figures.amount;
        line.unit = figures.unit;
    }
    let words: Vec<&str> =
        name[..opening].iter().map(Token::word).filter(|it| *it != "the").collect();
    marks.mark_tokens(&name[..start], SpanKind::Preparation);
    let work = if words.is_empty() { written(text, &name[..opening]) } else { words.join(" ") };
    preparations.push(work.replace("  ", " & ").trim().to_owned());
    &name[figures.next..]
}

/// `3 garlic cloves`, `a few mint leaves`: the last word is the unit.
fn trailing_count<'a, 'b>(
    name: &'a [Token<'b>],
    line: &mut IngredientLine,
    marks: &mut Marks,
) -> &'a [Token<'b>] {
    let Some((last, food)) = name.split_last() else { return name };
    let counts = line.unit == Some(Unit::Each);
    // `6 whole cloves` are the spice.
    let is_only_size = food.iter().all(|it| words::is_size(it.word()));
    let is_bare_list = is_only_size || name.iter().any(|it| it.word() == "and" || it.is_mark('&'));
    if food.is_empty() || !counts || is_bare_list {
        return name;
    }
    let Some(unit) = units::trailing_unit(last.word(), food.last().map_or("", Token::word)) else {
        return name;
    };
    let said = |amount: &Amount| Amount::between(amount.low().clone(), amount.high().clone(), unit);
    line.amount = line.amount.as_ref().map(said);
    line.unit = Some(unit);
    marks.mark_tokens(std::slice::from_ref(last), SpanKind::Unit);
    food
}
