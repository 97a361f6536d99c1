//! Sun, sky and sheet of one minute, with what they are worked out from.

use chrono::{DateTime, Utc};

use super::{OpticsUsed, SheetAt, SkyAt, SunAt};
use crate::physics::ephemeris::{Ephemeris, SunAngle};
use crate::physics::radiation::{SunHour, haurwitz1945_w_m2, kasten_czeplak1980};
use crate::physics::{humidity, sky as sky_physics, sun as sun_physics};
use crate::plan::roof::{elevation_or_sea_level, sheet_optics};
use crate::plan::roof_moment::RoofMoment;
use crate::site::Site;
use crate::weather::{Forecast, floor_hour};

/// The sun at `moment`.
pub(super) fn sun(site: &Site, forecast: &Forecast, moment: &RoofMoment) -> SunAt {
    let (angle, clear_mean_w_m2) = sun_hour(site, moment.time).unzip();
    SunAt {
        elevation_deg: moment.sun_elevation_deg,
        solar_hour: angle.map(|angle| angle.solar_hour()),
        clear_sky_w_m2: angle.and_then(|angle| haurwitz1945_w_m2(angle.sin_elevation)),
        clear_mean_w_m2,
        told_mean_w_m2: forecast.hour_of(moment.time).and_then(|hour| hour.shortwave_w_m2),
        cloud_passes: moment.cloud_cover_pct.and_then(kasten_czeplak1980),
        radiation: moment.radiation,
    }
}

/// The sky at `moment`.
pub(super) fn sky(site: &Site, moment: &RoofMoment) -> SkyAt {
    let clear_emissivity = sun_hour(site, moment.time).and_then(|(angle, _)| {
        let pressure = moment.surface_pressure_hpa?;
        sky_physics::martin_berdahl1984(moment.dew_point?, angle.solar_hour(), pressure)
    });
    SkyAt { clear_emissivity, emissivity: moment.sky_emissivity, temperature: moment.sky }
}

/// The sheet at `moment`.
pub(super) fn sheet(site: &Site, moment: &RoofMoment) -> SheetAt {
    let given = site.sheet.optics;
    SheetAt {
        optics: sheet_optics(site).map(|optics| OpticsUsed {
            color: given.color,
            aged: given.aged,
            solar_reflectance: optics.solar_reflectance(),
            reflectance_given: given.solar_reflectance.is_some(),
            thermal_emittance: optics.thermal_emittance(),
            emittance_given: given.thermal_emittance.is_some(),
        }),
        convection_w_m2_k: moment.convection_w_m2_k,
        temperature: moment.sheet,
        condensation: moment.dew_point.and_then(humidity::condensation),
        dew_margin: moment.dew_margin,
    }
}

/// The sun over the site at `at`, and the clear sky's mean over the hour.
fn sun_hour(site: &Site, at: DateTime<Utc>) -> Option<(SunAngle, f64)> {
    let elevation = elevation_or_sea_level(site);
    let place = sun_physics::Place::new(site.latitude_deg, site.longitude_deg, elevation).ok()?;
    let ephemeris = Ephemeris::covering(at, at).ok()?;
    let hour = SunHour::new(&ephemeris, &place, floor_hour(at))?;
    Some((hour.sun_at(at)?, hour.clear_mean_w_m2()))
}
