//! Whose food a forecast is about: a card, or one dish of a student's table with the way to the others.

use askama::Template;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};

use crate::domain::dish::Dish;
use crate::domain::menu::LaidDish;
use crate::web::homes::AtTable;
use crate::web::{AppState, PageError};

pub struct Of {
    pub title: String,
    pub back: (String, String),
    /// Where the form asks.
    pub address: String,
    /// Other dishes of the menu that the page can be asked about.
    pub others: Vec<(String, String)>,
    /// Letter of the dish, sent along; empty for a card.
    pub dish: String,
}

impl Of {
    pub fn card(state: &AppState, dish: &Dish, address: String) -> Self {
        Self {
            title: dish.title.to_string(),
            back: (state.paths.dish(dish.id), "Back to the card".to_owned()),
            address,
            others: Vec::new(),
            dish: String::new(),
        }
    }

    /// The dish of this letter, else the first of which `found` says anything, with what it says.
    ///
    /// # Errors
    /// There is no such dish.
    pub fn table<T>(
        at: &AtTable,
        asked: &str,
        address: String,
        back: (String, String),
        found: impl Fn(&LaidDish) -> Option<T>,
    ) -> Result<(Self, Option<T>), PageError> {
        let all = at.laid().dishes.iter();
        let mut with: Vec<_> = all.filter_map(|dish| Some((dish, found(dish)?))).collect();
        let is_asked =
            |dish: &LaidDish| asked.is_empty() || dish.letter.to_string().as_str() == asked;
        let place = with.iter().position(|(dish, _)| is_asked(dish));
        if place.is_none() && !asked.is_empty() {
            return Err(PageError::NotFound);
        }
        let chosen = place.map(|place| with.remove(place));
        let other = |(dish, _): &(&LaidDish, T)| {
            (format!("{address}?dish={}", dish.letter), format!("{}, {}", dish.letter, dish.title))
        };
        let others = with.iter().map(other).collect();
        let (title, dish, found) = match chosen {
            Some((dish, found)) => (dish.title.clone(), dish.letter.to_string(), Some(found)),
            None => Default::default(),
        };
        Ok((Self { title, back, address, others, dish }, found))
    }
}

/// What was typed wrong comes back with 422.
pub fn answered(page: &impl Template, is_refused: bool) -> Result<Response, PageError> {
    let status = if is_refused { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}
