//! What the menu forms send, and how it becomes a menu.

use jiff::civil::Date;
use uuid::Uuid;

use crate::domain::dish::{Dish, DishId};
use crate::domain::larder::Allergen;
use crate::domain::menu::{Letter, Menu, TableRule};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::text::Name;

/// Field names with what is wrong, in the order of the page.
pub type Problems = Vec<(&'static str, String)>;

/// The four questions of a new menu.
#[derive(Clone, Debug, Default)]
pub struct NewMenuForm {
    pub name: String,
    pub serve: String,
    pub guests: String,
    pub dishes: Vec<DishId>,
}

/// The next Saturday that leaves two days to cook.
fn next_saturday(today: Date) -> Date {
    let from = today.saturating_add(jiff::Span::new().days(3));
    (0..7)
        .map(|days| from.saturating_add(jiff::Span::new().days(days)))
        .find(|day| day.weekday() == jiff::civil::Weekday::Saturday)
        .unwrap_or(from)
}

/// The hour and the guests of a menu for which nobody was asked yet.
pub fn next_table(zone: &Zone, at: jiff::Timestamp) -> Option<(ServiceTime, Portions)> {
    let saturday = next_saturday(zone.local(at).date());
    let serve = ServiceTime::parse(&format!("{saturday}T19:00"), zone.clone()).ok()?;
    Some((serve, Portions::parse("6").ok()?))
}

type NewMenu = (Name, Portions, ServiceTime, Vec<DishId>);

impl NewMenuForm {
    /// Answered as far as can be: the only dish is ticked, the table stands on the next Saturday
    /// that leaves two days to cook.
    pub fn first(today: Date, dishes: &[Dish]) -> Self {
        let saturday = next_saturday(today);
        let dishes: Vec<DishId> = match dishes {
            [only] => vec![only.id],
            _ => Vec::new(),
        };
        Self {
            name: String::new(),
            serve: format!("{saturday}T19:00"),
            guests: "6".to_owned(),
            dishes,
        }
    }

    pub fn of(pairs: &[(String, String)]) -> Self {
        let one = |key: &str| value(pairs, key).to_owned();
        let dishes = pairs.iter().filter(|(key, _)| key == "dish");
        let dishes = dishes.filter_map(|(_, id)| id.parse().ok()).map(DishId).collect();
        Self { name: one("name"), serve: one("serve"), guests: one("guests"), dishes }
    }

    pub fn check(&self, zone: &Zone, known: &[Dish]) -> (Option<NewMenu>, Problems) {
        let mut problems = Problems::new();
        let name = take("name", Name::parse(&self.name), &mut problems);
        let serve = take("serve", ServiceTime::parse(&self.serve, zone.clone()), &mut problems);
        let guests = take("guests", Portions::parse(&self.guests), &mut problems);
        let mine = |id: &&DishId| known.iter().any(|dish| dish.id == **id);
        let dishes: Vec<DishId> = self.dishes.iter().filter(mine).copied().collect();
        if dishes.is_empty() {
            problems.push(("dish", "Tick at least one dish".to_owned()));
        } else if dishes.len() > Letter::MOST {
            problems.push(("dish", format!("A menu holds at most {} dishes", Letter::MOST)));
        }
        if !problems.is_empty() {
            return (None, problems);
        }
        let new = name.zip(serve).zip(guests);
        (new.map(|((name, serve), guests)| (name, guests, serve, dishes)), problems)
    }
}

/// Everything that can be changed on the page of a menu.
#[derive(Clone, Debug, Default)]
pub struct MenuForm {
    pub version: u32,
    pub name: String,
    pub serve: String,
    pub guests: String,
    pub sweet_after: String,
    pub rule_words: String,
    pub allergens: Vec<Allergen>,
    pub others: String,
    pub strict: bool,
    /// First food, chosen food; as the lists of alternates send them.
    pub choices: Vec<(String, String)>,
    /// The button that was pressed: `up-2`, `down-0`, `out-1`, `in`, or nothing.
    pub press: String,
    pub add: String,
}

impl MenuForm {
    pub fn from(menu: &Menu, version: u32) -> Self {
        let draft = &menu.draft;
        Self {
            version,
            name: menu.name.to_string(),
            serve: draft.serve.local_text(),
            guests: draft.guests.count().to_string(),
            sweet_after: draft.sweet_after_minutes.to_string(),
            rule_words: draft.rule.words.clone(),
            allergens: draft.rule.allergens.clone(),
            others: draft.rule.others.join(", "),
            strict: draft.rule.strict,
            choices: draft.choices.clone().into_iter().collect(),
            press: String::new(),
            add: String::new(),
        }
    }

    pub fn of(pairs: &[(String, String)]) -> Self {
        let one = |key: &str| value(pairs, key).to_owned();
        let allergen = |(key, word): &(String, String)| {
            (key == "allergen").then(|| Allergen::parse(word)).flatten()
        };
        let choice = |(key, chosen): &(String, String)| {
            let first = key.strip_prefix("choice-")?;
            (!chosen.is_empty()).then(|| (first.to_lowercase(), chosen.to_lowercase()))
        };
        Self {
            version: one("version").parse().unwrap_or(0),
            name: one("name"),
            serve: one("serve"),
            guests: one("guests"),
            sweet_after: one("sweet_after"),
            rule_words: one("rule_words"),
            allergens: pairs.iter().filter_map(allergen).collect(),
            others: one("others"),
            strict: one("strict") == "yes",
            choices: pairs.iter().filter_map(choice).collect(),
            press: one("press"),
            add: one("add"),
        }
    }

    /// The menu with what was typed, and the pressed button done.
    pub fn check(&self, before: &Menu) -> (Option<Menu>, Problems) {
        let mut problems = Problems::new();
        let zone = before.draft.serve.zone.clone();
        let name = take("name", Name::parse(&self.name), &mut problems);
        let serve = take("serve", ServiceTime::parse(&self.serve, zone), &mut problems);
        let guests = take("guests", Portions::parse(&self.guests), &mut problems);
        let sweet = match self.sweet_after.trim() {
            "" => Some(0),
            typed => typed.parse::<u32>().ok().filter(|minutes| *minutes <= 600),
        };
        if sweet.is_none() {
            problems.push(("sweet_after", "Write minutes from 0 to 600".to_owned()));
        }
        let dishes = self.dishes(&before.dishes);
        if dishes.is_empty() {
            problems.push(("add", "A menu keeps at least one dish".to_owned()));
        } else if dishes.len() > Letter::MOST {
            problems.push(("add", format!("A menu holds at most {} dishes", Letter::MOST)));
        }
        let (Some(name), Some(serve), Some(guests), Some(sweet)) = (name, serve, guests, sweet)
        else {
            return (None, problems);
        };
        if !problems.is_empty() {
            return (None, problems);
        }
        let others = self.others.split([',', ';']).map(str::trim).filter(|it| !it.is_empty());
        let mut menu = before.clone();
        menu.name = name;
        menu.dishes = dishes;
        menu.draft.serve = serve;
        menu.draft.guests = guests;
        menu.draft.sweet_after_minutes = sweet;
        menu.draft.choices = self.choices.iter().cloned().collect();
        menu.draft.rule = TableRule {
            words: self.rule_words.trim().chars().take(200).collect(),
            allergens: self.allergens.clone(),
            others: others.map(str::to_owned).collect(),
            strict: self.strict,
        };
        (Some(menu), problems)
    }

    fn dishes(&self, before: &[DishId]) -> Vec<DishId> {
        let mut dishes = before.to_vec();
        let (what, place) = self.press.split_once('-').unwrap_or((&self.press, ""));
        let place = place.parse::<usize>().ok().filter(|place| *place < dishes.len());
        match (what, place) {
            ("up", Some(place)) if place > 0 => dishes.swap(place, place - 1),
            ("down", Some(place)) if place + 1 < dishes.len() => dishes.swap(place, place + 1),
            ("out", Some(place)) => drop(dishes.remove(place)),
            ("in", _) => {
                let id = self.add.parse::<Uuid>().ok().map(DishId);
                dishes.extend(id.filter(|id| !before.contains(id)));
            }
            _ => {}
        }
        dishes
    }
}

fn value<'a>(pairs: &'a [(String, String)], key: &str) -> &'a str {
    pairs.iter().rev().find(|(it, _)| it == key).map_or("", |(_, value)| value.as_str())
}

fn take<T, E: std::fmt::Display>(
    field: &'static str,
    read: Result<T, E>,
    problems: &mut Problems,
) -> Option<T> {
    read.map_err(|error| problems.push((field, error.to_string()))).ok()
}
