//! What is kept between runs: the calendars published so far.
