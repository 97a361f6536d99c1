//! The known word that a wrong one is most like.

use chrono_tz::TZ_VARIANTS;

/// Characters of a word that are compared; more would cost time and tell nothing.
const COMPARED: usize = 48;

/// The one of `known` that is most like `word`, whatever the case; `None` if there is none.
pub(super) fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    known
        .map(|candidate| (likeness(word, candidate), candidate))
        .max_by(|(one, _), (other, _)| one.total_cmp(other))
        .map(|(_, candidate)| candidate)
}

/// The IANA zone whose name, or the last part of it, is most like `word`.
pub(super) fn nearest_zone(word: &str) -> Option<&'static str> {
    let underscored = word.replace(' ', "_");
    TZ_VARIANTS
        .iter()
        .map(|zone| (zone_likeness(&underscored, zone.name()), zone.name()))
        .max_by(|(one, _), (other, _)| one.total_cmp(other))
        .map(|(_, name)| name)
}

fn zone_likeness(word: &str, zone: &str) -> f64 {
    let city = zone.rsplit('/').next().unwrap_or(zone);
    let wanted_city = word.rsplit('/').next().unwrap_or(word);
    // The whole name counts most, so that a city found twice goes to the right continent.
    likeness(word, zone).max(0.9 * likeness(wanted_city, city))
}

/// 0 to 1. Words turned round (`min_speed` for `speed_min`) are seen by their pairs of letters.
fn likeness(word: &str, candidate: &str) -> f64 {
    let word: String = word.chars().take(COMPARED).flat_map(char::to_lowercase).collect();
    let candidate = candidate.to_lowercase();
    strsim::normalized_damerau_levenshtein(&word, &candidate)
        .max(0.9 * strsim::sorensen_dice(&word, &candidate))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_fingers_find_their_word() {
        let known = ["speed_min", "speed_max", "heat_low", "heat_max", "heat_step", "kind"];
        for (slip, meant) in
            [("min_speed", "speed_min"), ("Heat-Step", "heat_step"), ("haet_low", "heat_low")]
        {
            assert_eq!(nearest(slip, known.into_iter()), Some(meant), "{slip}");
        }
    }

    #[test]
    fn zones_are_found_by_slip_by_city_and_by_case() {
        for (slip, meant) in [
            ("America/NewYork", "America/New_York"),
            ("america/new_york", "America/New_York"),
            ("New York", "America/New_York"),
            ("Europe/Olso", "Europe/Oslo"),
            ("US/Estern", "US/Eastern"),
        ] {
            assert_eq!(nearest_zone(slip), Some(meant), "{slip}");
        }
    }
}
