//! The shipped sets of rules, of which a school works by one.

/// The shipped sets. A school that teaches people who will cook at home keeps `home`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Base {
    /// Consumer advice of USDA and HHS.
    #[default]
    Home,
    /// The model code for licensed kitchens, edition 2022.
    FoodCode2022,
    FoodCode2017,
    /// Advice for homes and small kitchens in the United Kingdom and the European Union. All its
    /// figures are from memory and say so.
    UkAdvice,
}

impl Base {
    pub const ALL: [Self; 4] = [Self::Home, Self::FoodCode2022, Self::FoodCode2017, Self::UkAdvice];

    /// The name in columns and documents.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Home => "home",
            Self::FoodCode2022 => "foodcode2022",
            Self::FoodCode2017 => "foodcode2017",
            Self::UkAdvice => "ukadvice",
        }
    }

    /// The name on pages.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Home => "Home kitchens (USDA and HHS)",
            Self::FoodCode2022 => "Licensed kitchens (FDA Food Code 2022)",
            Self::FoodCode2017 => "Licensed kitchens (FDA Food Code 2017)",
            Self::UkAdvice => "Homes in the UK and EU (advice, from memory, not read)",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|base| base.word() == word)
    }

    /// True for the two editions of the model code.
    pub const fn is_code(self) -> bool {
        matches!(self, Self::FoodCode2022 | Self::FoodCode2017)
    }

    /// The figure that caps the days of perishable food made here.
    pub(super) const fn days_key(self) -> &'static str {
        match self {
            Self::Home => "home_leftovers",
            Self::FoodCode2022 | Self::FoodCode2017 => "datemark",
            Self::UkAdvice => "uk_leftovers",
        }
    }

    /// The figure for minutes out of cold and heat over a food's life.
    pub(super) const fn room_key(self) -> &'static str {
        match self {
            Self::Home => "home_2h",
            Self::FoodCode2022 | Self::FoodCode2017 => "prep_time_wa",
            Self::UkAdvice => "uk_room",
        }
    }

    pub const fn cold_key(self) -> &'static str {
        match self {
            Self::Home => "home_cold",
            Self::FoodCode2022 | Self::FoodCode2017 => "cold_hold",
            Self::UkAdvice => "uk_cold",
        }
    }

    pub const fn hot_key(self) -> &'static str {
        match self {
            Self::Home => "home_hot",
            Self::FoodCode2022 | Self::FoodCode2017 => "hot_hold",
            Self::UkAdvice => "uk_hot",
        }
    }

    /// First stage, both stages, and the way from room temperature.
    pub const fn cooling_keys(self) -> [&'static str; 3] {
        match self {
            Self::Home | Self::UkAdvice => {
                ["home_cool_stage1", "home_cool_total", "home_cool_ambient"]
            }
            Self::FoodCode2022 | Self::FoodCode2017 => {
                ["cool_stage1", "cool_total", "cool_ambient"]
            }
        }
    }

    pub const fn freezer_key(self) -> Option<&'static str> {
        match self {
            Self::Home => Some("home_freezer"),
            Self::UkAdvice => Some("uk_freezer"),
            Self::FoodCode2022 | Self::FoodCode2017 => None,
        }
    }

    /// Food that was cooked and cooled, heated again.
    pub const fn reheat_key(self) -> &'static str {
        match self {
            Self::Home => "us_leftovers",
            Self::FoodCode2022 | Self::FoodCode2017 => "fc_reheat",
            Self::UkAdvice => "uk_core_75",
        }
    }
}
