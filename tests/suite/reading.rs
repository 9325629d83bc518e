//! Ingredient lines: the laws of the reader, and what real kitchens write.

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
    ("1 tbsp fresh dill, or 1 tsp dried", "1 tbsp|dill||or dried dill"),
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
    ("250 g / 9 oz cold butter", "250 g|butter|cold"),
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
        .chain(&READ_BY_HAND_TOO)
        .filter(|(line, hand)| said(line) != *hand)
        .map(|(line, hand)| format!("{line}\n  by hand {hand}\n  read    {}", said(line)))
        .collect();
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

/// A figure nobody can mean gives no amount; the words stay.
#[test]
fn a_figure_that_cannot_be_is_never_an_amount() {
    for line in [
        "1/0 cup sugar",
        "0 g salt",
        "00 flour",
        "1e400 g flour",
        "-3 eggs",
        "99999999999 g flour",
        "1/2/3 cup oats",
        "400/500 g beef",
        "1,250,000 g rice",
    ] {
        let read = read(line);
        assert_eq!(read.amount, None, "{line}");
        assert_eq!(read.name, line, "every word stays");
    }
}

/// More lines of our own invention: states, packs, lengths, lists, and work before and behind.
const READ_BY_HAND_TOO: [(&str, &str); 66] = [
    ("400 g tin chopped tomatoes", "1 can|chopped tomato|"),
    ("1 400g can of plum tomatoes", "1 can|plum tomato|"),
    ("2x400 g tins butter beans", "2 can|butter bean|"),
    ("500 g bag of spinach", "1 bag|spinach|"),
    ("200 g-250 g brown rice", "200-250 g|brown rice|"),
    ("200g to 250g brown rice", "200-250 g|brown rice|"),
    (".5 cup split peas", "1/2 cup|split pea|"),
    ("2 T. white miso", "2 tbsp|white miso|"),
    ("1 t. hot paprika", "1 tsp|hot paprika|"),
    ("3 Tbl walnut oil", "3 tbsp|walnut oil|"),
    ("2 cm piece of ginger, grated", "1 piece|ginger|grated"),
    ("a thumb of ginger", "1 piece|ginger|"),
    ("one 3-inch piece of ginger", "1 piece|ginger|"),
    ("1 1/2-inch piece ginger", "1 piece|ginger|"),
    ("6 1/2-inch-thick slices sourdough bread", "6 slice|sourdough bread|"),
    ("3 drops almond extract", "3 drop|almond extract|"),
    ("2 bulbs of garlic", "2 head|garlic|"),
    ("4 ears of sweetcorn", "4 ear|sweetcorn|"),
    ("1 small loaf rye bread", "1 loaf|rye bread|"),
    ("500 mg saffron", "500 mg|saffron|"),
    ("1 large or 2 small fennel bulbs, trimmed", "1 head|fennel|trimmed"),
    ("1 cup or more water", "1 cup|water|"),
    ("1 cup and 2 tablespoons honey", "1 cup|honey|"),
    ("1 lb 2 oz pork mince", "1 lb|pork mince|"),
    ("1 kg (2 lb 4 oz) potatoes", "1 kg|potato|"),
    ("1 cup sugar plus 2 tablespoons for the top", "1 cup|sugar|"),
    ("a little rapeseed oil", " |rapeseed oil|"),
    ("a few basil leaves", " leaf|basil|"),
    ("some thyme", " |thyme|"),
    ("2 strips of orange zest", "2 piece|orange zest|"),
    ("6 whole cloves", "6 each|clove|"),
    ("2 cinnamon sticks", "2 each|cinnamon stick|"),
    ("2 celery sticks, diced", "2 stick|celery|diced"),
    ("half a dozen eggs", "6 each|egg|"),
    ("1 1/2 dozen mussels", "18 each|mussel|"),
    ("a couple of shallots", "2 each|shallot|"),
    ("1 chicken, cut into 8 pieces", "1 each|chicken|cut into 8 pieces"),
    ("1 red onion finely diced", "1 each|red onion|finely diced"),
    ("4 chicken thighs cut into strips", "4 each|chicken thigh|cut into strips"),
    ("120 g butter at room temperature", "120 g|butter|at room temperature"),
    ("60 g butter, melted", "60 g|butter|melted"),
    ("2 boneless, skinless chicken thighs", "2 each|chicken thigh|boneless, skinless"),
    ("3 crisp, tart apples, cored", "3 each|apple|crisp, tart, cored"),
    ("5 tbsp cold, unsalted butter", "5 tbsp|unsalted butter|cold"),
    ("1 cup sliced or diced celery", "1 cup|celery|sliced or diced"),
    ("1 tbsp peeled and grated ginger", "1 tbsp|ginger|peeled and grated"),
    ("1 tsp freshly ground black pepper", "1 tsp|black pepper|freshly ground"),
    ("2 tsp ground cumin", "2 tsp|ground cumin|"),
    ("500 g minced lamb", "500 g|minced lamb|"),
    ("1/2 cup dry cider or apple juice", "1/2 cup|dry cider||or apple juice"),
    ("2 cups mushroom or vegetable stock", "2 cup|mushroom stock||or vegetable stock"),
    ("2 tbsp lard or canola oil", "2 tbsp|lard||or canola oil"),
    (
        "1/4 cup grapeseed, sunflower or other neutral oil",
        "1/4 cup|grapeseed oil||or sunflower oil, other neutral oil",
    ),
    ("6 sprigs parsley and/or chervil", "6 sprig|parsley||or chervil"),
    ("2 spring onions/scallions, sliced", "2 each|spring onion|sliced|or scallion"),
    ("200 g fresh or frozen cranberries", "200 g|cranberry||or frozen cranberry"),
    ("1 tbsp fresh thyme, or 1 tsp dried", "1 tbsp|thyme||or dried thyme"),
    ("1 cup pecans, or walnuts, chopped", "1 cup|pecan|chopped|or walnut"),
    ("finely grated zest of 1 lemon", "1 each|lemon|finely grated zest"),
    ("juice of half a lemon", "1/2 each|lemon|juice"),
    ("2 tbsp olive oil, plus extra for the tin", "2 tbsp|olive oil|"),
    ("sea salt to taste", " |sea salt|"),
    ("2 cups&nbsp;pearl barley", "2 cup|pearl barley|"),
    ("▢ 1 bunch kale, ribs removed", "1 bunch|kale|ribs removed"),
    ("200 ml hot water", "200 ml|water|hot"),
    ("1 kg beetroot (about 6 medium)", "1 kg|beetroot|"),
];

/// What stands in a tin is never the fresh food of that name, and a slip is only a suggestion.
#[test]
fn the_state_of_a_food_is_part_of_it() {
    let row = |line: &str| read(line).found.known().map(ToString::to_string);
    assert_eq!(row("400 g tin chopped tomatoes").as_deref(), Some("canned diced tomatoes"));
    assert_eq!(row("400 g tomatoes, chopped").as_deref(), Some("tomato"));
    assert_eq!(row("peas, frozen").as_deref(), Some("frozen pea"));
    assert_eq!(row("300 ml vegtable stock"), None);
    assert_ne!(row("300 ml vegan butter").as_deref(), Some("unsalted butter"));
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
