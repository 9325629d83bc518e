//! Which steps of a card cook meat to an end point in an oven, and what the card already says.

use crate::domain::card::{Card, Step};
use crate::domain::caution::end_point::Joint;
use crate::domain::caution::joint_of;
use crate::domain::larder::Larder;
use crate::domain::warmth::{AskRoast, typed};

/// A step that roasts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoastStep {
    /// Line of the card: the name of the step in an address.
    pub line: usize,
    /// `Step 4: Roast.`
    pub words: String,
    pub joint: Joint,
    /// What the card says already, ready for the form.
    pub asked: AskRoast,
}

/// Steps with an oven and an end point for meat or poultry that is not merely heated again.
pub fn roast_steps(card: &Card, larder: &Larder) -> Vec<RoastStep> {
    let roasts = card.steps().filter_map(|(part, step)| {
        let core = step.core.filter(|core| !core.reheat)?;
        let oven = step.oven.as_ref()?.stages.last()?;
        let joint = joint_of(card, step, larder).filter(|it| *it != Joint::Fish)?;
        let text = step.text.find(". ").map_or(step.text.as_str(), |end| &step.text[..=end]);
        let rest = card
            .steps()
            .filter(|(other, it)| other.name == part.name && it.line >= step.line)
            .find_map(|(_, it)| it.rest);
        Some(RoastStep {
            line: step.line,
            words: format!("Step {}: {text}", step.number),
            joint,
            asked: AskRoast {
                food: food_word(joint).to_owned(),
                weight: weight_of(card, step).unwrap_or_default(),
                oven: format!("{}{}", oven.heat.figure, oven.heat.scale.letter()),
                pull: format!("{}{}", core.heat.figure, core.heat.scale.letter()),
                rest_minutes: rest.map_or_else(String::new, |it| it.least_minutes.to_string()),
                ..AskRoast::default()
            },
        })
    });
    roasts.collect()
}

/// A line on another page that leads to the forecast of a roast.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoastMark {
    pub letter: String,
    pub is_base: bool,
    pub words: String,
    pub address: String,
}

pub fn roast_marks(
    card: &Card,
    larder: &Larder,
    letter: &str,
    is_base: bool,
    address: &str,
) -> Vec<RoastMark> {
    let joined = if address.contains('?') { '&' } else { '?' };
    let mark = |step: RoastStep| RoastMark {
        letter: letter.to_owned(),
        is_base,
        address: format!("{address}{joined}step={}", step.line),
        words: step.words,
    };
    roast_steps(card, larder).into_iter().map(mark).collect()
}

pub const fn food_word(joint: Joint) -> &'static str {
    match joint {
        Joint::Poultry => "poultry",
        Joint::Mince => "mince",
        Joint::Whole | Joint::Fish => "meat",
    }
}

/// Of a joint bought by weight in one piece: pieces cook by their own thickness, not by their sum.
fn weight_of(card: &Card, step: &Step) -> Option<String> {
    let before = card.steps().map(|(_, it)| it).filter(|it| it.line <= step.line);
    before.flat_map(|it| &it.goes_in).find_map(|entry| {
        let text = entry.what.text.trim();
        let mut words = text.split_whitespace();
        let amount = format!("{} {}", words.next()?, words.next()?);
        let is_one = text.contains("in one piece");
        (is_one && typed::weight(&amount).is_ok()).then_some(amount)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::card::read;

    #[test]
    fn the_card_says_oven_end_point_rest_and_what_one_piece_weighs() {
        let larder = Larder::shipped();
        let card = read(
            "dish: Loin\nfor: 6\n\n1. Tie it. [5 min] [raw meat]\n   + 3.3 lb pork loin, in one piece\n\
             2. Roast. [oven 375F 65 min] [core 145F]\n3. Rest. [rest 15 min to 40 min]\n",
            &larder,
        )
        .card;
        let found = roast_steps(&card, &larder);
        assert_eq!(found.len(), 1);
        let it = &found[0].asked;
        assert_eq!((it.weight.as_str(), it.oven.as_str()), ("3.3 lb", "375F"));
        assert_eq!((it.pull.as_str(), it.rest_minutes.as_str()), ("145F", "15"));
    }

    #[test]
    fn pieces_have_no_weight_of_a_joint_and_bread_is_no_roast() {
        let larder = Larder::shipped();
        let steps = |text: &str| roast_steps(&read(text, &larder).card, &larder);
        let pieces = "dish: Thighs\nfor: 4\n\n1. Roast. [oven 200C 40 min] [core 75C]\n   + 2 kg chicken thighs\n";
        assert_eq!(steps(pieces)[0].asked.weight, "");
        assert_eq!(steps(pieces)[0].joint, Joint::Poultry);
        let bread =
            "dish: Loaf\nfor: 4\n\n1. Bake. [oven 200C 40 min] [core 95C]\n   + 500 g flour\n";
        assert!(steps(bread).is_empty());
    }
}
