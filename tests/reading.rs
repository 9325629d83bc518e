//! Ingredient lines: the laws of the reader, and what real kitchens write.

#![allow(clippy::unwrap_used)]

use dovetray::domain::larder::Larder;
use dovetray::domain::reading::{IngredientLine, read_line};
use proptest::prelude::*;

fn read(line: &str) -> IngredientLine {
    read_line(line, &Larder::shipped())
}

/// Low and high with the unit, the food and the preparation, in few words.
fn said(line: &str) -> String {
    let read = read(line);
    let amount = read.amount.as_ref().map(|it| {
        let low = if read.is_up_to { "..".to_owned() } else { it.low().to_string() };
        if it.is_range() || read.is_up_to { format!("{low}-{}", it.high()) } else { low }
    });
    let unit = read.unit.map_or("", |unit| unit.word());
    let others: Vec<&str> = read.alternatives.iter().map(|it| it.food.as_str()).collect();
    let mut words =
        format!("{} {unit}|{}|{}", amount.unwrap_or_default(), read.food, read.preparation);
    if !others.is_empty() {
        words += &format!("|or {}", others.join(", "));
    }
    words
}

/// Lines of our own invention, each read by hand.
const READ_BY_HAND: [(&str, &str); 46] = [
    ("2 leeks, washed and sliced", "2 each|leek|washed and sliced"),
    ("1 1/2 cups pearl barley", "3/2 cup|pearl barley|"),
    ("1½ tsp fine salt", "3/2 tsp|fine salt|"),
    ("250g chickpea flour", "250 g|chickpea flour|"),
    ("1,250 g floury potatoes, peeled", "1250 g|floury potato|peeled"),
    ("1,5 kg beetroot", "3/2 kg|beetroot|"),
    ("3-4 tbsp hard cheese, grated", "3-4 tbsp|hard cheese|grated"),
    ("2 to 3 sprigs of thyme", "2-3 sprig|thyme|"),
    ("40–60 ml olive oil", "40-60 ml|olive oil|"),
    ("up to 200 ml water", "..-200 ml|water|"),
    ("about 400 g ripe tomatoes", "400 g|tomato|"),
    ("2 x 400 g tins plum tomatoes, drained", "2 can|plum tomato|drained"),
    ("1 (14 oz) can coconut milk", "1 can|coconut milk|"),
    ("3 garlic cloves, crushed", "3 clove|garlic|crushed"),
    ("4 cloves garlic", "4 clove|garlic|"),
    ("a pinch of saffron", "1 pinch|saffron|"),
    ("half a lemon, cut into wedges", "1/2 each|lemon|cut into wedges"),
    ("juice of 2 limes", "2 each|lime|juice"),
    ("zest and juice of 1 orange", "1 each|orange|zest and juice"),
    ("2 tbsp lemon juice", "2 tbsp|lemon juice|"),
    (
        "80 g ground almonds or ground sunflower seeds",
        "80 g|ground almond||or ground sunflower seed",
    ),
    ("1 red or white onion, sliced", "1 each|red onion|sliced|or white onion"),
    ("4 cups vegetable or chicken stock", "4 cup|vegetable stock||or chicken stock"),
    ("5 tbsp butter or olive oil", "5 tbsp|butter||or olive oil"),
    ("1 tbsp fresh dill, or 1 tsp dried", "1 tbsp|dill||or dried"),
    ("2 finely chopped onions", "2 each|onion|finely chopped"),
    ("1 kg new potatoes, halved (optional)", "1 kg|new potato|halved"),
    ("Optional: 1/4 cup toasted pumpkin seeds", "1/4 cup|pumpkin seed|toasted"),
    ("8 sprigs mint (for garnish)", "8 sprig|mint|"),
    ("salt and black pepper", " |salt and black pepper|"),
    ("black pepper to taste", " |black pepper|"),
    ("sunflower oil for frying", " |sunflower oil|"),
    ("12 chicken thighs, bone in, skin on, about 2 kg", "12 each|chicken thigh|bone in, skin on"),
    ("2 large eggs, beaten", "2 each|egg|beaten"),
    ("a dozen eggs", "12 each|egg|"),
    ("3 bay leaves", "3 each|bay leaf|"),
    ("1 cup plus 2 tbsp oat milk", "1 cup|oat milk|"),
    ("250 g / 9 oz cold butter", "250 g|cold butter|"),
    ("2 cups (250 g) plain flour", "2 cup|plain flour|"),
    ("1 vegetable stock cube", "1 each|vegetable stock cube|"),
    ("• 600 ml whole milk", "600 ml|whole milk|"),
    ("1) 3 ripe pears", "3 each|pear|"),
    ("8 fl oz buttermilk", "8 fl_oz|buttermilk|"),
    ("7/8 cup whole milk", "7/8 cup|whole milk|"),
    ("Unsalted butter, 3 tbsp, melted", "3 tbsp|unsalted butter|melted"),
    ("5 1/3 oz gingersnap biscuits, egg-free", "16/3 oz|gingersnap biscuits, egg-free|"),
];

#[test]
fn lines_are_read_as_a_shopper_reads_them() {
    let wrong: Vec<String> = READ_BY_HAND
        .iter()
        .filter(|(line, hand)| said(line) != *hand)
        .map(|(line, hand)| format!("{line}\n  by hand {hand}\n  read    {}", said(line)))
        .collect();
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

#[test]
fn headings_carry_no_amount() {
    for line in ["For the sauce:", "TOPPING", "Dough:"] {
        assert!(read(line).is_heading, "{line}");
    }
    assert!(!read("2 eggs").is_heading);
}

proptest! {
    #[test]
    fn every_byte_lies_in_exactly_one_span(line in "(\\PC|[0-9]|[ ,()/½-]|or |cups? ){0,60}") {
        let read = read(&line);
        let mut at = 0;
        for span in &read.spans {
            prop_assert_eq!(span.bytes.start, at);
            prop_assert!(span.bytes.end > at);
            at = span.bytes.end;
        }
        prop_assert_eq!(at, line.len());
    }

    #[test]
    fn a_written_amount_is_read_exactly(part in 0..400_u32, below in 2..60_u32, whole in 0..90_u32) {
        let above = part % (below - 1) + 1;
        let line = if whole > 0 { format!("{whole} {above}/{below} cups rye flour") } else { format!("{above}/{below} cups rye flour") };
        let amount = read(&line).amount.unwrap();
        let figure = num_rational::BigRational::new((whole * below + above).into(), below.into());
        prop_assert_eq!(amount.low(), &figure);
    }
}
