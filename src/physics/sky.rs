//! How cold the sky looks to a roof.

use super::lanes::Lanes;
use crate::units::{Temperature, ZERO_CELSIUS_K};

/// Lowest dew point that enters the emissivity, °C: there the parabola of Martin and Berdahl turns,
/// and drier air would seem to shine more.
const LOWEST_DEW_POINT_C: f64 = -38.0;
/// How much of the sky's missing emissivity a full cover of cloud adds: opaque cloud with its base at
/// 2 km, `exp(-2 / 8.2)`.
const CLOUD_FACTOR: f64 = 0.784;

/// Emissivity of a cloudless sky, 0 to 1.
///
/// `solar_hour` is true solar time, 12 at noon: the air near the ground is colder than the air above
/// it at night.
/// Source: MartinBerdahl1984: `0.711 + 0.56 d + 0.73 d² + 0.013 cos(2π t / 24) + 0.00012 (P - 1000)`,
/// d a hundredth of the dew point in °C (the last term from memory). Fitted to dew points from -20
/// to 30 °C; below -38 °C it stays, and it never exceeds 1. `None` outside dew points of -80 to
/// 50 °C, hours of 0 to 24 and pressures of 300 to 1100 hPa.
pub fn martin_berdahl1984(
    dew_point: Temperature,
    solar_hour: f64,
    surface_pressure_hpa: f64,
) -> Option<f64> {
    let known_hour = (0.0..=24.0).contains(&solar_hour);
    let cos_of_hour = (std::f64::consts::TAU * solar_hour / 24.0).cos();
    known_hour.then(|| clear_emissivity(dew_point, cos_of_hour, surface_pressure_hpa)).flatten()
}

/// [`martin_berdahl1984`] where the cosine of the hour, `cos(2π t / 24)`, is known already: it is
/// 1 at midnight and -1 at noon.
pub(crate) fn clear_emissivity(
    dew_point: Temperature,
    cos_of_hour: f64,
    surface_pressure_hpa: f64,
) -> Option<f64> {
    let sound = (-80.0..=50.0).contains(&dew_point.celsius())
        && (300.0..=1100.0).contains(&surface_pressure_hpa);
    if !sound {
        return None;
    }
    Some(clear(dew_point.celsius(), cos_of_hour, surface_pressure_hpa))
}

/// [`clear_emissivity`] where every value is known to be in its range.
#[inline(always)]
fn clear<L: Lanes>(dew_point_c: L, cos_of_hour: L, surface_pressure_hpa: L) -> L {
    let d = dew_point_c.greater(dew_point_c.all(LOWEST_DEW_POINT_C)) / 100.0;
    let hour = cos_of_hour * 0.013;
    let height = (surface_pressure_hpa - 1000.0) * 0.000_12;
    let emissivity = d * 0.56 + 0.711 + d * d * 0.73 + hour + height;
    emissivity.lesser(emissivity.all(1.0))
}

/// Emissivity of a sky, by the formula that building codes use for their weather files; here a
/// second opinion on [`martin_berdahl1984`].
///
/// Source: ClarkAllen1978 as EnergyPlus2023 prints it, N the cloud cover in tenths:
/// `(0.787 + 0.764 ln(Td / 273 K)) (1 + 0.0224 N - 0.0035 N² + 0.00028 N³)`. `None` outside dew
/// points of -40 to 50 °C and 0 to 100 % cloud.
pub fn clark_allen1978(dew_point: Temperature, cloud_cover_pct: f64) -> Option<f64> {
    let sound =
        (-40.0..=50.0).contains(&dew_point.celsius()) && (0.0..=100.0).contains(&cloud_cover_pct);
    if !sound {
        return None;
    }
    let n = cloud_cover_pct / 10.0;
    let clear = 0.787 + 0.764 * (dew_point.kelvin() / 273.0).ln();
    Some((clear * (1.0 + 0.0224 * n - 0.0035 * n * n + 0.000_28 * n * n * n)).min(1.0))
}

/// Emissivity of a sky that is partly under cloud, from that of the cloudless sky.
///
/// Source: MartinBerdahl1984 (its cloud term from memory): `clear + (1 - clear) cover exp(-h / 8.2 km)`
/// for opaque cloud, its base h taken as 2 km, which gives the 0.784 of building codes. High thin
/// cloud adds as little as 0.47, low cloud 0.9. `None` unless the emissivity is from 0 to 1 and the
/// cover from 0 to 100 %.
pub fn with_cloud(clear_emissivity: f64, cloud_cover_pct: f64) -> Option<f64> {
    let sound = (0.0..=1.0).contains(&clear_emissivity) && (0.0..=100.0).contains(&cloud_cover_pct);
    sound.then(|| clouded(clear_emissivity, cloud_cover_pct))
}

/// [`with_cloud`] where both are known to be in their range.
#[inline(always)]
fn clouded<L: Lanes>(clear_emissivity: L, cloud_cover_pct: L) -> L {
    clear_emissivity + clear_emissivity.taken_from(1.0) * CLOUD_FACTOR * cloud_cover_pct / 100.0
}

/// The temperature of a perfect radiator that sends as much heat down as this sky.
///
/// Source: MartinBerdahl1984: `air · emissivity^(1/4)`, in kelvin. `None` unless the air is from -90
/// to 60 °C and the emissivity above 0 and at most 1.
pub fn temperature(air: Temperature, emissivity: f64) -> Option<Temperature> {
    let sound = (-90.0..=60.0).contains(&air.celsius()) && emissivity > 0.0 && emissivity <= 1.0;
    sound.then(|| Temperature::from_celsius(radiating_c(air.celsius(), emissivity)))
}

/// Temperature of the sky in °C, by [`martin_berdahl1984`], [`with_cloud`] and [`temperature`], where
/// every value is known to be in its range; `cos_of_hour` as in [`clear_emissivity`].
#[inline(always)]
pub(crate) fn seen_c<L: Lanes>(
    air_c: L,
    dew_point_c: L,
    cos_of_hour: L,
    surface_pressure_hpa: L,
    cloud_cover_pct: L,
) -> L {
    let clear = clear(dew_point_c, cos_of_hour, surface_pressure_hpa);
    radiating_c(air_c, clouded(clear, cloud_cover_pct))
}

/// [`temperature`] where both are known to be in their range, in °C.
#[inline(always)]
fn radiating_c<L: Lanes>(air_c: L, emissivity: L) -> L {
    (air_c + ZERO_CELSIUS_K) * emissivity.root().root() - ZERO_CELSIUS_K
}
