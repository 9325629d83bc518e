//! A house to measure: one school, a class menu of some 28 kB, its link, and a home that ticks.

use dovetray::clock::Chance;
use dovetray::domain::account::{AccountId, Login, SessionId};
use dovetray::domain::card::{DishKind, read};
use dovetray::domain::class::{Class, ClassId, Link, LinkId, purge_day};
use dovetray::domain::dish::{Dish, DishId, DishRevisionId};
use dovetray::domain::home::{Arrangement, Home, HomeId};
use dovetray::domain::larder::Larder;
use dovetray::domain::layout::{Facts, lay_out};
use dovetray::domain::menu::{Letter, Menu, MenuDraft, MenuId, PublicationId};
use dovetray::domain::moment::{ServiceTime, Zone};
use dovetray::domain::quantity::Portions;
use dovetray::domain::school::{School, SchoolId, SchoolName, SchoolSettings};
use dovetray::domain::text::{CardText, DishTitle, Name};
use dovetray::exchange::snapshot;
use dovetray::storage::{NewAccount, NewPublication, NewSession, Storage};
use dovetray::web::hash_of;
use jiff::Timestamp;

use crate::Failure;

macro_rules! card {
    ($name:literal) => {
        include_str!(concat!("../../../src/cli/demo/cards/", $name, ".txt"))
    };
}

const CARDS: [&str; 14] = [
    card!("a-chickpea-flat-loaf"),
    card!("a-chilled-pea-and-lettuce-soup"),
    card!("a-courgette-and-tomato-bake"),
    card!("a-green-sauce"),
    card!("a-lemon-and-fennel-chicken-thighs"),
    card!("a-roast-new-potatoes-and-carrots"),
    card!("a-two-colour-fruit-ice-loaf"),
    card!("b-barley-with-mushrooms"),
    card!("b-caraway-mustard-pork-loin"),
    card!("b-celeriac-and-leek-soup"),
    card!("b-frozen-orange-cream-loaf"),
    card!("b-potato-and-leek-gratin"),
    card!("b-soft-leeks"),
    card!("b-winter-root-salad"),
];
const GUESTS: u32 = 24;

const WHY: &str = "It waits well, so the last hour is quiet and calm. ";

/// Where the measured pages are found.
pub struct House {
    pub school: SchoolId,
    pub home: HomeId,
    /// The instructor's cookie, the class's token and the home's key.
    pub cookie: String,
    pub token: String,
    pub key: String,
}

struct Making<'a> {
    storage: &'a Storage,
    chance: &'a Chance,
    at: Timestamp,
    id: SchoolId,
    zone: Zone,
}

pub async fn make(storage: &Storage, chance: &Chance, at: Timestamp) -> Result<House, Failure> {
    let (id, zone) = (SchoolId(chance.key(at)), Zone::parse("Europe/Oslo")?);
    let making = Making { storage, chance, at, id, zone };
    let cookie = making.school().await?;
    let dishes = making.dishes().await?;
    let (token, class) = making.class(dishes).await?;
    let (home, key) = making.home(class).await?;
    Ok(House { school: id, home, cookie, token, key })
}

/// The card under another title, with as much about the dish as makes the page some 28 kB.
fn told(text: &str, title: &str, named: &str) -> String {
    let why = format!("why: {}", WHY.repeat(8));
    text.replacen(title, named, 1).replacen("why: ", &why, 1)
}

impl Making<'_> {
    fn serve(&self) -> Result<ServiceTime, Failure> {
        let day = self.zone.local(self.at).date().saturating_add(jiff::Span::new().days(14));
        Ok(ServiceTime { local: day.at(13, 0, 0, 0), zone: self.zone.clone() })
    }

    async fn school(&self) -> Result<String, Failure> {
        let school = School {
            id: self.id,
            name: SchoolName::parse("Bench")?,
            zone: self.zone.clone(),
            settings: SchoolSettings::default(),
            version: 1,
        };
        let account = NewAccount {
            id: AccountId(self.chance.key(self.at)),
            school: self.id,
            login: Login::parse("bench")?,
            password_hash: "none".to_owned(),
            at: self.at,
        };
        self.storage.found_school(&school, &account).await?;
        let key = self.chance.signs::<26>();
        let session = NewSession {
            id: SessionId(self.chance.key(self.at)),
            token_hash: hash_of(&key),
            account: account.id,
            school: self.id,
            device: "bench".to_owned(),
            at: self.at,
        };
        self.storage.add_session(&session).await?;
        Ok(key)
    }

    /// As many dishes as a menu holds, from the cards in turn, and every base once.
    async fn dishes(&self) -> Result<Vec<DishId>, Failure> {
        let larder = Larder::shipped();
        let (mut eaten, mut round) = (Vec::new(), 0);
        while eaten.len() < Letter::MOST {
            round += 1;
            for text in CARDS {
                let card = read(text, &larder).card;
                let is_base = card.kind == DishKind::Base;
                if eaten.len() == Letter::MOST || (is_base && round > 1) {
                    continue;
                }
                let title = card.title.clone();
                let named = if is_base { title } else { format!("{title} {round}") };
                let dish = Dish {
                    id: DishId(self.chance.key(self.at)),
                    title: DishTitle::parse(&named)?,
                    kind: card.kind,
                    card: CardText::parse(&told(text, &card.title, &named))?,
                    written_at: self.at,
                    archived_at: None,
                    version: 1,
                };
                self.storage.add_dish(self.id, &dish).await?;
                if !is_base {
                    eaten.push(dish.id);
                }
            }
        }
        Ok(eaten)
    }

    /// A menu of these dishes, published for a class with one link.
    async fn class(&self, dishes: Vec<DishId>) -> Result<(String, ClassId), Failure> {
        let draft = MenuDraft::new(Portions::new(GUESTS)?, self.serve()?);
        let name = Name::parse("Everything at once").map_err(|_| "no name")?;
        let menu = Menu { id: MenuId(self.chance.key(self.at)), name, draft, dishes };
        self.storage.add_menu(self.id, &menu, self.at).await?;
        let class = Class {
            id: ClassId(self.chance.key(self.at)),
            menu: menu.id,
            publication: None,
            serve: self.serve()?,
            lesson: None,
            kitchen: None,
            seats: Portions::new(GUESTS)?,
            fee_minor: None,
            purge_on: purge_day(self.serve()?.local.date(), self.zone.local(self.at).date()),
        };
        let token = self.chance.signs::<26>();
        let link = Link {
            id: LinkId(self.chance.key(self.at)),
            token: token.clone(),
            note: String::new(),
            made_at: self.at,
            expires_at: self.serve()?.instant(),
            revoked_at: None,
        };
        let id = class.id;
        self.publish(&menu, (class, link, hash_of(&token))).await?;
        Ok((token, id))
    }

    async fn publish(&self, menu: &Menu, quiet: (Class, Link, [u8; 32])) -> Result<(), Failure> {
        let kept = self.storage.menu(self.id, menu.id).await?.ok_or("no menu")?;
        let out = lay_out(&Facts {
            school: "Bench",
            zone: &self.zone,
            name: menu.name.as_str(),
            draft: &menu.draft,
            dishes: &kept.dishes,
            bases: &kept.bases,
            larder: &self.storage.larder(self.id).await?,
            profile: &self.storage.profile(self.id).await?,
        });
        let texts = out.laid.dishes.iter().zip(&out.texts);
        let revision = || DishRevisionId(self.chance.key(self.at));
        let new = NewPublication {
            id: PublicationId(self.chance.key(self.at)),
            menu: menu.id,
            version: kept.version,
            snapshot: snapshot::write(&out.laid, &out.texts, &menu.draft),
            dishes: texts.map(|(dish, text)| (dish.id, text.clone(), revision())).collect(),
            at: self.at,
            quiet: Some(quiet),
        };
        self.storage.publish(self.id, new).await?;
        Ok(())
    }

    async fn home(&self, class: ClassId) -> Result<(HomeId, String), Failure> {
        let home = Home {
            id: HomeId(self.chance.key(self.at)),
            class,
            name: String::new(),
            guests: Portions::new(8)?,
            serve: self.serve()?,
            arrangement: Arrangement::default(),
            shares_name: false,
            seen_number: 1,
        };
        let key = self.chance.signs::<26>();
        self.storage.join(self.id, &home, hash_of(&key), self.at).await?;
        Ok((home.id, key))
    }
}
