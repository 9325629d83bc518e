//! View models of the school's own page.

use askama::Template;
use jiff::Timestamp;
use uuid::Uuid;

use crate::domain::account::{Account, AccountId, Login, SessionId};
use crate::domain::moment::Zone;
use crate::domain::quantity::Spoons;
use crate::domain::school::{
    Currency, Measures, Paper, School, SchoolId, SchoolName, SchoolSettings,
};
use crate::storage::{Deed, SessionLine};
use crate::web::form::{Field, problems};
use crate::web::frame::{Frame, Section};

#[derive(Template)]
#[template(path = "school/school.html")]
pub struct SchoolPage {
    frame: Frame,
    pub name: Field,
    pub zone: Field,
    pub paper: Field,
    pub measures: Field,
    pub currency: Field,
    pub spoons: Field,
    pub prices_shown: bool,
    version: i64,
    login: String,
    browsers: Vec<BrowserRow>,
    deeds: Vec<DeedRow>,
}

struct DeedRow {
    at: String,
    who: String,
    words: String,
    /// Where it can be seen; empty when there is no such page.
    page: String,
    is_done: bool,
}

struct BrowserRow {
    device: String,
    since: String,
    seen: String,
    is_this: bool,
    end: String,
}

impl SchoolPage {
    pub fn new(
        frame: Frame,
        school: &School,
        account: &Account,
        this: SessionId,
        sessions: &[SessionLine],
    ) -> Self {
        let settings = school.settings;
        let row = |session: &SessionLine| BrowserRow {
            device: session.device.clone(),
            since: school.zone.date_of(session.made_at),
            seen: school.zone.date_of(session.seen_at),
            is_this: session.id == this,
            end: frame.paths.browser_end(session.id),
        };
        let browsers = sessions.iter().map(row).collect();
        let spoons = if settings.spoons == Spoons::Round { "round" } else { "customary" };
        Self {
            frame,
            name: Field::with(school.name.as_str()),
            zone: Field::with(school.zone.name()),
            paper: Field::with(settings.paper.word()),
            measures: Field::with(settings.measures.word()),
            currency: Field::with(settings.currency.code()),
            spoons: Field::with(spoons),
            prices_shown: settings.prices_shown,
            version: school.version,
            login: account.login.to_string(),
            browsers,
            deeds: Vec::new(),
        }
    }

    /// The same with what was done lately, in the hours of the school.
    pub fn with_deeds(mut self, zone: &Zone, deeds: &[Deed]) -> Self {
        let row = |deed: &Deed| DeedRow {
            at: zone.local(deed.at).strftime("%-d %B %Y, %H:%M").to_string(),
            who: deed.actor.clone(),
            words: deed.action.clone(),
            page: match deed.object.as_str() {
                "" => String::new(),
                page => format!("{}{page}", self.frame.paths.base()),
            },
            is_done: deed.is_done,
        };
        self.deeds = deeds.iter().map(row).collect();
        self
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[
            ("name", &self.name),
            ("zone", &self.zone),
            ("paper", &self.paper),
            ("measures", &self.measures),
            ("currency", &self.currency),
            ("spoons", &self.spoons),
        ])
    }

    /// What each select offers: the word sent, and the words shown.
    fn papers() -> Vec<(&'static str, &'static str)> {
        Paper::ALL.map(|it| (it.word(), it.word())).to_vec()
    }

    fn all_measures() -> Vec<(&'static str, &'static str)> {
        let words = |it| match it {
            Measures::Metric => "grams, litres, °C",
            Measures::Us => "pounds, cups, °F",
        };
        Measures::ALL.map(|it| (it.word(), words(it))).to_vec()
    }

    fn currencies() -> Vec<(&'static str, &'static str)> {
        Currency::all().map(|it| (it.code(), it.code())).collect()
    }

    fn all_spoons() -> Vec<(&'static str, &'static str)> {
        vec![
            ("round", "15 ml a tablespoon, 240 ml a cup"),
            ("customary", "US customary: 14.8 ml a tablespoon, 237 ml a cup"),
        ]
    }
}

#[derive(Template)]
#[template(path = "school/password.html")]
pub struct PasswordPage {
    frame: Frame,
    login: String,
    pub current: Field,
    pub password: Field,
}

impl PasswordPage {
    pub fn new(frame: Frame, account: &Account) -> Self {
        let login = account.login.to_string();
        Self { frame, login, current: Field::default(), password: Field::default() }
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[("current", &self.current), ("password", &self.password)])
    }
}

/// The school of the golden files.
pub fn sample() -> School {
    School {
        id: SchoolId(Uuid::nil()),
        name: SchoolName::parse("Tarnwick Cookery Room").expect("a name"),
        zone: Zone::parse("Europe/Oslo").expect("a zone"),
        settings: SchoolSettings::default(),
        version: 3,
    }
}

/// Its instructor.
pub fn sample_account() -> Account {
    let login = Login::parse("ada@example.org").expect("a log-in");
    Account { id: AccountId(Uuid::nil()), school: SchoolId(Uuid::nil()), login, disabled_at: None }
}

/// Every state of every page here, for the golden files.
pub fn samples() -> Vec<(&'static str, String)> {
    let frame = || Frame { section: Some(Section::School), ..Frame::sample() };
    let at = Timestamp::from_second(1_795_563_000).expect("an instant");
    let session = |number, device: &str| SessionLine {
        id: SessionId(Uuid::from_u128(number)),
        device: device.to_owned(),
        made_at: at,
        seen_at: at,
    };
    let sessions = [session(1, "Firefox on Linux"), session(2, "Safari on iPad")];
    let this = SessionId(Uuid::from_u128(1));
    let deed = |action: &str, object: &str, is_done| Deed {
        at,
        actor: "ada@example.org".to_owned(),
        action: action.to_owned(),
        object: object.to_owned(),
        is_done,
    };
    let deeds = [
        deed("published a menu", "/menus/00000000-0000-0000-0000-000000000001", true),
        deed("was not let in", "", false),
    ];
    let page = || {
        let page = SchoolPage::new(frame(), &sample(), &sample_account(), this, &sessions);
        page.with_deeds(&sample().zone, &deeds)
    };
    let problem = |typed: &str, words: &str| Field {
        typed: typed.to_owned(),
        problem: Some(words.to_owned()),
    };
    let wrong = SchoolPage {
        name: problem("", "Enter the name of the school"),
        zone: problem("Oslo", "Name a time zone like Europe/Oslo; “Oslo” is not one"),
        prices_shown: true,
        ..page()
    };
    let refused = PasswordPage {
        current: problem("", "Enter the password you sign in with now"),
        ..PasswordPage::new(frame(), &sample_account())
    };
    let render = |page: &dyn askama::DynTemplate| page.dyn_render().expect("samples are complete");
    vec![
        ("school", render(&page())),
        ("school-two-problems", render(&wrong)),
        ("school-password", render(&PasswordPage::new(frame(), &sample_account()))),
        ("school-password-refused", render(&refused)),
    ]
}
