//! A kitchen as its cook counts it: ovens and their shelves, rings, hands, and room in the cold.

use uuid::Uuid;

use super::text::Name;

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

impl Kitchen {
    pub fn is_within_bounds(&self) -> bool {
        let ovens = u32::try_from(self.ovens.len()).is_ok_and(|count| count <= OVENS_MOST);
        let each = self.ovens.iter().all(|oven| {
            (1..=SHELVES_MOST).contains(&oven.shelves)
                && oven.preheat_minutes <= PREHEAT_MINUTES_MOST
        });
        ovens && each && self.rings <= RINGS_MOST && (1..=HANDS_MOST).contains(&self.hands)
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

fn counted(count: u32, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
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
    };
    vec![
        kitchen("Usual home", &[2], 4, 1, ColdRoom::HalfShelf),
        kitchen("Small home", &[1], 2, 1, ColdRoom::None),
        kitchen("Two-oven home", &[2, 2], 5, 2, ColdRoom::Shelf),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

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
