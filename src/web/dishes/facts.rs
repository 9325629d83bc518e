//! The facts of a step as fields of a form, and the notes that such fields say.
//!
//! A fact is one kind of note; each of its rows is one note. What a row says is put together here
//! in the words of a card and read by the card's own reader, so that a form can say nothing that a
//! card cannot.

use crate::domain::card::note::{Note, NoteKind};
use crate::domain::card::words::{MINUTES_IN_DAY, degrees_words, figure_words, minutes_words};
use crate::domain::card::{By, FromFreezer, Mark, Setting, Step, Stop, ToolUse};

/// One kind of note on one step, with its rows of fields.
#[derive(Clone, Debug)]
pub struct Fact {
    pub kind: NoteKind,
    pub label: &'static str,
    pub hint: &'static str,
    /// One a note, and where more may follow an empty one.
    pub rows: Vec<Vec<Control>>,
    /// The card says something of it.
    pub is_set: bool,
}

/// One field with the words round it.
#[derive(Clone, Debug)]
pub struct Control {
    pub before: &'static str,
    pub after: &'static str,
    /// For a reader who does not see the words round it.
    pub means: &'static str,
    pub value: String,
    pub is: Shape,
}

#[derive(Clone, Debug)]
pub enum Shape {
    /// `n` for figures, `w` for words.
    Input(&'static str),
    /// Value and words of each choice.
    Select(Vec<(&'static str, &'static str)>),
    Tick,
}

/// Every fact of a step, in the order of work.
pub fn facts(step: &Step) -> Vec<Fact> {
    ORDER.iter().map(|&(kind, label, hint)| fact(step, kind, label, hint)).collect()
}

const ORDER: [(NoteKind, &str, &str); 21] = [
    (NoteKind::Hands, "Hands", ""),
    (NoteKind::Oven, "Oven", "Only settings that were tried. 200 C or 400 F."),
    (
        NoteKind::Stop,
        "May stop here",
        "The rules of your school may be stricter; the stricter counts.",
    ),
    (NoteKind::Tool, "With", ""),
    (NoteKind::Hob, "Hob", ""),
    (NoteKind::Wait, "Wait", "Nobody is needed. 20 min, 3 h."),
    (NoteKind::OvenOr, "Or oven", "Another setting that was tried."),
    (NoteKind::OwnOven, "Oven of its own", "When nothing else needs it."),
    (NoteKind::Cold, "From the fridge", ""),
    (NoteKind::Frozen, "From the freezer", ""),
    (NoteKind::Shelf, "Room in the oven", "Not said: from the size of the dish or tray."),
    (NoteKind::Touch, "Part-way", "Stir, turn or add."),
    (NoteKind::Core, "Done when", "For meat, fish, egg and food warmed again."),
    (NoteKind::Check, "Measure again", ""),
    (NoteKind::Rest, "Rest", ""),
    (NoteKind::Chill, "Cool down", "Counted from 57 C, 135 F."),
    (
        NoteKind::Box,
        "Waits in a box",
        "Shelves are our estimate: half of one 6 l, a whole one 12 l.",
    ),
    (NoteKind::Serve, "At the table", ""),
    (NoteKind::BeforeServing, "Ends", ""),
    (NoteKind::KindOfFood, "Kind of food", "Only to correct which rule counts: cooked vegetables."),
    (NoteKind::Mark, "Mind", ""),
];

/// Kinds that are always shown; the others when they are set, or when asked for.
pub const fn is_common(kind: NoteKind) -> bool {
    matches!(kind, NoteKind::Hands | NoteKind::Oven | NoteKind::Stop)
}

fn fact(step: &Step, kind: NoteKind, label: &'static str, hint: &'static str) -> Fact {
    let notes: Vec<Note> = step.notes().into_iter().filter(|note| note.kind() == kind).collect();
    let is_set = !notes.is_empty();
    let rows = if kind == NoteKind::Mark {
        vec![Mark::ALL.iter().map(|mark| tick(*mark, step.marks.contains(mark))).collect()]
    } else {
        let spare = !is_set || kind.may_repeat();
        let spare = spare.then(|| controls(kind, None));
        notes.iter().map(|note| controls(kind, Some(note))).chain(spare).collect()
    };
    Fact { kind, label, hint, rows, is_set }
}

fn tick(mark: Mark, is_set: bool) -> Control {
    let value = if is_set { "on" } else { "" };
    Control {
        before: "",
        after: mark.words(),
        means: mark.words(),
        value: value.into(),
        is: Shape::Tick,
    }
}

fn input(
    before: &'static str,
    size: &'static str,
    after: &'static str,
    means: &'static str,
    value: String,
) -> Control {
    Control { before, after, means, value, is: Shape::Input(size) }
}

fn select(
    before: &'static str,
    means: &'static str,
    choices: &[(&'static str, &'static str)],
    value: &str,
) -> Control {
    let is = Shape::Select(choices.to_vec());
    Control { before, after: "", means, value: value.to_owned(), is }
}

/// The fields of one note; empty ones for none.
fn controls(kind: NoteKind, note: Option<&Note>) -> Vec<Control> {
    match kind {
        NoteKind::Hands => hands(note),
        NoteKind::Oven | NoteKind::OvenOr | NoteKind::OwnOven => oven(note),
        NoteKind::Hob => hob(note),
        NoteKind::Wait | NoteKind::Rest => stretch(note),
        NoteKind::Touch => touch(note),
        NoteKind::Core | NoteKind::Check | NoteKind::Chill => heat(kind, note),
        NoteKind::Stop => stop(note),
        NoteKind::Tool => tool(note),
        NoteKind::Serve => serve(note),
        NoteKind::Shelf | NoteKind::Box => room(kind, note),
        NoteKind::Cold | NoteKind::Frozen | NoteKind::BeforeServing => {
            let (after, means) = match kind {
                NoteKind::BeforeServing => ("min before serving", "Minutes before serving"),
                _ => ("min more", "Minutes more"),
            };
            let minutes = match note {
                Some(Note::Cold(it) | Note::Frozen(it) | Note::BeforeServing(it)) => it.to_string(),
                _ => String::new(),
            };
            vec![input("", "n", after, means, minutes)]
        }
        NoteKind::KindOfFood => {
            let words = match note {
                Some(Note::KindOfFood(words)) => words.clone(),
                _ => String::new(),
            };
            vec![input("", "w", "", "Kind of food", words)]
        }
        NoteKind::Mark | NoteKind::After => Vec::new(),
    }
}

fn hands(note: Option<&Note>) -> Vec<Control> {
    let (minutes, scales) = match note {
        Some(Note::Hands(hands)) => (hands.minutes.to_string(), hands.scales),
        _ => (String::new(), true),
    };
    const HOW: [(&str, &str); 2] =
        [("", "more for more guests"), ("same", "the same for any number")];
    let how = if scales { "" } else { "same" };
    vec![
        input("", "n", "min", "Minutes of hands", minutes),
        select("", "For more guests", &HOW, how),
    ]
}

/// Heat and minutes; a setting of several stages is kept as words.
fn oven(note: Option<&Note>) -> Vec<Control> {
    let setting = match note {
        Some(Note::Oven(it) | Note::OvenOr(it) | Note::OwnOven(it)) => Some(it),
        _ => None,
    };
    let (heat, minutes) = match setting.map(|it| it.stages.as_slice()) {
        Some([stage]) => (degrees_words(stage.heat), stage.minutes.to_string()),
        Some(stages) => {
            let rest = Setting { stages: stages[1..].to_vec() };
            let first = stages[0].minutes.to_string();
            (degrees_words(stages[0].heat), format!("{first} then {}", settings(&rest)))
        }
        None => (String::new(), String::new()),
    };
    vec![
        input("at", "n", "", "Degrees", heat),
        input("for", "n", "min", "Minutes in the oven", minutes),
    ]
}

fn settings(setting: &Setting) -> String {
    let stage = |it: &crate::domain::card::Stage| {
        format!("{} {}", degrees_words(it.heat), minutes_words(it.minutes))
    };
    setting.stages.iter().map(stage).collect::<Vec<_>>().join(" then ")
}

fn hob(note: Option<&Note>) -> Vec<Control> {
    let (minutes, watch) = match note {
        Some(Note::Hob(hob)) => (hob.minutes.to_string(), hob.watch),
        _ => (String::new(), false),
    };
    const HOW: [(&str, &str); 2] = [("", "nobody need watch"), ("watch", "watch it")];
    let how = if watch { "watch" } else { "" };
    vec![input("", "n", "min", "Minutes on the hob", minutes), select("", "Watch", &HOW, how)]
}

fn stretch(note: Option<&Note>) -> Vec<Control> {
    let (least, most, place) = match note {
        Some(Note::Wait(it)) => {
            (Some(it.least_minutes), it.most_minutes, Some(it.place.map_or("", |at| at.word())))
        }
        Some(Note::Rest(it)) => (Some(it.least_minutes), it.most_minutes, None),
        _ => (None, None, Some("")),
    };
    let words = |minutes: Option<u32>| minutes.map(minutes_words).unwrap_or_default();
    let mut fields = vec![
        input("at least", "n", "", "At least", words(least)),
        input("at most", "n", "", "At most", words(most)),
    ];
    const WHERE: [(&str, &str); 5] = [
        ("", "where it stands"),
        ("fridge", "in the fridge"),
        ("freezer", "in the freezer"),
        ("cool", "in a cool place"),
        ("counter", "on the worktop"),
    ];
    fields.extend(place.map(|place| select("", "Where", &WHERE, place)));
    fields
}

fn touch(note: Option<&Note>) -> Vec<Control> {
    let (at, what, hands) = match note {
        Some(Note::Touch(touch)) => {
            let hands = Some(touch.hands_minutes).filter(|&minutes| minutes > 0);
            (touch.at_minutes.to_string(), touch.what.clone(), hands)
        }
        _ => (String::new(), String::new(), None),
    };
    let hands = hands.map(|minutes| minutes.to_string()).unwrap_or_default();
    vec![
        input("at", "n", "min:", "At minute", at),
        input("", "w", "", "Do what", what),
        input("", "n", "min of hands", "Minutes of hands for it", hands),
    ]
}

fn heat(kind: NoteKind, note: Option<&Note>) -> Vec<Control> {
    match (kind, note) {
        (NoteKind::Core, note) => {
            let (degrees, reheat) = match note {
                Some(Note::Core(core)) => (degrees_words(core.heat), core.reheat),
                _ => (String::new(), false),
            };
            const HOW: [(&str, &str); 2] = [("", "cooked"), ("reheat", "warmed again")];
            let how = if reheat { "reheat" } else { "" };
            vec![
                input("the middle has", "n", "", "Degrees in the middle", degrees),
                select("", "Cooked or warmed", &HOW, how),
            ]
        }
        (NoteKind::Check, note) => {
            let (every, most) = match note {
                Some(Note::Check(check)) => {
                    (check.every_minutes.to_string(), check.most.to_string())
                }
                _ => (String::new(), String::new()),
            };
            vec![
                input("every", "n", "min,", "Every so many minutes", every),
                input("at most", "n", "times", "At most so often", most),
            ]
        }
        (_, note) => {
            let (below, within) = match note {
                Some(Note::Chill(it)) => {
                    (degrees_words(it.below), minutes_words(it.within_minutes))
                }
                _ => (String::new(), String::new()),
            };
            vec![
                input("below", "n", "", "Below degrees", below),
                input("within", "n", "", "Within", within),
            ]
        }
    }
}

fn stop(note: Option<&Note>) -> Vec<Control> {
    const WHERE: [(&str, &str); 5] = [
        ("", "no stop"),
        ("fridge", "fridge"),
        ("freezer", "freezer"),
        ("cool", "cool place"),
        ("counter", "worktop"),
    ];
    const UNIT: [(&str, &str); 3] = [("days", "days"), ("h", "hours"), ("min", "minutes")];
    const BY: [(&str, &str); 3] =
        [("", "of the rule"), ("quality", "of taste"), ("safety", "of safety")];
    let stop = match note {
        Some(Note::Stop(stop)) => Some(stop),
        _ => None,
    };
    let (most, unit) = match stop.map(|stop| stop.most_minutes) {
        Some(minutes) if minutes % MINUTES_IN_DAY == 0 => {
            ((minutes / MINUTES_IN_DAY).to_string(), "days")
        }
        Some(minutes) if minutes % 60 == 0 => ((minutes / 60).to_string(), "h"),
        Some(minutes) => (minutes.to_string(), "min"),
        None => (String::new(), "days"),
    };
    let by = match stop.and_then(|stop| stop.by) {
        Some(By::Quality) => "quality",
        Some(By::Safety) => "safety",
        None => "",
    };
    let because = stop.and_then(|stop| stop.because.clone()).unwrap_or_default();
    vec![
        select("", "Where it waits", &WHERE, stop.map_or("", |stop| stop.place.word())),
        input("at most", "n", "", "At most, how long", most),
        select("", "Unit", &UNIT, unit),
        select("a limit", "Kind of limit", &BY, by),
        input("because", "w", "", "Because", because),
        input(
            "from the freezer",
            "w",
            "",
            "Thaw time, or: use frozen",
            stop.map(thaw).unwrap_or_default(),
        ),
    ]
}

fn thaw(stop: &Stop) -> String {
    match stop.from_freezer {
        Some(FromFreezer::Thaw { minutes }) => format!("thaw {}", minutes_words(minutes)),
        Some(FromFreezer::UseFrozen) => "use frozen".to_owned(),
        None => String::new(),
    }
}

fn tool(note: Option<&Note>) -> Vec<Control> {
    const HOW: [(&str, &str); 3] =
        [("use", "used"), ("keep", "left unwashed for the next step"), ("wash", "washed after it")];
    let (name, how) = match note {
        Some(Note::Tool(tool)) => {
            let how = match tool.how {
                ToolUse::Use => "use",
                ToolUse::Keep => "keep",
                ToolUse::Wash => "wash",
            };
            (tool.name.clone(), how)
        }
        _ => (String::new(), "use"),
    };
    vec![input("the", "w", "", "Machine or pan", name), select("", "How it is used", &HOW, how)]
}

fn serve(note: Option<&Note>) -> Vec<Control> {
    let (within, hot) = match note {
        Some(Note::Serve(serve)) => (minutes_words(serve.minutes), serve.hot),
        _ => (String::new(), false),
    };
    const HOW: [(&str, &str); 2] = [("", "hot or not"), ("hot", "hot")];
    let how = if hot { "hot" } else { "" };
    vec![input("within", "n", "", "Within", within), select("", "Hot", &HOW, how)]
}

fn room(kind: NoteKind, note: Option<&Note>) -> Vec<Control> {
    let figure = match note {
        Some(Note::Shelf(figure) | Note::Box(figure)) => figure_words(figure),
        _ => String::new(),
    };
    const SHELF: [(&str, &str); 3] =
        [("", "not said"), ("1", "a whole shelf"), ("1/2", "half a shelf")];
    const BOX: [(&str, &str); 3] = [("", "not said"), ("6", "half a shelf"), ("12", "a shelf")];
    let (choices, other, after) = match kind {
        NoteKind::Shelf => (SHELF, "or", "of a shelf"),
        _ => (BOX, "or", "litres"),
    };
    let is_listed = choices.iter().any(|(value, _)| *value == figure);
    let (chosen, typed) = if is_listed { (figure, String::new()) } else { (String::new(), figure) };
    vec![select("", "Room", &choices, &chosen), input(other, "n", after, "Another figure", typed)]
}

/// The words of the note that a row says; none when it is empty.
pub fn words(kind: NoteKind, row: &[String]) -> Option<String> {
    let at = |index: usize| row.get(index).map_or("", |it| it.trim());
    let minutes = |index: usize| with_unit(at(index), "min");
    let heat = |index: usize| with_unit(at(index), "C");
    let stretch = || match (at(0), at(1)) {
        (least, "") => with_unit(least, "min"),
        _ => format!("{} to {}", minutes(0), minutes(1)),
    };
    let room = || if at(1).is_empty() { at(0) } else { at(1) };
    let is_empty = match kind {
        NoteKind::Stop => at(0).is_empty() && at(1).is_empty(),
        NoteKind::Shelf | NoteKind::Box => room().is_empty(),
        NoteKind::Touch
        | NoteKind::Chill
        | NoteKind::Check
        | NoteKind::Oven
        | NoteKind::OvenOr
        | NoteKind::OwnOven => at(0).is_empty() && at(1).is_empty(),
        NoteKind::Wait | NoteKind::Rest => at(0).is_empty() && at(1).is_empty(),
        _ => at(0).is_empty(),
    };
    if is_empty {
        return None;
    }
    let words = match kind {
        NoteKind::Hands => format!("{} {}", minutes(0), at(1)),
        NoteKind::Oven => format!("oven {} {}", heat(0), stages(at(1))),
        NoteKind::OvenOr => format!("or oven {} {}", heat(0), stages(at(1))),
        NoteKind::OwnOven => format!("two ovens: {} {}", heat(0), stages(at(1))),
        NoteKind::Hob => format!("hob {} {}", minutes(0), at(1)),
        NoteKind::Wait if at(2).is_empty() => format!("wait {}", stretch()),
        NoteKind::Wait => format!("wait {} in {}", stretch(), at(2)),
        NoteKind::Rest => format!("rest {}", stretch()),
        NoteKind::Touch if at(2).is_empty() => format!("at {}: {}", minutes(0), at(1)),
        NoteKind::Touch => format!("at {}: {}, {}", minutes(0), at(1), minutes(2)),
        NoteKind::Core => format!("core {} {}", heat(0), at(1)),
        NoteKind::Check => format!("check {} x{}", minutes(0), at(1)),
        NoteKind::Chill => format!("chill {} {}", heat(0), minutes(1)),
        NoteKind::Stop => stop_words(row),
        NoteKind::Tool => format!("{} {}", at(1), at(0)),
        NoteKind::Serve => format!("serve {} within {}", at(1), minutes(0)),
        NoteKind::Shelf => format!("shelf {}", room()),
        NoteKind::Box => format!("box {}", with_unit(room(), "l")),
        NoteKind::Cold => format!("cold +{}", minutes(0)),
        NoteKind::Frozen => format!("frozen +{}", minutes(0)),
        NoteKind::BeforeServing => format!("{} before serving", minutes(0)),
        NoteKind::KindOfFood => format!("kind {}", at(0)),
        NoteKind::Mark | NoteKind::After => return None,
    };
    Some(words.split_whitespace().collect::<Vec<_>>().join(" "))
}

fn stop_words(row: &[String]) -> String {
    let at = |index: usize| row.get(index).map_or("", |it| it.trim());
    let mut words = format!("stop {} {}", at(0), with_unit(at(1), at(2)));
    if !at(3).is_empty() {
        words += &format!(" {}", at(3));
    }
    if !at(4).is_empty() {
        words += &format!(": {}", at(4));
    }
    if !at(5).is_empty() {
        words += &format!(", {}", at(5));
    }
    words
}

/// `40` means minutes; `40 then 180C 20 min` has more stages.
fn stages(typed: &str) -> String {
    match typed.split_once(" then ") {
        Some((first, rest)) => format!("{} then {rest}", with_unit(first, "min")),
        None => with_unit(typed, "min"),
    }
}

/// A bare figure gets its unit; what has one stays.
fn with_unit(typed: &str, unit: &str) -> String {
    let bare = |sign: char| sign.is_ascii_digit() || "./ ".contains(sign);
    let is_bare = !typed.trim().is_empty() && typed.chars().all(bare);
    if is_bare { format!("{} {unit}", typed.trim()) } else { typed.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every example of the card, shown in fields and sent back, says the same note.
    #[test]
    fn what_a_form_shows_is_what_it_says() {
        let more = [
            "8 min same",
            "wait 3 h to 24 h in fridge",
            "hob 8 min watch",
            "core 165F reheat",
            "oven 450F 12 min then 375F 15 min",
            "stop freezer 14 days quality: ice crystals, use frozen",
            "stop freezer 30 days, thaw 24 h",
            "stop cool 5 days: goes stale",
            "stop counter 2 h safety",
            "box 12 l",
            "shelf 1",
            "keep blender",
            "rest 15 min",
            "serve within 4 h",
        ];
        let examples = NoteKind::ALL.map(NoteKind::example);
        for example in examples.into_iter().chain(more) {
            let note = Note::read(example).unwrap().note;
            if matches!(note.kind(), NoteKind::Mark | NoteKind::After) {
                continue;
            }
            let mut step = Step::default();
            step.set(note.clone());
            let facts = facts(&step);
            let fact = facts.iter().find(|fact| fact.kind == note.kind()).unwrap();
            let row: Vec<_> = fact.rows[0].iter().map(|field| field.value.clone()).collect();
            let said = words(fact.kind, &row).unwrap();
            assert_eq!(Note::read(&said).map(|read| read.note), Ok(note), "{example}: {said}");
        }
    }

    #[test]
    fn an_empty_row_says_nothing() {
        for fact in facts(&Step::default()) {
            let row: Vec<_> = fact.rows[0].iter().map(|field| field.value.clone()).collect();
            assert_eq!(words(fact.kind, &row), None, "{}", fact.label);
        }
    }
}
