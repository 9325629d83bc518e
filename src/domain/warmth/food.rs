//! What a food is made of, and how it therefore holds and leads heat.

use std::sync::OnceLock;

/// Parts of the whole by weight; they add up to 1. `freezes_c` is where the first ice forms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Composition {
    pub water: f64,
    pub protein: f64,
    pub fat: f64,
    pub carbohydrate: f64,
    pub fibre: f64,
    pub ash: f64,
    pub freezes_c: f64,
}

/// Foods that behave alike. All lie within a few hundredths of each other: depth and surface decide.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FoodClass {
    Soup,
    Stew,
    Mash,
    Rice,
    Mince,
    Bake,
    Beef,
    Poultry,
    Cream,
    Tart,
}

impl FoodClass {
    pub const ALL: [Self; 10] = [
        Self::Soup,
        Self::Stew,
        Self::Mash,
        Self::Rice,
        Self::Mince,
        Self::Bake,
        Self::Beef,
        Self::Poultry,
        Self::Cream,
        Self::Tart,
    ];

    /// As typed and as told.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Soup => "soup",
            Self::Stew => "stew",
            Self::Mash => "mash",
            Self::Rice => "rice",
            Self::Mince => "mince",
            Self::Bake => "bake",
            Self::Beef => "meat",
            Self::Poultry => "poultry",
            Self::Cream => "cream",
            Self::Tart => "tart",
        }
    }

    /// What stands behind the word, for a list to choose from.
    #[must_use]
    pub const fn told(self) -> &'static str {
        match self {
            Self::Soup => "soup, stock, thin sauce",
            Self::Stew => "stew, chilli, thick sauce, cooked vegetables",
            Self::Mash => "mash, cooked pulses, purée",
            Self::Rice => "cooked rice, grain, pasta",
            Self::Mince => "browned mince",
            Self::Bake => "gratin, casserole, vegetable bake",
            Self::Beef => "beef, lamb, pork",
            Self::Poultry => "chicken, turkey, duck",
            Self::Cream => "custard, mousse, frozen cream",
            Self::Tart => "tart, cake, pastry",
        }
    }

    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.word() == word.trim().to_lowercase())
    }

    /// The first class that a word of the name points to; a stew when none does. A guess for a form to
    /// begin with: the classes differ little and the cook may choose another.
    #[must_use]
    pub fn guessed(name: &str) -> Self {
        const POINTS: [(&str, FoodClass); 27] = [
            ("soup", FoodClass::Soup),
            ("stock", FoodClass::Soup),
            ("broth", FoodClass::Soup),
            ("mash", FoodClass::Mash),
            ("puree", FoodClass::Mash),
            ("purée", FoodClass::Mash),
            ("beans", FoodClass::Mash),
            ("lentil", FoodClass::Mash),
            ("chickpea", FoodClass::Mash),
            ("rice", FoodClass::Rice),
            ("barley", FoodClass::Rice),
            ("couscous", FoodClass::Rice),
            ("pasta", FoodClass::Rice),
            ("grain", FoodClass::Rice),
            ("mince", FoodClass::Mince),
            ("gratin", FoodClass::Bake),
            ("bake", FoodClass::Bake),
            ("casserole", FoodClass::Bake),
            ("lasagne", FoodClass::Bake),
            ("chicken", FoodClass::Poultry),
            ("turkey", FoodClass::Poultry),
            ("custard", FoodClass::Cream),
            ("cream", FoodClass::Cream),
            ("mousse", FoodClass::Cream),
            ("tart", FoodClass::Tart),
            ("cake", FoodClass::Tart),
            ("pie", FoodClass::Tart),
        ];
        let name = name.to_lowercase();
        let has = |word: &str| {
            name.split(|it: char| !it.is_alphabetic())
                .any(|it| it.trim_end_matches('s') == word.trim_end_matches('s'))
        };
        POINTS.into_iter().find(|(word, _)| has(word)).map_or(Self::Stew, |it| it.1)
    }

    /// Rounded, in the order of national food tables; MEMORY.
    #[must_use]
    pub const fn composition(self) -> Composition {
        let (water, protein, fat, carbohydrate, fibre, ash, freezes_c) = match self {
            Self::Soup => (0.92, 0.02, 0.01, 0.04, 0.0, 0.01, -0.6),
            Self::Stew => (0.76, 0.08, 0.05, 0.08, 0.02, 0.01, -1.0),
            Self::Mash => (0.75, 0.05, 0.03, 0.12, 0.04, 0.01, -1.0),
            Self::Rice => (0.68, 0.03, 0.01, 0.27, 0.005, 0.005, -0.8),
            Self::Mince => (0.60, 0.22, 0.14, 0.02, 0.0, 0.02, -1.5),
            Self::Bake => (0.78, 0.04, 0.08, 0.075, 0.015, 0.01, -1.0),
            Self::Beef => (0.72, 0.215, 0.055, 0.0, 0.0, 0.01, -1.7),
            Self::Poultry => (0.70, 0.20, 0.09, 0.0, 0.0, 0.01, -1.5),
            Self::Cream => (0.60, 0.04, 0.18, 0.175, 0.0, 0.005, -2.8),
            Self::Tart => (0.42, 0.05, 0.18, 0.335, 0.01, 0.005, -5.0),
        };
        Composition { water, protein, fat, carbohydrate, fibre, ash, freezes_c }
    }

    /// Built once for each class.
    pub fn substance(self) -> &'static Substance {
        static BUILT: [OnceLock<Substance>; 10] = [const { OnceLock::new() }; 10];
        BUILT[self as usize].get_or_init(|| Substance::of(&self.composition()))
    }
}

/// a + bT + cT², T in Celsius.
type Curve = [f64; 3];

fn on(curve: Curve, celsius: f64) -> f64 {
    curve[0] + celsius * (curve[1] + celsius * curve[2])
}

/// Conductivity W/m/K, density kg/m³ and specific heat J/kg/K of one component.
struct Component {
    leads: Curve,
    weighs: Curve,
    holds: Curve,
}

/// Choi and Okos 1986, about -40 to 150 C: protein, fat, carbohydrate, fibre, ash, water. Of the two
/// constants in circulation for the specific heat of water, 4176.2 is the one that matches water.
const DRY_AND_WATER: [Component; 6] = [
    Component {
        leads: [0.178_81, 1.1958e-3, -2.7178e-6],
        weighs: [1329.9, -0.518_40, 0.0],
        holds: [2008.2, 1.2089, -1.3129e-3],
    },
    Component {
        leads: [0.180_71, -2.7604e-4, -1.7749e-7],
        weighs: [925.59, -0.417_57, 0.0],
        holds: [1984.2, 1.4733, -4.8008e-3],
    },
    Component {
        leads: [0.201_41, 1.3874e-3, -4.3312e-6],
        weighs: [1599.1, -0.310_46, 0.0],
        holds: [1548.8, 1.9625, -5.9399e-3],
    },
    Component {
        leads: [0.183_31, 1.2497e-3, -3.1683e-6],
        weighs: [1311.5, -0.365_89, 0.0],
        holds: [1845.9, 1.8306, -4.6509e-3],
    },
    Component {
        leads: [0.329_62, 1.4011e-3, -2.9069e-6],
        weighs: [2423.8, -0.280_63, 0.0],
        holds: [1092.6, 1.8896, -3.6817e-3],
    },
    Component {
        leads: [0.571_09, 1.7625e-3, -6.7036e-6],
        weighs: [997.18, 3.1439e-3, -3.7574e-3],
        holds: [4176.2, -9.0864e-2, 5.4731e-3],
    },
];
const ICE_LEADS: Curve = [2.2196, -6.2489e-3, 1.0154e-4];
const ICE_WEIGHS: Curve = [916.89, -0.130_71, 0.0];

/// Heat of melting of water at 0 C, J/kg.
pub(super) const MELTING: f64 = 333.6e3;

impl Composition {
    fn parts(&self) -> [f64; 6] {
        [self.protein, self.fat, self.carbohydrate, self.fibre, self.ash, self.water]
    }

    /// Water bound to protein never freezes: 0.4 of its weight.
    fn can_freeze(&self) -> f64 {
        (self.water - 0.4 * self.protein).max(0.0)
    }

    fn ice(&self, celsius: f64) -> f64 {
        if celsius < self.freezes_c {
            self.can_freeze() * (1.0 - self.freezes_c / celsius)
        } else {
            0.0
        }
    }

    /// Volume of a kilogram of each part without ice, and of the ice.
    fn volumes(&self, celsius: f64) -> ([f64; 6], f64) {
        let ice = self.ice(celsius);
        let mut parts = self.parts();
        parts[5] -= ice;
        for (part, component) in parts.iter_mut().zip(&DRY_AND_WATER) {
            *part /= on(component.weighs, celsius);
        }
        (parts, ice / on(ICE_WEIGHS, celsius))
    }

    #[must_use]
    pub fn density(&self, celsius: f64) -> f64 {
        let (parts, ice) = self.volumes(celsius);
        1.0 / (parts.iter().sum::<f64>() + ice)
    }

    /// Parts side by side by volume; with ice the mean of that and of grains in a matrix (Maxwell-Eucken).
    #[must_use]
    pub fn leads(&self, celsius: f64) -> f64 {
        let (parts, ice) = self.volumes(celsius);
        let rest: f64 = parts.iter().sum();
        let matrix =
            parts.iter().zip(&DRY_AND_WATER).map(|(v, c)| v * on(c.leads, celsius)).sum::<f64>()
                / rest;
        if ice <= 0.0 {
            return matrix;
        }
        let share = ice / (rest + ice);
        let frozen = on(ICE_LEADS, celsius);
        let grains = |around: f64, grain: f64, part: f64| {
            around * (2.0 * around + grain - 2.0 * (around - grain) * part)
                / (2.0 * around + grain + (around - grain) * part)
        };
        let grained = share * grains(frozen, matrix, 1.0 - share)
            + (1.0 - share) * grains(matrix, frozen, share);
        f64::midpoint(grained, share * frozen + (1.0 - share) * matrix)
    }

    #[must_use]
    pub fn holds(&self, celsius: f64) -> f64 {
        self.parts().iter().zip(&DRY_AND_WATER).map(|(part, c)| part * on(c.holds, celsius)).sum()
    }

    /// Heat of a kilogram, 0 where the first ice forms. Below it Chen's form for the bound water, integrated.
    fn heat_frozen(&self, celsius: f64) -> f64 {
        let solids = 1.0 - self.water;
        (1550.0 + 1260.0 * solids) * (celsius - self.freezes_c)
            + self.can_freeze() * MELTING * self.freezes_c * (1.0 / celsius - 1.0 / self.freezes_c)
    }
}

const BINS: usize = 4096;
const COLDEST_C: f64 = -45.0;
const HOTTEST_C: f64 = 260.0;
/// Of the table that the bins are read from.
const FINE_C: f64 = 0.05;

/// One bin of heat: temperature, its rise over the bin, the integral of conductivity, its rise, conductivity, its rise.
type Bin = [f64; 6];

/// A food as the march needs it: everything read from the heat in a cubic metre, J/m³.
pub struct Substance {
    bins: Vec<Bin>,
    first_heat: f64,
    bins_per_heat: f64,
    freezes_c: Option<f64>,
    /// Conductivity and diffusivity at 30 C, for the sides of a pan.
    pub leads: f64,
    pub spreads: f64,
    pub heat_capacity: f64,
    pub kilograms_a_cubic_metre: f64,
}

pub(super) struct Read {
    pub celsius: f64,
    pub celsius_per_heat: f64,
    pub led: f64,
    pub led_per_heat: f64,
    pub leads: f64,
}

impl Substance {
    /// Above 100 C properties stay as they are there: wet food does not get hotter, a crust may.
    #[must_use]
    pub fn of(food: &Composition) -> Self {
        let density = food.density(20.0);
        let mut above = 0.0;
        let mut last = food.freezes_c;
        let heat = |celsius: f64| {
            if celsius <= food.freezes_c {
                return density * food.heat_frozen(celsius);
            }
            let middle = f64::midpoint(last, celsius).min(100.0);
            above += food.holds(middle) * (celsius - last);
            last = celsius;
            density * above
        };
        let mut it = Self::tabled(heat, |celsius| food.leads(celsius.min(100.0)), FINE_C);
        it.freezes_c = Some(food.freezes_c);
        it.kilograms_a_cubic_metre = density;
        it.with_sides(food.leads(30.0), density * food.holds(30.0))
    }

    /// The same at every temperature: for textbook bodies.
    #[must_use]
    pub fn constant(leads: f64, density: f64, holds: f64) -> Self {
        Self::tabled(|celsius| density * holds * celsius, |_| leads, FINE_C)
            .with_sides(leads, density * holds)
    }

    /// A body that melts in the narrow range below `melts_c`: for textbook freezing.
    #[must_use]
    pub fn melting(
        melts_c: f64,
        range: f64,
        latent: f64,
        above: [f64; 2],
        below: [f64; 2],
    ) -> Self {
        let part = move |celsius: f64| ((celsius - melts_c + range) / range).clamp(0.0, 1.0);
        let heat = move |celsius: f64| {
            let holds = if celsius < melts_c { below[1] } else { above[1] };
            holds * (celsius - melts_c) + latent * part(celsius)
        };
        let leads = |celsius| below[0] + (above[0] - below[0]) * part(celsius);
        let mut it = Self::tabled(heat, leads, range / 8.0);
        it.freezes_c = Some(melts_c);
        it.with_sides(above[0], above[1])
    }

    fn with_sides(self, leads: f64, heat_capacity: f64) -> Self {
        Self { leads, spreads: leads / heat_capacity, heat_capacity, ..self }
    }

    /// `heat` is asked in rising order.
    fn tabled(mut heat: impl FnMut(f64) -> f64, leads: impl Fn(f64) -> f64, fine_c: f64) -> Self {
        let count = ((HOTTEST_C - COLDEST_C) / fine_c).ceil() as usize;
        let at = |i: usize| COLDEST_C + (HOTTEST_C - COLDEST_C) * i as f64 / count as f64;
        let heats: Vec<f64> = (0..=count).map(|i| heat(at(i))).collect();
        let led: Vec<f64> = (0..=count).map(|i| leads(at(i))).collect();
        let (first_heat, span) = (heats[0], heats[count] - heats[0]);
        let mut fine = 0;
        let mut nodes: Vec<[f64; 3]> = Vec::with_capacity(BINS + 1);
        for bin in 0..=BINS {
            let wanted = first_heat + span * bin as f64 / BINS as f64;
            while fine + 1 < count && heats[fine + 1] < wanted {
                fine += 1;
            }
            let part = ((wanted - heats[fine]) / (heats[fine + 1] - heats[fine])).clamp(0.0, 1.0);
            let celsius = at(fine) + (at(fine + 1) - at(fine)) * part;
            let k = led[fine] + (led[fine + 1] - led[fine]) * part;
            let integral = nodes.last().map_or(0.0, |last: &[f64; 3]| {
                last[1] + f64::midpoint(last[2], k) * (celsius - last[0])
            });
            nodes.push([celsius, integral, k]);
        }
        let bins = nodes
            .windows(2)
            .map(|two| {
                let (a, b) = (two[0], two[1]);
                [a[0], b[0] - a[0], a[1], b[1] - a[1], a[2], b[2] - a[2]]
            })
            .collect();
        let bins_per_heat = BINS as f64 / span;
        Self {
            bins,
            first_heat,
            bins_per_heat,
            freezes_c: None,
            leads: 0.0,
            spreads: 0.0,
            heat_capacity: 0.0,
            kilograms_a_cubic_metre: 1000.0,
        }
    }

    #[inline]
    pub(super) fn read(&self, heat: f64) -> Read {
        let place = (heat - self.first_heat) * self.bins_per_heat;
        let bin = (place as usize).min(BINS - 1);
        let part = place - bin as f64;
        let it = &self.bins[bin];
        Read {
            celsius: it[0] + it[1] * part,
            celsius_per_heat: it[1] * self.bins_per_heat,
            led: it[2] + it[3] * part,
            led_per_heat: it[3] * self.bins_per_heat,
            leads: it[4] + it[5] * part,
        }
    }

    /// Heat at a temperature, found in the bins.
    #[must_use]
    pub fn heat_at(&self, celsius: f64) -> f64 {
        let bin = self.bins.partition_point(|it| it[0] <= celsius).clamp(1, BINS) - 1;
        let it = &self.bins[bin];
        self.first_heat + (bin as f64 + (celsius - it[0]) / it[1]) / self.bins_per_heat
    }

    #[inline]
    pub(super) fn may_be_icy(&self, coldest_c: f64) -> bool {
        self.freezes_c.is_some_and(|freezes| coldest_c < freezes + 0.5)
    }
}
