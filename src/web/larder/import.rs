//! Foods and prices from a spreadsheet: looked at line by line before anything is kept.

use std::collections::BTreeSet;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use jiff::civil::Date;
use serde::Deserialize;

use super::form::{FoodForm, field, pack_words};
use crate::domain::cost::{Price, PriceId, pack_of};
use crate::domain::larder::{Allergen, Certainty, Food, Larder};
use crate::domain::school::Currency;
use crate::exchange::table::{TableRow, read_table};
use crate::web::extract::{Form, Instructor};
use crate::web::form::Field;
use crate::web::frame::{Frame, Section};
use crate::web::{AppState, PageError};

/// Ours, and how a sheet may call it. The first is what the page shows.
const HEADINGS: [(&str, &[&str]); 17] = [
    ("food", &["food", "name"]),
    ("plural", &["plural", "on a list"]),
    ("also", &["also", "other names"]),
    ("aisle", &["aisle"]),
    ("keeps", &["keeps", "keeps days"]),
    ("packs", &["packs"]),
    ("loose", &["loose", "sold loose"]),
    ("g_per_ml", &["grams of 1 ml", "g per ml"]),
    ("g_each", &["grams of one", "g each"]),
    ("edible", &["used of one", "edible"]),
    ("cupboard", &["cupboard", "at home"]),
    ("find", &["find first"]),
    ("groups", &["groups"]),
    ("contains", &["contains"]),
    ("check", &["read label"]),
    ("pack", &["pack"]),
    ("price", &["price"]),
];

fn heading(typed: &str) -> Option<&'static str> {
    HEADINGS.iter().find(|(_, names)| names.contains(&typed)).map(|(ours, _)| *ours)
}

/// What a table brings.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Import {
    /// Line, food, and whether the larder already has it.
    foods: Vec<(u64, Food, bool)>,
    prices: Vec<(u64, Price)>,
}

/// A line and everything that is wrong with it.
type LineProblems = Vec<(u64, String)>;

/// Reads a whole table, or says what is wrong with every line.
pub fn read(
    text: &str,
    larder: &Larder,
    currency: Currency,
    on: Date,
) -> Result<Import, LineProblems> {
    let rows = read_table(text, heading).map_err(|problems| -> LineProblems {
        problems.into_iter().map(|(line, problem)| (line, problem.to_string())).collect()
    })?;
    let (mut import, mut problems) = (Import::default(), LineProblems::new());
    let mut seen = BTreeSet::new();
    for row in &rows {
        if row.cell("food").is_empty() {
            problems.push((row.line, "name the food".to_owned()));
        } else if is_food(row) {
            match food(row, larder) {
                Ok(food) if !seen.insert(food.key.clone()) => {
                    problems.push((row.line, format!("{} stands in an earlier line", food.name)));
                }
                Ok(food) => {
                    let is_known = larder.food(&food.key).is_some();
                    import.foods.push((row.line, food, is_known));
                }
                Err(all) => problems.extend(all.into_iter().map(|problem| (row.line, problem))),
            }
        } else if !row.has_any(&["pack", "price"]) {
            problems.push((row.line, "nothing but a name: give a figure or a price".to_owned()));
        }
    }
    // A price may be of a food that the same table brings.
    let larder = larder.with(import.foods.iter().map(|(_, food, _)| food.clone()));
    for row in rows.iter().filter(|row| row.has_any(&["pack", "price"])) {
        match price(row, &larder, currency, on) {
            Ok(price) => import.prices.push((row.line, price)),
            Err(problem) => problems.push((row.line, problem)),
        }
    }
    problems.sort();
    problems.dedup();
    if problems.is_empty() { Ok(import) } else { Err(problems) }
}

/// Whether a line says more of its food than a price.
fn is_food(row: &TableRow) -> bool {
    let others: Vec<&str> = HEADINGS.iter().map(|(ours, _)| *ours).collect();
    let others = others.into_iter().filter(|it| !["food", "pack", "price"].contains(it));
    row.has_any(&others.collect::<Vec<_>>())
}

/// An empty cell leaves what is known; the same check as on the page of one food.
fn food(row: &TableRow, larder: &Larder) -> Result<Food, Vec<String>> {
    let name = row.cell("food");
    let before = larder.known(name).and_then(|key| larder.food(key));
    let mut form = before.map_or_else(|| FoodForm::named(name), FoodForm::of);
    let mut problems = Vec::new();
    for (ours, place) in [
        ("plural", &mut form.plural),
        ("also", &mut form.also),
        ("aisle", &mut form.aisle),
        ("keeps", &mut form.keeps),
        ("packs", &mut form.packs),
        ("loose", &mut form.loose),
        ("g_per_ml", &mut form.g_per_ml),
        ("g_each", &mut form.g_each),
        ("edible", &mut form.edible),
        ("groups", &mut form.groups),
    ] {
        if !row.cell(ours).is_empty() {
            row.cell(ours).clone_into(place);
        }
    }
    for (ours, place) in [("cupboard", &mut form.cupboard), ("find", &mut form.find)] {
        match row.cell(ours).to_lowercase().as_str() {
            "" => {}
            "yes" | "y" | "x" => "yes".clone_into(place),
            "no" | "n" => place.clear(),
            other => problems.push(format!("{ours}: write yes or no, not “{other}”")),
        }
    }
    problems.extend(allergens(row, &mut form));
    let (food, wrong) = form.check(before);
    problems.extend(wrong.into_iter().map(|(_, problem)| problem));
    match food {
        Some(food) if problems.is_empty() => Ok(food),
        _ => Err(problems),
    }
}

/// `contains: milk; gluten`, `read label: soya usually`. Words are entered; nothing is cleared.
fn allergens(row: &TableRow, form: &mut FoodForm) -> Vec<String> {
    let mut problems = Vec::new();
    let parts = |cell: &'static str| {
        let cell = row.cell(cell).to_lowercase();
        let parts = cell.split([';', ',']).map(|it| it.trim().to_owned());
        parts.filter(|it| !it.is_empty()).collect::<Vec<String>>()
    };
    for word in parts("contains") {
        match Allergen::parse(&word) {
            Some(allergen) => enter(form, allergen, "contains"),
            None => problems.push(no_allergen(&word)),
        }
    }
    for words in parts("check") {
        let (word, how) = words.rsplit_once(' ').unwrap_or((&words, "sometimes"));
        let all = [Certainty::Sometimes, Certainty::Depends, Certainty::Usually];
        let certainty = all.into_iter().find(|it| it.word() == how);
        match (Allergen::parse(word), certainty) {
            (Some(allergen), Some(certainty)) => enter(form, allergen, certainty.word()),
            (None, _) => problems.push(no_allergen(word)),
            (_, None) => {
                problems
                    .push(format!("“{how}”: write usually, sometimes or depends behind {word}"));
            }
        }
    }
    problems
}

fn enter(form: &mut FoodForm, allergen: Allergen, how: &str) {
    "yes".clone_into(&mut form.entered);
    form.allergens.insert(field(allergen), how.to_owned());
}

fn no_allergen(word: &str) -> String {
    let all: Vec<&str> = Allergen::ALL.into_iter().map(Allergen::word).collect();
    format!("“{word}” is none of {}", all.join(", "))
}

fn price(row: &TableRow, larder: &Larder, currency: Currency, on: Date) -> Result<Price, String> {
    let (pack, sum) = (row.cell("pack"), row.cell("price"));
    if pack.is_empty() || sum.is_empty() {
        return Err("a price needs its pack, and a pack its price".to_owned());
    }
    let (food, pack) =
        pack_of(row.cell("food"), pack, larder).map_err(|error| error.to_string())?;
    let minor = currency.minor(sum).map_err(|error| error.to_string())?.into();
    Ok(Price { food, pack, minor, on })
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct ImportForm {
    table: String,
    /// `look`, then `keep`.
    step: String,
}

pub async fn show(State(state): State<AppState>, who: Instructor) -> Result<Response, PageError> {
    let frame = Frame::of(&state, &who, Section::Larder);
    let page = ImportPage::new(frame, Field::default());
    Ok(Html(page.render()?).into_response())
}

pub async fn take(
    State(state): State<AppState>,
    who: Instructor,
    Form(form): Form<ImportForm>,
) -> Result<Response, PageError> {
    let (currency, at) = (who.school.settings.currency, state.clock.now());
    let larder = state.storage.larder(who.school.id).await?;
    let today = who.school.zone.local(at).date();
    let frame = Frame::of(&state, &who, Section::Larder);
    let import = match read(&form.table, &larder, currency, today) {
        Ok(import) => import,
        Err(problems) => {
            let page = ImportPage::new(frame, Field::with(&form.table)).with(&problems);
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(page.render()?)).into_response());
        }
    };
    if form.step != "keep" {
        let page =
            ImportPage::new(frame, Field::with(&form.table)).looked_at(&import, currency, &larder);
        return Ok(Html(page.render()?).into_response());
    }
    let foods: Vec<Food> = import.foods.into_iter().map(|(_, food, _)| food).collect();
    let prices: Vec<(PriceId, Price)> =
        import.prices.into_iter().map(|(_, it)| (PriceId(state.chance.key(at)), it)).collect();
    state.storage.save_foods(who.school.id, &foods, at).await?;
    state.storage.add_prices(who.school.id, currency, &prices).await?;
    let own = if foods.is_empty() { state.paths.prices() } else { state.paths.larder_own() };
    Ok(Redirect::to(&own).into_response())
}

#[derive(Template)]
#[template(path = "larder/import.html")]
pub struct ImportPage {
    frame: Frame,
    headings: String,
    table: Field,
    problems: Vec<(u64, String)>,
    rows: Vec<LookedAt>,
    foods: usize,
    prices: usize,
}

/// One line of the preview.
struct LookedAt {
    line: u64,
    food: String,
    what: &'static str,
    figures: String,
}

impl ImportPage {
    fn new(frame: Frame, table: Field) -> Self {
        let headings: Vec<&str> = HEADINGS.iter().map(|(_, names)| names[0]).collect();
        Self {
            frame,
            headings: headings.join(", "),
            table,
            problems: Vec::new(),
            rows: Vec::new(),
            foods: 0,
            prices: 0,
        }
    }

    fn with(mut self, problems: &[(u64, String)]) -> Self {
        self.problems = problems.to_vec();
        self
    }

    fn looked_at(mut self, import: &Import, currency: Currency, larder: &Larder) -> Self {
        for (line, food, is_known) in &import.foods {
            let before = larder.food(&food.key);
            self.rows.push(LookedAt {
                line: *line,
                food: food.name.clone(),
                what: if *is_known { "changes" } else { "new" },
                figures: figures(food, before),
            });
        }
        for (line, price) in &import.prices {
            let sum = currency.words(u32::try_from(price.minor).unwrap_or(u32::MAX));
            self.rows.push(LookedAt {
                line: *line,
                food: larder
                    .food(&price.food)
                    .map_or_else(|| price.food.to_string(), |food| food.name.clone()),
                what: "price",
                figures: format!("{} for {sum}", pack_words(&price.pack)),
            });
        }
        self.rows.sort_by_key(|row| row.line);
        (self.foods, self.prices) = (import.foods.len(), import.prices.len());
        self
    }
}

/// What is said of a food that was not known before, field by field.
fn figures(food: &Food, before: Option<&Food>) -> String {
    let (now, then) = (FoodForm::of(food), before.map(FoodForm::of).unwrap_or_default());
    let all = [
        ("on a list", &now.plural, &then.plural),
        ("also", &now.also, &then.also),
        ("aisle", &now.aisle, &then.aisle),
        ("keeps days", &now.keeps, &then.keeps),
        ("packs", &now.packs, &then.packs),
        ("loose", &now.loose, &then.loose),
        ("grams of 1 ml", &now.g_per_ml, &then.g_per_ml),
        ("grams of one", &now.g_each, &then.g_each),
        ("used of one", &now.edible, &then.edible),
        ("at home", &now.cupboard, &then.cupboard),
        ("find first", &now.find, &then.find),
        ("groups", &now.groups, &then.groups),
    ];
    let changed = all.into_iter().filter(|(_, now, then)| now != then);
    let mut words: Vec<String> = changed
        .map(|(what, now, _)| format!("{what}: {}", if now.is_empty() { "no" } else { now }))
        .collect();
    if before.is_none_or(|it| it.allergens != food.allergens) {
        words.push(format!("allergens: {}", super::page::allergen_words(&food.allergens)));
    }
    if words.is_empty() { "as it is".to_owned() } else { words.join("; ") }
}

/// The empty page, a preview, and a table with mistakes, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let larder = Larder::shipped();
    let (currency, on) = (Currency::default(), jiff::civil::date(2027, 5, 1));
    let good = "food;aisle;packs;contains;pack;price\nsea moss;dry goods;100 g;sulphites;100 g;4.20\n\
                leeks;;;;1 kg;2.40\nolive oil;;750 ml;;750 ml;8.10";
    let wrong = "food;keeps;contains;price\nsea moss;some;milk\nleeks;;gold;3\n;3";
    let page = |typed: &str| {
        let page = ImportPage::new(Frame::sample(), Field::with(typed));
        let page = match read(typed, &larder, currency, on) {
            Ok(import) => page.looked_at(&import, currency, &larder),
            Err(problems) if !typed.is_empty() => page.with(&problems),
            Err(_) => page,
        };
        page.render().expect("samples are complete")
    };
    vec![
        ("larder-import", page("")),
        ("larder-import-looked-at", page(good)),
        ("larder-import-with-problems", page(wrong)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_here(text: &str) -> Result<Import, LineProblems> {
        let on = jiff::civil::date(2027, 5, 1);
        read(text, &Larder::shipped(), Currency::default(), on)
    }

    #[test]
    fn a_table_brings_foods_and_prices_and_an_empty_cell_changes_nothing() {
        let text = "Food\tKeeps\tPacks\tContains\tRead label\tPack\tPrice\n\
                    sea moss\t300\t100 g\tsulphites\tfish sometimes\t100 g\t4.20\n\
                    leeks\t\t\t\t\t1 kg\t2.40\nyoghurt\t\t150 g; 1 kg\t\t\t\t\n";
        let import = read_here(text).unwrap();
        let [(2, moss, false), (4, yogurt, true)] = import.foods.as_slice() else {
            panic!("{:?}", import.foods)
        };
        assert_eq!((moss.keeps_days, moss.packs.len()), (Some(300), 1));
        let shipped = Larder::shipped();
        let before = shipped.food(&yogurt.key).unwrap();
        assert_eq!(yogurt.packs.len(), 2);
        assert_eq!((&yogurt.allergens, &yogurt.g_per_ml), (&before.allergens, &before.g_per_ml));
        let minor: Vec<u64> = import.prices.iter().map(|(_, price)| price.minor).collect();
        assert_eq!(minor, [420, 240]);
    }

    #[test]
    fn every_line_says_everything_that_is_wrong_with_it_and_nothing_is_taken() {
        let problems = read_here(
            "food;keeps;edible;contains;pack;price\nsea moss;some;2;gold;;\n;1;;;;\n\
             leeks;;;;1 kg;-2\nsea kale;;;;1 kg;2\nrice;;;;;\nleeks;3;;;;\nleek;4;;;;",
        )
        .unwrap_err();
        let lines: Vec<u64> = problems.iter().map(|(line, _)| *line).collect();
        assert_eq!(lines, [2, 2, 2, 3, 4, 5, 6, 8], "{problems:#?}");
        assert!(problems[7].1.contains("earlier line"), "{problems:#?}");
    }
}
