//! One shopping list for a class: for its seats, or for all of its homes together.

use askama::Template;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use serde::Deserialize;

use super::page::told;
use super::{find, frame, laid_of, sitting_of};
use crate::domain::cost::{Cost, Fee, FixedCosts, cost};
use crate::domain::handout::{Measures, ShoppingSheet, shopping_sheet};
use crate::domain::menu::{Laid, Sitting};
use crate::domain::quantity::Portions;
use crate::domain::school::Currency;
use crate::domain::shopping::ShoppingList;
use crate::domain::table::{shopping_day, shopping_list, shopping_list_of_all};
use crate::exchange::shopping::to_csv;
use crate::storage::KeptClass;
use crate::web::extract::{Id, Instructor, Query};
use crate::web::frame::Frame;
use crate::web::{AppState, PageError};

/// Whom the list is for: `?of=homes`, else the seats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    Seats,
    Homes,
}

/// What the address asks: whom the list is for, and what the class costs beside its food.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct Asked {
    pub of: String,
    pub hall: String,
    pub helpers: String,
    pub printing: String,
}

impl Asked {
    fn of(&self) -> Of {
        if self.of == "homes" { Of::Homes } else { Of::Seats }
    }

    /// The fixed costs, or what is wrong with each field; an empty one is nothing.
    fn fixed(&self, currency: Currency) -> Result<FixedCosts, Vec<String>> {
        let mut problems = Vec::new();
        let mut sum = |name: &str, typed: &str| match typed.trim() {
            "" => 0,
            typed => currency.minor(typed).map_or_else(
                |problem| {
                    problems.push(format!("{name}: {problem}"));
                    0
                },
                u64::from,
            ),
        };
        let fixed = FixedCosts {
            hall: sum("Hall", &self.hall),
            helpers: sum("Helpers", &self.helpers),
            printing: sum("Printing", &self.printing),
        };
        if problems.is_empty() { Ok(fixed) } else { Err(problems) }
    }
}

/// A list with the table it is worded for.
struct ClassList {
    kept: KeptClass,
    laid: Laid,
    sitting: Sitting,
    list: ShoppingList,
    /// Everyone it buys for; of all homes there may be more than one table can seat.
    guests: u32,
    homes: usize,
    told: Vec<String>,
}

async fn list_of(
    state: &AppState,
    who: &Instructor,
    id: uuid::Uuid,
    of: Of,
) -> Result<ClassList, PageError> {
    let kept = find(state, who, id).await?;
    let laid = laid_of(state, who, &kept).await?;
    let mut sitting = sitting_of(&kept.class, &laid);
    let homes = state.storage.homes(who.school.id, kept.class.id).await?;
    let mut guests = kept.class.seats.count();
    let list = match of {
        Of::Seats => shopping_list(&laid, &sitting),
        Of::Homes => {
            let sittings: Vec<_> =
                homes.iter().map(|kept| kept.home.sitting(&kept.allergies)).collect();
            guests = sittings.iter().map(|sitting| sitting.guests.count()).sum();
            let first = sittings.iter().map(|it| &it.serve).min_by_key(|serve| serve.instant());
            sitting.serve = first.unwrap_or(&sitting.serve).clone();
            sitting.shop_on = sittings.iter().map(shopping_day).min();
            shopping_list_of_all(&laid, &sittings)
        }
    };
    let (told, homes) = (told(&homes), homes.len());
    Ok(ClassList { kept, laid, sitting, list, guests, homes, told })
}

pub async fn show(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let of = asked.of();
    let ClassList { kept, laid, sitting, list, guests, homes, told } =
        list_of(&state, &who, id, of).await?;
    let mut sheet = shopping_sheet(&laid, &sitting, &list, Measures::default());
    sheet.who = match of {
        Of::Seats => format!("For the {guests} of the class."),
        Of::Homes => format!("For {guests} in all homes together."),
    };
    let currency = who.school.settings.currency;
    let prices = state.storage.prices(who.school.id, currency).await?;
    let heads = Portions::new(guests).unwrap_or(sitting.guests);
    let cost = cost(&list, &prices, heads);
    let page = ClassShoppingPage::new(frame(&state, &who), &kept, sheet, of, (homes, told))
        .costing(&cost, currency, asked);
    let status =
        if page.problems.is_empty() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
    Ok((status, Html(page.render()?)).into_response())
}

/// The same rows as a table for a spreadsheet.
pub async fn csv(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let list = list_of(&state, &who, id, asked.of()).await?.list;
    let headers = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"shopping.csv\""),
    ];
    Ok((headers, to_csv(&list)).into_response())
}

#[derive(Template)]
#[template(path = "classes/shopping.html")]
pub struct ClassShoppingPage {
    frame: Frame,
    name: String,
    class: String,
    seats: u32,
    homes: usize,
    is_of_homes: bool,
    address: String,
    csv: String,
    paper: Option<String>,
    /// Allergies with how many homes told them.
    told: Vec<String>,
    sheet: ShoppingSheet,
    /// What it costs, for the school's eyes; empty while no row has a price.
    costs: Vec<(&'static str, String)>,
    /// Rows that no price counts.
    not_priced: usize,
    /// What the class costs beside its food, as typed.
    asked: Asked,
    problems: Vec<String>,
    /// What each seat costs, and from how many on the fee pays for all.
    fees: Vec<(&'static str, String)>,
    fee_minor: Option<u64>,
}

impl ClassShoppingPage {
    pub fn new(
        frame: Frame,
        kept: &KeptClass,
        sheet: ShoppingSheet,
        of: Of,
        (homes, told): (usize, Vec<String>),
    ) -> Self {
        let class = &kept.class;
        let is_of_homes = of == Of::Homes;
        let query = if is_of_homes { "?of=homes" } else { "" };
        Self {
            name: kept.menu_name.clone(),
            class: frame.paths.class(class.id),
            seats: class.seats.count(),
            homes,
            is_of_homes,
            address: frame.paths.class_shopping(class.id),
            csv: format!("{}{query}", frame.paths.class_csv(class.id)),
            paper: (!is_of_homes).then(|| frame.paths.class_sheet(class.id, "shopping")),
            told,
            sheet,
            costs: Vec::new(),
            not_priced: 0,
            asked: Asked::default(),
            problems: Vec::new(),
            fees: Vec::new(),
            fee_minor: class.fee_minor.map(u64::from),
            frame,
        }
    }

    /// The same with what it costs, and what a fee must pay.
    pub fn costing(mut self, cost: &Cost, currency: Currency, asked: Asked) -> Self {
        let sum = |minor: u64| currency.words(u32::try_from(minor).unwrap_or(u32::MAX));
        self.not_priced = cost.not_priced.len();
        if cost.till + cost.till_check > 0 {
            self.costs = vec![
                ("At the till", sum(cost.till)),
                ("If nothing is at home, on top", sum(cost.till_check)),
                ("Bought whole, each", sum(cost.till_per_head)),
                ("Eaten of it", sum(cost.used)),
                ("Eaten, each", sum(cost.used_per_head)),
            ];
            match asked.fixed(currency) {
                Ok(fixed) => self.fees = fees(cost, fixed, self.fee_minor, sum),
                Err(problems) => self.problems = problems,
            }
        }
        self.asked = asked;
        self
    }
}

fn fees(
    cost: &Cost,
    fixed: FixedCosts,
    asked: Option<u64>,
    sum: impl Fn(u64) -> String,
) -> Vec<(&'static str, String)> {
    let fee = Fee::of(cost, fixed, asked);
    let mut rows = vec![
        ("Food: bought of what does not keep, eaten of what does", sum(cost.ingredients)),
        ("Hall, helpers and printing", sum(fixed.sum())),
        ("Each student costs", sum(fee.per_head)),
    ];
    if let Some(asked) = asked {
        rows.push(("The fee", sum(asked)));
        let words = match fee.break_even {
            // Where nothing is fixed, each student pays for themselves.
            Some(count) => format!("from {} on", count.max(1)),
            None => "never: each student costs more than the fee".to_owned(),
        };
        rows.push(("Students for whom the fee pays the class", words));
    }
    rows
}
