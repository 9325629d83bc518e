//! View models of kitchens, and every state of their pages.

use askama::Template;
use uuid::Uuid;

use super::form::{KitchenForm, Problems};
use crate::domain::kitchen::{ColdRoom, Kitchen, KitchenId, usual_kitchens};
use crate::storage::KeptKitchen;
use crate::web::frame::{Frame, Section};

#[derive(Template)]
#[template(path = "kitchens/list.html")]
pub struct KitchensPage {
    frame: Frame,
    rows: Vec<KitchenRow>,
}

struct KitchenRow {
    address: String,
    like: String,
    shelves: String,
    name: String,
    about: String,
    is_begun: bool,
}

fn row(frame: &Frame, kept: &KeptKitchen) -> KitchenRow {
    KitchenRow {
        address: frame.paths.kitchen(kept.id),
        like: frame.paths.kitchen_like(kept.id),
        shelves: kept.kitchen.shelves_in_words(),
        name: kept.kitchen.name.to_string(),
        about: about(&kept.kitchen),
        is_begun: false,
    }
}

fn about(kitchen: &Kitchen) -> String {
    let (fridge, freezer) = (kitchen.fridge.words(), kitchen.freezer.words());
    let cold = format!("free in the fridge {fridge}, in the freezer {freezer}");
    let machines = kitchen.machines.in_words();
    let parts = [kitchen.in_words(), cold, machines];
    parts.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ")
}

impl KitchensPage {
    pub fn new(frame: Frame, kitchens: &[KeptKitchen]) -> Self {
        let rows = kitchens.iter().map(|kept| row(&frame, kept)).collect();
        Self { frame, rows }
    }
}

#[derive(Template)]
#[template(path = "kitchens/edit.html")]
pub struct KitchenPage {
    frame: Frame,
    action: String,
    title: &'static str,
    form: KitchenForm,
    /// Kitchens to begin from; only on the page of a new one.
    begin: Vec<KitchenRow>,
    problems: Problems,
    /// What somebody else saved meanwhile.
    newer: Option<String>,
    /// What may be free in the cold: the word that is sent, the words that are shown.
    rooms: [(&'static str, &'static str); 3],
}

impl KitchenPage {
    pub fn new(frame: Frame, id: Option<KitchenId>, form: KitchenForm) -> Self {
        let (action, title) = match id {
            Some(id) => (frame.paths.kitchen(id), "Change a kitchen"),
            None => (frame.paths.kitchen_new(), "Add a kitchen"),
        };
        let rooms = ColdRoom::ALL.map(|room| (room.word(), room.words()));
        let (begin, problems, newer) = (Vec::new(), Vec::new(), None);
        Self { frame, action, title, form, begin, problems, newer, rooms }
    }

    /// Offers the kitchens of the school to begin from; `begun` is the one in the fields.
    pub fn beside(mut self, kitchens: &[KeptKitchen], begun: Option<&KeptKitchen>) -> Self {
        let is_begun = |kept: &KeptKitchen| begun.is_some_and(|begun| begun.id == kept.id);
        self.begin = kitchens
            .iter()
            .map(|kept| KitchenRow { is_begun: is_begun(kept), ..row(&self.frame, kept) })
            .collect();
        self
    }

    pub fn with(mut self, problems: Problems) -> Self {
        self.problems = problems;
        self
    }

    pub fn with_name_taken(self) -> Self {
        let problem = "You already have a kitchen with this name; choose another";
        self.with(vec![("name", problem.to_owned())])
    }

    pub fn with_newer(mut self, newer: &Kitchen) -> Self {
        self.newer = Some(format!("{}: {}", newer.name, newer.in_words()));
        self
    }

    fn problem(&self, at: &str) -> Option<&str> {
        self.problems.iter().find(|(field, _)| *field == at).map(|(_, words)| words.as_str())
    }
}

/// Every state of every page here, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let frame = || Frame { section: Some(Section::School), ..Frame::sample() };
    let kept =
        |(id, kitchen)| KeptKitchen { id: KitchenId(Uuid::from_u128(id)), kitchen, version: 1 };
    let kitchens: Vec<_> = (1..).zip(usual_kitchens()).map(kept).collect();
    let first = &kitchens[0];
    let form = || KitchenForm::from(&first.kitchen, 1);
    let new = KitchenPage::new(frame(), None, KitchenForm::like(&first.kitchen))
        .beside(&kitchens, Some(first));
    let wrong = KitchenForm { shelves: "two".to_owned(), hands: "0".to_owned(), ..form() };
    let (_, problems) = wrong.check();
    let wrong = KitchenPage::new(frame(), Some(first.id), wrong).with(problems);
    let newer = KitchenPage::new(frame(), Some(first.id), form()).with_newer(&kitchens[2].kitchen);
    let render = |page: &KitchenPage| page.render().expect("samples are complete");
    let list = KitchensPage::new(frame(), &kitchens);
    vec![
        ("kitchens", list.render().expect("samples are complete")),
        ("kitchen-new", render(&new)),
        ("kitchen-two-problems", render(&wrong)),
        ("kitchen-conflict", render(&newer)),
    ]
}
