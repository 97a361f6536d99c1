//! One trial, and the form that puts a corrected one in its place.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{Path, Request, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::book::foot;
use super::form::{Fields, changed, form};
use super::frame::{Current, frame, way_of};
use crate::quality::KeptTrial;
use crate::render::markup::{Markup, element, element_of, section};
use crate::render::trial::trial_section;
use crate::server::access::{OfSite, Visitor};
use crate::server::app::App;
use crate::server::house::Corrected;
use crate::server::problem::Problem;
use crate::server::refresh;
use crate::server::roof::{Roof, View};
use crate::words::Language;

/// Bytes of a form at most: a trial of many heats, percent-encoded.
const LONGEST_FORM: usize = 256 << 10;

pub(in crate::server) async fn trial(
    Extension(OfSite(roof)): Extension<OfSite>,
    Path((_, id)): Path<(String, String)>,
) -> Response {
    match find(&roof, &id) {
        Ok((view, kept)) => {
            let fields = Fields::of(&kept, roof.site.units, view.look.time_zone);
            page(&roof, &view, &kept, &fields, None)
        }
        Err(problem) => problem.into_response(),
    }
}

pub(in crate::server) async fn correct(
    State(app): State<Arc<App>>,
    Extension(visitor): Extension<Visitor>,
    Extension(OfSite(roof)): Extension<OfSite>,
    Path((_, id)): Path<(String, String)>,
    request: Request,
) -> Response {
    let body = match axum::body::to_bytes(request.into_body(), LONGEST_FORM).await {
        Ok(body) => body,
        Err(error) => return Problem::of_body(&error, LONGEST_FORM).into_response(),
    };
    let (view, kept) = match find(&roof, &id) {
        Ok(found) => found,
        Err(problem) => return problem.into_response(),
    };
    let typed: Vec<(String, String)> = url::form_urlencoded::parse(&body).into_owned().collect();
    let stands = Fields::of(&kept, roof.site.units, view.look.time_zone);
    let why = typed.iter().find(|(name, _)| name == "why");
    let why = why.map(|(_, text)| text.trim().to_owned()).unwrap_or_default();
    let fields = changed(&typed, &stands);
    let typed = Fields(typed);
    let refused = |problem: Problem| {
        let mut answer = page(&roof, &view, &kept, &typed, Some(&problem.said(Language::En)));
        *answer.status_mut() = problem.status();
        answer
    };
    if why.is_empty() {
        return refused(Problem::refused(
            "say why it is corrected: that stands beside it".to_owned(),
        ));
    }
    if !fields.iter().any(|(name, _)| name != "seen") {
        return refused(Problem::refused("nothing was changed in the form".to_owned()));
    }
    let (number, trial) = (roof.number, kept.id.clone());
    let done = app.with_house(move |house| {
        let (id, holder) = (&trial, &visitor.key.holder);
        house.correct(number, &Corrected { id, fields: &fields, why: &why, holder })
    });
    match done.await {
        Ok(()) => {
            refresh::look(&app, &roof).await;
            Redirect::to(&format!("/office/{}/book/{}", roof.key, kept.id)).into_response()
        }
        Err(fault) => {
            let problem = Problem::from(fault);
            if problem.status() == StatusCode::INTERNAL_SERVER_ERROR {
                return problem.into_response();
            }
            refused(problem)
        }
    }
}

fn find(roof: &Roof, id: &str) -> Result<(Arc<View>, KeptTrial), Problem> {
    let view = roof.view().ok_or_else(Problem::not_yet)?;
    let kept = view.look.trials.iter().find(|kept| kept.id == id).cloned();
    Ok((view, kept.ok_or_else(Problem::not_found)?))
}

fn page(
    roof: &Roof,
    view: &View,
    kept: &KeptTrial,
    fields: &Fields,
    problem: Option<&str>,
) -> Response {
    let (zone, units) = (view.look.time_zone, roof.site.units);
    let title = format!("{}: trial {}", roof.site.name, kept.id);
    let header = element("header", &[], element_of("h1", &[("dir", "auto")], &title));
    let earlier: Markup = kept
        .earlier
        .iter()
        .map(|form| {
            let earlier = KeptTrial {
                written_at: form.written_at,
                judged: form.judged.clone(),
                checkpoint: form.checkpoint.clone(),
                correction: form.correction.clone(),
                earlier: Vec::new(),
                ran: Vec::new(),
                ..kept.clone()
            };
            trial_section(&earlier, zone, units)
        })
        .collect();
    let earlier = if earlier.is_empty() {
        earlier
    } else {
        let summary = element_of("summary", &[], "What it said before it was corrected");
        element("details", &[], [summary, earlier].into())
    };
    let to = format!("/office/{}/book/{}", roof.key, kept.id);
    let correction = section("correct", "Correct it", form(&to, fields, roof, problem));
    let main = [trial_section(kept, zone, units), earlier, correction, foot()];
    frame(&title, Current::Still, way_of(roof), header, main.into())
}
