//! A schema.org `Recipe` in JSON-LD, alone or inside a web page, sorted for the draft of a card.
//!
//! Terms as published at <https://schema.org/Recipe>, <https://schema.org/HowToStep> and
//! <https://schema.org/HowToSection>. Pages write them loosely: lists for single values and the
//! reverse, markup inside text, line ends inside strings. All of that is read.

mod markup;

use serde_json::{Map, Value};

use self::markup::{plain, scripts};
use crate::domain::paste::{Group, Pasted, Piece};

/// The first recipe in `text`; none where there is no such document.
pub fn find(text: &str) -> Option<Pasted> {
    let trimmed = text.trim_start_matches('\u{feff}').trim();
    let documents = match trimmed.chars().next()? {
        '{' | '[' => vec![trimmed],
        _ => scripts(trimmed),
    };
    documents.into_iter().find_map(|document| {
        let value = parse(document)?;
        recipe(&value).map(sorted)
    })
}

/// Line ends inside strings are no JSON, but common; they become spaces.
fn parse(document: &str) -> Option<Value> {
    serde_json::from_str(document).ok().or_else(|| {
        let mended = document.replace(['\n', '\r', '\t'], " ");
        serde_json::from_str(&mended).ok()
    })
}

/// Depth first, through lists and `@graph`.
fn recipe(value: &Value) -> Option<&Map<String, Value>> {
    match value {
        Value::Array(values) => values.iter().find_map(recipe),
        Value::Object(object) if is_a(object, "Recipe") => Some(object),
        Value::Object(object) => object.values().find_map(recipe),
        _ => None,
    }
}

fn is_a(object: &Map<String, Value>, kind: &str) -> bool {
    let named =
        |value: &Value| value.as_str().is_some_and(|it| it.rsplit(['/', ':']).next() == Some(kind));
    match object.get("@type") {
        Some(Value::Array(kinds)) => kinds.iter().any(named),
        Some(kind) => named(kind),
        None => false,
    }
}

fn sorted(recipe: &Map<String, Value>) -> Pasted {
    let mut sorter = Sorter::default();
    for (key, value) in recipe {
        match key.as_str() {
            "@context" | "@type" | "@id" => {}
            "name" => {
                let mut names = texts(value).into_iter();
                sorter.pasted.title = names.next().map(|words| sorter.piece(words));
                names.for_each(|words| sorter.words("name", &words));
            }
            "recipeYield" | "yield" => {
                // Pages give `["8", "8 servings"]`; the fuller one comes last.
                let mut yields = texts(value);
                yields.sort_by_key(|words| std::cmp::Reverse(words.len()));
                for words in yields {
                    let piece = sorter.piece(words);
                    sorter.pasted.yields.push(piece);
                }
            }
            "recipeIngredient" | "ingredients" | "supply" => {
                let lines = texts(value).into_iter().map(|words| sorter.piece(words)).collect();
                sorter.pasted.ingredients.push(Group { heading: None, lines });
            }
            "recipeInstructions" => sorter.method(value),
            _ => sorter.rest(key, value),
        }
    }
    sorter.pasted.method.retain(|group| !group.lines.is_empty() || group.heading.is_some());
    sorter.pasted
}

#[derive(Default)]
struct Sorter {
    pasted: Pasted,
    /// Documents have no lines; pieces are counted instead.
    count: usize,
}

impl Sorter {
    fn piece(&mut self, words: String) -> Piece {
        self.count += 1;
        Piece { line: self.count, words }
    }

    fn words(&mut self, key: &str, words: &str) {
        let piece = self.piece(format!("{key}: {words}"));
        // Addresses of pages and pictures are no words of a recipe.
        let is_address = words.starts_with("http") && !words.contains(' ');
        if is_address { &mut self.pasted.headings } else { &mut self.pasted.words }.push(piece);
    }

    /// A step, a section of steps, or a list of either.
    fn method(&mut self, value: &Value) {
        match value {
            Value::Array(values) => values.iter().for_each(|it| self.method(it)),
            Value::Object(object) if object.contains_key("itemListElement") => {
                let heading = object.get("name").and_then(Value::as_str).map(plain);
                let heading = heading.filter(|it| !it.is_empty()).map(|it| self.piece(it));
                if heading.is_some() {
                    self.pasted.method.push(Group { heading, lines: Vec::new() });
                }
                object.iter().for_each(|(key, value)| match key.as_str() {
                    "itemListElement" => self.method(value),
                    "name" => {}
                    _ => self.rest(key, value),
                });
            }
            Value::Object(object) => self.step(object),
            other => {
                for words in texts(other) {
                    self.sentence(words);
                }
            }
        }
    }

    /// The name of a step is often the beginning of its text.
    fn step(&mut self, object: &Map<String, Value>) {
        let text = |key: &str| object.get(key).map(texts).unwrap_or_default().join(" ");
        let (name, words) = (text("name"), text("text"));
        let is_said = words.starts_with(name.trim_end_matches(['.', '…']));
        let sentence = match (name.is_empty() || is_said, words.is_empty()) {
            (_, true) => name,
            (true, false) => words,
            (false, false) => format!("{}: {words}", name.trim_end_matches(['.', ':'])),
        };
        if !sentence.is_empty() {
            self.sentence(sentence);
        }
        for (key, value) in object {
            if !["name", "text"].contains(&key.as_str()) {
                self.rest(key, value);
            }
        }
    }

    fn sentence(&mut self, words: String) {
        let piece = self.piece(words);
        match self.pasted.method.last_mut() {
            Some(group) => group.lines.push(piece),
            None => self.pasted.method.push(Group { heading: None, lines: vec![piece] }),
        }
    }

    /// Anything else: its words are kept under their term.
    fn rest(&mut self, key: &str, value: &Value) {
        match value {
            Value::Object(object) => {
                for (inner, value) in object {
                    self.rest(if inner == "name" { key } else { inner }, value);
                }
            }
            Value::Array(values) => values.iter().for_each(|value| self.rest(key, value)),
            _ if key.starts_with('@') => {}
            other => texts(other).iter().for_each(|words| self.words(key, words)),
        }
    }
}

/// Every line of text in a value, without markup; nothing for what is empty.
fn texts(value: &Value) -> Vec<String> {
    match value {
        Value::String(text) => plain(text)
            .lines()
            .map(str::trim)
            .filter(|it| !it.is_empty())
            .map(str::to_owned)
            .collect(),
        Value::Number(number) => vec![number.to_string()],
        Value::Array(values) => values.iter().flat_map(texts).collect(),
        Value::Object(object) => ["text", "name", "value"]
            .iter()
            .find_map(|key| object.get(*key))
            .map(texts)
            .unwrap_or_default(),
        Value::Null | Value::Bool(_) => Vec::new(),
    }
}

#[cfg(test)]
mod tests;
