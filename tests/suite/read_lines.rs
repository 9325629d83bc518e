//! Many ingredient lines read by hand, what no line may do to the reader, and `read-lines`.

use std::collections::BTreeSet;
use std::process::Command;
use std::time::{Duration, Instant};

use dovetray::domain::larder::Larder;
use dovetray::domain::quantity::{Amount, UNITS, Unit};
use dovetray::domain::reading::{IngredientLine, LENGTH_MAX, SpanKind, read_line};
use dovetray::exchange::lines::{ReadLine, SCHEMA};
use proptest::prelude::*;
use serde_json::Value;

/// Lines of our own invention; one a row: line, quantity, unit, food, preparation, the rest.
const BY_HAND: &str = include_str!("../lines/by-hand.tsv");

fn read(line: &str) -> IngredientLine {
    read_line(line, &Larder::shipped())
}

/// A reading in the columns of the table.
fn said(line: &IngredientLine) -> String {
    let range = |amount: &Amount| {
        let low = amount.low();
        if amount.is_range() { format!("{low}-{}", amount.high()) } else { low.to_string() }
    };
    let figure = match &line.amount {
        Some(amount) if line.is_up_to => format!("up to {}", amount.high()),
        Some(amount) => range(amount),
        None => "none".to_owned(),
    };
    let unit = line.unit.filter(|unit| *unit != Unit::Each).map_or("-", Unit::word);
    let list = |name: &str, of: &[Amount]| {
        let words: Vec<String> =
            of.iter().map(|it| format!("{} {}", range(it), it.unit().word())).collect();
        (!of.is_empty()).then(|| format!("{name} {}", words.join(", ")))
    };
    let words =
        |name: &str, of: &[String]| (!of.is_empty()).then(|| format!("{name} {}", of.join(", ")));
    let flag = |name: &str, is: bool| is.then(|| name.to_owned());
    let others: Vec<String> = line.alternatives.iter().map(|it| it.food.clone()).collect();
    let text = |name: &str, of: &str| (!of.is_empty()).then(|| format!("{name}: {of}"));
    let more: Vec<String> = [
        list("pack", &line.packs),
        list("also", &line.equivalents),
        list("plus", &line.plus),
        words("or", &others),
        words("together", &line.together),
        flag("optional", line.is_optional),
        flag("garnish", line.is_garnish),
        flag("heading", line.is_heading),
        text("for", &line.purpose),
        text("remark", &line.remark),
    ]
    .into_iter()
    .flatten()
    .collect();
    [&line.text, &figure, unit, &line.food, &line.preparation, &more.join("; ")].join("\t")
}

#[test]
fn every_shape_is_read_as_it_was_by_hand() {
    let larder = Larder::shipped();
    let rows: Vec<&str> = BY_HAND.lines().skip(1).collect();
    assert!(rows.len() > 500, "the table is complete");
    let wrong: Vec<String> = rows
        .iter()
        .filter_map(|row| {
            let (line, _) = row.split_once('\t')?;
            let now = said(&read_line(line, &larder));
            (now != **row).then(|| format!("by hand {row}\nread    {now}"))
        })
        .collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}

/// A figure that cannot be, or that nobody can read, gives no amount; every word stays.
#[test]
fn what_nobody_can_mean_gives_no_amount() {
    for line in [
        "1/0 cup flour",
        "1e400 g flour",
        "-3 eggs",
        "−3 eggs",
        "2/0/1 cups oats",
        "1 1/0 cups oats",
        "2 1/2/3 cups oats",
        "0 eggs",
        "0/4 cup oats",
        "1.2.3 kg rice",
        "1,2,3 kg rice",
        "12345678 g rice",
        "1.23456 kg rice",
        "2\u{200b}00 g rice",
        "1/\u{200d}2 cup rice",
        "٢ أكواب سكر",
        "２ eggs",
        "NaN g flour",
        "∞ cups sugar",
    ] {
        let read = read(line);
        assert_eq!(read.amount, None, "{line}: {:?}", read.amount);
        assert!(!read.name.is_empty(), "{line}: the words stay");
    }
}

/// Signs around a line change nothing in it.
#[test]
fn decoration_changes_no_amount() {
    let plain = read("2 eggs");
    for line in [
        "\u{200b}2\u{200b} eggs",
        "\u{feff}2 eggs",
        "2\u{a0}eggs",
        "🥚 2 eggs",
        "🥚🥚2 eggs",
        "2 eggs 🥚",
        "\u{202b}2 eggs\u{202c}",
        "• 2 eggs",
        "\t2  eggs \r",
        "2 <b>eggs</b>",
        "2 eggs.",
        "2&nbsp;eggs",
    ] {
        let read = read(line);
        assert_eq!(read.amount, plain.amount, "{line}");
        assert_eq!((read.name, read.preparation), ("eggs".to_owned(), String::new()), "{line}");
    }
    let right_to_left = read("2 ביצים");
    assert_eq!(right_to_left.amount.unwrap().low().to_string(), "2");
    assert_eq!(right_to_left.food, "ביצים");
}

/// Nothing that is pasted costs more than its length, and no long run of signs costs much more.
#[test]
#[expect(clippy::disallowed_methods, reason = "the time is what is tested")]
fn a_pasted_megabyte_is_kept_as_words_at_once() {
    let larder = Larder::shipped();
    let megabyte = "2 cups sugar, ".repeat(80_000);
    let line = "a".repeat(100_000);
    let many = ["(", "1 ", "a ", "or ", ", ", "1/", "- ", "x ", "plus ", "for ", "½", "of ", "g "];
    let within = many.iter().map(|it| it.repeat(LENGTH_MAX / it.len()));
    for text in [megabyte, line].into_iter().chain(within) {
        let begun = Instant::now();
        let read = read_line(&text, &larder);
        let took = begun.elapsed();
        assert!(took < Duration::from_millis(250), "{:?}: {}", took, &text[..20.min(text.len())]);
        assert_eq!(read.spans.iter().map(|it| it.bytes.len()).sum::<usize>(), text.len());
        if text.len() > LENGTH_MAX {
            assert_eq!((read.amount, &read.spans[0].is), (None, &SpanKind::Words));
        }
    }
}

/// What the larder only suggests is never taken for a match.
#[test]
fn weaker_than_the_whole_name_is_a_suggestion() {
    for (line, confidence) in [
        ("2 onions", "known"),
        ("2 onoins", "perhaps"),
        ("200 ml soy milk of my own", "unknown"),
        ("300 g knitted wool", "unknown"),
    ] {
        let json = document(line);
        assert_eq!(json["confidence"], confidence, "{line}");
        assert_eq!(json["food_row"].is_null(), confidence != "known", "{line}");
    }
}

fn document(line: &str) -> Value {
    serde_json::to_value(ReadLine::from(&read(line))).unwrap()
}

#[test]
fn the_printed_document_keeps_to_its_schema() {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    let odd = ["", " ", "-3 eggs", "1/0 cup", "Sauce:", "🥚", "up to 2 l water", "2-3 eggs"];
    let lines = BY_HAND.lines().skip(1).filter_map(|row| row.split('\t').next()).chain(odd);
    for line in lines {
        let problems = against(&schema, &schema, &document(line));
        assert!(problems.is_empty(), "{line}: {problems:?}");
    }
    let mut broken = document("2 eggs");
    broken["quantity_low"] = Value::from("about two");
    broken["extra"] = Value::Null;
    broken.as_object_mut().unwrap().remove("food");
    assert_eq!(against(&schema, &schema, &broken).len(), 3, "the check can fail");
}

/// The keywords this schema uses, and an error for any other.
fn against(root: &Value, schema: &Value, value: &Value) -> Vec<String> {
    let mut problems = Vec::new();
    for (keyword, rule) in schema.as_object().unwrap() {
        match keyword.as_str() {
            "$schema" | "title" | "description" | "$defs" => {}
            "$ref" => {
                let pointer = rule.as_str().unwrap().trim_start_matches('#');
                problems.extend(against(root, root.pointer(pointer).unwrap(), value));
            }
            "type" => {
                let is = |name: &Value| match name.as_str().unwrap() {
                    "object" => value.is_object(),
                    "array" => value.is_array(),
                    "string" => value.is_string(),
                    "boolean" => value.is_boolean(),
                    "null" => value.is_null(),
                    other => panic!("type {other}"),
                };
                let fits = rule.as_array().map_or_else(|| is(rule), |all| all.iter().any(is));
                problems.extend((!fits).then(|| format!("{value} is no {rule}")));
            }
            "enum" if !rule.as_array().unwrap().contains(value) => {
                problems.push(format!("{value} is none of {rule}"));
            }
            "enum" => {}
            "pattern" => {
                assert_eq!(rule, "^[0-9]+(/[0-9]+)?$");
                let fits = value.as_str().is_none_or(|text| {
                    let digits =
                        |it: &str| !it.is_empty() && it.bytes().all(|b| b.is_ascii_digit());
                    let (above, below) = text.split_once('/').unwrap_or((text, "1"));
                    digits(above) && digits(below)
                });
                problems.extend((!fits).then(|| format!("{value} is no figure")));
            }
            "items" => {
                for item in value.as_array().into_iter().flatten() {
                    problems.extend(against(root, rule, item));
                }
            }
            "required" => {
                for name in rule.as_array().unwrap() {
                    let missing = value.get(name.as_str().unwrap()).is_none();
                    problems.extend(missing.then(|| format!("no {name}")));
                }
            }
            "additionalProperties" => {
                let known = schema["properties"].as_object().unwrap();
                for name in value.as_object().into_iter().flat_map(|it| it.keys()) {
                    problems.extend((!known.contains_key(name)).then(|| format!("what is {name}")));
                }
            }
            "properties" => {
                for (name, rule) in rule.as_object().unwrap() {
                    let own = value.get(name);
                    problems.extend(own.into_iter().flat_map(|it| against(root, rule, it)));
                }
            }
            other => panic!("keyword {other}"),
        }
    }
    problems
}

#[test]
fn schema_and_help_name_every_field_and_unit() {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    let fields: BTreeSet<&String> = schema["properties"].as_object().unwrap().keys().collect();
    let required: BTreeSet<&str> =
        schema["required"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    assert_eq!(required, fields.iter().map(|it| it.as_str()).collect(), "all are always printed");
    let asked =
        Command::new(env!("CARGO_BIN_EXE_dovetray")).args(["read-lines", "--help"]).output();
    let help = String::from_utf8(asked.unwrap().stdout).unwrap();
    for field in &fields {
        assert!(help.contains(&format!("\n  {field} ")), "{field} is not in the help");
    }
    let listed: BTreeSet<&str> = schema["properties"]["unit"]["enum"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(Value::as_str)
        .collect();
    let units: BTreeSet<&str> =
        UNITS.iter().filter(|it| it.0 != Unit::Each).map(|it| it.1).collect();
    assert_eq!(listed, units);
    for unit in units {
        let is_there = help.split_whitespace().any(|it| it.trim_end_matches(',') == unit);
        assert!(is_there, "{unit} is not in the help");
    }
}

/// A line as a kitchen might have put it together, sense or none.
fn kitchen_line() -> impl Strategy<Value = String> {
    let pieces = prop::sample::select(vec![
        "2",
        "1 1/2",
        "½",
        "3-4",
        "a",
        "half",
        "dozen",
        "x",
        "400 g",
        "(14 oz)",
        "tin",
        "cups",
        "tbsp",
        "of",
        "or",
        "and",
        "plus",
        "/",
        ",",
        "-",
        "(",
        ")",
        ":",
        ";",
        "each",
        "large",
        "fresh",
        "finely chopped",
        "garlic cloves",
        "onions",
        "salt",
        "pepper",
        "lemon",
        "juice of",
        "zest",
        "to taste",
        "for frying",
        "optional",
        "if liked",
        "such as",
        "with",
        "cut into strips",
        "2 cm",
        "piece",
        "up to",
        "about",
        "few",
        "leaves",
        "🍅",
        "\u{200b}",
        "&nbsp;",
        "<b>",
        "“",
        "1/0",
        "é",
    ]);
    prop::collection::vec(pieces, 0..18).prop_map(|it| it.join(" "))
}

proptest! {
    #[test]
    fn no_line_panics_and_every_byte_lies_in_one_span(line in kitchen_line()) {
        let read = read(&line);
        let mut at = 0;
        for span in &read.spans {
            prop_assert_eq!(span.bytes.start, at);
            prop_assert!(span.bytes.end > at && line.is_char_boundary(span.bytes.end));
            at = span.bytes.end;
        }
        prop_assert_eq!(at, line.len());
    }

    #[test]
    fn any_string_at_all_is_read(line in "\\PC{0,500}") {
        let read = read(&line);
        prop_assert_eq!(read.spans.iter().map(|it| it.bytes.len()).sum::<usize>(), line.len());
    }

    /// No figure is made up: each end of an amount was typed, or follows from a word that says so.
    #[test]
    fn a_line_without_a_figure_or_its_word_has_no_amount(food in "[b-z]{3,9} [b-z]{3,9}") {
        let read = read(&format!("zz {food}"));
        prop_assert_eq!(read.amount, None);
    }

    #[test]
    fn an_amount_is_the_same_however_the_line_goes_on(
        count in 1..900_u32,
        work in prop::sample::select(vec!["", ", chopped", " (optional)", ", to serve", ", plus extra"]),
    ) {
        let read = read(&format!("{count} g rye flour{work}"));
        let amount = read.amount.unwrap();
        prop_assert_eq!((amount.low().to_string(), amount.unit()), (count.to_string(), Unit::Gram));
        prop_assert_eq!(read.food, "rye flour");
    }
}
