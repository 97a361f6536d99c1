//! Another cord than the site file's, to see what it would do.

use crate::physics::cord::Conductor;
use crate::site::{Power, Site};
use crate::units::Length;

/// What to put in place of the site's own cord; `None` keeps it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct WhatIf {
    /// Size of its conductors.
    pub conductor: Option<Conductor>,
    /// One way.
    pub length: Option<Length>,
}

impl WhatIf {
    /// Whether anything is replaced.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The site with this cord.
    pub fn applied_to(&self, mut site: Site) -> Site {
        if self.is_empty() {
            return site;
        }
        let power = site.power.get_or_insert(Power {
            generator_watts: None,
            dedicated: None,
            cord_gauge_awg: None,
            cord_mm2: None,
            cord_length: None,
        });
        if let Some(conductor) = self.conductor {
            (power.cord_gauge_awg, power.cord_mm2) = match conductor {
                Conductor::Awg(gauge) => (Some(gauge), None),
                Conductor::SquareMillimeters(area) => (None, Some(area)),
            };
        }
        power.cord_length = self.length.or(power.cord_length);
        site
    }
}
