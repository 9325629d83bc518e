//! How a step is done: minutes of hands, ring, oven and machine, for each tested setting.

use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};

use super::{Building, jobs};
use crate::domain::card::from_cold::{from_freezer, from_fridge};
use crate::domain::card::{Mark, Place, Setting, Step, ToolUse, Vessel};
use crate::domain::heat::{Degrees, Scale};
use crate::domain::schedule::problem::{
    HeatStage, MachineUse, Offer, OvenUse, SHELF, StartFrom, Stretch, Way, WayKind,
};

/// Taken for a step without minutes, marked as our estimate.
const STEP_MINUTES: u32 = 5;
/// Washing a machine before another dish may have it. Ours.
const WASH_MINUTES: u32 = 4;

/// Sixtieths of a shelf for the chosen vessels, rounded up; none where the card names none.
pub fn shelves_of(vessels: &[(Vessel, u64)]) -> Option<u32> {
    let one = BigRational::from_integer(1.into());
    let shares = vessels.iter().map(|(vessel, count)| {
        vessel.shelf.clone().unwrap_or_else(|| one.clone())
            * BigRational::from_integer((*count).into())
    });
    (!vessels.is_empty()).then(|| sixtieths(&shares.sum::<BigRational>()))
}

fn sixtieths(share: &BigRational) -> u32 {
    (share * BigRational::from_integer(SHELF.into()))
        .ceil()
        .to_integer()
        .to_u32()
        .unwrap_or(u32::MAX)
}

/// All ways of one step from a warm start, and whether its minutes are ours.
pub fn ways(building: &Building, dish: usize, step: &Step) -> (Vec<Way>, bool) {
    let mut settings: Vec<(WayKind, Option<&Setting>)> = vec![(WayKind::Card, step.oven.as_ref())];
    if step.oven.is_some() {
        let others = step.oven_or.iter().enumerate();
        settings.extend(others.map(|(place, it)| (WayKind::Other(place), Some(it))));
        let own = step.own_oven.as_ref().filter(|_| building.problem.ovens.len() > 1);
        settings.extend(own.map(|it| (WayKind::OwnOven, Some(it))));
    }
    let hands = hands(building, dish, step);
    let ways = settings.into_iter().map(|(kind, setting)| {
        way(
            building,
            dish,
            step,
            hands.0,
            Setup { kind, setting, extra: 0, from: StartFrom::Frozen },
        )
    });
    (ways.collect(), hands.1)
}

struct Setup<'a> {
    kind: WayKind,
    setting: Option<&'a Setting>,
    /// Minutes longer than tested warm.
    extra: u32,
    from: StartFrom,
}

/// Minutes of hands for this table, and whether they are our estimate.
fn hands(building: &Building, dish: usize, step: &Step) -> (u32, bool) {
    let is_told = step.oven.is_some()
        || step.hob.is_some()
        || step.wait.is_some()
        || step.rest.is_some()
        || !step.touches.is_empty();
    match step.hands {
        Some(hands) => (hands.minutes_for(&building.dishes[dish].factor), false),
        None if is_told => (0, false),
        None => (STEP_MINUTES, true),
    }
}

fn way(building: &Building, dish: usize, step: &Step, hands: u32, setup: Setup) -> Way {
    let mut busy = vec![];
    let mut put = |from: u32, minutes: u32| {
        if minutes > 0 {
            busy.push(Stretch { from_minute: from, to_minute: from + minutes, count: 1 });
        }
    };
    put(0, hands);
    let hob = step.hob.map_or(0, |hob| hob.minutes);
    if step.hob.is_some_and(|hob| hob.watch) {
        put(hands, hob);
    }
    let oven =
        setup.setting.map(|setting| oven(building, dish, step, setting, (hands, setup.extra)));
    let heat = oven.as_ref().map_or(hob, OvenUse::minutes);
    let tested = setup.setting.map_or(hob, Setting::minutes).max(1);
    let is_watched = step.hob.is_some_and(|hob| hob.watch);
    for touch in step.touches.iter().filter(|_| !is_watched) {
        // From the fridge a touch moves with the longer time.
        let at = touch.at_minutes * (tested + setup.extra) / tested;
        put(hands + at.min(heat.saturating_sub(touch.hands_minutes)), touch.hands_minutes);
    }
    let after = step.rest.map_or(0, |it| it.least_minutes) + open_wait(step);
    let minutes = hands + heat + after;
    Way {
        kind: setup.kind,
        minutes,
        hands: busy,
        ring: (hob > 0).then_some(Stretch { from_minute: hands, to_minute: hands + hob, count: 1 }),
        oven: oven.map(|oven| OvenUse { is_alone: setup.kind == WayKind::OwnOven, ..oven }),
        machines: machines(building, step, hands),
        from: setup.from,
        out_minutes: hands + after,
        estimate: String::new(),
    }
}

/// A wait beside the cold places belongs to the step: nobody may take it for later.
fn open_wait(step: &Step) -> u32 {
    let is_cold = |place: Option<Place>| place.is_some();
    step.wait.filter(|wait| !is_cold(wait.place)).map_or(0, |wait| wait.least_minutes)
}

fn oven(
    building: &Building,
    dish: usize,
    step: &Step,
    setting: &Setting,
    (from_minute, extra): (u32, u32),
) -> OvenUse {
    let checks = step.check.map_or(0, |it| it.most.saturating_sub(1) * it.every_minutes);
    let mut stages: Vec<HeatStage> = setting
        .stages
        .iter()
        .map(|stage| HeatStage {
            heat: stage.heat,
            tenths_celsius: tenths(stage.heat),
            minutes: stage.minutes,
        })
        .collect();
    if let Some(last) = stages.last_mut() {
        last.minutes += extra + checks;
    }
    let one = || step.shelf.as_ref().map_or(SHELF, sixtieths);
    let shelf_sixtieths = building.dishes[dish].shelf_sixtieths.unwrap_or_else(one);
    OvenUse { from_minute, stages, shelf_sixtieths, is_alone: false }
}

fn tenths(heat: Degrees) -> i32 {
    match heat.scale {
        Scale::Celsius => heat.figure * 10,
        Scale::Fahrenheit => (heat.figure - 32) * 50 / 9,
    }
}

fn machines(building: &Building, step: &Step, hands: u32) -> Vec<MachineUse> {
    let uses = step.tools.iter().filter(|tool| tool.how != ToolUse::Wash);
    let found = uses.filter_map(|tool| {
        let name = tool.name.to_lowercase();
        let machine = building.problem.machines.iter().position(|it| it.name == name)?;
        let washes = if tool.how == ToolUse::Keep { 0 } else { WASH_MINUTES };
        let to_minute = hands.max(1) + washes;
        Some(MachineUse { machine, stretch: Stretch { from_minute: 0, to_minute, count: 1 } })
    });
    let mut found: Vec<MachineUse> = found.collect();
    found.dedup_by_key(|it| it.machine);
    found
}

/// Where the food may come straight from the cold into an oven, the longer minutes are ways of
/// their own. Known only when the gaps are.
pub fn start_cold(building: &mut Building) {
    let places: Vec<_> = building.places.iter().map(|(at, job)| (*at, *job)).collect();
    for ((dish, at), job) in places {
        let step = building.card(dish).parts[at.part].steps[at.step].clone();
        if step.oven.is_none() {
            continue;
        }
        let comes: Vec<StartFrom> = building
            .problem
            .gaps_before(job)
            .filter(|(_, gap)| gap.is_main)
            .flat_map(|(_, gap)| &building.problem.jobs[gap.before].holds)
            .map(crate::domain::schedule::problem::Hold::start_from)
            .collect();
        let coldest = comes.iter().max().copied().unwrap_or(StartFrom::Warm);
        if coldest == StartFrom::Warm {
            continue;
        }
        let ways = cold_ways(building, dish, &step, coldest);
        building.problem.jobs[job].ways = ways;
        building.problem.offers.retain(|offer| offer.job != job);
    }
    offers(building);
}

fn cold_ways(building: &Building, dish: usize, step: &Step, coldest: StartFrom) -> Vec<Way> {
    let (warm, _) = ways(building, dish, step);
    let hands = hands(building, dish, step).0;
    let setting = |kind: WayKind| match kind {
        WayKind::Other(place) => step.oven_or.get(place),
        WayKind::OwnOven => step.own_oven.as_ref(),
        _ => step.oven.as_ref(),
    };
    let (cold, frozen) = {
        let card = building.card(dish);
        (from_fridge(card, step).minutes, from_freezer(card, step).minutes)
    };
    let mut found = Vec::new();
    for it in warm {
        let mut steps = vec![(StartFrom::Warm, 0)];
        steps.push((StartFrom::Fridge, cold));
        if coldest == StartFrom::Frozen {
            steps.push((StartFrom::Frozen, frozen));
        }
        for (from, extra) in steps {
            if from == StartFrom::Warm && cold == 0 {
                continue;
            }
            let setup = Setup { kind: it.kind, setting: setting(it.kind), extra, from };
            let mut way = way(building, dish, step, hands, setup);
            let is_ours = match from {
                StartFrom::Warm => false,
                StartFrom::Fridge => step.cold_extra_minutes.is_none(),
                StartFrom::Frozen => step.frozen_extra_minutes.is_none(),
            };
            if is_ours {
                way.estimate = format!("{extra} min longer from the cold, our estimate");
            }
            found.push(way);
        }
    }
    found
}

/// The author's answer for a full oven, taken or offered: so many minutes on the hob.
fn offers(building: &mut Building) {
    for dish in 0..building.dishes.len() {
        let card = building.dishes[dish].laid.card.clone();
        let Some(words) = card.no_oven_room.clone() else { continue };
        let Some(hob) = hob_minutes(&words) else { continue };
        let is_taken = building.facts.wishes.no_oven_room.contains(&building.dishes[dish].laid.id);
        let jobs: Vec<usize> = building
            .places
            .iter()
            .filter(|((of, at), _)| {
                *of == dish && card.parts[at.part].steps[at.step].oven.is_some()
            })
            .map(|(_, job)| *job)
            .collect();
        for job in jobs {
            let at = building.problem.jobs[job].at;
            let step = card.parts[at.part].steps[at.step].clone();
            let hands = hands(building, dish, &step).0;
            let way = on_the_hob(hands, hob);
            if is_taken {
                building.problem.jobs[job].ways = vec![way];
            } else {
                building.problem.offers.push(Offer { job, way, words: words.clone() });
            }
        }
    }
}

/// Draining and dressing is work as well: four minutes, ours.
const DRAIN_MINUTES: u32 = 4;

fn on_the_hob(hands: u32, hob: u32) -> Way {
    let stretch = |from_minute, to_minute| Stretch { from_minute, to_minute, count: 1 };
    let mut busy = vec![stretch(hands + hob, hands + hob + DRAIN_MINUTES)];
    if hands > 0 {
        busy.insert(0, stretch(0, hands));
    }
    Way {
        kind: WayKind::NoOvenRoom,
        minutes: hands + hob + DRAIN_MINUTES,
        hands: busy,
        ring: Some(stretch(hands, hands + hob)),
        oven: None,
        machines: Vec::new(),
        from: StartFrom::Frozen,
        out_minutes: hands + DRAIN_MINUTES,
        estimate: format!("{DRAIN_MINUTES} min to drain and dress, our estimate"),
    }
}

/// `16 minutes on the hob`: the figure before `minutes`, where the words speak of a hob.
fn hob_minutes(words: &str) -> Option<u32> {
    let words = words.to_lowercase();
    if !["hob", "ring", "stove", "boil", "simmer"].iter().any(|it| words.contains(it)) {
        return None;
    }
    let all: Vec<&str> = words.split_whitespace().collect();
    let place = all.iter().position(|word| word.starts_with("min"))?;
    all.get(place.checked_sub(1)?)?.parse().ok().filter(|minutes| (1..=600).contains(minutes))
}

/// True when the step only stands or rests: it begins where the oven ends.
pub fn stands(step: &Step) -> bool {
    let no_hands = step.hands.is_none_or(|it| it.minutes == 0);
    step.rest.is_some()
        || (no_hands && open_wait(step) > 0 && !step.marks.contains(&Mark::Meanwhile))
}

/// Litres times the factor, in hundredths, rounded up.
pub fn centilitres(litres: Option<&BigRational>, factor: &BigRational) -> u32 {
    let litres = litres.cloned().unwrap_or_else(BigRational::zero);
    let hundredths = litres * factor * BigRational::from_integer(100.into());
    hundredths.ceil().to_integer().to_u32().unwrap_or(u32::MAX)
}

/// Heat counts as neither cold nor room.
pub fn is_on_heat(step: &Step) -> bool {
    jobs::is_heat(step)
}
