//! A food as the shop sells it and the cook uses it, each figure with its source.

use std::sync::Arc;

use num_rational::BigRational;

use crate::domain::quantity::Amount;

/// Names one food and state for ever: `onion`, `pea, frozen`. Never shown as an address of a school.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FoodKey(pub Arc<str>);

impl FoodKey {
    pub fn new(key: &str) -> Self {
        Self(key.into())
    }
}

impl std::fmt::Display for FoodKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// A figure and where it was read. `source` is printed beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    pub value: BigRational,
    pub source: Arc<str>,
}

/// One row of the larder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Food {
    pub key: FoodKey,
    /// Singular, as on a shopping list.
    pub name: String,
    pub plural: String,
    /// Other names that mean exactly this food and state.
    pub aliases: Vec<String>,
    /// Part of the shop: `vegetables`, `dairy and eggs`.
    pub aisle: Arc<str>,
    /// Days it keeps after the day of buying, at least; none where not known.
    pub keeps_days: Option<u32>,
    pub keeps_source: Arc<str>,
    /// Grams in one millilitre of the food as its name describes it.
    pub g_per_ml: Option<Figure>,
    /// The same for a cut that a card may ask for: `sliced` fills a cup otherwise than `chopped`.
    pub cuts: Vec<(Arc<str>, Figure)>,
    /// Grams of one piece, edible part.
    pub g_each: Option<Figure>,
    /// Edible share of what is bought, over 0 up to 1.
    pub edible: Option<Figure>,
    /// For juice or zest: the fruit it comes from, and how much one fruit gives.
    pub from: Option<FromFruit>,
    /// Sizes it is sold in, smallest first; empty when not known.
    pub packs: Vec<Amount>,
    /// Sold loose by weight; the step of the scale.
    pub loose_step: Option<Amount>,
    /// Most kitchens have it: stands in the "check you have" box.
    pub is_cupboard: bool,
    /// Hard to find: heads the list.
    pub is_rare: bool,
    /// Raw poultry, mince or fish carries a clock from the day of buying.
    pub raw: Option<Raw>,
    /// Food groups for rules of the table: `pulse`, `nightshade`.
    pub groups: Vec<Arc<str>>,
    pub allergens: Allergens,
}

/// Words for a cut that change what a cup holds.
const CUTS: [&str; 17] = [
    "chopped", "sliced", "diced", "shredded", "grated", "cubed", "halved", "mashed", "crumbled",
    "whole", "crushed", "ground", "melted", "torn", "puréed", "packed", "slivered",
];

/// Cuts that fill a cup alike.
const ALIKE: [(&str, &str); 3] = [("diced", "cubed"), ("shredded", "grated"), ("crumbled", "torn")];

impl Food {
    /// Grams in a millilitre of the food as a card wants it measured. Where the larder weighs the
    /// cut, that figure holds; where it weighs only another cut, none does: sliced leeks say
    /// nothing of chopped ones.
    pub fn density(&self, preparation: &str) -> Option<&Figure> {
        let wanted = cut_in(preparation);
        let Some(wanted) = wanted else { return self.g_per_ml.as_ref() };
        let of = |cut: &str| self.cuts.iter().find(|(it, _)| &**it == cut).map(|(_, it)| it);
        let alike = ALIKE.iter().find_map(|(one, other)| match wanted {
            it if it == *one => Some(*other),
            it if it == *other => Some(*one),
            _ => None,
        });
        of(wanted).or_else(|| alike.and_then(of)).or_else(|| {
            // A figure that names no cut speaks of the food as it is: flour, oil, cream.
            let plain = self.g_per_ml.as_ref()?;
            cut_in(&plain.source).is_none_or(|it| it == wanted).then_some(plain)
        })
    }
}

/// The first word for a cut, unless it is done after the measuring.
fn cut_in(words: &str) -> Option<&'static str> {
    let mut words = words.split(|c: char| !c.is_alphabetic());
    words.find_map(|word| CUTS.into_iter().find(|cut| word.eq_ignore_ascii_case(cut)))
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FromFruit {
    pub fruit: FoodKey,
    pub ml_each: Option<Figure>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Raw {
    Poultry,
    Mince,
    Fish,
    Meat,
}

/// What a food carries, entered by hand; never guessed from its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Allergens {
    /// Nobody has entered it. Shown as "not known", never as nothing.
    NotKnown,
    Entered {
        contains: Vec<Allergen>,
        check: Vec<(Allergen, Certainty)>,
        source: Arc<str>,
    },
}

/// The union of the nine of the United States and the fourteen of the EU (rule book 3.1, 3.3).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Allergen {
    Gluten,
    Wheat,
    Milk,
    Egg,
    Nuts,
    Peanut,
    Sesame,
    Soya,
    Fish,
    Crustaceans,
    Molluscs,
    Celery,
    Mustard,
    Lupin,
    Sulphites,
}

impl Allergen {
    pub const ALL: [Self; 15] = [
        Self::Gluten,
        Self::Wheat,
        Self::Milk,
        Self::Egg,
        Self::Nuts,
        Self::Peanut,
        Self::Sesame,
        Self::Soya,
        Self::Fish,
        Self::Crustaceans,
        Self::Molluscs,
        Self::Celery,
        Self::Mustard,
        Self::Lupin,
        Self::Sulphites,
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Gluten => "gluten",
            Self::Wheat => "wheat",
            Self::Milk => "milk",
            Self::Egg => "egg",
            Self::Nuts => "nuts",
            Self::Peanut => "peanut",
            Self::Sesame => "sesame",
            Self::Soya => "soya",
            Self::Fish => "fish",
            Self::Crustaceans => "crustaceans",
            Self::Molluscs => "molluscs",
            Self::Celery => "celery",
            Self::Mustard => "mustard",
            Self::Lupin => "lupin",
            Self::Sulphites => "sulphites",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|allergen| allergen.word() == word)
    }
}

/// How often a product of this food carries it: a reason to read the label, never a verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Certainty {
    Sometimes,
    Depends,
    Usually,
}

impl Certainty {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sometimes => "sometimes",
            Self::Depends => "depends",
            Self::Usually => "usually",
        }
    }
}
