//! fairseam plans the mandatory test welds of a hot-air welded single-ply roof.
//!
//! It reads an hourly forecast, walks the shift, places a checkpoint wherever the trade asks for a
//! test weld, and says what speed and heats to start from. The code, in reading order:
//!
//! 1. [`units`]: temperature, difference of temperatures, speeds, lengths.
//! 2. [`words`]: what the crew reads, in its language; one folder a language.
//! 3. [`physics`]: sun, sheet, water, people, hot air, cords; one file a phenomenon.
//! 4. [`weather`]: one hourly series, and the services it comes from.
//! 5. [`site`]: the site file.
//! 6. [`testweld`]: what worked before.
//! 7. [`plan`]: the two rules; everything the crew must do is decided there.
//! 8. [`quality`]: what was done, held against the plan.
//! 9. [`season`]: many days, roofs and years by the same core.
//! 10. [`render`]: the same plan as text, JSON and iCalendar; a test weld in words.
//! 11. [`follow`]: what of a published day has changed enough to ring a phone.
//! 12. [`store`]: what is kept between runs.
//! 13. [`publish`]: the loop that follows days, the calendar file, the calendar server.
//! 14. [`server`]: calendar feeds, the crew's and the office's pages.
//! 15. [`cli`]: the commands.
//!
//! `units`, `physics`, `testweld`, `plan`, `quality`, `season` and `follow` take no clock, no network and no file.

pub mod cli;
pub mod follow;
pub mod physics;
pub mod plan;
pub mod publish;
pub mod quality;
pub mod render;
pub mod season;
pub mod server;
pub mod site;
pub mod store;
pub mod testweld;
pub mod units;
pub mod weather;
pub mod words;
