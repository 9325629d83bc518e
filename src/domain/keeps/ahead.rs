//! What to make on which day, from the limits alone: the sheet a home works from before there is a
//! plan with clock times.

use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};
use num_rational::BigRational;
use num_traits::Zero;

use super::how_much::{factor, litres, passive, passive_wait, said, scaled_hands};
use super::inside::{Walk, all_steps};
use super::stop::minutes_before;
use super::{DishKeeps, Inner, Moment, StopKeeps, Trace, keeps};
use crate::domain::card::{Place, Source, Step, StepAt};
use crate::domain::limit::{Age, Frozen, day_start, span_words};
use crate::domain::menu::{Laid, LaidDish, Letter, Sitting};

/// Whether work is done as late as the limits allow, or as early.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Prefer {
    #[default]
    Late,
    Early,
}

/// The days before the table, and the day itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ahead {
    /// In order; the serving day stands last, also when nothing is left for it.
    pub days: Vec<AheadDay>,
    /// Finished sentences: what the limits or the freezer do not allow, and what to do instead.
    pub refused: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AheadDay {
    pub date: Date,
    /// `Thursday 24 June`.
    pub title: String,
    pub is_serving_day: bool,
    /// Sum of the jobs' minutes at work.
    pub hands_minutes: u32,
    pub jobs: Vec<AheadJob>,
    /// What is moved from the freezer to the fridge on this day.
    pub thaw: Vec<Thaw>,
    /// What leaves fridge, freezer or shelf on the serving day.
    pub take_out: Vec<TakeOut>,
}

/// One box: the steps that fill it, and its label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AheadJob {
    /// Number of the label, from 1 in the order of work.
    pub label: u32,
    pub letter: Letter,
    pub dish: String,
    pub is_base: bool,
    pub what: String,
    /// Numbers and words of the steps, in the order of the card.
    pub steps: Vec<(u32, String)>,
    pub hands_minutes: u32,
    /// A step had no minutes of its own: five were taken, our estimate.
    pub is_estimate: bool,
    pub tools: Vec<String>,
    pub place: Place,
    /// For this table: `1.2 l`; empty when the card gives no box.
    pub litres: String,
    pub is_raw: bool,
    /// The earliest moment the limits allow.
    pub not_before: Moment,
    /// When the work of this job ends at the earliest on its day: 08:00, or the hour the limit opens.
    /// `keep_until` counts from here, so it holds for anything made later that day.
    pub planned: Moment,
    /// The latest moment it may be finished and still be ready for the table.
    pub latest: Moment,
    pub keep_until: Moment,
    pub because: String,
    pub trace: Trace,
    /// `finish 5, Courgette and tomato bake`: where it is used.
    pub next_use: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thaw {
    pub label: u32,
    pub letter: Letter,
    pub what: String,
    pub at: Moment,
    /// `Move box 2 to the fridge by Friday 25 June, 17:00: it needs 1 day to thaw.`
    pub sentence: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakeOut {
    pub label: u32,
    pub letter: Letter,
    pub what: String,
    pub place: Place,
    pub next_use: String,
}

/// Minutes of hands on one day before work moves to an earlier one. Ours: an evening.
const DAY_MINUTES: u32 = 120;
/// Taken for a step without minutes, marked as our estimate (decision 22).
const STEP_MINUTES: u32 = 5;
const MORNING_HOURS: i64 = 8;

/// Lays the work out by day. The days run from the shopping trip to the table.
pub fn ahead(laid: &Laid, sitting: &Sitting, prefer: Prefer) -> Ahead {
    let all = keeps(laid, sitting);
    let mut refused = Vec::new();
    let mut drafts = Vec::new();
    let mut freezer = Freezer::of(sitting);
    for dish in &all {
        let Some(from) = laid.dishes.iter().find(|it| it.id == dish.dish) else { continue };
        drafts.extend(drafts_of(laid, sitting, dish, from, &mut freezer, &mut refused));
    }
    place(&mut drafts, sitting, prefer);
    drafts.sort_by_key(|draft| (draft.day, !draft.dish.is_base, draft.earliest_order));
    days(sitting, drafts, refused)
}

/// A job without its day.
struct Draft<'a> {
    dish: &'a DishKeeps,
    stop: StopKeeps,
    steps: Vec<&'a Step>,
    factor: BigRational,
    next_use: String,
    after_minutes: u32,
    /// Cannot be made before the food may be bought.
    buy_from: Option<Date>,
    /// The card's way without a freezer, where there is no room.
    instead: Option<&'a str>,
    day: Date,
    earliest_order: usize,
}

struct Freezer {
    left: Option<BigRational>,
}

impl Freezer {
    fn of(sitting: &Sitting) -> Self {
        Self { left: sitting.freezer_litres.map(|it| BigRational::from_integer(it.into())) }
    }

    fn takes(&mut self, litres: &BigRational) -> bool {
        match &mut self.left {
            None => true,
            Some(left) if *left >= *litres => {
                *left -= litres;
                true
            }
            Some(_) => false,
        }
    }
}

fn drafts_of<'a>(
    laid: &'a Laid,
    sitting: &Sitting,
    dish: &'a DishKeeps,
    from: &'a LaidDish,
    freezer: &mut Freezer,
    refused: &mut Vec<String>,
) -> Vec<Draft<'a>> {
    let walk = Walk::of(&from.card);
    let factor = factor(laid, sitting, from);
    let stops = chosen_stops(sitting, dish, &factor, freezer, refused, from);
    let mut drafts: Vec<Draft<'a>> = Vec::new();
    let mut taken: Vec<StepAt> = Vec::new();
    for (order, stop) in stops.into_iter().enumerate() {
        let own: Vec<StepAt> = all_steps(&from.card)
            .filter(|it| *it == stop.at || walk.comes_before(*it, stop.at))
            .filter(|it| !taken.contains(it))
            .collect();
        taken.extend(&own);
        let next = walk.after(stop.at).next();
        let next_use = next.map_or_else(
            || used_in(laid, &dish.title),
            |it| format!("step {}", walk.step(it).number),
        );
        let after = walk.after(stop.at).map(|it| passive(walk.step(it))).sum::<u32>();
        let own_wait = passive_wait(walk.step(stop.at));
        let raw =
            stop.is_raw.then(|| dish.bought.iter().map(|it| it.not_before.local.date()).max());
        drafts.push(Draft {
            dish,
            steps: own.iter().map(|it| walk.step(*it)).collect(),
            factor: factor.clone(),
            next_use,
            after_minutes: after + own_wait + stop.thaw_minutes.unwrap_or(0),
            buy_from: raw.flatten(),
            instead: from.card.no_freezer.as_deref().filter(|_| {
                !dish.stops.iter().any(|it| it.at == stop.at && it.place == stop.place)
            }),
            day: sitting.serve.local.date(),
            earliest_order: order,
            stop,
        });
    }
    drafts
}

/// One stop for each step that has any: the fridge where there is one, else the freezer with room.
fn chosen_stops(
    sitting: &Sitting,
    dish: &DishKeeps,
    factor: &BigRational,
    freezer: &mut Freezer,
    refused: &mut Vec<String>,
    from: &LaidDish,
) -> Vec<StopKeeps> {
    let mut chosen: Vec<StopKeeps> = Vec::new();
    for stop in &dish.stops {
        if chosen.iter().any(|it| it.at == stop.at) {
            continue;
        }
        let others = dish.stops.iter().filter(|it| it.at == stop.at);
        let cold = others.clone().find(|it| it.place != Place::Freezer);
        let Some(stop) = cold.or(Some(stop)).filter(|it| it.impossible.is_empty()) else {
            refused.extend(stop.impossible.iter().map(|it| format!("{}: {it}", dish.title)));
            continue;
        };
        let litres = litres(stop, factor);
        if stop.place == Place::Freezer && !freezer.takes(&litres) {
            refused.push(no_room(sitting, from, stop, &litres));
            chosen.extend(instead(sitting, from, stop));
            continue;
        }
        chosen.push(stop.clone());
    }
    chosen
}

fn no_room(sitting: &Sitting, from: &LaidDish, stop: &StopKeeps, litres: &BigRational) -> String {
    let free = sitting.freezer_litres.unwrap_or(0);
    let say = from.card.no_freezer.as_deref();
    let say = say.map_or_else(
        || "The card has no other way: leave it out, or make room.".to_owned(),
        |words| format!("Instead: {words}."),
    );
    format!(
        "{} {}: the freezer has {free} l free and it needs {}. {say}",
        from.letter,
        stop.what,
        said(litres)
    )
}

/// The author's way without a freezer, where it names a place and a limit: `fridge at most 1 day`.
fn instead(sitting: &Sitting, from: &LaidDish, stop: &StopKeeps) -> Option<StopKeeps> {
    let words = from.card.no_freezer.as_deref()?.to_lowercase();
    let after = words.split("fridge at most ").nth(1)?;
    let mut parts = after.split_whitespace();
    let count: u32 = parts.next()?.parse().ok()?;
    let unit = parts.next()?;
    let minutes = if unit.starts_with("day") { count * 1_440 } else { count * 60 };
    let zone = &sitting.serve.zone;
    let earliest = Moment::of(minutes_before(sitting.serve.instant(), minutes), zone);
    let mut other = stop.clone();
    other.place = Place::Fridge;
    other.is_used_frozen = false;
    other.what = format!("{}, without a freezer", from.title);
    other.limits.retain(|limit| limit.leaves_out_frozen);
    let mut own = stop.limits.first()?.clone();
    own.clock = crate::domain::limit::Clock::Elapsed(minutes);
    own.leaves_out_frozen = true;
    "the card's way without a freezer".clone_into(&mut own.because);
    other.reason = own.sentence();
    other.limits.insert(0, own);
    other.earliest = other.earliest.max(earliest);
    if other.earliest == stop.earliest || earliest > other.earliest {
        other.earliest = earliest;
    }
    Some(other)
}

/// The day of each job: the latest legal one, earlier where a day is full, or the earliest.
fn place(drafts: &mut [Draft<'_>], sitting: &Sitting, prefer: Prefer) {
    let serving = sitting.serve.local.date();
    let eve = serving.saturating_sub(1.day());
    let first = sitting.shop_on.unwrap_or(eve).min(eve);
    let legal = |draft: &Draft<'_>| {
        let from = draft.stop.earliest.local.date().max(first);
        draft.buy_from.map_or(from, |buy| from.max(buy))
    };
    for draft in drafts.iter_mut() {
        let from = legal(draft);
        draft.day = match prefer {
            Prefer::Early => from.min(serving),
            Prefer::Late => eve.max(from).min(serving),
        };
    }
    let mut order: Vec<usize> = (0..drafts.len()).collect();
    order.sort_by_key(|it| drafts[*it].stop.earliest);
    for index in order {
        let day = drafts[index].day;
        let sum = |on: Date| -> u32 {
            drafts.iter().filter(|it| it.day == on).map(|it| it.minutes().0).sum()
        };
        let before = day.saturating_sub(1.day());
        let may = before >= legal(&drafts[index]);
        if prefer == Prefer::Late && may && sum(day) > DAY_MINUTES && sum(before) < DAY_MINUTES {
            drafts[index].day = before;
        }
    }
    keep_order(drafts);
}

/// A job never stands on a later day than what is made from it.
fn keep_order(drafts: &mut [Draft<'_>]) {
    for index in 0..drafts.len() {
        for other in 0..drafts.len() {
            let (one, two) = (&drafts[index], &drafts[other]);
            let feeds = two.dish.bases.iter().any(|title| {
                one.dish.is_base && title.to_lowercase() == one.dish.title.to_lowercase()
            });
            let same = one.dish.dish == two.dish.dish && one.earliest_order < two.earliest_order;
            let used_ahead = same || (feeds && two.uses(&one.dish.title));
            if used_ahead && one.day > two.day {
                let day = two.day;
                drafts[index].day = day;
            }
        }
    }
}

impl Draft<'_> {
    fn minutes(&self) -> (u32, bool) {
        let mut estimated = false;
        let mut sum = 0;
        for step in &self.steps {
            let watched = step.hob.filter(|hob| hob.watch).map_or(0, |hob| hob.minutes);
            let touches: u32 = step.touches.iter().map(|it| it.hands_minutes).sum();
            let hands = match step.hands {
                Some(hands) if hands.scales => scaled_hands(hands.minutes, &self.factor),
                Some(hands) => hands.minutes,
                None if watched + touches > 0 || step.hob.is_some() || step.wait.is_some() => 0,
                None => {
                    estimated = true;
                    STEP_MINUTES
                }
            };
            sum += hands + watched + touches;
        }
        (sum, estimated)
    }

    /// When the work is over at the earliest: in the morning of its day, or when the limit opens.
    fn age(&self, sitting: &Sitting) -> Age {
        let morning = day_start(self.day, &sitting.serve.zone)
            .saturating_add(jiff::SignedDuration::from_hours(MORNING_HOURS))
            .unwrap_or(Timestamp::MAX);
        let made_at = morning.max(self.stop.earliest.at);
        let thaw_at = self.stop.thaw_minutes.map(|it| minutes_before(sitting.serve.instant(), it));
        Age { made_at, frozen: thaw_at.map(|thaw_at| Frozen { at: made_at.min(thaw_at), thaw_at }) }
    }

    /// The steps in the author's words; without a freezer its own way in place of the freezing.
    fn said_steps(&self) -> Vec<(u32, String)> {
        let freezes = |it: &Step| it.wait.is_some_and(|wait| wait.place == Some(Place::Freezer));
        let mut said: Vec<(u32, String)> = self
            .steps
            .iter()
            .filter(|it| self.instead.is_none() || !freezes(it))
            .map(|it| (it.number, it.text.clone()))
            .collect();
        said.extend(
            self.instead.map(|words| (self.stop.step, format!("Without a freezer: {words}"))),
        );
        said
    }

    fn uses(&self, base: &str) -> bool {
        let entries = self.steps.iter().flat_map(|step| &step.goes_in);
        entries.into_iter().any(|entry| match &entry.source {
            Some(Source::Base(title)) => title.to_lowercase() == base.to_lowercase(),
            _ => false,
        })
    }
}

fn days(sitting: &Sitting, drafts: Vec<Draft<'_>>, mut refused: Vec<String>) -> Ahead {
    let serving = sitting.serve.local.date();
    let mut dates: Vec<Date> = drafts.iter().map(|it| it.day).chain([serving]).collect();
    let mut boxes = Vec::new();
    for (place, draft) in drafts.iter().enumerate() {
        let label = u32::try_from(place + 1).unwrap_or(u32::MAX);
        let day = draft.day;
        let inside = drafts.iter().filter(|it| it.dish.is_base && draft.uses(&it.dish.title));
        let inside: Vec<Inner<'_>> = inside
            .map(|it| Inner { title: &it.dish.title, stop: &it.stop, age: it.age(sitting) })
            .collect();
        match job(sitting, draft, label, &inside) {
            Ok((job, thaw)) => {
                dates.extend(thaw.iter().map(|it| it.at.local.date()));
                boxes.push((day, job, thaw));
            }
            Err(sentence) => {
                refused.push(format!("{} {}: {sentence}", draft.dish.letter, draft.stop.what));
            }
        }
    }
    dates.sort();
    dates.dedup();
    let day = |date: Date| {
        let jobs: Vec<AheadJob> =
            boxes.iter().filter(|it| it.0 == date).map(|it| it.1.clone()).collect();
        let thaws = boxes.iter().filter_map(|it| it.2.as_ref());
        AheadDay {
            date,
            title: date.strftime("%A %-d %B").to_string(),
            is_serving_day: date == serving,
            hands_minutes: jobs.iter().map(|it| it.hands_minutes).sum(),
            thaw: thaws.filter(|it| it.at.local.date() == date).cloned().collect(),
            take_out: boxes.iter().filter(|_| date == serving).map(|it| take_out(&it.1)).collect(),
            jobs,
        }
    };
    Ahead { days: dates.into_iter().map(day).collect(), refused }
}

fn take_out(job: &AheadJob) -> TakeOut {
    TakeOut {
        label: job.label,
        letter: job.letter,
        what: job.what.clone(),
        place: job.place,
        next_use: job.next_use.clone(),
    }
}

fn job(
    sitting: &Sitting,
    draft: &Draft<'_>,
    label: u32,
    inside: &[Inner<'_>],
) -> Result<(AheadJob, Option<Thaw>), String> {
    let zone = &sitting.serve.zone;
    let eaten_at = sitting.serve.instant();
    let stop = &draft.stop;
    let thaw_at = stop.thaw_minutes.map(|minutes| minutes_before(eaten_at, minutes));
    let age = draft.age(sitting);
    let planned = age.made_at;
    let kept = stop.keep_until(age, inside, zone)?;
    let (hands_minutes, is_estimate) = draft.minutes();
    let litres = litres(stop, &draft.factor);
    let tools = draft.steps.iter().flat_map(|step| &step.tools).map(|tool| tool.name.clone());
    let mut tools: Vec<String> = tools.collect();
    tools.dedup();
    let thaw = thaw_at.map(|at| {
        let at = Moment::of(at, zone);
        let needs = span_words(stop.thaw_minutes.unwrap_or(0));
        let sentence = format!("Move box {label} to the fridge by {at}: it needs {needs} to thaw.");
        Thaw { label, letter: draft.dish.letter, what: stop.what.clone(), at, sentence }
    });
    let job = AheadJob {
        label,
        letter: draft.dish.letter,
        dish: draft.dish.title.clone(),
        is_base: draft.dish.is_base,
        what: stop.what.clone(),
        steps: draft.said_steps(),
        hands_minutes,
        is_estimate,
        tools,
        place: stop.place,
        litres: if litres.is_zero() { String::new() } else { said(&litres) },
        is_raw: stop.is_raw,
        not_before: stop.earliest,
        planned: Moment::of(planned, zone),
        latest: Moment::of(minutes_before(eaten_at, draft.after_minutes), zone),
        keep_until: kept.until,
        because: kept.reason,
        trace: kept.trace,
        next_use: draft.next_use.clone(),
    };
    Ok((job, thaw))
}

fn used_in(laid: &Laid, base: &str) -> String {
    let letters: Vec<String> = laid
        .eaten()
        .filter(|dish| {
            super::bases_of(&dish.card).iter().any(|it| it.to_lowercase() == base.to_lowercase())
        })
        .map(|dish| dish.letter.to_string())
        .collect();
    if letters.is_empty() { "the table".to_owned() } else { letters.join(", ") }
}
