//! A followed day as JSON. Units stand in the keys.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::days::FollowedDay;
use super::forecast_wire::ForecastWire;
use super::reason_wire::CauseWire;
use crate::follow::{Followed, Hold, Point, PointSetting, Published};
use crate::plan::TestMade;
use crate::render::ics::{Entry, Revised, Revision, Status};
use crate::units::{Temperature, TravelSpeed, instant};
use crate::words::Language;

/// Version of the record that this program writes and reads.
const FORMAT: u32 = 1;

#[derive(Deserialize)]
struct Versioned {
    format: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DayWire {
    format: u32,
    site_key: String,
    #[serde(deserialize_with = "instant::read_date")]
    date: NaiveDate,
    time_zone: String,
    published: Option<PublishedWire>,
    doubts: BTreeMap<String, u32>,
    forecast_mark: Option<String>,
    trials: usize,
    #[serde(default, deserialize_with = "instant::read_some")]
    last_trial: Option<DateTime<Utc>>,
    events: Vec<RevisedWire>,
    forecast: ForecastWire,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PublishedWire {
    #[serde(deserialize_with = "instant::read")]
    at: DateTime<Utc>,
    points: Vec<PointWire>,
    holds: Vec<HoldWire>,
    evening: Option<EntryWire>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PointWire {
    id: String,
    #[serde(deserialize_with = "instant::read")]
    time: DateTime<Utc>,
    cause: CauseWire,
    air_c: f64,
    settings: Vec<SettingWire>,
    entry: EntryWire,
    #[serde(default, deserialize_with = "instant::read_some")]
    counts_after: Option<DateTime<Utc>>,
    #[serde(default, deserialize_with = "instant::read_some")]
    tested_at: Option<DateTime<Utc>>,
    tested_air_c: Option<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SettingWire {
    welder: String,
    speed_ft_per_min: Option<f64>,
    heats_c: Vec<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HoldWire {
    id: String,
    #[serde(deserialize_with = "instant::read")]
    start: DateTime<Utc>,
    #[serde(deserialize_with = "instant::read")]
    end: DateTime<Utc>,
    entry: EntryWire,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct EntryWire {
    uid: String,
    #[serde(deserialize_with = "instant::read")]
    start: DateTime<Utc>,
    #[serde(deserialize_with = "instant::read")]
    end: DateTime<Utc>,
    summary: String,
    description: String,
    location: String,
    position: Option<(f64, f64)>,
    category: String,
    /// Days that were kept before there was a choice were in English.
    #[serde(default = "english")]
    language: String,
    alarms_before_minutes: Vec<u32>,
    cancelled: bool,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RevisedWire {
    entry: EntryWire,
    sequence: u32,
    #[serde(deserialize_with = "instant::read")]
    last_modified: DateTime<Utc>,
}

fn english() -> String {
    Language::En.tag().to_owned()
}

pub(super) fn write(day: &FollowedDay) -> Result<String, serde_json::Error> {
    let followed = &day.followed;
    serde_json::to_string(&DayWire {
        format: FORMAT,
        site_key: followed.site_key.clone(),
        date: followed.date,
        time_zone: day.time_zone.name().to_owned(),
        published: followed.published.as_ref().map(PublishedWire::of),
        doubts: followed.doubts.clone(),
        forecast_mark: followed.forecast.clone(),
        trials: followed.trials.0,
        last_trial: followed.trials.1,
        events: day.events.iter().map(RevisedWire::of).collect(),
        forecast: ForecastWire::of(&day.forecast),
    })
}

pub(super) fn read(text: &str) -> Result<FollowedDay, String> {
    let wrong = |error: serde_json::Error| error.to_string();
    let Versioned { format } = serde_json::from_str(text).map_err(wrong)?;
    if format != FORMAT {
        return Err(format!(
            "its format is {format}, and this fairseam reads {FORMAT}: use the newest fairseam"
        ));
    }
    let wire: DayWire = serde_json::from_str(text).map_err(wrong)?;
    let time_zone = wire.time_zone.parse();
    let time_zone = time_zone
        .map_err(|_| format!("`time_zone` is {:?}, expected an IANA time zone", wire.time_zone))?;
    Ok(FollowedDay {
        followed: Followed {
            site_key: wire.site_key,
            date: wire.date,
            published: wire.published.map(PublishedWire::read).transpose()?,
            doubts: wire.doubts,
            forecast: wire.forecast_mark,
            trials: (wire.trials, wire.last_trial),
        },
        time_zone,
        events: wire.events.into_iter().map(RevisedWire::read).collect::<Result<_, _>>()?,
        forecast: wire.forecast.read()?,
    })
}

impl PublishedWire {
    fn of(published: &Published) -> Self {
        let hold = |hold: &Hold| HoldWire {
            id: hold.id.clone(),
            start: hold.start,
            end: hold.end,
            entry: EntryWire::of(&hold.entry),
        };
        Self {
            at: published.at,
            points: published.points.iter().map(PointWire::of).collect(),
            holds: published.holds.iter().map(hold).collect(),
            evening: published.evening.as_ref().map(EntryWire::of),
        }
    }

    fn read(self) -> Result<Published, String> {
        let hold = |hold: HoldWire| -> Result<Hold, String> {
            let entry = hold.entry.read()?;
            Ok(Hold { id: hold.id, start: hold.start, end: hold.end, entry })
        };
        Ok(Published {
            at: self.at,
            points: self.points.into_iter().map(PointWire::read).collect::<Result<_, _>>()?,
            holds: self.holds.into_iter().map(hold).collect::<Result<_, _>>()?,
            evening: self.evening.map(EntryWire::read).transpose()?,
        })
    }
}

impl PointWire {
    fn of(point: &Point) -> Self {
        let setting = |setting: &PointSetting| SettingWire {
            welder: setting.welder.clone(),
            speed_ft_per_min: setting.speed.map(TravelSpeed::feet_per_minute),
            heats_c: setting.heats.iter().map(|heat| heat.celsius()).collect(),
        };
        Self {
            id: point.id.clone(),
            time: point.time,
            cause: CauseWire::of(&point.cause),
            air_c: point.air.celsius(),
            settings: point.settings.iter().map(setting).collect(),
            entry: EntryWire::of(&point.entry),
            counts_after: point.counts_after,
            tested_at: point.tested.map(|test| test.when),
            tested_air_c: point.tested.map(|test| test.air.celsius()),
        }
    }

    fn read(self) -> Result<Point, String> {
        let setting = |setting: SettingWire| PointSetting {
            welder: setting.welder,
            speed: setting.speed_ft_per_min.map(TravelSpeed::from_feet_per_minute),
            heats: setting.heats_c.into_iter().map(Temperature::from_celsius).collect(),
        };
        let tested = self.tested_at.zip(self.tested_air_c);
        Ok(Point {
            id: self.id,
            time: self.time,
            cause: self.cause.read(),
            air: Temperature::from_celsius(self.air_c),
            settings: self.settings.into_iter().map(setting).collect(),
            entry: self.entry.read()?,
            counts_after: self.counts_after,
            tested: tested
                .map(|(when, air)| TestMade { when, air: Temperature::from_celsius(air) }),
        })
    }
}

impl EntryWire {
    fn of(entry: &Entry) -> Self {
        Self {
            uid: entry.uid.clone(),
            start: entry.start,
            end: entry.end,
            summary: entry.summary.clone(),
            description: entry.description.clone(),
            location: entry.location.clone(),
            position: entry.position,
            category: entry.category.clone(),
            language: entry.language.tag().to_owned(),
            alarms_before_minutes: entry.alarms_before_minutes.clone(),
            cancelled: entry.status == Status::Cancelled,
        }
    }

    fn read(self) -> Result<Entry, String> {
        let language = Language::of_tag(&self.language);
        Ok(Entry {
            uid: self.uid,
            start: self.start,
            end: self.end,
            summary: self.summary,
            description: self.description,
            location: self.location,
            position: self.position,
            category: self.category,
            language: language.ok_or_else(|| {
                format!("`language` is {:?}, expected one there is", self.language)
            })?,
            alarms_before_minutes: self.alarms_before_minutes,
            status: if self.cancelled { Status::Cancelled } else { Status::Confirmed },
        })
    }
}

impl RevisedWire {
    fn of(event: &Revised) -> Self {
        let Revision { sequence, last_modified } = event.revision;
        Self { entry: EntryWire::of(&event.entry), sequence, last_modified }
    }

    fn read(self) -> Result<Revised, String> {
        let revision = Revision { sequence: self.sequence, last_modified: self.last_modified };
        Ok(Revised { entry: self.entry.read()?, revision })
    }
}
