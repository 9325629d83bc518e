//! Passwords: long instead of complicated, and none that everybody tries first.

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
