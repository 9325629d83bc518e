//! The cookie that lets a browser in, and where it goes from the door.

use axum::http::{HeaderMap, header};

use crate::domain::account::{Account, SessionId, stay};
use crate::storage::NewSession;
use crate::web::extract::hash_of;
use crate::web::{AppState, PageError};

/// 160 bits of chance, in signs that need no escaping.
const TOKEN_SIGNS: usize = 32;

/// Lets the browser in as `account`; the answer is the cookie to set.
pub async fn let_in(
    state: &AppState,
    account: &Account,
    headers: &HeaderMap,
) -> Result<String, PageError> {
    let at = state.clock.now();
    let token = state.chance.signs::<TOKEN_SIGNS>();
    let session = NewSession {
        id: SessionId(state.chance.key(at)),
        token_hash: hash_of(&token),
        account: account.id,
        school: account.school,
        device: device(headers),
        at,
    };
    state.storage.add_session(&session).await?;
    Ok(cookie(state, &token, stay::WHOLE_MAX_SECONDS))
}

/// The cookie that takes the other one away.
pub fn end_cookie(state: &AppState) -> String {
    cookie(state, "", 0)
}

fn cookie(state: &AppState, token: &str, seconds: i64) -> String {
    let path = format!("{}/", state.paths.base());
    let secure = if state.public_url.is_secure() { "; Secure" } else { "" };
    let name = state.cookie_name();
    format!("{name}={token}; Path={path}; Max-Age={seconds}; HttpOnly; SameSite=Lax{secure}")
}

/// The browser in two words, so that its owner knows it again in the list; never more.
fn device(headers: &HeaderMap) -> String {
    let agent = headers.get(header::USER_AGENT).and_then(|it| it.to_str().ok()).unwrap_or_default();
    let first = |known: &[(&str, &'static str)]| {
        known.iter().find(|(sign, _)| agent.contains(sign)).map(|(_, word)| *word)
    };
    // In this order: most browsers also name the ones they came from.
    let browser = first(&[
        ("Firefox/", "Firefox"),
        ("Edg", "Edge"),
        ("OPR/", "Opera"),
        ("Chrome/", "Chrome"),
        ("CriOS/", "Chrome"),
        ("Safari/", "Safari"),
    ]);
    let machine = first(&[
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Android", "Android"),
        ("Windows", "Windows"),
        ("Mac OS X", "Mac"),
        ("Linux", "Linux"),
    ]);
    match (browser, machine) {
        (Some(browser), Some(machine)) => format!("{browser} on {machine}"),
        (Some(word), None) | (None, Some(word)) => word.to_owned(),
        (None, None) => "A browser".to_owned(),
    }
}

/// Where to go after the door: a path of ours, or nothing.
///
/// Only letters, figures and `/-_.` pass, and no doubled stroke, so that no browser can read
/// another machine out of it.
pub fn back_path(asked: &str) -> &str {
    let plain = |c: char| c.is_ascii_alphanumeric() || "/-_.".contains(c);
    let ours = asked.starts_with('/')
        && !asked.contains("//")
        && asked.chars().all(plain)
        && asked.len() <= 200;
    if ours { asked } else { "" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_door_leads_to_our_own_pages_only() {
        for ours in ["/dishes", "/dishes/0198-ab/print.html"] {
            assert_eq!(back_path(ours), ours);
        }
        let foreign = [
            "//evil",
            "/\\evil",
            "https:evil",
            "%2f%2fevil",
            "/%09/evil",
            "/\u{2215}evil",
            "evil",
            "javascript:alert(1)",
            "/a//b",
            "/a?b",
            "/a\r\nb",
        ];
        for foreign in foreign {
            assert_eq!(back_path(foreign), "", "{foreign}");
        }
    }

    #[test]
    fn a_browser_is_named_in_two_words() {
        let named = |agent: &str| {
            let mut headers = HeaderMap::new();
            headers.insert(header::USER_AGENT, agent.parse().unwrap());
            device(&headers)
        };
        let chrome = "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/131.0 Mobile Safari/537.36";
        assert_eq!(named(chrome), "Chrome on Android");
        assert_eq!(
            named("Mozilla/5.0 (X11; Linux x86_64; rv:130.0) Gecko Firefox/130.0"),
            "Firefox on Linux"
        );
        assert_eq!(named("curl/8"), "A browser");
    }
}
