//! Sentences as people say them, and the notes they are offered.

use super::*;
use crate::domain::card;
use crate::domain::larder::Larder;

fn offered(sentence: &str) -> Vec<String> {
    let text = format!("dish: Bake\n1. {sentence}\n");
    let reading = card::read(&text, &Larder::default());
    offers(&text, &reading).iter().map(|offer| offer.note.words()).collect()
}

#[test]
fn what_a_sentence_says_is_offered_and_nothing_else() {
    let cases: &[(&str, &[&str])] = &[
        ("Bake an hour at 200.", &["oven 200C 60 min"]),
        ("Bake at 200 C for 40 minutes.", &["oven 200C 40 min"]),
        ("Roast in a 375°F oven for 1 hour 15 minutes.", &["oven 375F 75 min"]),
        ("Bake at 200C/180C fan/gas 6 for 25-30 minutes.", &["oven 200C 25 min"]),
        ("Bake at gas 6 for 30 minutes.", &[]),
        (
            "Heat the oven to 200 (180 fan). Roast 50 min, turning everything half way.",
            &["oven 200C 50 min", "at 25 min: turn"],
        ),
        ("Straight from the fridge give it 10 more.", &["cold +10 min"]),
        ("From frozen, add 35 minutes.", &["frozen +35 min"]),
        (
            "Bake at 200C for 1 hour. Bake from frozen, adding 15 minutes.",
            &["oven 200C 60 min", "frozen +15 min"],
        ),
        ("It can be frozen for up to 3 months.", &["stop freezer 90 days"]),
        ("It keeps 3 days in the fridge.", &["stop fridge 3 days"]),
        ("Freeze for up to a month.", &["stop freezer 30 days"]),
        ("Keeps well.", &[]),
        ("Rest 15 to 40 minutes, loosely covered.", &["rest 15 min to 40 min"]),
        ("Stir in the rest of the oil for 5 minutes.", &[]),
        ("Roast until the middle is 145F.", &["core 145F"]),
        ("Reheat until it is 165F all through.", &["core 165F reheat"]),
        ("Simmer for 20 minutes, stirring halfway.", &["hob 20 min", "at 10 min: stir"]),
        ("Fry 5 minutes on each side.", &["hob 10 min"]),
        (
            "Keep it in the fridge up to 3 days and freezes well for 3 months.",
            &["stop fridge 3 days", "stop freezer 90 days"],
        ),
        ("Soak them in boiling water for 30 minutes.", &["wait 30 min"]),
        ("Chill for 2 hours.", &["wait 2 h in fridge"]),
        ("Leave to stand for ten minutes.", &["wait 10 min"]),
        ("Marinate in the fridge for 4 to 24 hours.", &["wait 4 h to 24 h in fridge"]),
        ("Add 200 g flour and 2 eggs.", &[]),
        ("Serve with 3 lemons.", &[]),
        (
            "Bake at 180C for 40 minutes; after 20 minutes scatter the crumb.",
            &["oven 180C 40 min", "at 20 min: scatter the crumb"],
        ),
    ];
    for (sentence, expected) in cases {
        assert_eq!(offered(sentence), *expected, "{sentence}");
    }
}

#[test]
fn what_a_note_says_already_is_not_offered_again() {
    assert!(offered("Bake an hour at 200. [oven 190C 55 min]").is_empty());
    assert!(offered("Keeps 3 days in the fridge. [stop fridge 2 days]").is_empty());
}

#[test]
fn what_the_head_says_of_keeping_is_offered_at_the_last_step() {
    let text = "note: Keeps up to 3 days in the refrigerator. Rest 5 minutes.\n1. Boil.\n2. Box.\n";
    let found = offers(text, &card::read(text, &Larder::default()));
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].line, found[0].note.words()), (3, "stop fridge 3 days".to_owned()));
    assert_eq!(&text[found[0].bytes.clone()], "Keeps up to 3 days");
    assert!(keep_all(text, &found).ends_with("2. Box. [stop fridge 3 days]\n"));
}

#[test]
fn every_offer_points_at_its_words_and_carries_their_figure() {
    let text = "dish: Bake\n1. Melt the fat. Bake an hour at 200 [8 min].\n   Rest 10 minutes.\n";
    let reading = card::read(text, &Larder::default());
    let found = offers(text, &reading);
    let words: Vec<&str> = found.iter().map(|offer| &text[offer.bytes.clone()]).collect();
    assert_eq!(words, ["Bake an hour at 200", "Rest 10 minutes"]);
    assert!(found[0].why.contains("No scale"));
    let kept = keep_all(text, &found);
    assert!(kept.contains("at 200 [8 min]. [oven 200C 60 min]\n"), "{kept}");
    let again = card::read(&kept, &Larder::default());
    assert!(offers(&kept, &again).is_empty());
    assert_eq!(again.card.parts[0].steps[0].text, reading.card.parts[0].steps[0].text);
}

#[test]
fn the_demonstration_is_offered_nothing_that_its_notes_say() {
    let text = "dish: Pork\n1. Roast. Thermometer in the middle. [oven 375F 65 min] [core 145F]\n";
    assert!(offers(text, &card::read(text, &Larder::default())).is_empty());
}

proptest::proptest! {
    #[test]
    fn no_text_is_too_odd_to_be_searched(text in "(\\PC|\n|1\\. |bake |at 200|°|minutes|½){0,60}") {
        let text = format!("1. {text}");
        let reading = card::read(&text, &Larder::default());
        let found = offers(&text, &reading);
        let kept = keep_all(&text, &found);
        proptest::prop_assert!(kept.len() >= text.len());
        for offer in found {
            proptest::prop_assert_eq!(&text[offer.bytes.clone()], offer.words);
        }
    }
}
