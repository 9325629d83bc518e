//! What the pages for students say of each dish.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use crate::domain::allergen::{self, DishAllergens};
use crate::domain::keeps::keeps;
use crate::domain::menu::{Laid, PublicationId, Sitting};

/// A dish as students read it.
#[derive(Debug)]
pub struct DishRow {
    pub letter: String,
    pub is_base: bool,
    pub title: String,
    pub about: String,
    pub allergens: String,
    pub ahead: String,
    pub sheet: String,
}

/// What the pages of a class say of its dishes, kept for all its links: it follows from what was
/// fixed, the hour and the seats alone. Cheap to clone.
#[derive(Clone, Debug, Default)]
pub struct ClassRows(Arc<Mutex<HashMap<ClassSitting, Arc<[DishRow]>>>>);

type ClassSitting = (Option<PublicationId>, ServedAt, u32);
type ServedAt = (jiff::civil::DateTime, String);

/// Beyond this many all are forgotten and made anew: simple, and rare.
const CLASS_ROWS_MAX: usize = 64;

impl ClassRows {
    pub fn of(&self, id: Option<PublicationId>, laid: &Laid, sitting: &Sitting) -> Arc<[DishRow]> {
        let served_at = (sitting.serve.local, sitting.serve.zone.name().to_owned());
        let key = (id, served_at, sitting.guests.count());
        if let Some(known) = self.locked(|rows| rows.get(&key).cloned()) {
            return known;
        }
        let made: Arc<[DishRow]> = dish_rows(laid, sitting, None).into();
        self.locked(|rows| {
            if rows.len() >= CLASS_ROWS_MAX {
                rows.clear();
            }
            rows.insert(key, Arc::clone(&made));
        });
        made
    }

    fn locked<T>(&self, look: impl FnOnce(&mut HashMap<ClassSitting, Arc<[DishRow]>>) -> T) -> T {
        look(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

pub fn dish_rows(laid: &Laid, sitting: &Sitting, sheets: Option<&str>) -> Vec<DishRow> {
    let words = allergen::sheet(laid, sitting);
    let every = keeps(laid, sitting);
    let row = |dish: &crate::domain::menu::LaidDish| {
        let carries = words.dishes.iter().find(|it| it.letter == dish.letter);
        let stops = every.iter().find(|it| it.letter == dish.letter).map(|it| &it.stops);
        let ahead: Vec<String> = stops
            .into_iter()
            .flatten()
            .map(|stop| {
                format!(
                    "{}, {}: not before {}",
                    stop.what,
                    stop.place.word(),
                    stop.earliest.short()
                )
            })
            .collect();
        let letter = dish.letter.0.to_ascii_lowercase();
        DishRow {
            letter: dish.letter.to_string(),
            is_base: dish.is_base,
            title: dish.title.clone(),
            about: dish.card.why.clone().unwrap_or_default(),
            allergens: carries.map_or("not known".to_owned(), DishAllergens::words),
            ahead: if ahead.is_empty() { "made on the day".to_owned() } else { ahead.join("; ") },
            sheet: sheets.map_or_else(String::new, |it| format!("{it}/recipe-{letter}")),
        }
    };
    laid.dishes.iter().filter(|dish| !sitting.without.contains(&dish.id)).map(row).collect()
}
