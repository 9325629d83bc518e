//! A kitchen as its cook counts it: ovens and their shelves, rings, hands, and room in the cold.

use std::collections::BTreeSet;

use uuid::Uuid;

use super::text::{Name, counted};

/// Names one kitchen of a school.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct KitchenId(pub Uuid);

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kitchen {
    pub name: Name,
    pub ovens: Vec<Oven>,
    pub rings: u32,
    /// Pairs of hands that really cook.
    pub hands: u32,
    pub fridge: ColdRoom,
    pub freezer: ColdRoom,
    pub machines: Machines,
}

/// How many there are of the machines that cards mostly ask for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Machines {
    pub processors: u32,
    pub blenders: u32,
    pub mortars: u32,
    pub mixers: u32,
}

impl Machines {
    /// Each by the word that a card uses, with its count.
    pub fn named(self) -> [(&'static str, u32); 4] {
        [
            ("processor", self.processors),
            ("blender", self.blenders),
            ("mortar", self.mortars),
            ("mixer", self.mixers),
        ]
    }

    /// `1 processor, 2 blenders`; empty where there is none.
    pub fn in_words(self) -> String {
        let there = self.named().into_iter().filter(|(_, count)| *count > 0);
        let words = there.map(|(one, count)| counted(count, one, &format!("{one}s")));
        words.collect::<Vec<_>>().join(", ")
    }

    /// What is used and is not here. A tool that is none of these four was never asked for.
    pub fn lacks(self, used: &BTreeSet<&str>) -> Vec<&'static str> {
        let lacking = self.named().into_iter().filter(|(name, _)| used.contains(name));
        lacking.filter(|(_, count)| *count == 0).map(|(name, _)| name).collect()
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Oven {
    /// Shelves in use at once.
    pub shelves: u32,
    pub preheat_minutes: u32,
}

/// What is free in a fridge or freezer, asked as one sees it and never in litres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ColdRoom {
    None,
    #[default]
    HalfShelf,
    Shelf,
}

impl ColdRoom {
    pub const ALL: [Self; 3] = [Self::Shelf, Self::HalfShelf, Self::None];

    pub const fn words(self) -> &'static str {
        match self {
            Self::Shelf => "a shelf",
            Self::HalfShelf => "half a shelf",
            Self::None => "none",
        }
    }

    /// One word, as in documents and forms.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shelf => "shelf",
            Self::HalfShelf => "half",
            Self::None => "none",
        }
    }

    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|room| room.word() == word)
    }

    /// Our estimate (MEMORY): a shelf of 50 x 32 cm with boxes to 15 cm is 24 litres.
    pub const fn fridge_litres(self) -> u32 {
        match self {
            Self::Shelf => 24,
            Self::HalfShelf => 12,
            Self::None => 0,
        }
    }

    /// Our estimate (MEMORY): a drawer of 40 x 35 cm with boxes to 13 cm is 18 litres.
    pub const fn freezer_litres(self) -> u32 {
        match self {
            Self::Shelf => 18,
            Self::HalfShelf => 9,
            Self::None => 0,
        }
    }
}

/// Bounds of what a person may say of one kitchen.
pub const OVENS_MOST: u32 = 20;
pub const SHELVES_MOST: u32 = 12;
pub const RINGS_MOST: u32 = 60;
pub const HANDS_MOST: u32 = 60;
pub const PREHEAT_MINUTES_MOST: u32 = 120;
pub const MACHINES_MOST: u32 = 20;

impl Kitchen {
    pub fn is_within_bounds(&self) -> bool {
        let ovens = u32::try_from(self.ovens.len()).is_ok_and(|count| count <= OVENS_MOST);
        let each = self.ovens.iter().all(|oven| {
            (1..=SHELVES_MOST).contains(&oven.shelves)
                && oven.preheat_minutes <= PREHEAT_MINUTES_MOST
        });
        let machines = self.machines.named().iter().all(|(_, count)| *count <= MACHINES_MOST);
        ovens
            && each
            && machines
            && self.rings <= RINGS_MOST
            && (1..=HANDS_MOST).contains(&self.hands)
    }

    /// `2 + 2`: the shelves of each oven, as in the margin of a list.
    pub fn shelves_in_words(&self) -> String {
        let shelves: Vec<_> = self.ovens.iter().map(|oven| oven.shelves.to_string()).collect();
        if shelves.is_empty() { "0".to_owned() } else { shelves.join(" + ") }
    }

    /// `1 oven of 2 shelves, 4 rings, 1 pair of hands`.
    pub fn in_words(&self) -> String {
        let ovens = match self.ovens.as_slice() {
            [] => "no oven".to_owned(),
            [oven] => format!("1 oven of {}", counted(oven.shelves, "shelf", "shelves")),
            [first, rest @ ..] if rest.iter().all(|oven| oven.shelves == first.shelves) => {
                let each = counted(first.shelves, "shelf", "shelves");
                format!("{} ovens of {each}", self.ovens.len())
            }
            ovens => format!("{} ovens of {} shelves", ovens.len(), self.shelves_in_words()),
        };
        let rings = counted(self.rings, "ring", "rings");
        let hands = counted(self.hands, "pair of hands", "pairs of hands");
        let freezer = if self.freezer == ColdRoom::None { ", freezer full" } else { "" };
        format!("{ovens}, {rings}, {hands}{freezer}")
    }
}

/// The kitchens every new school finds: most homes are near one of them.
pub fn usual_kitchens() -> Vec<Kitchen> {
    let kitchen = |name, ovens: &[u32], rings, hands, freezer| Kitchen {
        name: Name::parse(name).expect("these names are short"),
        ovens: ovens.iter().map(|&shelves| Oven { shelves, preheat_minutes: 15 }).collect(),
        rings,
        hands,
        fridge: ColdRoom::HalfShelf,
        freezer,
        machines: Machines { processors: 1, blenders: 1, mortars: 1, mixers: 0 },
    };
    vec![
        kitchen("Usual home", &[2], 4, 1, ColdRoom::HalfShelf),
        kitchen("Small home", &[1], 2, 1, ColdRoom::None),
        kitchen("Two-oven home", &[2, 2], 5, 2, ColdRoom::Shelf),
    ]
}

/// Taken for a plan where nobody has told of a kitchen: the usual one with a shelf of the fridge, for
/// who cooks ahead makes room.
///
/// # Panics
/// Never: there is a usual kitchen.
pub fn kitchen_for_plans() -> Kitchen {
    let usual = usual_kitchens().into_iter().next().expect("there is a usual kitchen");
    Kitchen { fridge: ColdRoom::Shelf, ..usual }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kitchen_lacks_only_what_it_was_asked_about() {
        let machines = usual_kitchens()[0].machines;
        assert_eq!(machines.in_words(), "1 processor, 1 blender, 1 mortar");
        assert_eq!(machines.lacks(&["mixer", "mortar", "pasta roller"].into()), ["mixer"]);
        assert_eq!(Machines { blenders: 2, ..Machines::default() }.in_words(), "2 blenders");
    }

    #[test]
    fn the_usual_kitchens_are_within_bounds_and_read_well() {
        let words: Vec<_> = usual_kitchens()
            .iter()
            .map(|kitchen| {
                assert!(kitchen.is_within_bounds());
                format!("{}: {}", kitchen.name, kitchen.in_words())
            })
            .collect();
        assert_eq!(
            words,
            [
                "Usual home: 1 oven of 2 shelves, 4 rings, 1 pair of hands",
                "Small home: 1 oven of 1 shelf, 2 rings, 1 pair of hands, freezer full",
                "Two-oven home: 2 ovens of 2 shelves, 5 rings, 2 pairs of hands",
            ]
        );
    }
}
