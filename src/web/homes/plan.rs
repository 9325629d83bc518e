//! The plan of hours of a home: made in the background, looked at here, and wished otherwise.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use jiff::{SignedDuration, ToSpan};

use super::form::Problems;
use super::holder::{AtTable, KeyHolder};
use super::plan_form::{PlanForm, kitchen_of};
use super::plan_page::PlanPage;
use crate::domain::card::{Part, StepAt};
use crate::domain::event::{EventKey, EventKind, KitchenEvent};
use crate::domain::home::{CookDay, Home, HomeId};
use crate::domain::kitchen::HANDS_MOST;
use crate::domain::menu::Laid;
use crate::domain::progress::Progress;
use crate::domain::schedule::account::moved;
use crate::domain::schedule::build::{Built, DoneAt, Facts, Field, Nonsense, StepOf, build};
use crate::domain::schedule::plan::Effort;
use crate::domain::school::SchoolId;
use crate::exchange::plan::{WrittenPlan, read_plan};
use crate::exchange::to_json;
use crate::storage::{HomeSaved, KitchenOf, NewPlan};
use crate::web::extract::Form;
use crate::web::frame::{Frame, HomeAt};
use crate::web::planning::{Busy, Made, Work, hash};
use crate::web::{AppState, PageError};

/// How much work a page asks for.
const EFFORT: Effort = Effort::Normal;
/// A page waits so long for a plan; then it is shown without, and asks again.
const PATIENCE: Duration = Duration::from_millis(500);

pub async fn show(State(state): State<AppState>, holder: KeyHolder) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let form = PlanForm::of_home(&holder.kept.home.arrangement, holder.kept.version);
    let page = page(&state, &holder, &at, form);
    let built = match built(&state, &holder, &at).await? {
        Ok(built) => built,
        Err(nonsense) => {
            return Ok(Html(page.with_problems(told(nonsense)).render()?).into_response());
        }
    };
    let of = (holder.kept.school, holder.kept.home.id);
    let work = match asked(&state, of, built).await? {
        Ok(work) => work,
        Err(busy) => {
            let problems = vec![("days", busy.to_string())];
            let page = page.with_problems(problems).render()?;
            return Ok((StatusCode::SERVICE_UNAVAILABLE, Html(page)).into_response());
        }
    };
    let made = work.made_within(PATIENCE).await;
    if made.as_ref().is_some_and(|made| made.is_cancelled) {
        state.planning.forget(&work);
    }
    let changed = kept(&state, of, &work, made.as_deref()).await?;
    let so_far = if made.is_none() { work.best_so_far() } else { None };
    let page =
        page.with_work(&work, made.as_deref()).with_changes(changed).with_best(&work, so_far);
    Ok(Html(page.render()?).into_response())
}

/// The work on a problem: at work or done, kept from before, or begun now.
async fn asked(
    state: &AppState,
    (school, home): (SchoolId, HomeId),
    built: Built,
) -> Result<Result<Arc<Work>, Busy>, PageError> {
    if let Some(work) = state.planning.known(&built.problem, EFFORT) {
        return Ok(Ok(work));
    }
    let hash = hash(&built.problem, EFFORT);
    let text = state.storage.kept_plan(school, home, hash, EFFORT).await?;
    let written = text.and_then(|text| read_plan(&text).ok());
    if let Some(account) = written.and_then(|written| written.account(&built.problem)) {
        let work = state.planning.keep(built, EFFORT, account);
        work.is_kept.store(true, Ordering::Relaxed);
        return Ok(Ok(work));
    }
    Ok(state.planning.ask(built, EFFORT))
}

/// Keeps what was made, once; and says what moved since the plan before it.
async fn kept(
    state: &AppState,
    (school, home): (SchoolId, HomeId),
    work: &Work,
    made: Option<&Made>,
) -> Result<Vec<String>, PageError> {
    let problem = &work.built.problem;
    let Some((made, account)) = made.and_then(|made| Some((made, made.account.as_ref()?))) else {
        return Ok(Vec::new());
    };
    let hash = hash(problem, EFFORT);
    if !made.is_cancelled && !work.is_kept.swap(true, Ordering::Relaxed) {
        let written = WrittenPlan::planned(problem, account, Some(EFFORT));
        let at = state.clock.now();
        let plan = NewPlan {
            id: state.chance.key(at),
            home,
            inputs_hash: hash,
            effort: EFFORT,
            status: written.status.clone(),
            result: to_json(&written),
            program: env!("CARGO_PKG_VERSION"),
            at,
        };
        state.storage.keep_plan(school, plan).await?;
    }
    let before = state.storage.plan_before(school, home, hash).await?;
    let before = before.and_then(|text| read_plan(&text).ok());
    Ok(before.map_or_else(Vec::new, |it| moved(problem, &account.plan, &it.starts(problem))))
}

fn page(state: &AppState, holder: &KeyHolder, at: &AtTable, form: PlanForm) -> PlanPage {
    let frame = Frame::for_home(state, &at.laid().school, &holder.key, HomeAt::Plan);
    let kitchen = kitchen_of(&holder.kept.home.arrangement).in_words();
    PlanPage::new(frame, at, &state.paths.home(&holder.key), &kitchen, form)
}

/// The problem of this home as it stands, or what makes no sense.
async fn built(
    state: &AppState,
    holder: &KeyHolder,
    at: &AtTable,
) -> Result<Result<Built, Vec<Nonsense>>, PageError> {
    let kept = &holder.kept;
    let events = state.storage.home_events(kept.school, kept.home.id).await?;
    let progress = Progress::of(&events);
    let done = done(at.laid(), &progress);
    let home = &kept.home;
    let (kitchen, days) = (kitchen_of(&home.arrangement), cook_days(home));
    let mut sitting = at.sitting.clone();
    sitting.freezer_litres = Some(kitchen.freezer.freezer_litres());
    // Before the first day of all a plan is the same each minute it is looked at.
    let now = state.clock.now();
    let first = days.iter().map(|day| day.date).min().unwrap_or(home.serve.local.date());
    let is_begun = home.serve.zone.local(now).date() >= first || !done.is_empty();
    let is_over = now >= home.serve.instant();
    let facts = Facts {
        laid: at.laid(),
        sitting: &sitting,
        kitchen: &kitchen,
        cook_days: &days,
        now: (is_begun && !is_over).then(|| quarter(now)),
        wishes: &home.arrangement.wishes,
        done: &done,
    };
    Ok(build(&facts))
}

/// Plans begin at a quarter of an hour, so that two looks within one show one plan.
fn quarter(now: jiff::Timestamp) -> jiff::Timestamp {
    let second = now.as_second();
    jiff::Timestamp::from_second(second - second.rem_euclid(900)).unwrap_or(now)
}

/// The days that were told; else the two before the table.
fn cook_days(home: &Home) -> Vec<CookDay> {
    if !home.arrangement.cook_days.is_empty() {
        return home.arrangement.cook_days.clone();
    }
    let serving = home.serve.local.date();
    [2, 1].map(|before: i64| CookDay::whole(serving.saturating_sub(before.days()))).to_vec()
}

fn told(nonsense: Vec<Nonsense>) -> Problems {
    let field = |field: Field| match field {
        Field::Kitchen => "ovens",
        _ => "days",
    };
    nonsense.into_iter().map(|it| (field(it.field), it.sentence)).collect()
}

/// What a row about a step is called in the log: the dish and the place of the step.
fn key(step: &StepOf) -> String {
    format!("step|{}|{}|{}", step.dish.0, step.at.part, step.at.step)
}

/// Steps that were done, with their hour; how long they took is as the card says.
fn done(laid: &Laid, progress: &Progress) -> BTreeMap<StepOf, DoneAt> {
    let mut found = BTreeMap::new();
    for dish in &laid.dishes {
        for (part, it) in dish.card.parts.iter().enumerate() {
            for (place, step) in it.steps.iter().enumerate() {
                let of = StepOf { dish: dish.id, at: StepAt { part, step: place } };
                let Some(end) = progress.made_at(&key(&of)) else { continue };
                let minutes = step.hands.map_or(1, |hands| hands.minutes.max(1));
                let long = SignedDuration::from_mins(i64::from(minutes));
                let start = end.saturating_sub(long).unwrap_or(end);
                found.insert(of, DoneAt { start, end });
            }
        }
    }
    found
}

pub async fn change(
    State(state): State<AppState>,
    holder: KeyHolder,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let at = AtTable::of(&state, &holder).await?;
    let one = |name: &str| pairs.iter().find(|it| it.0 == name).map(|it| it.1.as_str());
    let back = Redirect::to(&format!("{}/plan", state.paths.home(&holder.key)));
    let step = one("step").and_then(|typed| step_of(at.laid(), typed));
    let mut home = holder.kept.home.clone();
    let wishes = &mut home.arrangement.wishes;
    match (one("do"), step) {
        (Some("done" | "undone"), Some(step)) => {
            log(&state, &holder, &step, one("do") == Some("done")).await?;
            return Ok(back.into_response());
        }
        (Some("pin"), Some(step)) => {
            let typed = one("at").and_then(|at| at.parse::<jiff::Timestamp>().ok());
            wishes.pins.extend(typed.map(|at| (step, at)));
        }
        (Some("free"), Some(step)) => {
            wishes.pins.remove(&step);
            wishes.not_on.retain(|it| it.0 != step);
        }
        (Some("not-then"), Some(step)) => {
            let day = one("day").and_then(|day| day.parse().ok());
            wishes.pins.remove(&step);
            wishes.not_on.extend(day.map(|day| (step, day)));
        }
        (Some("take"), _) => take(at.laid(), &mut home, one("way").unwrap_or_default()),
        (Some("cancel"), _) => {
            cancel(&state, &holder, &at).await?;
            return Ok(back.into_response());
        }
        _ => {
            let form = PlanForm::of(&pairs);
            match form.check(&home.arrangement) {
                Ok(arrangement) => home.arrangement = arrangement,
                Err(problems) => {
                    let page = page(&state, &holder, &at, form).with_problems(problems);
                    let page = Html(page.render()?);
                    return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
                }
            }
        }
    }
    let version = one("version").and_then(|it| it.parse().ok()).unwrap_or(holder.kept.version);
    match state.storage.save_home(holder.kept.school, &home, version).await? {
        HomeSaved::Saved => Ok(back.into_response()),
        HomeSaved::Stale => {
            let words = "The table was changed on another device; look at it and press again";
            let form = PlanForm::of_home(&holder.kept.home.arrangement, holder.kept.version);
            let page = page(&state, &holder, &at, form);
            let page = page.with_problems(vec![("days", words.to_owned())]).render()?;
            Ok((StatusCode::CONFLICT, Html(page)).into_response())
        }
    }
}

/// Takes a way out: `hob D`, `without C`, `day 3`, `oven`, `hands`. Others change nothing.
fn take(laid: &Laid, home: &mut Home, way: &str) {
    let (what, about) = way.split_once(' ').unwrap_or((way, ""));
    let dishes = laid.dishes.iter().filter(|dish| about.contains(dish.letter.0)).map(|it| it.id);
    let days = cook_days(home);
    let serving = home.serve.local.date();
    let arrangement = &mut home.arrangement;
    let mut kitchen = kitchen_of(arrangement);
    match what {
        "hob" => arrangement.wishes.no_oven_room.extend(dishes),
        "without" => arrangement.without.extend(dishes),
        "day" => {
            arrangement.cook_days = days;
            let before = about.parse::<i64>().ok().filter(|days| (1..=60).contains(days));
            let day = before.map(|days| CookDay::whole(serving.saturating_sub(days.days())));
            arrangement.cook_days.extend(day);
            arrangement.cook_days.sort();
        }
        "oven" => {
            kitchen.ovens.extend(kitchen.ovens.first().copied());
            arrangement.kitchen = Some(kitchen);
        }
        "hands" => {
            kitchen.hands = (kitchen.hands + 1).min(HANDS_MOST);
            arrangement.kitchen = Some(kitchen);
        }
        _ => {}
    }
}

/// Ends the search for this home's plan; the best so far is shown once.
async fn cancel(state: &AppState, holder: &KeyHolder, at: &AtTable) -> Result<(), PageError> {
    if let Ok(built) = built(state, holder, at).await?
        && let Ok(work) = state.planning.ask(built, EFFORT)
    {
        work.cancel();
    }
    Ok(())
}

/// `B.0.3`: the letter, and the places of part and step.
fn step_of(laid: &Laid, typed: &str) -> Option<StepOf> {
    let mut parts = typed.split('.');
    let letter = parts.next()?;
    let (part, step) = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    let dish = laid.dishes.iter().find(|dish| dish.letter.to_string() == letter)?;
    let steps = dish.card.parts.get(part).map_or(0, |it: &Part| it.steps.len());
    (step < steps).then_some(StepOf { dish: dish.id, at: StepAt { part, step } })
}

async fn log(
    state: &AppState,
    holder: &KeyHolder,
    step: &StepOf,
    is_done: bool,
) -> Result<(), PageError> {
    let at = state.clock.now();
    let key = EventKey::parse(&key(step)).ok_or(PageError::NotFound)?;
    let kind = if is_done { EventKind::Made } else { EventKind::Unmade };
    let event = KitchenEvent {
        id: state.chance.key(at),
        kind,
        key,
        value: crate::domain::event::EventValue::Nothing,
        client_at: at,
        received_at: at,
    };
    let kept = &holder.kept;
    let kitchen = KitchenOf::Home(kept.home.id);
    state.storage.record_events(kept.school, kitchen, &[event]).await?;
    Ok(())
}
