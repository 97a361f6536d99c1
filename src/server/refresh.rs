//! Looking at every site again and again, and telling open pages what has changed.

use std::sync::Arc;
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use tokio::time::Instant;

use super::app::App;
use super::crew::day_json;
use super::feed::Feed;
use super::house::HouseFault;
use super::live::Kind;
use super::roof::{Roof, Seen, View, version};
use crate::render::json::plan_json;
use crate::render::trial::{Show, book_json};

/// How often each source may be asked; it is not, while its last reply holds by its own word.
const FETCH_EVERY: Duration = Duration::from_secs(60);
/// A site is looked at again after this even if nothing is known to have changed: what was not due
/// is late by then, and a forecast gets old.
const LOOK_EVERY: TimeDelta = TimeDelta::seconds(60);

/// Looks at the book and the keys until the server ends.
pub(super) async fn keep_current(app: Arc<App>) {
    let mut mark = None;
    while !app.is_closing() {
        if let Err(fault) = app.keys.reload().await {
            tracing::error!(fault = %fault, "the keys could not be read again");
        }
        app.limiter.forget();
        let found = app.with_house(|house| house.book_mark()).await;
        let moved = match &found {
            Ok(found) => mark.as_ref() != Some(found),
            Err(fault) => {
                tracing::error!(fault = %fault, "the book could not be looked at");
                false
            }
        };
        mark = found.ok().or(mark);
        for roof in &app.roofs {
            if moved || is_old(roof, app.now()) {
                look(&app, roof).await;
            }
        }
        tokio::time::sleep(app.settings.look_every).await;
    }
}

/// Asks for forecasts until the server ends. Apart from the book, so that a service that does not
/// answer holds up no trial.
pub(super) async fn keep_forecasts(app: Arc<App>) {
    while !app.is_closing() {
        let started = Instant::now();
        for roof in &app.roofs {
            let number = roof.number;
            let asked = app.with_house(move |house| {
                house.fetch(number);
                Ok(())
            });
            if let Err(fault) = asked.await {
                tracing::error!(fault = %fault, site = roof.key, "no forecast");
            }
            look(&app, roof).await;
        }
        tokio::time::sleep_until(started + FETCH_EVERY).await;
    }
}

fn is_old(roof: &Roof, now: DateTime<Utc>) -> bool {
    roof.view().is_none_or(|view| now - view.look.at >= LOOK_EVERY)
}

/// Looks at a site and tells open pages what is new.
pub(super) async fn look(app: &Arc<App>, roof: &Arc<Roof>) {
    let _one_at_a_time = roof.looking.lock().await;
    let number = roof.number;
    let seen_before = roof.seen();
    let of_roof = Arc::clone(roof);
    let before = seen_before.view.clone();
    let made = app
        .with_house(move |house| {
            let look = house.look(number)?;
            view(&of_roof, look, before.as_deref())
        })
        .await;
    match made {
        Ok(view) => {
            let view = Arc::new(view);
            roof.set(Seen { view: Some(Arc::clone(&view)), fault: None });
            let changed = |of: fn(&View) -> &String| {
                seen_before.view.as_deref().is_none_or(|before| of(before) != of(&view))
            };
            for (kind, of) in [
                (Kind::Plan, (|view| &view.plan_version) as fn(&View) -> &String),
                (Kind::Book, |view| &view.book_version),
            ] {
                if changed(of) {
                    app.live.tell(&roof.key, kind, of(&view));
                }
            }
        }
        Err(fault) => {
            if seen_before.fault.as_ref() != Some(&fault) {
                tracing::error!(fault = %fault, site = roof.key, "the site could not be looked at");
            }
            roof.set(Seen { fault: Some(fault), ..seen_before });
        }
    }
}

fn view(roof: &Roof, look: super::house::Look, before: Option<&View>) -> Result<View, HouseFault> {
    let (language, units) = (roof.site.language, roof.site.units);
    let show = Show { language, zone: look.time_zone, units };
    let book =
        book_json(show, &roof.site.name, &look.trials, &look.withdrawn).ok_or_else(|| {
            HouseFault::Inside("a trial of the book holds a number that is none".to_owned())
        })?;
    let days = [&look.today, &look.tomorrow];
    let plans: String = days
        .map(|day| match &day.plan {
            Ok(plan) => plan_json(&ageless(plan)),
            Err(why) => why.to_string(),
        })
        .concat();
    // What is late or missed is shown with the plan, and comes about by the clock alone.
    let standing: String = days
        .iter()
        .flat_map(|day| &day.report.checkpoints)
        .map(|point| format!("{}:{};", point.id, point.status.name()))
        .collect();
    let plan_version = version(&(plans + &standing));
    let book_version = version(&book);
    let crew_json = day_json(roof, &look, &plan_version, &book_version)?.into();
    let feed = Feed::of(
        (roof.site.language, &roof.site.name),
        &look.calendar,
        look.at,
        before.map(|view| &view.feed),
    )?;
    Ok(View { look, crew_json, feed, plan_version, book_version })
}

/// The plan but for the age of its forecast, which moves every minute and changes nothing.
fn ageless(plan: &crate::plan::DayPlan) -> crate::plan::DayPlan {
    let mut plan = plan.clone();
    plan.weather.age = TimeDelta::zero();
    plan
}
