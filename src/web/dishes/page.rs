//! View models of the list and of one dish, already in words.

use std::collections::BTreeMap;
use std::sync::Arc;

use askama::Template;

use super::limits::LimitsView;
use super::list::SieveForm;
use super::mirror::{self, MirrorLine};
use super::reading::ReadingView;
use super::says;
use crate::domain::card::{Card, DishKind, Reading};
use crate::domain::difference;
use crate::domain::dish::{Dish, DishId, DishRevision};
use crate::domain::larder::Larder;
use crate::domain::menu::MenuId;
use crate::domain::moment::Zone;
use crate::domain::text::capital;
use crate::web::forecast::{self, CoolingMark, RoastMark};
use crate::web::frame::Frame;

/// Before the first dish: what comes of what.
#[derive(Template)]
#[template(path = "dishes/begin.html")]
pub struct BeginPage {
    pub frame: Frame,
}

/// A dish with its reading, and why the sieve held it back.
pub struct Listed {
    pub dish: Dish,
    pub reading: Arc<Reading>,
    pub left_out: Option<String>,
}

#[derive(Template)]
#[template(path = "dishes/list.html")]
pub struct DishesPage {
    frame: Frame,
    /// `14 dishes and bases.`
    about: String,
    sieve: SieveForm,
    is_sieved: bool,
    rows: Vec<DishRow>,
    /// How many, their names, and the reason that follows them.
    left_out: Vec<(usize, String, String)>,
    archived: Vec<ArchivedRow>,
}

struct DishRow {
    address: String,
    title: String,
    /// `Base`, or the course.
    about: String,
    /// The longest stop the author gives.
    keeps: String,
    stops: String,
    hands: String,
    written: String,
}

struct ArchivedRow {
    address: String,
    bring_back: String,
    title: String,
    since: String,
}

impl DishesPage {
    pub fn new(
        frame: Frame,
        zone: &Zone,
        sieve: SieveForm,
        listed: &[Listed],
        archived: &[Dish],
    ) -> Self {
        let mut left_out: BTreeMap<&str, Vec<String>> = BTreeMap::new();
        for listed in listed {
            if let Some(why) = &listed.left_out {
                left_out.entry(why).or_default().push(listed.dish.title.to_string());
            }
        }
        let left_out = left_out.into_iter();
        let archived = archived.iter().map(|dish| ArchivedRow {
            address: frame.paths.dish(dish.id),
            bring_back: frame.paths.dish_bring_back(dish.id),
            title: dish.title.to_string(),
            since: zone.date_of(dish.archived_at.unwrap_or(dish.written_at)),
        });
        let found = listed.iter().filter(|it| it.left_out.is_none());
        Self {
            about: counted(listed),
            is_sieved: !sieve.words.trim().is_empty() || !sieve.kind.is_empty(),
            sieve,
            rows: found.map(|it| DishRow::new(&frame, zone, it)).collect(),
            left_out: left_out
                .map(|(why, names)| (names.len(), names.join(", "), why.to_owned()))
                .collect(),
            archived: archived.collect(),
            frame,
        }
    }
}

impl DishRow {
    fn new(frame: &Frame, zone: &Zone, listed: &Listed) -> Self {
        let (dish, card) = (&listed.dish, &listed.reading.card);
        let mut stops: Vec<_> = card.steps().flat_map(|(_, step)| &step.stops).collect();
        stops.sort_by_key(|stop| std::cmp::Reverse(stop.most_minutes));
        let hands: u32 = card.steps().filter_map(|(_, step)| step.hands).map(|it| it.minutes).sum();
        let mut said: Vec<_> = stops.iter().map(|stop| says::stop(stop)).collect();
        said.dedup();
        Self {
            address: frame.paths.dish(dish.id),
            title: dish.title.to_string(),
            about: kind_and_course(dish.kind, card),
            keeps: stops.first().map(|stop| says::stretch(stop.most_minutes)).unwrap_or_default(),
            stops: if said.is_empty() { "no stop given".to_owned() } else { said.join("; ") },
            hands: if hands == 0 { String::new() } else { hands.to_string() },
            written: zone.date_of(dish.written_at),
        }
    }
}

fn counted(listed: &[Listed]) -> String {
    let bases = listed.iter().filter(|it| it.dish.kind == DishKind::Base).count();
    let dishes = listed.len() - bases;
    let count = |number: usize, word: &str| match number {
        1 => format!("1 {word}"),
        number => format!("{number} {word}s").replace("dishs", "dishes"),
    };
    match bases {
        0 => format!("{}.", count(dishes, "dish")),
        bases => format!("{} and {}.", count(dishes, "dish"), count(bases, "base")),
    }
}

fn kind_and_course(kind: DishKind, card: &Card) -> String {
    match (kind, &card.course) {
        (DishKind::Base, _) => "Base".to_owned(),
        (DishKind::Dish, Some(course)) => capital(course),
        (DishKind::Dish, None) => "Dish".to_owned(),
    }
}

/// A dish as its author wrote it, beside what was read.
#[derive(Template)]
#[template(path = "dishes/show.html")]
pub struct DishPage {
    frame: Frame,
    title: String,
    /// `Side, for 8, 200 g each.`
    about: String,
    /// Since when it is put away.
    archived: Option<String>,
    saved: String,
    lines: Vec<MirrorLine>,
    reading: ReadingView,
    revisions: Vec<RevisionRow>,
    /// Address and name; none for a base, which comes along with dishes.
    menus: Option<Vec<(String, String)>>,
    /// What pressing publish would make; none when this text is fixed already.
    next: Option<u32>,
    /// Lines that hold publishing back.
    faults: usize,
    edit: String,
    rows: String,
    sheet: String,
    cooling: Vec<CoolingMark>,
    roasts: Vec<RoastMark>,
    /// Where another pan is worked out; none where the card names no pan.
    pan: Option<String>,
    publish: String,
    archive: String,
    bring_back: String,
}

struct RevisionRow {
    address: String,
    number: u32,
    date: String,
    word: String,
    is_this_text: bool,
}

impl DishPage {
    pub fn new(
        frame: Frame,
        zone: &Zone,
        dish: &Dish,
        reading: &Reading,
        revisions: &[DishRevision],
    ) -> Self {
        let view = ReadingView::of(dish.card.as_str(), reading);
        let this = revisions.iter().find(|revision| revision.card == dish.card);
        let newest = revisions.iter().map(|revision| revision.number).max().unwrap_or(0);
        let row = |revision: &DishRevision| RevisionRow {
            address: frame.paths.dish_revision(dish.id, revision.number),
            number: revision.number,
            date: zone.date_of(revision.published_at),
            word: revision.check_word.clone(),
            is_this_text: revision.card == dish.card,
        };
        let marks: Vec<_> =
            view.remarks.iter().filter_map(|it| Some((it.line?, it.class))).collect();
        Self {
            title: dish.title.to_string(),
            about: about(dish.kind, &reading.card),
            archived: dish.archived_at.map(|at| zone.date_of(at)),
            saved: zone.date_of(dish.written_at),
            lines: mirror::lines(dish.card.as_str(), &marks),
            revisions: revisions.iter().map(row).collect(),
            next: this.is_none().then_some(newest + 1),
            faults: view.faults(),
            edit: frame.paths.dish_edit(dish.id),
            menus: (dish.kind == DishKind::Dish).then(Vec::new),
            rows: frame.paths.dish_rows(dish.id),
            sheet: frame.paths.dish_sheet(dish.id),
            roasts: Vec::new(),
            cooling: forecast::marks(&reading.card, "", false, &frame.paths.dish_cooling(dish.id)),
            pan: (!reading.card.vessels.is_empty()).then(|| frame.paths.dish_pan(dish.id)),
            publish: frame.paths.dish_publish(dish.id),
            archive: frame.paths.dish_archive(dish.id),
            bring_back: frame.paths.dish_bring_back(dish.id),
            reading: view,
            frame,
        }
    }
}

impl DishPage {
    #[must_use]
    pub fn with_limits(self, limits: Option<LimitsView>) -> Self {
        Self { reading: self.reading.with_limits(limits), ..self }
    }

    /// What an end point is measured in, the larder knows.
    #[must_use]
    pub fn with_roasts(self, card: &Card, larder: &Larder, id: DishId) -> Self {
        let address = self.frame.paths.dish_roast(id);
        Self { roasts: forecast::roast_marks(card, larder, "", false, &address), ..self }
    }

    #[must_use]
    pub fn with_menus(mut self, menus: Vec<(MenuId, String)>) -> Self {
        let row = |(id, name)| (self.frame.paths.menu(id), name);
        self.menus = self.menus.map(|_| menus.into_iter().map(row).collect());
        self
    }
}

fn about(kind: DishKind, card: &Card) -> String {
    let mut facts = vec![kind_and_course(kind, card)];
    if let Some(serves) = card.serves {
        let (low, high) = (serves.low.count(), serves.high.count());
        let count = if low == high { high.to_string() } else { format!("{low}–{high}") };
        let more = if serves.with_leftovers { " with leftovers" } else { "" };
        facts.push(format!("for {count}{more}"));
    }
    facts.extend(card.portion.iter().map(|portion| format!("{portion} each")));
    facts.extend(card.makes.iter().map(|makes| format!("makes {}", says::amount(makes))));
    facts.join(", ")
}

/// One fixed text of a dish.
#[derive(Template)]
#[template(path = "dishes/revision.html")]
pub struct RevisionPage {
    frame: Frame,
    title: String,
    number: u32,
    date: String,
    word: String,
    dish: String,
    is_draft_now: bool,
    /// The number before, and what changed since.
    before: Option<(u32, String, Changes)>,
    lines: Vec<MirrorLine>,
}

impl RevisionPage {
    pub fn new(
        frame: Frame,
        zone: &Zone,
        dish: &Dish,
        revision: &DishRevision,
        before: Option<&DishRevision>,
    ) -> Self {
        let before = before.map(|before| {
            let changes = Changes::between(before.card.as_str(), revision.card.as_str());
            (before.number, frame.paths.dish_revision(dish.id, before.number), changes)
        });
        Self {
            title: dish.title.to_string(),
            number: revision.number,
            date: zone.date_of(revision.published_at),
            word: revision.check_word.clone(),
            dish: frame.paths.dish(dish.id),
            is_draft_now: revision.card == dish.card,
            before,
            lines: mirror::lines(revision.card.as_str(), &[]),
            frame,
        }
    }
}

/// What changed between two texts, with a little of what stayed round it.
pub struct Changes {
    pub lines: Vec<DiffLine>,
    /// Lines out and in.
    pub count: usize,
}

pub struct DiffLine {
    /// `out`, `in` or `same`.
    pub class: &'static str,
    /// Said before the line, so that colour and stroke are not alone.
    pub word: &'static str,
    /// In the text the line belongs to; none for a fold.
    pub number: Option<usize>,
    pub text: String,
}

impl Changes {
    pub fn between(was: &str, now: &str) -> Self {
        /// Lines shown on either side of a change.
        const ROUND: usize = 2;
        let changes = difference::between(was, now);
        let differs: Vec<_> = changes.iter().map(|change| !change.is_same()).collect();
        let is_near = |at: usize| {
            let from = at.saturating_sub(ROUND);
            let to = (at + ROUND + 1).min(differs.len());
            differs[from..to].contains(&true)
        };
        let mut lines: Vec<DiffLine> = Vec::new();
        let mut folded = 0;
        for (at, change) in changes.iter().enumerate() {
            if !is_near(at) {
                folded += 1;
                continue;
            }
            fold(&mut lines, &mut folded);
            let (class, word, line) = match (change.was, change.now) {
                (Some(was), None) => ("out", "Was", was),
                (None, Some(now)) => ("in", "Now", now),
                (_, Some(now)) => ("same", "", now),
                (None, None) => continue,
            };
            let (number, text) = (Some(line.number), line.text.to_owned());
            lines.push(DiffLine { class, word, number, text });
        }
        fold(&mut lines, &mut folded);
        Self { lines, count: differs.iter().filter(|it| **it).count() }
    }
}

fn fold(lines: &mut Vec<DiffLine>, folded: &mut usize) {
    if *folded > 0 {
        let text = match *folded {
            1 => "1 line the same".to_owned(),
            more => format!("{more} lines the same"),
        };
        lines.push(DiffLine { class: "fold", word: "", number: None, text });
        *folded = 0;
    }
}
