//! A correction of a reading, checked before it is kept.

use super::read_line;
use crate::domain::larder::{Larder, Meaning, Meant, as_said};

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MeaningError {
    #[error("Write both: the words, and what they mean")]
    Nothing,
    #[error("Write at most {max} letters", max = Meaning::WORDS_MAX)]
    TooLong,
    #[error("Both say the same")]
    Same,
    #[error("“{0}” is the whole name of a food already; change that food instead")]
    IsName(String),
    #[error("“{0}” is no whole name of a food; write one from the larder, or add the food first")]
    NoFood(String),
    #[error("In “{0}” no food could be read")]
    NoLine(String),
}

/// What `said` shall mean from now on: of a line with a figure another line, of a name a food.
pub fn meaning(said: &str, meant: &str, larder: &Larder) -> Result<Meaning, MeaningError> {
    let (said, meant) = (as_said(said), meant.split_whitespace().collect::<Vec<_>>().join(" "));
    if said.is_empty() || meant.is_empty() {
        return Err(MeaningError::Nothing);
    }
    if said.chars().count().max(meant.chars().count()) > Meaning::WORDS_MAX {
        return Err(MeaningError::TooLong);
    }
    if said == as_said(&meant) {
        return Err(MeaningError::Same);
    }
    let read = read_line(&said, larder);
    if read.amount.is_some() || said.chars().any(char::is_numeric) {
        let meant_line = read_line(&meant, larder);
        return if meant_line.food.is_empty() {
            Err(MeaningError::NoLine(meant))
        } else {
            Ok(Meaning { said, is: Meant::Line(meant) })
        };
    }
    name(&said, &meant, larder)
}

/// A name that a person says is this food. The whole name of another food never changes its food:
/// what that contains was entered for it.
fn name(said: &str, meant: &str, larder: &Larder) -> Result<Meaning, MeaningError> {
    if larder.knows(said) {
        return Err(MeaningError::IsName(said.to_owned()));
    }
    let food = read_line(meant, larder).food;
    match larder.known(meant).or_else(|| larder.known(&food)) {
        Some(key) => Ok(Meaning { said: said.to_owned(), is: Meant::Food(key.clone()) }),
        None => Err(MeaningError::NoFood(meant.to_owned())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::larder::Found;

    #[test]
    fn a_correction_is_a_name_or_a_line_and_never_takes_a_food_another_name() {
        let larder = Larder::shipped();
        let key = |name: &str| larder.known(name).unwrap().clone();
        let table = [
            ("Nan’s  Oil", "olive oil", Ok(Meant::Food(key("olive oil")))),
            ("nan's oil", "Lemons", Ok(Meant::Food(key("lemon")))),
            ("2 onoins", "2 onions", Ok(Meant::Line("2 onions".to_owned()))),
            ("butter", "vegetable oil", Err(MeaningError::IsName("butter".to_owned()))),
            ("nan's oil", "unheard oil", Err(MeaningError::NoFood("unheard oil".to_owned()))),
            ("2 onoins", "For the sauce:", Err(MeaningError::NoLine("For the sauce:".to_owned()))),
            ("2 onoins", " 2  Onoins", Err(MeaningError::Same)),
            (" ", "olive oil", Err(MeaningError::Nothing)),
        ];
        for (said, meant, means) in table {
            assert_eq!(meaning(said, meant, &larder).map(|it| it.is), means, "{said} = {meant}");
        }
    }

    #[test]
    fn what_was_corrected_is_read_so_from_then_on() {
        let shipped = Larder::shipped();
        let said = |said: &str, meant: &str| meaning(said, meant, &shipped).unwrap();
        let larder =
            shipped.with_meanings(&[said("nan's oil", "olive oil"), said("2 onoins", "3 onions")]);
        let oil = read_line("2 tbsp Nan’s oil, warmed", &larder);
        assert_eq!(oil.found, Found::Known(shipped.known("olive oil").unwrap().clone()));
        assert_eq!((oil.food.as_str(), oil.preparation.as_str()), ("nan’s oil", "warmed"));
        let onions = read_line("2  Onoins", &larder);
        assert_eq!((onions.text.as_str(), onions.food.as_str()), ("2  Onoins", "onion"));
        assert_eq!(onions.amount.unwrap().low().to_string(), "3");
        assert_eq!(onions.spans.iter().map(|it| it.bytes.len()).sum::<usize>(), "2  Onoins".len());
        assert_eq!(read_line("2 tbsp nan's oil", &shipped).found.known(), None);
    }
}
