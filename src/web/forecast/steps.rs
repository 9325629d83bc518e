//! Which steps of a card cool something hot, and what the card already says about it.

use crate::domain::card::{Card, Place as CardPlace, Step};
use crate::domain::caution::forecast as words;
use crate::domain::warmth::{AskCool, FoodClass, Likely, likely_of, typed};

/// A step whose food goes from hot to cold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoolingStep {
    /// Line of the card: the name of the step in an address.
    pub line: usize,
    pub number: u32,
    /// `Step 5: Spread it thin in two wide dishes.`
    pub words: String,
    /// What the card says already, ready for the form.
    pub asked: AskCool,
}

/// Steps with a `chill` note; and where the author wrote none, hot food that is put away cold.
pub fn cooling_steps(card: &Card) -> Vec<CoolingStep> {
    let mut found = Vec::new();
    let mut is_hot = false;
    let (mut part, mut depth) = (None, None);
    for (at, step) in card.steps() {
        // A depth that an earlier step of the part named still holds.
        if part != Some(&at.name) {
            (part, depth) = (Some(&at.name), None);
            is_hot = false;
        }
        depth = typed::depth_in(&step.text).or(depth);
        let heated = step.oven.is_some() || step.hob.is_some() || step.core.is_some();
        is_hot = is_hot || heated;
        let put_away = step
            .stops
            .iter()
            .any(|stop| matches!(stop.place, CardPlace::Fridge | CardPlace::Freezer));
        if step.chill.is_some() || (put_away && is_hot) {
            found.push(cooling_step(card, step, depth.clone().unwrap_or_default()));
            is_hot = false;
        }
    }
    found
}

/// A line on another page: what the card's own figures lead to, and where to ask more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoolingMark {
    pub letter: String,
    pub is_base: bool,
    pub words: String,
    /// None: the card gives no depth.
    pub verdict: Option<&'static str>,
    /// Of the tape round it.
    pub class: &'static str,
    pub reading_step: Option<&'static str>,
    pub address: String,
}

/// Of every cooling step of a card; `address` is asked with the line of the step.
pub fn marks(card: &Card, letter: &str, is_base: bool, address: &str) -> Vec<CoolingMark> {
    let mark = |step: CoolingStep| {
        let checked = step.asked.checked().ok();
        let likely = checked.map(|it| likely_of(it.food.substance(), &it.plan));
        let joined = if address.contains('?') { '&' } else { '?' };
        CoolingMark {
            letter: letter.to_owned(),
            is_base,
            words: step.words,
            verdict: likely.map(words::verdict),
            class: match likely {
                Some(Likely::TooSlow) => "bad",
                Some(Likely::TooClose) => "open",
                Some(Likely::InTime) | None => "",
            },
            reading_step: likely.filter(|it| *it != Likely::InTime).map(|_| words::READING_STEP),
            address: format!("{address}{joined}step={}", step.line),
        }
    };
    cooling_steps(card).into_iter().map(mark).collect()
}

/// The first sentence of a step.
fn sentence(text: &str) -> &str {
    text.find(". ").map_or(text, |end| &text[..=end])
}

fn cooling_step(card: &Card, step: &Step, depth: String) -> CoolingStep {
    let foods: Vec<&str> = step.goes_in.iter().map(|it| it.what.name.as_str()).collect();
    let named = format!("{} {}", card.title, foods.join(" "));
    let text = step.text.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|it| text.contains(it));
    let bath = if has(&["iced water", "ice water", "ice bath", "water and ice"]) {
        "ice bath"
    } else if has(&["cold water"]) {
        "cold water"
    } else {
        ""
    };
    let minutes = step.wait.map(|it| it.least_minutes).filter(|it| (5..=720).contains(it));
    let (first, first_minutes) = match minutes {
        Some(minutes) if !bath.is_empty() => (bath.to_owned(), minutes.to_string()),
        _ => (String::new(), String::new()),
    };
    CoolingStep {
        line: step.line,
        number: step.number,
        words: format!("Step {}: {}", step.number, sentence(&step.text)),
        asked: AskCool {
            food: FoodClass::guessed(&named).word().to_owned(),
            depth,
            first,
            first_minutes,
            ..AskCool::default()
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::card::read;
    use crate::domain::larder::Larder;

    #[test]
    fn the_card_fills_in_what_it_says() {
        let card = read(
            "dish: Leek soup\nfor: 4\n\n1. Simmer. [hob 20 min]\n   + 1 kg leeks\n\
             2. Pour it 1.5 cm deep into two dishes.\n3. Stand them in cold water. [wait 45 min] [chill 21C 2 h]\n\
             4. Box it. [stop fridge 2 days]\n",
            &Larder::shipped(),
        )
        .card;
        let found = cooling_steps(&card);
        assert_eq!(found.len(), 1, "the box is filled when it is cold: {found:?}");
        let asked = &found[0].asked;
        assert_eq!((asked.food.as_str(), asked.depth.as_str()), ("soup", "1.5 cm"));
        assert_eq!((asked.first.as_str(), asked.first_minutes.as_str()), ("cold water", "45"));
    }

    #[test]
    fn hot_food_put_away_is_a_question_without_a_note_too() {
        let larder = Larder::shipped();
        let hot =
            "dish: Stew\nfor: 4\n\n1. Simmer. [hob 20 min]\n2. Box it. [stop fridge 2 days]\n";
        assert_eq!(cooling_steps(&read(hot, &larder).card).len(), 1);
        let cold = "dish: Salad\nfor: 4\n\n1. Mix it. [5 min] [stop fridge 1 day]\n";
        assert!(cooling_steps(&read(cold, &larder).card).is_empty());
    }
}
