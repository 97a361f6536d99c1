//! How much of a record is known, for the notes.

use crate::weather::Field;
use crate::weather::years::Coverage;

/// How many hours of a record have what the plan goes by.
#[derive(Default)]
pub(super) struct Known {
    hours: u64,
    present: [u64; WANTED.len()],
}

/// What the plan goes by, in words. Radiation is not among it: without it the sun goes by the cloud.
const WANTED: [(Field, &str); 5] = [
    (Field::Air, "air temperature"),
    (Field::DewPoint, "dew point"),
    (Field::Wind, "wind"),
    (Field::Rain, "rain"),
    (Field::CloudCover, "cloud cover"),
];

impl Known {
    /// Adds a year.
    pub(super) fn add(&mut self, year: &Coverage) {
        self.hours += u64::from(year.hours());
        for (count, (field, _)) in self.present.iter_mut().zip(WANTED) {
            *count += u64::from(year.present(field));
        }
    }

    /// What a hundredth of the hours and more lack; `None` when they lack nothing.
    pub(super) fn lacks(&self) -> Option<String> {
        let whole_pct = |present: u64| present * 100 / self.hours.max(1);
        let lacking: Vec<_> = self
            .present
            .iter()
            .zip(WANTED)
            .filter(|(present, _)| whole_pct(**present) < 99)
            .map(|(present, (_, name))| format!("{name} in {} %", whole_pct(*present)))
            .collect();
        (!lacking.is_empty())
            .then(|| format!("of the hours of its years the record has {}", lacking.join(", ")))
    }
}
