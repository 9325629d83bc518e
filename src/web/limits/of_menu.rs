//! All limits of one menu: what binds where, the sum behind each on demand, raw foods from the shop,
//! and minutes out of the fridge. One page for a menu, a class and a home.

use askama::Template;

use crate::domain::caution::STANDING;
use crate::domain::keeps::{
    Bought, DishKeeps, DishRoom, StopKeeps, StopLimit, Whose, keeps, room_clocks,
};
use crate::domain::limit::{Age, Begun, Clock, FreezeDay, date_mark, span_words};
use crate::domain::menu::{Laid, Letter, Sitting};
use crate::domain::trace::TraceLine;
use crate::web::PageError;
use crate::web::frame::Frame;

/// What stands round the limits: where they belong to.
pub struct Around {
    pub frame: Frame,
    pub title: String,
    pub about: String,
    /// The page they belong to.
    pub back: (String, String),
    /// The rule sheet on paper.
    pub paper: String,
    /// Where the school changes a limit; none for a home.
    pub change: Option<String>,
}

#[derive(Template)]
#[template(path = "limits/menu.html")]
struct MenuLimitsPage {
    around: Around,
    frame: Frame,
    rules: String,
    version: String,
    standing: &'static str,
    rows: Vec<StopRow>,
    bought: Vec<BoughtRow>,
    rooms: Vec<RoomRow>,
    room_minutes: u32,
    room_source: String,
    refused: Vec<String>,
}

struct StopRow {
    letter: Letter,
    is_base: bool,
    what: String,
    place: &'static str,
    at_most: String,
    by: &'static str,
    because: String,
    whose: String,
    earliest: String,
    until: String,
    sums: Vec<Sum>,
}

/// A sum with its heading: each line is figure, what is beneath it, and words.
struct Sum {
    title: String,
    lines: Vec<(String, String, String)>,
    answer: (String, String),
}

struct BoughtRow {
    letter: Letter,
    is_base: bool,
    sentence: String,
    sum: Option<Sum>,
}

struct RoomRow {
    letter: Letter,
    is_base: bool,
    title: String,
    minutes: u32,
    is_within: bool,
    sum: Sum,
}

/// The whole page.
pub fn page(around: Around, laid: &Laid, sitting: &Sitting) -> Result<String, PageError> {
    let profile = &laid.profile;
    let all = keeps(laid, sitting);
    let rooms = room_clocks(laid, sitting);
    let refused = all.iter().flat_map(|dish| {
        dish.stops.iter().flat_map(move |stop| {
            stop.impossible.iter().map(move |why| format!("{} {}: {why}", dish.letter, stop.what))
        })
    });
    let page = MenuLimitsPage {
        frame: around.frame.clone(),
        rules: profile.base.title().to_owned(),
        version: super::page::version(profile),
        standing: STANDING,
        refused: refused.collect(),
        rows: all
            .iter()
            .flat_map(|dish| dish.stops.iter().map(|it| stop_row(dish, it, sitting)))
            .collect(),
        bought: all
            .iter()
            .flat_map(|dish| dish.bought.iter().map(|it| bought_row(dish, it)))
            .collect(),
        room_minutes: profile.room_minutes(),
        room_source: profile.room_source().to_owned(),
        rooms: rooms.iter().map(room_row).collect(),
        around,
    };
    Ok(page.render()?)
}

fn stop_row(dish: &DishKeeps, stop: &StopKeeps, sitting: &Sitting) -> StopRow {
    let zone = &sitting.serve.zone;
    let binding = stop.binding();
    let mut sums = vec![sum("Counted back from the table", &stop.trace.lines, &stop.trace.answer)];
    let until = match stop.keep_until(Age::fresh(stop.earliest.at), &[], zone) {
        Ok(kept) => {
            sums.push(sum(
                "Made at the earliest moment, until when it keeps",
                &kept.trace.lines,
                &kept.trace.answer,
            ));
            kept.until.to_string()
        }
        Err(why) => why,
    };
    sums.extend(day_by_day(stop));
    StopRow {
        letter: dish.letter,
        is_base: dish.is_base,
        what: format!("{}, step {}", stop.what, stop.step),
        place: stop.place.word(),
        at_most: binding.map(short).unwrap_or_default(),
        by: binding.map_or("", |it| it.by.word()),
        because: binding.map(|it| it.because.clone()).unwrap_or_default(),
        whose: binding.map(whose).unwrap_or_default(),
        earliest: stop.earliest.to_string(),
        until,
        sums,
    }
}

/// The calendar count that is strictest, each day by its name.
fn day_by_day(stop: &StopKeeps) -> Option<Sum> {
    let days = stop.limits.iter().filter_map(|limit| match limit.clock {
        Clock::Days(days) if days > 0 => Some(days),
        _ => None,
    });
    let days = days.min()?;
    let on = stop.earliest.local.date();
    let what = format!("{} made", stop.what);
    let mark = date_mark(days, &[Begun { what: &what, on }], None, FreezeDay::Counts).ok()?;
    let title = "Day by day, made on the earliest day";
    Some(sum(title, &mark.trace.lines, &mark.trace.answer))
}

/// `4 days`, `90 minutes`: the figure without its clock.
fn short(limit: &StopLimit) -> String {
    match limit.clock {
        Clock::Elapsed(minutes) => span_words(minutes),
        Clock::Days(0) => "not at all".to_owned(),
        Clock::Days(1) => "1 day".to_owned(),
        Clock::Days(days) => format!("{days} days"),
    }
}

fn whose(limit: &StopLimit) -> String {
    match (&limit.whose, limit.status) {
        (Whose::Card, _) => "the card".to_owned(),
        (Whose::School, _) => "the school".to_owned(),
        (Whose::Rule(_), Some(status)) => format!("{}; {}", limit.source, status.said()),
        (Whose::Rule(_), None) => limit.source.clone(),
    }
}

fn bought_row(dish: &DishKeeps, it: &Bought) -> BoughtRow {
    let on = it.not_before.local.date();
    let mark = crate::domain::limit::bought(it.days, &it.food, on, None, None).ok();
    BoughtRow {
        letter: dish.letter,
        is_base: dish.is_base,
        sentence: it.sentence.clone(),
        sum: mark.map(|it| sum("From the shop", &it.trace.lines, &it.trace.answer)),
    }
}

fn room_row(room: &DishRoom) -> RoomRow {
    RoomRow {
        letter: room.letter,
        is_base: room.is_base,
        title: room.title.clone(),
        minutes: room.clock.total_minutes,
        is_within: room.clock.is_within(),
        sum: sum("All stretches", &room.clock.trace.lines, &room.clock.trace.answer),
    }
}

fn sum(title: &str, lines: &[TraceLine], answer: &TraceLine) -> Sum {
    let line = |it: &TraceLine| (it.figure.clone(), it.small.clone(), it.words.clone());
    Sum {
        title: title.to_owned(),
        lines: lines.iter().map(line).collect(),
        answer: (answer.figure.clone(), answer.words.clone()),
    }
}
