//! What a talk becomes, whatever it is made of.

use super::*;

/// Every sentence stands in exactly one card or in none, and nothing but space between sentences.
#[track_caller]
fn nothing_is_lost(text: &str, told: &Told) {
    let mut at = 0;
    for sentence in &told.sentences {
        assert!(text[at..sentence.bytes.start].trim().is_empty());
        assert_eq!(text[sentence.bytes.clone()], sentence.words);
        at = sentence.bytes.end;
    }
    assert!(text[at..].trim().is_empty());
    let mut seen = vec![0; told.sentences.len()];
    let placed = told.dishes.iter().flat_map(|dish| &dish.sentences).map(|on| on.sentence);
    for sentence in placed.chain(told.not_placed.iter().copied()) {
        seen[sentence] += 1;
    }
    assert!(seen.iter().all(|count| *count == 1), "{seen:?} of {text:?}");
}

/// Every word of a placed sentence stands on its line of the card.
#[track_caller]
fn words_stand_on_the_card(told: &Told) {
    for draft in &told.dishes {
        let lines: Vec<&str> = draft.text.lines().collect();
        for on in &draft.sentences {
            let said = told.sentences[on.sentence].words.replace('[', "(").replace(']', ")");
            let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(lines[on.line - 1].ends_with(&said), "{said:?} in {:?}", draft.text);
        }
    }
}

#[test]
fn a_sentence_may_be_given_to_another_card() {
    let larder = Larder::shipped();
    let text = "For the soup, chop two leeks. For the slaw, shred a cabbage. Stir it well.";
    let told = tell(text, &larder);
    assert_eq!(told.titles, ["Soup", "Slaw"]);
    assert_eq!(told.dishes[1].sentences.len(), 2);
    let moved = tell_with(text, &larder, &BTreeMap::from([(2, Some(0)), (0, None), (99, Some(9))]));
    assert_eq!(moved.not_placed, [0]);
    assert_eq!(moved.dishes[0].sentences.len(), 1);
    nothing_is_lost(text, &moved);
}

#[test]
fn odd_input_is_taken_apart_in_time_and_without_panic() {
    let larder = Larder::shipped();
    let one_sentence = "and a cup and a half of flour then ".repeat(3_000);
    let no_space = "x".repeat(100_000);
    let megabyte = "For the soup, chop two onions and a half. ".repeat(25_000);
    let brackets = "[".repeat(50_000);
    let figures = "1/2 ".repeat(25_000);
    for text in [
        one_sentence.as_str(),
        &no_space,
        &megabyte,
        &brackets,
        &figures,
        "\u{202e}\u{5d7}\u{5e6}\u{5d9} \u{5db}\u{5d5}\u{5e1} \u{5e7}\u{5de}\u{5d7}. \u{1f372}\u{1f372} two onions \u{1f9c5}.",
        "",
        " \n \u{2028}",
    ] {
        let told = tell(text, &larder);
        nothing_is_lost(text, &told);
    }
}

proptest::proptest! {
    #[test]
    fn any_talk_is_told_without_losing_a_sentence(
        text in "(\\PC|[.] |\n|the soup |a lentil pie |for the salad |two onions |half a cup of oil |\\[|\\+ |dish: |1\\. |keeps 3 days in the fridge|at 200 for an hour|[a-z]{2,7} ){0,60}"
    ) {
        let told = tell(&text, &Larder::shipped());
        nothing_is_lost(&text, &told);
        words_stand_on_the_card(&told);
        for draft in &told.dishes {
            // Everything that is kept is read back as what it was offered as.
            let card = crate::domain::card::read(&draft.keep_all(), &Larder::shipped()).card;
            let lines: usize = card.steps().map(|(_, step)| step.goes_in.len()).sum();
            proptest::prop_assert_eq!(lines, draft.goes_in.len());
        }
    }
}
