//! Plans of the demonstration homes, and the checker on plans that are broken on purpose.

use std::collections::BTreeMap;

use dovetray::domain::card::Place;
use dovetray::domain::home::CookDay;
use dovetray::domain::kitchen::{ColdRoom, Kitchen, Machines, Oven};
use dovetray::domain::limit::Clock;
use dovetray::domain::schedule::build::{Built, Facts, Field, Nonsense, Wishes, build};
use dovetray::domain::schedule::plan::{Outcome, Plan};
use dovetray::domain::schedule::problem::{Done, Limit, Next, Order, Problem, StartFrom};
use dovetray::domain::schedule::{check, goals, simple};
use dovetray::domain::text::Name;

use crate::demo;

fn kitchen(ovens: &[u32], preheat_minutes: u32, rings: u32, hands: u32) -> Kitchen {
    let ovens = ovens.iter().map(|&shelves| Oven { shelves, preheat_minutes }).collect();
    let machines = Machines { processors: 1, blenders: 1, mortars: 1, mixers: 1 };
    let (fridge, freezer) = (ColdRoom::Shelf, ColdRoom::HalfShelf);
    let name = Name::parse("Home").unwrap();
    Kitchen { name, ovens, rings, hands, fridge, freezer, machines }
}

fn days(dates: &[&str]) -> Vec<CookDay> {
    dates.iter().map(|date| CookDay::whole(date.parse().unwrap())).collect()
}

fn built(
    kitchen: &Kitchen,
    cook_days: &[CookDay],
    wishes: &Wishes,
) -> Result<Built, Vec<Nonsense>> {
    let laid = demo::laid('a');
    let mut sitting = demo::sitting(8, "2027-06-26T13:00", "Europe/Oslo");
    sitting.freezer_litres = Some(kitchen.freezer.freezer_litres());
    let done = BTreeMap::new();
    build(&Facts {
        laid: &laid,
        sitting: &sitting,
        kitchen,
        cook_days,
        now: None,
        wishes,
        done: &done,
    })
}

fn sunniva() -> (Problem, Plan) {
    let days = days(&["2027-06-23", "2027-06-25"]);
    let built = built(&kitchen(&[2], 15, 4, 1), &days, &Wishes::default()).unwrap();
    let plan = planned(&built.problem).expect("a plan");
    (built.problem, plan)
}

fn planned(problem: &Problem) -> Option<Plan> {
    match simple::plan(problem) {
        Outcome::Planned { plan, .. } => Some(plan),
        _ => None,
    }
}

fn job(problem: &Problem, letter: char, number: u32) -> usize {
    let is_it = |dish: usize| problem.dishes[dish].letter.0 == letter;
    problem.jobs.iter().position(|job| is_it(job.dish) && job.number == number).unwrap()
}

#[test]
fn one_oven_of_two_shelves_has_a_plan_with_the_loaf_at_its_second_setting() {
    let (problem, plan) = sunniva();
    assert_eq!(check(&problem, &plan), []);
    let loaf = job(&problem, 'E', 3);
    let way = &problem.jobs[loaf].ways[plan.jobs[loaf].way];
    assert_eq!(way.oven.as_ref().unwrap().stages[0].heat.figure, 200, "the second setting");
    let goals = goals(&problem, &plan);
    // What the simple planner of the demonstration does on the day: its rows, touches counted.
    assert!(goals.serving_hands_minutes <= 56, "{goals:?}");
    let first = problem.jobs.iter().zip(&plan.jobs).map(|it| it.1.start_minute);
    let serving = problem.windows[problem.serving()].from_minute;
    let first = first.filter(|start| *start >= serving).min().unwrap();
    assert!(first >= problem.dishes[0].table_minute - 120, "starts within two hours of the table");
}

#[test]
fn two_ovens_leave_the_loaf_at_its_first_setting() {
    let days = days(&["2027-06-20", "2027-06-24", "2027-06-25"]);
    let built = built(&kitchen(&[2, 2], 15, 5, 2), &days, &Wishes::default()).unwrap();
    let plan = planned(&built.problem).expect("a plan");
    let loaf = job(&built.problem, 'E', 3);
    assert_eq!(plan.jobs[loaf].way, 0);
    assert_eq!(check(&built.problem, &plan), []);
}

#[test]
fn nobody_is_told_to_freeze_what_is_planned_for_the_fridge() {
    let days = days(&["2027-06-20", "2027-06-24", "2027-06-25"]);
    let mut full = kitchen(&[2, 2], 15, 5, 2);
    full.freezer = ColdRoom::None;
    let built = built(&full, &days, &Wishes::default()).unwrap();
    let loaf: Vec<_> = built
        .problem
        .jobs
        .iter()
        .filter(|job| built.problem.dishes[job.dish].title.contains("ice loaf"))
        .collect();
    let freezes = |words: &str| words.to_lowercase().contains("freeze");
    let told: Vec<&str> =
        loaf.iter().map(|job| job.words.as_str()).filter(|words| freezes(words)).collect();
    assert!(told.len() >= 3, "the card freezes twice, and steps follow: {told:?}");
    assert!(told.iter().all(|words| words.contains("ithout the freezer")), "{told:#?}");
    let instead = told.iter().filter(|words| words.contains("small glasses")).count();
    assert_eq!(instead, 2, "the author's other way stands at both: {told:#?}");
    let plan = planned(&built.problem).expect("a plan");
    assert!(
        plan.jobs
            .iter()
            .zip(&built.problem.jobs)
            .all(|(placed, job)| { job.holds[placed.hold].place != Some(Place::Freezer) })
    );
}

/// One change that breaks one kind of limit, and how its breach is known.
type Mutation = (&'static str, fn(&mut Problem, &mut Plan), fn(Limit) -> bool);

const MUTATIONS: &[Mutation] = &[
    ("no hands", |it, _| it.hands = 0, |it| it == Limit::Hands),
    ("no ring", |it, _| it.rings = 0, |it| it == Limit::Rings),
    ("one shelf", |it, _| it.ovens[0].shelves = 1, |it| it == Limit::Shelves(0)),
    ("no fridge", |it, _| it.fridge_centilitres = 0, |it| it == Limit::Cold(Place::Fridge)),
    ("no freezer", |it, _| it.freezer_centilitres = 0, |it| it == Limit::Cold(Place::Freezer)),
    ("no machine", |it, _| it.machines[0].count = 0, |it| it == Limit::Machine(0)),
    ("no minutes", |it, _| it.windows[1].hands_minutes = 9, |it| it == Limit::DayHands(1)),
    ("a short day", |it, _| it.windows[1].to_minute -= 5, |it| matches!(it, Limit::Window(1))),
    (
        "another heat",
        |it, plan| {
            let chicken = job(it, 'B', 4);
            let way = &mut it.jobs[chicken].ways[plan.jobs[chicken].way];
            way.oven.as_mut().unwrap().stages[0].tenths_celsius += 200;
        },
        |it| it == Limit::Setting(0),
    ),
    (
        "an oven for itself",
        |it, plan| {
            let chicken = job(it, 'B', 4);
            it.jobs[chicken].ways[plan.jobs[chicken].way].oven.as_mut().unwrap().is_alone = true;
        },
        |it| it == Limit::Setting(0),
    ),
    ("a slow oven", |it, _| it.ovens[0].preheat_minutes = 300, |it| it == Limit::Setting(0)),
    (
        "a short hold",
        |it, plan| {
            let sauce = job(it, 'S', 3);
            it.jobs[sauce].holds[plan.jobs[sauce].hold].most_minutes = 60;
        },
        |it| matches!(it, Limit::Hold(..)),
    ),
    (
        "a long least",
        |it, plan| {
            let frozen = job(it, 'F', 8);
            it.jobs[frozen].holds[plan.jobs[frozen].hold].least_minutes = 9_000;
        },
        |it| matches!(it, Limit::Hold(..)),
    ),
    (
        "not straight on",
        |it, plan| plan.jobs[job(it, 'B', 5)].start_minute += 1,
        |it| matches!(it, Limit::Gap(_)),
    ),
    (
        "early at the table",
        |it, plan| plan.jobs[job(it, 'E', 4)].start_minute -= 90,
        |it| matches!(it, Limit::Gap(_)),
    ),
    (
        "too old by hours",
        |it, _| {
            let sauce = job(it, 'S', 3);
            let keep = it.keeps.iter_mut().find(|keep| keep.from == sauce).unwrap();
            keep.clock = Clock::Elapsed(120);
        },
        |it| matches!(it, Limit::Keep(_)),
    ),
    (
        "too old by days",
        |it, _| {
            let sauce = job(it, 'S', 3);
            let keep = it.keeps.iter_mut().find(|keep| keep.from == sauce).unwrap();
            keep.clock = Clock::Days(1);
        },
        |it| matches!(it, Limit::Keep(_)),
    ),
    ("cooled too slowly", |it, _| it.spans[0].most_minutes = 1, |it| matches!(it, Limit::Span(0))),
    (
        "too long in the room",
        |it, _| it.rooms[0].most_minutes = 1,
        |it| matches!(it, Limit::Room(0)),
    ),
    (
        "the other way round",
        |it, _| {
            let (before, after) = (job(it, 'A', 9), job(it, 'A', 8));
            let because = "last".to_owned();
            it.orders.push(Order { before, after, only_on_one_day: true, because });
        },
        |it| matches!(it, Limit::Order(_)),
    ),
    (
        "another day",
        |it, _| {
            let soup = job(it, 'A', 1);
            it.jobs[soup].windows = vec![2];
        },
        |it| matches!(it, Limit::Time(_)),
    ),
    (
        "before it may begin",
        |it, plan| {
            let soup = job(it, 'A', 1);
            it.jobs[soup].start_from_minute = plan.jobs[soup].start_minute + 1;
        },
        |it| matches!(it, Limit::Time(_)),
    ),
    (
        "after it must end",
        |it, plan| {
            let soup = job(it, 'A', 1);
            it.jobs[soup].end_by_minute = plan.jobs[soup].start_minute;
        },
        |it| matches!(it, Limit::Time(_)),
    ),
    (
        "a pin moved",
        |it, plan| {
            let soup = job(it, 'A', 1);
            it.jobs[soup].pinned_minute = Some(plan.jobs[soup].start_minute - 1);
        },
        |it| matches!(it, Limit::Time(_)),
    ),
    (
        "yesterday",
        |it, plan| it.now_minute = plan.jobs[job(it, 'B', 6)].start_minute,
        |it| matches!(it, Limit::Time(_)),
    ),
    (
        "a way that is not there",
        |it, plan| plan.jobs[job(it, 'E', 3)].way = 9,
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "a hold that is not there",
        |it, plan| plan.jobs[job(it, 'E', 3)].hold = 9,
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "no oven",
        |it, plan| plan.jobs[job(it, 'E', 3)].oven = None,
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "an oven that is not there",
        |it, plan| plan.jobs[job(it, 'E', 3)].oven = Some(1),
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "a job too few",
        |_, plan| {
            plan.jobs.pop();
        },
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "no day at all",
        |it, plan| plan.jobs[job(it, 'A', 1)].start_minute = 1_000_000,
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "done otherwise",
        |it, plan| {
            let soup = job(it, 'A', 1);
            let start_minute = plan.jobs[soup].start_minute - 7;
            it.jobs[soup].done =
                Some(Done { start_minute, end_minute: start_minute + 9, hold: None });
        },
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "colder than tested",
        |it, plan| {
            let bake = job(it, 'C', 5);
            it.jobs[bake].ways[plan.jobs[bake].way].from = StartFrom::Warm;
        },
        |it| matches!(it, Limit::Choice(_)),
    ),
    (
        "overnight in no place",
        |it, plan| {
            let bake = job(it, 'C', 4);
            let hold = it.jobs[bake].holds[plan.jobs[bake].hold].clone();
            let open = dovetray::domain::schedule::problem::Hold { place: None, ..hold };
            it.jobs[bake].holds[plan.jobs[bake].hold] = open;
        },
        |it| matches!(it, Limit::Gap(_)),
    ),
    (
        "a kept machine taken",
        |it, plan| {
            // Another dish wants the blender between the two layers of the loaf.
            let (peach, paste) = (job(it, 'F', 2), job(it, 'B', 1));
            let blender = it.jobs[peach].ways[0].machines.clone();
            it.jobs[paste].ways[0].machines = blender;
            plan.jobs[paste].start_minute = plan.jobs[peach].start_minute + 1;
        },
        |it| matches!(it, Limit::Machine(_)),
    ),
];

#[test]
fn each_kind_of_limit_broken_on_purpose_is_caught() {
    let (problem, plan) = sunniva();
    let missed: Vec<&str> = MUTATIONS
        .iter()
        .filter(|(_, mutate, is_it)| {
            let (mut problem, mut plan) = (problem.clone(), plan.clone());
            mutate(&mut problem, &mut plan);
            let breaches = check(&problem, &plan);
            for breach in &breaches {
                assert!(breach.sentence.ends_with('.'), "{}", breach.sentence);
            }
            !breaches.iter().any(|breach| is_it(breach.limit))
        })
        .map(|(name, ..)| *name)
        .collect();
    assert!(missed.is_empty(), "not caught: {missed:?}");
}

#[test]
fn a_job_alone_out_of_its_chain_is_caught_whichever_it_is() {
    let (problem, plan) = sunniva();
    for place in 0..plan.jobs.len() {
        let mut other = plan.clone();
        other.jobs[place].start_minute += 3_000;
        assert_ne!(check(&problem, &other), [], "job {place} after the table");
        let next = problem.gaps_after(place).find_map(|(_, gap)| match gap.next {
            Next::Job(next) => Some(next),
            Next::Table(_) => None,
        });
        if let Some(next) = next {
            let mut other = plan.clone();
            other.jobs[place].start_minute = plan.jobs[next].start_minute + 1;
            assert_ne!(check(&problem, &other), [], "job {place} after the next");
        }
    }
}

#[test]
fn days_and_kitchens_that_make_no_sense_are_told_at_their_field() {
    let usual = kitchen(&[2], 15, 4, 1);
    let said = |kitchen: &Kitchen, days: &[CookDay]| {
        let nonsense = built(kitchen, days, &Wishes::default()).unwrap_err();
        nonsense.into_iter().map(|it| (it.field, it.sentence)).collect::<Vec<_>>()
    };
    let late = days(&["2027-06-27"]);
    let found = said(&usual, &late);
    let sentence = "Sunday 27 June is after the serving day, Saturday 26 June";
    assert_eq!(found, [(Field::CookDays, sentence.to_owned())]);
    let none = [CookDay { hands_minutes: Some(0), ..days(&["2027-06-25"])[0] }];
    let found = said(&usual, &none);
    assert!(found[0].1.contains("Friday 25 June has no free minutes"), "{found:?}");
    let found = said(&kitchen(&[2, 0], 15, 4, 1), &days(&["2027-06-25", "2027-06-25"]));
    let fields: Vec<Field> = found.iter().map(|it| it.0).collect();
    assert_eq!(fields, [Field::Kitchen, Field::CookDays], "all at once: {found:?}");
    assert!(found[0].1.contains("Oven 2 has no shelf"), "{found:?}");
}

/// Runs the command on a text from standard input; the answer and whether it went well.
fn command(args: &[&str], file: &std::path::Path) -> (bool, serde_json::Value) {
    let command = std::process::Command::new(env!("CARGO_BIN_EXE_dovetray"))
        .args(args)
        .arg(file)
        .output()
        .unwrap();
    let said = String::from_utf8(command.stdout).unwrap();
    let error = String::from_utf8_lossy(&command.stderr);
    (command.status.success(), serde_json::from_str(&said).unwrap_or_else(|_| error.into()))
}

#[test]
fn a_plan_of_the_command_passes_its_check_and_a_moved_one_does_not() {
    let menu =
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/demo/midsummer-lunch.json");
    let (went_well, mut plan) = command(&["plan"], &menu);
    assert!(went_well, "{plan}");
    assert_eq!(plan["status"], "planned", "{plan}");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.json");
    let menu = menu.to_str().unwrap();
    std::fs::write(&file, plan.to_string()).unwrap();
    let (went_well, check) = command(&["check-plan", menu], &file);
    assert!(went_well && check["holds"] == true, "{check}");
    let start = plan["jobs"][3]["start_minute"].as_i64().unwrap();
    plan["jobs"][3]["start_minute"] = (start + 3_000).into();
    std::fs::write(&file, plan.to_string()).unwrap();
    let (went_well, check) = command(&["check-plan", menu], &file);
    assert!(!went_well && check["holds"] == false, "{check}");
}
