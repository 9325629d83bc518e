//! View models of menus.

use askama::Template;

use super::form::{MenuForm, NewMenuForm, Problems};
use crate::domain::allergen::{Verdict, rule_check, sheet};
use crate::domain::card::{Card, DishKind};
use crate::domain::dish::Dish;
use crate::domain::keeps::{DishKeeps, Prefer, ahead, keeps};
use crate::domain::larder::Allergen;
use crate::domain::layout::LaidOut;
use crate::domain::menu::{Laid, LaidDish, Menu, Sitting};
use crate::domain::remark::{Place, Weight};
use crate::storage::{MenuLine, PublicationLine};
use crate::web::frame::Frame;
use crate::web::sheets::SheetKind;

#[derive(Template)]
#[template(path = "menus/list.html")]
pub struct MenusPage {
    frame: Frame,
    has_dish: bool,
    rows: Vec<MenuRow>,
}

struct MenuRow {
    address: String,
    name: String,
    about: String,
    dishes: u32,
    state: String,
}

impl MenusPage {
    pub fn new(frame: Frame, menus: &[MenuLine], has_dish: bool) -> Self {
        let row = |menu: &MenuLine| MenuRow {
            address: frame.paths.menu(menu.id),
            name: menu.name.to_string(),
            about: format!("For {}, {}", menu.draft.guests.count(), menu.draft.serve.in_words()),
            dishes: menu.dishes,
            state: match &menu.published {
                Some((number, word)) => format!("revision {number}, check word {word}"),
                None => "draft".to_owned(),
            },
        };
        let rows = menus.iter().map(row).collect();
        Self { frame, has_dish, rows }
    }
}

#[derive(Template)]
#[template(path = "menus/new.html")]
pub struct NewMenuPage {
    frame: Frame,
    form: NewMenuForm,
    dishes: Vec<(String, String, &'static str, bool)>,
    problems: Problems,
}

impl NewMenuPage {
    pub fn new(frame: Frame, form: NewMenuForm, dishes: &[Dish]) -> Self {
        let row = |dish: &Dish| {
            let is_ticked = form.dishes.contains(&dish.id);
            (dish.id.0.to_string(), dish.title.to_string(), dish.kind.word(), is_ticked)
        };
        // Bases come along by themselves.
        let dishes = dishes.iter().filter(|dish| dish.kind == DishKind::Dish).map(row).collect();
        Self { frame, form, dishes, problems: Problems::new() }
    }

    pub fn with_problems(mut self, problems: Problems) -> Self {
        self.problems = problems;
        self
    }

    fn problem(&self, at: &str) -> Option<&str> {
        self.problems.iter().find(|(field, _)| *field == at).map(|(_, words)| words.as_str())
    }
}

#[derive(Template)]
#[template(path = "menus/show.html")]
pub struct MenuPage {
    frame: Frame,
    limits: String,
    action: String,
    publish: String,
    class_new: String,
    links: Option<String>,
    name: String,
    about: String,
    state: String,
    form: MenuForm,
    allergens: Vec<(&'static str, bool)>,
    breaches: Vec<(String, &'static str)>,
    dishes: Vec<DishRow>,
    totals: (u32, u32),
    choices: Vec<ChoiceRow>,
    stands: Vec<StandRow>,
    bought: Vec<String>,
    remarks: Vec<(String, String, bool)>,
    offered: Vec<(String, String)>,
    sheets: Vec<(String, String)>,
    fixed: Vec<(String, String)>,
    problems: Problems,
}

struct DishRow {
    place: usize,
    letter: String,
    is_base: bool,
    address: String,
    title: String,
    course: String,
    contains: String,
    ahead: String,
    hands_ahead: u32,
    hands_day: u32,
    oven: String,
    is_first: bool,
    is_last: bool,
}

struct ChoiceRow {
    field: String,
    label: String,
    choices: Vec<(String, bool)>,
}

struct StandRow {
    letter: String,
    is_base: bool,
    what: String,
    place: String,
    earliest: String,
    reason: String,
}

impl MenuPage {
    pub fn new(
        frame: Frame,
        menu: &Menu,
        out: &LaidOut,
        sitting: &Sitting,
        form: MenuForm,
        all: &[Dish],
        publications: &[PublicationLine],
    ) -> Self {
        let laid = &out.laid;
        let every = keeps(laid, sitting);
        let dishes = dish_rows(&frame, laid, sitting, &every);
        let totals =
            dishes.iter().fold((0, 0), |sum, row| (sum.0 + row.hands_ahead, sum.1 + row.hands_day));
        let sheet_of =
            |kind: SheetKind| (frame.paths.menu_sheet(menu.id, &kind.word()), kind.title());
        let recipes = laid.dishes.iter().map(|dish| SheetKind::Recipe(dish.letter));
        let fixed = |line: &PublicationLine| {
            let words = format!(
                "Revision {}, check word {}",
                line.revision.number, line.revision.check_word
            );
            (frame.paths.menu_fixed(menu.id, line.revision.number), words)
        };
        Self {
            action: frame.paths.menu(menu.id),
            publish: frame.paths.menu_publish(menu.id),
            limits: frame.paths.menu_limits(menu.id),
            class_new: frame.paths.class_new(menu.id),
            links: (!publications.is_empty()).then(|| frame.paths.menu_links(menu.id)),
            name: menu.name.to_string(),
            about: format!(
                "{} {} for {}, at the table {}.",
                menu.dishes.len(),
                if menu.dishes.len() == 1 { "dish" } else { "dishes" },
                menu.draft.guests.count(),
                menu.draft.serve.in_words()
            ),
            state: publications
                .first()
                .map_or("Draft".to_owned(), |line| format!("Revision {}", line.revision.number)),
            allergens: Allergen::ALL
                .iter()
                .map(|it| (it.word(), form.allergens.contains(it)))
                .collect(),
            breaches: breaches(laid, sitting),
            dishes,
            totals,
            choices: choice_rows(laid, &form),
            stands: stand_rows(&every),
            bought: every.iter().flat_map(|it| &it.bought).map(|it| it.sentence.clone()).collect(),
            remarks: remark_rows(out),
            offered: offered(menu, all),
            sheets: SheetKind::OF_MENU.into_iter().chain(recipes).map(sheet_of).collect(),
            fixed: publications.iter().map(fixed).collect(),
            problems: Problems::new(),
            frame,
            form,
        }
    }

    pub fn with_problems(mut self, problems: Problems) -> Self {
        self.problems = problems;
        self
    }

    fn problem(&self, at: &str) -> Option<&str> {
        self.problems.iter().find(|(field, _)| *field == at).map(|(_, words)| words.as_str())
    }

    fn has_fault(&self) -> bool {
        self.remarks.iter().any(|(_, _, is_fault)| *is_fault)
    }
}

/// Dishes that are not on the menu yet.
fn offered(menu: &Menu, all: &[Dish]) -> Vec<(String, String)> {
    all.iter()
        .filter(|dish| dish.kind == DishKind::Dish && !menu.dishes.contains(&dish.id))
        .map(|dish| (dish.id.0.to_string(), dish.title.to_string()))
        .collect()
}

fn breaches(laid: &Laid, sitting: &Sitting) -> Vec<(String, &'static str)> {
    let check = rule_check(laid, sitting);
    let unknown = check.unknown_words.iter().map(|word| {
        let words =
            format!("No food or group is called {word}; only names that hold it are found.");
        (words, "caution")
    });
    let found = check.findings.iter().map(|finding| {
        let class = match finding.verdict {
            Verdict::Breaks => "limit",
            Verdict::NotKnown => "caution",
            Verdict::Ask(_) | Verdict::ReadLabel(_) => "allergen",
        };
        (format!("{} {}", finding.letter, finding.sentence()), class)
    });
    found.chain(unknown).collect()
}

fn dish_rows(frame: &Frame, laid: &Laid, sitting: &Sitting, every: &[DishKeeps]) -> Vec<DishRow> {
    let allergens = sheet(laid, sitting);
    let plan = ahead(laid, sitting, Prefer::Late);
    let eaten = laid.eaten().count();
    let row =
        |(place, dish): (usize, &LaidDish)| {
            let jobs = plan.days.iter().filter(|day| !day.is_serving_day).flat_map(|day| &day.jobs);
            let hands_ahead: u32 =
                jobs.filter(|job| job.letter == dish.letter).map(|job| job.hands_minutes).sum();
            let all = hands_minutes(&dish.card, laid, sitting, dish);
            let carries = allergens.dishes.iter().find(|it| it.letter == dish.letter);
            DishRow {
                place,
                letter: dish.letter.to_string(),
                is_base: dish.is_base,
                address: frame.paths.dish(dish.id),
                title: dish.title.clone(),
                course: dish.card.course.clone().unwrap_or_else(|| {
                    if dish.is_base { "base".to_owned() } else { String::new() }
                }),
                contains: carries.map_or("not known".to_owned(), |it| it.words()),
                ahead: ahead_words(every.iter().find(|it| it.letter == dish.letter)),
                hands_ahead,
                hands_day: all.saturating_sub(hands_ahead),
                oven: oven_words(&dish.card),
                is_first: place == 0,
                is_last: place + 1 >= eaten,
            }
        };
    laid.dishes.iter().enumerate().map(row).collect()
}

/// Minutes at work for this table: 0.4 + 0.6 f of what scales, rounded up once a step (T6).
fn hands_minutes(card: &Card, laid: &Laid, sitting: &Sitting, dish: &LaidDish) -> u32 {
    let scale = crate::domain::shopping::scale(laid, sitting);
    let factor = scale.of(dish.id).map(|it| it.factor.clone());
    let one = crate::domain::quantity::ScaleFactor::one();
    let factor = factor.unwrap_or(one);
    card.steps().filter_map(|(_, step)| step.hands).map(|hands| hands.minutes_for(&factor)).sum()
}

fn ahead_words(keeps: Option<&DishKeeps>) -> String {
    let Some(keeps) = keeps else { return String::new() };
    let stops: Vec<String> = keeps
        .stops
        .iter()
        .map(|stop| format!("{}: {}, {}", stop.what, stop.place.word(), stop.earliest.short()))
        .collect();
    if stops.is_empty() {
        "made on the day".to_owned()
    } else {
        format!("from {}", stops.join("; "))
    }
}

fn oven_words(card: &Card) -> String {
    let settings: Vec<String> = card
        .steps()
        .filter_map(|(_, step)| step.oven.as_ref())
        .flat_map(|setting| &setting.stages)
        .map(|stage| format!("{}, {}\u{a0}min", stage.heat, stage.minutes))
        .collect();
    let cold = card.steps().all(|(_, step)| step.oven.is_none() && step.hob.is_none());
    match (settings.is_empty(), cold) {
        (true, true) => "none".to_owned(),
        (true, false) => "hob".to_owned(),
        (false, _) => settings.join("; "),
    }
}

fn choice_rows(laid: &Laid, form: &MenuForm) -> Vec<ChoiceRow> {
    let mut rows: Vec<ChoiceRow> = Vec::new();
    for dish in &laid.dishes {
        for entry in dish.card.steps().flat_map(|(_, step)| &step.goes_in) {
            let line = &entry.what;
            let first = line.food.to_lowercase();
            if line.alternatives.is_empty()
                || rows.iter().any(|row| row.field == format!("choice-{first}"))
            {
                continue;
            }
            let now =
                form.choices.iter().find(|(from, _)| *from == first).map(|(_, to)| to.as_str());
            let others = line.alternatives.iter().map(|it| it.food.to_lowercase());
            let mut choices = vec![(first.clone(), now.is_none_or(|now| now == first))];
            choices.extend(others.map(|other| (other.clone(), now == Some(other.as_str()))));
            let label = format!("{} {}: {}", dish.letter, dish.title, line.name);
            rows.push(ChoiceRow { field: format!("choice-{first}"), label, choices });
        }
    }
    rows
}

fn stand_rows(every: &[DishKeeps]) -> Vec<StandRow> {
    let mut rows = Vec::new();
    for dish in every {
        for stop in &dish.stops {
            rows.push(StandRow {
                letter: dish.letter.to_string(),
                is_base: dish.is_base,
                what: stop.what.clone(),
                place: stop.place.word().to_owned(),
                earliest: stop.earliest.to_string(),
                reason: match stop.impossible.first() {
                    Some(why) => why.clone(),
                    None => stop.reason.clone(),
                },
            });
        }
    }
    rows
}

fn remark_rows(out: &LaidOut) -> Vec<(String, String, bool)> {
    out.remarks
        .iter()
        .map(|(letter, remark)| {
            let at = match remark.place {
                Place::Line(line) => format!("{letter}, line {line}"),
                _ => letter.to_string(),
            };
            (at, remark.sentence.clone(), remark.weight == Weight::Fault)
        })
        .collect()
}
