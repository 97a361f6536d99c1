//! Heat index: what humid heat feels like in the shade in a light wind.

use crate::units::{Temperature, TemperatureDifference};

/// Full sun can add up to this much to the heat index, which is made for shade and light wind.
///
/// Source: OSHAheat.
pub const FULL_SUN_ADDS_UP_TO: TemperatureDifference = TemperatureDifference::from_fahrenheit(15.0);

/// At and below this air temperature the index is the air temperature itself. Source: MetPy.
const AIR_ITSELF_UP_TO: Temperature = Temperature::from_fahrenheit(40.0);
/// From this value of the simple form on, the regression takes over. Source: MetPy.
const REGRESSION_FROM_F: f64 = 79.0;

/// How dangerous a heat index is, as the National Weather Service now bands it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum HeatBand {
    /// 80 to 90 °F: fatigue is possible with long exposure or work.
    Caution,
    /// 90 to 103 °F: heat cramps, exhaustion or stroke are possible.
    ExtremeCaution,
    /// 103 to 125 °F: cramps or exhaustion are likely, stroke is possible.
    Danger,
    /// 125 °F and above: heat stroke is highly likely.
    ExtremeDanger,
}

impl HeatBand {
    /// The band that `heat_index` lies in; `None` below 80 °F and when it is not a number.
    ///
    /// Each band holds its lower edge. Source: NWSbands. An older chart of the same service draws
    /// the two upper edges at 105 and 130 °F; the newer ones warn earlier and are used.
    pub fn of(heat_index: Temperature) -> Option<Self> {
        const LOWER_EDGES_F: [(f64, HeatBand); 4] = [
            (125.0, HeatBand::ExtremeDanger),
            (103.0, HeatBand::Danger),
            (90.0, HeatBand::ExtremeCaution),
            (80.0, HeatBand::Caution),
        ];
        LOWER_EDGES_F
            .into_iter()
            .filter(|_| heat_index.celsius().is_finite())
            .find(|(edge, _)| !heat_index.is_below(Temperature::from_fahrenheit(*edge)))
            .map(|(_, band)| band)
    }
}

/// Heat index of air at `air` with a relative humidity of `humidity_pct`.
///
/// Source: WPCheat for the formulas, MetPy for where each applies (the two agree with the
/// service's own calculator): the air itself up to 40 °F; the simple form while it stays below
/// 79 °F; else the regression with its dry and its humid adjustment. The adjustments belong to the
/// regression and are not applied to the simple form.
///
/// `None` when the humidity is outside 0 to 100 % or a value is not a number. The service's chart
/// covers 80 to 110 °F, 40 to 100 % and stops at an index of 137 °F; hotter or more humid than
/// that, the number is an extrapolation, and the band is extreme danger all the same.
pub fn heat_index(air: Temperature, humidity_pct: f64) -> Option<Temperature> {
    let t = air.fahrenheit();
    if !t.is_finite() || !(0.0..=100.0).contains(&humidity_pct) {
        return None;
    }
    if !air.is_above(AIR_ITSELF_UP_TO) {
        return Some(air);
    }
    let simple = 0.5 * (t + 61.0 + 1.2 * (t - 68.0) + 0.094 * humidity_pct);
    if simple < REGRESSION_FROM_F {
        return Some(Temperature::from_fahrenheit(simple));
    }
    Some(rothfusz1990(air, humidity_pct) + adjustment(t, humidity_pct))
}

/// The nine-term regression behind the National Weather Service's chart, without adjustments.
///
/// Source: WPCheat (Rothfusz 1990). Reproduces every cell of the chart (80 to 110 °F, 40 to 100 %)
/// to 0.51 °F. Outside it the polynomial runs on unchecked: use [`heat_index`].
pub fn rothfusz1990(air: Temperature, humidity_pct: f64) -> Temperature {
    let (t, r) = (air.fahrenheit(), humidity_pct); // the source's T and R
    Temperature::from_fahrenheit(
        -42.379 + 2.049_015_23 * t + 10.143_331_27 * r
            - 0.224_755_41 * t * r
            - 0.006_837_83 * t * t
            - 0.054_817_17 * r * r
            + 0.001_228_74 * t * t * r
            + 0.000_852_82 * t * r * r
            - 0.000_001_99 * t * t * r * r,
    )
}

/// The regression's correction in dry and in very humid air; zero between. Source: WPCheat.
fn adjustment(t: f64, r: f64) -> TemperatureDifference {
    let degrees = if r < 13.0 && (80.0..=112.0).contains(&t) {
        -((13.0 - r) / 4.0) * ((17.0 - (t - 95.0).abs()) / 17.0).sqrt()
    } else if r > 85.0 && (80.0..=87.0).contains(&t) {
        ((r - 85.0) / 10.0) * ((87.0 - t) / 5.0)
    } else {
        0.0
    };
    TemperatureDifference::from_fahrenheit(degrees)
}
