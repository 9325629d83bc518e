//! One step as a sheet prints it: the author's sentence, and what its notes say around it.

use super::recipe::RecipeFor;
use super::text::{Piece, keeping, pieces, span, times};
use crate::domain::card::from_cold::from_fridge;
use crate::domain::card::{
    FromFreezer, Mark, Place, Setting, Step, Stop, Tool, ToolUse, Touch, Wait,
};
use crate::domain::caution::cautions;
use crate::domain::heat::Degrees;

/// Everything that stands beside one number.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RecipeStep {
    pub number: u32,
    /// `On the day`, `Meanwhile`, `Straight on`: said before the sentence.
    pub lead: Vec<&'static str>,
    pub text: Vec<Piece>,
    /// Minutes of hands, scaled.
    pub hands: Option<String>,
    /// Amounts at the step: `2 tsp fennel seed`.
    pub goes_in: Vec<String>,
    /// Settings and end points, each in a box.
    pub boxed: Vec<String>,
    /// What the notes say, in sentences.
    pub says: Vec<Vec<Piece>>,
    /// `You may stop here: fridge, at most 2 days (raw garlic in oil)`.
    pub stops: Vec<Vec<Piece>>,
    /// What to mind, in the step it belongs to.
    pub cautions: Vec<String>,
    pub is_raw: bool,
}

pub fn recipe_step(order: &RecipeFor, step: &Step, comes_cold: bool) -> RecipeStep {
    let card = &order.dish.card;
    let minded = cautions(card, step, &order.laid.larder, &order.laid.profile);
    RecipeStep {
        number: step.number,
        lead: lead(step),
        text: pieces(&step.text),
        hands: step.hands.map(|hands| span(order.hands_minutes(hands))),
        goes_in: step.goes_in.iter().map(|it| order.goes_in(it)).collect(),
        boxed: boxed(order, step, comes_cold),
        says: says(order, step).iter().map(|said| pieces(said)).collect(),
        stops: step.stops.iter().map(|stop| pieces(&stop_words(stop))).collect(),
        cautions: minded.iter().map(ToString::to_string).collect(),
        is_raw: step.marks.contains(&Mark::RawMeat),
    }
}

fn lead(step: &Step) -> Vec<&'static str> {
    let words = |mark: &Mark| match mark {
        Mark::DayOf => Some("On the day"),
        Mark::StraightOn => Some("Straight on"),
        Mark::Meanwhile => Some("Meanwhile"),
        Mark::Last => Some("Last"),
        Mark::UnmouldFrozen => Some("Still frozen"),
        Mark::RawMeat => None,
    };
    step.marks.iter().filter_map(words).collect()
}

fn boxed(order: &RecipeFor, step: &Step, comes_cold: bool) -> Vec<String> {
    let mut boxed = Vec::new();
    if let Some(oven) = &step.oven {
        let minutes = oven.minutes();
        let setting = setting(order, oven);
        match step.cold_extra_minutes {
            Some(0) => boxed.push(format!("Oven {setting}, timed from the fridge")),
            Some(extra) => {
                boxed.push(format!("Oven {setting}, straight on"));
                boxed.push(format!("from the fridge {}", span(minutes + extra)));
            }
            None if comes_cold => {
                let extra = from_fridge(&order.dish.card, step).minutes;
                let longer = span(minutes + extra);
                boxed.push(format!("Oven {setting}, straight on"));
                boxed.push(format!("from the fridge {longer}, our estimate"));
            }
            None => boxed.push(format!("Oven {setting}")),
        }
        if let Some(extra) = step.frozen_extra_minutes {
            boxed.push(format!("from the freezer {}", span(minutes + extra)));
        }
    }
    if let Some(hob) = step.hob {
        let watched = if hob.watch { ", stay with it" } else { "" };
        boxed.push(format!("Hob {}{watched}", span(hob.minutes)));
    }
    if let Some(core) = step.core {
        let degrees = order.end_point(core.heat);
        let what = if core.reheat { "Warmed through: middle" } else { "Middle" };
        boxed.push(format!("{what} at least {}", shown(degrees)));
    }
    if let Some(chill) = step.chill {
        let below = shown(order.under(chill.below));
        boxed.push(format!("Below {below} within {}", span(chill.within_minutes)));
    }
    boxed
}

/// `200 °C, 40 min`, and both stages of a setting in two.
pub fn setting(order: &RecipeFor, setting: &Setting) -> String {
    let stage = |stage: &crate::domain::card::Stage| {
        format!("{}, {}", shown(order.dial(stage.heat)), span(stage.minutes))
    };
    setting.stages.iter().map(stage).collect::<Vec<_>>().join(", then ")
}

fn shown(degrees: Degrees) -> String {
    format!("{}\u{a0}°{}", degrees.figure, degrees.scale.letter())
}

fn says(order: &RecipeFor, step: &Step) -> Vec<String> {
    let mut says = Vec::new();
    if step.goes_in.iter().any(|it| it.what.amount.as_ref().is_some_and(|it| it.is_range())) {
        says.push("Begin with the smaller amount.".to_owned());
    }
    says.extend(step.oven_or.iter().map(|it| format!("Also tested: oven {}.", setting(order, it))));
    if let Some(own) = &step.own_oven {
        says.push(format!("With an oven to itself: {}.", setting(order, own)));
    }
    says.extend(step.touches.iter().map(touch));
    if let Some(check) = step.check {
        let every = span(check.every_minutes);
        let most = times(check.most);
        says.push(format!("Not there: {every} more, measure again, {most} at most."));
    }
    says.extend(step.wait.map(wait));
    if let Some(rest) = step.rest {
        says.push(format!("Rest {}.", least_most(rest.least_minutes, rest.most_minutes)));
    }
    says.extend(step.tools.iter().filter_map(tool));
    says.extend(step.box_litres.as_ref().map(|litres| order.in_box(litres)));
    if let Some(before) = step.before_serving_minutes {
        says.push(format!("Done {} before it is eaten.", span(before)));
    }
    if let Some(serve) = step.serve {
        let hot = if serve.hot { ", hot" } else { "" };
        says.push(format!("At the table within {}{hot}.", span(serve.minutes)));
    }
    // A note that was not understood is still the author's word.
    says.extend(step.kept.iter().map(|words| format!("{}.", words.trim_end_matches('.'))));
    says
}

fn touch(touch: &Touch) -> String {
    let hands = match touch.hands_minutes {
        0 => String::new(),
        minutes => format!(", {}", span(minutes)),
    };
    format!("At {}: {}{hands}.", span(touch.at_minutes), touch.what)
}

fn wait(wait: Wait) -> String {
    let place = wait.place.map(|it| format!(", {}", standing(it))).unwrap_or_default();
    match wait.most_minutes {
        None => format!("Leave {}{place}.", span(wait.least_minutes)),
        most => format!("Leave {}{place}.", least_most(wait.least_minutes, most)),
    }
}

fn least_most(least: u32, most: Option<u32>) -> String {
    match most {
        Some(most) if most != least => format!("{} at least, {} at most", span(least), span(most)),
        Some(_) => span(least),
        None => format!("{} at least", span(least)),
    }
}

/// A machine stays dirty or is washed; that it is used stands at the top of the sheet.
fn tool(tool: &Tool) -> Option<String> {
    match tool.how {
        ToolUse::Use => None,
        ToolUse::Keep => Some(format!("Leave the {} unwashed for the next step.", tool.name)),
        ToolUse::Wash => Some(format!("Wash the {}.", tool.name)),
    }
}

fn standing(place: Place) -> &'static str {
    match place {
        Place::Fridge => "in the fridge",
        Place::Freezer => "in the freezer",
        Place::Cool => "in a cool place",
        Place::Counter => "on the counter",
    }
}

/// The place as a label and a bar name it.
pub const fn place_words(place: Place) -> &'static str {
    match place {
        Place::Cool => "cool place",
        _ => place.word(),
    }
}

fn stop_words(stop: &Stop) -> String {
    let mut words = format!(
        "You may stop here: {}, at most {}",
        place_words(stop.place),
        keeping(stop.most_minutes)
    );
    match stop.from_freezer {
        Some(FromFreezer::Thaw { minutes }) => {
            words.push_str(&format!(", then {} in the fridge to thaw", span(minutes)));
        }
        Some(FromFreezer::UseFrozen) => words.push_str(", used frozen"),
        None => {}
    }
    if let Some(because) = stop.because.as_deref().filter(|it| !it.is_empty()) {
        words.push_str(&format!(" ({because})"));
    }
    words
}
