//! Which step each thing goes in at: the one whose sentence names it.

use std::collections::{BTreeMap, BTreeSet};

use super::{Group, Home, LOOKS_MAX, PartName, PartPlan, Pasted, Piece};
use crate::domain::reading::IngredientLine;

/// The parts of the card, one a group of the method; one empty part where there is no method.
pub fn parts(pasted: &Pasted) -> Vec<PartPlan<'_>> {
    let mut first = 0;
    let mut parts = Vec::new();
    let filled = pasted.method.iter().filter(|group| !group.lines.is_empty());
    for group in filled {
        let heading = group.heading.as_ref();
        let name = heading.map_or(PartName::None, |piece| name_of(&piece.words));
        parts.push(PartPlan { heading, name, steps: group.lines.clone(), first });
        first += group.lines.len();
    }
    unlike(&mut parts);
    if parts.is_empty() {
        parts.push(PartPlan { heading: None, name: PartName::None, steps: Vec::new(), first: 0 });
    }
    parts
}

/// Two parts of one name cannot be told apart; only the last may be the finish.
fn unlike(parts: &mut [PartPlan<'_>]) {
    let last = parts.len().saturating_sub(1);
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for (index, part) in parts.iter_mut().enumerate() {
        if part.name == PartName::Finish && index != last {
            part.name = PartName::Named("to finish".to_owned());
        }
        if let PartName::Named(name) = &mut part.name {
            let count = seen.entry(name.clone()).or_default();
            *count += 1;
            if *count > 1 {
                *name = format!("{name} {count}");
            }
        }
    }
}

/// `For the green sauce:` is the green sauce.
fn name_of(words: &str) -> PartName {
    let words = words.trim_matches(['*', '#', ':', ' ', '.', '+', '-']).to_lowercase();
    let words = words.split(['[', ']']).collect::<Vec<_>>().join(" ");
    let strips = ["for the ", "to make the ", "make the ", "for ", "the "];
    let name = strips.iter().find_map(|start| words.strip_prefix(start)).unwrap_or(&words).trim();
    match name {
        "" => PartName::None,
        "to serve" | "to finish" | "finish" | "assembly" | "to assemble" | "serving" => {
            PartName::Finish
        }
        _ => PartName::Named(name.to_owned()),
    }
}

/// Headings that no part of the card bears; their words are kept.
pub fn headings_without_steps<'a>(
    pasted: &'a Pasted,
    parts: &[PartPlan<'_>],
) -> impl Iterator<Item = &'a Piece> {
    let borne: BTreeSet<usize> = parts
        .iter()
        .filter(|part| part.name != PartName::None)
        .filter_map(|part| Some(part.heading?.line))
        .collect();
    let of = |groups: &'a [Group]| groups.iter().filter_map(|group| group.heading.as_ref());
    of(&pasted.method)
        .filter(move |piece| piece.line == 0 || !borne.contains(&piece.line))
        .chain(of(&pasted.ingredients))
}

/// For every line that goes in, the step that names it; the first one where none does.
pub fn homes<'a>(
    pasted: &'a Pasted,
    parts: &[PartPlan<'_>],
    read: impl Fn(&str) -> IngredientLine,
) -> Vec<Home<'a>> {
    let steps: Vec<BTreeSet<String>> =
        parts.iter().flat_map(|part| &part.steps).map(|step| stems(&step.words)).collect();
    let count: usize = pasted.ingredients.iter().map(|group| group.lines.len()).sum();
    let is_short = count.saturating_mul(steps.len()) <= LOOKS_MAX;
    let mut homes = Vec::new();
    for group in &pasted.ingredients {
        let own = group.heading.as_ref().map(|piece| name_of(&piece.words));
        let part = parts.iter().find(|part| {
            own.as_ref().is_some_and(|own| *own == part.name && *own != PartName::None)
        });
        let within = part.map_or(0..steps.len(), PartPlan::range);
        for piece in &group.lines {
            let line = read(&piece.words);
            let looked = if is_short { within.clone() } else { 0..0 };
            let best = best(&line, &steps[looked]).map(|step| step + within.start);
            homes.push(Home { piece, step: best.unwrap_or(within.start), is_sure: best.is_some() });
        }
    }
    homes
}

/// The step that names most of a food; the noun counts more than what stands before it.
fn best(line: &IngredientLine, steps: &[BTreeSet<String>]) -> Option<usize> {
    const NOUN: usize = 3;
    let mut names = vec![line.name.clone()];
    names.extend(line.alternatives.iter().map(|other| other.name.clone()));
    let weigh = |step: &BTreeSet<String>| {
        let of_name = |name: &String| {
            let noun = name.split_whitespace().last().map(stem).unwrap_or_default();
            let said = stems(name).into_iter().filter(|stem| step.contains(stem));
            said.map(|stem| match stem {
                stem if stem == noun => NOUN,
                stem if KINDS.contains(&stem.as_str()) => 0,
                _ => 1,
            })
            .sum::<usize>()
        };
        names.iter().map(of_name).max().unwrap_or_default()
    };
    let weights: Vec<usize> = steps.iter().map(weigh).collect();
    let most = weights.iter().copied().max().filter(|most| *most > 0);
    let seasoned = || {
        let is_seasoning = stems(&line.name).iter().any(|it| it == "salt" || it == "pepper");
        let says = |step: &BTreeSet<String>| step.contains("season");
        steps.iter().position(says).filter(|_| is_seasoning)
    };
    let together = || {
        let says =
            |step: &BTreeSet<String>| step.contains("everything") || step.contains("ingredient");
        steps.iter().position(says)
    };
    most.and_then(|most| weights.iter().position(|weight| *weight == most))
        .or_else(seasoned)
        .or_else(together)
}

/// Words that name no food by themselves.
const KINDS: [&str; 28] = [
    "and", "the", "for", "with", "plus", "into", "large", "small", "medium", "fresh", "dried",
    "ground", "fine", "whole", "plain", "ripe", "hot", "cold", "soft", "new", "black", "white",
    "red", "green", "sweet", "good", "extra", "unsalted",
];

fn stems(words: &str) -> BTreeSet<String> {
    words.split(|c: char| !c.is_alphanumeric()).filter(|it| it.len() > 2).map(stem).collect()
}

/// One form for `tomato`, `tomatoes`; `onion`, `onions`; `berry`, `berries`.
fn stem(word: &str) -> String {
    let word = word.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase();
    if let Some(stem) = word.strip_suffix("ies") {
        return format!("{stem}y");
    }
    if let Some(stem) = word.strip_suffix("oes") {
        return format!("{stem}o");
    }
    match word.strip_suffix('s') {
        Some(stem) if !stem.ends_with('s') => stem.to_owned(),
        _ => word,
    }
}
