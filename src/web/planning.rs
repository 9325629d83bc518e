//! Plans at work: a few plain threads, a short queue, and what they made, by the hash of the problem.

use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, SyncSender, TrySendError, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use sha2::{Digest, Sha256};
use tokio::sync::watch;

use crate::domain::schedule::account::Account;
use crate::domain::schedule::build::Built;
use crate::domain::schedule::check;
use crate::domain::schedule::conflict::{Conflict, WayOut};
use crate::domain::schedule::plan::{Cancel, Effort, Outcome, Plan};
use crate::domain::schedule::problem::Problem;
use crate::planner;

/// Plans that wait for a thread; one more is turned away.
const QUEUE_MAX: usize = 8;
/// Beyond this many results all are forgotten and made anew: simple, and rare.
const KEPT_MAX: usize = 200;

/// The planning of the house. Cheap to clone.
#[derive(Clone, Debug)]
pub struct Planning {
    queue: SyncSender<Arc<Work>>,
    known: Arc<Mutex<HashMap<[u8; 32], Arc<Work>>>>,
}

/// One problem on its way; whoever asks for the same problem shares it.
#[derive(Debug)]
pub struct Work {
    pub built: Built,
    /// Set by the first who keeps the result.
    pub is_kept: AtomicBool,
    effort: Effort,
    is_cancelled: AtomicBool,
    /// The best the search has come to; not checked yet.
    best: Mutex<Option<Plan>>,
    made: watch::Sender<Option<Arc<Made>>>,
}

/// What came of it. A plan here was passed by the checker.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    pub account: Option<Account>,
    pub conflict: Option<Conflict>,
    /// Ended early by a person; the best plan until then.
    pub is_cancelled: bool,
    /// Nothing is added any more; ways out may follow a refusal.
    pub is_over: bool,
}

/// All threads are at work and the queue is full.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("Every cook of plans is busy; ask again in a minute")]
pub struct Busy;

impl Default for Planning {
    fn default() -> Self {
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        Self::with(cores.saturating_sub(1).max(1), QUEUE_MAX)
    }
}

impl Planning {
    /// So many threads, and so many plans that wait for one.
    pub fn with(threads: usize, queue_max: usize) -> Self {
        let (queue, waiting) = sync_channel(queue_max);
        let waiting = Arc::new(Mutex::new(waiting));
        for _ in 0..threads {
            let waiting = waiting.clone();
            // A house without this thread still shows every page but a new plan.
            let thread = std::thread::Builder::new().name("plan".to_owned());
            if let Err(error) = thread.spawn(move || work(&waiting)) {
                tracing::error!(%error, "no thread for plans");
            }
        }
        Self { queue, known: Arc::default() }
    }

    /// The work on this problem, begun now unless it is known.
    pub fn ask(&self, built: Built, effort: Effort) -> Result<Arc<Work>, Busy> {
        let hash = hash(&built.problem, effort);
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(work) = known.get(&hash) {
            return Ok(work.clone());
        }
        let work = Arc::new(Work { effort, ..Work::of(built) });
        match self.queue.try_send(work.clone()) {
            Ok(()) => {}
            Err(TrySendError::Full(_) | TrySendError::Disconnected(_)) => return Err(Busy),
        }
        if known.len() >= KEPT_MAX {
            known.clear();
        }
        known.insert(hash, work.clone());
        Ok(work)
    }

    /// The work on this problem, if it is at work or done.
    pub fn known(&self, problem: &Problem, effort: Effort) -> Option<Arc<Work>> {
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        known.get(&hash(problem, effort)).cloned()
    }

    /// Takes over what was made before this house was started.
    pub fn keep(&self, built: Built, effort: Effort, account: Account) -> Arc<Work> {
        let hash = hash(&built.problem, effort);
        let work = Arc::new(Work { effort, ..Work::of(built) });
        let (conflict, is_cancelled, is_over) = (None, false, true);
        work.say(Made { account: Some(account), conflict, is_cancelled, is_over });
        self.known.lock().unwrap_or_else(PoisonError::into_inner).insert(hash, work.clone());
        work
    }

    /// Forgets a plan that was ended early, so that it is made whole when it is asked for again.
    pub fn forget(&self, work: &Work) {
        let hash = hash(&work.built.problem, work.effort);
        self.known.lock().unwrap_or_else(PoisonError::into_inner).remove(&hash);
    }
}

impl Work {
    /// Work that nobody does: for pages that are shown as samples.
    pub fn of(built: Built) -> Self {
        let (made, _) = watch::channel(None);
        let is_kept = AtomicBool::new(false);
        let (is_cancelled, best) = (AtomicBool::new(false), Mutex::new(None));
        Self { built, is_kept, effort: Effort::Normal, is_cancelled, best, made }
    }

    /// What was made, if it is there within this time.
    pub async fn made_within(&self, time: Duration) -> Option<Arc<Made>> {
        let mut made = self.made.subscribe();
        let found = tokio::time::timeout(time, made.wait_for(Option::is_some)).await;
        found.ok()?.ok()?.clone()
    }

    fn say(&self, made: Made) {
        self.made.send_replace(Some(Arc::new(made)));
    }

    /// The best plan so far, where the checker passes it.
    pub fn best_so_far(&self) -> Option<Account> {
        let best = self.best.lock().unwrap_or_else(PoisonError::into_inner).clone();
        Account::of(&self.built.problem, best?, None)
    }

    pub fn cancel(&self) {
        self.is_cancelled.store(true, Ordering::Relaxed);
    }
}

impl Cancel for Work {
    fn is_cancelled(&self) -> bool {
        self.is_cancelled.load(Ordering::Relaxed)
    }

    fn found(&self, plan: &Plan) {
        let mut best = self.best.lock().unwrap_or_else(PoisonError::into_inner);
        *best = Some(plan.clone());
    }
}

/// The same problem by the same program is the same plan.
pub fn hash(problem: &Problem, effort: Effort) -> [u8; 32] {
    let words = format!("{} {} {problem:?}", env!("CARGO_PKG_VERSION"), effort.word());
    Sha256::digest(words.as_bytes()).into()
}

fn work(waiting: &Mutex<Receiver<Arc<Work>>>) {
    loop {
        let next = waiting.lock().unwrap_or_else(PoisonError::into_inner).recv();
        let Ok(work) = next else { return };
        let made = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| make(&work)));
        if made.is_err() {
            tracing::error!("a plan ended in a panic");
            let is_over = true;
            work.say(Made { account: None, conflict: None, is_cancelled: false, is_over });
        }
    }
}

/// Says what came of it: a refusal at once, its ways out one by one as each is planned.
fn make(work: &Work) {
    let problem = &work.built.problem;
    let outcome = planner::plan(problem, work.effort, work);
    let is_cancelled = match &outcome {
        Outcome::Planned { is_cancelled, .. } | Outcome::Unknown { is_cancelled } => *is_cancelled,
        Outcome::Refused(_) => false,
    };
    let account = Account::of_outcome(problem, &outcome);
    if account.is_none() && matches!(outcome, Outcome::Planned { .. }) {
        tracing::error!("a plan did not pass the checker and is not shown");
    }
    let Outcome::Refused(mut conflict) = outcome else {
        let is_over = true;
        work.say(Made { account, conflict: None, is_cancelled, is_over });
        return;
    };
    let refused = |conflict: &Conflict, is_over| Made {
        account: None,
        conflict: Some(conflict.clone()),
        is_cancelled: false,
        is_over,
    };
    work.say(refused(&conflict, false));
    let bare = conflict.clone();
    planner::ways_out(problem, &bare, work, &mut |way: WayOut| {
        if check(&way.problem, &way.plan).is_empty() {
            conflict.ways_out.push(way);
            work.say(refused(&conflict, false));
        }
    });
    work.say(refused(&conflict, true));
}
