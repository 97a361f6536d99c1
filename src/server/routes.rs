//! The one table of what can be asked: by which method, where, by whom, and who answers.

use std::sync::Arc;

use axum::Router;
use axum::http::Method;
use axum::middleware::from_fn_with_state;
use axum::routing::{MethodRouter, get, post};

use super::access::{Access, Shape, guard};
use super::app::App;
use super::problem::Problem;
use super::{assets, crew, enter, feed, front, health, office};

/// One row of the table.
pub struct Route {
    /// What is asked; `GET` stands for `HEAD` as well.
    pub method: Method,
    /// Where; `{site}` is a site's key.
    pub path: &'static str,
    /// By whom.
    pub access: Access,
    /// How it answers.
    pub shape: Shape,
    answer: fn() -> MethodRouter<Arc<App>>,
}

const fn row(
    method: Method,
    path: &'static str,
    access: Access,
    shape: Shape,
    answer: fn() -> MethodRouter<Arc<App>>,
) -> Route {
    Route { method, path, access, shape, answer }
}

/// Every route.
pub static ROUTES: &[Route] = &[
    row(Method::GET, "/", Access::Open, Shape::Page, || get(enter::front_door)),
    row(Method::GET, "/healthz", Access::Open, Shape::Data, || get(health::health)),
    row(Method::GET, "/enter", Access::Open, Shape::Page, || get(enter::page)),
    row(Method::POST, "/enter", Access::Open, Shape::Page, || post(enter::enter)),
    row(Method::POST, "/leave", Access::Open, Shape::Page, || post(enter::leave)),
    row(Method::GET, "/assets/{name}", Access::Open, Shape::Data, || get(assets::asset)),
    row(Method::GET, "/feeds/{site}/{file}", Access::Feed, Shape::Calendar, || get(feed::feed)),
    row(Method::GET, "/crew/worker.js", Access::Open, Shape::Data, || get(crew::worker)),
    row(Method::GET, "/crew/manifest.webmanifest", Access::Open, Shape::Data, || {
        get(crew::manifest)
    }),
    row(Method::GET, "/crew/", Access::Anyone, Shape::Page, || get(crew::own_site)),
    row(Method::GET, "/crew/{site}/", Access::Site, Shape::Page, || get(crew::page)),
    row(Method::GET, "/crew/{site}/day.json", Access::Site, Shape::Data, || get(crew::day)),
    row(Method::POST, "/crew/{site}/trials", Access::Site, Shape::Data, || post(crew::trials)),
    row(Method::GET, "/crew/{site}/events", Access::Site, Shape::Data, || get(crew::events)),
    row(Method::GET, "/office/", Access::Office, Shape::Page, || get(office::overview)),
    row(Method::GET, "/office/events", Access::Office, Shape::Data, || get(office::events)),
    row(Method::GET, "/office/outlook", Access::Office, Shape::Page, || get(office::outlook)),
    row(Method::GET, "/office/{site}/", Access::Office, Shape::Page, || get(office::site)),
    row(Method::GET, "/office/{site}/book", Access::Office, Shape::Page, || get(office::book)),
    row(Method::GET, "/office/{site}/book/{trial}", Access::Office, Shape::Page, || {
        get(office::trial)
    }),
    row(Method::POST, "/office/{site}/book/{trial}", Access::Office, Shape::Page, || {
        post(office::correct)
    }),
];

/// All that the server answers.
pub fn router(app: &Arc<App>) -> Router {
    let mut router = Router::new();
    for route in ROUTES {
        let guarded = from_fn_with_state((Arc::clone(app), route), guard);
        router = router.route(route.path, (route.answer)().layer(guarded));
    }
    router
        .fallback(|| async { Problem::not_found() })
        .method_not_allowed_fallback(|| async { Problem::wrong_method() })
        .layer(from_fn_with_state(Arc::clone(app), front::front))
        .with_state(Arc::clone(app))
}
