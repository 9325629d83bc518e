//! What is noted of whom: each thing an instructor changes, and who comes and goes.
//!
//! Neither texts nor answers are noted, only which page was changed.

use axum::extract::{MatchedPath, Request};
use axum::http::{Method, header};
use axum::response::Response;

use super::{AppState, PageError, reference};
use crate::domain::account::Account;
use crate::domain::school::SchoolId;
use crate::storage::Deed;

/// What is said of a form of an instructor that was taken. A row of the table of addresses stands
/// here or among [`UNNOTED`]; a test holds that.
pub const WORDS: [(&str, &str); 26] = [
    ("/dishes/new", "wrote a dish"),
    ("/dishes/told", "wrote dishes as they were told"),
    ("/dishes/{id}/edit", "changed a dish"),
    ("/dishes/{id}/publish", "fixed the text of a dish"),
    ("/dishes/{id}/archive", "put a dish away"),
    ("/dishes/{id}/bring-back", "took a dish up again"),
    ("/menus/new", "began a menu"),
    ("/menus/{id}", "changed a menu"),
    ("/menus/{id}/publish", "published a menu"),
    ("/menus/{id}/links", "changed the links of a menu"),
    ("/menus/{id}/class", "began a class"),
    ("/classes/{id}/edit", "changed a class"),
    ("/classes/{id}/links", "changed the links of a class"),
    ("/classes/{id}/log", "kept a reading of a class"),
    ("/kitchens/new", "added a kitchen"),
    ("/kitchens/{id}", "changed a kitchen"),
    ("/larder/food", "changed a food"),
    ("/larder/drop", "took back a food of ours"),
    ("/larder/prices", "noted a price"),
    ("/larder/words", "said what words mean"),
    ("/larder/words/drop", "took back what words mean"),
    ("/larder/import", "took foods and prices from a spreadsheet"),
    ("/limits/row", "tightened a limit"),
    ("/limits/base", "chose the rules"),
    ("/school", "changed the school"),
    ("/school/password", "chose a new password"),
];

/// Changes nothing of the school, or only what its own browser may do.
pub const UNNOTED: [&str; 3] =
    ["/dishes/paste", "/school/browsers/{id}/end", "/school/browsers/end-all"];

/// A form on its way to a handler.
pub struct Asked {
    words: &'static str,
    address: String,
    request: String,
}

impl Asked {
    /// None when nothing is to be noted of it.
    pub fn of(state: &AppState, request: &Request) -> Option<Self> {
        if request.method() != Method::POST {
            return None;
        }
        let row = request.extensions().get::<MatchedPath>()?;
        let row = row.as_str().strip_prefix(state.paths.base())?;
        let (_, words) = WORDS.iter().find(|(path, _)| *path == row)?;
        let address = request.uri().path().to_owned();
        Some(Self { words, address, request: reference(request) })
    }

    /// Notes it when the form was taken: only then the browser is led on.
    pub fn answered(
        self,
        state: &AppState,
        account: &Account,
        answer: &Response,
    ) -> impl Future<Output = Result<(), PageError>> + Send + use<> {
        let is_taken = answer.status().is_redirection();
        let led_to = answer.headers().get(header::LOCATION).and_then(|it| it.to_str().ok());
        let page = led_to.unwrap_or(&self.address).split(['?', '#']).next().unwrap_or_default();
        let page = page.strip_prefix(state.paths.base()).unwrap_or_default();
        let deed = deed(state, account, self.words, page, true);
        let (state, school) = (state.clone(), account.school);
        async move { if is_taken { note(&state, school, deed, self.request).await } else { Ok(()) } }
    }
}

/// Notes who came in or chose a new password at the door.
pub async fn note_at_door(
    state: &AppState,
    account: &Account,
    words: &str,
) -> Result<(), PageError> {
    note(state, account.school, deed(state, account, words, "", true), String::new()).await
}

/// Notes a wrong password while the answer is already on its way: whoever tries names must not
/// learn by the time it takes that this one exists.
pub fn note_refused(state: &AppState, account: &Account) {
    let deed = deed(state, account, "was not let in", "", false);
    let (state, school) = (state.clone(), account.school);
    tokio::spawn(async move {
        if let Err(error) = note(&state, school, deed, String::new()).await {
            tracing::error!(?error, "a refused sign-in was not noted");
        }
    });
}

fn deed(state: &AppState, account: &Account, words: &str, page: &str, is_done: bool) -> Deed {
    Deed {
        at: state.clock.now(),
        actor: account.login.to_string(),
        action: words.to_owned(),
        object: page.to_owned(),
        is_done,
    }
}

async fn note(
    state: &AppState,
    school: SchoolId,
    deed: Deed,
    request: String,
) -> Result<(), PageError> {
    tracing::info!(school = %school.0, words = deed.action, page = deed.object, "noted");
    Ok(state.storage.note_deed(school, deed, request).await?)
}
