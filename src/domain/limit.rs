//! How long a made thing keeps, by which rule, for safety and for quality apart.

/// The rules a school works by; rows are stricter than, or equal to, the shipped profile.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Profile {
    pub name: String,
}
