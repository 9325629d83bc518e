//! View models: everything a dish template may know, already in words.

use askama::Template;
use jiff::Timestamp;
use uuid::Uuid;

use crate::domain::card::DishKind;
use crate::domain::dish::{Dish, DishId};
use crate::domain::moment::Zone;
use crate::domain::text::{CardText, DishTitle};
use crate::web::form::{Field, problems};
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "dishes/list.html")]
pub struct DishesPage {
    frame: Frame,
    rows: Vec<DishRow>,
}

struct DishRow {
    address: String,
    title: String,
    kind: &'static str,
    written: String,
}

impl DishesPage {
    pub fn new(frame: Frame, zone: &Zone, dishes: &[Dish]) -> Self {
        let row = |dish: &Dish| DishRow {
            address: frame.paths.dish(dish.id),
            title: dish.title.to_string(),
            kind: dish.kind.word(),
            written: zone.date_of(dish.written_at),
        };
        let rows = dishes.iter().map(row).collect();
        Self { frame, rows }
    }
}

#[derive(Template)]
#[template(path = "dishes/edit.html")]
pub struct EditDishPage {
    pub frame: Frame,
    pub title: Field,
    pub kind: Field,
    pub card: Field,
}

impl EditDishPage {
    pub fn empty(frame: Frame) -> Self {
        let kind = Field::with(DishKind::Dish.word());
        Self { frame, title: Field::default(), kind, card: Field::default() }
    }

    pub fn with_title_taken(mut self) -> Self {
        let problem = "You already have a dish with this name; choose another";
        self.title.problem = Some(problem.to_owned());
        self
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[("title", &self.title), ("kind", &self.kind), ("card", &self.card)])
    }
}

#[derive(Template)]
#[template(path = "dishes/show.html")]
pub struct DishPage {
    frame: Frame,
    title: String,
    about: String,
    lines: Vec<String>,
}

impl DishPage {
    pub fn new(frame: Frame, zone: &Zone, dish: &Dish) -> Self {
        let written = zone.date_of(dish.written_at);
        Self {
            frame,
            title: dish.title.to_string(),
            about: format!("A {}, written {written}", dish.kind.word()),
            lines: dish.card.as_str().lines().map(str::to_owned).collect(),
        }
    }
}

/// Every state of every page here, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let frame = Frame::sample;
    let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
    let dish = Dish {
        id: DishId(Uuid::nil()),
        title: DishTitle::parse("Leeks & mustard").expect("a title"),
        kind: DishKind::Base,
        card: CardText::parse("+ 2 leeks\n1. Slice <thinly>.").expect("a card"),
        written_at: Timestamp::from_second(1_795_563_000).expect("an instant"),
        archived_at: None,
        version: 1,
    };
    let two_problems = EditDishPage {
        title: Field::check(String::new(), DishTitle::parse).1,
        card: Field::check("\n".to_owned(), CardText::parse).1,
        ..EditDishPage::empty(frame())
    };
    vec![
        ("dishes", render(&DishesPage::new(frame(), &zone, std::slice::from_ref(&dish)))),
        ("dishes-none", render(&DishesPage::new(frame(), &zone, &[]))),
        ("dish-new", render(&EditDishPage::empty(frame()))),
        ("dish-new-two-problems", render(&two_problems)),
        ("dish", render(&DishPage::new(frame(), &zone, &dish))),
    ]
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}
