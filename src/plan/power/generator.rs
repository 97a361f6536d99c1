//! The generator: what height and heat leave of it, and what hangs on it.

use super::{MissingKey, Unchecked, automatic};
use crate::physics::cord::check_generator;
use crate::site::{Site, Welder};
use crate::units::{Length, Temperature};

/// What the rating of an automatic welder's own generator ought to be, W. *Common practice*, no
/// source. It is a rating, before height and heat take their share.
const AUTOMATIC_WELDER_WATTS: f64 = 10_000.0;
/// Where no elevation is known, the sea: no generator has more left anywhere higher.
const SEA: Length = Length::from_meters(0.0);

/// A generator and its load.
#[derive(Debug, Clone, PartialEq)]
pub struct GeneratorReport {
    /// Continuous rating, W.
    pub rated_watts: f64,
    /// Height of the roof. `None` where the file lacks it: `factor` and what follows from it are
    /// then those at the sea, the most that there can be.
    pub elevation: Option<Length>,
    /// Share of the rating that is left, at most 1.
    pub factor: f64,
    /// What is left of the rating, W.
    pub watts_available: f64,
    /// What hangs on it; `None` where no welder of the kind that counts has `rated_watts`.
    pub load: Option<GeneratorLoad>,
    /// What the rating ought to be by common practice, W; `None` without an automatic welder.
    pub wanted_rating: Option<f64>,
}

/// What hangs on a generator, by the welders' plates.
#[derive(Debug, Clone, PartialEq)]
pub struct GeneratorLoad {
    /// W.
    pub watts: f64,
    /// Names of the welders in `watts`: one, or all that have a rating where they share.
    pub welders: Vec<String>,
    /// Names of welders that would count and have no rating: the load is then at least `watts`.
    pub unrated: Vec<String>,
    /// What remains, W; negative when the load is too great.
    pub margin_watts: f64,
    /// The load's share of what is available.
    pub share: f64,
}

impl GeneratorReport {
    /// Whether the load is more than is left.
    pub fn is_short(&self) -> bool {
        self.load.as_ref().is_some_and(|load| load.margin_watts < 0.0)
    }

    /// Whether the rating is less than common practice asks for.
    pub fn is_small(&self) -> bool {
        self.wanted_rating.is_some_and(|wanted| self.rated_watts < wanted)
    }
}

pub(super) fn check(site: &Site, air: Temperature) -> Result<GeneratorReport, Unchecked> {
    let rated_watts = site
        .power
        .and_then(|power| power.generator_watts)
        .ok_or_else(|| Unchecked::Missing(vec![MissingKey::GeneratorWatts]))?;
    let load = load(site);
    // Without a known load the check still tells what is left; its margin is then not shown.
    let load_watts = load.as_ref().map_or(0.0, |load| load.watts);
    let check = check_generator(rated_watts, load_watts, site.elevation.unwrap_or(SEA), air)
        .ok_or(Unchecked::DeratingOutside)?;
    Ok(GeneratorReport {
        rated_watts,
        elevation: site.elevation,
        factor: check.factor,
        watts_available: check.watts_available,
        load: load.map(|load| GeneratorLoad {
            watts: load.watts,
            welders: load.welders,
            unrated: load.unrated,
            margin_watts: check.margin_watts,
            share: check.loaded,
        }),
        wanted_rating: automatic(site).next().map(|_| AUTOMATIC_WELDER_WATTS),
    })
}

struct Load {
    watts: f64,
    welders: Vec<String>,
    unrated: Vec<String>,
}

/// All welders where they share the generator, else the hungriest of those that it is for: the
/// automatic ones, or the hand welders where there is no other.
fn load(site: &Site) -> Option<Load> {
    let shared = site.power.and_then(|power| power.dedicated) == Some(false);
    let only_automatic = !shared && automatic(site).next().is_some();
    let counted: Vec<&Welder> =
        if only_automatic { automatic(site).collect() } else { site.welders.iter().collect() };
    let names = |welders: &[&Welder]| welders.iter().map(|welder| welder.name.clone()).collect();
    let (mut rated, unrated): (Vec<&Welder>, Vec<&Welder>) =
        counted.into_iter().partition(|welder| welder.rated_watts.is_some());
    if !shared {
        let watts = |welder: &&Welder| welder.rated_watts.unwrap_or(f64::NEG_INFINITY);
        rated =
            rated.into_iter().max_by(|a, b| watts(a).total_cmp(&watts(b))).into_iter().collect();
    }
    let watts = rated.iter().filter_map(|welder| welder.rated_watts).reduce(|a, b| a + b)?;
    Some(Load { watts, welders: names(&rated), unrated: names(&unrated) })
}
