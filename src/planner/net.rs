//! The search's own picture of a kitchen: whole units of time, no names, nothing but steps, links and things that are shared.

/// Times and lengths are counted in units of the grid from the start of the plan.
#[derive(Debug, Clone, Default)]
pub struct Net {
    pub unit_minutes: i64,
    pub horizon: i64,
    /// In order of time and apart from each other; a step lies in one of them whole.
    pub windows: Vec<Window>,
    /// How much there is of each shared thing: hands, rings, shelves, machines, litres.
    pub things: Vec<i64>,
    pub steps: Vec<Step>,
    pub links: Vec<Link>,
    pub aparts: Vec<Apart>,
    pub tallies: Vec<Tally>,
    pub days: Vec<Days>,
    /// When each civil day begins, ascending.
    pub midnights: Vec<i64>,
    pub kept: Vec<Kept>,
    pub turns: Vec<Turn>,
    pub first: First,
}

/// What is to be least before the time held.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum First {
    #[default]
    Serving,
    Days,
    Nothing,
}

#[derive(Debug, Clone, Default)]
pub struct Window {
    pub start: i64,
    pub end: i64,
    pub serving: bool,
    /// Hands minutes that are free in it.
    pub free_minutes: Option<i64>,
}

#[derive(Debug, Clone, Default)]
pub struct Step {
    pub dish: usize,
    pub modes: Vec<Mode>,
    /// How the food waits after it; one is chosen for everything that follows.
    pub holds: Vec<Hold>,
    pub earliest_start: i64,
    pub earliest_end: i64,
    pub latest_end: i64,
    pub latest_start: i64,
    /// It needs no window: what is done already, and the table.
    pub anywhere: bool,
    /// The window it stands in all the same.
    pub stands_in: Option<usize>,
    /// Windows this step must stay out of.
    pub not_in: Vec<usize>,
    /// The time until its last use counts as held.
    pub held: bool,
}

#[derive(Debug, Clone, Default)]
pub struct Mode {
    pub length: i64,
    pub hands_minutes: i64,
    pub uses: Vec<Use>,
    /// Not sooner than this after its window opens: an oven must be hot.
    pub after_opening: i64,
    /// This mode only when these steps wait so: (step, the holds that suit).
    pub only_with: Vec<(usize, Vec<usize>)>,
}

/// An amount of a thing, from and to counted from the start of the step.
#[derive(Debug, Clone, Copy)]
pub struct Use {
    pub thing: usize,
    pub from: i64,
    pub to: i64,
    pub amount: i64,
}

#[derive(Debug, Clone, Default)]
pub struct Hold {
    pub least: i64,
    pub most: i64,
    /// Only the first use must come within the most.
    pub most_of_first: bool,
    /// What follows lies in the same window.
    pub same_window: bool,
    /// Room taken from the end of the step to its last use.
    pub until_last: Vec<(usize, i64)>,
    /// Room taken from the end of the step to so long before its first use.
    pub until_first: Vec<(usize, i64, i64)>,
    /// Room taken from so long before the first use to the last use.
    pub near_use: Vec<(usize, i64, i64)>,
}

/// One step follows another.
#[derive(Debug, Clone, Default)]
pub struct Link {
    pub from: usize,
    pub to: usize,
    pub least: i64,
    pub most: i64,
    /// The food of the first waits for the second, as its hold says; else only the order counts.
    pub waits: bool,
    /// Over already: nothing of it is asked any more.
    pub over: bool,
}

/// Two uses that may not meet, and how long one must lie after the other.
#[derive(Debug, Clone)]
pub struct Apart {
    pub one: Part,
    pub other: Part,
    /// Between them when the one, or the other, comes first.
    pub one_first: i64,
    pub other_first: i64,
}

#[derive(Debug, Clone, Copy)]
pub struct Part {
    pub step: usize,
    pub mode: usize,
    pub from: i64,
    pub to: i64,
}

/// A sum of times that has a limit.
#[derive(Debug, Clone, Default)]
pub struct Tally {
    pub most: i64,
    /// From the end of this step,
    pub from: Option<usize>,
    /// to the start, or the end, of this one.
    pub to: Option<(usize, bool)>,
    /// Counts only where this step waits in this way.
    pub only_with: Option<(usize, usize)>,
    /// (step, mode, what it adds)
    pub modes: Vec<(usize, usize, i64)>,
    /// The gap of a link, where the food waits in one of these ways.
    pub gaps: Vec<(usize, Vec<usize>)>,
    /// What is frozen only once on the way does not count meanwhile.
    pub frozen: Vec<Frozen>,
}

/// A step whose food is frozen with this hold, until so long before its first use.
#[derive(Debug, Clone, Copy)]
pub struct Frozen {
    pub step: usize,
    pub hold: usize,
    pub thaw: i64,
}

/// Calendar days from the end of a step until it is eaten, both counted.
#[derive(Debug, Clone, Default)]
pub struct Days {
    pub from: usize,
    pub only_with: Option<(usize, usize)>,
    pub until_day: i64,
    pub most: i64,
    pub frozen: Vec<Frozen>,
}

/// A thing in use from the start of one step to the start of another, and at least so long.
#[derive(Debug, Clone, Copy)]
pub struct Kept {
    pub thing: usize,
    pub from: usize,
    pub to: usize,
    pub least: i64,
    pub amount: i64,
}

/// When both lie in one window, the first ends before the second starts.
#[derive(Debug, Clone, Copy)]
pub struct Turn {
    pub before: usize,
    pub after: usize,
}

/// Where everything lies: for each step its start, its mode and its hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placed {
    pub starts: Vec<i64>,
    pub modes: Vec<usize>,
    pub holds: Vec<usize>,
}

/// What a placing costs, most important first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    pub first: i64,
    pub held: i64,
    pub blocks: i64,
}

impl Step {
    /// Free to lie anywhere in time, with no mode and no hold yet.
    pub fn any_time() -> Self {
        Self { latest_end: i64::MAX / 4, latest_start: i64::MAX / 4, ..Self::default() }
    }
}

impl Net {
    pub fn end(&self, placed: &Placed, step: usize) -> i64 {
        placed.starts[step] + self.steps[step].modes[placed.modes[step]].length
    }

    pub fn window_of(&self, start: i64, end: i64) -> Option<usize> {
        self.windows.iter().position(|window| window.start <= start && end <= window.end)
    }

    /// Whether the step may lie in the window with its shortest mode.
    pub fn may_lie(&self, step: usize, window: usize) -> bool {
        let index = step;
        let (step, room) = (&self.steps[step], &self.windows[window]);
        let fits = |mode: &Mode| {
            let first_end =
                (room.start + mode.after_opening).max(step.earliest_start) + mode.length;
            first_end.max(step.earliest_end) <= self.last_end(index, mode, window)
        };
        !step.not_in.contains(&window) && step.modes.iter().any(fits)
    }

    fn last_end(&self, step: usize, mode: &Mode, window: usize) -> i64 {
        let step = &self.steps[step];
        self.windows[window]
            .end
            .min(step.latest_end)
            .min(step.latest_start.saturating_add(mode.length))
    }

    /// The civil day of a time.
    pub fn day(&self, time: i64) -> i64 {
        i64::try_from(self.midnights.partition_point(|midnight| *midnight <= time)).unwrap_or(0) - 1
    }

    pub fn cost(&self, placed: &Placed) -> Cost {
        let mut used = vec![false; self.windows.len()];
        let mut serving_minutes = 0;
        let mut last_use = vec![i64::MIN; self.steps.len()];
        for link in self.links.iter().filter(|link| link.waits) {
            last_use[link.from] = last_use[link.from].max(placed.starts[link.to]);
        }
        let mut held = 0;
        for (index, step) in self.steps.iter().enumerate() {
            let end = self.end(placed, index);
            if step.held && last_use[index] > i64::MIN {
                held += last_use[index] - end;
            }
            if let (Some(window), false) =
                (self.window_of(placed.starts[index], end), step.anywhere)
            {
                used[window] = true;
                if self.windows[window].serving {
                    serving_minutes += step.modes[placed.modes[index]].hands_minutes;
                }
            }
        }
        let days = self
            .windows
            .iter()
            .zip(&used)
            .filter(|(window, used)| **used && !window.serving)
            .count();
        let blocks = i64::try_from(days).unwrap_or(i64::MAX);
        let first = match self.first {
            First::Serving => serving_minutes,
            First::Days => blocks,
            First::Nothing => 0,
        };
        Cost { first, held, blocks }
    }
}
