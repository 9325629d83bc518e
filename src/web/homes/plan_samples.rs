//! Every state of the plan of hours, for the golden files.

use std::collections::BTreeMap;

use askama::Template;

use super::holder::AtTable;
use super::plan_form::{PlanForm, kitchen_of};
use super::plan_page::PlanPage;
use crate::domain::home::{Arrangement, CookDay};
use crate::domain::schedule::account::Account;
use crate::domain::schedule::build::{Built, Facts, build};
use crate::domain::schedule::conflict::{Change, Conflict, Reason, WayOut};
use crate::domain::schedule::problem::Limit;
use crate::domain::schedule::simple;
use crate::web::frame::Frame;
use crate::web::planning::{Made, Work};

pub fn samples(frame: &Frame, at: &AtTable) -> Vec<(&'static str, String)> {
    let arrangement = Arrangement {
        cook_days: vec![CookDay::whole(jiff::civil::date(2027, 6, 25))],
        ..Arrangement::default()
    };
    let kitchen = kitchen_of(&arrangement);
    let done = BTreeMap::new();
    let facts = Facts {
        laid: at.laid(),
        sitting: &at.sitting,
        kitchen: &kitchen,
        cook_days: &arrangement.cook_days,
        now: None,
        wishes: &arrangement.wishes,
        done: &done,
    };
    let built = build(&facts).expect("the sample makes sense");
    let page = || {
        let form = PlanForm::of_home(&arrangement, 1);
        PlanPage::new(frame.clone(), at, "/base/h/key", &kitchen.in_words(), form)
    };
    let outcome = simple::plan(&built.problem);
    let account = Account::of_outcome(&built.problem, &outcome).expect("a soup can be planned");
    let refused = refused(&built, &account);
    let planned =
        Made { account: Some(account), conflict: None, is_cancelled: false, is_over: true };
    let work = Work::of(built);
    let changed =
        vec!["A Leek soup, step 1: Friday 25 June, 21:28, was Friday 25 June, 20:00.".to_owned()];
    let problems = vec![("days", "Sunday 27 June is after the serving day".to_owned())];
    vec![
        ("home-plan", render(&page().with_work(&work, Some(&planned)).with_changes(changed))),
        ("home-plan-refused", render(&page().with_work(&work, Some(&refused)))),
        ("home-plan-at-work", render(&page().with_work(&work, None))),
        ("home-plan-problems", render(&page().with_problems(problems))),
    ]
}

fn refused(built: &Built, account: &Account) -> Made {
    let reason = Reason {
        limit: Limit::Hands,
        jobs: vec![0, 1],
        between: Some((account.plan.jobs[0].start_minute, account.plan.jobs[0].start_minute + 5)),
        would_be_minutes: None,
    };
    let way = WayOut {
        change: Change::EatLater { minutes: 30 },
        problem: Box::new(built.problem.clone()),
        plan: account.plan.clone(),
    };
    let conflict = Conflict { reasons: vec![reason], is_minimal: true, ways_out: vec![way] };
    Made { account: None, conflict: Some(conflict), is_cancelled: false, is_over: false }
}

fn render(page: &impl Template) -> String {
    page.render().expect("samples are complete")
}
