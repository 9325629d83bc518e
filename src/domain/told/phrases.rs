//! The phrases by which speakers bring up a dish. From memory; strokes stand between them.

/// A list may follow, and any name counts.
pub const MENU: &str = "i'll give you|i'll make|i'll do|i'll show you|i'm showing you|you'll have|we're making|we're doing|we're having|we're cooking|we are making|we are doing|\
    we are having|we are cooking|we'll make|we'll do|we'll have|we'll cook|we will make|\
    we will cook|i'm making|i'm doing|i'm cooking|i'm having|i'm going to make|\
    i'm going to do|i'm gonna make|we're going to make|we're going to do|\
    we're going to cook|we're going to have|we're gonna make|we are going to make|\
    we are going to cook|i am making|i am doing|menu is|menu:|on the menu|\
    on the menu is|things:|dishes:|courses:|things,|dishes,|tonight it's|today it's|\
    you're getting|it's going to be|today is";

/// A list may follow, of nouns that name dishes.
pub const LISTS: &str = "it's a|it's an|there's|there is|there are|we've got|we have|i've got";

/// Only nouns that name dishes count behind these.
pub const SEQUENCE: &str = "start with|starting with|start off with|begin with|beginning with|first up|\
    first up is|first is|first one is|first thing is|next is|next up|next up is|\
    next comes|next one is|next|then there's|then there is|then comes|then we have|\
    then we've got|then it's|last is|last one is|last up|lastly|finally|last of all|\
    second is|second one is|third is|third one is|other one is|other is|\
    there is|for the|on with the|on to the|onto the|\
    over to the|move to the|make the|do the|start the|making the|doing the|make a|\
    to the";

/// Stand between such a phrase and the name.
pub const FILLERS: &str = "there's|there|we've|got|we|we're|we'll|have|having|doing|making|is|it's|it|i'm|i|do|\
    comes|with|lovely|nice|simple|quick|easy|big|proper|really|very|up|be|will|then|\
    afterwards|after|later|also|there'll|our|my|your|going";

/// A course and its phrases.
pub const COURSES: &[(&str, &str)] = &[
    (
        "starter",
        "to start with|to start|for starters|for a starter|for the starter|as a starter|\
    starter is|starter:|starter's|first course is|first course",
    ),
    (
        "main",
        "for the main course|for the main|for a main|for mains|as a main|main course is|\
    main is|main:|main dish is",
    ),
    (
        "side",
        "on the side|for a side|for the side|as a side|side is|side dish is|side:|alongside|\
    to go with it",
    ),
    (
        "sweet",
        "for pudding|pudding is|pudding:|for dessert|dessert is|dessert:|for afters|\
    for the sweet|to finish|to finish with|for dessert we",
    ),
];

/// What looks like a name of a dish and is none.
pub const NO_TITLE: &str = "thing|things|dish|dishes|course|courses|menu|lunch|dinner|supper|meal|class|table|\
    oven|start|bit|lot|week|people|guests|friends|one|ones|evening|pan|recipe|recipes|\
    time|pot|bowl|fun|everything|something|nothing|all|sure|enough|double|twice|half|me|\
    myself|tray|tin|rest|rack|fridge|freezer|mixture|same|other|next|last|end|top|\
    bottom|middle|wedge|night|while";

/// Whether one of the phrases is this.
pub fn has(phrases: &str, words: &str) -> bool {
    phrases.split('|').any(|it| it == words)
}
