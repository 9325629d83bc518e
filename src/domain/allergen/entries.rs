//! Every food of a dish, through its bases, with the foods that may stand in for it.

use crate::domain::card::Source;
use crate::domain::choice::{Allowed, Options, options};
use crate::domain::larder::Found;
use crate::domain::menu::{Choices, Laid, LaidDish};

use super::Carrier;

/// One `+` line that names foods.
#[derive(Clone, Debug)]
pub struct Entry {
    pub options: Options,
    pub via: Option<String>,
    pub is_optional: bool,
    /// Line of the card it stands on; of a base, in the base's card.
    pub line: usize,
}

impl Entry {
    /// Foods that may still be used: the chosen one, or all where nobody chose.
    pub fn open(&self) -> impl Iterator<Item = &Allowed> {
        let all = !self.options.is_chosen;
        let now = self.options.now;
        self.options
            .foods
            .iter()
            .enumerate()
            .filter(move |(at, _)| all || *at == now)
            .map(|it| it.1)
    }

    pub fn carrier(&self, food: &Allowed) -> Carrier {
        Carrier { food: food.name.clone(), via: self.via.clone(), is_optional: self.is_optional }
    }
}

pub fn of_dish(dish: &LaidDish, laid: &Laid, choices: [&Choices; 2]) -> Vec<Entry> {
    let mut found = Vec::new();
    let context = Context { laid, choices };
    context.collect(dish, None, false, &mut vec![dish.title.to_lowercase()], &mut found);
    found
}

#[derive(Clone, Copy)]
struct Context<'a> {
    laid: &'a Laid,
    choices: [&'a Choices; 2],
}

impl Context<'_> {
    fn collect(
        self,
        dish: &LaidDish,
        via: Option<&str>,
        is_optional: bool,
        inside: &mut Vec<String>,
        found: &mut Vec<Entry>,
    ) {
        let lines = dish.card.steps().flat_map(|(_, step)| &step.goes_in);
        for entry in lines.filter(|entry| !entry.what.is_heading) {
            let is_optional = is_optional || entry.what.is_optional;
            let of = |options: Options| Entry {
                options,
                via: via.map(ToOwned::to_owned),
                is_optional,
                line: entry.line,
            };
            match &entry.source {
                Some(Source::Part(_)) => {}
                None => found.push(of(options(&entry.what, &self.laid.larder, self.choices))),
                Some(Source::Base(title)) => match self.laid.base(title) {
                    Some(base) if inside.contains(&base.title.to_lowercase()) => {}
                    Some(base) => {
                        inside.push(base.title.to_lowercase());
                        self.collect(base, Some(&base.title), is_optional, inside, found);
                        inside.pop();
                    }
                    // A base that is not there is a food nobody knows.
                    None => found.push(of(unknown(title))),
                },
            }
        }
    }
}

fn unknown(title: &str) -> Options {
    let food = Allowed { name: title.to_owned(), found: Found::Unknown };
    Options { foods: vec![food], now: 0, is_chosen: false }
}

/// The bases that these dishes use, also through each other, in the order of the menu.
pub fn bases_used<'a>(laid: &'a Laid, eaten: &[&'a LaidDish]) -> Vec<&'a LaidDish> {
    let mut left: Vec<&LaidDish> = eaten.to_vec();
    let mut used: Vec<&LaidDish> = Vec::new();
    while let Some(dish) = left.pop() {
        let lines = dish.card.steps().flat_map(|(_, step)| &step.goes_in);
        for base in lines.filter_map(|entry| match &entry.source {
            Some(Source::Base(title)) => laid.base(title),
            _ => None,
        }) {
            if !used.iter().any(|it| it.id == base.id) {
                used.push(base);
                left.push(base);
            }
        }
    }
    laid.dishes.iter().filter(|dish| used.iter().any(|it| it.id == dish.id)).collect()
}
