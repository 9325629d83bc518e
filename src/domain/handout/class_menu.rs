//! The class menu: one page for the wall, read from two metres.

use super::foot::Foot;
use crate::domain::caution::{advisory, is_undercooked};
use crate::domain::keeps::DishKeeps;
use crate::domain::menu::{Laid, Letter, Sitting};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassMenu {
    pub foot: Foot,
    /// `16` and `Wed June`.
    pub day: (String, String),
    pub title: String,
    /// `At the table at 13:00, for 8`.
    pub when: String,
    /// What must not be on the table, and whether traces count.
    pub rule: Option<String>,
    pub dishes: Vec<ClassDish>,
    /// Name at the left, words at the right: what to bring, the fee.
    pub notes: Vec<(String, String)>,
    /// Where a student opens it at home.
    pub address: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassDish {
    pub letter: Letter,
    pub title: String,
    pub course: Option<String>,
    pub allergens: String,
    pub ahead: String,
}

pub fn class_menu(
    laid: &Laid,
    sitting: &Sitting,
    keeps: &[DishKeeps],
    allergens: &dyn Fn(Letter) -> String,
    address: Option<String>,
) -> ClassMenu {
    let serve = sitting.serve.local;
    let traces = if laid.rule.strict { " Strict: traces count." } else { "" };
    let rule = (!laid.rule.words.is_empty())
        .then(|| format!("{}.{traces}", laid.rule.words.trim_end_matches('.')));
    let dishes = laid.eaten().filter(|dish| !sitting.without.contains(&dish.id));
    ClassMenu {
        foot: Foot::of_menu(laid),
        day: (serve.strftime("%-d").to_string(), serve.strftime("%a %B").to_string()),
        title: laid.name.clone(),
        when: format!(
            "At the table at {}, for {}",
            serve.strftime("%H:%M"),
            sitting.guests.count()
        ),
        rule,
        dishes: dishes
            .map(|dish| ClassDish {
                letter: dish.letter,
                title: dish.title.clone(),
                course: dish.card.course.clone(),
                allergens: allergens(dish.letter),
                ahead: ahead(sitting, keeps.iter().find(|it| it.dish == dish.id)),
            })
            .collect(),
        notes: undercooked(laid, sitting),
        address,
    }
}

/// The consumer advisory, where a dish is served undercooked by the limits of the school.
fn undercooked(laid: &Laid, sitting: &Sitting) -> Vec<(String, String)> {
    let dishes: Vec<String> = laid
        .eaten()
        .filter(|dish| !sitting.without.contains(&dish.id))
        .filter(|dish| is_undercooked(&dish.card, &laid.larder, &laid.profile))
        .map(|dish| format!("{} {}", dish.letter, dish.title))
        .collect();
    advisory(&dishes).map(|words| ("Undercooked".to_owned(), words)).into_iter().collect()
}

/// `Ahead: crumb from Mon 21 June.`, the earliest day for each part.
fn ahead(sitting: &Sitting, keeps: Option<&DishKeeps>) -> String {
    let stops = keeps.map_or(&[][..], |it| &it.stops);
    let mut parts: Vec<(String, jiff::civil::DateTime)> = Vec::new();
    for stop in stops.iter().filter(|stop| stop.impossible.is_empty()) {
        let from = stop.earliest.local;
        match parts.iter_mut().find(|(what, _)| *what == stop.what) {
            Some((_, known)) => *known = (*known).min(from),
            None => parts.push((stop.what.clone(), from)),
        }
    }
    let title = keeps.map_or("", |it| &it.title);
    parts.retain(|(_, from)| from.date() < sitting.serve.local.date());
    parts.sort_by_key(|(_, from)| *from);
    match parts.as_slice() {
        [] => "Made on the day.".to_owned(),
        parts => {
            let words = parts.iter().map(|(what, from)| {
                let what = if what == title { "from" } else { &format!("{what} from") };
                format!("{what} {}", from.strftime("%a %-d %B"))
            });
            format!("Ahead: {}.", words.collect::<Vec<_>>().join("; "))
        }
    }
}
