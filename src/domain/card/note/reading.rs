//! How the words between brackets become a note, and the bounds of every figure.

use num_rational::BigRational;

use super::{Note, NoteKind, ReadNote, Unread};
use crate::domain::card::step::{
    By, Check, Chill, Core, FromFreezer, Hands, Hob, Mark, Place, Rest, ServeWithin, Setting,
    Stage, StepRef, Stop, Tool, ToolUse, Touch, Wait,
};
use crate::domain::card::words::{Cursor, Figure, MINUTES_IN_DAY, Stretch};
use crate::domain::heat::{Degrees, Scale};

const WORK_MINUTES_MAX: u32 = 3 * MINUTES_IN_DAY;
const HOLD_MINUTES_MAX: u32 = 3 * 365 * MINUTES_IN_DAY;
const BOX_LITRES_MAX: u32 = 500;
const CHECKS_MAX: u32 = 50;

/// Which note the first words announce; they are taken, unless they carry the meaning themselves.
pub(super) fn opening(cursor: &mut Cursor<'_>) -> Option<NoteKind> {
    if Mark::ALL.iter().any(|mark| Cursor::new(cursor.rest()).word(mark.words())) {
        return Some(NoteKind::Mark);
    }
    if Cursor::new(cursor.rest()).figure().is_some() {
        return Some(NoteKind::Hands);
    }
    if ["use", "keep", "wash"].iter().any(|word| Cursor::new(cursor.rest()).word(word)) {
        return Some(NoteKind::Tool);
    }
    OPENINGS.iter().find_map(|(words, kind)| cursor.word(words).then_some(*kind))
}

const OPENINGS: [(&str, NoteKind); 19] = [
    ("two ovens", NoteKind::OwnOven),
    ("own oven", NoteKind::OwnOven),
    ("or oven", NoteKind::OvenOr),
    ("oven", NoteKind::Oven),
    ("wait", NoteKind::Wait),
    ("cold", NoteKind::Cold),
    ("frozen", NoteKind::Frozen),
    ("shelf", NoteKind::Shelf),
    ("hob", NoteKind::Hob),
    ("at", NoteKind::Touch),
    ("core", NoteKind::Core),
    ("check", NoteKind::Check),
    ("rest", NoteKind::Rest),
    ("chill", NoteKind::Chill),
    ("stop", NoteKind::Stop),
    ("box", NoteKind::Box),
    ("serve", NoteKind::Serve),
    ("after", NoteKind::After),
    ("kind", NoteKind::KindOfFood),
];

pub(super) fn body(kind: NoteKind, mut cursor: Cursor<'_>) -> Option<ReadNote> {
    let cursor = &mut cursor;
    let mut is_reversed = false;
    let note = match kind {
        NoteKind::Hands | NoteKind::BeforeServing => hands_or_before(cursor),
        NoteKind::Wait => wait(cursor, &mut is_reversed),
        NoteKind::Oven => setting(cursor).map(Note::Oven),
        NoteKind::OvenOr => setting(cursor).map(Note::OvenOr),
        NoteKind::OwnOven => setting(cursor).map(Note::OwnOven),
        NoteKind::Cold => extra(cursor).map(Note::Cold),
        NoteKind::Frozen => extra(cursor).map(Note::Frozen),
        NoteKind::Shelf => cursor.figure().map(|share| Note::Shelf(share.fraction())),
        NoteKind::Hob => cursor.minutes().map(|minutes| {
            cursor.sign(&[',']);
            Note::Hob(Hob { minutes, watch: cursor.word("watch") })
        }),
        NoteKind::Touch => touch(cursor),
        NoteKind::Core => cursor.degrees().map(|heat| {
            cursor.sign(&[',']);
            Note::Core(Core { heat, reheat: cursor.any(&["reheat", "reheated"]) })
        }),
        NoteKind::Check => check(cursor),
        NoteKind::Rest => cursor.stretch().map(|stretch| {
            is_reversed = stretch.is_reversed();
            Note::Rest(Rest {
                least_minutes: stretch.least_minutes(),
                most_minutes: stretch.most_minutes(),
            })
        }),
        NoteKind::Chill => chill(cursor),
        NoteKind::Stop => stop(cursor),
        NoteKind::Box => litres(cursor).map(Note::Box),
        NoteKind::Tool => tool(cursor),
        NoteKind::Mark => mark(cursor),
        NoteKind::Serve => serve(cursor),
        NoteKind::After => after(cursor),
        NoteKind::KindOfFood => {
            let words = take_rest(cursor);
            (!words.is_empty()).then_some(Note::KindOfFood(words))
        }
    };
    let note = note.filter(|_| cursor.is_done())?;
    Some(ReadNote { note, is_reversed })
}

fn take_rest(cursor: &mut Cursor<'_>) -> String {
    let words = cursor.rest().split_whitespace().collect::<Vec<_>>().join(" ");
    *cursor = Cursor::new("");
    words
}

/// `8 min`, `8 min same`, `20 min before serving`.
fn hands_or_before(cursor: &mut Cursor<'_>) -> Option<Note> {
    let minutes = cursor.minutes()?;
    if cursor.any(&["before serving", "before it is served"]) {
        return Some(Note::BeforeServing(minutes));
    }
    cursor.sign(&[',']);
    Some(Note::Hands(Hands { minutes, scales: !cursor.word("same") }))
}

/// `wait 3 h to 24 h in fridge`.
fn wait(cursor: &mut Cursor<'_>, is_reversed: &mut bool) -> Option<Note> {
    let stretch: Stretch = cursor.stretch()?;
    *is_reversed = stretch.is_reversed();
    cursor.sign(&[',']);
    let place = if cursor.any(&["in the", "in a", "in", "on the", "on", "at the"]) {
        Some(place(cursor)?)
    } else {
        place(cursor)
    };
    Some(Note::Wait(Wait {
        least_minutes: stretch.least_minutes(),
        most_minutes: stretch.most_minutes(),
        place,
    }))
}

fn place(cursor: &mut Cursor<'_>) -> Option<Place> {
    const PLACES: [(&[&str], Place); 4] = [
        (&["fridge", "refrigerator"], Place::Fridge),
        (&["freezer"], Place::Freezer),
        (&["cool place", "cool"], Place::Cool),
        (&["counter", "worktop"], Place::Counter),
    ];
    PLACES.iter().find_map(|(words, place)| cursor.any(words).then_some(*place))
}

/// `450F 15 min then 375F 42 min`.
fn setting(cursor: &mut Cursor<'_>) -> Option<Setting> {
    cursor.sign(&[':']);
    let mut stages = vec![stage(cursor)?];
    loop {
        let start = *cursor;
        cursor.sign(&[',']);
        if !cursor.any(&["and then", "then"]) {
            *cursor = start;
            return Some(Setting { stages });
        }
        stages.push(stage(cursor)?);
    }
}

/// `200C 40 min`, either first.
fn stage(cursor: &mut Cursor<'_>) -> Option<Stage> {
    cursor.word("at");
    if let Some(heat) = cursor.degrees() {
        cursor.sign(&[',']);
        cursor.word("for");
        return Some(Stage { heat, minutes: cursor.minutes()? });
    }
    let minutes = cursor.minutes()?;
    cursor.sign(&[',']);
    cursor.word("at");
    Some(Stage { heat: cursor.degrees()?, minutes })
}

/// `+10 min`.
fn extra(cursor: &mut Cursor<'_>) -> Option<u32> {
    cursor.sign(&[':']);
    cursor.sign(&['+']);
    cursor.minutes().filter(|_| {
        cursor.any(&["more", "longer", "extra"]);
        true
    })
}

/// `at 25 min: turn, 4 min`.
fn touch(cursor: &mut Cursor<'_>) -> Option<Note> {
    let at_minutes = cursor.minutes()?;
    cursor.sign(&[':', ',']);
    let words = take_rest(cursor);
    let (what, hands_minutes) = match words.rsplit_once(',') {
        Some((what, last)) => {
            let mut last = Cursor::new(last);
            match last.minutes().filter(|_| last.is_done()) {
                Some(minutes) => (what.trim().to_owned(), minutes),
                None => (words, 0),
            }
        }
        None => (words, 0),
    };
    (!what.is_empty()).then_some(Note::Touch(Touch { at_minutes, what, hands_minutes }))
}

/// `5 min x4`.
fn check(cursor: &mut Cursor<'_>) -> Option<Note> {
    cursor.word("every");
    let every_minutes = cursor.minutes()?;
    cursor.sign(&[',']);
    let signed = cursor.sign(&['x', 'X', '×']);
    let most = cursor.whole()?;
    (signed || cursor.any(&["times"])).then_some(Note::Check(Check { every_minutes, most }))
}

/// `21C 2 h`.
fn chill(cursor: &mut Cursor<'_>) -> Option<Note> {
    cursor.any(&["below", "to"]);
    let below = cursor.degrees()?;
    cursor.sign(&[',']);
    cursor.any(&["within", "in"]);
    Some(Note::Chill(Chill { below, within_minutes: cursor.minutes()? }))
}

/// `freezer 30 days quality: colour, thaw 24 h`.
fn stop(cursor: &mut Cursor<'_>) -> Option<Note> {
    cursor.any(&["in the", "in"]);
    let place = place(cursor)?;
    cursor.sign(&[',', ':']);
    cursor.any(&["at most", "up to"]);
    let most_minutes = cursor.minutes()?;
    cursor.sign(&[',']);
    let words = take_rest(cursor);
    let (words, from_freezer) = split_thaw(&words);
    let mut cursor = Cursor::new(words);
    let by = if cursor.word("safety") {
        Some(By::Safety)
    } else if cursor.word("quality") {
        Some(By::Quality)
    } else {
        None
    };
    let colon = cursor.sign(&[':']);
    let reason = take_rest(&mut cursor);
    if by.is_none() && !colon && !reason.is_empty() {
        return None;
    }
    let because = (!reason.is_empty()).then_some(reason);
    Some(Note::Stop(Stop { place, most_minutes, by, because, from_freezer }))
}

/// What the end of a stop says of the way out of the freezer, and the words before it.
fn split_thaw(words: &str) -> (&str, Option<FromFreezer>) {
    let read = |tail: &str| {
        let mut cursor = Cursor::new(tail);
        let from = if cursor.word("thaw") {
            FromFreezer::Thaw { minutes: cursor.minutes()? }
        } else if cursor.word("use frozen") {
            FromFreezer::UseFrozen
        } else {
            return None;
        };
        cursor.is_done().then_some(from)
    };
    if let Some(from) = read(words) {
        return ("", Some(from));
    }
    match words.rsplit_once(',') {
        Some((before, tail)) => match read(tail) {
            Some(from) => (before.trim(), Some(from)),
            None => (words, None),
        },
        None => (words, None),
    }
}

/// `2.4 l`, `500 ml`.
fn litres(cursor: &mut Cursor<'_>) -> Option<BigRational> {
    let figure = cursor.figure()?;
    let mut unit = Cursor::new(cursor.rest());
    let per_litre = if unit.any(&["ml", "millilitres"]) {
        1000
    } else if unit.any(&["l", "litres", "litre", "liters", "liter"]) {
        1
    } else {
        return None;
    };
    *cursor = unit;
    Figure::of(figure.numerator.into(), u64::from(figure.denominator) * per_litre)
        .map(Figure::fraction)
}

fn tool(cursor: &mut Cursor<'_>) -> Option<Note> {
    let how = if cursor.word("use") {
        ToolUse::Use
    } else if cursor.word("keep") {
        ToolUse::Keep
    } else if cursor.word("wash") {
        ToolUse::Wash
    } else {
        return None;
    };
    let name = take_rest(cursor);
    (!name.is_empty()).then_some(Note::Tool(Tool { name, how }))
}

fn mark(cursor: &mut Cursor<'_>) -> Option<Note> {
    Mark::ALL.into_iter().find(|mark| cursor.word(mark.words())).map(Note::Mark)
}

/// `hot within 20 min`.
fn serve(cursor: &mut Cursor<'_>) -> Option<Note> {
    let mut hot = cursor.word("hot");
    cursor.word("within");
    let minutes = cursor.minutes()?;
    hot |= cursor.word("hot");
    Some(Note::Serve(ServeWithin { minutes, hot }))
}

/// `peach layer 2`; `2` alone is a step of the same part.
fn after(cursor: &mut Cursor<'_>) -> Option<Note> {
    let words = take_rest(cursor);
    let (part, number) = words.rsplit_once(' ').unwrap_or(("", words.as_str()));
    let number = number.parse().ok()?;
    let part = if part.eq_ignore_ascii_case("step") { "" } else { part };
    Some(Note::After(StepRef { part: part.to_owned(), number }))
}

pub(super) fn bounded(note: &Note) -> Result<(), Unread> {
    let allowed = match note {
        Note::Oven(setting) | Note::OvenOr(setting) | Note::OwnOven(setting) => {
            let hot = setting.stages.iter().all(|stage| within(stage.heat, (40, 350), (100, 660)));
            let worth = setting.stages.iter().all(|stage| stage.minutes > 0);
            let short =
                setting.stages.iter().try_fold(0_u32, |sum, it| sum.checked_add(it.minutes));
            (!(hot && worth && short.is_some_and(|it| it <= WORK_MINUTES_MAX)))
                .then_some("40 to 350 C or 100 to 660 F, for 1 minute to 3 days")
        }
        Note::Core(core) => {
            (!within(core.heat, (30, 120), (90, 250))).then_some("30 to 120 C or 90 to 250 F")
        }
        Note::Chill(chill) => {
            (!within(chill.below, (-30, 40), (-20, 105))).then_some("below 40 C or 105 F")
        }
        Note::Shelf(share) => (!is_share(share)).then_some("more than 0 and at most 1"),
        Note::Box(litres) => {
            let most = BigRational::from_integer(BOX_LITRES_MAX.into());
            (litres <= &BigRational::default() || litres > &most).then_some("up to 500 litres")
        }
        Note::Check(check) => {
            (check.every_minutes == 0 || check.most == 0 || check.most > CHECKS_MAX)
                .then_some("every minute or more, 1 to 50 times")
        }
        Note::Stop(stop) => {
            let thaw = match stop.from_freezer {
                Some(FromFreezer::Thaw { minutes }) => minutes,
                _ => 0,
            };
            (stop.most_minutes == 0
                || stop.most_minutes > HOLD_MINUTES_MAX
                || thaw > HOLD_MINUTES_MAX)
                .then_some("up to 3 years")
        }
        Note::Wait(Wait { least_minutes, most_minutes, .. }) => {
            let most = most_minutes.unwrap_or(*least_minutes);
            (most > 60 * MINUTES_IN_DAY).then_some("up to 60 days")
        }
        Note::Rest(Rest { least_minutes, most_minutes }) => {
            (most_minutes.unwrap_or(*least_minutes) > WORK_MINUTES_MAX).then_some("up to 3 days")
        }
        Note::Hands(Hands { minutes, .. })
        | Note::Hob(Hob { minutes, .. })
        | Note::Cold(minutes)
        | Note::Frozen(minutes)
        | Note::BeforeServing(minutes)
        | Note::Serve(ServeWithin { minutes, .. }) => {
            (*minutes > WORK_MINUTES_MAX).then_some("up to 3 days")
        }
        Note::Touch(touch) => {
            (touch.at_minutes.max(touch.hands_minutes) > WORK_MINUTES_MAX).then_some("up to 3 days")
        }
        Note::Tool(_) | Note::Mark(_) | Note::After(_) | Note::KindOfFood(_) => None,
    };
    allowed.map_or(Ok(()), |allowed| Err(Unread::OutOfBounds { kind: note.kind(), allowed }))
}

/// Over 0 and up to 1.
pub fn is_share(share: &BigRational) -> bool {
    share > &BigRational::default() && share <= &BigRational::from_integer(1.into())
}

const fn within(heat: Degrees, celsius: (i32, i32), fahrenheit: (i32, i32)) -> bool {
    let (low, high) = match heat.scale {
        Scale::Celsius => celsius,
        Scale::Fahrenheit => fahrenheit,
    };
    low <= heat.figure && heat.figure <= high
}
