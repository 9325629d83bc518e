//! Figures that cannot be: said in a sentence, and nothing is reckoned from them.

/// What is wrong with a figure. `Display` is the finished sentence.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Nonsense {
    #[error(
        "The depth must be between 3 mm and 250 mm (1/8 in to 10 in); {0} is not a depth of food in a dish."
    )]
    Depth(String),
    #[error("A dish is between 50 mm and 800 mm wide and long (2 in to 31 in); {0} is not.")]
    Width(String),
    #[error(
        "{place} is between {low} and {high}; {typed} is not. Measure its air, or name another place."
    )]
    Place { place: String, low: String, high: String, typed: String },
    #[error("Food begins to cool between 30 C and 100 C (86 F to 212 F); {0} is not.")]
    Start(String),
    #[error("Food goes in between -30 C and 80 C (-22 F to 176 F); {0} is not.")]
    GoesIn(String),
    #[error("An oven stands between 80 C and 290 C (175 F to 550 F); {0} does not.")]
    Oven(String),
    #[error(
        "The end point must be above where the food starts and below the oven, between 40 C and 99 C (104 F to 210 F); {0} is not."
    )]
    End(String),
    #[error("A joint weighs between 100 g and 20 kg; {0} does not.")]
    Weight(String),
    #[error("A joint is between 20 mm and 300 mm across (3/4 in to 12 in); {0} is not.")]
    Across(String),
    #[error("A joint is as long as it is across or longer, at most 1 m; {0} is not.")]
    Long(String),
    #[error("{0} is no temperature: write a figure and its scale, 165F or 74C.")]
    Temperature(String),
    #[error("{0} is no length: write a figure and its unit, 30 mm, 3 cm or 1 1/4 in.")]
    Length(String),
    #[error("{0} is no weight: write a figure and its unit, 1.2 kg, 900 g or 3 lb.")]
    Mass(String),
    #[error("A stretch lasts between 5 min and 12 h; {0} does not.")]
    Minutes(String),
    #[error("{typed} is not known here; {what} is one of: {known}.")]
    Word { what: &'static str, typed: String, known: String },
    #[error("There must be between 0 and 100 kg of ice; {0} is not.")]
    Ice(String),
    #[error("Say how thick the joint is across, or what it weighs.")]
    NoJoint,
}
