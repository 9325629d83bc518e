//! The shopping list on paper: what to find first, the aisles, the second trip, what to check.

use jiff::civil::Date;
use num_traits::Zero;

use super::foot::Foot;
use super::shown::Measures;
use super::text::for_whom;
use crate::domain::menu::{Laid, Letter, Sitting};
use crate::domain::quantity::{Amount, Kind, MixedAmount, Unit};
use crate::domain::shopping::{Purchase, Row, ShoppingList};
use crate::domain::table::shopping_day;
use crate::domain::text::capital;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShoppingSheet {
    pub foot: Foot,
    /// `24` and `Thu June`: the day of the trip.
    pub day: (String, String),
    /// `Ines, for 4.`
    pub who: String,
    pub about: Vec<String>,
    pub lines: usize,
    pub groups: Vec<ShoppingGroup>,
    /// What could not be worked out.
    pub problems: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShoppingGroup {
    pub title: String,
    pub lines: Vec<ShoppingLine>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShoppingLine {
    pub amount: String,
    pub name: String,
    pub notes: Vec<String>,
    /// A second tick: `gluten, milk`.
    pub read_label: Option<String>,
    pub letters: Vec<(Letter, bool)>,
}

pub fn shopping_sheet(
    laid: &Laid,
    sitting: &Sitting,
    list: &ShoppingList,
    measures: Measures,
) -> ShoppingSheet {
    let of = |row: &Row| line(laid, row, measures);
    let is_first = |row: &&Row| list.find_first.contains(&row.key) && !row.day.is_second_trip;
    let mut groups = Vec::new();
    let mut add = |title: String, lines: Vec<ShoppingLine>| {
        if !lines.is_empty() {
            groups.push(ShoppingGroup { title, lines });
        }
    };
    add("Find first".to_owned(), list.to_buy().filter(is_first).map(of).collect());
    for aisle in &list.aisles {
        let rows = aisle.rows.iter().filter(|row| !is_first(row) && !row.day.is_second_trip);
        add(capital(&aisle.name), rows.map(of).collect());
    }
    let optional = list.optional.iter().filter(|row| !is_first(row) && !row.day.is_second_trip);
    add("Garnish and optional".to_owned(), optional.map(of).collect());
    let second = list.to_buy().filter(|row| row.day.is_second_trip);
    add("Second trip".to_owned(), second.map(of).collect());
    let unknown = list.unknown.iter().filter(|row| !is_first(row) && !row.day.is_second_trip);
    add("Not in the larder".to_owned(), unknown.map(of).collect());
    add("Check you have".to_owned(), list.check.iter().map(of).collect());
    add("At home".to_owned(), list.at_home.iter().map(of).collect());
    let days = list.rows().map(|row| row.day.first_use);
    let first = days.min().map(|it| it.strftime("%a %-d %B").to_string());
    let table = sitting.serve.local.strftime("%a %-d %B, %H:%M");
    let mut about = Vec::new();
    about.extend(first.map(|it| format!("First use {it}, at the table {table}.")));
    about.push("Whole packs; loose goods by weight.".to_owned());
    ShoppingSheet {
        foot: Foot::of_menu(laid),
        day: {
            let it = shopping_day(sitting);
            (it.strftime("%-d").to_string(), it.strftime("%a %B").to_string())
        },
        who: for_whom(sitting),
        about,
        lines: list.rows().count(),
        groups,
        problems: list.problems.clone(),
    }
}

fn line(laid: &Laid, row: &Row, measures: Measures) -> ShoppingLine {
    let notes = amount_notes(laid, row, measures).chain(notes(row)).chain(day_notes(row)).collect();
    let labels: Vec<&str> = row.labels.iter().map(|(allergen, _)| allergen.word()).collect();
    let base = |letter: Letter| laid.dishes.iter().any(|it| it.is_base && it.letter == letter);
    ShoppingLine {
        amount: purchase(laid, &row.buy, measures),
        name: row.name.clone(),
        notes,
        read_label: (!labels.is_empty()).then(|| labels.join(", ")),
        letters: row.letters.iter().map(|(letter, _)| (*letter, base(*letter))).collect(),
    }
}

/// What is needed of what is bought, and what stays over.
fn amount_notes(laid: &Laid, row: &Row, measures: Measures) -> impl Iterator<Item = String> {
    let is_rounded = matches!(row.buy, Purchase::Packs { .. } | Purchase::Weigh(_));
    let need = (is_rounded && !row.needed.is_empty())
        .then(|| format!("need {}", mixed(laid, &row.needed, measures)));
    let over = match &row.buy {
        Purchase::Packs { packs, left } if !left.is_zero() => packs.first().map(|(size, _)| {
            let unit = match size.unit().kind() {
                Kind::Mass => Unit::Gram,
                Kind::Volume => Unit::Millilitre,
                _ => size.unit(),
            };
            // Said a little less rather than more: nobody plans with what is not there.
            let left = Amount::of(left.floor(), unit);
            (!left.high().is_zero()).then(|| measures.amount(&left, None, laid.spoons))
        }),
        _ => None,
    };
    let over = over.flatten().map(|it| format!("{it}\u{a0}over"));
    need.into_iter().chain(over)
}

fn notes(row: &Row) -> impl Iterator<Item = String> {
    let mut notes = row.notes.clone();
    if !row.instead_of.is_empty() {
        notes.push(format!("in place of {}", row.instead_of.join(", ")));
    }
    notes.extend(row.or.iter().map(|other| format!("or {other}")));
    if row.is_garnish {
        notes.push("garnish".to_owned());
    }
    if row.is_optional {
        notes.push("optional".to_owned());
    }
    if row.is_rare && row.or.is_empty() {
        notes.push(match row.else_take.as_slice() {
            [] => "none there: ask the school".to_owned(),
            others => format!("none there: take {}", others.join(" or ")),
        });
    }
    if !row.perhaps.is_empty() {
        notes.push(format!("perhaps {}", row.perhaps.join(" or ")));
    }
    notes.into_iter()
}

/// On which day, and what else is possible.
fn day_notes(row: &Row) -> impl Iterator<Item = String> {
    let day = |day: Date| day.strftime("%a %-d %B").to_string();
    let mut notes = Vec::new();
    if let Some(first) = row.day.not_before.filter(|_| row.day.is_second_trip) {
        notes.push(format!("buy {}, not sooner", day(first)));
        notes.extend(row.day.last_day.map(|last| format!("last day {}", day(last))));
        if row.day.may_be_frozen {
            notes.push("or bought frozen on the first trip and thawed in the fridge".to_owned());
        }
    }
    if row.day.is_needed_before {
        notes.push(format!("needed {}, before this trip", day(row.day.first_use)));
    }
    notes.into_iter()
}

fn purchase(laid: &Laid, buy: &Purchase, measures: Measures) -> String {
    let amount = |it: &Amount| measures.amount(it, None, laid.spoons);
    match buy {
        Purchase::Packs { packs, .. } => {
            let one = Amount::exactly(1, 1, Unit::Each).ok();
            let pack = |(size, count): &(Amount, u64)| match count {
                _ if Some(size) == one.as_ref() => count.to_string(),
                1 => amount(size),
                _ => format!("{count}\u{a0}×\u{a0}{}", amount(size)),
            };
            packs.iter().map(pack).collect::<Vec<_>>().join(" + ")
        }
        Purchase::Weigh(weight) => amount(weight),
        Purchase::AtLeast(needed) => mixed(laid, needed, measures),
        Purchase::Some => "some".to_owned(),
    }
}

fn mixed(laid: &Laid, amounts: &MixedAmount, measures: Measures) -> String {
    let words = amounts.parts().map(|it| {
        // The list buys the upper end of a range.
        let upper = Amount::of(it.high().clone(), it.unit());
        measures.amount(&upper, None, laid.spoons)
    });
    words.collect::<Vec<_>>().join(" + ")
}
