//! The rule of the table against the menu: which dish, by which food, and what would fit instead.
//!
//! A dish that raises nothing "fits the rule as written": the recipe names nothing the rule forbids.
//! It is never called free from anything.

use super::entries::{self, Entry};
use super::{Says, is_kind_of, says};
use crate::domain::choice::Allowed;
use crate::domain::dish::DishId;
use crate::domain::larder::{Allergen, Allergens, Certainty, Food, Found, Larder};
use crate::domain::menu::{Laid, Letter, Sitting, TableRule};

/// What must not be on the table.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Forbidden {
    Allergen(Allergen),
    /// A food or a group of foods, as typed.
    Other(String),
}

impl Forbidden {
    pub fn word(&self) -> &str {
        match self {
            Self::Allergen(allergen) => allergen.word(),
            Self::Other(words) => words,
        }
    }
}

/// Mildest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Traces do not count at this table; the label is read all the same.
    ReadLabel(Certainty),
    /// Traces count: somebody reads the label, or asks the maker, before it is used.
    Ask(Certainty),
    /// The larder cannot say.
    NotKnown,
    Breaks,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    pub dish: DishId,
    pub letter: Letter,
    pub title: String,
    pub forbidden: Forbidden,
    pub food: String,
    /// The base it comes with.
    pub via: Option<String>,
    pub verdict: Verdict,
    /// Alternatives of the card that raise nothing, or only a label to read.
    pub fits_with: Vec<String>,
    /// The card calls it optional.
    pub can_leave_out: bool,
    /// Line of the card (of the base, where there is one).
    pub line: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DishVerdict {
    FitsAsWritten,
    Ask,
    /// With another choice, or without something optional.
    CanBeAdapted,
    DoesNotFit,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RuleCheck {
    pub findings: Vec<Finding>,
    /// Every dish that is eaten, in menu order.
    pub dishes: Vec<(DishId, DishVerdict)>,
    /// Words of the rule that are neither a food nor a group of the larder: only names that hold
    /// the word are found.
    pub unknown_words: Vec<String>,
}

impl Finding {
    /// One sentence for the person who plans the menu.
    pub fn sentence(&self) -> String {
        let colon = if self.verdict == Verdict::Breaks { "" } else { ":" };
        format!("{}{colon} {}", self.title, self.words())
    }

    /// The same without the name of the dish, for a list under it.
    pub fn words(&self) -> String {
        let via = self.via.as_ref().map(|base| format!(", in {base}")).unwrap_or_default();
        let (food, word) = (&self.food, self.forbidden.word());
        let says = match self.verdict {
            Verdict::Breaks => format!("has {word}: {food}{via}."),
            Verdict::NotKnown => {
                format!("not known whether {food}{via} has {word}. Ask, or choose another.")
            }
            Verdict::Ask(certainty) => {
                let certainty = certainty.word();
                format!("ask about {word} in {food}{via} ({certainty}); read label.")
            }
            Verdict::ReadLabel(certainty) => {
                let certainty = certainty.word();
                format!("read label of {food}{via} for {word} ({certainty}).")
            }
        };
        let instead = match (self.fits_with.is_empty(), self.can_leave_out) {
            (false, _) => format!(" Choose {} instead.", self.fits_with.join(" or ")),
            (true, true) => " It is optional: leave it out.".to_owned(),
            (true, false) => String::new(),
        };
        says + &instead
    }
}

/// Checks the menu's rule and the table's own, with the choices made.
pub fn rule_check(laid: &Laid, sitting: &Sitting) -> RuleCheck {
    let rules = [&laid.rule, &sitting.rule];
    let mut check = RuleCheck { unknown_words: unknown_words(rules, laid), ..RuleCheck::default() };
    for dish in laid.eaten().filter(|dish| !sitting.without.contains(&dish.id)) {
        let mut worst = DishVerdict::FitsAsWritten;
        let entries = entries::of_dish(dish, laid, [&sitting.choices, &laid.choices]);
        for (forbidden, strict) in forbidden(rules) {
            for entry in &entries {
                let now = entry.options.now();
                let Some(verdict) = judge(now, &forbidden, strict, &laid.larder) else { continue };
                let fits = |other: &&Allowed| {
                    judge(other, &forbidden, strict, &laid.larder)
                        .is_none_or(|it| matches!(it, Verdict::Ask(_) | Verdict::ReadLabel(_)))
                };
                let fits_with = match verdict {
                    Verdict::Breaks | Verdict::NotKnown => {
                        entry.options.others().filter(fits).map(|it| it.name.clone()).collect()
                    }
                    _ => Vec::new(),
                };
                let finding = Finding {
                    dish: dish.id,
                    letter: dish.letter,
                    title: dish.title.clone(),
                    forbidden: forbidden.clone(),
                    food: now.name.clone(),
                    via: entry.via.clone(),
                    verdict,
                    fits_with,
                    can_leave_out: entry.is_optional,
                    line: entry.line,
                };
                worst = worst.max(dish_verdict(&finding, entry));
                check.findings.push(finding);
            }
        }
        check.dishes.push((dish.id, worst));
    }
    check
}

fn dish_verdict(finding: &Finding, entry: &Entry) -> DishVerdict {
    match finding.verdict {
        Verdict::ReadLabel(_) => DishVerdict::FitsAsWritten,
        Verdict::Ask(_) => DishVerdict::Ask,
        Verdict::NotKnown if finding.fits_with.is_empty() => DishVerdict::Ask,
        _ if !finding.fits_with.is_empty() || entry.is_optional => DishVerdict::CanBeAdapted,
        _ => DishVerdict::DoesNotFit,
    }
}

/// Everything forbidden, each once; strict where either rule is.
fn forbidden(rules: [&TableRule; 2]) -> Vec<(Forbidden, bool)> {
    let mut all: Vec<(Forbidden, bool)> = Vec::new();
    for rule in rules {
        let allergens = rule.allergens.iter().map(|it| Forbidden::Allergen(*it));
        let others = rule.others.iter().map(|it| Forbidden::Other(it.trim().to_lowercase()));
        for forbidden in allergens.chain(others) {
            match all.iter_mut().find(|(it, _)| *it == forbidden) {
                Some((_, strict)) => *strict |= rule.strict,
                None => all.push((forbidden, rule.strict)),
            }
        }
    }
    all
}

/// None where the food raises nothing.
fn judge(food: &Allowed, forbidden: &Forbidden, strict: bool, larder: &Larder) -> Option<Verdict> {
    let label = |it| if strict { Verdict::Ask(it) } else { Verdict::ReadLabel(it) };
    match forbidden {
        Forbidden::Allergen(allergen) => match says(&food.found, *allergen, larder) {
            Says::Contains => Some(Verdict::Breaks),
            Says::Check(certainty) => Some(label(certainty)),
            Says::NotKnown => Some(Verdict::NotKnown),
            Says::Nothing if *allergen == Allergen::Wheat => gluten_of_what(food, larder),
            Says::Nothing => None,
        },
        Forbidden::Other(words) => match food.found.known().and_then(|key| larder.food(key)) {
            Some(known) => other(known, words, larder),
            None if holds_word(&food.name, words) => Some(Verdict::Breaks),
            None => Some(Verdict::NotKnown),
        },
    }
}

/// A cereal with gluten that the larder does not call wheat may be wheat: ask.
fn gluten_of_what(food: &Allowed, larder: &Larder) -> Option<Verdict> {
    let known = food.found.known().and_then(|key| larder.food(key))?;
    let Allergens::Entered { contains, .. } = &known.allergens else { return None };
    let gluten = contains.iter().any(|it| is_kind_of(*it, Allergen::Gluten));
    gluten.then_some(Verdict::Ask(Certainty::Depends))
}

fn other(food: &Food, words: &str, larder: &Larder) -> Option<Verdict> {
    let is_it = |key| food.key == key || food.from.as_ref().is_some_and(|it| it.fruit == key);
    if let Found::Known(key) = larder.find(words)
        && is_it(key)
    {
        return Some(Verdict::Breaks);
    }
    if food.groups.iter().any(|group| is_group(group, words)) {
        return Some(Verdict::Breaks);
    }
    // A name that only holds the word may be another thing: nutmeg is no nut. A person decides.
    if holds_word(&food.name, words) {
        return Some(Verdict::Ask(Certainty::Depends));
    }
    // A bought pie crust may hold lard: what it is made of, nobody has entered.
    let is_made_of_several = food.groups.iter().any(|group| &**group == "composite");
    is_made_of_several.then_some(Verdict::NotKnown)
}

/// Two words for one group of the larder.
const SAME: [(&str, &str); 4] =
    [("pulse", "legume"), ("soya", "soy"), ("mushroom", "fungus"), ("red meat", "meat red")];

/// Whether a tag of the larder (`tree_nut`) is what was typed (`Tree nuts`).
fn is_group(group: &str, words: &str) -> bool {
    let typed = singular(words);
    let meant = SAME.iter().find(|(word, _)| *word == typed).map_or(typed.as_str(), |it| it.1);
    let group = singular(&group.replace('_', " "));
    group == typed || group == meant
}

fn holds_word(name: &str, words: &str) -> bool {
    let split = |text: &str| -> Vec<String> {
        text.split(|c: char| !c.is_alphanumeric())
            .filter(|it| !it.is_empty())
            .map(singular)
            .collect()
    };
    let (name, words) = (split(name), split(words));
    !words.is_empty() && name.windows(words.len()).any(|it| it == words)
}

/// `pulses` and `Pulse`, `berries` and `berry` are the same word.
fn singular(word: &str) -> String {
    let folded = word.trim().to_lowercase();
    if let Some(stem) = folded.strip_suffix("ies") {
        return format!("{stem}y");
    }
    for ending in ["oes", "ches", "shes"] {
        if folded.ends_with(ending) && folded.len() > ending.len() {
            return folded[..folded.len() - 2].to_owned();
        }
    }
    match folded.strip_suffix('s') {
        Some(stem) if !stem.ends_with('s') && stem.len() > 1 => stem.to_owned(),
        _ => folded,
    }
}

fn unknown_words(rules: [&TableRule; 2], laid: &Laid) -> Vec<String> {
    let larder = &laid.larder;
    let is_known_group = |words: &str| {
        larder.foods().iter().flat_map(|food| &food.groups).any(|group| is_group(group, words))
    };
    let mut unknown: Vec<String> = Vec::new();
    for words in rules.iter().flat_map(|rule| &rule.others) {
        let known = larder.find(words).known().is_some() || is_known_group(words);
        if !known && !unknown.contains(words) {
            unknown.push(words.clone());
        }
    }
    unknown
}
