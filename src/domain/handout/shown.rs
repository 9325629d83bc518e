//! Amounts as the reader thinks: as the author wrote them, in grams, or in cups and pounds.

use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::recipe::{Ingredient, RecipeFor};
use super::rounding::is_whole_unit;
use crate::domain::card::{GoesIn, Source};
use crate::domain::heat::Scale;
use crate::domain::quantity::{Amount, Kind, Spoons, Unit};

/// Whose units a sheet speaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measures {
    /// As each card has them.
    #[default]
    Written,
    /// Grams, millilitres and spoons; Celsius.
    Metric,
    /// Cups, spoons, ounces and pounds; Fahrenheit.
    American,
}

impl Measures {
    pub const ALL: [Self; 3] = [Self::Written, Self::Metric, Self::American];

    /// The word in an address.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Written => "written",
            Self::Metric => "metric",
            Self::American => "us",
        }
    }

    pub fn parse(typed: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == typed)
    }

    pub const fn scale(self) -> Option<Scale> {
        match self {
            Self::Written => None,
            Self::Metric => Some(Scale::Celsius),
            Self::American => Some(Scale::Fahrenheit),
        }
    }

    /// The amount in words; `g_per_ml` lets a volume become a weight.
    pub fn amount(self, amount: &Amount, g_per_ml: Option<&BigRational>, spoons: Spoons) -> String {
        words(&self.converted(amount, g_per_ml, spoons))
    }

    pub fn converted(
        self,
        amount: &Amount,
        g_per_ml: Option<&BigRational>,
        spoons: Spoons,
    ) -> Amount {
        match self {
            Self::Written => amount.clone(),
            Self::Metric => metric(amount, g_per_ml, spoons),
            Self::American => american(amount, spoons),
        }
    }

    pub fn ingredient(self, goes_in: &GoesIn, order: &RecipeFor) -> Ingredient {
        let line = &goes_in.what;
        let food = |found: &crate::domain::larder::Found| {
            found.known().and_then(|key| order.laid.larder.food(key)).cloned()
        };
        let first = food(&line.found);
        let density =
            first.as_ref().and_then(|it| it.density(&line.preparation)).map(|it| &it.value);
        let is_whole = |unit: Unit| {
            let is_egg = first.as_ref().is_some_and(|it| it.groups.iter().any(|it| &**it == "egg"));
            is_whole_unit(unit) || (unit == Unit::Each && is_egg)
        };
        let exact = line.amount.as_ref().map(|it| it.scaled_by(&order.factor));
        let rounded = exact.map(|it| order.rounded(&it, density, is_whole(it.unit())));
        let amount = rounded.as_ref().map(|it| it.amount.clone());
        let mut name = chosen_name(goes_in, order);
        if amount.as_ref().is_some_and(|it| it.unit() == Unit::Each && *it.high() <= one()) {
            name = singular(&name, &line.name, &line.food);
        }
        if let Some(about) = &line.about {
            let about = order.amount(&about.scaled_by(&order.factor), None);
            name = format!("{name}, about {about}");
        }
        let upper = if line.is_up_to { "up to " } else { "" };
        let amount = amount.map(|it| format!("{upper}{}", words(&it)));
        let exactly = rounded.and_then(|it| it.exactly).map(|it| exact_words(&it));
        if line.is_garnish {
            name.push_str(" (for garnish)");
        }
        if line.is_optional {
            name.push_str(" (optional)");
        }
        if let Some(Source::Base(title)) = &goes_in.source
            && let Some(base) = order.laid.base(title)
            && order.letter.is_some()
        {
            name = format!("{name}, see {}", base.letter);
        }
        Ingredient { amount, name, exactly }
    }
}

/// The name with its cut and what may stand in for it; a choice that was made stands alone.
fn chosen_name(goes_in: &GoesIn, order: &RecipeFor) -> String {
    let line = &goes_in.what;
    let folded = line.name.to_lowercase();
    let choice =
        order.choices.get(&folded).or_else(|| order.choices.get(&line.food.to_lowercase()));
    let taken = choice.and_then(|choice| {
        line.alternatives
            .iter()
            .find(|it| [&it.name, &it.food].into_iter().any(|name| name.to_lowercase() == *choice))
    });
    let mut name = match taken {
        Some(taken) => format!("{} in place of {}", taken.name, line.name),
        None => {
            let others = line.alternatives.iter().map(|it| format!(" or {}", it.name));
            format!("{}{}", line.name, others.collect::<String>())
        }
    };
    if !line.preparation.is_empty() {
        name.push_str(", ");
        name.push_str(&line.preparation);
    }
    if !line.purpose.is_empty() {
        name.push_str(", ");
        name.push_str(&line.purpose);
    }
    if !line.remark.is_empty() {
        name.push_str(" (");
        name.push_str(&line.remark);
        name.push(')');
    }
    name
}

/// One or less of it is said in the singular.
fn singular(whole: &str, name: &str, food: &str) -> String {
    match whole.strip_prefix(name) {
        Some(rest) if !food.is_empty() && name.starts_with(food) => format!("{food}{rest}"),
        _ => whole.to_owned(),
    }
}

fn metric(amount: &Amount, g_per_ml: Option<&BigRational>, spoons: Spoons) -> Amount {
    let unit = amount.unit();
    let is_spoon = matches!(unit, Unit::Teaspoon | Unit::Tablespoon | Unit::Dessertspoon);
    let Some(base) = unit.in_base(spoons).filter(|_| !is_spoon) else {
        return amount.clone();
    };
    let already = matches!(
        unit,
        Unit::Gram | Unit::Kilogram | Unit::Millilitre | Unit::Litre | Unit::Decilitre
    );
    match (unit.kind(), g_per_ml) {
        _ if already => amount.clone(),
        (Kind::Mass, _) => amount.times(&base, Unit::Gram),
        // What weighs about as much as water is poured, not weighed.
        (_, Some(density)) if !pours(density) => amount.times(&(base * density), Unit::Gram),
        _ => amount.times(&base, Unit::Millilitre),
    }
}

fn pours(g_per_ml: &BigRational) -> bool {
    let tenth = |count: i64| BigRational::new(count.into(), 10.into());
    *g_per_ml >= tenth(9) && *g_per_ml <= tenth(11)
}

fn american(amount: &Amount, spoons: Spoons) -> Amount {
    let base = |unit: Unit| unit.in_base(spoons);
    let into = |unit: Unit| Some(amount.times(&(base(amount.unit())? / base(unit)?), unit));
    let at_least = |unit: Unit, count: i64| {
        into(unit).is_some_and(|it| *it.high() >= BigRational::from_integer(count.into()))
    };
    let shown = match amount.unit() {
        Unit::Gram | Unit::Kilogram if at_least(Unit::Pound, 1) => into(Unit::Pound),
        Unit::Gram | Unit::Kilogram => into(Unit::Ounce),
        Unit::Millilitre | Unit::Centilitre | Unit::Decilitre | Unit::Litre => {
            // A quarter cup is four tablespoons.
            if at_least(Unit::Tablespoon, 4) {
                into(Unit::Cup)
            } else if at_least(Unit::Tablespoon, 1) {
                into(Unit::Tablespoon)
            } else {
                into(Unit::Teaspoon)
            }
        }
        _ => None,
    };
    shown.unwrap_or_else(|| amount.clone())
}

fn words(amount: &Amount) -> String {
    let unit = amount.unit();
    let low = figure(amount.low(), unit);
    let high = figure(amount.high(), unit);
    let figures = if low == high { high } else { format!("{low}-{high}") };
    let many = *amount.high() > one();
    match unit_words(unit, many) {
        "" => figures,
        words => format!("{figures}\u{a0}{words}"),
    }
}

/// With decimals where no spoon set says it.
fn exact_words(amount: &Amount) -> String {
    let figures = |figure: &BigRational| match amount.unit() {
        Unit::Gram | Unit::Millilitre => decimal(figure),
        _ if figure.denom().to_u64().is_some_and(|it| it <= 8) => {
            let whole = figure.floor();
            let rest = figure - &whole;
            match (whole.to_integer().to_u64().unwrap_or(0), rest) {
                (whole, rest) if rest == BigRational::default() => whole.to_string(),
                (0, rest) => rest.to_string(),
                (whole, rest) => format!("{whole}\u{a0}{rest}"),
            }
        }
        _ => decimal(figure),
    };
    let (low, high) = (figures(amount.low()), figures(amount.high()));
    let figures = if low == high { high } else { format!("{low}-{high}") };
    match unit_words(amount.unit(), *amount.high() > one()) {
        "" => figures,
        words => format!("{figures}\u{a0}{words}"),
    }
}

fn one() -> BigRational {
    BigRational::from_integer(1.into())
}

const fn unit_words(unit: Unit, many: bool) -> &'static str {
    match (unit, many) {
        (Unit::Each, _) => "",
        (Unit::Cup, true) => "cups",
        (Unit::Clove, true) => "cloves",
        (Unit::Sprig, true) => "sprigs",
        (Unit::Can, true) => "cans",
        (Unit::Jar, true) => "jars",
        (Unit::Slice, true) => "slices",
        (Unit::Stick, true) => "sticks",
        (Unit::Stalk, true) => "stalks",
        (Unit::Sheet, true) => "sheets",
        (Unit::Piece, true) => "pieces",
        (Unit::Pack, true) => "packs",
        (Unit::Bottle, true) => "bottles",
        (Unit::Carton, true) => "cartons",
        (Unit::Head, true) => "heads",
        (Unit::Loaf, true) => "loaves",
        (Unit::Ear, true) => "ears",
        (Unit::Drop, true) => "drops",
        (Unit::Ball, true) => "balls",
        (Unit::Cube, true) => "cubes",
        (Unit::FluidOunce, _) => "fl oz",
        (Unit::Cup, false) => "cup",
        (Unit::Clove, false) => "clove",
        (Unit::Sprig, false) => "sprig",
        _ => plain(unit),
    }
}

const fn plain(unit: Unit) -> &'static str {
    let mut at = 0;
    while at < crate::domain::quantity::UNITS.len() {
        let (known, word) = crate::domain::quantity::UNITS[at];
        if known as u8 == unit as u8 {
            return word;
        }
        at += 1;
    }
    ""
}

/// Grams and millilitres in whole steps, all else in the fractions of a spoon set; never 0.
fn figure(figure: &BigRational, unit: Unit) -> String {
    match unit {
        Unit::Gram | Unit::Millilitre => whole(figure),
        Unit::Kilogram | Unit::Litre | Unit::Decilitre | Unit::Centilitre => decimal(figure),
        Unit::Pound | Unit::Ounce if is_of_scale(figure) => decimal(figure),
        _ => fraction(figure),
    }
}

/// `3.3 lb`: a figure off a scale, which no fraction of a spoon set says.
fn is_of_scale(figure: &BigRational) -> bool {
    let parts = figure.denom().to_u64().unwrap_or(0);
    [5, 10, 20, 25, 50, 100].contains(&parts)
}

fn whole(figure: &BigRational) -> String {
    let rounded = figure.round().to_integer();
    match rounded.to_u64() {
        Some(0) | None => decimal(figure),
        Some(count) => count.to_string(),
    }
}

/// At most two places behind the point.
fn decimal(figure: &BigRational) -> String {
    let hundredths = (figure * BigRational::from_integer(100.into())).round().to_integer();
    let hundredths = hundredths.to_u64().unwrap_or(0).max(1);
    let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// To the nearest of the measures there are spoons and cups for.
fn fraction(figure: &BigRational) -> String {
    match nearest_measure(figure) {
        (0, (numerator, denominator)) => format!("{numerator}/{denominator}"),
        (whole, (0, _)) => whole.to_string(),
        (whole, (numerator, denominator)) => format!("{whole}\u{a0}{numerator}/{denominator}"),
    }
}

/// Wholes and a part of one: never nothing.
fn nearest_measure(figure: &BigRational) -> (u64, (i64, i64)) {
    const STEPS: [(i64, i64); 9] =
        [(0, 1), (1, 8), (1, 4), (1, 3), (1, 2), (2, 3), (3, 4), (7, 8), (1, 1)];
    let whole = figure.floor();
    let rest = figure - &whole;
    let away = |&(numerator, denominator): &(i64, i64)| {
        let step = BigRational::new(numerator.into(), denominator.into());
        if step > rest { step - &rest } else { &rest - step }
    };
    // Nobody measures four cups and an eighth, unless the card says so.
    let fits =
        |step: &&(i64, i64)| step.1 != 8 || whole < one() || away(step) == BigRational::default();
    let nearest =
        STEPS.iter().filter(fits).min_by_key(|step| away(step)).copied().unwrap_or((0, 1));
    match (whole.to_integer().to_u64().unwrap_or(0), nearest) {
        (0, (0, _)) => (0, (1, 8)),
        (whole, (1, 1)) => (whole + 1, (0, 1)),
        other => other,
    }
}

/// What the words will say of a figure; none where they say it as it is.
pub(super) fn as_measured(figure: &BigRational, unit: Unit) -> Option<BigRational> {
    let is_said_exactly = matches!(
        unit,
        Unit::Gram
            | Unit::Millilitre
            | Unit::Kilogram
            | Unit::Litre
            | Unit::Decilitre
            | Unit::Centilitre
    ) || (matches!(unit, Unit::Pound | Unit::Ounce) && is_of_scale(figure));
    let measured = || {
        let (whole, (numerator, denominator)) = nearest_measure(figure);
        BigRational::from_integer(whole.into())
            + BigRational::new(numerator.into(), denominator.into())
    };
    (!is_said_exactly && *figure > BigRational::default()).then(measured)
}

/// Room in a box, rounded up to a tenth.
pub fn litres(litres: &BigRational) -> String {
    let tenths = (litres * BigRational::from_integer(10.into())).ceil();
    format!("{}\u{a0}l", decimal(&(tenths / BigRational::from_integer(10.into()))))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(
        measures: Measures,
        n: u32,
        d: u32,
        unit: Unit,
        g_per_ml: Option<(i64, i64)>,
    ) -> String {
        let density = g_per_ml.map(|(n, d)| BigRational::new(n.into(), d.into()));
        let amount = Amount::exactly(n, d, unit).unwrap();
        measures.amount(&amount, density.as_ref(), Spoons::Round).replace('\u{a0}', " ")
    }

    #[test]
    fn pounds_and_cups_are_said_in_grams_and_back() {
        assert_eq!(shown(Measures::American, 900, 1, Unit::Gram, None), "2 lb");
        assert_eq!(
            shown(Measures::Metric, 3, 2, Unit::Cup, Some((2_000_000_000, 2_365_882_365))),
            "304 g"
        );
        assert_eq!(shown(Measures::Metric, 1, 1, Unit::Pound, None), "454 g");
        assert_eq!(shown(Measures::American, 1, 1, Unit::Litre, None), "4 1/4 cups");
        assert_eq!(shown(Measures::Metric, 2, 1, Unit::Teaspoon, None), "2 tsp");
    }

    #[test]
    fn nothing_is_ever_shown_as_nothing() {
        assert_eq!(shown(Measures::Written, 1, 100, Unit::Teaspoon, None), "1/8 tsp");
        assert_eq!(shown(Measures::Written, 1, 1000, Unit::Gram, None), "0.01 g");
        assert_eq!(shown(Measures::Written, 3, 2, Unit::Each, None), "1 1/2");
        assert_eq!(shown(Measures::Written, 3, 2, Unit::Clove, None), "1 1/2 cloves");
    }
}
