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

/// USDA National Nutrient Database for Standard Reference, file of household weights: food, its
/// number there, grams of one US cup.
const GRAMS_OF_A_CUP: [(&str, &str, i64); 12] = [
    ("all-purpose flour", "20081", 125),
    ("granulated sugar", "19335", 200),
    ("unsalted butter", "01145", 227),
    ("honey", "19296", 339),
    ("olive oil", "04053", 216),
    ("whole milk", "01077", 244),
    ("long-grain white rice", "20044", 185),
    ("rolled oats", "08120", 81),
    ("pearl barley", "20005", 200),
    ("yellow onion", "11282, chopped", 160),
    ("celeriac", "11141", 156),
    ("canned chickpeas", "16058, with their liquid", 240),
];

/// The same data set: grams of one, edible part.
const GRAMS_OF_ONE: [(&str, &str, i64); 5] = [
    ("egg", "01123, large", 50),
    ("carrot", "11124, medium", 61),
    ("garlic", "11215, clove", 3),
    ("lemon", "09150, 2-1/8 inches", 58),
    ("leek", "11246", 89),
];

/// The same data set, field of refuse: per cent that is not eaten.
const REFUSE: [(&str, &str, i64); 8] = [
    ("yellow onion", "11282", 10),
    ("carrot", "11124", 11),
    ("leek", "11246", 56),
    ("potato", "11354", 25),
    ("spinach", "11457", 28),
    ("garlic", "11215", 13),
    ("lemon", "09150", 47),
    ("celeriac", "11141", 14),
];

#[test]
fn a_cup_weighs_what_the_standard_reference_says() {
    let cup = Unit::Cup.in_base(Spoons::Customary).unwrap();
    for (name, number, grams) in GRAMS_OF_A_CUP {
        let weighed = food(name).g_per_ml.unwrap().value * &cup;
        assert_eq!(weighed, whole(grams), "{name} ({number})");
    }
}

#[test]
fn one_piece_weighs_what_the_standard_reference_says() {
    for (name, number, grams) in GRAMS_OF_ONE {
        assert_eq!(food(name).g_each.unwrap().value, whole(grams), "{name} ({number})");
    }
}

#[test]
fn trim_is_the_refuse_of_the_standard_reference() {
    for (name, number, refuse) in REFUSE {
        let edible = BigRational::new((100 - refuse).into(), 100.into());
        assert_eq!(food(name).edible.unwrap().value, edible, "{name} ({number})");
    }
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
