//! The questions, in order, and what an answer does to the draft.

use super::door::can_be_true;
use super::draft::Draft;
use super::interview::{Asked, Asking};
use super::question::{self, Question};
use super::step::Step;
use super::{flags, quantity, strip_syntax};
use crate::plan::{Checkpoint, Setting, shift_date};
use crate::quality::EARLY;
use crate::site::{Kind, Welder};
use crate::testweld::{HeatTrial, MOST_HEATS, Trial};
use crate::units::Temperature;
use crate::words::{Language, tell};

/// The draft as far as it goes, and what is offered for the rest.
pub(super) struct Form<'a> {
    asking: &'a Asking<'a>,
    draft: Draft,
    checkpoint: Option<&'a Checkpoint>,
    /// Heats whose strips were answered.
    stripped: Vec<bool>,
    air_is_forecast: bool,
    confirmed: bool,
}

impl<'a> Form<'a> {
    pub(super) fn new(asking: &'a Asking<'a>) -> Self {
        let mut form = Self {
            asking,
            draft: Draft::default(),
            checkpoint: None,
            stripped: Vec::new(),
            air_is_forecast: false,
            confirmed: false,
        };
        form.checkpoint = form.nearest_checkpoint();
        if let [only] = asking.desk.site.welders.as_slice() {
            form.draft.welder = Some(only.name.clone());
        }
        form
    }

    pub(super) const fn draft(&self) -> &Draft {
        &self.draft
    }

    /// Whether the last question was answered with no.
    pub(super) const fn refused(&self) -> bool {
        !self.confirmed
    }

    pub(super) fn into_asked(mut self) -> Asked {
        self.draft.checkpoint = self.chosen_checkpoint().map(|point| point.id.clone());
        Asked { draft: self.draft, air_is_forecast: self.air_is_forecast }
    }

    const fn language(&self) -> Language {
        self.asking.desk.site.language
    }

    pub(super) fn first(&self) -> Step {
        self.steps().first().copied().unwrap_or(Step::Confirm)
    }

    pub(super) fn before(&self, step: Step) -> Option<Step> {
        let steps = self.steps();
        let place = steps.iter().position(|one| *one == step)?;
        steps.get(place.checked_sub(1)?).copied()
    }

    pub(super) fn after(&self, step: Step) -> Option<Step> {
        let steps = self.steps();
        let place = steps.iter().position(|one| *one == step)?;
        steps.get(place + 1).copied()
    }

    /// All that is asked, by what is answered so far.
    fn steps(&self) -> Vec<Step> {
        let site = self.asking.desk.site;
        let checkpoints = self.checkpoints().len() > 1;
        let automatic = self.welder().is_none_or(|welder| welder.kind == Kind::Automatic);
        let before = [
            (checkpoints, Step::Checkpoint),
            (site.welders.len() > 1, Step::Welder),
            (true, Step::When),
            (true, Step::Who),
            (true, Step::Air),
            (true, Step::Sheet),
            (true, Step::Lot),
            (true, Step::Roll),
            (true, Step::Weights),
            (true, Step::AirFlow),
            (automatic, Step::Speed),
            (true, Step::Heats),
        ];
        let before = before.into_iter().filter(|(asked, _)| *asked).map(|(_, step)| step);
        let strips = (0..self.draft.heats.len()).map(Step::Strips);
        before.chain(strips).chain([Step::Note, Step::Ran, Step::Confirm]).collect()
    }

    fn checkpoints(&self) -> &'a [Checkpoint] {
        self.asking.plan.map_or(&[], |plan| plan.checkpoints.as_slice())
    }

    /// The newest that a trial made now would count for; the first of the day before that.
    fn nearest_checkpoint(&self) -> Option<&'a Checkpoint> {
        let now = self.asking.desk.now;
        let points = self.checkpoints();
        points.iter().rfind(|point| point.time - EARLY <= now).or(points.first())
    }

    /// The checkpoint that was asked for, if the trial is of the plan's day.
    fn chosen_checkpoint(&self) -> Option<&'a Checkpoint> {
        let desk = &self.asking.desk;
        let asked = self.steps().contains(&Step::Checkpoint);
        let when = self.draft.when.unwrap_or(desk.now);
        let date = self.asking.plan?.date;
        let of_the_day = shift_date(desk.site, desk.zone, when) == date;
        self.checkpoint.filter(|_| asked && of_the_day)
    }

    fn welder(&self) -> Option<&'a Welder> {
        let name = self.draft.welder.as_ref()?;
        self.asking.desk.site.welders.iter().find(|welder| welder.name == *name)
    }

    /// What the plan asks of this welder at this checkpoint.
    fn setting(&self) -> Option<&'a Setting> {
        let name = self.draft.welder.as_ref()?;
        self.checkpoint?.settings.iter().find(|setting| setting.welder == *name)
    }

    /// Of the trial's minute, or of the checkpoint.
    fn air_forecast(&self) -> Option<Temperature> {
        let plan = self.asking.plan?;
        let when = self.draft.when.unwrap_or(self.asking.desk.now);
        let moment = plan.course.iter().rfind(|moment| moment.time <= when);
        let near = moment.filter(|moment| when < moment.time + chrono::TimeDelta::minutes(1));
        near.and_then(|moment| moment.air).or_else(|| self.checkpoint.map(|point| point.air))
    }

    pub(super) fn question(&self, step: Step) -> Question {
        let desk = &self.asking.desk;
        let (typist, draft, last) = (desk.typist(), &self.draft, self.asking.last);
        let language = typist.language;
        match step {
            Step::Checkpoint => {
                question::checkpoint(language, self.checkpoints(), self.checkpoint, desk.zone)
            }
            Step::Welder => {
                let offered = draft
                    .welder
                    .clone()
                    .or_else(|| desk.site.welders.first().map(|welder| welder.name.clone()));
                question::welder(language, &desk.site.welders, offered)
            }
            Step::When => question::when(language, draft.when.unwrap_or(desk.now), desk.zone),
            Step::Who => {
                let offered = draft.who.clone().or_else(|| Some(last?.who.clone()));
                question::who(language, offered)
            }
            Step::Air => {
                let read = draft.air.filter(|_| !self.air_is_forecast);
                question::air(read, self.air_forecast(), typist)
            }
            Step::Sheet => question::sheet(draft.sheet, typist),
            Step::Lot => {
                let offered = draft.lot.clone().or_else(|| last?.lot.clone());
                question::lot(language, offered)
            }
            Step::Roll => question::roll(language, draft.roll.clone()),
            Step::Weights => {
                let offered = draft.weights.clone().or_else(|| self.last_here()?.weights.clone());
                question::weights(language, offered)
            }
            Step::AirFlow => {
                let offered = draft.air_flow.clone().or_else(|| self.last_here()?.air_flow.clone());
                question::air_flow(language, offered)
            }
            Step::Speed => {
                let planned = self.setting().and_then(|setting| setting.trial.speed_held);
                question::speed(draft.speed.or(planned), typist)
            }
            Step::Heats => {
                let planned = self.setting().map(|setting| setting.trial.heats.as_slice());
                question::heats(&draft.heats, planned.unwrap_or_default(), typist)
            }
            Step::Strips(place) => {
                let answered = self.stripped.get(place) == Some(&true);
                question::strips(draft.heats.get(place), answered, typist)
            }
            Step::Note => question::note(language, draft.note.clone()),
            Step::Ran => question::ran(draft.ran, typist),
            Step::Confirm => question::confirm(language),
        }
    }

    /// The last trial, where it was made on this welder.
    fn last_here(&self) -> Option<&'a Trial> {
        self.asking.last.filter(|trial| Some(&trial.welder) == self.draft.welder.as_ref())
    }

    /// Takes the answer in; an empty one stands for what was offered.
    ///
    /// # Errors
    /// In words, when it cannot be understood or cannot be true; nothing is changed then.
    pub(super) fn answer(&mut self, step: Step, answer: &str) -> Result<(), String> {
        if answer.is_empty() && self.has(step) {
            return Ok(());
        }
        let question = self.question(step);
        let taken = match (answer, question.offered) {
            ("", None) if !question.optional => {
                return Err(tell!(self.language(), "record-needs-answer"));
            }
            ("", None) => None,
            ("", Some(offered)) => Some(offered),
            ("-", _) if question.optional => None,
            (typed, _) => Some(typed.to_owned()),
        };
        let Some(text) = taken else {
            self.clear(step);
            return Ok(());
        };
        self.take(step, &text, answer.is_empty())
    }

    /// Whether it was answered before: then an empty answer leaves it as it is, to the last digit.
    fn has(&self, step: Step) -> bool {
        match step {
            Step::When => self.draft.when.is_some(),
            Step::Air => self.draft.air.is_some() && !self.air_is_forecast,
            Step::Sheet => self.draft.sheet.is_some(),
            Step::Speed => self.draft.speed.is_some(),
            Step::Heats => !self.draft.heats.is_empty(),
            Step::Strips(place) => self.stripped.get(place) == Some(&true),
            Step::Ran => self.draft.ran.is_some(),
            _ => false,
        }
    }

    fn clear(&mut self, step: Step) {
        match step {
            Step::Sheet => self.draft.sheet = None,
            Step::Lot => self.draft.lot = None,
            Step::Roll => self.draft.roll = None,
            Step::Weights => self.draft.weights = None,
            Step::AirFlow => self.draft.air_flow = None,
            Step::Speed => self.draft.speed = None,
            Step::Note => self.draft.note = None,
            Step::Ran => self.draft.ran = None,
            _ => {}
        }
    }

    fn take(&mut self, step: Step, text: &str, as_offered: bool) -> Result<(), String> {
        let typist = self.asking.desk.typist();
        let mut draft = self.draft.clone();
        match step {
            Step::Checkpoint => return self.take_checkpoint(text),
            Step::Welder => return self.take_welder(text),
            Step::Confirm => return self.take_confirm(text),
            Step::Heats => return self.take_heats(text),
            Step::Strips(place) => return self.take_strips(place, text),
            // What is offered shows no seconds; now is now.
            Step::When if as_offered => draft.when = Some(self.asking.desk.now),
            Step::When => draft.when = Some(self.asking.desk.moment(text, typist.language)?),
            Step::Who => draft.who = Some(text.to_owned()),
            Step::Air => draft.air = Some(quantity::temperature(text, typist)?),
            Step::Sheet => draft.sheet = Some(quantity::temperature(text, typist)?),
            Step::Lot => draft.lot = Some(text.to_owned()),
            Step::Roll => draft.roll = Some(text.to_owned()),
            Step::Weights => draft.weights = Some(text.to_owned()),
            Step::AirFlow => draft.air_flow = Some(text.to_owned()),
            Step::Speed => draft.speed = Some(quantity::speed(text, typist)?),
            Step::Note => draft.note = Some(text.to_owned()),
            Step::Ran => draft.ran = Some(flags::setting(text, typist)?),
        }
        can_be_true(&draft, &self.asking.desk)?;
        if step == Step::Air {
            self.air_is_forecast = as_offered;
        }
        self.draft = draft;
        Ok(())
    }

    fn take_checkpoint(&mut self, text: &str) -> Result<(), String> {
        let points = self.checkpoints();
        let place = question::choice(text, points.len(), self.language(), |place| {
            points.get(place).is_some_and(|point| {
                point.id == text
                    || crate::render::figures::clock(point.time, self.asking.desk.zone) == text
            })
        })?;
        let chosen = points.get(place);
        if chosen.map(|point| &point.id) != self.checkpoint.map(|point| &point.id) {
            self.forget_heats();
        }
        self.checkpoint = chosen;
        Ok(())
    }

    fn take_welder(&mut self, text: &str) -> Result<(), String> {
        let welders = &self.asking.desk.site.welders;
        let place = question::choice(text, welders.len(), self.language(), |place| {
            welders.get(place).is_some_and(|welder| welder.name == text)
        })?;
        let name = welders.get(place).map(|welder| welder.name.clone());
        if name != self.draft.welder {
            self.forget_heats();
        }
        self.draft.welder = name;
        Ok(())
    }

    /// Another welder or checkpoint has other heats and another speed.
    fn forget_heats(&mut self) {
        self.draft.heats.clear();
        self.stripped.clear();
        self.draft.speed = None;
        self.draft.ran = None;
    }

    fn take_heats(&mut self, text: &str) -> Result<(), String> {
        let typist = self.asking.desk.typist();
        let mut heats: Vec<HeatTrial> = Vec::new();
        for piece in question::heat_list(text) {
            heats.push(strip_syntax::heat(&piece, typist)?);
        }
        if heats.is_empty() || heats.len() > MOST_HEATS {
            let (most, found) = (MOST_HEATS, heats.len());
            return Err(tell!(typist.language, "record-count-of-heats", most, found));
        }
        can_be_true(&Draft { heats: heats.clone(), ..Draft::default() }, &self.asking.desk)?;
        // Strips that were answered stay with their heat.
        let mut stripped = Vec::new();
        for heat in &mut heats {
            let known = self.draft.heats.iter().zip(&self.stripped);
            let known = known.filter(|(old, _)| same_heat(old, heat)).find(|(_, done)| **done);
            if let Some((old, _)) = known {
                heat.strips.clone_from(&old.strips);
            }
            stripped.push(known.is_some());
        }
        (self.draft.heats, self.stripped) = (heats, stripped);
        Ok(())
    }

    fn take_strips(&mut self, place: usize, text: &str) -> Result<(), String> {
        let strips = strip_syntax::strips(text, self.asking.desk.typist())?;
        let mut draft = self.draft.clone();
        let Some(heat) = draft.heats.get_mut(place) else { return Ok(()) };
        heat.strips = strips;
        can_be_true(&draft, &self.asking.desk)?;
        self.draft = draft;
        if let Some(done) = self.stripped.get_mut(place) {
            *done = true;
        }
        Ok(())
    }

    fn take_confirm(&mut self, text: &str) -> Result<(), String> {
        let language = self.language();
        match question::is_yes(text, language) {
            Some(true) => {
                (self.asking.preview)(&self.draft)
                    .map_err(|_| tell!(language, "record-mend-first"))?;
                self.confirmed = true;
            }
            Some(false) => self.confirmed = false,
            None => return Err(tell!(language, "record-yes-or-no")),
        }
        Ok(())
    }
}

fn same_heat(one: &HeatTrial, other: &HeatTrial) -> bool {
    !one.heat.is_below(other.heat) && !one.heat.is_above(other.heat)
}
