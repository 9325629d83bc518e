//! Four documents written here with the terms of <https://schema.org/Recipe>, each loose in its way.

use super::find;
use crate::domain::card::{self, Card};
use crate::domain::larder::Larder;
use crate::domain::paste::{Draft, draft};

const PLAIN: &str = r#"{
  "@context": "https://schema.org", "@type": "Recipe",
  "name": "Carrot pot", "recipeYield": "4",
  "recipeIngredient": ["500 g carrots, sliced", "1 l vegetable stock", "1 tsp salt"],
  "recipeInstructions": [
    {"@type": "HowToStep", "text": "Simmer the carrots in the stock for 20 minutes."},
    {"@type": "HowToStep", "name": "Finish", "text": "Add the salt."}
  ],
  "author": {"@type": "Person", "name": "Orla"}, "image": "https://pictures.example/pot.jpg"
}"#;

const GRAPH: &str = r#"{"@context":"https://schema.org","@graph":[
  {"@type":"WebPage","name":"A page"},
  {"@type":["Recipe","NewsArticle"],"name":"Plum cake","recipeYield":["8","8 servings"],
   "description":"Keeps a week.","prepTime":"PT20M",
   "recipeIngredient":["200 g flour","150 g butter","10 plums"],
   "recipeInstructions":[
     {"@type":"HowToSection","name":"Dough","itemListElement":[
       {"@type":"HowToStep","text":"Rub the butter into the flour."}]},
     {"@type":"HowToSection","name":"To finish","itemListElement":[
       {"@type":"HowToStep","text":"Lay the plums on top. Bake at 180&deg;C for 45 minutes."}]}]}
]}"#;

const PAGE: &str = r#"<!doctype html><html><head><title>Soup</title>
<script type="application/ld+json">{"@type":"Organization","name":"Kitchen"}</script>
<script type='application/ld+json'>[{"@type":"http://schema.org/Recipe","name":"Pea soup &amp; mint",
"recipeYield":6,"recipeIngredient":["900 g peas","&frac12; tsp salt"],
"recipeInstructions":"<p>Boil the peas
 for 4 minutes.</p><p>Blend with the salt.</p>"}]</script></head><body>More</body></html>"#;

const LOOSE: &str = r#"[{"@type":"Recipe","name":"Eggs","yield":"Serves 2 generously",
"ingredients":"4 eggs\n10 g butter","recipeInstructions":["Melt the butter.","Scramble the eggs."],
"keywords":["quick","breakfast"],"nutrition":{"@type":"NutritionInformation","calories":"310 kcal"}}]"#;

fn made(document: &str) -> (Draft, Card) {
    let draft = draft(&find(document).unwrap(), &Larder::default(), &[]);
    let card = card::read(&draft.text, &Larder::default()).card;
    (draft, card)
}

#[test]
fn steps_carry_what_their_sentences_name() {
    let (draft, card) = made(PLAIN);
    assert_eq!((card.title.as_str(), card.serves.unwrap().high.count()), ("Carrot pot", 4));
    let steps: Vec<_> = card.steps().map(|(_, step)| (&*step.text, step.goes_in.len())).collect();
    let expected =
        [("Simmer the carrots in the stock for 20 minutes.", 2), ("Finish: Add the salt.", 1)];
    assert_eq!(steps, expected, "{}", draft.text);
    assert!(draft.text.contains("note: author: Orla\n"), "{}", draft.text);
    assert!(!draft.text.contains("pictures.example"));
    assert!(draft.leftovers().any(|words| words.contains("pictures.example")));
    assert_eq!(draft.offers[0].note.words(), "hob 20 min");
}

#[test]
fn a_graph_with_sections_becomes_parts() {
    let (draft, card) = made(GRAPH);
    let names: Vec<&str> = card.parts.iter().map(|part| part.name.as_str()).collect();
    assert_eq!(names, ["dough", "finish"], "{}", draft.text);
    assert_eq!(card.serves.unwrap().high.count(), 8);
    assert!(draft.text.contains("note: description: Keeps a week."), "{}", draft.text);
    assert_eq!(draft.offers[0].note.words(), "oven 180C 45 min");
}

#[test]
fn a_web_page_with_markup_inside_the_text_is_read() {
    let (draft, card) = made(PAGE);
    assert_eq!(card.title, "Pea soup & mint");
    assert_eq!(card.serves.unwrap().high.count(), 6);
    let texts: Vec<&str> = card.steps().map(|(_, step)| step.text.as_str()).collect();
    assert_eq!(texts, ["Boil the peas for 4 minutes.", "Blend with the salt."], "{}", draft.text);
    assert!(draft.text.contains("+ ½ tsp salt"), "{}", draft.text);
}

#[test]
fn old_terms_and_single_strings_are_read_and_all_words_are_kept() {
    let (draft, card) = made(LOOSE);
    assert_eq!(card.serves.unwrap().high.count(), 2);
    assert_eq!(card.steps().count(), 2);
    for words in ["generously", "quick", "breakfast", "310 kcal", "4 eggs", "10 g butter"] {
        assert!(draft.text.contains(words), "{words} is lost from {}", draft.text);
    }
}

#[test]
fn what_is_no_recipe_is_none() {
    for text in ["", "Leek soup\n2 leeks", "{\"@type\":\"Person\"}", "{broken", "<p>Soup</p>"] {
        assert_eq!(find(text), None, "{text}");
    }
    let deep = "[".repeat(100_000);
    assert_eq!(find(&deep), None);
}

proptest::proptest! {
    #[test]
    fn no_document_is_too_odd(text in "(\\PC|<script type=\"ld\\+json\">|\\{|\"|@type|Recipe|:|&#){0,60}") {
        let _ = find(&text);
        let _ = super::markup::plain(&text);
    }
}
