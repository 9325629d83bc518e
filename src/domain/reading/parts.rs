//! The rest of a line behind its figures, cut at commas, dashes and brackets.
//!
//! ```text
//! rest    = food (("," | ";" | ":" | " - ") piece | "(" piece ")")*
//! piece   = "or" food | amount | behind (see behind.rs) | preparation | remark
//! ```
//! The food is the first run outside brackets (see name.rs). A piece behind a comma is work unless
//! it opens as something else; a piece in brackets is work only if it names some.

use std::ops::Range;

use super::behind::{self, Behind};
use super::figure::{is_dash, is_mark, is_number, lone, word};
use super::plural::food_of;
use super::token::{self, Token, written};
use super::units::is_measured;
use super::{IngredientLine, Marks, SpanKind, amounts};
use super::{around, name, others};
use super::{words, work};
use crate::domain::larder::Larder;
use crate::domain::quantity::{Amount, Unit};

/// Where the content starts, behind bullets, tick boxes and list numbers.
pub(super) fn past_bullet(text: &str) -> usize {
    let mut at = past_blank(text, 0);
    let rest = &text[at..];
    let is_bullet = |c: char| "-*•▢□■▪◦‣–—·+".contains(c);
    let bullet = rest.chars().next().filter(|c| is_bullet(*c) || token::is_picture(*c));
    if let Some(sign) = bullet {
        let pictures = rest.chars().take_while(|c| token::is_picture(*c) || *c == ' ');
        at += pictures.map(char::len_utf8).sum::<usize>().max(sign.len_utf8());
    } else if let Some(boxed) = ["[ ]", "[x]", "[X]", "[]"].iter().find(|it| rest.starts_with(**it))
    {
        at += boxed.len();
    } else {
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        let behind = &rest[digits..];
        // `1. salt`: with a space behind the dot it is the number in a list.
        let is_listed = behind.starts_with(')') || behind.starts_with(". ");
        if (1..3).contains(&digits) && is_listed {
            at += digits + 1;
        }
    }
    past_blank(text, at)
}

fn past_blank(text: &str, from: usize) -> usize {
    let mut at = from;
    while at < text.len() {
        match token::blank(&text[at..]) {
            0 => break,
            blank => at += blank,
        }
    }
    at
}

/// `-3 eggs`: nobody can say what is meant, so it stays words.
pub(super) fn is_negative(text: &str) -> bool {
    let mut signs = text.trim_start().chars();
    let minus = signs.next().is_some_and(|c| matches!(c, '-' | '−' | '–'));
    minus && signs.next().is_some_and(|c| c.is_ascii_digit())
}

/// `For the sauce:`, `TOPPING`, `Lemon glaze`: the name of a group; none for a line with a figure.
pub(super) fn heading(rest: &str, tokens: &[Token], larder: &Larder) -> Option<String> {
    let rest = rest.trim();
    if rest.is_empty() || tokens.iter().any(|it| it.number().is_some()) {
        return None;
    }
    let first = word(tokens, 0);
    if let Some(name) = rest.strip_suffix(':').filter(|_| first != "optional") {
        return Some(name.trim().to_owned());
    }
    if tokens.iter().any(|it| it.word().is_empty()) {
        return None;
    }
    let second = word(tokens, 1);
    let last = tokens.last().map_or("", Token::word);
    let is_loud = rest.chars().all(|c| !c.is_lowercase())
        && rest.chars().filter(|c| c.is_alphabetic()).count() > 3;
    let for_it = first == "for" && matches!(second, "the" | "serving" | "garnish");
    let to_it = first == "to" && matches!(second, "serve" | "finish" | "garnish" | "decorate");
    let is_short = tokens.len() <= 5;
    let names_group = words::is_group(last)
        && tokens.len() <= 3
        && (tokens.len() == 1 || rest.starts_with(char::is_uppercase));
    let names = (for_it && is_short) || (to_it && tokens.len() == 2) || is_loud || names_group;
    (names && !larder.knows(&food_of(&rest.to_lowercase()))).then(|| rest.to_owned())
}

/// A run of tokens between brackets or commas.
#[derive(Clone, Debug)]
struct Piece {
    tokens: Range<usize>,
    in_brackets: bool,
    /// Glued to what stands before its bracket: no comma between.
    follows_bracket: bool,
}

/// Reads everything from token `start` into `line`.
pub(super) fn read(
    text: &str,
    tokens: &[Token],
    figures: (usize, bool),
    line: &mut IngredientLine,
    marks: &mut Marks,
    larder: &Larder,
) {
    let (start, is_each) = figures;
    let mut pieces = pieces(tokens, start);
    let mut reader =
        Pieces { text, tokens, line, marks, larder, behind: Vec::new(), kinds: Vec::new() };
    let name = reader.take_name(&mut pieces, is_each);
    for piece in pieces {
        reader.aside(&piece);
    }
    let mut preparations = Vec::new();
    if let Some(name) = name {
        name::read(text, &name, reader.line, reader.marks, larder, &mut preparations);
    }
    reader.finish(preparations);
}

/// Cuts at commas, colons, spaced dashes and full stops outside brackets, and at brackets.
fn pieces(tokens: &[Token], start: usize) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut from = start;
    let mut depth = 0_usize;
    let mut after_bracket = false;
    for at in start..tokens.len() {
        let token = &tokens[at];
        let (opens, closes) = (is_bracket(token, "([{"), is_bracket(token, ")]}"));
        let cuts = depth == 0 && is_cut(tokens, at);
        let outer = opens && depth == 0 || closes && depth == 1;
        if cuts || outer {
            push(&mut found, from..at, depth > 0, after_bracket);
            from = at + 1;
            after_bracket = closes;
        }
        depth += usize::from(opens);
        depth = depth.saturating_sub(usize::from(closes));
    }
    push(&mut found, from..tokens.len(), depth > 0, after_bracket);
    found
}

fn push(found: &mut Vec<Piece>, tokens: Range<usize>, in_brackets: bool, follows_bracket: bool) {
    if !tokens.is_empty() {
        found.push(Piece { tokens, in_brackets, follows_bracket });
    }
}

fn is_bracket(token: &Token, which: &str) -> bool {
    which.chars().any(|mark| token.is_mark(mark))
}

fn is_cut(tokens: &[Token], at: usize) -> bool {
    let space_behind = tokens.get(at + 1).is_none_or(|it| it.after_space);
    // The comma of `1,250,000` lies inside a figure nobody can read.
    let is_glued = is_number(tokens, at + 1) && !space_behind;
    [',', ';', ':'].iter().any(|it| is_mark(tokens, at, *it)) && !is_glued
        || is_mark(tokens, at, '.') && space_behind
        || is_dash(tokens, at) && tokens[at].after_space && space_behind
}

struct Pieces<'a, 'b> {
    text: &'a str,
    tokens: &'a [Token<'a>],
    line: &'b mut IngredientLine,
    marks: &'b mut Marks,
    larder: &'a Larder,
    /// Work said behind the food.
    behind: Vec<String>,
    /// `stock (vegetable or chicken)`
    kinds: Vec<String>,
}

impl<'a> Pieces<'a, '_> {
    /// The first run outside brackets. `boneless, skinless thighs`, `crisp, tart apples` and lists
    /// that share a head noun (`grapeseed, sunflower or other neutral oil`) are joined to it.
    fn take_name(&self, pieces: &mut Vec<Piece>, is_each: bool) -> Option<Vec<Token<'a>>> {
        let first = pieces.iter().position(|piece| !piece.in_brackets)?;
        let taken = pieces.remove(first);
        let mut name = self.tokens[taken.tokens.clone()].to_vec();
        let mut last = taken.tokens.end;
        while let Some(at) = (first..pieces.len()).find(|at| !pieces[*at].in_brackets) {
            let next = &self.tokens[pieces[at].tokens.clone()];
            let is_next = at == first;
            // `biscuits, egg-free` are bought as such: it is no work of the cook's.
            let comma = is_mark(self.tokens, last, ',');
            let is_bought_so = next.len() == 1 && next[0].word().ends_with("-free");
            let leans = self.line.amount.is_some() && self.leans_on(&name, next);
            let listed = is_each && !is_aside(next) && !opens_work(next)
                || self.line.amount.is_none() && self.is_listed(&name, next);
            let joins = is_next && comma && (is_bought_so || leans || listed)
                || only_describes(&name) && !is_aside(next)
                || pieces[at].follows_bracket && !is_aside(next) && !opens_work(next);
            if !joins {
                break;
            }
            let piece = pieces.remove(at);
            // The comma stays between them.
            if comma && is_next {
                name.push(self.tokens[last].clone());
            }
            last = piece.tokens.end;
            name.extend_from_slice(&self.tokens[piece.tokens]);
        }
        Some(name)
    }

    /// `cumin, coriander and turmeric`: foods that are all wanted, each known by its whole name.
    fn is_listed(&self, before: &[Token], next: &[Token]) -> bool {
        let mut foods = before.split(|it| it.is_mark(',') || it.word() == "and");
        let known = |food: &[Token]| {
            let (_, food) = around::leading(self.text, food, self.larder);
            !food.is_empty()
                && self.larder.knows(&food_of(&written(self.text, &food).to_lowercase()))
        };
        let until = (1..next.len()).find(|at| behind::opens(next, *at).is_some());
        let next = &next[..until.unwrap_or(next.len())];
        let mut others = next.split(|it| it.word() == "and" || it.is_mark('&'));
        foods.all(known) && others.all(|it| it.is_empty() || known(it)) && !is_aside(next)
    }

    /// Words that name no food by themselves and stand before some that do.
    fn leans_on(&self, before: &[Token], next: &[Token]) -> bool {
        if is_aside(next) || opens_work(next) {
            return false;
        }
        let (before_words, next_words) = (written(self.text, before), written(self.text, next));
        let folded = next_words.to_lowercase();
        let shares_head = next.iter().any(|it| it.word() == "or")
            && before_words
                .split(", ")
                .all(|it| others::completed(it, &folded, self.larder).is_some());
        let unnamed =
            || before.len() <= 3 && !self.larder.suggests(&food_of(&before_words.to_lowercase()));
        shares_head || unnamed() && self.larder.suggests(&food_of(&folded))
    }

    /// One piece that is not the name.
    fn aside(&mut self, piece: &Piece) {
        let tokens = &self.tokens[piece.tokens.clone()];
        let tokens = past_joint(tokens);
        if tokens.is_empty() {
            return;
        }
        if let Some(behind) = behind::opens(tokens, 0) {
            self.put(behind, tokens);
        } else if word(tokens, 0) == "or" && tokens.len() > 1 {
            self.other_food(&tokens[1..]);
        } else if self.amount(tokens, piece) || self.lean_alternatives(tokens, piece) {
            // Both have marked what they took.
        } else if self.another_line(tokens) {
            self.marks.mark_tokens(tokens, SpanKind::Food);
        } else {
            let is_work = if piece.in_brackets { says_work(tokens) } else { !says_remark(tokens) };
            self.put(if is_work { Behind::Preparation } else { Behind::Remark }, tokens);
        }
    }

    /// `finely chopped, plus extra to serve` was cut at its comma; `chopped (optional)` at its
    /// bracket; `diced if liked` is cut here.
    fn put(&mut self, behind: Behind, tokens: &[Token]) {
        if matches!(behind, Behind::Preparation | Behind::Remark)
            && let Some(cut) = (1..tokens.len()).find(|at| {
                let next = behind::opens(tokens, *at);
                next.is_some_and(|it| {
                    !matches!(it, Behind::Preparation | Behind::Remark | Behind::Purpose)
                })
            })
        {
            self.put(behind, &tokens[..cut]);
            let opened = behind::opens(tokens, cut).unwrap_or(Behind::Remark);
            return self.put(opened, &tokens[cut..]);
        }
        name::put(self.text, behind, tokens, self.line, self.marks, &mut self.behind);
    }

    fn other_food(&mut self, tokens: &[Token]) {
        let cut = (1..tokens.len()).find(|at| behind::opens(tokens, *at).is_some());
        let (food, rest) = tokens.split_at(cut.unwrap_or(tokens.len()));
        self.marks.mark_tokens(food, SpanKind::Alternative);
        // `or more, if needed`; `or to taste`
        if matches!(word(food, 0), "more" | "to" | "less" | "so" | "as" | "enough") {
            self.marks.mark_tokens(food, SpanKind::Purpose);
        } else {
            others::alternatives(self.text, food, self.line, self.larder);
        }
        if let Some(opened) = behind::opens(rest, 0) {
            self.put(opened, rest);
        }
    }

    /// `about 2 kg`, `(150 g each)`, `(about 6 medium)`; true when the piece is nothing else.
    fn amount(&mut self, tokens: &[Token], piece: &Piece) -> bool {
        let Some(found) = lone(tokens, 0).filter(|it| it.next == tokens.len()) else {
            return false;
        };
        let unit = self.line.unit;
        let is_measured = is_measured(found.amount.unit());
        if found.is_each && is_measured && self.line.packs.is_empty() {
            self.line.packs.push(found.amount);
            self.marks.mark_tokens(tokens, SpanKind::Pack);
        } else if piece.in_brackets || found.is_about {
            let is_pack = unit.is_some_and(super::units::is_container) && !found.is_about;
            if is_pack && is_measured && self.line.packs.is_empty() {
                self.line.packs.push(found.amount);
                self.marks.mark_tokens(tokens, SpanKind::Pack);
                return true;
            }
            if piece.in_brackets {
                self.line.equivalents.push(found.amount.clone());
            }
            if is_measured {
                self.line.about = Some(found.amount);
            }
            self.marks.mark_tokens(tokens, SpanKind::Equivalent);
        } else if self.line.amount.is_none() && self.line.unit.is_none() {
            // `Unsalted butter, 3 tbsp, melted`: the figure stands behind.
            self.line.unit = Some(found.amount.unit());
            self.line.amount = Some(found.amount);
            self.marks.mark_tokens(tokens, SpanKind::Amount);
        } else {
            return false;
        }
        true
    }

    /// `2 carrots, 1 onion and 1 celery stick`: more foods, each with an amount of its own.
    fn another_line(&mut self, tokens: &[Token]) -> bool {
        let foods: Vec<&[Token]> =
            tokens.split(|it| it.word() == "and" || it.is_mark('&')).collect();
        let mut named = Vec::new();
        for food in &foods {
            let is_counted = is_number(food, 0) && amounts::counts_food(food);
            let (amount, food) = amount_and_food(food);
            if !is_counted || amount.is_none() || food.is_empty() || !opens_food(food) {
                return false;
            }
            named.push(food_of(&written(self.text, food).to_lowercase()));
        }
        let stands = self.line.amount.is_some() && !named.is_empty();
        if stands {
            others::also(self.line, named);
        }
        stands
    }

    /// `stock (vegetable or chicken)`: the words in brackets lean on the food before them.
    fn lean_alternatives(&mut self, tokens: &[Token], piece: &Piece) -> bool {
        let foods: Vec<&[Token]> = tokens.split(|it| it.word() == "or").collect();
        let leans = |food: &&[Token]| {
            food.len() == 1
                && (work::is_source(food[0].word()) || work::is_describing(food[0].word()))
        };
        let fits = piece.in_brackets && foods.len() > 1 && foods.iter().all(leans);
        if fits {
            self.kinds = foods.iter().map(|food| written(self.text, food)).collect();
            self.marks.mark_tokens(tokens, SpanKind::Alternative);
        }
        fits
    }

    fn finish(self, mut preparations: Vec<String>) {
        let Self { line, behind, kinds, larder, .. } = self;
        preparations.extend(behind);
        others::complete_states(line);
        others::complete_kinds(&kinds, line, larder);
        // `2 balls, torn`: nothing is named but the measure.
        if line.amount.is_none()
            && line.name.is_empty()
            && line.unit.is_some_and(|it| it != Unit::Each)
        {
            line.amount = line.unit.map(|unit| Amount::of(super::figure::whole(1), unit));
        }
        if line.amount.is_none() && line.unit == Some(Unit::Each) {
            line.unit = None;
        }
        line.preparation = preparations.join(", ");
    }
}

/// Without the words and marks that only join a piece to what stands before it.
fn past_joint<'a, 'b>(tokens: &'a [Token<'b>]) -> &'a [Token<'b>] {
    let is_joint =
        |it: &Token| it.word() == "and" || it.is_mark('&') || it.is_mark('*') || it.is_mark('.');
    let skipped = tokens.iter().take_while(|it| is_joint(it)).count();
    // `1/2 lemon, juice of`
    let hangs = |it: &Token| is_joint(it) || it.word() == "of";
    let end = tokens.iter().rposition(|it| !hangs(it)).map_or(tokens.len(), |at| at + 1);
    &tokens[skipped.min(end)..end]
}

fn only_describes(name: &[Token]) -> bool {
    name.iter().all(|it| {
        let word = it.word();
        it.is_mark(',')
            || word == "and"
            || words::is_no_matter(word)
            || work::is_preparation(word)
            || work::is_manner(word)
            || work::is_quality(word)
    })
}

fn opens_work(tokens: &[Token]) -> bool {
    let first = word(tokens, 0);
    work::is_preparation(first) || work::is_manner(first) || work::is_quality(first)
}

/// Opens as something that is never the rest of a name.
fn is_aside(tokens: &[Token]) -> bool {
    let first = word(tokens, 0);
    matches!(first, "or" | "about" | "to" | "at")
        || work::opens_remark(first)
        || behind::opens(tokens, 0).is_some()
        || is_number(tokens, 0)
}

/// Not `3 times`, `2 hours before`.
fn opens_food(tokens: &[Token]) -> bool {
    let is_other = |word: &str| {
        matches!(
            word,
            "times"
                | "time"
                | "hour"
                | "hours"
                | "minute"
                | "minutes"
                | "days"
                | "day"
                | "more"
                | "people"
                | "total"
                | "in"
                | "at"
                | "to"
                | "for"
                | "or"
                | "wide"
                | "thick"
                | "parts"
        )
    };
    !is_other(word(tokens, 0)) && !word(tokens, 0).is_empty()
}

fn says_remark(tokens: &[Token]) -> bool {
    work::opens_remark(word(tokens, 0)) && !tokens.iter().any(|it| work::is_preparation(it.word()))
        || word(tokens, 0) == "see"
}

/// Names some work or state, and is not somebody speaking.
fn says_work(tokens: &[Token]) -> bool {
    let speaks = work::opens_remark(word(tokens, 0))
        || tokens
            .iter()
            .any(|it| matches!(it.word(), "i" | "i'm" | "i've" | "you" | "we" | "it's"));
    !speaks
        && tokens.iter().any(|it| {
            work::is_preparation(it.word())
                || work::is_manner(it.word())
                || work::is_state(it.word())
        })
}

/// A food that may stand in for the first, as an amount and a name; for `or 1 tsp dried`.
pub(super) fn amount_and_food<'a>(tokens: &'a [Token<'a>]) -> (Option<Amount>, &'a [Token<'a>]) {
    let figures = amounts::read(tokens, 0, &mut Marks::none());
    (figures.amount, &tokens[figures.next..])
}
