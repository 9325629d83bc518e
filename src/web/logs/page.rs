//! The log page, already in words.

use askama::Template;
use jiff::Timestamp;

use super::form::{LogForm, Problems};
use crate::domain::caution::STANDING;
use crate::domain::heat::Scale;
use crate::domain::limit::Profile;
use crate::domain::log::{CoreFood, LogKind, least_words};
use crate::domain::logbook::KeptLog;
use crate::domain::menu::{Laid, Letter};
use crate::domain::moment::Zone;
use crate::web::frame::Frame;

/// What stands round the logs.
pub struct Around<'a> {
    pub frame: Frame,
    pub profile: &'a Profile,
    pub zone: &'a Zone,
    pub laid: &'a Laid,
    pub address: String,
    pub back: (String, String),
    pub now: Timestamp,
}

#[derive(Template)]
#[template(path = "logs/log.html")]
pub struct LogPage {
    frame: Frame,
    rules: String,
    standing: &'static str,
    address: String,
    back: (String, String),
    clock: String,
    logs: Vec<LogShown>,
    kinds: Vec<(&'static str, &'static str, bool)>,
    foods: Vec<(&'static str, String, bool)>,
    dishes: Vec<(String, String, bool)>,
    /// As it was typed; a problem of the form to begin a log stands in it.
    form: LogForm,
    is_begin: bool,
    problems: Problems,
}

struct LogShown {
    id: String,
    key: String,
    title: String,
    kind: String,
    letter: Option<(Letter, bool)>,
    verdict: &'static str,
    /// How the notice looks: `fits`, `limit`, `caution`.
    look: &'static str,
    found: Vec<String>,
    next: Vec<String>,
    /// Hour, degrees, id of the reading.
    readings: Vec<(String, String, String)>,
    trace: Vec<(String, String, String)>,
    answer: (String, String),
    asks_rest: bool,
    rested: Option<u32>,
    is_fahrenheit: bool,
    /// The form of this log was sent with a problem.
    is_sent: bool,
}

impl LogPage {
    pub fn new(around: &Around<'_>, logs: &[KeptLog], form: LogForm, problems: Problems) -> Self {
        let shown = logs.iter().enumerate().map(|(place, log)| shown(around, place, log, &form));
        let scale = if form.scale == "F" { Scale::Fahrenheit } else { Scale::Celsius };
        let food = |it: CoreFood| {
            let least = least_words(around.profile, it, scale);
            (it.word(), format!("{}: {least}", it.title()), it.word() == form.food)
        };
        let dish = |dish: &crate::domain::menu::LaidDish| {
            let letter = dish.letter.to_string();
            let is_chosen = letter == form.dish;
            (letter.clone(), format!("{letter} {}", dish.title), is_chosen)
        };
        Self {
            logs: shown.collect(),
            rules: around.profile.base.title().to_owned(),
            standing: STANDING,
            address: around.address.clone(),
            back: around.back.clone(),
            clock: around.zone.local(around.now).strftime("%H:%M").to_string(),
            kinds: LogKind::ALL.map(|it| (it.word(), it.title(), it.word() == form.kind)).to_vec(),
            foods: CoreFood::ALL.map(food).to_vec(),
            dishes: around.laid.dishes.iter().map(dish).collect(),
            is_begin: form.log.is_empty(),
            form,
            problems,
            frame: around.frame.clone(),
        }
    }

    /// The problem of a field of the form to begin a log.
    fn wrong(&self, field: &str) -> Option<&str> {
        let found = self.problems.iter().find(|(id, _)| *id == field);
        found.filter(|_| self.is_begin).map(|(_, words)| words.as_str())
    }

    /// The problem of a field of a log that goes on.
    fn wrong_of(&self, log: &LogShown, field: &str) -> Option<&str> {
        let found = self.problems.iter().find(|(id, _)| *id == field);
        found.filter(|_| log.is_sent).map(|(_, words)| words.as_str())
    }

    /// Each problem with where it stands on the page.
    fn summary(&self) -> Vec<(String, &str)> {
        let sent = self.logs.iter().find(|log| log.is_sent);
        let at = |id: &str| sent.map_or_else(|| id.to_owned(), |log| format!("{id}-{}", log.id));
        self.problems.iter().map(|(id, words)| (at(id), words.as_str())).collect()
    }

    /// True once a reading was asked about: only then it can be said to be right.
    fn may_be_sure(&self) -> bool {
        self.problems.iter().any(|(_, words)| words.contains("say that it is right"))
    }
}

fn shown(around: &Around<'_>, place: usize, log: &KeptLog, form: &LogForm) -> LogShown {
    let checked = log.checked(around.profile, around.zone, around.now);
    let dish = around.laid.dishes.iter().find(|dish| dish.letter.to_string() == log.key.letter);
    let last_scale = log.readings.last().map(|(_, probe)| probe.heat.scale);
    let scale = last_scale.unwrap_or(Scale::Celsius);
    let kind = match log.key.food {
        Some(food) => format!("{}: {}", food.title(), least_words(around.profile, food, scale)),
        None => log.key.kind.title().to_owned(),
    };
    let verdict = checked.as_ref().map_or("", |it| it.verdict.word());
    let hour = |at: Timestamp| around.zone.local(at).strftime("%a %-d, %H:%M").to_string();
    LogShown {
        id: format!("log{place}"),
        key: log.key.event_key().map(|key| key.as_str().to_owned()).unwrap_or_default(),
        title: log.key.what.clone(),
        kind,
        letter: dish.map(|dish| (dish.letter, dish.is_base)),
        verdict,
        look: match verdict {
            "PASS" => "fits",
            "FAIL" => "limit",
            _ => "caution",
        },
        found: checked.as_ref().map(|it| it.found.clone()).unwrap_or_default(),
        next: checked
            .as_ref()
            .map(|it| it.next.iter().map(ToString::to_string).collect())
            .unwrap_or_default(),
        readings: log
            .readings
            .iter()
            .map(|(id, probe)| (hour(probe.at), probe.heat.to_string(), id.to_string()))
            .collect(),
        trace: checked
            .as_ref()
            .map(|it| {
                let lines = it.trace.lines.iter();
                lines.map(|it| (it.figure.clone(), it.small.clone(), it.words.clone())).collect()
            })
            .unwrap_or_default(),
        answer: checked
            .map(|it| (it.trace.answer.figure, it.trace.answer.words))
            .unwrap_or_default(),
        asks_rest: log.key.kind == LogKind::Core,
        rested: log.rested,
        is_fahrenheit: scale == Scale::Fahrenheit,
        is_sent: form.is_of(log),
    }
}

/// Every state of the page, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    sample::all()
}

mod sample {
    use std::sync::Arc;

    use super::{Around, LogForm, LogPage, Template, Timestamp};
    use crate::domain::event::EventValue;
    use crate::domain::event::{EventKind, KitchenEvent};
    use crate::domain::heat::{Measured, Scale};
    use crate::domain::limit::Profile;
    use crate::domain::log::{CoreFood, LogKind};
    use crate::domain::logbook::{LogKey, logbook};
    use crate::domain::menu::{Laid, TableRule};
    use crate::domain::moment::Zone;
    use crate::domain::quantity::Spoons;
    use crate::web::frame::{Frame, HomeAt};

    fn laid(zone: &Zone) -> Laid {
        Laid {
            school: "Tarnwick Cookery Room".to_owned(),
            zone: zone.clone(),
            name: "Midsummer lunch".to_owned(),
            publication: None,
            dishes: Vec::new(),
            rule: TableRule::default(),
            choices: std::collections::BTreeMap::default(),
            sweet_after_minutes: 0,
            larder: crate::domain::larder::Larder::shipped(),
            profile: Arc::new(Profile::default()),
            spoons: Spoons::default(),
        }
    }

    fn key(kind: LogKind, food: Option<CoreFood>, what: &str) -> LogKey {
        LogKey { kind, food, letter: String::new(), what: what.to_owned() }
    }

    fn events() -> Vec<KitchenEvent> {
        let soup = key(LogKind::Cooling, None, "Soup, box <2>, 2.5 cm deep");
        let stock = key(LogKind::Cooling, None, "Stock");
        let loin = key(LogKind::Core, Some(CoreFood::Roast), "Pork loin");
        let rows = [
            (&soup, 0, 820),
            (&soup, 100, 200),
            (&stock, 5, 700),
            (&stock, 127, 350),
            (&loin, 110, 640),
        ];
        let event = |(place, (key, minute, tenths)): (usize, &(&LogKey, i64, i32))| {
            let at = Timestamp::from_second(1_814_000_400 + minute * 60).expect("an instant");
            KitchenEvent {
                id: uuid::Uuid::from_u128(place as u128 + 1),
                kind: EventKind::Reading,
                key: key.event_key().expect("short"),
                value: EventValue::Reading(Measured { tenths: *tenths, scale: Scale::Celsius }),
                client_at: at,
                received_at: at,
            }
        };
        rows.iter().enumerate().map(event).collect()
    }

    pub fn all() -> Vec<(&'static str, String)> {
        let zone = Zone::parse("Europe/Oslo").expect("the zone is known");
        let laid = laid(&zone);
        let around = Around {
            frame: Frame {
                section: None,
                home: Some(("/base/h/key".to_owned(), HomeAt::Log)),
                paper: "",
                ..Frame::sample()
            },
            profile: &laid.profile,
            zone: &zone,
            laid: &laid,
            address: "/base/h/key/log".to_owned(),
            back: ("/base/h/key/sheets/cooling-log".to_owned(), "Blank log on paper".to_owned()),
            now: Timestamp::from_second(1_814_000_400 + 130 * 60).expect("an instant"),
        };
        let logs = logbook(&events());
        let page = |form: LogForm| {
            let problems = match form.act.as_str() {
                "" => Vec::new(),
                _ => form.check(&logs, &laid, &zone, around.now).expect_err("it is asked about"),
            };
            LogPage::new(&around, &logs, form, problems).render().expect("samples are complete")
        };
        let empty = LogPage::new(&around, &[], LogForm::default(), Vec::new());
        let begin = LogForm {
            act: "begin".to_owned(),
            kind: "hot".to_owned(),
            what: "Chilli & beans".to_owned(),
            degrees: "47".to_owned(),
            scale: "F".to_owned(),
            depth: "200".to_owned(),
            ..LogForm::default()
        };
        let read = LogForm {
            act: "read".to_owned(),
            log: logs[0].key.event_key().expect("short").as_str().to_owned(),
            degrees: "30".to_owned(),
            hour: "0:10".to_owned(),
            ..LogForm::default()
        };
        vec![
            ("log", page(LogForm::default())),
            ("log-empty", empty.render().expect("samples are complete")),
            ("log-asked", page(begin)),
            ("log-out-of-order", page(read)),
        ]
    }
}
