//! The arithmetic alone, without a server: one list, one sheet.

use std::collections::BTreeMap;
use std::hint::black_box;
use std::time::{Duration, Instant};

use crate::goal::Goal::{Below, Open};
use crate::goal::line;
use dovetray::domain::allergen::sheet;
use dovetray::domain::dish::DishId;
use dovetray::domain::keeps::keeps;
use dovetray::domain::menu::{LaidDish, Letter, Sitting};
use dovetray::domain::quantity::Portions;
use dovetray::domain::shopping::{Days, combine, needs, scale};
use dovetray::exchange::menu_file::{MenuFile, read_menu};

const MENU: &str = include_str!("../../demo/midsummer-lunch.json");
const GUESTS: u32 = 40;
/// The goals are about lists of so many dishes, each with its guests and microseconds.
const GOALS: [(usize, u32, f64); 2] = [(40, GUESTS, 2_000.0), (100, 60, 5_000.0)];

pub fn print() -> Result<(), super::Failure> {
    let MenuFile { laid, mut sitting, .. } = read_menu(MENU)?;
    for count in [6, 40, 100] {
        let goal = GOALS.iter().find(|(dishes, ..)| *dishes == count);
        let guests = goal.map_or(GUESTS, |(_, guests, _)| *guests);
        sitting.guests = Portions::new(guests)?;
        let mut many = laid.clone();
        let eaten: Vec<LaidDish> = laid.eaten().cloned().collect();
        many.dishes.retain(|dish| dish.is_base);
        for (place, mut dish) in eaten.into_iter().cycle().take(count).enumerate() {
            dish.id = DishId(place_id(place));
            dish.letter = Letter::at(place % Letter::MOST).unwrap_or(dish.letter);
            many.dishes.insert(place, dish);
        }
        let goal = goal.map_or(Open, |(.., most)| Below(*most));
        let name = format!("one list: {count} dishes, {guests} guests, us");
        line(&name, best(|| list(&many, &sitting)), goal);
        let words = best(|| drop(black_box(sheet(&many, &sitting))));
        line(&format!("allergen sheet: {count} dishes, us"), words, Open);
        let early = best(|| drop(black_box(keeps(&many, &sitting))));
        line(&format!("limits: {count} dishes, us"), early, Open);
    }
    Ok(())
}

fn place_id(place: usize) -> uuid::Uuid {
    uuid::Uuid::from_u128(1_000 + place as u128)
}

fn list(laid: &dovetray::domain::menu::Laid, sitting: &Sitting) {
    let serving = sitting.serve.local.date();
    let of_step = BTreeMap::new();
    let days = Days { of_step: &of_step, serving, shopping: serving };
    let needs = needs(laid, sitting, &scale(laid, sitting));
    black_box(combine(&needs, &laid.larder, &days));
}

/// The best of many runs, in microseconds.
#[expect(clippy::disallowed_methods, reason = "a benchmark is about time")]
pub fn best(work: impl Fn()) -> f64 {
    let mut best = Duration::MAX;
    for _ in 0..200 {
        let start = Instant::now();
        work();
        best = best.min(start.elapsed());
    }
    best.as_secs_f64() * 1e6
}
