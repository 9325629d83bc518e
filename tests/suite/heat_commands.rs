//! `cool`, `warm` and `roast` as they are typed: the answer in JSON, nonsense refused in a sentence.

use std::process::Command;

fn asked(line: &str) -> Result<serde_json::Value, String> {
    // One word between bars stands for a figure with spaces in it.
    let words = line.split(' ').map(|it| it.replace('|', " "));
    let done = Command::new(env!("CARGO_BIN_EXE_dovetray")).args(words).output().unwrap();
    if done.status.success() {
        return Ok(serde_json::from_slice(&done.stdout).unwrap());
    }
    assert!(done.stdout.is_empty(), "nothing is reckoned on nonsense");
    Err(String::from_utf8(done.stderr).unwrap())
}

#[test]
fn two_inches_in_a_home_fridge_are_too_slow_and_the_answer_says_what_to_do() {
    let slow = asked("cool --depth 2in").unwrap();
    assert_eq!(slow["verdict"], "cooling likely too slow");
    assert_eq!(slow["deepest_in_time_also_slow_mm"], 15);
    let first = &slow["mends"][0];
    assert!(first["what"].as_str().unwrap().starts_with("Spread it over 4 dishes"), "{first}");
    assert_eq!(first["then"], "in time, also in the slow case");
    assert!(slow["reading_step"].as_str().unwrap().starts_with("Measure the thickest place"));
    // What the mend promises is what the same command says of it.
    let spread = asked("cool --depth 15mm").unwrap();
    assert_eq!(spread["verdict"], "likely in time");
    assert!(spread.get("reading_step").is_none(), "{spread}");
    let minutes = |case: usize| spread["cases"][case]["to_5c_minutes"].as_u64().unwrap();
    assert!(minutes(0) <= 360 && minutes(0) > minutes(1) && minutes(1) > minutes(2));
    for words in [slow.to_string(), spread.to_string()] {
        assert!(!words.to_lowercase().contains("safe"));
    }
}

#[test]
fn ice_that_is_not_spoken_of_or_too_little_is_never_counted_on() {
    let bath = |ice: &str| asked(&format!("cool --depth 2in --place ice|bath{ice}")).unwrap();
    assert_eq!(bath("")["verdict"], "too close to call");
    assert_eq!(bath(" --ice 1kg")["ice_runs_out"], true);
    assert_eq!(bath(" --ice 1kg")["verdict"], "too close to call");
    let enough = bath(" --ice 4kg");
    assert_eq!(enough["verdict"], "likely in time");
}

#[test]
fn what_cannot_be_is_refused_in_a_sentence() {
    for (line, says) in [
        ("cool --depth 0mm", "The depth must be between"),
        ("cool --depth 2m", "2m is not a depth of food in a dish"),
        ("cool --depth 2cm --place-at 70F", "Fridge is between"),
        ("cool --depth 2cm --food lava", "lava is not known here; a food is one of"),
        ("roast --pull 145C --weight 1kg", "145C is not"),
        ("roast", "Say how thick the joint is across"),
        ("roast --weight 1kg --profile mine", "a profile is one of: home"),
        ("warm --depth 3cm --oven 1800C", "1800C does not"),
    ] {
        let told = asked(line).unwrap_err();
        assert!(told.contains(says), "{line}: {told}");
    }
}

#[test]
fn an_end_point_below_the_least_of_the_profile_carries_its_caution() {
    let roast = |more: &str| {
        asked(&format!("roast --across 6.5cm --long 38cm --start 12C --oven 425F {more}")).unwrap()
    };
    let home = roast("--pull 120F");
    let caution = home["caution"].as_str().unwrap();
    assert!(caution.contains("145\u{a0}°F") && caution.contains("3\u{a0}min of rest"), "{caution}");
    assert!(home["credit"].as_str().unwrap().contains("counts for nothing"));
    let [low, high] = [0, 1].map(|it| home["rise_c"][it].as_f64().unwrap());
    assert!(low > 0.0 && high > 3.0 * low);
    assert!(
        roast("--pull 120F --at-risk")["caution"].as_str().unwrap().contains("Not for this table")
    );
    let code = roast("--pull 130F --profile foodcode2022");
    assert!(code["caution"].as_str().unwrap().contains("112\u{a0}min"), "{code}");
    assert!(roast("--pull 165F --food poultry").get("caution").is_none());
}

#[test]
fn a_dish_from_the_freezer_takes_longer_than_from_the_fridge_and_that_longer_than_from_the_room() {
    let told = asked("warm --depth 3cm").unwrap();
    let middle = |start: &str| {
        asked(&format!("warm --depth 3cm --start {start}")).unwrap()["minutes"]["middle"].as_u64()
    };
    assert!(middle("-18C") > middle("4C") && middle("4C") > middle("20C"), "{told}");
    assert_eq!(told["hold"].as_array().unwrap().len(), 3);
}

#[test]
fn help_teaches_by_examples() {
    for command in ["cool", "warm", "roast"] {
        let done = Command::new(env!("CARGO_BIN_EXE_dovetray")).args([command, "--help"]).output();
        let text = String::from_utf8(done.unwrap().stdout).unwrap();
        assert!(
            text.contains("Try:") && text.contains(&format!("dovetray {command} --")),
            "{text}"
        );
    }
}
