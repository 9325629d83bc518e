//! A shopping list in JSON and CSV.

use serde::Serialize;

use super::card::WrittenAmount;
use crate::domain::quantity::MixedAmount;
use crate::domain::shopping::{Purchase, Row, ShoppingList};

/// What `shop` prints.
#[derive(Debug, Serialize)]
pub struct WrittenList {
    find_first: Vec<String>,
    aisles: Vec<WrittenAisle>,
    check_you_have: Vec<WrittenRow>,
    not_in_the_larder: Vec<WrittenRow>,
    problems: Vec<String>,
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
    buy: WrittenPurchase,
    dishes: Vec<String>,
    notes: Vec<String>,
    /// Each with how often: usually, sometimes, depends.
    read_label: Vec<(String, String)>,
    contains: Vec<String>,
    is_garnish: bool,
    is_optional: bool,
    first_use: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    not_before: Option<String>,
    is_second_trip: bool,
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
            buy: WrittenPurchase::from(&row.buy),
            dishes: row.letters.iter().map(letter).collect(),
            notes: row.notes.clone(),
            read_label: row
                .labels
                .iter()
                .map(|(allergen, how)| (allergen.word().to_owned(), how.word().to_owned()))
                .collect(),
            contains: row.contains.iter().map(|it| it.word().to_owned()).collect(),
            is_garnish: row.is_garnish,
            is_optional: row.is_optional,
            first_use: row.day.first_use.to_string(),
            not_before: row.day.not_before.map(|day| day.to_string()),
            is_second_trip: row.day.is_second_trip,
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
            check_you_have: rows(&list.check),
            not_in_the_larder: rows(&list.unknown),
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
    let check = list.check.iter().map(|row| ("check you have".to_owned(), row));
    let unknown = list.unknown.iter().map(|row| ("not in the larder".to_owned(), row));
    for (aisle, row) in in_aisles.chain(check).chain(unknown) {
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
