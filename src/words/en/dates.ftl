### Days, as `src/words/dates.rs` says them.
### $weekday is 1 for Monday to 7 for Sunday, $month 1 for January to 12, $day the day of the month.

date-full = { weekday }, { month } { $day }, { $year }
date-of-this-year = { weekday }, { month } { $day }
date-short = { month-short } { $day }

weekday = { $weekday ->
    [1] Monday
    [2] Tuesday
    [3] Wednesday
    [4] Thursday
    [5] Friday
    [6] Saturday
   *[7] Sunday
}
month = { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
}
month-short = { $month ->
    [1] Jan
    [2] Feb
    [3] Mar
    [4] Apr
    [5] May
    [6] Jun
    [7] Jul
    [8] Aug
    [9] Sep
    [10] Oct
    [11] Nov
   *[12] Dec
}
