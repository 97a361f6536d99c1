//! Bayesian linear regression with three coefficients and an unknown scatter.
//!
//! Numbers without units: the caller scales its columns so that each is of the order of one.

/// Three numbers: coefficients, or one row of columns.
pub type Three = [f64; 3];

/// What is believed about the three coefficients and the scatter around the line.
///
/// The coefficients are normal around `mean`, with `precision` in units of the scatter's variance;
/// the variance is inverse gamma. Source: Gelman2013, section 14.8 (conjugate prior for regression).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    mean: Three,
    precision: [Three; 3],
    shape: f64,
    scale: f64,
}

/// A value to expect: Student's t around `middle`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Predicted {
    /// The middle.
    pub middle: f64,
    /// Scale of the t distribution.
    pub spread: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: f64,
}

impl Belief {
    /// A belief before any data: each coefficient at `mean` give or take `spread`, independent of
    /// one another, and a scatter of about `scatter`, which weighs as much as `weight` measurements.
    ///
    /// Spreads, scatter and weight are above zero.
    pub fn before_data(mean: Three, spread: Three, scatter: f64, weight: f64) -> Self {
        let mut precision = [[0.0; 3]; 3];
        for (index, row) in precision.iter_mut().enumerate() {
            row[index] = (scatter / spread[index]).powi(2);
        }
        let shape = weight / 2.0;
        Self { mean, precision, shape, scale: shape * scatter * scatter }
    }

    /// The belief after `data`, rows of columns with the value measured there.
    ///
    /// Source: Gelman2013, section 14.8; the sum of squares is taken around the new line, so that
    /// nothing large is subtracted from anything large. `None` where a number is not finite.
    pub fn after(&self, data: &[(Three, f64)]) -> Option<Self> {
        let mut precision = self.precision;
        let mut pull = times(&self.precision, self.mean);
        for (row, value) in data {
            for first in 0..3 {
                pull[first] += row[first] * value;
                for second in 0..3 {
                    precision[first][second] += row[first] * row[second];
                }
            }
        }
        let mean = solve(&precision, pull)?;
        let moved = minus(mean, self.mean);
        let off_line: f64 = data.iter().map(|(row, value)| (value - dot(*row, mean)).powi(2)).sum();
        let scale = self.scale + (off_line + dot(moved, times(&self.precision, moved))) / 2.0;
        let shape = self.shape + data.len() as f64 / 2.0;
        scale.is_finite().then_some(Self { mean, precision, shape, scale })
    }

    /// The three coefficients, as they are most believed.
    pub const fn coefficients(&self) -> Three {
        self.mean
    }

    /// The scatter around the line, as it is believed.
    pub fn scatter(&self) -> f64 {
        (self.scale / self.shape).sqrt()
    }

    /// What to expect at `row`. Source: Gelman2013, section 14.8 (posterior predictive).
    pub fn at(&self, row: Three) -> Option<Predicted> {
        let own = dot(row, solve(&self.precision, row)?);
        let predicted = Predicted {
            middle: dot(row, self.mean),
            spread: self.scatter() * (1.0 + own).sqrt(),
            degrees_of_freedom: 2.0 * self.shape,
        };
        (predicted.middle.is_finite() && predicted.spread.is_finite()).then_some(predicted)
    }
}

impl Predicted {
    /// Half the width of the band that holds nine values in ten.
    pub fn half_width_90(&self) -> f64 {
        self.spread * student_t_95(self.degrees_of_freedom)
    }
}

/// The value that 95 in 100 of Student's t stay below.
///
/// Source: Abramowitz1964, 26.7.5 (asymptotic expansion); within 0.001 for 4 degrees of
/// freedom or more, which is all that a prior of weight 4 can give.
pub fn student_t_95(degrees_of_freedom: f64) -> f64 {
    /// Of the normal distribution, Abramowitz1964, table 26.1.
    const X: f64 = 1.644_853_626_951_472_7;
    let (x2, n) = (X * X, degrees_of_freedom);
    let g1 = (x2 + 1.0) * X / 4.0;
    let g2 = ((5.0 * x2 + 16.0) * x2 + 3.0) * X / 96.0;
    let g3 = (((3.0 * x2 + 19.0) * x2 + 17.0) * x2 - 15.0) * X / 384.0;
    let g4 = ((((79.0 * x2 + 776.0) * x2 + 1482.0) * x2 - 1920.0) * x2 - 945.0) * X / 92_160.0;
    X + (g1 + (g2 + (g3 + g4 / n) / n) / n) / n
}

fn dot(one: Three, other: Three) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

fn minus(one: Three, other: Three) -> Three {
    [one[0] - other[0], one[1] - other[1], one[2] - other[2]]
}

fn times(matrix: &[Three; 3], vector: Three) -> Three {
    [dot(matrix[0], vector), dot(matrix[1], vector), dot(matrix[2], vector)]
}

/// Solves `matrix` x = `right` for a symmetric positive definite matrix by Cholesky's method.
///
/// Source: GolubVanLoan2013, section 4.2. `None` where the matrix is not positive definite.
fn solve(matrix: &[Three; 3], right: Three) -> Option<Three> {
    let mut lower = [[0.0_f64; 3]; 3];
    for row in 0..3 {
        for column in 0..=row {
            let known: f64 = (0..column).map(|k| lower[row][k] * lower[column][k]).sum();
            let rest = matrix[row][column] - known;
            if row == column {
                lower[row][row] = (rest > 0.0).then(|| rest.sqrt())?;
            } else {
                lower[row][column] = rest / lower[column][column];
            }
        }
    }
    let mut half = [0.0_f64; 3];
    for row in 0..3 {
        let known: f64 = (0..row).map(|k| lower[row][k] * half[k]).sum();
        half[row] = (right[row] - known) / lower[row][row];
    }
    let mut solution = [0.0_f64; 3];
    for row in (0..3).rev() {
        let known: f64 = (row + 1..3).map(|k| lower[k][row] * solution[k]).sum();
        solution[row] = (half[row] - known) / lower[row][row];
    }
    solution.iter().all(|value| value.is_finite()).then_some(solution)
}
