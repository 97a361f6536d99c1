//! The point on the map that a forecast is for.

use url::Url;

use crate::units::Length;

/// Where the roof is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// North positive, -90 to 90.
    pub latitude_deg: f64,
    /// East positive, -180 to 180.
    pub longitude_deg: f64,
    /// Above sea level, where known.
    pub elevation: Option<Length>,
}

impl Place {
    /// The same where there is such a place, else nothing; an elevation that no land has is unknown.
    pub(crate) fn on_earth(self) -> Option<Self> {
        let Self { latitude_deg, longitude_deg, elevation } = self;
        let is_there = latitude_deg.abs() <= 90.0 && longitude_deg.abs() <= 180.0;
        // Files write -9999 and the like where nobody knows it.
        let elevation = elevation.filter(|above| (-500.0..9000.0).contains(&above.meters()));
        is_there.then_some(Self { latitude_deg, longitude_deg, elevation })
    }

    /// Latitude as it stands in an address; see [`Place::longitude_text`].
    pub fn latitude_text(&self) -> String {
        coordinate(self.latitude_deg)
    }

    /// Longitude as it stands in an address: at most four decimals (11 m on the ground), no trailing
    /// zeros. The NWS redirects anything longer, MET Norway refuses it.
    pub fn longitude_text(&self) -> String {
        coordinate(self.longitude_deg)
    }

    /// Elevation in whole meters as it stands in an address.
    pub fn elevation_text(&self) -> Option<String> {
        // Adding zero turns -0 into 0.
        self.elevation.map(|elevation| format!("{:.0}", elevation.meters().round() + 0.0))
    }
}

/// `base` with `path` behind its own path, which keeps a server's prefix.
pub(crate) fn append_path(base: &Url, path: &str) -> Url {
    let mut url = base.clone();
    url.set_path(&format!("{}/{path}", base.path().trim_end_matches('/')));
    url.set_query(None);
    url.set_fragment(None);
    url
}

fn coordinate(degrees: f64) -> String {
    let text = format!("{degrees:.4}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coordinates_have_four_decimals_and_no_zeros_behind() {
        for (degrees, expected) in [
            (40.692_54, "40.6925"),
            (-74.168_7, "-74.1687"),
            (40.5, "40.5"),
            (40.0, "40"),
            (-0.000_01, "0"),
            (100.0, "100"),
        ] {
            assert_eq!(coordinate(degrees), expected);
        }
    }

    #[test]
    fn a_prefix_of_the_server_stays() {
        let base = Url::parse("http://127.0.0.1:8080/proxy/").unwrap();
        assert_eq!(
            append_path(&base, "v1/forecast").as_str(),
            "http://127.0.0.1:8080/proxy/v1/forecast"
        );
        let base = Url::parse("https://api.weather.gov").unwrap();
        assert_eq!(append_path(&base, "points/1,2").as_str(), "https://api.weather.gov/points/1,2");
    }
}
