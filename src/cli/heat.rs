//! `cool`, `warm` and `roast`: figures as a cook types them in, a forecast with its band out, as JSON.

use std::io::Write;

use clap::Args;

use super::CommandError;
use crate::domain::caution::end_point::{Joint, end_point};
use crate::domain::caution::forecast as words;
use crate::domain::limit::{Base, Profile};
use crate::domain::warmth::{
    AskCool, AskRoast, AskWarm, Fault, FoodClass, Hold, HoldIn, Nonsense, Warming, celsius,
    forecast, held, roasted, warmed,
};
use crate::exchange::heat::{WrittenForecast, WrittenFrom, WrittenRoast, WrittenWarming};
use crate::exchange::to_json;

const COOL_HELP: &str = "\
Food: soup, stew, mash, rice, mince, bake, meat, poultry, cream, tart. They differ little; the
depth, the cover and the place decide.
Places: fridge, walk-in, freezer, \"walk-in freezer\", \"blast chiller\", \"ice bath\", \"cold water\", room.
Dishes: metal, glass, ceramic, plastic, foam. Covers: open, film (touching), lid, foil.

Try:
  dovetray cool --depth 2in                        two inches of stew in a home fridge: too slow
  dovetray cool --depth 15mm                       spread thin: in time, also in the slow case
  dovetray cool --depth 3cm --cover lid --place-at 4C --food rice
  dovetray cool --depth 4cm --first \"ice bath\" --first-minutes 60 --ice 3kg

The answer is three cases, slow, middle and quick, counted from 135 F (57 C), against 2 h to 70 F
(21 C) and 6 h to 41 F (5 C) in all. The verdict is that of the slow case and never says that food
is good to eat: it says likely in time, too close to call, or cooling likely too slow, with the
deepest layer that is in time (deepest_in_time_*_mm) and the ways to mend it, the least work first.
Figures that cannot be are refused in a sentence, and nothing is reckoned from them.";

#[derive(Args)]
#[command(after_help = COOL_HELP)]
pub struct CoolArgs {
    /// How deep the food lies: 15mm, 3cm, \"1 1/4 in\".
    #[arg(long)]
    depth: String,
    /// Food.
    #[arg(long, default_value = "stew")]
    food: String,
    /// Width and length of the dish.
    #[arg(long, default_value = "25x33cm")]
    pan: String,
    /// What the dish is made of.
    #[arg(long, default_value = "metal")]
    vessel: String,
    /// What lies over it.
    #[arg(long, default_value = "open")]
    cover: String,
    /// How hot it is when it begins to cool.
    #[arg(long, default_value = "60C")]
    start: String,
    /// Where it cools until it is cold.
    #[arg(long, default_value = "fridge")]
    place: String,
    /// The air (or water) there, when it was measured.
    #[arg(long, default_value = "", allow_hyphen_values = true)]
    place_at: String,
    /// Where it stands first.
    #[arg(long, default_value = "", requires = "first_minutes")]
    first: String,
    /// How long it stands there: 45, 90min, 1.5h.
    #[arg(long, default_value = "")]
    first_minutes: String,
    /// Ice at hand for a bath: 3kg, 6lb.
    #[arg(long, default_value = "")]
    ice: String,
}

pub fn cool(args: CoolArgs) -> Result<(), CommandError> {
    let asked = AskCool {
        food: args.food,
        depth: args.depth,
        pan: args.pan,
        vessel: args.vessel,
        cover: args.cover,
        start: args.start,
        place: args.place,
        place_at: args.place_at,
        first: args.first,
        first_minutes: args.first_minutes,
        ice: args.ice,
    };
    let it = asked.checked().map_err(refused)?;
    let found = forecast(it.food.substance(), &it.plan, it.ice_kg);
    print(&to_json(&WrittenForecast::from(&found)))
}

const WARM_HELP: &str = "\
Try:
  dovetray warm --depth 3cm                              a bake from the fridge at 180 C
  dovetray warm --depth \"1 1/4 in\" --start 0F --oven 350F --cover foil

The minutes are a band around the middle case, a quarter either way, until the coldest place shows
--until. Beside it stand the same dish from the room and from the freezer, and how long it stays
hot afterwards open, under foil and in an insulated box. The author's tested minutes win over these.";

#[derive(Args)]
#[command(after_help = WARM_HELP)]
pub struct WarmArgs {
    /// How deep the food lies.
    #[arg(long)]
    depth: String,
    /// Food, as for `cool`.
    #[arg(long, default_value = "bake")]
    food: String,
    /// Width and length of the dish.
    #[arg(long, default_value = "20x28cm")]
    pan: String,
    /// What the dish is made of.
    #[arg(long, default_value = "ceramic")]
    vessel: String,
    /// What lies over it.
    #[arg(long, default_value = "open")]
    cover: String,
    /// How cold it goes in.
    #[arg(long, default_value = "4C", allow_hyphen_values = true)]
    start: String,
    /// The oven.
    #[arg(long, default_value = "180C")]
    oven: String,
    /// The oven has its fan on.
    #[arg(long)]
    fan: bool,
    /// What the coldest place must show.
    #[arg(long, default_value = "165F")]
    until: String,
}

pub fn warm(args: WarmArgs) -> Result<(), CommandError> {
    let asked = AskWarm {
        food: args.food,
        depth: args.depth,
        pan: args.pan,
        vessel: args.vessel,
        cover: args.cover,
        start: args.start,
        oven: args.oven,
        fan: args.fan,
        until: args.until,
    };
    let (food, warming) = asked.checked().map_err(refused)?;
    let food = food.substance();
    let from = [("fridge", 4.0), ("room", 20.0), ("freezer", -18.0)];
    let told = |(start, start_c): (&'static str, f64)| {
        let band = warmed(food, &Warming { start_c, ..warming });
        WrittenFrom {
            start,
            says: band.as_ref().map_or_else(|| "not within six hours".to_owned(), words::minutes),
        }
    };
    let mark_c = celsius(135.0);
    let hold = Hold { pan: warming.pan, start_c: warming.until_c, mark_c, kitchen_c: 22.0 };
    let holds: Vec<_> = if warming.until_c > mark_c {
        HoldIn::HOT.into_iter().map(|place| (place, held(food, &hold, place))).collect()
    } else {
        Vec::new()
    };
    let band = warmed(food, &warming);
    print(&to_json(&WrittenWarming::of(band.as_ref(), from.map(told).into(), &holds, mark_c)))
}

const ROAST_HELP: &str = "\
Try:
  dovetray roast --across 6.5cm --long 38cm --start 12C --oven 425F --pull 145F
  dovetray roast --weight 3.2kg --oven 160C --fan --pull 63C
  dovetray roast --food poultry --across 12cm --weight 1.8kg --pull 165F

How thick the joint is across matters most: measure it. By weight alone its shape is guessed and
the band is wider. An end point below the minimum of the profile (home: 145 F and 3 min of rest,
poultry 165 F) is answered with a caution; the rise at rest never counts towards it.
Profiles: home, foodcode2022, foodcode2017, ukadvice.";

#[derive(Args)]
#[command(after_help = ROAST_HELP)]
pub struct RoastArgs {
    /// meat (beef, lamb, pork) or poultry.
    #[arg(long, default_value = "meat")]
    food: String,
    /// How thick it is across, at the thickest place.
    #[arg(long, default_value = "")]
    across: String,
    /// How long it is.
    #[arg(long, default_value = "")]
    long: String,
    /// What it weighs.
    #[arg(long, default_value = "")]
    weight: String,
    /// How cold its middle goes in.
    #[arg(long, default_value = "5C", allow_hyphen_values = true)]
    start: String,
    /// The oven.
    #[arg(long, default_value = "180C")]
    oven: String,
    /// The oven has its fan on.
    #[arg(long)]
    fan: bool,
    /// End point: what the middle shows when it is taken out.
    #[arg(long, default_value = "63C")]
    pull: String,
    /// Minutes of rest.
    #[arg(long, default_value = "10")]
    rest: String,
    /// It rests under foil.
    #[arg(long)]
    foil: bool,
    /// Some guest is very young, old, pregnant or ill.
    #[arg(long)]
    at_risk: bool,
    /// Whose minimum the end point is held against.
    #[arg(long, default_value = "home")]
    profile: String,
}

pub fn roast(args: RoastArgs) -> Result<(), CommandError> {
    let asked = AskRoast {
        food: args.food,
        across: args.across,
        long: args.long,
        weight: args.weight,
        start: args.start,
        oven: args.oven,
        fan: args.fan,
        pull: args.pull,
        rest_minutes: args.rest,
        foil: args.foil,
    };
    let base = Base::parse(&args.profile).ok_or_else(|| {
        let known = Base::ALL.map(Base::word).join(", ");
        let what = Nonsense::Word { what: "a profile", typed: args.profile.clone(), known };
        CommandError::Refused { why: what.to_string() }
    })?;
    let (food, joint) = asked.checked().map_err(refused)?;
    let found = roasted(food.substance(), &joint)
        .ok_or_else(|| CommandError::Refused { why: words::NEVER_THERE.to_owned() })?;
    let joint_kind = match food {
        FoodClass::Poultry => Joint::Poultry,
        FoodClass::Mince => Joint::Mince,
        _ => Joint::Whole,
    };
    let core = words::as_typed(&asked.pull, joint.pull_c);
    let caution = end_point(&Profile::shipped(base), joint_kind, core, args.at_risk);
    let caution = caution.map(|it| it.to_string());
    print(&to_json(&WrittenRoast::of(&found, joint.pull_c, caution)))
}

fn refused(faults: Vec<Fault>) -> CommandError {
    CommandError::Refused { why: words::nonsense(&faults) }
}

fn print(document: &str) -> Result<(), CommandError> {
    writeln!(std::io::stdout(), "{document}")?;
    Ok(())
}
