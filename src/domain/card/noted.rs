//! The notes of a step: put where they belong, and given back in order.

use super::note::Note;
use super::step::Step;

impl Step {
    /// Puts a note where it belongs; of a kind that stands alone the later counts.
    pub fn set(&mut self, note: Note) {
        let step = self;
        match note {
            Note::Hands(hands) => step.hands = Some(hands),
            Note::Wait(wait) => step.wait = Some(wait),
            Note::Oven(setting) => step.oven = Some(setting),
            Note::OvenOr(setting) => step.oven_or.push(setting),
            Note::OwnOven(setting) => step.own_oven = Some(setting),
            Note::Cold(minutes) => step.cold_extra_minutes = Some(minutes),
            Note::Frozen(minutes) => step.frozen_extra_minutes = Some(minutes),
            Note::Shelf(share) => step.shelf = Some(share),
            Note::Hob(hob) => step.hob = Some(hob),
            Note::Touch(touch) => step.touches.push(touch),
            Note::Core(core) => step.core = Some(core),
            Note::Check(check) => step.check = Some(check),
            Note::Rest(rest) => step.rest = Some(rest),
            Note::Chill(chill) => step.chill = Some(chill),
            Note::Stop(stop) => step.stops.push(stop),
            Note::Box(litres) => step.box_litres = Some(litres),
            Note::Tool(tool) => step.tools.push(tool),
            Note::Mark(mark) => drop(step.marks.insert(mark)),
            Note::BeforeServing(minutes) => step.before_serving_minutes = Some(minutes),
            Note::Serve(serve) => step.serve = Some(serve),
            Note::After(step_ref) => step.after.push(step_ref),
            Note::KindOfFood(kind) => step.kind_of_food = Some(kind),
        }
    }

    /// The notes of a step, in a fixed order; [`Step::set`] read backwards.
    pub fn notes(&self) -> Vec<Note> {
        let step = self;
        let mut notes = Vec::new();
        notes.extend(step.hands.map(Note::Hands));
        notes.extend(step.oven.clone().map(Note::Oven));
        notes.extend(step.oven_or.iter().cloned().map(Note::OvenOr));
        notes.extend(step.own_oven.clone().map(Note::OwnOven));
        notes.extend(step.cold_extra_minutes.map(Note::Cold));
        notes.extend(step.frozen_extra_minutes.map(Note::Frozen));
        notes.extend(step.shelf.clone().map(Note::Shelf));
        notes.extend(step.hob.map(Note::Hob));
        notes.extend(step.touches.iter().cloned().map(Note::Touch));
        notes.extend(step.core.map(Note::Core));
        notes.extend(step.check.map(Note::Check));
        notes.extend(step.rest.map(Note::Rest));
        notes.extend(step.wait.map(Note::Wait));
        notes.extend(step.chill.map(Note::Chill));
        notes.extend(step.tools.iter().cloned().map(Note::Tool));
        notes.extend(step.marks.iter().copied().map(Note::Mark));
        notes.extend(step.before_serving_minutes.map(Note::BeforeServing));
        notes.extend(step.serve.map(Note::Serve));
        notes.extend(step.after.iter().cloned().map(Note::After));
        notes.extend(step.kind_of_food.clone().map(Note::KindOfFood));
        notes.extend(step.box_litres.clone().map(Note::Box));
        notes.extend(step.stops.iter().cloned().map(Note::Stop));
        notes
    }
}
