//! What stands behind a food in the same breath: other uses, purposes, options, states, remarks.
//!
//! ```text
//! behind = ("plus" | "+") amount? words             another use of the same food
//!        | "for" words | "to" verb | "as needed"    a purpose; "to garnish" sets it apart
//!        | "if" ("liked" | "using" | …) | "optional"
//!        | "with" words | "in" ("the" | "its") words | "at room temperature"   a state
//!        | "such as" words | "from" words | "preferably" words                  a remark
//! ```

use super::figure::{is_mark, word};
use super::token::Token;
use super::{words, work};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Behind {
    AnotherUse,
    Garnish,
    Purpose,
    Optional,
    Preparation,
    Remark,
}

/// What the words from `at` on are, when they open something that is no food.
pub(super) fn opens(tokens: &[Token], at: usize) -> Option<Behind> {
    let (first, second, third) = (word(tokens, at), word(tokens, at + 1), word(tokens, at + 2));
    let is_last = tokens.len() == at + 1;
    Some(match first {
        "" if is_mark(tokens, at, '+') => Behind::AnotherUse,
        "plus" => Behind::AnotherUse,
        "more" if matches!(second, "if" | "as" | "to" | "for") => Behind::Purpose,
        "for" if is_garnish(second) => Behind::Garnish,
        "to" if is_garnish(second) => Behind::Garnish,
        "for" if !is_last => Behind::Purpose,
        "to" if is_purpose(tokens, at) => Behind::Purpose,
        "as" if matches!(second, "needed" | "required" | "desired" | "necessary") => {
            Behind::Purpose
        }
        "as" if second == "you" || second == "much" => Behind::Purpose,
        "divided" if is_last => Behind::Purpose,
        "optional" | "opt" => Behind::Optional,
        "if" if is_option(tokens, at) => Behind::Optional,
        "not" if second == "essential" => Behind::Optional,
        "if" | "unless" => Behind::Remark,
        "with" | "without" | "including" | "stuffed" | "dissolved" | "blended" if !is_last => {
            Behind::Preparation
        }
        "mixed" if second == "with" => Behind::Preparation,
        "left" if second == "whole" => Behind::Preparation,
        "at" if second == "room" => Behind::Preparation,
        "straight" if second == "from" => Behind::Preparation,
        "in" if is_own_cover(second, third) => Behind::Preparation,
        "from" if matches!(second, "the") && third == "fridge" => Behind::Preparation,
        "from" | "preferably" | "ideally" if !is_last => Behind::Remark,
        "such" if second == "as" => Behind::Remark,
        "like" | "eg" | "sometimes" | "called" | "aka" if !is_last => Behind::Remark,
        "e" if is_mark(tokens, at + 1, '.') && third == "g" => Behind::Remark,
        "see" if matches!(second, "recipe" | "note" | "notes" | "page" | "below" | "above") => {
            Behind::Remark
        }
        "recipe" if matches!(second, "follows" | "below" | "above") => Behind::Remark,
        _ => return None,
    })
}

fn is_garnish(word: &str) -> bool {
    matches!(word, "garnish" | "decorate" | "decoration" | "garnishing" | "decorating")
}

/// `to taste`, `to serve`, `to dust the tin`; not `ready to eat`, nor `to 2 cm`.
fn is_purpose(tokens: &[Token], at: usize) -> bool {
    let before = if at > 0 { word(tokens, at - 1) } else { "" };
    let is_ready = matches!(before, "ready" | "up" | "close") || words::is_size(before);
    !is_ready && !word(tokens, at + 1).is_empty()
}

fn is_option(tokens: &[Token], at: usize) -> bool {
    matches!(
        (word(tokens, at + 1), word(tokens, at + 2)),
        ("liked" | "using" | "desired" | "wanted" | "wished" | "preferred" | "available", _)
            | ("you", "like" | "wish" | "want" | "fancy" | "prefer" | "have")
    )
}

/// `shrimp in the shell`, `potatoes in their skins`, `a fish in one piece`.
fn is_own_cover(second: &str, third: &str) -> bool {
    matches!(second, "the" | "its" | "their" | "one" | "small" | "bite-sized" | "bite-size")
        && (matches!(third, "piece" | "pieces" | "pod" | "pods" | "husk" | "husks" | "chunks")
            || ["shell", "skin", "jacket"].iter().any(|it| third.starts_with(it)))
}

/// Only work to the end: participles and adverbs, then at most a phrase (`cut into strips`).
pub(super) fn is_all_work(tokens: &[Token]) -> bool {
    for token in tokens {
        let word = token.word();
        if is_phrase(word) {
            return true;
        }
        let is_work = work::is_preparation(word) || work::is_manner(word);
        if !(is_work
            || matches!(word, "and" | "or" | "&")
            || token.is_mark('&')
            || token.is_mark(','))
        {
            return false;
        }
    }
    true
}

fn is_phrase(word: &str) -> bool {
    matches!(
        word,
        "in" | "into"
            | "to"
            | "on"
            | "at"
            | "with"
            | "off"
            | "from"
            | "by"
            | "as"
            | "if"
            | "then"
            | "half"
            | "through"
            | "across"
            | "lengthways"
            | "lengthwise"
            | "crosswise"
            | "crossways"
            | "open"
            | "apart"
            | "up"
            | "dry"
    )
}
