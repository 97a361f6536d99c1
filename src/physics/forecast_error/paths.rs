//! A fixed set of plausible error courses, to turn one forecast into many.

use super::{correlation, spread};
use crate::physics::error_function::normal_quantile;
use crate::units::TemperatureDifference;

/// How many courses there are.
pub const MEMBERS: usize = 200;
/// Where the random numbers start; a number without meaning, fixed so that plans repeat.
const SEED: u64 = 0x5EA1_ED5E_A115;
/// Longest course, in hourly steps: 16 days.
const LONGEST_HOURS: usize = 384;

/// [`MEMBERS`] error courses at hourly steps. The same arguments give the same bits.
#[derive(Debug, Clone, PartialEq)]
pub struct ErrorPaths {
    /// One row a step, one kelvin value a member.
    steps: Vec<Vec<f64>>,
}

impl ErrorPaths {
    /// How many members there are.
    pub fn members(&self) -> usize {
        self.steps.first().map_or(0, Vec::len)
    }

    /// How many hourly steps there are.
    pub fn hours(&self) -> usize {
        self.steps.len()
    }

    /// Error of `member` at the hourly step `step`, to be added to the forecast.
    ///
    /// `None` beyond the last member or step.
    pub fn at_step(&self, member: usize, step: usize) -> Option<TemperatureDifference> {
        self.steps.get(step)?.get(member).copied().map(TemperatureDifference::from_kelvin)
    }
}

/// Error courses for `hours` hourly steps, the first of them `first_lead_hours` ahead.
///
/// Each member is a first-order autoregressive course with the spread of [`spread`] and the
/// correlation of [`correlation`]. The shocks of each hour are the quantiles of the normal
/// distribution in shuffled order, and each hour is scaled to its spread: over the members, every
/// hour has a mean error of 0 and exactly its standard deviation.
///
/// `None` for more than 384 steps and where [`spread`] is. No step gives no course.
pub fn error_paths(first_lead_hours: f64, hours: usize) -> Option<ErrorPaths> {
    if hours > LONGEST_HOURS {
        return None;
    }
    let quantiles = normal_quantiles()?;
    let kept = correlation(1.0);
    let fresh = (1.0 - kept * kept).sqrt();
    let mut random = SplitMix64(SEED);
    let mut standing = random.shuffled(&quantiles);
    let mut steps = Vec::with_capacity(hours);
    let mut lead_hours = first_lead_hours;
    for _ in 0..hours {
        scale_to_one(&mut standing);
        let sigma = spread(lead_hours)?.kelvin();
        steps.push(standing.iter().map(|value| value * sigma).collect());
        let shocks = random.shuffled(&quantiles);
        for (value, shock) in standing.iter_mut().zip(shocks) {
            *value = kept * *value + fresh * shock;
        }
        lead_hours += 1.0;
    }
    Some(ErrorPaths { steps })
}

/// One value for the middle of each of [`MEMBERS`] equally likely slices.
fn normal_quantiles() -> Option<Vec<f64>> {
    (0..MEMBERS).map(|slice| normal_quantile((count(slice) + 0.5) / count(MEMBERS))).collect()
}

fn scale_to_one(values: &mut [f64]) {
    let mean_square = values.iter().map(|value| value * value).sum::<f64>() / count(values.len());
    let size = mean_square.sqrt();
    for value in values {
        *value /= size;
    }
}

#[expect(clippy::cast_precision_loss, reason = "at most a few hundred members")]
const fn count(number: usize) -> f64 {
    number as f64
}

/// A small generator of random numbers: shuffling 200 values asks for no more.
///
/// Source: Steele2014 (SplitMix64), with the constants of its reference code.
struct SplitMix64(u64);

impl SplitMix64 {
    const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// Fisher and Yates's shuffle.
    fn shuffled(&mut self, values: &[f64]) -> Vec<f64> {
        let mut shuffled = values.to_vec();
        for last in (1..shuffled.len()).rev() {
            // The bias of a remainder of 64 bits by 200 is below 1e-17.
            let chosen = self.next() % (last as u64 + 1);
            shuffled.swap(last, usize::try_from(chosen).unwrap_or(last));
        }
        shuffled
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_generator_is_the_published_one() {
        // Rosetta Code, "Pseudo-random numbers/Splitmix64": the first five for the seed 1234567.
        const PUBLISHED: [u64; 5] = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        let mut random = SplitMix64(1_234_567);
        for expected in PUBLISHED {
            assert_eq!(random.next(), expected);
        }
    }
}
