//! Sheets for paper: their addresses, and which handout each one shows.

mod asked;
mod samples;
mod show;

use std::sync::Arc;

use axum::extract::State;
use axum::http::Uri;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;

pub use self::asked::Asked;
pub use self::samples::samples;
pub use self::show::{Door, SheetKind, sheet};
use super::extract::{Id, Instructor};
use super::routes::{Route, Who, row};
use super::{AppState, PageError};
use crate::domain::card::DishKind;
use crate::domain::dish::{Dish, DishId, DishRevision};
use crate::domain::handout::{RecipeFor, recipe_sheet};
use crate::domain::larder::Larder;
use crate::domain::limit::Profile;
use crate::domain::menu::{Laid, LaidDish, Letter, Revision, TableRule};
use crate::domain::quantity::Spoons;
use crate::domain::school::School;
use crate::print;

pub const ROUTES: &[Route] =
    &[row("GET", "/dishes/{id}/sheet", Who::Instructor, || get(dish_sheet))];

/// The recipe sheet of one dish by itself, as its card stands now.
async fn dish_sheet(
    State(state): State<AppState>,
    who: Instructor,
    Id(id): Id,
    uri: Uri,
) -> Result<Response, PageError> {
    let school = &who.school;
    let dish = state.storage.dish(school.id, DishId(id)).await?.ok_or(PageError::NotFound)?;
    let revisions = state.storage.dish_revisions(school.id, dish.id).await?;
    let bases = state.storage.base_titles(school.id).await?;
    let larder = state.storage.larder(school.id).await?;
    let reading = state.cards.read(dish.card.as_str(), &larder, &bases);
    let profile = state.storage.profile(school.id).await?;
    let card = Arc::new(reading.card.clone());
    let mut laid = laid_alone(school, &dish, &revisions, card, larder, profile);
    // A base that goes in brings its allergens along.
    for base in state.storage.dishes(school.id).await? {
        if base.kind == DishKind::Base && base.id != dish.id {
            let reading = state.cards.read(base.card.as_str(), &laid.larder, &bases);
            laid.dishes.push(LaidDish {
                id: base.id,
                letter: Letter('S'),
                is_base: true,
                title: base.title.to_string(),
                revision: None,
                card: Arc::new(reading.card.clone()),
            });
        }
    }
    let asked = Asked::of(&uri, school.settings.paper);
    let mut order = RecipeFor::alone(&laid, &laid.dishes[0], asked.measures);
    if let Some(guests) = asked.guests {
        order = order.for_guests(guests);
    }
    let back = (state.paths.dish(dish.id), dish.title.to_string());
    let around = asked.around(&state.paths, Some(back));
    Ok(Html(print::recipe(&around, &recipe_sheet(&order))?).into_response())
}

/// One dish laid out alone. It bears a revision if its text is one of the fixed ones.
fn laid_alone(
    school: &School,
    dish: &Dish,
    revisions: &[DishRevision],
    card: Arc<crate::domain::card::Card>,
    larder: Arc<Larder>,
    profile: Arc<Profile>,
) -> Laid {
    let fixed = revisions.iter().filter(|it| it.card == dish.card).max_by_key(|it| it.number);
    let revision = fixed.map(|it| Revision {
        number: it.number,
        check_word: it.check_word.clone(),
        at: it.published_at,
    });
    let title = dish.title.to_string();
    Laid {
        school: school.name.to_string(),
        zone: school.zone.clone(),
        name: title.clone(),
        publication: None,
        dishes: vec![LaidDish {
            id: dish.id,
            letter: Letter('A'),
            is_base: dish.kind == DishKind::Base,
            title,
            revision,
            card,
        }],
        rule: TableRule::default(),
        choices: std::collections::BTreeMap::default(),
        sweet_after_minutes: 0,
        larder,
        profile,
        spoons: Spoons::default(),
    }
}
