//! iCalendar output.
