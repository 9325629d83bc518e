//! What every step asks for at this table: foods with their scaled amounts, choices made.

use num_rational::BigRational;
use num_traits::One;

use super::scale::{Scale, Scaled};
use crate::domain::card::{GoesIn, Source};
use crate::domain::choice::{chosen, found_now, made};
use crate::domain::dish::DishId;
use crate::domain::larder::{Food, Found, Larder};
use crate::domain::menu::{Choices, Laid, LaidDish, Letter, Sitting};
use crate::domain::quantity::{Amount, Kind, Spoons, Unit};
use crate::domain::reading::IngredientLine;

/// Names one step of one dish: what a plan gives a day and an hour to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepKey {
    pub dish: DishId,
    pub part: usize,
    pub step: usize,
}

/// One food at one step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    pub at: StepKey,
    pub letter: Letter,
    /// Singular, as a shopper names it; the chosen one where there are alternatives.
    pub food: String,
    /// As the author wrote it: a list speaks the author's words.
    pub name: String,
    pub found: Found,
    /// Scaled, both ends; none where the card gives no figure.
    pub amount: Option<Amount>,
    /// What the card says the counted pieces weigh in all, scaled: bought weight.
    pub about: Option<Amount>,
    pub preparation: String,
    pub part_of_fruit: Option<FruitPart>,
    pub is_optional: bool,
    pub is_garnish: bool,
    /// What it was written as, where another food was chosen.
    pub instead_of: Option<String>,
    /// Other foods of the line, where nobody chose.
    pub or: Vec<String>,
    /// All other foods that the line names, chosen or not.
    pub else_take: Vec<String>,
    /// The first step that heats it; raw meat counts its days until then.
    pub cooked_at: Option<StepKey>,
    /// The step itself peels or stones it, so the card weighs it as it is bought.
    pub is_as_bought: bool,
    /// What a spoon and a cup of this card hold.
    pub spoons: Spoons,
}

/// Juice and zest share a fruit; everything else of it is bought on top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FruitPart {
    Zest,
    Juice,
    ZestAndJuice,
}

/// Everything that goes in, dish by dish, bases as their own. Alternates follow the table's choices,
/// then the menu's. A base that the menu does not have stands as a food nobody knows.
pub fn needs(laid: &Laid, sitting: &Sitting, scale: &Scale) -> Vec<Need> {
    let mut found = Vec::new();
    let choices = [&sitting.choices, &laid.choices];
    for dish in &laid.dishes {
        let Some(scaled) = scale.of(dish.id) else { continue };
        let table = Table { laid, choices, dish, scaled };
        for (part_at, part) in dish.card.parts.iter().enumerate() {
            for (step_at, step) in part.steps.iter().enumerate() {
                let at = StepKey { dish: dish.id, part: part_at, step: step_at };
                let lines = step.goes_in.iter().filter(|entry| !entry.what.is_heading);
                for entry in lines.filter(|entry| table.is_food(entry)) {
                    found.extend(table.of_entry(entry, at, &step.text));
                }
            }
        }
    }
    found
}

/// One dish as this table makes it.
#[derive(Clone, Copy)]
struct Table<'a> {
    laid: &'a Laid,
    choices: [&'a Choices; 2],
    dish: &'a LaidDish,
    scaled: &'a Scaled,
}

impl Table<'_> {
    fn is_food(self, entry: &GoesIn) -> bool {
        match &entry.source {
            None => true,
            Some(Source::Part(_)) => false,
            Some(Source::Base(title)) => self.laid.base(title).is_none(),
        }
    }

    fn of_line(self, line: &IngredientLine, at: StepKey, text: &str) -> Vec<Need> {
        let chosen = chosen(line, self.choices);
        let (food, found, own) = match chosen {
            Some(other) => (&other.food, &other.found, other.amount.as_ref()),
            None => (&line.food, &line.found, None),
        };
        let scaled = |amount: &Amount| amount.scaled_by(&self.scaled.factor);
        let is_open = made(line, self.choices).is_none();
        let or = line.alternatives.iter().filter(|_| is_open).map(|it| it.name.clone()).collect();
        let others = std::iter::once(&line.name).chain(line.alternatives.iter().map(|it| &it.name));
        let taken = chosen.map_or(&line.name, |other| &other.name);
        let else_take = others.filter(|name| *name != taken).cloned().collect();
        let mut need = Need {
            at,
            letter: self.dish.letter,
            food: food.clone(),
            name: chosen.map_or_else(|| line.name.clone(), |other| other.name.clone()),
            found: found_now(food, found, &self.laid.larder),
            amount: own.or(line.amount.as_ref()).map(scaled),
            about: chosen.is_none().then(|| line.about.as_ref().map(scaled)).flatten(),
            preparation: line.preparation.clone(),
            part_of_fruit: part_of_fruit(line),
            is_optional: line.is_optional,
            is_garnish: line.is_garnish,
            instead_of: chosen.map(|_| line.name.clone()),
            or,
            else_take,
            cooked_at: cooked_at(self.dish, at),
            is_as_bought: is_trimmed_by(text, food),
            spoons: self.laid.spoons,
        };
        // `a pinch of salt`: a word without a figure is one of it.
        if need.amount.is_none()
            && let Some(unit) = line.unit.filter(|unit| unit.kind() == Kind::Loose)
        {
            need.amount = Some(Amount::of(BigRational::one(), unit));
        }
        if line.unit == Some(Unit::Can) {
            tinned(&mut need, &self.laid.larder);
        }
        // An alternate with an amount of its own is bought by that alone: the sum is the first food's.
        let sum = if own.is_some() { &[][..] } else { line.plus.as_slice() };
        let more: Vec<Need> = sum
            .iter()
            .map(|plus| Need { amount: Some(scaled(plus)), about: None, ..need.clone() })
            .collect();
        if let Some(packed) = packed(line, &need, &self.laid.larder) {
            need.amount = Some(packed);
        }
        std::iter::once(need).chain(more).collect()
    }

    /// A base that the menu does not have keeps its title: nothing is known of it.
    fn of_entry(self, entry: &GoesIn, at: StepKey, text: &str) -> Vec<Need> {
        let mut needs = self.of_line(&entry.what, at, text);
        if let Some(Source::Base(title)) = &entry.source {
            for need in &mut needs {
                need.food.clone_from(title);
                need.found = Found::Unknown;
            }
        }
        needs
    }
}

/// A tin holds the tinned food: `tins chopped tomatoes` are never added to fresh ones.
fn tinned(need: &mut Need, larder: &Larder) {
    let Some(food) = need.found.known().and_then(|key| larder.food(key)) else { return };
    let is_by_tin = food.packs.iter().any(|pack| pack.unit() == Unit::Can);
    let is_fresh = ["vegetables and fruit", "vegetables", "greens", "fruit", "meat and fish"];
    if is_by_tin || !is_fresh.contains(&&*food.aisle) {
        return;
    }
    let names = [&food.name, &food.plural];
    let named = names.iter().flat_map(|name| {
        [format!("{} {name}", need.preparation), format!("canned {name}"), format!("tinned {name}")]
    });
    let found = named.map(|name| larder.find(&name)).find(|it| {
        let tin = it.known().and_then(|key| larder.food(key));
        tin.is_some_and(|tin| !is_fresh.contains(&&*tin.aisle))
    });
    let fresh = food.key.clone();
    need.food = format!("tinned {}", food.plural);
    need.found = found.unwrap_or(Found::Perhaps(vec![fresh]));
}

/// The first step from `at` on that heats what went in there: in its own part, else in the finish.
fn cooked_at(dish: &LaidDish, at: StepKey) -> Option<StepKey> {
    let parts = &dish.card.parts;
    let own = parts[at.part].steps.iter().enumerate().skip(at.step);
    let own = own.map(|(step, it)| (at.part, step, it));
    let finish =
        parts.iter().enumerate().filter(|(place, part)| part.is_finish && *place != at.part);
    let finish = finish.flat_map(|(place, part)| {
        part.steps.iter().enumerate().map(move |(step, it)| (place, step, it))
    });
    own.chain(finish)
        .find(|(_, _, step)| step.oven.is_some() || step.hob.is_some() || step.core.is_some())
        .map(|(part, step, _)| StepKey { dish: at.dish, part, step })
}

/// `Scald, skin and stone the peaches`: work on the whole fruit, so its weight is the bought one.
/// A preparation after the comma (`500 g carrots, peeled`) says how it is when weighed.
fn is_trimmed_by(text: &str, food: &str) -> bool {
    const VERBS: [&str; 12] = [
        "peel", "skin", "stone", "pit", "core", "trim", "shell", "hull", "bone", "pod", "deseed",
        "shuck",
    ];
    /// How far before its food a verb may stand: `peel, halve and core the ripe pears`.
    const REACH: usize = 6;
    let Some(name) = food.split_whitespace().last().map(str::to_lowercase) else { return false };
    let stem = name.trim_end_matches('s').trim_end_matches('e').trim_end_matches('y');
    let is_food = |word: &str| stem.len() > 2 && word.starts_with(stem);
    text.to_lowercase().split(['.', ';', ':']).any(|sentence| {
        let words: Vec<&str> =
            sentence.split(|c: char| !c.is_alphanumeric()).filter(|it| !it.is_empty()).collect();
        words.iter().enumerate().any(|(at, word)| {
            let before = &words[at.saturating_sub(REACH)..at];
            is_food(word) && before.iter().any(|it| VERBS.contains(it))
        })
    })
}

/// `2 x 400 g tins`: bought as weight, unless the larder sells the food by the tin.
fn packed(line: &IngredientLine, need: &Need, larder: &Larder) -> Option<Amount> {
    let [pack] = line.packs.as_slice() else { return None };
    let count = need.amount.as_ref()?;
    pack.unit().in_base(need.spoons)?;
    let food = need.found.known().and_then(|key| larder.food(key));
    let by_tin = |food: &Food| food.packs.iter().any(|it| it.unit() == count.unit());
    if food.is_some_and(by_tin) {
        return None;
    }
    Some(Amount::between(count.low() * pack.low(), count.high() * pack.high(), pack.unit()))
}

/// `2 lemons, zest only`; `zest and juice of 1 lime` needs the fruit once.
fn part_of_fruit(line: &IngredientLine) -> Option<FruitPart> {
    if line.unit != Some(Unit::Each) {
        return None;
    }
    let words: Vec<String> = line
        .preparation
        .split(|c: char| !c.is_alphabetic())
        .map(str::to_lowercase)
        .filter(|word| !word.is_empty())
        .collect();
    let holds = |stem: &str| words.iter().any(|word| word.starts_with(stem));
    match (holds("zest"), holds("juice")) {
        (true, true) => Some(FruitPart::ZestAndJuice),
        (true, false) => Some(FruitPart::Zest),
        (false, true) => Some(FruitPart::Juice),
        (false, false) => None,
    }
}
