//! What is inside a box when work stops: foods through parts and bases, and the heat they met.

use std::collections::{BTreeMap, BTreeSet};

use num_traits::ToPrimitive;

use crate::domain::card::{Card, Mark, Source, Step, StepAt, links};
use crate::domain::limit::{Content, Heated, Trait, Waiting, traits_of};
use crate::domain::menu::{Choices, Laid, LaidDish};
use crate::domain::quantity::{Amount, Unit};
use crate::domain::reading::IngredientLine;

/// Minutes of oven or hob after which meat counts as cooked through when the card gives no core
/// temperature. Ours, on the strict side: browned meat stays raw.
const THROUGH_MINUTES: u32 = 15;

/// Bases inside bases, at most so deep; the card reader refuses circles, this only ends the walk.
const DEPTH_MAX: usize = 5;

/// A card with, for each step, all steps that come before it.
pub struct Walk<'a> {
    pub card: &'a Card,
    before: BTreeMap<StepAt, BTreeSet<StepAt>>,
}

impl<'a> Walk<'a> {
    pub fn of(card: &'a Card) -> Self {
        let mut direct: BTreeMap<StepAt, BTreeSet<StepAt>> = BTreeMap::new();
        for link in links(card) {
            direct.entry(link.after).or_default().insert(link.before);
        }
        let mut before = BTreeMap::new();
        for at in all_steps(card) {
            let mut seen = BTreeSet::new();
            let mut open: Vec<StepAt> = direct.get(&at).into_iter().flatten().copied().collect();
            while let Some(next) = open.pop() {
                if next != at && seen.insert(next) {
                    open.extend(direct.get(&next).into_iter().flatten());
                }
            }
            before.insert(at, seen);
        }
        Self { card, before }
    }

    pub fn step(&self, at: StepAt) -> &'a Step {
        &self.card.parts[at.part].steps[at.step]
    }

    /// The step and all before it.
    pub fn up_to(&self, at: StepAt) -> impl Iterator<Item = StepAt> {
        self.before.get(&at).into_iter().flatten().copied().chain([at])
    }

    pub fn comes_before(&self, one: StepAt, other: StepAt) -> bool {
        self.before.get(&other).is_some_and(|it| it.contains(&one))
    }

    /// The steps that come after, in the order of the card.
    pub fn after(&self, at: StepAt) -> impl Iterator<Item = StepAt> {
        all_steps(self.card).filter(move |later| self.comes_before(at, *later))
    }

    /// The last step up to `at` that cooks or adds something: the author's clock starts at its end.
    pub fn last_change(&self, at: StepAt) -> StepAt {
        let changes = |it: &StepAt| heats(self.step(*it)) || !self.step(*it).goes_in.is_empty();
        self.latest(self.up_to(at).filter(changes)).unwrap_or(at)
    }

    /// The last step up to `at` that heats; a cooked food is as old as this.
    pub fn last_heat(&self, at: StepAt) -> Option<StepAt> {
        self.latest(self.up_to(at).filter(|it| heats(self.step(*it))))
    }

    fn latest(&self, steps: impl Iterator<Item = StepAt>) -> Option<StepAt> {
        steps.max_by(|one, other| {
            if self.comes_before(*one, *other) { std::cmp::Ordering::Less } else { one.cmp(other) }
        })
    }
}

pub fn all_steps(card: &Card) -> impl Iterator<Item = StepAt> {
    card.parts
        .iter()
        .enumerate()
        .flat_map(|(part, it)| (0..it.steps.len()).map(move |step| StepAt { part, step }))
}

/// True when the notes, or the verbs where there is no note, put the food on heat.
pub fn heats(step: &Step) -> bool {
    step.oven.is_some() || step.hob.is_some() || step.core.is_some() || says_heat(step)
}

fn says_heat(step: &Step) -> bool {
    const VERBS: &[&str] = &[
        "simmer", "boil", "fry", "roast", "bake", "sweat", "soften", "steam", "poach", "brown",
        "blanch", "scald", "toast", "braise", "stew", "grill", "sear", "cook",
    ];
    // A step that only rests or waits may well speak of what comes later.
    let waits = step.wait.is_some() || step.rest.is_some() || step.chill.is_some();
    let first = step.text.split(|c: char| !c.is_alphabetic()).find(|word| !word.is_empty());
    let first = first.unwrap_or_default();
    let is_verb = VERBS.iter().any(|verb| verb.eq_ignore_ascii_case(first));
    !waits && !step.marks.contains(&Mark::DayOf) && is_verb
}

fn heat_minutes(step: &Step) -> u32 {
    let oven = step.oven.as_ref().map_or(0, |setting| setting.minutes());
    oven + step.hob.map_or(0, |hob| hob.minutes)
}

/// What stands in the box at the end of a step, and how it goes on.
pub fn waiting(
    laid: &Laid,
    choices: &Choices,
    dish: &LaidDish,
    walk: &Walk<'_>,
    at: StepAt,
) -> Waiting {
    let mut contents = contents(laid, choices, walk, at, DEPTH_MAX);
    contents.dedup();
    let last_heat = walk.last_heat(at);
    let joined = |it: StepAt| {
        let cold = last_heat.is_none_or(|heat| walk.comes_before(heat, it));
        cold && walk.step(it).goes_in.iter().any(|entry| {
            matches!(entry.source, Some(Source::Base(_)))
                || !traits_of(&entry.what.food, None).iter().all(|it| is_seasoning(*it))
        })
    };
    let is_joined_cold = last_heat.is_some() && walk.up_to(at).any(joined)
        || walk.up_to(at).any(|it| joins_cooked_parts(walk, it, last_heat));
    let next_heat = walk.after(at).find(|it| heats(walk.step(*it)));
    let part = &walk.card.parts[at.part].name;
    Waiting {
        contents,
        is_joined_cold,
        goes_into_oven: next_heat.is_some_and(|it| walk.step(it).oven.is_some()),
        named: format!("{} {part}", dish.title).to_lowercase(),
    }
}

fn is_seasoning(it: Trait) -> bool {
    matches!(it, Trait::Oil | Trait::Acid | Trait::Herb | Trait::Garlic | Trait::Flour)
}

fn joins_cooked_parts(walk: &Walk<'_>, at: StepAt, last_heat: Option<StepAt>) -> bool {
    let parts = walk.step(at).goes_in.iter();
    let parts = parts.filter(|entry| matches!(entry.source, Some(Source::Part(_)))).count();
    parts > 1 && last_heat.is_some_and(|heat| walk.comes_before(heat, at))
}

fn contents(
    laid: &Laid,
    choices: &Choices,
    walk: &Walk<'_>,
    at: StepAt,
    depth: usize,
) -> Vec<Content> {
    let mut found = Vec::new();
    for entered in walk.up_to(at) {
        let heat = heat_after(walk, entered, at);
        for entry in &walk.step(entered).goes_in {
            match &entry.source {
                Some(Source::Part(_)) => {}
                Some(Source::Base(title)) => {
                    let Some(base) = laid.base(title).filter(|_| depth > 0) else { continue };
                    let inner = Walk::of(&base.card);
                    let Some(end) = all_steps(&base.card).last() else { continue };
                    for mut content in contents(laid, choices, &inner, end, depth - 1) {
                        content.heated = content.heated.max(heat.0);
                        found.push(content);
                    }
                }
                None => found.push(content(laid, choices, &entry.what, heat)),
            }
        }
    }
    found
}

/// The heat between entering and the stop, and whether some of it was an oven's.
fn heat_after(walk: &Walk<'_>, entered: StepAt, at: StepAt) -> (Heated, bool) {
    let steps = walk.up_to(at).filter(|it| *it == entered || walk.comes_before(entered, *it));
    let (mut minutes, mut any, mut core, mut oven) = (0, false, false, false);
    for it in steps.map(|it| walk.step(it)).filter(|step| heats(step)) {
        minutes += heat_minutes(it);
        any = true;
        core |= it.core.is_some();
        oven |= it.oven.is_some();
    }
    let heated = match (any, core || minutes >= THROUGH_MINUTES) {
        (false, _) => Heated::No,
        (true, false) => Heated::Some,
        (true, true) => Heated::Through,
    };
    (heated, oven)
}

fn content(laid: &Laid, choices: &Choices, line: &IngredientLine, heat: (Heated, bool)) -> Content {
    let folded = line.food.to_lowercase();
    let chosen = choices.get(&folded).or_else(|| laid.choices.get(&folded));
    let other = chosen
        .and_then(|wanted| line.alternatives.iter().find(|it| it.food.to_lowercase() == *wanted));
    let (name, found) = match other {
        Some(other) => (other.name.clone(), &other.found),
        None => (line.name.clone(), &line.found),
    };
    let food = found.known().and_then(|key| laid.larder.food(key));
    let traits = traits_of(&name, food);
    Content {
        traits,
        food: name,
        heated: heat.0,
        is_baked: heat.1,
        grams: line.about.as_ref().or(line.amount.as_ref()).and_then(grams),
    }
}

/// Roughly: a millilitre as a gram, a cup as 150 g, a piece as 60 g. Only tells bread from custard.
fn grams(amount: &Amount) -> Option<u32> {
    let each = match amount.unit() {
        Unit::Gram | Unit::Millilitre => 1,
        Unit::Kilogram | Unit::Litre => 1_000,
        Unit::Ounce => 28,
        Unit::Pound => 454,
        Unit::Cup => 150,
        Unit::Tablespoon => 12,
        Unit::Teaspoon => 4,
        Unit::Each => 60,
        _ => return None,
    };
    let each: num_rational::BigRational = num_rational::BigRational::from_integer(each.into());
    (amount.high() * each).to_integer().to_u32()
}
