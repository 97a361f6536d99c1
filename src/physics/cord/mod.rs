//! What a cord and a generator leave for the welder.

mod conductor;
mod generator;
mod load;

pub use conductor::{Conductor, NEC_CONDUCTOR_TEMPERATURE};
pub use generator::{
    GeneratorCheck, alternator_factor, check_generator, engine_factor_by_air, engine_factor_by_rule,
};
pub use load::{
    BRANCH_DROP, CordCheck, CordRun, LostRise, TOTAL_DROP, WelderLoad, check_cord, longest_cord,
};
