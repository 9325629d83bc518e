//! Figures of the larder and the rules against what was published elsewhere, the source beside each.

use dovetray::domain::larder::{Food, Larder};
use dovetray::domain::quantity::{Spoons, Unit};
use num_rational::BigRational;

fn food(name: &str) -> Food {
    let larder = Larder::shipped();
    let found = larder.find(name);
    larder.food(found.known().unwrap_or_else(|| panic!("{name}"))).unwrap().clone()
}

fn whole(figure: i64) -> BigRational {
    BigRational::from_integer(figure.into())
}

/// Typed off the reference, line by line; not taken from the larder.
const STANDARD_REFERENCE: &str = include_str!("standard_reference.tsv");

struct Line<'a> {
    food: &'a str,
    row: &'a str,
    field: &'a str,
    amount: BigRational,
    measure: &'a str,
    figure: BigRational,
}

fn lines() -> impl Iterator<Item = Line<'static>> {
    STANDARD_REFERENCE.lines().filter(|line| !line.starts_with('#')).map(|line| {
        let cells: Vec<&str> = line.split('\t').collect();
        let [food, row, _, field, amount, measure, figure] = cells.as_slice() else {
            panic!("{line}")
        };
        let amount = if amount.is_empty() { whole(1) } else { decimal(amount) };
        Line { food, row, field, amount, measure, figure: decimal(figure) }
    })
}

fn decimal(text: &str) -> BigRational {
    let (units, part) = text.split_once('.').unwrap_or((text, ""));
    let digits: i64 = format!("{units}{part}").parse().unwrap();
    BigRational::new(digits.into(), 10_i64.pow(u32::try_from(part.len()).unwrap()).into())
}

/// Millilitres of the measure: its own words say how many of which spoon or cup.
fn millilitres(measure: &str) -> BigRational {
    let words = measure.to_lowercase();
    let words = words.strip_prefix("serving ").unwrap_or(&words);
    let (times, rest) = [("2 ", whole(2)), ("1/2 ", decimal("0.5")), ("1 ", whole(1))]
        .into_iter()
        .find_map(|(prefix, times)| Some((times, words.strip_prefix(prefix)?)))
        .unwrap_or((whole(1), words));
    let unit = [
        ("cup", Unit::Cup),
        ("tbsp", Unit::Tablespoon),
        ("tablespoon", Unit::Tablespoon),
        ("tsp", Unit::Teaspoon),
        ("teaspoon", Unit::Teaspoon),
        ("fl oz", Unit::FluidOunce),
    ]
    .into_iter()
    .find_map(|(word, unit)| rest.starts_with(word).then_some(unit));
    times * unit.unwrap_or_else(|| panic!("{measure}")).in_base(Spoons::Customary).unwrap()
}

#[test]
fn the_larder_weighs_what_the_standard_reference_weighs() {
    let mut foods = std::collections::BTreeSet::new();
    for line in lines() {
        let food = food(line.food);
        let (said, expected) = match line.field {
            "volume" => (food.g_per_ml, line.figure / (line.amount * millilitres(line.measure))),
            "one" => (food.g_each, line.figure / line.amount),
            _ => (food.edible, (whole(100) - line.figure) / whole(100)),
        };
        let said = said.unwrap_or_else(|| panic!("{} has no {}", line.food, line.field));
        assert_eq!(said.value, expected, "{} ({}, {})", line.food, line.row, line.field);
        let names_its_row = said.source.starts_with(&format!("SR28 {}:", line.row));
        assert!(names_its_row, "{}: {}", line.food, said.source);
        foods.insert(line.food);
    }
    assert!(foods.len() >= 600, "only {} foods", foods.len());
}

/// The same data set by hand, for foods that every class buys.
#[test]
fn a_cup_and_a_piece_and_the_trim_of_every_days_foods() {
    let cup = Unit::Cup.in_base(Spoons::Customary).unwrap();
    for (name, number, grams) in [
        ("all-purpose flour", "20081", 125),
        ("granulated sugar", "19335", 200),
        ("unsalted butter", "01145", 227),
        ("olive oil", "04053", 216),
        ("canned chickpeas", "16058, with their liquid", 240),
    ] {
        assert_eq!(food(name).g_per_ml.unwrap().value * &cup, whole(grams), "{name} ({number})");
    }
    for (name, number, grams) in [("egg", "01123, large", 50), ("carrot", "11124, medium", 61)] {
        assert_eq!(food(name).g_each.unwrap().value, whole(grams), "{name} ({number})");
    }
    for (name, number, refuse) in [("leek", "11246", 56), ("lemon", "09150", 47)] {
        let edible = BigRational::new((100 - refuse).into(), 100.into());
        assert_eq!(food(name).edible.unwrap().value, edible, "{name} ({number})");
    }
}

/// Rule book 6.2: a volume becomes a weight only by a figure of the same cut.
#[test]
fn another_cut_is_another_weight() {
    let cup = Unit::Cup.in_base(Spoons::Customary).unwrap();
    let of = |name: &str, cut: &str| food(name).density(cut).map(|it| &it.value * &cup);
    assert_eq!(of("yellow onion", "finely chopped"), Some(whole(160)));
    assert_eq!(of("yellow onion", "sliced"), Some(whole(115)));
    assert_eq!(of("yellow onion", ""), Some(whole(160)));
    assert_eq!(of("cheddar", "grated"), Some(whole(113)), "as shredded");
    assert_eq!(of("leek", "chopped"), Some(whole(89)), "the reference names no cut");
    assert_eq!(of("fennel bulb", "grated"), None, "only sliced is known");
    assert_eq!(of("almond", "ground"), Some(whole(95)));
}

/// NIST Handbook 44, appendix C: units of capacity, and of mass, avoirdupois.
#[test]
fn customary_units_are_exact() {
    let base = |unit: Unit| unit.in_base(Spoons::Customary).unwrap();
    assert_eq!(base(Unit::Gallon), base(Unit::Quart) * whole(4));
    assert_eq!(base(Unit::Quart), base(Unit::Pint) * whole(2));
    assert_eq!(base(Unit::Pint), base(Unit::Cup) * whole(2));
    assert_eq!(base(Unit::Cup), base(Unit::FluidOunce) * whole(8));
    assert_eq!(base(Unit::FluidOunce), base(Unit::Tablespoon) * whole(2));
    assert_eq!(base(Unit::Tablespoon), base(Unit::Teaspoon) * whole(3));
    assert_eq!(base(Unit::Pound), base(Unit::Ounce) * whole(16));
    // 231 cubic inches of 2.54 cm.
    let inch = BigRational::new(254.into(), 100.into());
    assert_eq!(base(Unit::Gallon), whole(231) * &inch * &inch * &inch);
}

/// schema.org/Recipe (properties as listed there): what is read from a page's linked data.
#[test]
fn linked_data_is_read_by_the_terms_of_schema_org() {
    let page = r#"{"@context": "https://schema.org", "@type": "Recipe", "name": "Leek pot",
        "recipeYield": "4", "recipeIngredient": ["1 kg leeks", "2 tbsp olive oil"],
        "recipeInstructions": [{"@type": "HowToStep", "text": "Sweat the leeks in the oil."}]}"#;
    let pasted = dovetray::exchange::schema_org::find(page).unwrap();
    let draft = dovetray::domain::paste::draft(&pasted, &Larder::shipped(), &[]);
    for words in ["Leek pot", "1 kg leeks", "2 tbsp olive oil", "Sweat the leeks in the oil."] {
        assert!(draft.text.contains(words), "{words}: {}", draft.text);
    }
}
