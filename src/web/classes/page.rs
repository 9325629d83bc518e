//! View models of classes.

use std::collections::{BTreeMap, BTreeSet};

use askama::Template;
use jiff::Timestamp;
use jiff::civil::Date;

use super::form::{ClassForm, Problems};
use crate::domain::class::{Class, Link};
use crate::domain::menu::{Letter, Menu};
use crate::domain::school::School;
use crate::storage::{KeptClass, KeptHome, KeptKitchen, MenuLine};
use crate::web::frame::Frame;
use crate::web::links::{LinksView, Seen};
use crate::web::sheets::SheetKind;

#[derive(Template)]
#[template(path = "classes/list.html")]
pub struct ClassesPage {
    frame: Frame,
    ahead: Vec<ClassRow>,
    held: Vec<ClassRow>,
}

struct ClassRow {
    day: String,
    month: String,
    address: String,
    name: String,
    about: String,
    homes: u32,
    state: String,
}

impl ClassesPage {
    /// `today` parts those to come, the next first, from those that were.
    pub fn new(frame: Frame, classes: &[KeptClass], today: Date) -> Self {
        let row = |kept: &KeptClass| ClassRow {
            day: kept.class.serve.local.strftime("%-d").to_string(),
            month: kept.class.serve.local.strftime("%a %b").to_string(),
            address: frame.paths.class(kept.class.id),
            name: kept.menu_name.clone(),
            about: about(&kept.class),
            homes: kept.homes,
            state: state_words(kept.published.as_ref()),
        };
        let is_held = |kept: &&KeptClass| kept.class.serve.local.date() < today;
        let held = classes.iter().filter(is_held).map(row).collect();
        let ahead = classes.iter().rev().filter(|kept| !is_held(kept)).map(row).collect();
        Self { frame, ahead, held }
    }
}

/// `18:00 to 21:00, eating at 20:15, for 8`.
fn about(class: &Class) -> String {
    let eating = class.serve.local.strftime("%H:%M");
    let seats = class.seats.count();
    match class.lesson {
        Some(lesson) => {
            let (from, to) = (lesson.from.strftime("%H:%M"), lesson.to.strftime("%H:%M"));
            format!("{from} to {to}, eating at {eating}, for {seats}")
        }
        None => format!("Without a lesson, at the table {eating}, for {seats}"),
    }
}

fn state_words(published: Option<&(u32, String)>) -> String {
    match published {
        Some((number, word)) => format!("revision {number}, check word {word}"),
        None => "not published yet".to_owned(),
    }
}

/// A new class begins with the menu it is made of.
#[derive(Template)]
#[template(path = "classes/choose.html")]
pub struct ChoosePage {
    frame: Frame,
    /// Address, name, guests and hour, dishes.
    rows: Vec<(String, String, String, u32)>,
}

impl ChoosePage {
    pub fn new(frame: Frame, menus: &[MenuLine]) -> Self {
        let row = |menu: &MenuLine| {
            let (guests, serve) = (menu.draft.guests.count(), menu.draft.serve.in_words());
            let about = format!("For {guests}, {serve}");
            (frame.paths.class_new(menu.id), menu.name.to_string(), about, menu.dishes)
        };
        let rows = menus.iter().map(row).collect();
        Self { frame, rows }
    }
}

/// Everything the page of a class is made of.
pub struct Shown<'a> {
    pub kept: &'a KeptClass,
    pub links: &'a [Link],
    pub homes: &'a [KeptHome],
    pub kitchens: &'a [KeptKitchen],
    pub school: &'a School,
    pub letters: Vec<(Letter, bool)>,
    /// What the cards use, by the words of their authors.
    pub tools: BTreeSet<&'a str>,
    pub origin: &'a str,
    pub now: Timestamp,
}

#[derive(Template)]
#[template(path = "classes/show.html")]
pub struct ClassPage {
    frame: Frame,
    day: String,
    month: String,
    name: String,
    menu: String,
    about: String,
    state: String,
    is_published: bool,
    facts: Vec<(&'static str, String)>,
    edit: String,
    limits: String,
    log: String,
    shopping: String,
    links: LinksView,
    homes: Vec<HomeRow>,
    allergies: Vec<String>,
    counted: String,
    purge: String,
    letters: Vec<(String, bool)>,
    sheets: Vec<(String, String)>,
}

struct HomeRow {
    guests: u32,
    name: String,
    serves: String,
    kitchen: String,
    seen: String,
}

impl ClassPage {
    pub fn new(frame: Frame, shown: &Shown) -> Self {
        let class = &shown.kept.class;
        let seen = Seen { origin: shown.origin, zone: &shown.school.zone, now: shown.now };
        let action = frame.paths.class_links(class.id);
        let is_over = class.closes_at() <= shown.now;
        let recipes = shown.letters.iter().map(|(letter, _)| SheetKind::Recipe(*letter));
        let sheet =
            |kind: SheetKind| (frame.paths.class_sheet(class.id, &kind.word()), kind.title());
        Self {
            day: class.serve.local.strftime("%-d").to_string(),
            month: class.serve.local.strftime("%a %b").to_string(),
            name: shown.kept.menu_name.clone(),
            menu: frame.paths.menu(class.menu),
            about: about(class),
            state: state_words(shown.kept.published.as_ref()),
            is_published: shown.kept.published.is_some(),
            facts: facts(class, shown),
            edit: frame.paths.class_edit(class.id),
            limits: frame.paths.class_limits(class.id),
            log: frame.paths.class_log(class.id),
            shopping: frame.paths.class_shopping(class.id),
            links: LinksView::of(&frame.paths, shown.links, &seen, action, is_over),
            homes: shown.homes.iter().map(home_row).collect(),
            allergies: told(shown.homes),
            counted: shown.school.zone.local(shown.now).strftime("%A %-d %B, %H:%M").to_string(),
            purge: class.purge_on.strftime("%A %-d %B %Y").to_string(),
            letters: shown
                .letters
                .iter()
                .map(|(letter, is_base)| (letter.to_string(), *is_base))
                .collect(),
            sheets: SheetKind::OF_MENU.into_iter().chain(recipes).map(sheet).collect(),
            frame,
        }
    }
}

fn facts(class: &Class, shown: &Shown) -> Vec<(&'static str, String)> {
    let mut facts = vec![("At the table", class.serve.in_words())];
    let kitchen = shown.kitchens.iter().find(|kept| Some(kept.id) == class.kitchen);
    if let Some(KeptKitchen { kitchen, .. }) = kitchen {
        facts.push(("Kitchen", format!("{}: {}", kitchen.name, kitchen.in_words())));
        let lacks = kitchen.machines.lacks(&shown.tools);
        if !lacks.is_empty() {
            facts.push(("Not in this kitchen", format!("{}; the cards use it", lacks.join(", "))));
        }
    }
    if let Some(minor) = class.fee_minor {
        facts.push(("Fee", format!("{} each", shown.school.settings.currency.words(minor))));
    }
    facts
}

/// A name stands only where its home allows it.
fn home_row(kept: &KeptHome) -> HomeRow {
    let home = &kept.home;
    let newest = kept.publication.map_or(0, |(_, number)| number);
    HomeRow {
        guests: home.guests.count(),
        name: home.name_for_school().to_owned(),
        serves: format!("{} ({})", home.serve.in_words(), home.serve.zone.name()),
        kitchen: home
            .arrangement
            .kitchen
            .as_ref()
            .map_or_else(|| "not asked yet".to_owned(), |kitchen| kitchen.in_words()),
        seen: if home.seen_number >= newest {
            format!("revision {newest}")
        } else {
            format!("revision {}, not yet {newest}", home.seen_number)
        },
    }
}

/// How many homes told which allergy; never whose it is.
pub fn told(homes: &[KeptHome]) -> Vec<String> {
    let mut told: BTreeMap<&str, (u32, bool)> = BTreeMap::new();
    for allergy in homes.iter().flat_map(|kept| &kept.allergies) {
        let (count, is_strict) = told.entry(&allergy.what).or_default();
        *count += 1;
        *is_strict |= allergy.strict;
    }
    let words = |(what, (count, is_strict)): (&str, (u32, bool))| {
        let homes = if count == 1 { "1 home".to_owned() } else { format!("{count} homes") };
        let strict = if is_strict { ", traces count" } else { "" };
        format!("{what}: {homes}{strict}")
    };
    told.into_iter().map(words).collect()
}

#[derive(Template)]
#[template(path = "classes/edit.html")]
pub struct EditClassPage {
    frame: Frame,
    title: &'static str,
    action: String,
    back: String,
    name: String,
    form: ClassForm,
    kitchens: Vec<(String, String, bool)>,
    zone: String,
    fee_hint: String,
    problems: Problems,
    is_newer: bool,
}

impl EditClassPage {
    pub fn new_of(frame: Frame, menu: &Menu, form: ClassForm) -> Self {
        let (action, back) = (frame.paths.class_new(menu.id), frame.paths.menu(menu.id));
        let name = menu.name.to_string();
        let zone = menu.draft.serve.zone.name().to_owned();
        Self::of(frame, "Make a class", (action, back), (name, zone), form)
    }

    pub fn change_of(frame: Frame, kept: &KeptClass, form: ClassForm) -> Self {
        let class = &kept.class;
        let (action, back) = (frame.paths.class_edit(class.id), frame.paths.class(class.id));
        let zone = class.serve.zone.name().to_owned();
        let words = (kept.menu_name.clone(), zone);
        Self::of(frame, "Change the class", (action, back), words, form)
    }

    fn of(
        frame: Frame,
        title: &'static str,
        (action, back): (String, String),
        (name, zone): (String, String),
        form: ClassForm,
    ) -> Self {
        let (kitchens, problems) = (Vec::new(), Vec::new());
        let (fee_hint, is_newer) = (String::new(), false);
        Self {
            frame,
            title,
            action,
            back,
            name,
            form,
            kitchens,
            zone,
            fee_hint,
            problems,
            is_newer,
        }
    }

    /// Offers the kitchens of the school, and says in which money a fee is.
    pub fn beside(mut self, kitchens: &[KeptKitchen], school: &School) -> Self {
        let row = |kept: &KeptKitchen| {
            let id = kept.id.0.to_string();
            let is_chosen = id == self.form.kitchen;
            (id, format!("{}: {}", kept.kitchen.name, kept.kitchen.in_words()), is_chosen)
        };
        self.kitchens = kitchens.iter().map(row).collect();
        self.fee_hint = format!("In {}; may stay empty", school.settings.currency.code());
        self
    }

    pub fn with(mut self, problems: Problems) -> Self {
        self.problems = problems;
        self
    }

    pub fn with_newer(mut self) -> Self {
        self.is_newer = true;
        self
    }

    fn problem(&self, at: &str) -> Option<&str> {
        self.problems.iter().find(|(field, _)| *field == at).map(|(_, words)| words.as_str())
    }
}
