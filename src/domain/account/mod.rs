//! Who may enter: log-ins, passwords, and how often a secret may be tried.

mod password;
mod throttle;

pub use self::password::{Password, PasswordError};
pub use self::throttle::{Tries, TryKind};

use jiff::Timestamp;
use uuid::Uuid;

use super::school::SchoolId;
use super::text::tidy;

/// Names one instructor's account.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AccountId(pub Uuid);

/// Names one browser that was let in. It opens nothing by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SessionId(pub Uuid);

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Account {
    pub id: AccountId,
    pub school: SchoolId,
    pub login: Login,
    pub disabled_at: Option<Timestamp>,
}

/// The name an instructor signs in with: an address of mail or any other, one line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Login(String);

impl Login {
    pub const LENGTH_MAX: usize = 64;

    pub fn parse(typed: &str) -> Result<Self, LoginError> {
        let login = tidy(typed);
        let length = login.chars().count();
        if length == 0 {
            return Err(LoginError::Missing);
        }
        if length > Self::LENGTH_MAX {
            return Err(LoginError::TooLong { length });
        }
        Ok(Self(login))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The form in which two log-ins are compared: letters of one size only.
    pub fn folded(&self) -> String {
        self.0.to_lowercase()
    }
}

impl std::fmt::Display for Login {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LoginError {
    #[error("Enter the name you sign in with")]
    Missing,
    #[error("The name must be {max} characters or fewer; this one has {length}", max = Login::LENGTH_MAX)]
    TooLong { length: usize },
}

/// How long a browser stays let in.
pub mod stay {
    /// A tablet in a kitchen is used once a week; two weeks without it and it is asked again.
    pub const IDLE_MAX_SECONDS: i64 = 14 * 24 * 3_600;
    /// After this the password is asked in any case.
    pub const WHOLE_MAX_SECONDS: i64 = 90 * 24 * 3_600;

    /// True while a session made and last used at these hours still lets in.
    pub const fn lasts(made_at: i64, seen_at: i64, now: i64) -> bool {
        now - seen_at < IDLE_MAX_SECONDS && now - made_at < WHOLE_MAX_SECONDS
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_spellings_of_a_login_are_one() {
        let (one, two) =
            (Login::parse(" Ad\u{e9}le ").unwrap(), Login::parse("ADE\u{301}LE").unwrap());
        assert_eq!(one.folded(), two.folded());
        assert!(Login::parse("\u{200b}").is_err());
        assert!(Login::parse(&"x".repeat(65)).is_err());
    }

    #[test]
    fn a_stay_ends_by_idleness_and_by_age() {
        use stay::{IDLE_MAX_SECONDS, WHOLE_MAX_SECONDS, lasts};
        for (made_at, seen_at, now, lets_in) in [
            (0, 0, 0, true),
            (0, 0, IDLE_MAX_SECONDS - 1, true),
            (0, 0, IDLE_MAX_SECONDS, false),
            (0, WHOLE_MAX_SECONDS - 2, WHOLE_MAX_SECONDS - 1, true),
            (0, WHOLE_MAX_SECONDS - 1, WHOLE_MAX_SECONDS, false),
        ] {
            assert_eq!(lasts(made_at, seen_at, now), lets_in, "{made_at} {seen_at} {now}");
        }
    }
}
