//! View models of the pages for students.

use std::sync::Arc;

use askama::Template;

use super::form::{JoinForm, Problems, TableForm, UNITS, units_word};
use super::holder::AtTable;
use super::rows::{DishRow, dish_rows};
use crate::domain::allergen::{Verdict, rule_check};
use crate::domain::handout::{Measures, shopping_sheet};
use crate::domain::keeps::Ahead;
use crate::domain::kitchen::ColdRoom;
use crate::domain::larder::Allergen;
use crate::domain::menu::{Laid, LaidDish, Sitting};
use crate::domain::progress::Progress;
use crate::domain::publication::Published;
use crate::domain::shopping::{Row, ShoppingList, scale};
use crate::domain::text::capital;
use crate::storage::KeptHome;
use crate::web::forecast::{self, CoolingMark, RoastMark};
use crate::web::frame::Frame;
use crate::web::menus::ChangesShown;
use crate::web::sheets::SheetKind;

/// The line at the foot of everything fixed.
fn revision_words(laid: &Laid) -> String {
    laid.publication.as_ref().map_or_else(String::new, |it| {
        let date = laid.zone.date_of(it.at);
        format!("revision {}, {date}, check word {}", it.number, it.check_word)
    })
}

#[derive(Template)]
#[template(path = "homes/class.html")]
pub struct ClassPage {
    frame: Frame,
    name: String,
    rule: String,
    serve: String,
    zone: String,
    revision: String,
    dishes: Arc<[DishRow]>,
    action: String,
    paper: String,
    form: JoinForm,
    problems: Problems,
}

impl ClassPage {
    pub fn new(
        frame: Frame,
        laid: &Laid,
        sitting: &Sitting,
        dishes: Arc<[DishRow]>,
        form: JoinForm,
        action: String,
        paper: String,
    ) -> Self {
        Self {
            frame,
            name: laid.name.clone(),
            rule: rule_words(laid),
            serve: sitting.serve.in_words(),
            zone: sitting.serve.zone.name().to_owned(),
            revision: revision_words(laid),
            dishes,
            action,
            paper,
            form,
            problems: Problems::new(),
        }
    }

    pub fn with_problems(mut self, problems: Problems) -> Self {
        self.problems = problems;
        self
    }

    fn problem(&self, at: &str) -> Option<&str> {
        problem(&self.problems, at)
    }
}

fn problem<'a>(problems: &'a Problems, at: &str) -> Option<&'a str> {
    problems.iter().find(|(field, _)| *field == at).map(|(_, words)| words.as_str())
}

fn rule_words(laid: &Laid) -> String {
    if !laid.rule.words.is_empty() {
        return laid.rule.words.clone();
    }
    let words: Vec<&str> = laid.rule.allergens.iter().map(|it| it.word()).collect();
    if words.is_empty() { String::new() } else { format!("Left out: {}", words.join(", ")) }
}

#[derive(Template)]
#[template(path = "homes/table.html")]
pub struct TablePage {
    frame: Frame,
    action: String,
    name: String,
    about: String,
    zone: String,
    revision: String,
    is_changed: bool,
    dishes: Vec<DishRow>,
    /// A dish names the pan it is cooked in.
    has_pans: bool,
    notes: Vec<TableNote>,
    sheets: Vec<(String, String)>,
    choices: Vec<ChoiceRow>,
    eaten: Vec<(String, String, bool)>,
    allergens: Vec<(&'static str, bool)>,
    rooms: Vec<(&'static str, &'static str, bool)>,
    units: Vec<(&'static str, &'static str, bool)>,
    form: TableForm,
    problems: Problems,
}

impl TableForm {
    pub fn from(kept: &KeptHome) -> Self {
        let home = &kept.home;
        let told: Vec<&str> = kept.allergies.iter().map(|it| it.what.as_str()).collect();
        let others = told.iter().filter(|it| Allergen::parse(it).is_none());
        Self {
            version: kept.version,
            name: home.name.clone(),
            shares_name: home.shares_name,
            guests: home.guests.count().to_string(),
            serve: home.serve.local_text(),
            zone: home.serve.zone.name().to_owned(),
            shop_on: home.arrangement.shop_on.map_or_else(String::new, |day| day.to_string()),
            freezer: home
                .arrangement
                .kitchen
                .as_ref()
                .map_or("", |it| it.freezer.word())
                .to_owned(),
            units: units_word(home.arrangement.measures).to_owned(),
            at_home: home.arrangement.at_home.join("\n"),
            choices: home.arrangement.choices.clone().into_iter().collect(),
            without: Vec::new(),
            allergens: told.iter().filter_map(|it| Allergen::parse(it)).collect(),
            others: others.copied().collect::<Vec<_>>().join(", "),
            strict: kept.allergies.iter().any(|it| it.strict),
            consents: !told.is_empty(),
        }
    }
}

impl TablePage {
    pub fn new(frame: Frame, kept: &KeptHome, at: &AtTable, form: TableForm, sheets: &str) -> Self {
        let laid = at.laid();
        let kinds = SheetKind::OF_MENU.into_iter().filter(|kind| *kind != SheetKind::Menu);
        let action = sheets.trim_end_matches("/sheets").to_owned();
        let room = |room: &ColdRoom| (room.word(), room.words(), form.freezer == room.word());
        let eaten = laid.eaten().map(|dish| {
            let is_out = kept.home.arrangement.without.contains(&dish.id);
            (dish.letter.to_string(), dish.title.clone(), is_out)
        });
        Self {
            action,
            name: laid.name.clone(),
            about: format!(
                "{} at the table, {}.",
                kept.home.guests.count(),
                kept.home.serve.in_words()
            ),
            zone: format!("All hours are of {}.", kept.home.serve.zone.name()),
            revision: revision_words(laid),
            is_changed: kept.home.seen_number < at.number,
            dishes: dish_rows(laid, &at.sitting, Some(sheets)),
            has_pans: at.laid().dishes.iter().any(|dish| !dish.card.vessels.is_empty()),
            notes: notes(at),
            sheets: kinds.map(|kind| (format!("{sheets}/{}", kind.word()), kind.title())).collect(),
            choices: choices(laid, &form),
            eaten: eaten.collect(),
            allergens: Allergen::ALL
                .iter()
                .map(|it| (it.word(), form.allergens.contains(it)))
                .collect(),
            rooms: ColdRoom::ALL.iter().map(room).collect(),
            units: UNITS.map(|(word, words, _)| (word, words, form.units == word)).to_vec(),
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
        problem(&self.problems, at)
    }
}

/// What one dish has to say to this table, under its name.
struct TableNote {
    dish: String,
    class: &'static str,
    lines: Vec<String>,
}

/// What this table has to know before it begins: the rule, the vessels, the other ways.
fn notes(at: &AtTable) -> Vec<TableNote> {
    let laid = at.laid();
    let named = |dish: &LaidDish| format!("{} {}", dish.letter, dish.title);
    let mut notes: Vec<TableNote> = Vec::new();
    for finding in rule_check(laid, &at.sitting).findings {
        let class = match finding.verdict {
            Verdict::Breaks => "limit",
            Verdict::NotKnown => "caution",
            Verdict::Ask(_) | Verdict::ReadLabel(_) => "allergen",
        };
        let dish = format!("{} {}", finding.letter, finding.title);
        match notes.iter_mut().find(|note| note.dish == dish && note.class == class) {
            Some(note) => note.lines.push(capital(&finding.words())),
            None => notes.push(TableNote { dish, class, lines: vec![capital(&finding.words())] }),
        }
    }
    for scaled in scale(laid, &at.sitting).dishes {
        let Some(dish) = laid.dishes.iter().find(|dish| dish.id == scaled.dish) else { continue };
        if scaled.without_freezer
            && let Some(way) = &dish.card.no_freezer
        {
            let lines = vec![format!("Without the freezer: {way}.")];
            notes.push(TableNote { dish: named(dish), class: "caution", lines });
        }
        let count: u64 = scaled.vessels.iter().map(|(_, count)| count).sum();
        if count > 1 {
            let vessels: Vec<String> =
                scaled.vessels.iter().map(|(it, count)| format!("{count} × {}", it.what)).collect();
            let lines = vec![format!("Takes {}.", vessels.join(" and "))];
            notes.push(TableNote { dish: named(dish), class: "plain", lines });
        }
    }
    notes
}

/// Field, label, and the foods to choose from with the one in use.
type ChoiceRow = (String, String, Vec<(String, bool)>);

fn choices(laid: &Laid, form: &TableForm) -> Vec<ChoiceRow> {
    let mut rows: Vec<ChoiceRow> = Vec::new();
    for dish in &laid.dishes {
        for entry in dish.card.steps().flat_map(|(_, step)| &step.goes_in) {
            let line = &entry.what;
            let first = line.food.to_lowercase();
            let field = format!("choice-{first}");
            if line.alternatives.is_empty() || rows.iter().any(|row| row.0 == field) {
                continue;
            }
            let own =
                form.choices.iter().find(|(from, _)| *from == first).map(|(_, to)| to.clone());
            let now =
                own.or_else(|| laid.choices.get(&first).cloned()).unwrap_or_else(|| first.clone());
            let others = line.alternatives.iter().map(|it| it.food.to_lowercase());
            let all = std::iter::once(first.clone()).chain(others);
            let all = all.map(|food| (food.clone(), food == now)).collect();
            rows.push((field, format!("{} {}", dish.letter, line.name), all));
        }
    }
    rows
}

#[derive(Template)]
#[template(path = "homes/list.html")]
pub struct ListPage {
    frame: Frame,
    action: String,
    paper: String,
    day: String,
    who: String,
    about: Vec<String>,
    count: usize,
    ticked: usize,
    groups: Vec<ListGroup>,
    problems: Vec<String>,
    revision: String,
}

struct ListGroup {
    title: String,
    rows: Vec<ListRow>,
}

struct ListRow {
    id: String,
    key: String,
    amount: String,
    name: String,
    notes: String,
    label: Option<String>,
    letters: Vec<(String, bool)>,
    is_ticked: bool,
}

impl ListPage {
    pub fn new(
        frame: Frame,
        at: &AtTable,
        list: &ShoppingList,
        (progress, measures): (&Progress, Measures),
        action: String,
        paper: String,
    ) -> Self {
        let sheet = shopping_sheet(at.laid(), &at.sitting, list, measures);
        let rows: Vec<&Row> = list.rows().collect();
        let key_of =
            |name: &str| rows.iter().find(|row| row.name == name).map(|row| row.key.0.as_str());
        let mut ticked = 0;
        let mut groups = Vec::new();
        for group in sheet.groups {
            let mut shown = Vec::new();
            for line in group.lines {
                let key = key_of(&line.name).unwrap_or(&line.name).to_owned();
                let is_ticked = progress.is_ticked(&key);
                ticked += usize::from(is_ticked);
                shown.push(ListRow {
                    id: key.bytes().fold(String::from("r"), |id, byte| format!("{id}{byte:02x}")),
                    key,
                    amount: line.amount,
                    name: line.name,
                    notes: line.notes.join("; "),
                    label: line.read_label,
                    letters: line
                        .letters
                        .iter()
                        .map(|(it, base)| (it.to_string(), *base))
                        .collect(),
                    is_ticked,
                });
            }
            // What is in the basket sinks.
            shown.sort_by_key(|row| row.is_ticked);
            groups.push(ListGroup { title: group.title, rows: shown });
        }
        Self {
            frame,
            action,
            paper,
            day: format!("{} {}", sheet.day.0, sheet.day.1),
            who: sheet.who,
            about: sheet.about,
            count: sheet.lines,
            ticked,
            groups,
            problems: sheet.problems,
            revision: revision_words(at.laid()),
        }
    }

    /// The same with what it costs, in words.
    pub fn costing(mut self, cost: Option<String>) -> Self {
        self.about.extend(cost);
        self
    }
}

#[derive(Template)]
#[template(path = "homes/ahead.html")]
pub struct AheadPage {
    frame: Frame,
    cooling: Vec<CoolingMark>,
    roasts: Vec<RoastMark>,
    paper: String,
    about: String,
    days: Vec<DayShown>,
    refused: Vec<String>,
    revision: String,
}

struct DayShown {
    title: String,
    minutes: u32,
    is_serving_day: bool,
    jobs: Vec<JobShown>,
    thaw: Vec<(String, String)>,
    take_out: Vec<(String, bool, String)>,
}

struct JobShown {
    letter: String,
    is_base: bool,
    what: String,
    about: String,
    steps: Vec<(u32, String)>,
    place: String,
    keep_until: String,
    finish_by: String,
    trace: Vec<(String, String, String)>,
    answer: (String, String),
    is_raw: bool,
}

impl AheadPage {
    pub fn new(frame: Frame, at: &AtTable, plan: &Ahead, home: &str) -> Self {
        let days = plan.days.iter().map(|day| DayShown {
            title: day.title.clone(),
            minutes: day.hands_minutes,
            is_serving_day: day.is_serving_day,
            jobs: day.jobs.iter().map(JobShown::of).collect(),
            thaw: day.thaw.iter().map(|it| (it.letter.to_string(), it.sentence.clone())).collect(),
            take_out: day
                .take_out
                .iter()
                .map(|it| {
                    let is_base =
                        at.laid().dishes.iter().any(|d| d.is_base && d.letter == it.letter);
                    let words =
                        format!("{} from the {}, for {}", it.what, it.place.word(), it.next_use);
                    (it.letter.to_string(), is_base, words)
                })
                .collect(),
        });
        let cooling = at.laid().dishes.iter().flat_map(|dish| {
            let letter = dish.letter.to_string();
            let address = format!("{home}/cooling?dish={letter}");
            forecast::marks(&dish.card, &letter, dish.is_base, &address)
        });
        let roasts = at.laid().dishes.iter().flat_map(|dish| {
            let letter = dish.letter.to_string();
            let address = format!("{home}/roast?dish={letter}");
            forecast::roast_marks(&dish.card, &at.laid().larder, &letter, dish.is_base, &address)
        });
        Self {
            roasts: roasts.collect(),
            cooling: cooling.collect(),
            about: format!(
                "For {} at the table on {}. Hours of {}.",
                at.sitting.guests.count(),
                at.sitting.serve.in_words(),
                at.sitting.serve.zone.name()
            ),
            days: days.collect(),
            refused: plan.refused.clone(),
            revision: revision_words(at.laid()),
            paper: format!("{home}/sheets"),
            frame,
        }
    }
}

impl JobShown {
    fn of(job: &crate::domain::keeps::AheadJob) -> Self {
        let estimate = if job.is_estimate { ", our estimate" } else { "" };
        let litres =
            if job.litres.is_empty() { String::new() } else { format!(", {}", job.litres) };
        let line = |it: &crate::domain::keeps::TraceLine| {
            (it.figure.clone(), it.small.clone(), it.words.clone())
        };
        // A part is named with its dish; a dish is not named twice.
        let dish = if job.what == job.dish { String::new() } else { format!("{}. ", job.dish) };
        Self {
            letter: job.letter.to_string(),
            is_base: job.is_base,
            what: job.what.clone(),
            about: format!(
                "{dish}{} min of hands{estimate}. Not before {}.",
                job.hands_minutes, job.not_before
            ),
            steps: job.steps.clone(),
            place: format!("box {}, {}{litres}", job.label, job.place.word()),
            keep_until: job.keep_until.to_string(),
            finish_by: job.latest.to_string(),
            trace: job.trace.lines.iter().map(line).collect(),
            answer: (job.trace.answer.figure.clone(), job.trace.answer.words.clone()),
            is_raw: job.is_raw,
        }
    }
}

#[derive(Template)]
#[template(path = "homes/changes.html")]
pub struct ChangesPage {
    frame: Frame,
    action: String,
    about: String,
    changes: Option<ChangesShown>,
}

impl ChangesPage {
    pub fn new(frame: Frame, at: &AtTable, was: Option<&Published>, home: &str) -> Self {
        Self {
            frame,
            action: format!("{home}/changes"),
            about: format!("Now it is {}.", revision_words(at.laid())),
            changes: was.map(|was| ChangesShown::of(&at.published, was)),
        }
    }
}

#[derive(Template)]
#[template(path = "homes/left.html")]
pub struct LeftPage {
    pub frame: Frame,
}
