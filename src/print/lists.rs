//! The sheets of a whole menu: shopping list, prep-ahead sheet, rule sheet, class menu.

use askama::Template;

use super::Around;
use crate::domain::handout::{
    AheadSheet, AllergenTable, ClassMenu, CoolingLogSheet, RuleSheet, ShoppingSheet,
};
use crate::drawing::Svg;

#[derive(Template)]
#[template(path = "print/shopping.html")]
struct ShoppingPage<'a> {
    around: &'a Around,
    sheet: &'a ShoppingSheet,
}

pub fn shopping(around: &Around, sheet: &ShoppingSheet) -> askama::Result<String> {
    ShoppingPage { around, sheet }.render()
}

#[derive(Template)]
#[template(path = "print/ahead.html")]
struct AheadPage<'a> {
    around: &'a Around,
    sheet: &'a AheadSheet,
}

pub fn ahead(around: &Around, sheet: &AheadSheet) -> askama::Result<String> {
    AheadPage { around, sheet }.render()
}

#[derive(Template)]
#[template(path = "print/rules.html")]
struct RulePage<'a> {
    around: &'a Around,
    sheet: &'a RuleSheet,
}

pub fn rules(around: &Around, sheet: &RuleSheet) -> askama::Result<String> {
    RulePage { around, sheet }.render()
}

#[derive(Template)]
#[template(path = "print/cooling_log.html")]
struct CoolingLogPage<'a> {
    around: &'a Around,
    sheet: &'a CoolingLogSheet,
}

pub fn cooling_log(around: &Around, sheet: &CoolingLogSheet) -> askama::Result<String> {
    CoolingLogPage { around, sheet }.render()
}

#[derive(Template)]
#[template(path = "print/class_menu.html")]
struct ClassMenuPage<'a> {
    around: &'a Around,
    sheet: &'a ClassMenu,
    qr: Option<Svg>,
}

/// `qr` is the picture of the sheet's address.
pub fn class_menu(around: &Around, sheet: &ClassMenu, qr: Option<Svg>) -> askama::Result<String> {
    ClassMenuPage { around, sheet, qr }.render()
}

#[derive(Template)]
#[template(path = "print/allergens.html")]
struct AllergenPage<'a> {
    around: &'a Around,
    sheet: &'a AllergenTable,
}

pub fn allergens(around: &Around, sheet: &AllergenTable) -> askama::Result<String> {
    AllergenPage { around, sheet }.render()
}
