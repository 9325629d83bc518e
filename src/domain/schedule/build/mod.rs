//! From cards, a table, a kitchen and free days to a problem in minutes.

mod days;
mod holds;
mod jobs;
mod limits;
mod links;
mod ways;

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::problem::{Done, Problem};
use crate::domain::card::{Card, StepAt, links::cycle};
use crate::domain::home::CookDay;
pub use crate::domain::home::{StepOf, Wishes};
use crate::domain::keeps::{DishKeeps, bases_of, keeps};
use crate::domain::kitchen::Kitchen;
use crate::domain::menu::{Laid, LaidDish, Sitting};
use crate::domain::shopping::{Scale, scale};

/// The most steps of one dish, and dishes of one menu with its bases, that are planned.
pub const STEPS_MOST: usize = 60;
pub const DISHES_MOST: usize = 26;

/// Everything a problem is made of.
#[derive(Clone, Debug)]
pub struct Facts<'a> {
    pub laid: &'a Laid,
    pub sitting: &'a Sitting,
    pub kitchen: &'a Kitchen,
    /// Days before the serving day, and the serving day itself where its hours are known.
    pub cook_days: &'a [CookDay],
    /// What is not done yet cannot begin earlier.
    pub now: Option<Timestamp>,
    pub wishes: &'a Wishes,
    /// What is finished, with its true time.
    pub done: &'a BTreeMap<StepOf, DoneAt>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DoneAt {
    pub start: Timestamp,
    pub end: Timestamp,
}

/// A fact that no plan can be made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nonsense {
    pub field: Field,
    pub sentence: String,
}

/// Where it was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Field {
    CookDays,
    Kitchen,
    Menu,
    Wishes,
}

/// A problem, and what was assumed on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    pub problem: Problem,
    /// Finished sentences.
    pub notes: Vec<String>,
}

/// Makes the problem, or says everything that stands in its way at once.
pub fn build(facts: &Facts) -> Result<Built, Vec<Nonsense>> {
    let mut nonsense = menu_nonsense(facts);
    nonsense.extend(kitchen_nonsense(facts.kitchen));
    let days = days::days(facts).unwrap_or_else(|found| {
        nonsense.extend(found);
        days::Days::default()
    });
    if !nonsense.is_empty() {
        return Err(nonsense);
    }
    let all = keeps(facts.laid, facts.sitting);
    let scale = scale(facts.laid, facts.sitting);
    let dishes = planned(facts, &all, &scale);
    let mut building = Building {
        facts,
        problem: days.problem(facts),
        dishes,
        places: BTreeMap::new(),
        notes: scale.problems.clone(),
    };
    jobs::put_all(&mut building);
    links::put_all(&mut building);
    ways::start_cold(&mut building);
    limits::put_all(&mut building);
    jobs::put_wishes(&mut building).map_err(|found| vec![found])?;
    Ok(Built { problem: building.problem, notes: building.notes })
}

/// A problem while it is being made.
struct Building<'a> {
    facts: &'a Facts<'a>,
    problem: Problem,
    dishes: Vec<Planned<'a>>,
    /// The job of a step, by place in `dishes`; steps that fall away have none.
    places: BTreeMap<(usize, StepAt), usize>,
    notes: Vec<String>,
}

/// One dish or base with all that is known of it.
struct Planned<'a> {
    laid: &'a LaidDish,
    keeps: DishKeeps,
    factor: crate::domain::quantity::ScaleFactor,
    shelf_sixtieths: Option<u32>,
    /// The author's other way is taken: no room in the freezer.
    without_freezer: bool,
    table_minute: i32,
}

/// The dishes that this table eats and the bases in them; what is unused is not made.
fn planned<'a>(facts: &Facts<'a>, all: &[DishKeeps], scale: &Scale) -> Vec<Planned<'a>> {
    let mut found = Vec::new();
    for dish in &facts.laid.dishes {
        let (Some(keeps), Some(scaled)) =
            (all.iter().find(|it| it.dish == dish.id), scale.of(dish.id))
        else {
            continue;
        };
        let litres = holds::freezer_need(&dish.card, &scaled.factor);
        let room = facts.kitchen.freezer.freezer_litres() * 100;
        let no_room = dish.card.no_freezer.is_some() && litres > room;
        found.push(Planned {
            laid: dish,
            keeps: keeps.clone(),
            factor: scaled.factor.clone(),
            shelf_sixtieths: ways::shelves_of(&scaled.vessels),
            without_freezer: scaled.without_freezer || no_room,
            table_minute: 0,
        });
    }
    found
}

fn menu_nonsense(facts: &Facts) -> Vec<Nonsense> {
    let mut found = Vec::new();
    let mut say = |sentence: String| found.push(Nonsense { field: Field::Menu, sentence });
    let dishes: Vec<&LaidDish> = facts.laid.dishes.iter().collect();
    if dishes.iter().all(|it| it.is_base || facts.sitting.without.contains(&it.id)) {
        say("No dish is left on this menu; there is nothing to plan".to_owned());
    }
    if dishes.len() > DISHES_MOST {
        let count = dishes.len();
        say(format!("A plan holds at most {DISHES_MOST} dishes and bases; this menu has {count}"));
    }
    for dish in &dishes {
        let (title, count) = (&dish.title, dish.card.steps().count());
        if count > STEPS_MOST {
            say(format!(
                "{title} has {count} steps; a plan holds at most {STEPS_MOST} of one dish"
            ));
        }
        if let Some(line) = cycle(&dish.card) {
            say(format!("{title}, line {line}: this step waits for itself; take one link away"));
        }
    }
    if let Some(title) = base_in_itself(facts.laid) {
        say(format!("{title} goes into itself by way of other bases; none can be made first"));
    }
    found
}

/// A base that needs itself, through whatever others.
fn base_in_itself(laid: &Laid) -> Option<&str> {
    let inside = |card: &Card| -> Vec<&LaidDish> {
        bases_of(card).iter().filter_map(|title| laid.base(title)).collect()
    };
    laid.dishes.iter().filter(|dish| dish.is_base).find_map(|dish| {
        let mut open = inside(&dish.card);
        let mut seen = Vec::new();
        while let Some(next) = open.pop() {
            if next.id == dish.id {
                return Some(dish.title.as_str());
            }
            if !seen.contains(&next.id) {
                seen.push(next.id);
                open.extend(inside(&next.card));
            }
        }
        None
    })
}

fn kitchen_nonsense(kitchen: &Kitchen) -> Vec<Nonsense> {
    let mut found = Vec::new();
    let mut say = |sentence: String| found.push(Nonsense { field: Field::Kitchen, sentence });
    for (place, oven) in kitchen.ovens.iter().enumerate() {
        if oven.shelves == 0 {
            let name = days::oven_name(place, kitchen.ovens.len());
            say(format!("{name} has no shelf; give it one or leave it out"));
        }
    }
    if kitchen.hands == 0 {
        say("Nobody cooks in this kitchen; give it at least one pair of hands".to_owned());
    }
    found
}

impl Building<'_> {
    fn card(&self, dish: usize) -> &Card {
        &self.dishes[dish].laid.card
    }
}

/// A done step in minutes of the problem.
fn done_minutes(problem: &Problem, at: DoneAt) -> Done {
    let (start_minute, end_minute) = (problem.minute(at.start), problem.minute(at.end));
    Done { start_minute: start_minute.min(end_minute), end_minute, hold: None }
}
