//! Where work may stop and how long it keeps, in JSON: what `keeps` prints.

use serde::Serialize;

use crate::domain::keeps::{Answer, DishKeeps, DishRoom, StopKeeps, StopLimit, TraceLine};

#[derive(Debug, Serialize)]
pub struct WrittenKeeps {
    letter: String,
    title: String,
    is_base: bool,
    stops: Vec<WrittenStop>,
    /// Raw foods with a clock from the day of buying.
    bought: Vec<WrittenBought>,
    bases: Vec<String>,
}

#[derive(Debug, Serialize)]
struct WrittenStop {
    part: String,
    step: u32,
    place: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    thaw_minutes: Option<u32>,
    /// Civil time in the zone of the table.
    earliest: String,
    reason: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    safety: Option<WrittenAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    quality: Option<WrittenAnswer>,
    /// Every figure that holds here, not only the one that binds.
    limits: Vec<WrittenLimit>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    impossible: Vec<String>,
    trace: Vec<WrittenTraceLine>,
}

#[derive(Debug, Serialize)]
struct WrittenLimit {
    by: String,
    /// `4 days, the day of making as day 1`.
    at_most: String,
    whose: String,
    because: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    source: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    status: Option<String>,
    from_step: u32,
}

/// Minutes a dish is out of the fridge over its life.
#[derive(Debug, Serialize)]
pub struct WrittenRoom {
    letter: String,
    title: String,
    minutes: u32,
    at_most_minutes: u32,
    is_within: bool,
    trace: Vec<WrittenTraceLine>,
}

impl From<&DishRoom> for WrittenRoom {
    fn from(room: &DishRoom) -> Self {
        let lines = room.clock.trace.lines.iter().chain([&room.clock.trace.answer]);
        Self {
            letter: room.letter.to_string(),
            title: room.title.clone(),
            minutes: room.clock.total_minutes,
            at_most_minutes: room.clock.limit_minutes,
            is_within: room.clock.is_within(),
            trace: lines.map(WrittenTraceLine::from).collect(),
        }
    }
}

impl From<&StopLimit> for WrittenLimit {
    fn from(limit: &StopLimit) -> Self {
        Self {
            by: limit.by.word().to_owned(),
            at_most: limit.clock.words(),
            whose: limit.whose.word().to_owned(),
            because: limit.because.clone(),
            source: limit.source.clone(),
            status: limit.status.map(|it| it.word().to_owned()),
            from_step: limit.from_step,
        }
    }
}

#[derive(Debug, Serialize)]
struct WrittenAnswer {
    earliest: String,
    reason: String,
}

#[derive(Debug, Serialize)]
struct WrittenTraceLine {
    figure: String,
    about: String,
    words: String,
}

#[derive(Debug, Serialize)]
struct WrittenBought {
    food: String,
    days: u32,
    not_before: String,
    sentence: String,
    source: String,
}

impl From<&Answer> for WrittenAnswer {
    fn from(answer: &Answer) -> Self {
        Self { earliest: answer.earliest.local.to_string(), reason: answer.reason.clone() }
    }
}

impl From<&TraceLine> for WrittenTraceLine {
    fn from(line: &TraceLine) -> Self {
        Self { figure: line.figure.clone(), about: line.small.clone(), words: line.words.clone() }
    }
}

impl From<&StopKeeps> for WrittenStop {
    fn from(stop: &StopKeeps) -> Self {
        let lines = stop.trace.lines.iter().chain([&stop.trace.answer]);
        Self {
            part: stop.part.clone(),
            step: stop.step,
            place: stop.place.word().to_owned(),
            thaw_minutes: stop.thaw_minutes,
            earliest: stop.earliest.local.to_string(),
            reason: stop.reason.clone(),
            safety: stop.safety.as_ref().map(WrittenAnswer::from),
            quality: stop.quality.as_ref().map(WrittenAnswer::from),
            limits: stop.limits.iter().map(WrittenLimit::from).collect(),
            impossible: stop.impossible.clone(),
            trace: lines.map(WrittenTraceLine::from).collect(),
        }
    }
}

impl From<&DishKeeps> for WrittenKeeps {
    fn from(dish: &DishKeeps) -> Self {
        Self {
            letter: dish.letter.to_string(),
            title: dish.title.clone(),
            is_base: dish.is_base,
            stops: dish.stops.iter().map(WrittenStop::from).collect(),
            bought: dish
                .bought
                .iter()
                .map(|it| WrittenBought {
                    food: it.food.clone(),
                    days: it.days,
                    not_before: it.not_before.local.to_string(),
                    sentence: it.sentence.clone(),
                    source: it.source.clone(),
                })
                .collect(),
            bases: dish.bases.clone(),
        }
    }
}
