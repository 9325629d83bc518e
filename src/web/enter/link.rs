//! One-time links, as the keeper of the server hands them out.

use crate::clock::{Chance, Clock};
use crate::config::PublicUrl;
use crate::storage::{LinkPurpose, Storage, StorageError};
use crate::web::extract::hash_of;
use crate::web::paths::Paths;

/// 160 bits of chance.
const TOKEN_SIGNS: usize = 32;

const fn hours_open(purpose: LinkPurpose) -> i64 {
    match purpose {
        LinkPurpose::SetUp => 24,
        LinkPurpose::Invite(_) => 7 * 24,
        LinkPurpose::Reset(..) => 1,
    }
}

/// Makes a link and gives its whole address. What it holds is kept as a hash only.
pub async fn new_link(
    storage: &Storage,
    clock: Clock,
    chance: &Chance,
    url: &PublicUrl,
    purpose: LinkPurpose,
) -> Result<String, StorageError> {
    let at = clock.now();
    let ends = at + jiff::SignedDuration::from_hours(hours_open(purpose));
    let token = chance.signs::<TOKEN_SIGNS>();
    storage.add_link(hash_of(&token), purpose, at, ends).await?;
    let paths = Paths::under(url.base());
    let path = match purpose {
        LinkPurpose::SetUp => paths.set_up(&token),
        LinkPurpose::Invite(_) => paths.join(&token),
        LinkPurpose::Reset(..) => paths.new_password(&token),
    };
    Ok(format!("{}{path}", url.origin()))
}
