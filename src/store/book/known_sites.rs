//! Other sites of the book that may be this one under an earlier name or place.

use super::entry::BookSite;
use super::fault::BookFault;
use super::keeping::BookStore;
use crate::site::{Site, site_key};

/// Two places this close, in meters, are taken for one roof: about the length of a large one.
const SAME_PLACE_M: f64 = 100.0;
/// One degree along a meridian in meters: a sphere of the earth's mean radius of 6371 km will do.
const METERS_PER_DEGREE: f64 = 6_371_000.0 * std::f64::consts::PI / 180.0;

/// A site that the book knows.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownSite {
    /// Its key, and its name in the last of its entries or plans.
    pub site: BookSite,
    /// How many entries it has.
    pub entries: u64,
    /// Latitude and longitude in degrees, where a plan of it was kept.
    pub place: Option<(f64, f64)>,
}

/// The site that `site` may have been, and what the two have in common.
#[derive(Debug, Clone, PartialEq)]
pub struct EarlierSelf {
    /// That site.
    pub known: KnownSite,
    /// The name is the same; else the place is.
    pub same_name: bool,
}

/// Where the book has no entry of `site`: the site with the most entries of all that have the same
/// name or lie within 100 m.
///
/// # Errors
/// Whatever keeps the book from being read.
pub async fn earlier_self(
    store: &impl BookStore,
    site: &Site,
) -> Result<Option<EarlierSelf>, BookFault> {
    let sites = store.sites().await?;
    let key = site.key();
    if sites.iter().any(|known| known.site.key == key && known.entries > 0) {
        return Ok(None);
    }
    let candidates = sites.into_iter().filter(|known| known.entries > 0 && known.site.key != key);
    let candidates = candidates.filter_map(|known| {
        let same_name = known.site.name.trim().eq_ignore_ascii_case(site.name.trim());
        (same_name || at_the_same_place(&known, site)).then_some(EarlierSelf { known, same_name })
    });
    Ok(candidates.max_by_key(|found| found.known.entries))
}

fn at_the_same_place(known: &KnownSite, site: &Site) -> bool {
    // An entry does not say where its site lies, but its key may: it is made of name and place.
    let name = &known.site.name;
    if site_key(None, name, site.latitude_deg, site.longitude_deg) == known.site.key {
        return true;
    }
    known.place.is_some_and(|(latitude_deg, longitude_deg)| {
        let north = (latitude_deg - site.latitude_deg) * METERS_PER_DEGREE;
        let turn = (longitude_deg - site.longitude_deg + 540.0).rem_euclid(360.0) - 180.0;
        let east = turn * METERS_PER_DEGREE * site.latitude_deg.to_radians().cos();
        north.hypot(east) <= SAME_PLACE_M
    })
}
