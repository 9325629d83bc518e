//! The recipe sheet: one dish, for so many people, in the units of whoever reads it.

use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::advice::advice;
use super::foot::Foot;
use super::rounding::{Rounded, on_ladder};
use super::shown::Measures;
use super::step::{RecipeStep, recipe_step};
use super::text::{Piece, pieces, span};
use crate::domain::allergen::of_dish;
use crate::domain::card::{Card, GoesIn, Hands, Part, Place, Source, Step, Vessel};
use crate::domain::heat::Degrees;
use crate::domain::menu::{Choices, Laid, LaidDish, Letter, Sitting};
use crate::domain::quantity::{Amount, Portions, ScaleFactor};
use crate::domain::shopping::{scale, vessels};
use crate::domain::text::capital;

/// Which dish, for whom, how much of it, and in which units.
#[derive(Clone, Debug)]
pub struct RecipeFor<'a> {
    pub laid: &'a Laid,
    pub dish: &'a LaidDish,
    /// None where the dish stands alone and nobody has given it a letter.
    pub letter: Option<Letter>,
    /// None where the card does not say how many it is for and nobody asked.
    pub guests: Option<Portions>,
    pub factor: ScaleFactor,
    pub measures: Measures,
    pub choices: Choices,
}

impl<'a> RecipeFor<'a> {
    /// A dish of the menu, for the guests of this table.
    pub fn table(
        laid: &'a Laid,
        dish: &'a LaidDish,
        sitting: &Sitting,
        measures: Measures,
    ) -> Self {
        let mut choices = laid.choices.clone();
        choices.extend(sitting.choices.clone());
        Self {
            laid,
            dish,
            letter: Some(dish.letter),
            guests: Some(sitting.guests),
            factor: scale(laid, sitting)
                .of(dish.id)
                .map_or_else(ScaleFactor::one, |it| it.factor.clone()),
            measures,
            choices,
        }
    }

    /// A dish by itself, as its card gives it.
    pub fn alone(laid: &'a Laid, dish: &'a LaidDish, measures: Measures) -> Self {
        Self {
            laid,
            dish,
            letter: None,
            guests: dish.card.serves.map(|it| it.high),
            factor: ScaleFactor::one(),
            measures,
            choices: laid.choices.clone(),
        }
    }

    /// The same for another number of people; a card that says for how many is scaled.
    #[must_use]
    pub fn for_guests(mut self, guests: Portions) -> Self {
        if let Some(serves) = self.dish.card.serves {
            self.factor = serves.high.scale_to(guests);
            self.guests = Some(guests);
        }
        self
    }

    /// Hands do not grow as fast as the amounts: 0.4 + 0.6 f, rounded up once (architecture T6).
    pub fn hands_minutes(&self, hands: Hands) -> u32 {
        if !hands.scales {
            return hands.minutes;
        }
        let tenth = |figure: i64| BigRational::new(figure.into(), 10.into());
        let share = tenth(4) + tenth(6) * self.factor.as_fraction();
        let minutes = BigRational::from_integer(hands.minutes.into()) * share;
        minutes.ceil().to_integer().to_u32().unwrap_or(hands.minutes)
    }

    /// `2 tsp fennel seed, crushed`; a part alone when the whole of it goes in.
    pub fn goes_in(&self, goes_in: &GoesIn) -> String {
        let ingredient = self.ingredient(goes_in);
        let amount = ingredient.amount.map(|it| format!("{it} ")).unwrap_or_default();
        format!("{amount}{}", ingredient.name)
    }

    fn ingredient(&self, goes_in: &GoesIn) -> Ingredient {
        self.measures.ingredient(goes_in, self)
    }

    pub fn amount(&self, amount: &Amount, g_per_ml: Option<&BigRational>) -> String {
        self.measures.amount(amount, g_per_ml, self.laid.spoons)
    }

    /// In the reader's units, on the ladder where the dish is made in another size. What the card
    /// gives is not touched.
    pub fn rounded(
        &self,
        amount: &Amount,
        g_per_ml: Option<&BigRational>,
        is_whole: bool,
    ) -> Rounded {
        let amount = self.measures.converted(amount, g_per_ml, self.laid.spoons);
        if self.is_scaled() {
            on_ladder(&amount, is_whole)
        } else {
            Rounded { amount, exactly: None }
        }
    }

    pub fn in_box(&self, litres: &BigRational) -> String {
        let litres = litres * self.factor.as_fraction();
        format!("Box of {}.", super::shown::litres(&litres))
    }

    pub fn dial(&self, heat: Degrees) -> Degrees {
        self.measures.scale().map_or(heat, |scale| heat.on_dial(scale))
    }

    pub fn end_point(&self, heat: Degrees) -> Degrees {
        self.measures.scale().map_or(heat, |scale| heat.or_above(scale))
    }

    pub fn under(&self, heat: Degrees) -> Degrees {
        self.measures.scale().map_or(heat, |scale| heat.or_below(scale))
    }

    fn is_scaled(&self) -> bool {
        self.factor != ScaleFactor::one()
    }
}

/// One line of what goes in, with a tick box before it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ingredient {
    /// `2 tsp`; none where the author gave no figure.
    pub amount: Option<String>,
    /// `fennel seed, crushed`, with what may stand in for it.
    pub name: String,
    /// `22.5 ml`, where the rounded amount is off by more than a twentieth.
    pub exactly: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipePart {
    /// None for a dish that is one piece of work.
    pub name: Option<String>,
    pub makes: Option<String>,
    pub steps: Vec<RecipeStep>,
}

/// The author's way out when room is missing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    pub when: &'static str,
    pub words: Vec<Piece>,
}

/// The whole sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipeSheet {
    pub foot: Foot,
    pub letter: Option<Letter>,
    pub is_base: bool,
    pub title: String,
    pub why: Option<String>,
    /// `for 8`, `makes 340 g`.
    pub yields: Option<String>,
    pub portion: Option<String>,
    /// Minutes of hands ahead and on the day; none where the card gives no minutes.
    pub hands: Option<String>,
    /// Said where hands are worked out and not timed.
    pub hands_note: Option<String>,
    /// What does not grow with the amounts: nothing of it was changed.
    pub advice: Vec<String>,
    /// Vessels and machines, as a sentence.
    pub tools: Option<String>,
    pub tested: String,
    pub goes_in: Vec<Ingredient>,
    pub parts: Vec<RecipePart>,
    pub answers: Vec<Answer>,
    /// Heads of the card that have no place of their own: their names and words.
    pub more: Vec<(String, Vec<Piece>)>,
    /// What it contains and which labels to read, in words.
    pub allergens: String,
    /// What the card does not say; the sheet prints without it.
    pub lacks: Vec<&'static str>,
}

impl RecipeSheet {
    /// `how many it is for, minutes of work or where the work may stop`.
    pub fn lacks_words(&self) -> String {
        match self.lacks.split_last() {
            Some((last, [])) => (*last).to_owned(),
            Some((last, others)) => format!("{} or {last}", others.join(", ")),
            None => String::new(),
        }
    }
}

/// Everything the recipe sheet of one dish says.
pub fn recipe_sheet(order: &RecipeFor) -> RecipeSheet {
    let card = &order.dish.card;
    let foot = match order.letter {
        Some(_) => Foot::of_dish(order.laid, order.dish),
        None => Foot::of_dish_alone(order.laid, order.dish),
    };
    RecipeSheet {
        foot,
        letter: order.letter,
        is_base: order.dish.is_base,
        title: order.dish.title.clone(),
        why: card.why.clone(),
        yields: yields(order, card),
        portion: card.portion.as_ref().map(|it| format!("{it} each")),
        hands: hands(order, card),
        hands_note: (order.is_scaled() && has_hands(card)).then(|| {
            let from =
                card.serves.map_or("another amount".to_owned(), |it| it.high.count().to_string());
            format!("Minutes of hands are worked out from {from}: our estimate.")
        }),
        advice: advice(card, order.laid, &order.factor),
        tools: tools(order, card),
        tested: tested(card),
        goes_in: all_goes_in(order, card),
        parts: card.parts.iter().map(|part| recipe_part(order, card, part)).collect(),
        answers: answers(card),
        more: more(card),
        allergens: allergens(order),
        lacks: lacks(card),
    }
}

fn yields(order: &RecipeFor, card: &Card) -> Option<String> {
    let makes = card
        .makes
        .as_ref()
        .map(|it| format!("makes {}", order.amount(&it.scaled_by(&order.factor), None)));
    match (order.guests, card.serves) {
        _ if order.dish.is_base => makes,
        (Some(guests), Some(serves)) if order.letter.is_none() && serves.low != serves.high => {
            Some(format!("for {} to {}", serves.low.count(), guests.count()))
        }
        (Some(guests), _) => Some(format!("for {}", guests.count())),
        (None, _) => makes,
    }
}

fn has_hands(card: &Card) -> bool {
    card.steps().any(|(_, step)| step.hands.is_some())
}

fn hands(order: &RecipeFor, card: &Card) -> Option<String> {
    if !has_hands(card) {
        return None;
    }
    let (mut ahead, mut on_the_day) = (0, 0);
    for (part, step) in card.steps() {
        let minutes = step.hands.map_or(0, |hands| order.hands_minutes(hands));
        *(if is_ahead(card, part, step) { &mut ahead } else { &mut on_the_day }) += minutes;
    }
    Some(match (ahead, on_the_day) {
        (0, day) => format!("{} of hands, all on the day.", span(day)),
        (ahead, 0) => format!("{} of hands, all ahead.", span(ahead)),
        (ahead, day) => format!("{} of hands ahead, {} on the day.", span(ahead), span(day)),
    })
}

/// True for a step whose food comes to a stop before the day: in its own part, or in the part that
/// takes this part in.
fn is_ahead(card: &Card, part: &Part, step: &Step) -> bool {
    let last_stop = |part: &Part| part.steps.iter().rposition(may_wait);
    let own = part.steps.iter().position(|it| it.line == step.line);
    if last_stop(part) >= own && own.is_some() {
        return true;
    }
    let name = part.name.to_lowercase();
    card.parts.iter().filter(|other| other.line != part.line).any(|other| {
        let takes = |step: &Step| {
            step.goes_in
                .iter()
                .any(|it| matches!(&it.source, Some(Source::Part(it)) if it.to_lowercase() == name))
        };
        let taken = other.steps.iter().position(takes);
        taken.is_some() && last_stop(other) >= taken
    })
}

/// A stop, or a wait that may run overnight.
fn may_wait(step: &Step) -> bool {
    const OVERNIGHT_MINUTES: u32 = 8 * 60;
    let long = |minutes: Option<u32>| minutes.is_some_and(|it| it >= OVERNIGHT_MINUTES);
    !step.stops.is_empty() || step.wait.is_some_and(|it| long(it.most_minutes))
}

/// The vessels for so many, then what is used, in order of use and each once.
fn tools(order: &RecipeFor, card: &Card) -> Option<String> {
    let mut names = vessels_for(order, card);
    for (_, step) in card.steps() {
        for tool in &step.tools {
            if !names.contains(&tool.name) {
                names.push(tool.name.clone());
            }
        }
    }
    let needs_thermometer = card.steps().any(|(_, it)| it.core.is_some() || it.chill.is_some());
    if needs_thermometer {
        names.push("thermometer".to_owned());
    }
    let mut sentence = names.join(", ");
    let first = sentence.chars().next()?;
    sentence.replace_range(..first.len_utf8(), &first.to_uppercase().to_string());
    Some(format!("{sentence}."))
}

/// The vessels for so many guests, each with its count.
fn vessels_for(order: &RecipeFor, card: &Card) -> Vec<String> {
    let Some(guests) = order.guests else {
        return card.vessels.iter().map(|it| it.what.clone()).collect();
    };
    let counted = |(vessel, count): &(Vessel, u64)| match count {
        1 => vessel.what.clone(),
        _ => format!("{count}\u{a0}×\u{a0}{}", vessel.what),
    };
    vessels(&card.vessels, guests.count()).iter().map(counted).collect()
}

/// The author's own words, or that there are none.
fn tested(card: &Card) -> String {
    match head(card, "tested") {
        Some(words) => format!("Tested {}.", words.trim_end_matches('.')),
        None => "Not yet tested.".to_owned(),
    }
}

fn head<'a>(card: &'a Card, name: &str) -> Option<&'a str> {
    let head = card.more.iter().find(|head| head.name.to_lowercase() == name)?;
    Some(head.words.as_str())
}

/// In order of first use; the same food cut the same way stands once, with its sum.
fn all_goes_in(order: &RecipeFor, card: &Card) -> Vec<Ingredient> {
    let mut merged: Vec<GoesIn> = Vec::new();
    for goes_in in card.steps().flat_map(|(_, step)| &step.goes_in) {
        if matches!(goes_in.source, Some(Source::Part(_))) {
            continue;
        }
        match merged.iter_mut().find(|it| is_the_same(it, goes_in)) {
            Some(first) => add(first, goes_in),
            None => merged.push(goes_in.clone()),
        }
    }
    merged.iter().map(|it| order.ingredient(it)).collect()
}

fn is_the_same(one: &GoesIn, other: &GoesIn) -> bool {
    let key = |it: &GoesIn| {
        (
            it.what.food.to_lowercase(),
            it.what.preparation.to_lowercase(),
            it.what.amount.as_ref().map(Amount::unit),
            it.what.is_garnish,
            it.what.is_optional,
            it.what.about.is_some(),
        )
    };
    one.what.amount.is_some() && key(one) == key(other)
}

fn add(first: &mut GoesIn, more: &GoesIn) {
    if let (Some(sum), Some(more)) = (&first.what.amount, &more.what.amount) {
        let (low, high) = (sum.low() + more.low(), sum.high() + more.high());
        first.what.amount = Some(Amount::between(low, high, sum.unit()));
    }
}

fn recipe_part(order: &RecipeFor, card: &Card, part: &Part) -> RecipePart {
    let is_named = card.parts.len() > 1 && part.name != "method";
    let makes = part.makes.as_ref().filter(|_| is_named);
    RecipePart {
        name: is_named.then(|| part.name.clone()),
        makes: makes.map(|it| order.amount(&it.scaled_by(&order.factor), None)),
        steps: (0..part.steps.len())
            .map(|at| recipe_step(order, &part.steps[at], comes_cold(card, part, at)))
            .collect(),
    }
}

/// True when the food may come to this step straight from the fridge.
fn comes_cold(card: &Card, part: &Part, at: usize) -> bool {
    let leaves_cold = |step: &Step| {
        let cold = |place: Place| matches!(place, Place::Fridge);
        step.stops.iter().any(|it| cold(it.place))
            || step.wait.is_some_and(|it| it.place.is_some_and(cold))
    };
    match at.checked_sub(1) {
        Some(before) => leaves_cold(&part.steps[before]),
        None if part.is_finish => card
            .parts
            .iter()
            .filter(|it| !it.is_finish)
            .any(|it| it.steps.last().is_some_and(leaves_cold)),
        None => false,
    }
}

fn answers(card: &Card) -> Vec<Answer> {
    let answer = |when, words: &Option<String>| {
        words.as_ref().map(|words| Answer { when, words: pieces(words) })
    };
    let no_freezer = answer("No freezer", &card.no_freezer);
    let no_oven_room = answer("No oven room", &card.no_oven_room);
    no_freezer.into_iter().chain(no_oven_room).collect()
}

fn more(card: &Card) -> Vec<(String, Vec<Piece>)> {
    // A note is the author's own and stays off the sheet.
    let is_printed = |name: &str| name != "tested" && name != "note";
    let rest = card.more.iter().filter(|head| is_printed(&head.name.to_lowercase()));
    rest.map(|head| (head.name.clone(), pieces(&head.words))).collect()
}

fn allergens(order: &RecipeFor) -> String {
    let found = of_dish(order.dish, order.laid, [&order.choices, &order.laid.choices]);
    format!("{}. Ask the maker; labels change.", capital(&found.words()))
}

fn lacks(card: &Card) -> Vec<&'static str> {
    let any = |has: fn(&Step) -> bool| card.steps().any(|(_, step)| has(step));
    let is_dish = card.kind == crate::domain::card::DishKind::Dish;
    [
        (is_dish && card.serves.is_none(), "how many it is for"),
        (!is_dish && card.makes.is_none(), "how much it makes"),
        (!has_hands(card), "minutes of work"),
        (!any(|step| !step.stops.is_empty()), "where the work may stop"),
        (
            any(|it| it.oven.is_some() && it.core.is_none()) && !any(|it| it.core.is_some()),
            "how warm the middle must be",
        ),
    ]
    .into_iter()
    .filter_map(|(lacks, what)| lacks.then_some(what))
    .collect()
}
