//! The menu file: a whole menu and a table in one JSON document, for `shop` and `keeps`.
//!
//! Cards are texts as an author writes them; foods stand on top of the shipped larder.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::DateTime;
use jiff::{Timestamp, ToSpan};
use serde::Deserialize;
use uuid::Uuid;

use super::document::DocumentError;
use super::food::WrittenFood;
use super::home::{WrittenCookDay, prefer};
use super::kitchen::WrittenKitchen;
use crate::domain::card::{DishKind, Reading, read, read_with_bases};
use crate::domain::cost::{Price, Prices, pack_of};
use crate::domain::dish::DishId;
use crate::domain::home::{CookDay, Wishes};
use crate::domain::kitchen::{Kitchen, kitchen_for_plans};
use crate::domain::larder::{Allergen, Food, FoodKey, Larder};
use crate::domain::limit::Profile;
use crate::domain::menu::{Choices, Laid, LaidDish, Letter, Sitting, TableRule};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::{Amount, Portions, Spoons};
use crate::domain::remark::Remark;

/// What stands in the file. Only cards, guests, serve and zone are needed.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenMenu {
    #[serde(default)]
    menu: String,
    /// Civil time of serving: `2027-06-26T13:00`.
    serve: String,
    /// `Europe/Oslo`.
    zone: String,
    guests: u32,
    cards: Vec<String>,
    #[serde(default)]
    foods: Vec<WrittenFood>,
    /// What need not be bought: `"caster sugar": "200 g"`, read like an ingredient line.
    #[serde(default)]
    at_home: BTreeMap<String, String>,
    #[serde(default)]
    prices: Option<WrittenPrices>,
    /// For a food with alternates, the one to use: `"duck fat": "sunflower oil"`.
    #[serde(default)]
    choices: BTreeMap<String, String>,
    #[serde(default)]
    must_not: WrittenRule,
    /// `2027-06-24`.
    #[serde(default)]
    shop_on: Option<String>,
    #[serde(default)]
    freezer_litres: Option<u32>,
    /// Titles of dishes that this table leaves out.
    #[serde(default)]
    without: Vec<String>,
    /// `round` (5, 15 and 240 ml) or `customary` (the exact US cup).
    #[serde(default)]
    spoons: Option<String>,
    /// For a plan of hours: the kitchen, the days, what is best.
    #[serde(default)]
    kitchen: Option<WrittenKitchen>,
    #[serde(default)]
    cook_days: Option<Vec<WrittenCookDay>>,
    /// Civil time; nothing is planned before.
    #[serde(default)]
    now: Option<String>,
    #[serde(default)]
    prefer: String,
    /// Titles of dishes whose own way without oven room is taken.
    #[serde(default)]
    no_oven_room: Vec<String>,
    #[serde(default = "default_sweet")]
    sweet_after_minutes: u32,
}

const fn default_sweet() -> u32 {
    0
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenPrices {
    currency: String,
    rows: Vec<WrittenPrice>,
}

/// One pack and what it cost, in whole cents, on a day.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenPrice {
    food: String,
    /// `1 l`, read like an ingredient line.
    pack: String,
    minor: u64,
    on: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct WrittenRule {
    allergens: Vec<String>,
    others: Vec<String>,
    strict: bool,
}

/// What a plan of hours needs beside the menu.
#[derive(Clone, Debug)]
pub struct PlanAsked {
    pub kitchen: Kitchen,
    pub cook_days: Vec<CookDay>,
    pub now: Option<Timestamp>,
    pub wishes: Wishes,
}

/// Everything a menu file says.
#[derive(Clone, Debug)]
pub struct MenuFile {
    pub laid: Laid,
    pub sitting: Sitting,
    pub at_home: BTreeMap<FoodKey, Amount>,
    pub prices: Option<Prices>,
    pub asked: PlanAsked,
    /// What was noticed in the cards, each with the title of its card.
    pub remarks: Vec<(String, Remark)>,
}

/// Reads a menu file.
pub fn read_menu(text: &str) -> Result<MenuFile, DocumentError> {
    let written: WrittenMenu =
        serde_json::from_str(text).map_err(|error| DocumentError::new(error.to_string()))?;
    menu(written).map_err(DocumentError::new)
}

fn menu(written: WrittenMenu) -> Result<MenuFile, String> {
    let own: Vec<Food> = written.foods.into_iter().map(Food::try_from).collect::<Result<_, _>>()?;
    let larder = Arc::new(Larder::shipped().with(own));
    let zone = Zone::parse(&written.zone).map_err(|error| error.to_string())?;
    let rule = rule(written.must_not)?;
    let local: DateTime = written.serve.parse().map_err(|error| format!("serve: {error}"))?;
    if !(1..=9998).contains(&local.year()) {
        return Err("serve: years run from 1 to 9998".to_owned());
    }
    let shop_on = written.shop_on.as_deref().map(str::parse).transpose();
    let (dishes, remarks) = dishes(&written.cards, &larder)?;
    let at_home = at_home(&written.at_home, &larder)?;
    let prices = written.prices.map(|it| prices(it, &larder)).transpose()?;
    let without = named("without", &written.without, &dishes)?;
    let spoons = match written.spoons.as_deref() {
        None | Some("round") => Spoons::Round,
        Some("customary") => Spoons::Customary,
        Some(other) => return Err(format!("spoons: “{other}” is neither round nor customary")),
    };
    let no_oven_room = named("no_oven_room", &written.no_oven_room, &dishes)?;
    let laid = Laid {
        school: String::new(),
        zone: zone.clone(),
        name: written.menu,
        publication: None,
        dishes,
        rule: TableRule::default(),
        choices: Choices::default(),
        sweet_after_minutes: written.sweet_after_minutes,
        larder,
        profile: Arc::new(Profile::default()),
        spoons,
    };
    let serve = ServiceTime { local, zone: laid.zone.clone() };
    let asked = asked(
        (written.kitchen, written.cook_days),
        (written.now.as_deref(), &written.prefer),
        no_oven_room,
        &serve,
    )?;
    let folded = |(from, to): (String, String)| (from.to_lowercase(), to.to_lowercase());
    let sitting = Sitting {
        name: String::new(),
        guests: Portions::new(written.guests).map_err(|error| error.to_string())?,
        serve,
        choices: written.choices.into_iter().map(folded).collect(),
        without,
        shop_on: shop_on.map_err(|error| format!("shop_on: {error}"))?,
        freezer_litres: written.freezer_litres,
        rule,
    };
    Ok(MenuFile { laid, sitting, at_home, prices, asked, remarks })
}

/// Without a kitchen the usual one, without days the two before and the day itself.
fn asked(
    (kitchen, days): (Option<WrittenKitchen>, Option<Vec<WrittenCookDay>>),
    (now, best): (Option<&str>, &str),
    no_oven_room: Vec<DishId>,
    serve: &ServiceTime,
) -> Result<PlanAsked, String> {
    use super::document::Document;
    let kitchen = match kitchen {
        Some(written) => Kitchen::from_written(written)?,
        None => kitchen_for_plans(),
    };
    let serving = serve.local.date();
    let usual =
        || [2, 1, 0].map(|before: i64| CookDay::whole(serving.saturating_sub(before.days())));
    let cook_days = match days {
        Some(days) => days.iter().map(WrittenCookDay::read).collect::<Result<_, _>>()?,
        None => usual().to_vec(),
    };
    let now = now.map(|it| ServiceTime::parse(it, serve.zone.clone())).transpose();
    let now = now.map_err(|error| format!("now: {error}"))?.map(|it| it.instant());
    let wishes = Wishes { prefer: prefer(best)?, no_oven_room, ..Wishes::default() };
    Ok(PlanAsked { kitchen, cook_days, now, wishes })
}

fn at_home(
    written: &BTreeMap<String, String>,
    larder: &Larder,
) -> Result<BTreeMap<FoodKey, Amount>, String> {
    let read = |(food, words): (&String, &String)| pack_of(food, words, larder);
    written.iter().map(read).collect::<Result<_, _>>().map_err(|it| format!("at_home: {it}"))
}

fn prices(written: WrittenPrices, larder: &Larder) -> Result<Prices, String> {
    let read = |price: WrittenPrice| {
        let (food, pack) =
            pack_of(&price.food, &price.pack, larder).map_err(|it| it.to_string())?;
        let on = price.on.parse().map_err(|error| format!("{}: {error}", price.on))?;
        Ok(Price { food, pack, minor: price.minor, on })
    };
    let rows: Result<Vec<Price>, String> = written.rows.into_iter().map(read).collect();
    Ok(Prices::of(&written.currency, rows.map_err(|it| format!("prices: {it}"))?))
}

fn rule(written: WrittenRule) -> Result<TableRule, String> {
    let allergen = |word: &String| Allergen::parse(word).ok_or(format!("no allergen “{word}”"));
    Ok(TableRule {
        words: String::new(),
        allergens: written.allergens.iter().map(allergen).collect::<Result<_, _>>()?,
        others: written.others,
        strict: written.strict,
    })
}

type Noticed = Vec<(String, Remark)>;

fn dishes(cards: &[String], larder: &Larder) -> Result<(Vec<LaidDish>, Noticed), String> {
    let is_base = |reading: &Reading| reading.card.kind == DishKind::Base;
    let bases: Vec<String> = cards
        .iter()
        .map(|text| read(text, larder))
        .filter(is_base)
        .map(|reading| reading.card.title)
        .collect();
    let mut readings: Vec<Reading> =
        cards.iter().map(|text| read_with_bases(text, larder, &bases)).collect();
    readings.sort_by_key(is_base);
    let mut found = Vec::new();
    let mut noticed = Vec::new();
    let mut next_base = b'S';
    for (place, reading) in readings.into_iter().enumerate() {
        let is_base = is_base(&reading);
        let letter = if is_base {
            next_base += 1;
            Some(Letter(char::from(next_base - 1))).filter(|letter| letter.0 <= 'Z')
        } else {
            Letter::at(place)
        };
        let letter = letter.ok_or("a menu holds at most 26 dishes and 8 bases")?;
        let title = &reading.card.title;
        noticed.extend(reading.remarks.into_iter().map(|remark| (title.clone(), remark)));
        found.push(LaidDish {
            id: DishId(Uuid::from_u128(place as u128 + 1)),
            letter,
            is_base,
            title: reading.card.title.clone(),
            revision: None,
            card: Arc::new(reading.card),
        });
    }
    Ok((found, noticed))
}

fn named(field: &str, titles: &[String], dishes: &[LaidDish]) -> Result<Vec<DishId>, String> {
    let find = |title: &String| {
        let dish = dishes.iter().find(|dish| dish.title.eq_ignore_ascii_case(title));
        dish.map(|dish| dish.id).ok_or(format!("{field}: no card is called “{title}”"))
    };
    titles.iter().map(find).collect()
}
