//! What stands at the foot of every page of a sheet.

use crate::domain::menu::{Laid, LaidDish, Letter, Revision};
use crate::domain::moment::Zone;

/// Whose sheet it is, of what, and which text of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Foot {
    pub school: String,
    /// `B  Lemon and fennel chicken thighs`, or `Midsummer lunch, A to F`.
    pub about: String,
    /// `revision 2, 18 June 2027`; none for a draft.
    pub revision: Option<String>,
    pub check_word: Option<String>,
}

/// Said on every foot; the rule sheet says which limits they are.
pub const WITHIN: &str = "within the limits the school chose, see rule sheet";

impl Foot {
    pub fn new(school: &str, about: String, fixed: Option<&Revision>, zone: &Zone) -> Self {
        let words = |it: &Revision| format!("revision {}, {}", it.number, zone.date_of(it.at));
        Self {
            school: school.to_owned(),
            about,
            revision: fixed.map(words),
            check_word: fixed.map(|it| it.check_word.clone()),
        }
    }

    /// The foot of a sheet of the whole menu.
    pub fn of_menu(laid: &Laid) -> Self {
        let letters: Vec<Letter> = laid.eaten().map(|dish| dish.letter).collect();
        let about = match (letters.first(), letters.last()) {
            (Some(first), Some(last)) if first != last => {
                format!("{}, {first} to {last}", laid.name)
            }
            (Some(only), _) => format!("{}, {only}", laid.name),
            _ => laid.name.clone(),
        };
        Self::new(&laid.school, about, laid.publication.as_ref(), &laid.zone)
    }

    /// The foot of a sheet of one dish of the menu. A published menu fixes the dish with it.
    pub fn of_dish(laid: &Laid, dish: &LaidDish) -> Self {
        let about = format!("{}\u{2002}{}", dish.letter, dish.title);
        Self::new(&laid.school, about, dish.revision.as_ref(), &laid.zone)
    }

    /// The foot of a dish that stands in no menu.
    pub fn of_dish_alone(laid: &Laid, dish: &LaidDish) -> Self {
        Self::new(&laid.school, dish.title.clone(), dish.revision.as_ref(), &laid.zone)
    }

    pub fn within(&self) -> &'static str {
        WITHIN
    }
}
