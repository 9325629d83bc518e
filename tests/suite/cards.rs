//! The fourteen cards of the demonstration, against readings that were made by hand.

use std::fs;
use std::path::{Path, PathBuf};

use dovetray::domain::card::note::{Note, NoteKind};
use dovetray::domain::card::{
    self, Card, Edit, FromFreezer, GoesIn, Mark, Reading, Setting, Source, Step, ToolUse,
};
use dovetray::domain::heat::Degrees;
use dovetray::domain::larder::Larder;
use dovetray::domain::quantity::Unit;
use dovetray::domain::reading::{Span, SpanKind};
use proptest::prelude::*;
use serde_json::{Map, Value, json};

const BASES: [&str; 2] = ["Green sauce", "Soft leeks"];

fn cards() -> Vec<(PathBuf, String)> {
    let folder = crate::demo::folder().join("cards");
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut paths: Vec<_> =
        entries.filter(|path| path.extension().is_some_and(|it| it == "txt")).collect();
    paths.sort();
    paths.into_iter().map(|path| (path.clone(), fs::read_to_string(path).unwrap())).collect()
}

/// The reading that was made by hand stands beside the tests.
fn golden(card: &Path) -> PathBuf {
    let name = card.file_stem().unwrap().display().to_string();
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cards").join(format!("{name}.json"))
}

fn read(text: &str) -> Reading {
    card::read_with_bases(text, &Larder::default(), &BASES.map(str::to_owned))
}

#[test]
fn story_01_the_demonstration_cards_read_as_by_hand() {
    let mut wrong = Vec::new();
    let cards = cards();
    assert_eq!(cards.len(), 14);
    for (path, text) in &cards {
        let reading = read(text);
        let name = path.file_stem().unwrap().display().to_string();
        if !reading.remarks.is_empty() {
            wrong.push(format!("{name}: {:?}", reading.remarks));
        }
        let expected: Value =
            serde_json::from_str(&fs::read_to_string(golden(path)).unwrap()).unwrap();
        let found = shown(&reading.card);
        compare(&name, &expected, &found, &mut wrong);
    }
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

#[test]
fn the_demonstration_has_84_steps_78_links_and_24_stops() {
    let readings: Vec<Reading> = cards().iter().map(|(_, text)| read(text)).collect();
    let steps: usize = readings.iter().map(|it| it.card.steps().count()).sum();
    let inside: usize = readings.iter().map(|it| card::links(&it.card).len()).sum();
    let to_bases: usize = readings
        .iter()
        .flat_map(|it| it.card.steps().flat_map(|(_, step)| &step.goes_in).collect::<Vec<_>>())
        .filter(|entry| matches!(entry.source, Some(Source::Base(_))))
        .count();
    let stops: usize = readings
        .iter()
        .flat_map(|it| it.card.steps().map(|(_, s)| s.stops.len()).collect::<Vec<_>>())
        .sum();
    // Counted by hand: 77 that the cards name, and one they do not: the vegetables of the bake flow
    // into its finish, which joins every part of its dish.
    assert_eq!((steps, inside + to_bases, stops), (84, 78, 24));
}

#[test]
fn a_card_comes_back_as_it_was_written() {
    for (path, text) in cards() {
        let mut card = read(&text).card;
        // Where bytes stood is not kept: it is asked of the text alone.
        for part in &mut card.parts {
            for entry in part.steps.iter_mut().flat_map(|step| &mut step.goes_in) {
                let bytes = 0..entry.what.text.len();
                entry.what.spans = vec![Span { bytes, is: SpanKind::Words }];
            }
        }
        let written = dovetray::exchange::card::write(&card);
        assert_eq!(dovetray::exchange::card::read(&written), Ok(card), "{}", path.display());
    }
}

/// The sentences of what is said, each after its line.
fn said(text: &str) -> Vec<String> {
    let reading = card::read_with_bases(text, &Larder::shipped(), &BASES.map(str::to_owned));
    let say = |remark: &dovetray::domain::remark::Remark| {
        let line = match remark.place {
            dovetray::domain::remark::Place::Line(line) => line,
            _ => 0,
        };
        let write = remark.write.as_deref().unwrap_or_default();
        format!("{line} {:?} {} {write}", remark.weight, remark.sentence)
    };
    reading.remarks.iter().map(say).collect()
}

#[test]
fn with_the_shipped_larder_the_demonstration_cards_say_nothing_either() {
    for (path, text) in cards() {
        assert_eq!(said(&text), Vec::<String>::new(), "{}", path.display());
    }
}

#[test]
fn a_card_with_all_its_notes_is_offered_none() {
    for (path, text) in cards() {
        let found = dovetray::domain::offer::offers(&text, &read(&text));
        assert_eq!(found, [], "{}", path.display());
    }
}

#[test]
fn what_cannot_be_is_a_fault_and_what_is_odd_a_note() {
    let cases = [
        (
            "1. Roast. [oven 200C 20 min] [at 25 min: turn, 2 min]",
            "1 Fault “turn” stands at 25 min",
        ),
        (
            "1. Roast. [oven 200C 20 min] [at 20 min: turn, 2 min]",
            "1 Fault “turn” stands at 20 min",
        ),
        ("1. Box. [stop freezer 30 days]", "1 Fault A stop in the freezer"),
        ("1. Wait. [wait 24 h to 3 h]", "1 Fault “[wait 24 h to 3 h]”"),
        ("1. Mix.\n   + 60-40 ml oil", "2 Fault “60-40 ml oil”"),
        ("for: 8-6\n1. Mix.", "1 Fault “8-6”"),
        ("for: 8\nvessel: tray = 8, shelf 2\n1. Mix.", "0 Fault The shelf"),
        ("part: a\n1. Mix.\npart: A\n2. Stir.", "3 Fault Two parts"),
        ("1. Mix. [after crumb 7]", "1 Fault There is no step 7"),
        ("1. Mix. [after 2]\n2. Stir.", "1 Fault This step waits"),
        ("part: a\nmakes: 50 g\n1. Mix.\nfinish:\n2. Stir.\n   + 60 g a", "6 Fault More of"),
        ("1. Bake. [oven 20C 40 min]", "1 Fault “[oven 20C 40 min]”"),
        (
            "1. Roast. [core 75C] [check 5 min x4]\n2. Rest. [rest 8 min to 10 min]",
            "2 Note The rest",
        ),
        (
            "1. Bake. [oven 200 40 min]",
            "1 Note “[oven 200 40 min]” was not understood; it is kept as words [oven 200C 40 min]",
        ),
        (
            "1. Wait. [wait 20]",
            "1 Note “[wait 20]” was not understood; it is kept as words [wait 20 min]",
        ),
        ("1. Mix. [covered]", "1 Note “[covered]”"),
        ("1. Mix. [8 min] [9 min]", "1 Note “[9 min]” is said twice"),
        ("1. Mix. [8 min", "1 Note A bracket is opened"),
        ("1. Mix.\n1. Stir.", "2 Note Two steps of this part"),
        ("A word.\nof two lines\n1. Mix.", "1 Note These words stand before"),
        (
            "dish: Soup\n1. Add the smoked paprika.\n   + 2 leeks",
            "2 Note The sentence puts in smoked paprika",
        ),
    ];
    for (text, expected) in cases {
        let said = said(text);
        assert!(said.iter().any(|it| it.starts_with(expected)), "{text}: {said:?}");
    }
}

#[test]
fn prose_without_numbers_is_a_good_dish() {
    let text = "Leek tart\n\nServes: 6\n\n500 g leeks\n200 ml cream\n\nSlice the leeks and soften\nthem in butter.\nPour over the cream.\n\nBake.\n";
    let reading = read(text);
    assert_eq!(reading.card.title, "Leek tart");
    let steps: Vec<_> =
        reading.card.steps().map(|(_, step)| (&*step.text, step.goes_in.len())).collect();
    let expected = [
        ("Slice the leeks and soften them in butter.", 2),
        ("Pour over the cream.", 0),
        ("Bake.", 0),
    ];
    assert_eq!(steps, expected);
    assert_eq!(reading.card.serves.unwrap().high.count(), 6);
}

#[test]
fn a_paragraph_and_a_repeated_head_lose_no_word() {
    let reading =
        read("dish: Soup\nwhy: one\nwhy: two\n1. Boil\n   the soup.\n\nServe it. For: all.\n");
    let texts: Vec<&str> = reading.card.steps().map(|(_, step)| step.text.as_str()).collect();
    assert_eq!(texts, ["Boil the soup.", "Serve it. For: all."]);
    assert_eq!(reading.card.more[0].words, "two");
}

#[test]
fn texts_of_the_greatest_length_are_read_to_the_end() {
    let lines = [
        "1. a [after 1]\n",
        "part: a\nmakes: 1 g\n1. + a\n",
        "finish:\n1. a\n",
        "+ 1 g a\n",
        "1. [a] [1 min]\n",
        "bake 1 h at 200 ",
    ];
    for line in lines {
        let text = line.repeat(40_000 / line.len());
        let reading = read(&text);
        assert_eq!(reading.lines.len(), text.lines().count());
        let offers = dovetray::domain::offer::offers(&text, &reading);
        assert!(offers.iter().all(|offer| text[offer.bytes.clone()] == offer.words));
    }
}

proptest! {
    #[test]
    fn no_text_is_too_odd_to_read(text in "(\\PC|\\n|\\[|\\]|\\+|[0-9]\\. ){0,200}") {
        let reading = read(&text);
        prop_assert_eq!(reading.lines.len(), text.lines().count());
        prop_assert_eq!(read(&text), reading);
    }

    #[test]
    fn no_word_of_a_step_is_lost(words in prop::collection::vec("[a-z]{1,8}|\\[[a-z0-9 ]{0,12}\\]", 1..12)) {
        let reading = read(&format!("dish: Soup\n1. {}\n", words.join(" ")));
        let step = &reading.card.parts[0].steps[0];
        for word in words {
            match word.strip_prefix('[').and_then(|word| word.strip_suffix(']')) {
                None => prop_assert!(step.text.split(' ').any(|it| it == word)),
                Some(note) => {
                    let kept = step.kept.iter().any(|it| it == note.trim());
                    prop_assert!(kept || Note::read(note).is_ok());
                }
            }
        }
    }
}

fn compare(place: &str, expected: &Value, found: &Value, wrong: &mut Vec<String>) {
    match (expected, found) {
        (Value::Object(one), Value::Object(other)) => {
            for key in one.keys().chain(other.keys().filter(|key| !one.contains_key(*key))) {
                let null = Value::Null;
                let (a, b) = (one.get(key).unwrap_or(&null), other.get(key).unwrap_or(&null));
                compare(&format!("{place}.{key}"), a, b, wrong);
            }
        }
        (Value::Array(one), Value::Array(other)) if one.len() == other.len() => {
            for (index, (a, b)) in one.iter().zip(other).enumerate() {
                let (mut a, mut b) = (a.clone(), b.clone());
                [&mut a, &mut b]
                    .into_iter()
                    .filter(|it| it.get("text").is_some())
                    .for_each(join_name);
                let (a, b) = (&a, &b);
                compare(&format!("{place}[{index}]"), a, b, wrong);
            }
        }
        _ if expected == found => {}
        _ => wrong.push(format!("{place}: expected {expected}, read {found}")),
    }
}

/// The reading in the notation of the files, which is the one a person wrote.
fn shown(card: &Card) -> Value {
    let parts: Vec<Value> = card
        .parts
        .iter()
        .map(|part| {
            let steps: Vec<Value> = part.steps.iter().map(step).collect();
            let mut shown = json!({ "name": part.name, "steps": steps });
            if let Some(makes) = &part.makes {
                let unit = makes.unit().word();
                shown["makes"] = json!(format!("{} {unit}", makes.high()));
            }
            shown
        })
        .collect();
    json!({ "title": card.title, "kind": card.kind.word(), "parts": parts })
}

fn step(step: &Step) -> Value {
    let mut shown = Map::new();
    let mut put = |key: &str, value: Option<Value>| {
        if let Some(value) = value {
            shown.insert(key.to_owned(), value);
        }
    };
    let goes_in: Vec<Value> = step.goes_in.iter().map(goes_in).collect();
    put("number", Some(json!(step.number)));
    put("text", Some(json!(step.text)));
    put("goes_in", (!goes_in.is_empty()).then_some(json!(goes_in)));
    put("hands_min", step.hands.map(|it| json!(it.minutes)));
    put("wait_min", step.wait.map(|it| json!(it.least_minutes)));
    put("wait_most_min", step.wait.and_then(|it| it.most_minutes).map(|it| json!(it)));
    put("wait_in", step.wait.and_then(|it| it.place).map(|it| json!(it.word())));
    put("cold_extra_min", step.cold_extra_minutes.map(|it| json!(it)));
    put("rest_min", step.rest.map(|it| json!(it.least_minutes)));
    put("rest_most_min", step.rest.and_then(|it| it.most_minutes).map(|it| json!(it)));
    put("before_serving_min", step.before_serving_minutes.map(|it| json!(it)));
    put("serve_within_min", step.serve.map(|it| json!(it.minutes)));
    put("serve_hot", step.serve.filter(|it| it.hot).map(|_| json!(true)));
    for mark in Mark::ALL.into_iter().filter(|mark| step.marks.contains(mark)) {
        put(&mark.words().replace(' ', "_"), Some(json!(true)));
    }
    put("oven", step.oven.as_ref().map(|it| setting(it)[0].clone()));
    put("oven_or", step.oven_or.first().map(|it| setting(it)[0].clone()));
    put("own_oven", step.own_oven.as_ref().map(|it| json!(setting(it))));
    put("shelf", step.shelf.as_ref().map(|it| json!(it.to_string())));
    put("hob", step.hob.map(|it| json!([it.minutes, it.watch])));
    let touches = step.touches.iter().map(|it| json!([it.at_minutes, it.what, it.hands_minutes]));
    put("touches", list(touches));
    let kind = |reheat| if reheat { "reheat" } else { "cook" };
    put("core", step.core.map(|it| json!([heat(it.heat), kind(it.reheat)])));
    put("check", step.check.map(|it| json!([it.every_minutes, it.most])));
    put("chill", step.chill.map(|it| json!([heat(it.below), it.within_minutes])));
    put("box_l", step.box_litres.as_ref().map(|it| json!(it.to_string())));
    for (key, how) in [("use", ToolUse::Use), ("keep", ToolUse::Keep), ("wash", ToolUse::Wash)] {
        let named = step.tools.iter().filter(|tool| tool.how == how);
        put(key, list(named.map(|tool| json!(tool.name))));
    }
    put("after", list(step.after.iter().map(|it| json!([it.part, it.number]))));
    put("stops", list(step.stops.iter().map(stop)));
    Value::Object(shown)
}

fn list(values: impl Iterator<Item = Value>) -> Option<Value> {
    let values: Vec<Value> = values.collect();
    (!values.is_empty()).then_some(Value::Array(values))
}

fn heat(heat: Degrees) -> String {
    format!("{} {}", heat.figure, heat.scale.letter())
}

fn setting(setting: &Setting) -> Vec<Value> {
    setting.stages.iter().map(|it| json!([heat(it.heat), it.minutes])).collect()
}

fn stop(stop: &card::Stop) -> Value {
    let mut shown = json!({ "where": stop.place.word(), "most_min": stop.most_minutes });
    if let Some(by) = stop.by {
        shown["limit_by"] = json!(if by == card::By::Safety { "safety" } else { "quality" });
    }
    if let Some(because) = &stop.because {
        shown["because"] = json!(because);
    }
    match stop.from_freezer {
        Some(FromFreezer::Thaw { minutes }) => shown["thaw_min"] = json!(minutes),
        Some(FromFreezer::UseFrozen) => shown["use_frozen"] = json!(true),
        None => {}
    }
    shown
}

/// `stock, gluten-free`: whether the last words belong to the name is told apart by nobody who shops.
fn join_name(entry: &mut Value) {
    if let (Some(name), Some(words)) = (entry["name"].as_str(), entry["preparation"].as_str()) {
        entry["name"] = json!(format!("{name}, {words}"));
        entry.as_object_mut().unwrap().remove("preparation");
    }
}

fn goes_in(entry: &GoesIn) -> Value {
    let what = &entry.what;
    let mut shown = json!({ "text": what.text });
    if let Some(amount) = &what.amount {
        shown["low"] = json!(amount.low().to_string());
        shown["high"] = json!(amount.high().to_string());
        shown["unit"] = json!(amount.unit().word());
    }
    match &entry.source {
        Some(Source::Part(name) | Source::Base(name)) => shown["source"] = json!(name),
        None => shown["name"] = json!(what.name),
    }
    if !what.preparation.is_empty() {
        shown["preparation"] = json!(what.preparation);
    }
    let others: Vec<&str> = what.alternatives.iter().map(|it| it.name.as_str()).collect();
    if !others.is_empty() {
        shown["alternatives"] = json!(others);
    }
    if let Some(about) = &what.about {
        let grams = about.unit().in_base(dovetray::domain::quantity::Spoons::Round).unwrap();
        assert_eq!(about.unit().kind(), Unit::Gram.kind());
        shown["about_g"] = json!((about.high() * grams).to_string());
    }
    for (key, set) in [("optional", what.is_optional), ("garnish", what.is_garnish)] {
        if set {
            shown[key] = json!(true);
        }
    }
    shown
}

/// What a form shows, sent back unchanged, leaves every byte of the text.
#[test]
fn a_card_set_to_what_it_says_stays_as_it_is() {
    for (path, text) in cards() {
        let reading = read(&text);
        let mut edits = Vec::new();
        for (_, step) in reading.card.steps() {
            let notes = step.notes();
            edits.push(Edit::Sentence { step: step.line, words: step.text.clone() });
            edits.push(Edit::Kept { step: step.line, words: step.kept.clone() });
            for kind in NoteKind::ALL {
                let notes = notes.iter().filter(|note| note.kind() == kind).cloned().collect();
                edits.push(Edit::Notes { step: step.line, kind, notes });
            }
            for entry in &step.goes_in {
                edits.push(Edit::GoesIn { line: entry.line, words: entry.what.text.clone() });
            }
        }
        for (line, _, value) in card::heads(&text, &reading) {
            edits.push(Edit::Head { line, value: value.to_owned() });
        }
        assert!(edits.len() > 40);
        assert_eq!(card::change(&text, &reading, &edits), text, "{}", path.display());
    }
}

/// Every note that a form can set is read back as it was set, and touches one line.
#[test]
fn a_note_set_on_any_step_is_read_back() {
    for (path, text) in cards() {
        let reading = read(&text);
        for (_, step) in reading.card.steps() {
            for kind in NoteKind::ALL {
                let note = Note::read(kind.example()).unwrap().note;
                let edit = Edit::Notes { step: step.line, kind, notes: vec![note.clone()] };
                let changed = card::change(&text, &reading, &[edit]);
                let name = format!("{} {} {kind:?}", path.display(), step.line);
                assert_eq!(changed.lines().count(), text.lines().count(), "{name}");
                let differing = changed.lines().zip(text.lines()).filter(|(now, was)| now != was);
                assert!(differing.count() <= 1, "{name}");
                let again = read(&changed);
                let (_, now) = again.card.steps().find(|(_, it)| it.line == step.line).unwrap();
                let of_kind: Vec<_> =
                    now.notes().into_iter().filter(|it| it.kind() == kind).collect();
                // A bare number in an `after` stands for the step's own part.
                if kind != NoteKind::After {
                    assert_eq!(of_kind, [note], "{name}");
                }
                assert_eq!(now.text, step.text, "{name}");
            }
        }
    }
}
