//! What was published of a menu, and what changed between two publications of it.

use super::dish::DishId;
use super::menu::{Laid, Letter};
use super::moment::ServiceTime;
use super::quantity::Portions;

/// A fixed menu: what its sheets are made of, and the texts it was read from.
#[derive(Clone, Debug)]
pub struct Published {
    pub laid: Laid,
    /// For how many it was written, and when it was to be at the table.
    pub guests: Portions,
    pub serve: ServiceTime,
    /// In the order of `laid.dishes`.
    pub texts: Vec<FixedText>,
}

impl Published {
    /// What a holder of the sheets of `was` must know.
    pub fn changes_since(&self, was: &Self) -> Changes {
        let mut changes = Changes::between(&was.texts, &self.texts);
        changes.compare("Name", &was.laid.name, &self.laid.name);
        changes.compare("Rule of the table", &rule_words(&was.laid), &rule_words(&self.laid));
        changes.compare("Chosen instead", &choice_words(&was.laid), &choice_words(&self.laid));
        let sweet = |published: &Self| format!("{} min", published.laid.sweet_after_minutes);
        changes.compare("Sweet after the main course", &sweet(was), &sweet(self));
        changes.compare("Limits", &was.laid.profile.name, &self.laid.profile.name);
        changes
    }
}

fn rule_words(laid: &Laid) -> String {
    let allergens = laid.rule.allergens.iter().map(|it| it.word().to_owned());
    let all: Vec<_> = allergens.chain(laid.rule.others.iter().cloned()).collect();
    let strict = if laid.rule.strict { ", traces count" } else { "" };
    match all.as_slice() {
        [] => "nothing to leave out".to_owned(),
        all => format!("without {}{strict}", all.join(", ")),
    }
}

fn choice_words(laid: &Laid) -> String {
    let each: Vec<_> =
        laid.choices.iter().map(|(first, used)| format!("{used} for {first}")).collect();
    if each.is_empty() { "as the cards say".to_owned() } else { each.join("; ") }
}

/// A dish as one publication fixed it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FixedText {
    pub dish: DishId,
    pub letter: Letter,
    pub title: String,
    pub number: u32,
    pub check_word: String,
    pub card: String,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Changes {
    /// Dishes whose text changed; `difference::between` shows their lines.
    pub texts: Vec<TextChange>,
    pub added: Vec<FixedText>,
    pub left_out: Vec<FixedText>,
    /// Dishes that kept their text and got another letter; with the old one.
    pub moved: Vec<(FixedText, Letter)>,
    /// The rule of the table, the choices and other terms in words, where they differ.
    pub terms: Vec<TermChange>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextChange {
    pub was: FixedText,
    pub now: FixedText,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TermChange {
    pub what: &'static str,
    pub was: String,
    pub now: String,
}

impl Changes {
    /// Compares the dishes of two publications; the terms are the caller's to add.
    pub fn between(was: &[FixedText], now: &[FixedText]) -> Self {
        let find = |list: &[FixedText], dish| list.iter().find(|it| it.dish == dish).cloned();
        let mut changes = Self::default();
        for now in now {
            match find(was, now.dish) {
                None => changes.added.push(now.clone()),
                Some(was) if was.card != now.card => {
                    changes.texts.push(TextChange { was, now: now.clone() });
                }
                Some(was) if was.letter != now.letter => {
                    changes.moved.push((now.clone(), was.letter));
                }
                Some(_) => {}
            }
        }
        changes.left_out =
            was.iter().filter(|was| find(now, was.dish).is_none()).cloned().collect();
        changes
    }

    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Notes a term that differs.
    pub fn compare(&mut self, what: &'static str, was: &str, now: &str) {
        if was != now {
            self.terms.push(TermChange { what, was: was.to_owned(), now: now.to_owned() });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(dish: u128, place: usize, card: &str) -> FixedText {
        FixedText {
            dish: DishId(uuid::Uuid::from_u128(dish)),
            letter: Letter::at(place).unwrap(),
            title: format!("Dish {dish}"),
            number: 1,
            check_word: "acorn".to_owned(),
            card: card.to_owned(),
        }
    }

    #[test]
    fn a_dish_is_followed_through_text_letter_and_coming_and_going() {
        let was = [text(1, 0, "a"), text(2, 1, "b"), text(3, 2, "c")];
        let now = [text(1, 0, "a, more"), text(3, 1, "c"), text(4, 2, "d")];
        let changes = Changes::between(&was, &now);
        assert_eq!(changes.texts, [TextChange { was: was[0].clone(), now: now[0].clone() }]);
        assert_eq!(changes.added, [now[2].clone()]);
        assert_eq!(changes.left_out, [was[1].clone()]);
        assert_eq!(changes.moved, [(now[1].clone(), Letter::at(2).unwrap())]);
        assert!(Changes::between(&was, &was).is_empty());
    }
}
