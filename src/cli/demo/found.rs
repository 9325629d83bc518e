//! Founds one school of the demonstration: foods, dishes, menu, class, homes.

use std::sync::Arc;

use jiff::civil::{Date, DateTime};
use jiff::{Span, Timestamp, ToSpan};

use super::Told;
use super::schools::{DemoHome, DemoKitchen, DemoSchool};
use crate::cli::CommandError;
use crate::clock::{Chance, Clock};
use crate::domain::account::{AccountId, Login, Password};
use crate::domain::card::read;
use crate::domain::class::{Class, ClassId, Lesson, Link, LinkId, purge_day};
use crate::domain::cost::{PriceId, read_prices};
use crate::domain::dish::{Dish, DishId, DishRevisionId};
use crate::domain::home::{Allergy, Arrangement, CookDay, Home, HomeId};
use crate::domain::kitchen::{Kitchen, KitchenId, Oven};
use crate::domain::larder::Larder;
use crate::domain::layout::{Facts, lay_out};
use crate::domain::menu::{Menu, MenuDraft, MenuId, PublicationId, TableRule};
use crate::domain::moment::{ServiceTime, Zone};
use crate::domain::quantity::Portions;
use crate::domain::school::{Currency, School, SchoolId, SchoolName, SchoolSettings};
use crate::domain::text::{CardText, DishTitle, Name};
use crate::exchange::food::read_foods;
use crate::exchange::snapshot;
use crate::storage::{NewAccount, NewPublication, Storage};
use crate::web::{Cost, Hasher, hash_of};

/// The tables stand at least so many days ahead, so that everything can be made beforehand.
const AHEAD_DAYS: i64 = 14;

struct Making<'a> {
    storage: &'a Storage,
    from: &'a DemoSchool,
    chance: &'a Chance,
    at: Timestamp,
    zone: Zone,
    id: SchoolId,
    /// Whole weeks from the written dates to the shown ones.
    weeks: i64,
}

/// Makes the school; the answer is its instructor and the key of its first home.
pub async fn school(
    storage: &Storage,
    from: &DemoSchool,
    clock: Clock,
    chance: &Chance,
) -> Result<Told, CommandError> {
    let at = clock.now();
    let zone = Zone::parse(from.zone)?;
    let id = SchoolId(chance.key(at));
    let written: DateTime = from.class.serve.parse().expect("the written dates are dates");
    let weeks = weeks_to(written.date(), zone.local(at).date());
    let making = Making { storage, from, chance, at, zone, id, weeks };
    let (login, password) = making.found().await?;
    let dishes = making.dishes().await?;
    let menu = making.menu(dishes).await?;
    making.publish(&menu).await?;
    let class = making.class(&menu).await?;
    let mut home_key = String::new();
    for home in from.homes {
        let key = making.home(home, class).await?;
        if home_key.is_empty() {
            home_key = key;
        }
    }
    Ok(Told { login, password, home_key })
}

/// The smallest number of weeks that brings `written` at least [`AHEAD_DAYS`] after `today`.
fn weeks_to(written: Date, today: Date) -> i64 {
    let gap = written.duration_since(today).as_hours() / 24;
    (AHEAD_DAYS - gap).div_euclid(7) + i64::from((AHEAD_DAYS - gap).rem_euclid(7) > 0)
}

impl Making<'_> {
    fn moved(&self, written: &str) -> DateTime {
        let written: DateTime = written.parse().expect("the written dates are dates");
        written.saturating_add(Span::new().weeks(self.weeks))
    }

    fn serve(&self, written: &str, zone: &str) -> Result<ServiceTime, CommandError> {
        Ok(ServiceTime { local: self.moved(written), zone: Zone::parse(zone)? })
    }

    async fn found(&self) -> Result<(String, String), CommandError> {
        let settings = SchoolSettings {
            measures: self.from.measures,
            currency: Currency::parse(self.from.currency).unwrap_or_default(),
            ..SchoolSettings::default()
        };
        let school = School {
            id: self.id,
            name: SchoolName::parse(self.from.name)?,
            zone: self.zone.clone(),
            settings,
            version: 1,
        };
        let login = Login::parse(self.from.login)?;
        let typed = format!("{}-{}", self.from.instructor_words, self.chance.signs::<16>());
        let password = Password::parse(&typed, &[])?;
        let hash = Hasher::new(Cost::STANDARD).hash(&password, self.chance.bytes()).await?;
        let id = AccountId(self.chance.key(self.at));
        let account = NewAccount { id, school: self.id, login, password_hash: hash, at: self.at };
        self.storage.found_school(&school, &account).await?;
        let foods = read_foods(self.from.foods).expect("the foods of the demonstration are read");
        self.storage.save_foods(self.id, &foods, self.at).await?;
        let larder = self.storage.larder(self.id).await?;
        let (currency, today) = (school.settings.currency, self.zone.local(self.at).date());
        let prices = read_prices(self.from.prices, &larder, currency, today)
            .expect("the prices of the demonstration are read");
        let prices: Vec<_> =
            prices.into_iter().map(|it| (PriceId(self.chance.key(self.at)), it)).collect();
        self.storage.add_prices(self.id, currency, &prices).await?;
        Ok((self.from.login.to_owned(), typed))
    }

    /// All cards; the answer is the dishes of the menu in their order, without the bases.
    async fn dishes(&self) -> Result<Vec<DishId>, CommandError> {
        let mut eaten = Vec::new();
        for text in self.from.cards {
            let card = read(text, &Larder::shipped()).card;
            let dish = Dish {
                id: DishId(self.chance.key(self.at)),
                title: DishTitle::parse(&card.title).expect("every card has a title"),
                kind: card.kind,
                card: CardText::parse(text).expect("every card has words"),
                written_at: self.at,
                archived_at: None,
                version: 1,
            };
            self.storage.add_dish(self.id, &dish).await?;
            if card.kind == crate::domain::card::DishKind::Dish {
                eaten.push(dish.id);
            }
        }
        Ok(eaten)
    }

    async fn menu(&self, dishes: Vec<DishId>) -> Result<Menu, CommandError> {
        let from = &self.from.menu;
        let guests = portions(from.guests);
        let mut draft = MenuDraft::new(guests, self.serve(from.serve, self.from.zone)?);
        draft.sweet_after_minutes = from.sweet_after_minutes;
        draft.rule = TableRule {
            words: from.rule_words.to_owned(),
            allergens: from.allergens.to_vec(),
            others: Vec::new(),
            strict: true,
        };
        let id = MenuId(self.chance.key(self.at));
        let name = Name::parse(from.name).expect("the menu has a name");
        let menu = Menu { id, name, draft, dishes };
        self.storage.add_menu(self.id, &menu, self.at).await?;
        Ok(menu)
    }

    async fn class(&self, menu: &Menu) -> Result<ClassId, CommandError> {
        let from = &self.from.class;
        let kitchen_id = KitchenId(self.chance.key(self.at));
        self.storage.add_kitchen(self.id, kitchen_id, &kitchen(&from.kitchen)).await?;
        let serve = self.serve(from.serve, self.from.zone)?;
        let class = Class {
            id: ClassId(self.chance.key(self.at)),
            menu: menu.id,
            publication: None,
            lesson: Lesson::new(self.moved(from.from), self.moved(from.to)),
            kitchen: Some(kitchen_id),
            seats: portions(from.seats),
            fee_minor: Some(from.fee_minor),
            purge_on: purge_day(menu.draft.serve.local.date(), self.zone.local(self.at).date()),
            serve,
        };
        let token = self.chance.signs::<26>();
        let hash = hash_of(&token);
        let link = Link {
            id: LinkId(self.chance.key(self.at)),
            token,
            note: "The class".to_owned(),
            made_at: self.at,
            expires_at: class.closes_at(),
            revoked_at: None,
        };
        self.storage.add_class(self.id, &class, &link, hash, self.at).await?;
        Ok(class.id)
    }

    /// As the page does it: laid out, fixed, shown.
    async fn publish(&self, menu: &Menu) -> Result<(), CommandError> {
        let kept = self.storage.menu(self.id, menu.id).await?.expect("the menu was just made");
        let larder = self.storage.larder(self.id).await?;
        let profile = self.storage.profile(self.id).await?;
        let profile: &Arc<_> = &profile;
        let out = lay_out(&Facts {
            school: self.from.name,
            zone: &self.zone,
            name: menu.name.as_str(),
            draft: &menu.draft,
            dishes: &kept.dishes,
            bases: &kept.bases,
            larder: &larder,
            profile,
        });
        let texts = out.laid.dishes.iter().zip(&out.texts);
        let new = NewPublication {
            id: PublicationId(self.chance.key(self.at)),
            menu: menu.id,
            version: kept.version,
            snapshot: snapshot::write(&out.laid, &out.texts, &menu.draft),
            dishes: texts
                .map(|(dish, text)| {
                    (dish.id, text.clone(), DishRevisionId(self.chance.key(self.at)))
                })
                .collect(),
            at: self.at,
            quiet: None,
        };
        self.storage.publish(self.id, new).await?;
        Ok(())
    }

    async fn home(&self, from: &DemoHome, class: ClassId) -> Result<String, CommandError> {
        let own = |words: &(&str, &str)| (words.0.to_owned(), words.1.to_owned());
        let serve = self.serve(from.serve, from.zone)?;
        let arrangement = Arrangement {
            kitchen: Some(kitchen(&from.kitchen)),
            shop_on: Some(self.moved(&format!("{}T00:00", from.shop_on)).date()),
            choices: from.choices.iter().map(own).collect(),
            cook_days: from
                .cook_days_before
                .iter()
                .map(|days| CookDay::whole(serve.local.date().saturating_sub(days.days())))
                .collect(),
            ..Arrangement::default()
        };
        let home = Home {
            id: HomeId(self.chance.key(self.at)),
            class,
            name: from.name.to_owned(),
            guests: portions(from.guests),
            serve,
            arrangement,
            shares_name: true,
            seen_number: 1,
        };
        let key = self.chance.signs::<26>();
        self.storage.join(self.id, &home, hash_of(&key), self.at).await?;
        let allergies: Vec<Allergy> = from
            .allergies
            .iter()
            .map(|(what, strict)| Allergy {
                what: (*what).to_owned(),
                strict: *strict,
                consent_at: self.at,
                words_version: Allergy::CONSENT_VERSION,
            })
            .collect();
        self.storage.tell_allergies(self.id, home.id, &allergies).await?;
        Ok(key)
    }
}

fn kitchen(from: &DemoKitchen) -> Kitchen {
    let oven = |&shelves: &u32| Oven { shelves, preheat_minutes: from.preheat_minutes };
    Kitchen {
        name: Name::parse(from.name).expect("every kitchen has a name"),
        ovens: from.ovens.iter().map(oven).collect(),
        rings: from.rings,
        hands: from.hands,
        fridge: from.fridge,
        freezer: from.freezer,
        machines: from.machines,
    }
}

fn portions(count: u32) -> Portions {
    Portions::new(count).expect("the demonstration feeds a few")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_move_by_whole_weeks_and_lie_ahead() {
        for (written, today) in [("2027-06-16", "2026-11-25"), ("2027-01-13", "2031-02-28")] {
            let (written, today): (Date, Date) = (written.parse().unwrap(), today.parse().unwrap());
            let shown = written.saturating_add(Span::new().weeks(weeks_to(written, today)));
            assert_eq!(shown.weekday(), written.weekday());
            let gap = shown.duration_since(today).as_hours() / 24;
            assert!((AHEAD_DAYS..AHEAD_DAYS + 7).contains(&gap), "{gap}");
        }
    }
}
