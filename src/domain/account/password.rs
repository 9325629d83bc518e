//! Passwords: long instead of complicated, and none that everybody tries first.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use unicode_normalization::UnicodeNormalization;

/// A password that may be set. It is never shown, also not in a log.
#[derive(Clone, PartialEq, Eq)]
pub struct Password(String);

impl Password {
    /// NIST SP 800-63B-4 asks for 15 where the password is the only factor.
    pub const LENGTH_MIN: usize = 15;
    /// Bounds the work of one hash; nothing is cut off silently.
    pub const LENGTH_MAX: usize = 128;

    /// Reads a new password. `context` are the words an attacker would try first here: the name of
    /// the school, the log-in.
    pub fn parse(typed: &str, context: &[&str]) -> Result<Self, PasswordError> {
        let password = Self::spelled(typed);
        let length = password.chars().count();
        if length < Self::LENGTH_MIN {
            return Err(PasswordError::TooShort { length });
        }
        if length > Self::LENGTH_MAX {
            return Err(PasswordError::TooLong { length });
        }
        if is_common(&password) {
            return Err(PasswordError::Common);
        }
        if context.iter().any(|word| consists_of(&password, word)) {
            return Err(PasswordError::Context);
        }
        Ok(Self(password))
    }

    /// The one spelling (NFC) in which passwords are hashed; nothing else is changed.
    pub fn spelled(typed: &str) -> String {
        typed.nfc().collect()
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Debug for Password {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Password")
    }
}

/// The list says in its head how it was made.
static COMMON: LazyLock<BTreeSet<&str>> = LazyLock::new(|| {
    include_str!("common_passwords.txt").lines().filter(|line| !line.starts_with("# ")).collect()
});

/// True for what is on the list, and for a few signs said over and over.
fn is_common(password: &str) -> bool {
    let signs: Vec<char> = password.to_lowercase().chars().collect();
    let repeats = |length: usize| signs.iter().zip(&signs[length..]).all(|(one, two)| one == two);
    COMMON.contains(password.to_lowercase().as_str()) || (1..=5).any(repeats)
}

/// True when little is left of the password once every mention of the name, whole or by its longer
/// words, is taken out.
fn consists_of(password: &str, name: &str) -> bool {
    let plain = |text: &str| {
        text.chars()
            .flat_map(char::to_lowercase)
            .filter(|c| c.is_alphanumeric())
            .collect::<String>()
    };
    let whole = plain(password);
    let mut rest = whole.clone();
    let mut words: Vec<_> = name.split_whitespace().map(plain).collect();
    words.insert(0, plain(name));
    for word in words.iter().filter(|word| word.chars().count() >= 3) {
        rest = rest.replace(word, "");
    }
    rest.len() < whole.len() && rest.chars().count() < 8
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PasswordError {
    #[error("The password must have {min} characters or more; this one has {length}. Four odd words do well", min = Password::LENGTH_MIN)]
    TooShort { length: usize },
    #[error("The password must be {max} characters or fewer; this one has {length}", max = Password::LENGTH_MAX)]
    TooLong { length: usize },
    #[error("Choose words that are not the name of the school or your log-in")]
    Context,
    #[error("This password is among the first that are tried; choose four odd words")]
    Common,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn length_is_counted_in_signs_and_nothing_is_cut() {
        for (typed, problem) in [
            ("quinceladlebar", Some(PasswordError::TooShort { length: 14 })),
            ("quinceladlebarr", None),
            ("\u{1f372}\u{e9} quince ladle", None),
            ("all lower case and spaces", None),
        ] {
            assert_eq!(Password::parse(typed, &[]).err(), problem, "{typed}");
        }
        let longest = "quince ladle barrow moth ".repeat(6);
        assert!(Password::parse(&longest[..128], &[]).is_ok());
        let longer = Password::parse(&longest[..129], &[]);
        assert_eq!(longer, Err(PasswordError::TooLong { length: 129 }));
        assert_eq!(Password::parse(&longest[..128], &[]).unwrap().as_str(), &longest[..128]);
    }

    #[test]
    fn the_list_is_long_and_every_entry_would_pass_by_length() {
        assert!(COMMON.len() >= 3_000, "{}", COMMON.len());
        for entry in COMMON.iter() {
            let length = entry.chars().count();
            assert!((Password::LENGTH_MIN..=Password::LENGTH_MAX).contains(&length), "{entry}");
        }
        for (number, entry) in COMMON.iter().enumerate().filter(|(number, _)| number % 97 == 0) {
            let typed = if number % 2 == 0 { entry.to_uppercase() } else { (*entry).to_owned() };
            assert_eq!(Password::parse(&typed, &[]), Err(PasswordError::Common), "{typed}");
        }
    }

    #[test]
    fn what_is_tried_first_is_refused() {
        let school = "Tarnwick Cookery Room";
        for (typed, problem) in [
            ("aaaaaaaaaaaaaaaaaaaa", PasswordError::Common),
            ("kittykittykitty", PasswordError::Common),
            ("Tarnwick Cookery Room", PasswordError::Context),
            ("tarnwicktarnwick1", PasswordError::Context),
            ("ada@example.org2026", PasswordError::Context),
        ] {
            let parsed = Password::parse(typed, &[school, "ada@example.org"]);
            assert_eq!(parsed, Err(problem), "{typed}");
        }
        assert!(Password::parse("tarnwick quince ladle", &[school, "ada"]).is_ok());
        assert_eq!(
            format!("{:?}", Password::parse("quince ladle barrow", &[]).unwrap()),
            "Password"
        );
    }
}
