//! `plan` and `check-plan`: a menu file in, a plan or its faults out, as JSON.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;

use super::CommandError;
use super::menu_file::{read, read_text};
use crate::domain::schedule::account::Account;
use crate::domain::schedule::build::{Built, Facts, Nonsense, build};
use crate::domain::schedule::check;
use crate::domain::schedule::plan::{Effort, NoCancel, Outcome};
use crate::domain::schedule::problem::Problem;
use crate::exchange::document::DocumentError;
use crate::exchange::menu_file::MenuFile;
use crate::exchange::plan::{WrittenCheck, WrittenPlan};
use crate::planner;

const PLAN_HELP: &str = "\
The menu file is that of `shop`; for a plan it may also hold
    \"kitchen\": {\"name\": \"Home\", \"ovens\": [{\"shelves\": 2, \"preheat_minutes\": 15}], \"rings\": 4,
      \"hands\": 1, \"fridge\": \"shelf\", \"freezer\": \"half\", \"machines\": {\"processors\": 1}},
    \"cook_days\": [{\"date\": \"2027-06-25\", \"from\": \"17:00\", \"to\": \"22:00\", \"hands_minutes\": 180}],
    \"now\": \"2027-06-24T18:00\", \"prefer\": \"least on the day\",
    \"no_oven_room\": [\"Roast new potatoes and carrots\"]
Without a kitchen the usual home is taken, without cook days the two days before and the day itself.
prefer is one of: least on the day, freshest, fewest days. no_oven_room names dishes whose own words
for a full oven are taken.

`plan` prints status (planned, refused, not found), goals and bound in minutes, and a row for each
step: when, in which way, where it waits, how much later it could be and which limit holds it.
`check-plan` reads such a plan and the menu file it was made for and counts every limit anew.";

#[derive(Args)]
#[command(after_help = PLAN_HELP)]
pub struct PlanArgs {
    /// The menu file; `-` reads standard input.
    file: PathBuf,
    /// How much work: small, normal or long. The same effort gives the same plan.
    #[arg(long, default_value = "normal", value_parser = effort)]
    effort: Effort,
}

#[derive(Args)]
pub struct CheckPlanArgs {
    /// The menu file the plan is for.
    file: PathBuf,
    /// The plan, as `plan` printed it; `-` reads standard input.
    plan: PathBuf,
}

fn effort(typed: &str) -> Result<Effort, String> {
    Effort::parse(typed).ok_or_else(|| "expected small, normal or long".to_owned())
}

/// Prints a plan that the checker passed, or why there is none.
pub fn plan(args: &PlanArgs) -> Result<(), CommandError> {
    let file = read(&args.file)?;
    let Built { problem, notes } = built(&args.file, &file)?;
    let outcome = outcome(&problem, args.effort);
    let mut written = match (&outcome, Account::of_outcome(&problem, &outcome)) {
        (_, Some(account)) => WrittenPlan::planned(&problem, &account, Some(args.effort)),
        (Outcome::Refused(conflict), None) => {
            WrittenPlan::refused(&problem, conflict, Some(args.effort))
        }
        _ => WrittenPlan::not_found(),
    };
    written.notes = notes;
    writeln!(std::io::stdout(), "{}", crate::exchange::to_json(&written))?;
    Ok(())
}

/// The search's answer; a refusal with every way out that works.
fn outcome(problem: &Problem, effort: Effort) -> Outcome {
    let mut outcome = planner::plan(problem, effort, &NoCancel);
    if let Outcome::Refused(conflict) = &mut outcome {
        let bare = conflict.clone();
        planner::ways_out(problem, &bare, &NoCancel, |way| {
            if check(&way.problem, &way.plan).is_empty() {
                conflict.ways_out.push(way);
            }
        });
    }
    outcome
}

/// Prints every limit that a plan breaks; a plan that breaks one fails the command.
pub fn check_plan(args: &CheckPlanArgs) -> Result<(), CommandError> {
    let file = read(&args.file)?;
    let Built { problem, .. } = built(&args.file, &file)?;
    let said = |error: String| CommandError::Document {
        file: args.plan.clone(),
        error: DocumentError::said(error),
    };
    let text = read_text(&args.plan)?;
    let written: WrittenPlan = crate::exchange::plan::read_plan(&text)
        .map_err(|error| CommandError::Document { file: args.plan.clone(), error })?;
    let plan = written.plan(&problem).map_err(said)?;
    let breaches = check(&problem, &plan);
    let found = WrittenCheck::of(&problem, &breaches);
    writeln!(std::io::stdout(), "{}", crate::exchange::to_json(&found))?;
    if breaches.is_empty() {
        Ok(())
    } else {
        Err(CommandError::PlanBroken { count: breaches.len() })
    }
}

fn built(name: &std::path::Path, file: &MenuFile) -> Result<Built, CommandError> {
    let asked = &file.asked;
    let done = std::collections::BTreeMap::new();
    let facts = Facts {
        laid: &file.laid,
        sitting: &file.sitting,
        kitchen: &asked.kitchen,
        cook_days: &asked.cook_days,
        now: asked.now,
        wishes: &asked.wishes,
        done: &done,
    };
    build(&facts).map_err(|nonsense: Vec<Nonsense>| {
        let sentences: Vec<String> = nonsense.into_iter().map(|it| it.sentence).collect();
        let error = DocumentError::said(sentences.join("; "));
        CommandError::Document { file: name.to_owned(), error }
    })
}
