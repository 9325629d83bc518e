//! Every sheet of a menu for one table, whoever asks: the instructor or a student's home.

use axum::response::{Html, IntoResponse, Response};

use super::asked::Asked;
use crate::domain::allergen;
use crate::domain::handout::{
    RecipeFor, ahead_sheet, allergen_table, class_menu, cooling_log_sheet, label_sheet,
    recipe_sheet, rule_sheet, shopping_sheet,
};
use crate::domain::keeps::{Prefer, ahead, keeps};
use crate::domain::menu::{Laid, Letter, Sitting};
use crate::domain::table::shopping_list;
use crate::domain::text::capital;
use crate::drawing::Svg;
use crate::print::{self, Around, Grid};
use crate::web::PageError;

/// Which sheet. The word is the last part of its address.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetKind {
    Menu,
    Shopping,
    Ahead,
    Labels,
    Allergens,
    Rules,
    CoolingLog,
    /// One dish: `recipe-b`.
    Recipe(Letter),
}

impl SheetKind {
    /// All of a menu but its recipe sheets, in the order they are handed out.
    pub const OF_MENU: [Self; 7] = [
        Self::Menu,
        Self::Shopping,
        Self::Ahead,
        Self::Labels,
        Self::Allergens,
        Self::Rules,
        Self::CoolingLog,
    ];

    pub fn word(self) -> String {
        match self {
            Self::Menu => "menu".to_owned(),
            Self::Shopping => "shopping".to_owned(),
            Self::Ahead => "ahead".to_owned(),
            Self::Labels => "labels".to_owned(),
            Self::Allergens => "allergens".to_owned(),
            Self::Rules => "rules".to_owned(),
            Self::CoolingLog => "cooling-log".to_owned(),
            Self::Recipe(letter) => format!("recipe-{}", letter.0.to_ascii_lowercase()),
        }
    }

    /// As a link to it reads.
    pub fn title(self) -> String {
        match self {
            Self::Menu => "Class menu".to_owned(),
            Self::Shopping => "Shopping list".to_owned(),
            Self::Ahead => "Prep-ahead sheet".to_owned(),
            Self::Labels => "Container labels".to_owned(),
            Self::Allergens => "Allergen sheet".to_owned(),
            Self::Rules => "Rule sheet".to_owned(),
            Self::CoolingLog => "Blank cooling log".to_owned(),
            Self::Recipe(letter) => format!("Recipe sheet {letter}"),
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        if let Some(letter) = word.strip_prefix("recipe-") {
            let mut signs = letter.chars();
            let sign = signs.next().filter(char::is_ascii_lowercase)?;
            return signs.next().is_none().then(|| Self::Recipe(Letter(sign.to_ascii_uppercase())));
        }
        Self::OF_MENU.into_iter().find(|kind| kind.word() == word)
    }
}

/// Where a student opens this menu, and the picture of that address.
pub struct Door {
    pub address: String,
    pub qr: Option<Svg>,
}

/// The sheet as a whole page. A letter that the menu does not have is not there.
pub fn sheet(
    kind: SheetKind,
    laid: &Laid,
    sitting: &Sitting,
    asked: Asked,
    around: &Around,
    door: Option<Door>,
) -> Result<Response, PageError> {
    Ok(Html(html(kind, laid, sitting, asked, around, door)?).into_response())
}

pub(super) fn html(
    kind: SheetKind,
    laid: &Laid,
    sitting: &Sitting,
    asked: Asked,
    around: &Around,
    door: Option<Door>,
) -> Result<String, PageError> {
    let words = allergen::sheet(laid, sitting);
    let allergens = |letter: Letter| {
        words
            .dishes
            .iter()
            .find(|dish| dish.letter == letter)
            .map_or_else(|| "allergens not known".to_owned(), allergen::DishAllergens::words)
    };
    let html = match kind {
        SheetKind::Menu => {
            let (address, qr) = door.map_or((None, None), |it| (Some(it.address), it.qr));
            let sentence = |letter| format!("{}.", capital(&allergens(letter)));
            let menu = class_menu(laid, sitting, &keeps(laid, sitting), &sentence, address);
            print::class_menu(around, &menu, qr)
        }
        SheetKind::Shopping => {
            let list = shopping_list(laid, sitting);
            print::shopping(around, &shopping_sheet(laid, sitting, &list, asked.measures))
        }
        SheetKind::Ahead => {
            let plan = ahead(laid, sitting, Prefer::default());
            print::ahead(around, &ahead_sheet(laid, sitting, &plan))
        }
        SheetKind::Labels => {
            let plan = ahead(laid, sitting, Prefer::default());
            let labels = label_sheet(laid, sitting, &plan, &allergens);
            print::labels(around, &labels, Grid::of(asked.grid, asked.size), asked.paper)
        }
        SheetKind::Allergens => print::allergens(around, &allergen_table(laid, sitting, &words)),
        SheetKind::CoolingLog => print::cooling_log(around, &cooling_log_sheet(laid)),
        SheetKind::Rules => print::rules(around, &rule_sheet(laid, &keeps(laid, sitting))),
        SheetKind::Recipe(letter) => {
            let dish = laid.dishes.iter().find(|dish| dish.letter == letter);
            let dish = dish.ok_or(PageError::NotFound)?;
            let order = RecipeFor::table(laid, dish, sitting, asked.measures);
            print::recipe(around, &recipe_sheet(&order))
        }
    };
    Ok(html?)
}
