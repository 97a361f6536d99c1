//! One look at one day: what the plan says now, what of it is published, what is kept.

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::Follower;
use crate::follow::{
    Followed, Look, Looked, Window, forecast_mark, line, look, published_plan, reading_off_line,
    waiting_line,
};
use crate::plan::PlanInput;
use crate::publish::caldav;
use crate::publish::one_site::{OnSite, Seen};
use crate::publish::release::{PublishFault, revised};
use crate::publish::world::World;
use crate::render::ics::calendar_object;
use crate::store::DayKey;
use crate::store::follow::{FollowedDay, Wanted};
use crate::weather::Forecast;

impl<W: World> Follower<W> {
    pub(super) fn day_round(
        &mut self,
        on: &mut OnSite,
        zone: Tz,
        day: &Window,
        now: DateTime<Utc>,
    ) {
        let Some(forecast) = on.forecast.clone() else { return };
        match self.look_at(on, zone, day.date, forecast, now) {
            Ok(()) => {
                on.is_news("day", "");
            }
            Err(why) => {
                self.trouble = true;
                self.tell(on, "day", &format!("{}: {why}", day.date));
            }
        }
    }

    fn look_at(
        &mut self,
        on: &mut OnSite,
        time_zone: Tz,
        date: NaiveDate,
        forecast: Forecast,
        now: DateTime<Utc>,
    ) -> Result<(), String> {
        let trials = self.world.trials(&on.followed)?;
        let withdrawn = self.world.withdrawn(&on.followed)?;
        let seen = Seen {
            forecast: forecast_mark(&forecast),
            trials: (trials.len(), trials.iter().map(|kept| kept.written_at).max()),
            // A checkpoint whose time comes is settled from then on.
            past: on
                .seen
                .get(&date)
                .map_or(0, |(_, times)| times.iter().filter(|time| **time <= now).count()),
        };
        if on.seen.get(&date).is_some_and(|(before, _)| *before == seen) {
            return Ok(());
        }
        let kept = self.runtime.block_on(self.store.day(&on.key, date));
        let kept = kept.map_err(|fault| fault.to_string())?;
        let followed = kept
            .as_ref()
            .map_or_else(|| Followed::new(on.key.clone(), date), |day| day.followed.clone());
        on.last_published = followed.published.as_ref().map(|published| published.at);
        let (looked, plan) = {
            let earlier = self.world.earlier(&on.followed, time_zone)?;
            let site = &on.followed.site;
            let input = PlanInput {
                site,
                time_zone,
                date,
                now,
                forecast: &forecast,
                earlier: earlier.as_ref(),
            };
            let looked = look(&followed, &Look { input, trials: &trials, withdrawn: &withdrawn })
                .map_err(|error| error.to_string())?;
            let plan = match &looked.next.published {
                Some(published) if !looked.changes.is_empty() => {
                    Some(published_plan(&input, published).map_err(|error| error.to_string())?)
                }
                _ => None,
            };
            (looked, plan)
        };
        let times: Vec<DateTime<Utc>> = looked
            .next
            .published
            .iter()
            .flat_map(|published| published.points.iter().map(|point| point.time))
            .collect();
        let past = times.iter().filter(|time| **time <= now).count();
        if looked.next == followed {
            on.seen.insert(date, (Seen { past, ..seen }, times));
            self.say_waiting(on, &looked);
            return Ok(());
        }
        let events = kept.map(|day| day.events).unwrap_or_default();
        let day = FollowedDay { followed: looked.next.clone(), time_zone, events, forecast };
        if self.release(on, day, &looked, now).map_err(|fault| fault.to_string())? {
            for change in &looked.changes {
                let said = line(change, time_zone, &on.followed.site.rules);
                self.world.say(&format!("{} {date}: {said}", on.followed.site.name));
            }
            if let Some(plan) = plan {
                self.world.keep(&on.followed, &plan);
            }
            on.seen.insert(date, (Seen { past, ..seen }, times));
        }
        self.say_waiting(on, &looked);
        Ok(())
    }

    /// Keeps the day and, where something changed, gives it new revisions. Whether the site is ours
    /// still.
    fn release(
        &mut self,
        on: &mut OnSite,
        mut day: FollowedDay,
        looked: &Looked,
        now: DateTime<Utc>,
    ) -> Result<bool, PublishFault> {
        let mut wanted = Vec::new();
        if let Some(published) = &looked.next.published
            && !looked.changes.is_empty()
        {
            let key = DayKey { site: on.key.clone(), date: day.followed.date };
            let language = on.followed.site.language;
            let (events, warning) = revised(&self.data_folder, &key, published, language, now)?;
            if let Some(warning) = warning {
                self.tell(on, "revisions", &format!("warning: {warning}"));
            }
            if let Some(collection) = &on.followed.caldav {
                for event in &events {
                    let uid = event.entry.uid.clone();
                    wanted.push(Wanted {
                        collection: collection.address(),
                        href: caldav::href(&uid),
                        uid,
                        body: calendar_object(event)?,
                    });
                }
            }
            day.events = events;
        }
        let kept = self.runtime.block_on(self.store.keep(&day, &wanted, &self.holder, now))?;
        if kept && !looked.changes.is_empty() {
            on.file_is_current = false;
            on.last_published = Some(now);
        }
        Ok(kept)
    }

    fn say_waiting(&mut self, on: &mut OnSite, looked: &Looked) {
        let rules = on.followed.site.rules;
        let lines: Vec<String> =
            looked.waiting.iter().map(|waiting| waiting_line(waiting, &rules)).collect();
        self.tell(on, "waiting", &lines.join("; "));
        if let (Some(off), Some(zone)) = (looked.reading_off, on.time_zone) {
            let said = reading_off_line(off, zone, on.followed.site.units);
            self.tell(on, "reading", &said);
        }
    }
}
