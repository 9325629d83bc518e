//! View models of the door.

use askama::Template;

use super::locale::Guess;
use crate::domain::account::Account;
use crate::domain::quantity::Spoons;
use crate::domain::school::{Measures, School};

use crate::web::form::{Field, problems};
use crate::web::frame::Frame;

#[derive(Template)]
#[template(path = "enter/enter.html")]
pub struct EnterPage {
    frame: Frame,
    login: Field,
    password: Field,
    /// Where to go afterwards, without the base.
    to: String,
}

impl EnterPage {
    pub fn empty(frame: Frame, to: &str) -> Self {
        Self { frame, login: Field::default(), password: Field::default(), to: to.to_owned() }
    }

    /// One sentence for every reason, so that nobody learns which names exist here.
    pub fn refused(frame: Frame, login: &str, to: &str) -> Self {
        let problem =
            "Enter your log-in and its password; these two do not open this house".to_owned();
        let login = Field { typed: login.to_owned(), problem: Some(problem) };
        Self { login, ..Self::empty(frame, to) }
    }

    /// The same for a name that exists and one that does not.
    pub fn wait(frame: Frame, login: &str, to: &str, seconds: i64) -> Self {
        let time = if seconds <= 90 {
            format!("{seconds} s")
        } else {
            format!("{} min", (seconds + 59) / 60)
        };
        let problem = format!("Too many tries. Wait {time}, then sign in again");
        let login = Field { typed: login.to_owned(), problem: Some(problem) };
        Self { login, ..Self::empty(frame, to) }
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[("login", &self.login), ("password", &self.password)])
    }
}

#[derive(Template)]
#[template(path = "enter/set_up.html")]
pub struct SetUpPage {
    frame: Frame,
    action: String,
    pub school: Field,
    pub login: Field,
    pub password: Field,
    zone: String,
    measures: &'static str,
    money: &'static str,
    paper: &'static str,
}

impl SetUpPage {
    pub fn new(frame: Frame, token: &str, guess: &Guess) -> Self {
        let measures = match (guess.settings.measures, guess.settings.spoons) {
            (Measures::Metric, _) => "grams, litres, °C; spoons stay spoons",
            (Measures::Us, Spoons::Round) => "pounds, cups, °F; a cup is 240 ml",
            (Measures::Us, Spoons::Customary) => "pounds, cups, °F; spoons stay spoons",
        };
        Self {
            action: frame.paths.set_up(token),
            frame,
            school: Field::default(),
            login: Field::default(),
            password: Field::default(),
            zone: guess.zone.name().to_owned(),
            measures,
            money: guess.settings.currency.code(),
            paper: guess.settings.paper.word(),
        }
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        let fields =
            [("school", &self.school), ("login", &self.login), ("password", &self.password)];
        problems(&fields)
    }
}

#[derive(Template)]
#[template(path = "enter/join.html")]
pub struct JoinPage {
    frame: Frame,
    action: String,
    school: String,
    pub login: Field,
    pub password: Field,
}

impl JoinPage {
    pub fn new(frame: Frame, token: &str, school: &School) -> Self {
        Self {
            action: frame.paths.join(token),
            frame,
            school: school.name.to_string(),
            login: Field::default(),
            password: Field::default(),
        }
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[("login", &self.login), ("password", &self.password)])
    }
}

#[derive(Template)]
#[template(path = "enter/new_password.html")]
pub struct NewPasswordPage {
    frame: Frame,
    action: String,
    login: String,
    pub password: Field,
}

impl NewPasswordPage {
    pub fn new(frame: Frame, token: &str, account: &Account) -> Self {
        Self {
            action: frame.paths.new_password(token),
            frame,
            login: account.login.to_string(),
            password: Field::default(),
        }
    }

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[("password", &self.password)])
    }
}

pub fn samples() -> Vec<(&'static str, String)> {
    let frame = || Frame { school: None, ..Frame::sample() };
    let guess = Guess::of(&axum::http::HeaderMap::new());
    let set_up = SetUpPage::new(frame(), "link", &guess);
    let problem = |field: Field, words: &str| Field { problem: Some(words.to_owned()), ..field };
    let mut wrong = SetUpPage::new(frame(), "link", &guess);
    wrong.school = Field::with("Tarnwick Cookery Room");
    wrong.login =
        problem(Field::with("ada"), "Somebody here signs in with this name; choose another");
    wrong.password = problem(Field::default(), "The password must have 15 characters or more");
    let school = crate::web::school::sample();
    let account = crate::web::school::sample_account();
    vec![
        ("enter", render(&EnterPage::empty(frame(), "/dishes"))),
        ("enter-refused", render(&EnterPage::refused(frame(), "ada@example.org", ""))),
        ("set-up", render(&set_up)),
        ("set-up-two-problems", render(&wrong)),
        ("join", render(&JoinPage::new(frame(), "link", &school))),
        ("new-password", render(&NewPasswordPage::new(frame(), "link", &account))),
    ]
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}
