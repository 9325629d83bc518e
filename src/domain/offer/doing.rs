//! The work that a time may belong to, and the words it is known by. From memory.

use crate::domain::card::Place;

/// The work a time belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    Bake,
    Hob,
    Rest,
    Wait,
    /// `chill`, `freeze`: a wait, or with `up to` a stop.
    Cool(Place),
    Keep,
    Work,
}

pub const DOINGS: [(&[&str], Doing); 8] = [
    (&["bake", "baking", "roast", "oven"], Doing::Bake),
    (
        &[
            "simmer", "boil", "fry", "sauté", "saute", "sweat", "soften", "brown", "poach",
            "steam", "blanch", "cook", "bubble", "sear", "stew", "wilt", "char",
        ],
        Doing::Hob,
    ),
    (&["rest"], Doing::Rest),
    (
        &[
            "stand",
            "leave it",
            "leave them",
            "leave the",
            "leave to",
            "leave that",
            "leave for",
            "cool",
            "marinate",
            "marinade",
            "soak",
            "prove",
            "proof",
            "rise",
            "infuse",
            "steep",
            "set aside",
            "sit",
        ],
        Doing::Wait,
    ),
    (&["chill", "refrigerate"], Doing::Cool(Place::Fridge)),
    (&["freeze", "be frozen", "freezes"], Doing::Cool(Place::Freezer)),
    (
        &[
            "keep",
            "store",
            "will hold",
            "ahead",
            "in advance",
            "happy",
            "lasts",
            "will last",
            "is good",
            "good for",
            "good in",
            "fine in",
            "fine for",
        ],
        Doing::Keep,
    ),
    (
        &[
            "hands-on",
            "of work",
            "your time",
            "knead",
            "whisk",
            "beat",
            "takes you",
            "take you",
            "work",
        ],
        Doing::Work,
    ),
];
