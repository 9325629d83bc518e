//! View models of the larder.

use askama::Template;

use super::LarderSieve;
use super::form::{FoodForm, Problems, RAW, field, pack_words, shown};
use crate::domain::larder::{Allergen, Allergens, Figure, Food, FoodKey, Larder};
use crate::web::frame::Frame;

/// Rows on one page; the sieve finds the rest.
const ROWS_MAX: usize = 60;

#[derive(Template)]
#[template(path = "larder/list.html")]
pub struct LarderPage {
    frame: Frame,
    sieve: LarderSieve,
    about: String,
    aisles: Vec<(String, bool)>,
    rows: Vec<FoodRow>,
    more: usize,
    new_food: String,
}

struct FoodRow {
    address: String,
    name: String,
    also: String,
    aisle: String,
    keeps: String,
    packs: String,
    allergens: String,
    is_own: bool,
}

impl LarderPage {
    pub fn new(frame: Frame, sieve: LarderSieve, larder: &Larder, own: &[Food]) -> Self {
        let words = sieve.words.trim().to_lowercase();
        let is_own = |food: &Food| own.iter().any(|it| it.key == food.key);
        let passes = |food: &&Food| {
            let names = [&food.name, &food.plural].into_iter().chain(&food.aliases);
            let named =
                words.is_empty() || names.map(|it| it.to_lowercase()).any(|it| it.contains(&words));
            let here = sieve.aisle.is_empty() || *food.aisle == *sieve.aisle;
            let kind = match sieve.only.as_str() {
                "own" => is_own(food),
                "open" => food.allergens == Allergens::NotKnown,
                _ => true,
            };
            named && here && kind
        };
        let mut found: Vec<&Food> = larder.foods().iter().filter(passes).collect();
        found.sort_by_key(|food| food.name.to_lowercase());
        let more = found.len().saturating_sub(ROWS_MAX);
        let rows = found
            .iter()
            .take(ROWS_MAX)
            .map(|food| FoodRow::new(&frame, food, is_own(food)))
            .collect();
        let mut aisles: Vec<String> =
            larder.foods().iter().map(|it| it.aisle.to_string()).collect();
        aisles.sort();
        aisles.dedup();
        let open = larder.foods().iter().filter(|it| it.allergens == Allergens::NotKnown).count();
        let all = larder.foods().len();
        let about = format!(
            "{all} foods, {} of them your own. For {open} nobody has entered allergens: they read “not known”.",
            own.len()
        );
        let aisles = aisles.into_iter().map(|it| (it.clone(), it == sieve.aisle)).collect();
        let new_food = frame.paths.food(&FoodKey::new(sieve.words.trim()));
        Self { frame, sieve, about, aisles, rows, more, new_food }
    }
}

impl FoodRow {
    fn new(frame: &Frame, food: &Food, is_own: bool) -> Self {
        let packs: Vec<String> = food.packs.iter().map(pack_words).collect();
        Self {
            address: frame.paths.food(&food.key),
            name: food.name.clone(),
            also: food.aliases.join(", "),
            aisle: food.aisle.to_string(),
            keeps: food.keeps_days.map_or("not known".to_owned(), |days| format!("{days} days")),
            packs: match (&food.loose_step, packs.is_empty()) {
                (Some(_), _) => "loose".to_owned(),
                (None, true) => "not known".to_owned(),
                (None, false) => packs.join(", "),
            },
            allergens: allergen_words(&food.allergens),
            is_own,
        }
    }
}

pub fn allergen_words(allergens: &Allergens) -> String {
    let Allergens::Entered { contains, check, .. } = allergens else {
        return "not known".to_owned();
    };
    let contains: Vec<&str> = contains.iter().map(|it| it.word()).collect();
    let check: Vec<&str> = check.iter().map(|(it, _)| it.word()).collect();
    match (contains.is_empty(), check.is_empty()) {
        (true, true) => "no listed allergen; read label".to_owned(),
        (false, true) => format!("contains {}", contains.join(", ")),
        (true, false) => format!("read label: {}", check.join(", ")),
        (false, false) => {
            format!("contains {}; read label: {}", contains.join(", "), check.join(", "))
        }
    }
}

#[derive(Template)]
#[template(path = "larder/food.html")]
pub struct FoodPage {
    frame: Frame,
    heading: String,
    form: FoodForm,
    is_own: bool,
    is_new: bool,
    sources: Vec<(String, String, String)>,
    allergens: Vec<AllergenField>,
    raws: Vec<(&'static str, bool)>,
    problems: Vec<(&'static str, String)>,
}

struct AllergenField {
    id: String,
    word: &'static str,
    /// Value, words, chosen.
    choices: Vec<(&'static str, &'static str, bool)>,
}

impl FoodPage {
    pub fn new(frame: Frame, form: FoodForm, food: Option<&Food>, is_own: bool) -> Self {
        let choices = [
            ("none", "not listed"),
            ("contains", "contains"),
            ("usually", "read label: usually"),
            ("sometimes", "read label: sometimes"),
            ("depends", "read label: depends"),
        ];
        let allergens = Allergen::ALL
            .into_iter()
            .map(|allergen| AllergenField {
                id: field(allergen),
                word: allergen.word(),
                choices: choices
                    .iter()
                    .map(|(value, words)| (*value, *words, form.of_allergen(allergen) == *value))
                    .collect(),
            })
            .collect();
        Self {
            heading: if form.name.is_empty() { "A new food".to_owned() } else { form.name.clone() },
            is_own,
            is_new: food.is_none(),
            sources: food.map(sources).unwrap_or_default(),
            allergens,
            raws: RAW.iter().map(|(_, word)| (*word, form.raw == *word)).collect(),
            problems: Vec::new(),
            frame,
            form,
        }
    }

    pub fn with_problems(mut self, problems: Problems) -> Self {
        self.problems = problems;
        self
    }

    fn problem(&self, at: &str) -> Option<&str> {
        self.problems.iter().find(|(field, _)| *field == at).map(|(_, words)| words.as_str())
    }
}

/// Every figure with where it was read.
fn sources(food: &Food) -> Vec<(String, String, String)> {
    let mut found = Vec::new();
    let mut add = |what: String, figure: Option<&Figure>, unit: &str| {
        if let Some(figure) = figure {
            found.push((
                what,
                format!("{} {unit}", shown(&figure.value)),
                figure.source.to_string(),
            ));
        }
    };
    add("One millilitre".to_owned(), food.g_per_ml.as_ref(), "g");
    for (cut, figure) in &food.cuts {
        add(format!("One millilitre, {cut}"), Some(figure), "g");
    }
    add("One piece".to_owned(), food.g_each.as_ref(), "g");
    add("Used of what is bought".to_owned(), food.edible.as_ref(), "of 1");
    if let Some(days) = food.keeps_days {
        found.push((
            "Keeps after buying".to_owned(),
            format!("{days} days"),
            food.keeps_source.to_string(),
        ));
    }
    if let Allergens::Entered { source, .. } = &food.allergens {
        found.push(("Allergens".to_owned(), allergen_words(&food.allergens), source.to_string()));
    }
    found
}

/// Every state of every page here, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let larder = Larder::shipped();
    let onion = larder.foods().iter().find(|food| food.name == "leek").expect("leeks are shipped");
    let small = Larder::of(vec![onion.clone()]);
    let frame = Frame::sample;
    let unknown = FoodForm { edible: "2".to_owned(), ..FoodForm::named("sea kale") };
    let problems = unknown.check(None).1;
    let with_problems = FoodPage::new(frame(), unknown, None, false).with_problems(problems);
    let none = LarderSieve { words: "sea kale".to_owned(), ..LarderSieve::default() };
    vec![
        ("larder", render(&LarderPage::new(frame(), LarderSieve::default(), &small, &[]))),
        ("larder-none-found", render(&LarderPage::new(frame(), none, &small, &[]))),
        ("food", render(&FoodPage::new(frame(), FoodForm::of(onion), Some(onion), true))),
        ("food-new-with-problems", render(&with_problems)),
    ]
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}
