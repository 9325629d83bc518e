//! The snapshot of a menu: its texts, what was read from them, and the larder rows and rules used.
//!
//! Sheets are computed from it alone; neither reader nor larder is asked again, so what was
//! published stays what it was through every change of both.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::card::WrittenCard;
use super::document::{DocumentError, read_id};
use super::food::WrittenFood;
use super::menu::{WrittenRule, WrittenTime, read_spoons, spoons_word};
use super::profile::WrittenProfile;
use crate::domain::card::Card;
use crate::domain::dish::DishId;
use crate::domain::larder::{Food, FoodKey, Larder};
use crate::domain::limit::Profile;
use crate::domain::menu::{Laid, LaidDish, Letter, MenuDraft, Revision, TableRule};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::publication::{FixedText, Published};
use crate::domain::quantity::Portions;

/// Rises with every change of meaning; a reader of ours knows all older ones.
const FORMAT: u32 = 1;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenSnapshot {
    format: u32,
    school: String,
    zone: String,
    name: String,
    guests: u32,
    serve: WrittenTime,
    rule: WrittenRule,
    choices: BTreeMap<String, String>,
    sweet_after_minutes: u32,
    spoons: String,
    profile: WrittenProfile,
    dishes: Vec<WrittenDish>,
    foods: Vec<WrittenFood>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenDish {
    id: String,
    letter: char,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    is_base: bool,
    title: String,
    text: String,
    read: WrittenCard,
}

/// Writes what `laid` says, with the texts of its dishes in the same order.
///
/// Numbers and check words are not in it: they are given when it is stored, and the same menu is
/// always the same text.
pub fn write(laid: &Laid, texts: &[String], draft: &MenuDraft) -> String {
    let dish = |(dish, text): (&LaidDish, &String)| WrittenDish {
        id: dish.id.0.to_string(),
        letter: dish.letter.0,
        is_base: dish.is_base,
        title: dish.title.clone(),
        text: text.clone(),
        read: WrittenCard::from(&*dish.card),
    };
    let foods = used_foods(laid);
    let written = WrittenSnapshot {
        format: FORMAT,
        school: laid.school.clone(),
        zone: laid.zone.name().to_owned(),
        name: laid.name.clone(),
        guests: draft.guests.count(),
        serve: WrittenTime::from(&draft.serve),
        rule: WrittenRule::from(&laid.rule),
        choices: laid.choices.clone(),
        sweet_after_minutes: laid.sweet_after_minutes,
        spoons: spoons_word(laid.spoons).to_owned(),
        profile: WrittenProfile::from(&*laid.profile),
        dishes: laid.dishes.iter().zip(texts).map(dish).collect(),
        foods: foods.into_iter().map(WrittenFood::from).collect(),
    };
    super::to_json(&written)
}

/// The larder rows that any line of the menu names, and the fruit they come from.
fn used_foods(laid: &Laid) -> Vec<&Food> {
    let mut keys: BTreeSet<FoodKey> = BTreeSet::new();
    let lines = laid.dishes.iter().flat_map(|dish| dish.card.steps());
    for goes_in in lines.flat_map(|(_, step)| &step.goes_in) {
        let others = goes_in.what.alternatives.iter().filter_map(|it| it.found.known());
        keys.extend(goes_in.what.found.known().into_iter().chain(others).cloned());
    }
    let fruits: Vec<_> = keys
        .iter()
        .filter_map(|key| Some(laid.larder.food(key)?.from.as_ref()?.fruit.clone()))
        .collect();
    keys.extend(fruits);
    keys.iter().filter_map(|key| laid.larder.food(key)).collect()
}

/// Reads what [`write`] wrote; `fixed` and `revisions` (in the order of its dishes) come from where
/// it was stored.
pub fn read(
    text: &str,
    fixed: Revision,
    revisions: &[Revision],
) -> Result<Published, DocumentError> {
    let written: WrittenSnapshot =
        serde_json::from_str(text).map_err(|error| DocumentError::new(error.to_string()))?;
    published(written, fixed, revisions).map_err(DocumentError::new)
}

fn published(
    written: WrittenSnapshot,
    fixed: Revision,
    revisions: &[Revision],
) -> Result<Published, String> {
    if written.format != FORMAT || written.dishes.len() != revisions.len() {
        return Err(format!("format {} with {} dishes", written.format, written.dishes.len()));
    }
    let mut dishes = Vec::with_capacity(revisions.len());
    let mut texts = Vec::with_capacity(revisions.len());
    for (dish, revision) in written.dishes.into_iter().zip(revisions) {
        let (id, letter) = (DishId(read_id(&dish.id)?), Letter(dish.letter));
        texts.push(FixedText {
            dish: id,
            letter,
            title: dish.title.clone(),
            number: revision.number,
            check_word: revision.check_word.clone(),
            card: dish.text,
        });
        dishes.push(LaidDish {
            id,
            letter,
            is_base: dish.is_base,
            title: dish.title,
            revision: Some(revision.clone()),
            card: Arc::new(Card::try_from(dish.read)?),
        });
    }
    let foods: Vec<_> = written.foods.into_iter().map(Food::try_from).collect::<Result<_, _>>()?;
    let laid = Laid {
        school: written.school,
        zone: Zone::parse(&written.zone).map_err(|error| error.to_string())?,
        name: written.name,
        publication: Some(fixed),
        dishes,
        rule: TableRule::try_from(written.rule)?,
        choices: written.choices,
        sweet_after_minutes: written.sweet_after_minutes,
        larder: Arc::new(Larder::of(foods)),
        profile: Arc::new(Profile::try_from(written.profile)?),
        spoons: read_spoons(&written.spoons)?,
    };
    let guests = Portions::new(written.guests).map_err(|error| error.to_string())?;
    Ok(Published { laid, guests, serve: ServiceTime::try_from(&written.serve)?, texts })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::card::DishKind;
    use crate::domain::layout::{DraftDish, Facts, lay_out};
    use crate::exchange::menu::sample_draft;
    use jiff::Timestamp;

    #[test]
    fn what_was_read_comes_back_without_the_reader() {
        let draft = sample_draft();
        let zone = draft.serve.zone.clone();
        let card = "dish: Soup\nfor: 8\n1. Soften. [8 min] [stop fridge 3 days]\n  + 2 onions, sliced\n  + 1/2 tsp salt\n  + 60 g Green sauce";
        let base = "base: Green sauce\nmakes: 340 g\n1. Mix.\n  + 2 tbsp lemon juice";
        let dish = |id, kind, title: &str, card: &str| DraftDish {
            id: DishId(uuid::Uuid::from_u128(id)),
            title: title.to_owned(),
            kind,
            card: card.to_owned(),
        };
        let out = lay_out(&Facts {
            school: "Tarnwick",
            zone: &zone,
            name: "Lunch",
            draft: &draft,
            dishes: &[dish(1, DishKind::Dish, "Soup", card)],
            bases: &[dish(2, DishKind::Base, "Green sauce", base)],
            larder: &Larder::shipped(),
            profile: &Arc::default(),
        });
        let text = write(&out.laid, &out.texts, &draft);
        assert_eq!(text, write(&out.laid, &out.texts, &draft));
        let revision = |word: &str| Revision {
            number: 1,
            check_word: word.to_owned(),
            at: Timestamp::UNIX_EPOCH,
        };
        let fixed = [revision("acorn"), revision("alder")];
        let back = read(&text, revision("plover"), &fixed).unwrap();
        for (was, now) in out.laid.dishes.iter().zip(&back.laid.dishes) {
            let food = |card: &Card| -> Vec<_> {
                let lines = card.steps().flat_map(|(_, step)| step.goes_in.clone());
                lines.map(|it| (it.what.amount, it.what.found, it.source)).collect()
            };
            assert_eq!(food(&was.card), food(&now.card));
            assert_eq!((was.letter, &was.title), (now.letter, &now.title));
        }
        assert_eq!(back.texts[0].card, card);
        assert_eq!(back.laid.publication.as_ref().unwrap().check_word, "plover");
        let onion = FoodKey::new("onion");
        assert_eq!(back.laid.larder.food(&onion), Larder::shipped().food(&onion));
        assert!(back.laid.larder.foods().len() < 10, "only what is used");
        assert!(read(&text, revision("plover"), &fixed[..1]).is_err());
    }
}
