//! Pasted texts of many shapes, all invented here; none of their words may be lost.

use std::collections::BTreeMap;

use super::*;
use crate::domain::card::{Card, Source};

const TEXTS: [&str; 9] = [
    "Roast new potatoes and carrots\nServes 8\n1 kg new potatoes, halved\n500 g carrots\n4 tbsp duck fat (sunflower oil also fine)\n1 1/2 tsp fine salt\n160 g green sauce\na few grinds of the good pepper\nHeat the oven to 200 (180 fan).\nHalve the potatoes the night before if you like, keep them in water.\nDrain, dry, turn in the fat and salt, one layer.\nRoast 50 min, turning everything half way.\nGreen sauce over while hot. Don’t hang about.\nMy aunt does hers in goose fat and swears by it\n",
    "Lentil Pot\n\nA pot for a wet Tuesday. It tastes of more than it costs.\n\nServes: 4 to 6\nPrep time: 15 minutes\n\nIngredients\n- 250g brown lentils\n- 1 onion, chopped\n- 2 tbsp olive oil\n- salt and pepper\n\nMethod\n1. Soften the onion in the oil for 10 minutes.\n2. Add the lentils and 1 litre of water; simmer 25 minutes.\n3. Season and serve.\n\nNotes\nKeeps 3 days in the fridge.\n",
    "# Walnut-free loaf\n\nYield: 1 loaf\n\n**Ingredients**\n\n* 500 g flour\n* 7 g yeast\n* 320 ml water\n\n**Instructions**\n\nStep 1: Mix the flour, yeast and water.\nStep 2: Prove 1 hour.\nStep 3: Bake at 220C for 35 minutes.\n",
    "FISH CAKES\nMakes 12\n\n600 g cold mashed potato\n400 g white fish\n1 egg\nhandful of parsley\n\nFlake the fish into the potato. Beat in the egg and parsley. Shape, then chill for 30 minutes. Fry 4 minutes a side.\n",
    "Tart\n\nIngredients:\n\nFor the pastry:\n200 g flour\n100 g butter\n\nFor the filling:\n3 eggs\n200 ml cream\n\nMethod:\n\nFor the pastry:\n1. Rub the butter into the flour.\n2. Chill for 30 minutes.\n\nFor the filling:\n3. Whisk the eggs and cream.\n\nTo finish:\n4. Fill and bake at 180 C for 30-35 minutes.\n",
    "2 leeks\n1 l stock\nSlice the leeks and boil them in the stock for 20 minutes.\n",
    "Just a story about a soup. There was a pot. Nobody wrote anything down.\n",
    "Beans\nFor 6 people\nYou will need\n• 2 x 400 g tins of beans\n• ½ tsp chilli [mild]\nWhat to do\nTip the beans into a pan with the chilli and\nwarm them gently.\nEat.\n",
    "Kompot\r\n\r\nПортии: 4\r\n1 kg яблоки\r\n2 l вода\r\n\r\nСварить яблоки в воде. 30 минут.\r\n",
];

fn made(text: &str) -> (Draft, Card) {
    let bases = ["Green sauce".to_owned()];
    let larder = Larder::default();
    let draft = draft(&parse(text), &larder, &bases);
    let card = card::read_with_bases(&draft.text, &larder, &bases).card;
    (draft, card)
}

fn words(text: &str) -> BTreeMap<String, usize> {
    let mut counts = BTreeMap::new();
    for word in text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()) {
        *counts.entry(word.to_lowercase()).or_default() += 1;
    }
    counts
}

/// Every word is on the card or among the leftovers, as often as it was pasted. Heads say `Serves 8`
/// as `for: 8`, and steps are numbered anew.
#[track_caller]
fn nothing_is_lost(text: &str, draft: &Draft) {
    let mut kept = draft.text.clone();
    for line in draft.lines.iter().filter(|line| line.card_line.is_none()) {
        kept.push_str(&format!("\n{}", line.piece.words));
    }
    let kept = words(&kept);
    let said = ["serves", "for", "to", "the", "people", "make", "step"];
    for (word, count) in words(text) {
        let is_figure = word.chars().all(|c| c.is_ascii_digit());
        if !is_figure && !said.contains(&word.as_str()) {
            let found = kept.get(&word).copied().unwrap_or_default();
            assert!(found >= count, "{word} is lost from:\n{text}\nin:\n{}", draft.text);
        }
    }
}

#[test]
fn no_pasted_word_is_lost() {
    for text in TEXTS {
        let (draft, _) = made(text);
        nothing_is_lost(text, &draft);
        for line in &draft.lines {
            let at = line.card_line;
            assert!(at.is_none_or(|at| draft.text.lines().nth(at - 1).is_some()), "{line:?}");
        }
    }
}

#[test]
fn the_same_card_comes_out_of_lists_with_and_without_headings() {
    let (draft, card) = made(TEXTS[0]);
    assert_eq!(card.title, "Roast new potatoes and carrots");
    assert_eq!(card.serves.unwrap().high.count(), 8);
    let steps: Vec<Vec<&str>> = card
        .steps()
        .map(|(_, step)| step.goes_in.iter().map(|it| it.what.text.as_str()).collect())
        .collect();
    assert_eq!(steps.len(), 5, "{}", draft.text);
    assert!(steps[1].contains(&"1 kg new potatoes, halved"), "{}", draft.text);
    assert!(steps[2].contains(&"1 1/2 tsp fine salt"), "{}", draft.text);
    assert!(steps[4].contains(&"160 g green sauce"), "{}", draft.text);
    let source = &card.parts[0].steps[4].goes_in[0].source;
    assert_eq!(*source, Some(Source::Base("Green sauce".to_owned())));
    let offered: Vec<String> = draft.offers.iter().map(|offer| offer.note.words()).collect();
    assert_eq!(offered, ["oven 200C 50 min", "at 25 min: turn"]);
    assert_eq!(
        draft.leftovers().collect::<Vec<_>>(),
        ["My aunt does hers in goose fat and swears by it"]
    );

    let (draft, card) = made(TEXTS[1]);
    let serves = card.serves.unwrap();
    assert_eq!((serves.low.count(), serves.high.count()), (4, 6));
    assert_eq!(card.steps().count(), 3, "{}", draft.text);
    assert_eq!(card.parts[0].steps[0].goes_in.len(), 2, "{}", draft.text);
    assert_eq!(card.parts[0].steps[2].goes_in[0].what.text, "salt and pepper");
}

#[test]
fn groups_of_the_method_become_parts_with_their_own_lines() {
    let (draft, card) = made(TEXTS[4]);
    let names: Vec<&str> = card.parts.iter().map(|part| part.name.as_str()).collect();
    assert_eq!(names, ["pastry", "filling", "finish"], "{}", draft.text);
    let lines =
        |part: usize| card.parts[part].steps.iter().map(|step| step.goes_in.len()).sum::<usize>();
    assert_eq!([lines(0), lines(1), lines(2)], [2, 2, 0], "{}", draft.text);
    let offered: Vec<String> = draft.offers.iter().map(|offer| offer.note.words()).collect();
    assert_eq!(offered, ["wait 30 min in fridge", "oven 180C 30 min"]);
}

#[test]
fn a_paragraph_is_cut_into_sentences_and_a_list_needs_no_title() {
    let (draft, card) = made(TEXTS[3]);
    assert_eq!(card.steps().count(), 4, "{}", draft.text);
    assert_eq!(card.serves, None);
    let (draft, card) = made(TEXTS[5]);
    assert_eq!(card.title, "");
    assert_eq!(card.parts[0].steps[0].goes_in.len(), 2, "{}", draft.text);
    let (draft, card) = made(TEXTS[7]);
    assert_eq!(card.steps().count(), 2, "{}", draft.text);
    assert!(draft.text.contains("½ tsp chilli (mild)"));
}

#[test]
fn a_thing_no_sentence_names_goes_in_first_and_is_marked() {
    let (draft, _) = made("Toast\n2 slices bread\n1 clove garlic\n\nToast the bread.\n");
    let marked: Vec<&str> = draft
        .lines
        .iter()
        .filter(|line| line.became == Became::GoesInFirst)
        .map(|line| line.piece.words.as_str())
        .collect();
    assert_eq!(marked, ["1 clove garlic"]);
}

proptest::proptest! {
    #[test]
    fn any_text_becomes_a_draft_that_reads_and_loses_no_word(
        text in "(\\PC|\n|Ingredients\n|Method\n|1\\. |2 eggs\n|For the sauce:\n|[a-z]{3,8} ){0,40}"
    ) {
        let (draft, _) = made(&text);
        nothing_is_lost(&text, &draft);
    }
}
