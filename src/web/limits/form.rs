//! What a change of a limit sends, and how it becomes a new version of the school's rules.

use jiff::civil::Date;
use serde::Deserialize;

use crate::domain::heat::{Degrees, Scale};
use crate::domain::limit::{Base, Bound, Chosen, LimitError, Profile};
use crate::web::form::Field;

/// One row changed; `what` is `tighten`, `published` or `shipped`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct RowForm {
    pub key: String,
    pub what: String,
    pub most: String,
    /// `C` or `F` for a figure of degrees.
    pub scale: String,
    pub by: String,
    pub reason: String,
}

/// Another shipped set for the whole school.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct BaseForm {
    pub base: String,
    pub by: String,
    pub reason: String,
}

/// The fields as the page shows them again.
#[derive(Clone, Debug, Default)]
pub struct RowFields {
    pub most: Field,
    pub scale: Field,
    pub by: Field,
    pub reason: Field,
    /// A problem of the choice itself.
    pub what: Field,
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WhoWhyError {
    #[error("Write your name: a change is recorded with it")]
    Name,
    #[error("Write why, in a sentence: it stands beside the limit")]
    Reason,
    #[error("Write {most} characters or fewer")]
    Long { most: usize },
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("Write a whole number of {unit}, like {like}")]
struct FigureError {
    unit: String,
    like: &'static str,
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("Say which scale the degrees are in")]
struct NoScale;

impl RowForm {
    /// The rules with this row changed, as the next version; else every problem at once.
    pub fn check(&self, profile: &Profile, on: Date) -> Result<Profile, Box<RowFields>> {
        let (by, by_field) = Field::check(self.by.clone(), name);
        let (reason, reason_field) = Field::check(self.reason.clone(), reason);
        let mut fields = RowFields {
            most: Field::with(&self.most),
            scale: Field::with(&self.scale),
            by: by_field,
            reason: reason_field,
            what: Field::with(&self.what),
        };
        let chosen = Chosen {
            by: by.clone().unwrap_or_default(),
            on,
            reason: reason.clone().unwrap_or_default(),
        };
        let mut next = profile.clone();
        match self.what.as_str() {
            "published" => note(&mut fields.what, next.choose_published(&self.key, chosen.clone())),
            "shipped" => next.release(&self.key),
            _ => self.tighten(&mut next, chosen.clone(), &mut fields),
        }
        let held = [&fields.most, &fields.scale, &fields.what];
        let fields_ok = held.iter().all(|field| field.problem.is_none());
        if by.is_none() || reason.is_none() || !fields_ok {
            return Err(Box::new(fields));
        }
        Ok(next.version(profile.number + 1, chosen))
    }

    fn tighten(&self, next: &mut Profile, chosen: Chosen, fields: &mut RowFields) {
        let typed = self.most.trim().replace('\u{2212}', "-");
        match next.bound(&self.key) {
            Err(error) => fields.what.problem = Some(error.to_string()),
            Ok(Bound::Count { unit, .. }) => match typed.parse() {
                Ok(most) => note(&mut fields.most, next.tighten(&self.key, most, chosen)),
                Err(_) => {
                    fields.most.problem = Some(FigureError { unit, like: "2" }.to_string());
                }
            },
            Ok(Bound::Degrees { .. }) => match (typed.parse(), Scale::parse(&self.scale)) {
                (_, None) => fields.scale.problem = Some(NoScale.to_string()),
                (Err(_), _) => {
                    let error = FigureError { unit: "degrees".to_owned(), like: "4" };
                    fields.most.problem = Some(error.to_string());
                }
                (Ok(figure), Some(scale)) => {
                    let degrees = Degrees { figure, scale };
                    note(&mut fields.most, next.tighten_degrees(&self.key, degrees, chosen));
                }
            },
        }
    }
}

impl BaseForm {
    pub fn check(
        &self,
        profile: &Profile,
        on: Date,
    ) -> Result<Profile, Box<(Field, Field, Field)>> {
        let parse = |typed: &str| {
            Base::parse(typed).ok_or_else(|| format!("Choose one of the sets; “{typed}” is none"))
        };
        let (base, base_field) = Field::check(self.base.clone(), parse);
        let (by, by_field) = Field::check(self.by.clone(), name);
        let (reason, reason_field) = Field::check(self.reason.clone(), reason);
        match (base, by, reason) {
            (Some(base), Some(by), Some(reason)) => {
                let chosen = Chosen { by, on, reason };
                Ok(profile.over(base).version(profile.number + 1, chosen))
            }
            _ => Err(Box::new((base_field, by_field, reason_field))),
        }
    }
}

fn note(field: &mut Field, done: Result<(), LimitError>) {
    field.problem = done.err().map(|error| error.to_string());
}

fn name(typed: &str) -> Result<String, WhoWhyError> {
    text(typed, 80, WhoWhyError::Name)
}

fn reason(typed: &str) -> Result<String, WhoWhyError> {
    text(typed, 400, WhoWhyError::Reason)
}

fn text(typed: &str, most: usize, missing: WhoWhyError) -> Result<String, WhoWhyError> {
    let text = typed.trim();
    match text.chars().count() {
        0 => Err(missing),
        length if length > most => Err(WhoWhyError::Long { most }),
        _ => Ok(text.to_owned()),
    }
}
