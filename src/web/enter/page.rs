//! View models of the door.

use askama::Template;

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

    fn problems(&self) -> Vec<(&'static str, &str)> {
        problems(&[("login", &self.login), ("password", &self.password)])
    }
}

pub fn samples() -> Vec<(&'static str, String)> {
    let frame = || Frame { school: None, ..Frame::sample() };
    let render = |page: EnterPage| page.render().expect("samples are complete");
    vec![
        ("enter", render(EnterPage::empty(frame(), "/dishes"))),
        ("enter-refused", render(EnterPage::refused(frame(), "ada@example.org", ""))),
    ]
}
