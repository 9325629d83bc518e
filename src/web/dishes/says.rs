//! A step's figures and a line's amount as words for the reading beside the card.

use crate::domain::card::{Card, FromFreezer, GoesIn, Place, Setting, Source, Step, Stop, ToolUse};
use crate::domain::handout::{Measures, litres as litres_words};
use crate::domain::quantity::{Amount, Kind, MixedAmount, Spoons, Unit};

const HOUR: u32 = 60;
const DAY: u32 = 24 * HOUR;

/// `40 min`, `3 h`, `5 days`: the greatest unit that says it exactly, minutes below two hours.
pub fn stretch(minutes: u32) -> String {
    match minutes {
        1_440 => "1 day".to_owned(),
        m if m >= DAY && m % DAY == 0 => format!("{} days", m / DAY),
        m if m >= 2 * HOUR && m % HOUR == 0 => format!("{} h", m / HOUR),
        m => format!("{m} min"),
    }
}

pub const fn place(place: Place) -> &'static str {
    match place {
        Place::Cool => "cool place",
        other => other.word(),
    }
}

/// `fridge, 3 days`.
pub fn stop(stop: &Stop) -> String {
    let thaw = match stop.from_freezer {
        Some(FromFreezer::Thaw { minutes }) => format!(", {} to thaw", stretch(minutes)),
        Some(FromFreezer::UseFrozen) => ", used frozen".to_owned(),
        None => String::new(),
    };
    format!("{}, {}{thaw}", place(stop.place), stretch(stop.most_minutes))
}

/// `200 C 40 min, then 180 C 20 min`.
pub fn setting(setting: &Setting) -> String {
    let stages = setting.stages.iter().map(|it| format!("{} {} min", it.heat, it.minutes));
    stages.collect::<Vec<_>>().join(", then ")
}

/// What a step asks for, in one line: `2 min of hands, oven 200 C 40 min, 50 from the fridge`.
pub fn step(step: &Step) -> String {
    let mut says = Vec::new();
    if let Some(hands) = step.hands {
        says.push(format!("{} of hands", stretch(hands.minutes)));
    }
    if let Some(wait) = step.wait {
        let most = wait.most_minutes.map(|most| format!(" to {}", stretch(most)));
        let at = wait.place.map(|it| format!(", {}", place(it)));
        let least = stretch(wait.least_minutes);
        let (most, at) = (most.unwrap_or_default(), at.unwrap_or_default());
        says.push(format!("wait {least}{most}{at}"));
    }
    says.extend(heat(step));
    if let Some(rest) = step.rest {
        let most = rest.most_minutes.map(|most| format!(" to {}", stretch(most)));
        says.push(format!("rest {}{}", stretch(rest.least_minutes), most.unwrap_or_default()));
    }
    for tool in &step.tools {
        says.push(match tool.how {
            ToolUse::Use => tool.name.clone(),
            ToolUse::Keep => format!("{}, not washed", tool.name),
            ToolUse::Wash => format!("wash the {}", tool.name),
        });
    }
    says.extend(step.marks.iter().map(|mark| mark.words().to_owned()));
    says.extend(step.stops.iter().map(|it| format!("may stop here: {}", stop(it))));
    if let Some(litres) = &step.box_litres {
        says.push(format!("box {}", litres_words(litres)));
    }
    if let Some(serve) = step.serve {
        let hot = if serve.hot { "hot " } else { "" };
        says.push(format!("at the table {hot}within {}", stretch(serve.minutes)));
    }
    if let Some(minutes) = step.before_serving_minutes {
        says.push(format!("ends {} before serving", stretch(minutes)));
    }
    says.join(", ")
}

/// What is said of oven, hob and thermometer.
fn heat(step: &Step) -> Vec<String> {
    let mut says = Vec::new();
    if let Some(oven) = &step.oven {
        says.push(format!("oven {}", setting(oven)));
        if let Some(extra) = step.cold_extra_minutes {
            says.push(format!("{} from the fridge", oven.minutes() + extra));
        }
        if let Some(extra) = step.frozen_extra_minutes {
            says.push(format!("{} from the freezer", oven.minutes() + extra));
        }
    }
    says.extend(step.oven_or.iter().map(|other| format!("or oven {}", setting(other))));
    says.extend(step.own_oven.iter().map(|own| format!("in an oven of its own {}", setting(own))));
    if let Some(hob) = step.hob {
        let watch = if hob.watch { ", watched" } else { "" };
        says.push(format!("hob {}{watch}", stretch(hob.minutes)));
    }
    says.extend(step.touches.iter().map(|it| format!("at {} min {}", it.at_minutes, it.what)));
    if let Some(core) = step.core {
        says.push(format!("{} in the middle", core.heat));
    }
    if let Some(chill) = step.chill {
        says.push(format!("below {} within {}", chill.below, stretch(chill.within_minutes)));
    }
    says
}

/// The first words of the sentence, enough to know it by.
pub fn short(step: &Step) -> String {
    const WORDS: usize = 4;
    let words: Vec<_> = step.text.split_whitespace().take(WORDS).collect();
    words.join(" ").trim_end_matches(['.', ',', ';', ':']).to_owned()
}

/// `80 g`, `40-60 ml`, `3`: as recipe sheets say it.
pub fn amount(amount: &Amount) -> String {
    Measures::Written.amount(amount, None, Spoons::default())
}

/// What goes in over the whole card: each food once, in order of first use.
pub fn goes_in(card: &Card) -> Vec<(String, String)> {
    struct Total {
        key: (String, bool),
        amounts: MixedAmount,
        name: String,
        times: usize,
    }
    let mut totals: Vec<Total> = Vec::new();
    for (_, step) in card.steps() {
        let from_outside = |line: &&GoesIn| !matches!(line.source, Some(Source::Part(_)));
        for line in step.goes_in.iter().filter(from_outside) {
            let key = (line.what.food.to_lowercase(), line.source.is_some());
            let place = totals.iter().position(|total| total.key == key).unwrap_or_else(|| {
                let name = name(line);
                totals.push(Total { key, amounts: MixedAmount::default(), name, times: 0 });
                totals.len() - 1
            });
            let total = &mut totals[place];
            total.times += 1;
            line.what.amount.iter().for_each(|it| total.amounts.add(it.clone()));
        }
    }
    let said = |total: Total| {
        let times = match total.times {
            1 => String::new(),
            2 => ", twice".to_owned(),
            more => format!(", {more} times"),
        };
        let amounts: Vec<_> = together(&total.amounts).parts().map(amount).collect();
        (amounts.join(" + "), format!("{}{times}", total.name))
    };
    totals.into_iter().map(said).collect()
}

/// Weights as one weight and measures as one measure, where there are several; counts stay apart.
fn together(amounts: &MixedAmount) -> MixedAmount {
    let convert = |kind: Kind, base: Unit| {
        let several = amounts.parts().filter(|it| it.unit().kind() == kind).count() > 1;
        several.then_some((kind, base))
    };
    let bases = [convert(Kind::Mass, Unit::Gram), convert(Kind::Volume, Unit::Millilitre)];
    let said = |amount: &Amount| {
        let unit = amount.unit();
        let base = bases.iter().flatten().find(|(kind, _)| *kind == unit.kind());
        match base.zip(unit.in_base(Spoons::default())) {
            Some(((_, base), factor)) => amount.times(&factor, *base),
            None => amount.clone(),
        }
    };
    amounts.parts().map(said).collect()
}

/// The food, what may stand in for it, and where it comes from when it is made here.
pub fn name(line: &GoesIn) -> String {
    let mut name = line.what.name.clone();
    for other in &line.what.alternatives {
        name.push_str(" or ");
        name.push_str(&other.name);
    }
    match line.source {
        Some(Source::Part(_)) => name.push_str(", a part of this dish"),
        Some(Source::Base(_)) => name.push_str(", a base"),
        None => {}
    }
    name
}
