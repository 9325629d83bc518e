//! The search on the demonstration homes: its plans hold by the checker, and its refusals are small and true.

use std::collections::BTreeMap;

use dovetray::domain::home::CookDay;
use dovetray::domain::kitchen::{ColdRoom, Kitchen, Machines, Oven};
use dovetray::domain::schedule::build::{Facts, Wishes, build};
use dovetray::domain::schedule::plan::{Cancel, Effort, NoCancel, Outcome};
use dovetray::domain::schedule::problem::{Limit, Problem};
use dovetray::domain::schedule::{check, goals, simple};
use dovetray::domain::text::Name;
use dovetray::planner;

use crate::demo;

struct Home {
    menu: char,
    guests: u32,
    serving: (&'static str, &'static str),
    days: &'static [&'static str],
    ovens: &'static [u32],
    hands: u32,
    freezer: ColdRoom,
}

/// Enough for a good plan, and little for a program that is not optimised.
const LITTLE: u64 = 150_000;

/// A home of the first menu with one oven of two shelves and one pair of hands.
const ONE_OVEN: Home = Home {
    menu: 'a',
    guests: 8,
    serving: ("2027-06-26T13:00", "Europe/Oslo"),
    days: &["2027-06-23", "2027-06-25", "2027-06-26"],
    ovens: &[2],
    hands: 1,
    freezer: ColdRoom::HalfShelf,
};

/// The second menu in one oven; a planner that only goes backwards finds nothing here.
const TIGHT: Home = Home {
    menu: 'b',
    guests: 6,
    serving: ("2027-01-23T19:30", "America/Chicago"),
    days: &["2027-01-10", "2027-01-20", "2027-01-21", "2027-01-22", "2027-01-23"],
    ovens: &[3],
    hands: 1,
    freezer: ColdRoom::HalfShelf,
};

/// Two hot dishes of the first menu, and a single shelf.
const ONE_SHELF: Home = Home {
    menu: 'a',
    guests: 4,
    serving: ("2027-06-26T17:00", "America/Halifax"),
    days: &["2027-06-24", "2027-06-25", "2027-06-26"],
    ovens: &[1],
    hands: 1,
    freezer: ColdRoom::None,
};

fn problem(home: &Home) -> Problem {
    let ovens = home.ovens.iter().map(|&shelves| Oven { shelves, preheat_minutes: 15 }).collect();
    let kitchen = Kitchen {
        name: Name::parse("Home").unwrap(),
        ovens,
        rings: 4,
        hands: home.hands,
        fridge: ColdRoom::Shelf,
        freezer: home.freezer,
        machines: Machines { processors: 1, blenders: 1, mortars: 1, mixers: 1 },
    };
    let laid = demo::laid(home.menu);
    let mut sitting = demo::sitting(home.guests, home.serving.0, home.serving.1);
    sitting.freezer_litres = Some(kitchen.freezer.freezer_litres());
    let cook_days: Vec<CookDay> =
        home.days.iter().map(|date| CookDay::whole(date.parse().unwrap())).collect();
    let facts = Facts {
        laid: &laid,
        sitting: &sitting,
        kitchen: &kitchen,
        cook_days: &cook_days,
        now: None,
        wishes: &Wishes::default(),
        done: &BTreeMap::new(),
    };
    build(&facts).unwrap().problem
}

#[test]
fn a_plan_holds_by_the_checker_and_is_no_worse_than_the_plain_planner() {
    let problem = problem(&ONE_OVEN);
    let Outcome::Planned { plan, bound, is_cancelled } =
        planner::plan_within(&problem, LITTLE, &NoCancel)
    else {
        panic!("a plan")
    };
    assert_eq!(check(&problem, &plan), []);
    assert!(!is_cancelled);
    let is = goals(&problem, &plan);
    let bound = bound.unwrap();
    assert!(bound.serving_hands_minutes <= is.serving_hands_minutes);
    assert!(bound.held_minutes <= is.held_minutes);
    let Outcome::Planned { plan: plain, .. } = simple::plan(&problem) else { panic!("a plan") };
    let plain = goals(&problem, &plain);
    assert!(bound.serving_hands_minutes <= plain.serving_hands_minutes);
    assert!(
        is.serving_hands_minutes <= plain.serving_hands_minutes,
        "{is:?} is worse than {plain:?}"
    );
}

#[test]
fn where_the_plain_planner_finds_nothing_the_search_does() {
    let problem = problem(&TIGHT);
    assert!(!matches!(simple::plan(&problem), Outcome::Planned { .. }));
    let outcome = planner::plan(&problem, Effort::Normal, &AtFirst::default());
    let Outcome::Planned { plan, .. } = outcome else { panic!("a plan") };
    assert_eq!(check(&problem, &plan), []);
}

#[test]
fn the_same_problem_and_effort_give_the_same_plan() {
    let problem = problem(&ONE_OVEN);
    let first = planner::plan_within(&problem, LITTLE, &NoCancel);
    assert!(matches!(first, Outcome::Planned { .. }));
    assert_eq!(first, planner::plan_within(&problem, LITTLE, &NoCancel));
}

#[test]
fn two_hot_dishes_on_one_shelf_are_refused_with_the_few_limits_that_clash() {
    let problem = problem(&ONE_SHELF);
    let Outcome::Refused(conflict) = planner::plan(&problem, Effort::Small, &NoCancel) else {
        panic!("a refusal")
    };
    assert!(conflict.is_minimal);
    assert!(conflict.reasons.len() <= 8, "{:?}", conflict.reasons);
    let shelf = conflict.reasons.iter().find(|reason| matches!(reason.limit, Limit::Shelves(_)));
    let shelf = shelf.expect("the shelf is named");
    let dishes: Vec<&str> = shelf
        .jobs
        .iter()
        .map(|job| problem.dishes[problem.jobs[*job].dish].title.as_str())
        .collect();
    assert!(dishes.iter().any(|title| title.contains("chicken")), "{dishes:?}");
    assert!(dishes.iter().any(|title| title.contains("potatoes")), "{dishes:?}");
    assert!(shelf.between.is_some());
}

#[test]
fn each_way_out_is_a_plan_that_holds_for_the_changed_problem() {
    let problem = problem(&ONE_SHELF);
    let Outcome::Refused(conflict) = planner::plan(&problem, Effort::Small, &NoCancel) else {
        panic!("a refusal")
    };
    let mut ways = Vec::new();
    let cancel = AtFirst::default();
    planner::ways_out(&problem, &conflict, &cancel, |way| ways.push(way));
    assert!(!ways.is_empty());
    for way in ways {
        assert_eq!(problem.changed(&way.change).as_ref(), Some(&*way.problem));
        assert_eq!(check(&way.problem, &way.plan), []);
    }
}

/// Calls a search off at the first plan.
#[derive(Default)]
struct AtFirst(std::sync::atomic::AtomicBool);

impl Cancel for AtFirst {
    fn is_cancelled(&self) -> bool {
        self.0.load(std::sync::atomic::Ordering::Relaxed)
    }

    fn found(&self, _plan: &dovetray::domain::schedule::plan::Plan) {
        self.0.store(true, std::sync::atomic::Ordering::Relaxed);
    }
}

#[test]
fn a_search_that_is_called_off_gives_back_the_plan_it_has() {
    let problem = problem(&ONE_OVEN);
    let outcome = planner::plan(&problem, Effort::Long, &AtFirst::default());
    let Outcome::Planned { plan, is_cancelled: true, .. } = outcome else { panic!("{outcome:?}") };
    assert_eq!(check(&problem, &plan), []);
}
