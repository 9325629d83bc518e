//! A shopping list in JSON and CSV.

use serde::Serialize;

use super::card::{WrittenAmount, WrittenRemark};
use super::menu_file::MenuFile;
use crate::domain::allergen::{Finding, Verdict, rule_check};
use crate::domain::cost::{Cost, cost};
use crate::domain::quantity::MixedAmount;
use crate::domain::shopping::{Purchase, Row, ShoppingList};

/// The list by aisle.
#[derive(Debug, Serialize)]
pub struct WrittenList {
    find_first: Vec<String>,
    aisles: Vec<WrittenAisle>,
    /// A dish stands without them: garnish, and what a card calls optional.
    optional_or_garnish: Vec<WrittenRow>,
    check_you_have: Vec<WrittenRow>,
    not_in_the_larder: Vec<WrittenRow>,
    /// What the table has enough of.
    at_home: Vec<WrittenRow>,
    problems: Vec<String>,
}

/// What `shop` prints: the list, and what else the menu file asked for.
#[derive(Debug, Serialize)]
pub struct WrittenShop {
    menu: String,
    guests: u32,
    #[serde(flatten)]
    list: WrittenList,
    /// What the rule of the table says to the dishes as they are made.
    rule: Vec<WrittenFinding>,
    /// Words of the rule that are neither a food nor a group of the larder.
    unknown_words: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<WrittenCost>,
    remarks: Vec<WrittenCardRemark>,
}

#[derive(Debug, Serialize)]
struct WrittenFinding {
    dish: String,
    letter: String,
    forbidden: String,
    food: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    via: Option<String>,
    /// `breaks`, `not known`, `ask`, `read label`.
    verdict: &'static str,
    fits_with: Vec<String>,
    can_leave_out: bool,
    sentence: String,
}

/// In whole minor units.
#[derive(Debug, Serialize)]
struct WrittenCost {
    currency: String,
    till: u64,
    till_check_you_have: u64,
    used: u64,
    used_per_head: u64,
    till_per_head: u64,
    /// Bought of what does not keep, and the eaten share of what does.
    ingredients: u64,
    not_priced: Vec<String>,
}

#[derive(Debug, Serialize)]
struct WrittenCardRemark {
    card: String,
    #[serde(flatten)]
    remark: WrittenRemark,
}

impl WrittenShop {
    pub fn of(file: &MenuFile, list: &ShoppingList) -> Self {
        let check = rule_check(&file.laid, &file.sitting);
        let cost = file.prices.as_ref().map(|prices| cost(list, prices, file.sitting.guests));
        let remarks = file.remarks.iter().map(|(card, remark)| WrittenCardRemark {
            card: card.clone(),
            remark: WrittenRemark::from(remark),
        });
        Self {
            menu: file.laid.name.clone(),
            guests: file.sitting.guests.count(),
            list: WrittenList::from(list),
            rule: check.findings.iter().map(WrittenFinding::from).collect(),
            unknown_words: check.unknown_words,
            cost: cost.as_ref().map(WrittenCost::from),
            remarks: remarks.collect(),
        }
    }
}

impl From<&Finding> for WrittenFinding {
    fn from(finding: &Finding) -> Self {
        Self {
            dish: finding.title.clone(),
            letter: finding.letter.to_string(),
            forbidden: finding.forbidden.word().to_owned(),
            food: finding.food.clone(),
            via: finding.via.clone(),
            verdict: match finding.verdict {
                Verdict::Breaks => "breaks",
                Verdict::NotKnown => "not known",
                Verdict::Ask(_) => "ask",
                Verdict::ReadLabel(_) => "read label",
            },
            fits_with: finding.fits_with.clone(),
            can_leave_out: finding.can_leave_out,
            sentence: finding.sentence(),
        }
    }
}

impl From<&Cost> for WrittenCost {
    fn from(cost: &Cost) -> Self {
        Self {
            currency: cost.currency.clone(),
            till: cost.till,
            till_check_you_have: cost.till_check,
            used: cost.used,
            used_per_head: cost.used_per_head,
            till_per_head: cost.till_per_head,
            ingredients: cost.ingredients,
            not_priced: cost.not_priced.iter().map(|key| key.0.clone()).collect(),
        }
    }
}

#[derive(Debug, Serialize)]
struct WrittenAisle {
    aisle: String,
    rows: Vec<WrittenRow>,
}

#[derive(Debug, Serialize)]
struct WrittenRow {
    key: String,
    name: String,
    needed: Vec<WrittenAmount>,
    /// Grams or pieces before trim is lost, exactly; left out where unlike things stand side by side.
    #[serde(skip_serializing_if = "Option::is_none")]
    as_bought: Option<WrittenAmount>,
    buy: WrittenPurchase,
    #[serde(skip_serializing_if = "Option::is_none")]
    pieces: Option<u64>,
    dishes: Vec<String>,
    notes: Vec<String>,
    /// Each with how often: usually, sometimes, depends.
    read_label: Vec<(String, String)>,
    contains: Vec<String>,
    is_allergen_not_known: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    instead_of: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    or: Vec<String>,
    is_garnish: bool,
    is_optional: bool,
    first_use: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    not_before: Option<String>,
    is_second_trip: bool,
    buy_on: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    last_day: Option<String>,
    is_needed_before: bool,
    /// Or bought frozen on the first trip and thawed in the fridge.
    may_be_frozen: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    else_take: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    perhaps: Vec<String>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum WrittenPurchase {
    Packs { packs: Vec<WrittenPacks>, left: String },
    Weigh(WrittenAmount),
    AtLeast(Vec<WrittenAmount>),
    Some,
}

#[derive(Debug, Serialize)]
struct WrittenPacks {
    size: WrittenAmount,
    count: u64,
}

fn amounts(mixed: &MixedAmount) -> Vec<WrittenAmount> {
    mixed.parts().map(WrittenAmount::from).collect()
}

impl From<&Purchase> for WrittenPurchase {
    fn from(purchase: &Purchase) -> Self {
        match purchase {
            Purchase::Packs { packs, left } => Self::Packs {
                packs: packs
                    .iter()
                    .map(|(size, count)| WrittenPacks { size: size.into(), count: *count })
                    .collect(),
                left: left.to_string(),
            },
            Purchase::Weigh(amount) => Self::Weigh(amount.into()),
            Purchase::AtLeast(all) => Self::AtLeast(amounts(all)),
            Purchase::Some => Self::Some,
        }
    }
}

impl From<&Row> for WrittenRow {
    fn from(row: &Row) -> Self {
        let letter = |(letter, is_garnish): &(crate::domain::menu::Letter, bool)| {
            format!("{letter}{}", if *is_garnish { " G" } else { "" })
        };
        Self {
            key: row.key.0.clone(),
            name: row.name.clone(),
            needed: amounts(&row.needed),
            as_bought: row.as_bought.as_ref().map(WrittenAmount::from),
            buy: WrittenPurchase::from(&row.buy),
            pieces: row.pieces,
            dishes: row.letters.iter().map(letter).collect(),
            notes: row.notes.clone(),
            read_label: row
                .labels
                .iter()
                .map(|(allergen, how)| (allergen.word().to_owned(), how.word().to_owned()))
                .collect(),
            contains: row.contains.iter().map(|it| it.word().to_owned()).collect(),
            is_allergen_not_known: row.is_allergen_not_known,
            instead_of: row.instead_of.clone(),
            or: row.or.clone(),
            is_garnish: row.is_garnish,
            is_optional: row.is_optional,
            first_use: row.day.first_use.to_string(),
            not_before: row.day.not_before.map(|day| day.to_string()),
            is_second_trip: row.day.is_second_trip,
            buy_on: row.day.buy_on.to_string(),
            last_day: row.day.last_day.map(|day| day.to_string()),
            is_needed_before: row.day.is_needed_before,
            may_be_frozen: row.day.may_be_frozen,
            else_take: row.else_take.clone(),
            perhaps: row.perhaps.clone(),
        }
    }
}

impl From<&ShoppingList> for WrittenList {
    fn from(list: &ShoppingList) -> Self {
        let rows = |rows: &[Row]| rows.iter().map(WrittenRow::from).collect();
        Self {
            find_first: list.find_first.iter().map(|key| key.0.clone()).collect(),
            aisles: list
                .aisles
                .iter()
                .map(|aisle| WrittenAisle {
                    aisle: aisle.name.to_string(),
                    rows: rows(&aisle.rows),
                })
                .collect(),
            optional_or_garnish: rows(&list.optional),
            check_you_have: rows(&list.check),
            not_in_the_larder: rows(&list.unknown),
            at_home: rows(&list.at_home),
            problems: list.problems.clone(),
        }
    }
}

/// The list as a table. A cell that a spreadsheet would take for a formula gets a `'` in front
/// (OWASP, "CSV Injection").
pub fn to_csv(list: &ShoppingList) -> String {
    let mut out = csv::Writer::from_writer(Vec::new());
    let head = ["aisle", "food", "needed", "buy", "dishes", "first use", "second trip"];
    let mut write = |cells: [String; 7]| {
        let plain = cells.map(|cell| {
            let risky = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
            if risky { format!("'{cell}") } else { cell }
        });
        out.write_record(plain).expect("memory takes every row");
    };
    write(head.map(str::to_owned));
    let in_aisles = list.aisles.iter().flat_map(|aisle| {
        let name = aisle.name.to_string();
        aisle.rows.iter().map(move |row| (name.clone(), row))
    });
    let optional = list.optional.iter().map(|row| ("optional or garnish".to_owned(), row));
    let check = list.check.iter().map(|row| ("check you have".to_owned(), row));
    let unknown = list.unknown.iter().map(|row| ("not in the larder".to_owned(), row));
    for (aisle, row) in in_aisles.chain(optional).chain(check).chain(unknown) {
        let written = WrittenRow::from(row);
        let needed: Vec<String> = row.needed.parts().map(exact).collect();
        write([
            aisle,
            written.name,
            needed.join(" + "),
            bought(&row.buy),
            written.dishes.join(" "),
            written.first_use,
            if row.day.is_second_trip { "yes".to_owned() } else { String::new() },
        ]);
    }
    let bytes = out.into_inner().expect("memory takes every row");
    String::from_utf8(bytes).expect("every cell is text")
}

fn exact(amount: &crate::domain::quantity::Amount) -> String {
    format!("{} {}", amount.high(), amount.unit().word())
}

fn bought(purchase: &Purchase) -> String {
    match purchase {
        Purchase::Packs { packs, .. } => {
            let packs: Vec<String> =
                packs.iter().map(|(size, count)| format!("{count} x {}", exact(size))).collect();
            packs.join(" + ")
        }
        Purchase::Weigh(amount) => exact(amount),
        Purchase::AtLeast(all) => all.parts().map(exact).collect::<Vec<_>>().join(" + "),
        Purchase::Some => String::new(),
    }
}
