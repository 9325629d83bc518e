//! Laying out a draft: its dishes read, their bases pulled in by name, and what stands in the way.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::card::{Card, DishKind, Source, read_with_bases};
use super::dish::DishId;
use super::larder::{Found, Larder};
use super::limit::Profile;
use super::menu::{Laid, LaidDish, Letter, MenuDraft};
use super::moment::Zone;
use super::remark::{Place, Remark};

/// A dish or base with its text as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftDish {
    pub id: DishId,
    pub title: String,
    pub kind: DishKind,
    pub card: String,
}

/// Everything a draft is laid out from.
#[derive(Clone, Debug)]
pub struct Facts<'a> {
    pub school: &'a str,
    pub zone: &'a Zone,
    pub name: &'a str,
    pub draft: &'a MenuDraft,
    /// In menu order.
    pub dishes: &'a [DraftDish],
    /// Every base of the school; those that are used come along.
    pub bases: &'a [DraftDish],
    pub larder: &'a Arc<Larder>,
    pub profile: &'a Arc<Profile>,
}

/// A draft as its students would get it.
#[derive(Clone, Debug)]
pub struct LaidOut {
    pub laid: Laid,
    /// The texts, in the order of `laid.dishes`.
    pub texts: Vec<String>,
    /// What was noticed, each with the dish it is about.
    pub remarks: Vec<(Letter, Remark)>,
}

pub fn lay_out(facts: &Facts) -> LaidOut {
    let titles: Vec<String> = facts.bases.iter().map(|base| base.title.clone()).collect();
    let mut out =
        Out { facts, titles: &titles, dishes: Vec::new(), texts: Vec::new(), remarks: Vec::new() };
    let mut wanted = Vec::new();
    for (place, dish) in facts.dishes.iter().enumerate() {
        if let Some(letter) = Letter::at(place) {
            wanted.extend(out.put(letter, dish, dish.kind == DishKind::Base));
        }
    }
    let mut seen = BTreeSet::new();
    let mut next = 0;
    while let Some(title) = wanted.get(next).cloned() {
        next += 1;
        let folded = title.to_lowercase();
        let is_there =
            out.dishes.iter().any(|dish| dish.is_base && dish.title.to_lowercase() == folded);
        if is_there || !seen.insert(folded.clone()) {
            continue;
        }
        let base = facts.bases.iter().find(|base| base.title.to_lowercase() == folded);
        if let (Some(base), Some(letter)) = (base, out.free_letter()) {
            wanted.extend(out.put(letter, base, true));
        }
    }
    let laid = Laid {
        school: facts.school.to_owned(),
        zone: facts.zone.clone(),
        name: facts.name.to_owned(),
        publication: None,
        dishes: out.dishes,
        rule: facts.draft.rule.clone(),
        choices: facts.draft.choices.clone(),
        sweet_after_minutes: facts.draft.sweet_after_minutes,
        larder: facts.larder.clone(),
        profile: facts.profile.clone(),
        spoons: facts.draft.spoons,
    };
    LaidOut { laid, texts: out.texts, remarks: out.remarks }
}

struct Out<'a> {
    facts: &'a Facts<'a>,
    titles: &'a [String],
    dishes: Vec<LaidDish>,
    texts: Vec<String>,
    remarks: Vec<(Letter, Remark)>,
}

impl Out<'_> {
    /// Reads one dish and puts it at the end; the answer is the bases it names.
    fn put(&mut self, letter: Letter, dish: &DraftDish, is_base: bool) -> Vec<String> {
        let reading = read_with_bases(&dish.card, &self.facts.larder.clone(), self.titles);
        let bases = bases_of(&reading.card);
        let remarks = reading.remarks.into_iter().chain(unwritten_bases(&reading.card));
        self.remarks.extend(remarks.map(|remark| (letter, remark)));
        self.texts.push(dish.card.clone());
        self.dishes.push(LaidDish {
            id: dish.id,
            letter,
            is_base,
            title: dish.title.clone(),
            revision: None,
            card: Arc::new(reading.card),
        });
        bases
    }

    /// S to Z first, then whatever the dishes left free; none when all 26 are taken.
    fn free_letter(&self) -> Option<Letter> {
        let is_free = |letter: &Letter| self.dishes.iter().all(|dish| dish.letter != *letter);
        (0..Letter::MOST).filter_map(Letter::of_base).find(is_free)
    }
}

/// The titles of the bases a card names, in its order.
fn bases_of(card: &Card) -> Vec<String> {
    let sources =
        card.steps().flat_map(|(_, step)| &step.goes_in).filter_map(|it| it.source.as_ref());
    sources
        .filter_map(|source| match source {
            Source::Base(title) => Some(title.clone()),
            Source::Part(_) => None,
        })
        .collect()
}

/// A name written with a capital that no larder row and no base bears was meant as a base.
fn unwritten_bases(card: &Card) -> Vec<Remark> {
    let lines = card.steps().flat_map(|(_, step)| &step.goes_in);
    let meant = lines.filter(|it| {
        it.source.is_none()
            && it.what.found == Found::Unknown
            && it.what.name.starts_with(char::is_uppercase)
    });
    meant
        .map(|it| {
            let sentence = format!(
                "The base {} is not written yet; until then it stands as a food that is not known",
                it.what.name
            );
            Remark::note(Place::Line(it.line), sentence)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::moment::ServiceTime;
    use crate::domain::quantity::Portions;

    fn dish(id: u128, kind: DishKind, title: &str, card: &str) -> DraftDish {
        let id = DishId(uuid::Uuid::from_u128(id));
        DraftDish { id, title: title.to_owned(), kind, card: card.to_owned() }
    }

    #[test]
    fn bases_come_along_once_with_letters_from_s() {
        let zone = Zone::parse("Europe/Oslo").unwrap();
        let serve = ServiceTime::parse("2027-06-26T13:00", zone.clone()).unwrap();
        let dishes = [
            dish(
                1,
                DishKind::Dish,
                "Soup",
                "dish: Soup\n1. Stir.\n  + 60 g Green sauce\n  + Red sauce",
            ),
            dish(2, DishKind::Dish, "Roots", "dish: Roots\n1. Turn.\n  + 20 g green sauce"),
        ];
        let bases = [
            dish(8, DishKind::Base, "Unused", "base: Unused\n1. Mix."),
            dish(9, DishKind::Base, "Green sauce", "base: Green sauce\n1. Mix.\n  + Oil of herbs"),
            dish(7, DishKind::Base, "Oil of herbs", "base: Oil of herbs\n1. Mix.\n  + Green sauce"),
        ];
        let out = lay_out(&Facts {
            school: "Tarnwick",
            zone: &zone,
            name: "Lunch",
            draft: &MenuDraft::new(Portions::new(8).unwrap(), serve),
            dishes: &dishes,
            bases: &bases,
            larder: &Arc::new(Larder::default()),
            profile: &Arc::default(),
        });
        let laid: Vec<_> =
            out.laid.dishes.iter().map(|it| format!("{} {}", it.letter, it.title)).collect();
        assert_eq!(laid, ["A Soup", "B Roots", "S Green sauce", "T Oil of herbs"]);
        assert_eq!(out.texts.len(), 4);
        let said: Vec<_> =
            out.remarks.iter().filter(|(_, it)| it.sentence.contains("not written")).collect();
        assert_eq!(said.len(), 1, "{:?}", out.remarks);
        assert_eq!((said[0].0, &said[0].1.place), (Letter('A'), &Place::Line(4)));
    }
}
