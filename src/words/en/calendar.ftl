### What the reminders say: SUMMARY, DESCRIPTION, CATEGORIES and the name of the calendar.

calendar-name = Test welds: { $site }
category-test = Test weld
category-evening = Test weld plan
category-hold = Welding hold

## The line that rings: parts joined by a dot. A lock screen shows some forty characters: be short.

summary-test = Test weld
summary-heats = { $low }–{ $high } by { $step } { $unit }
summary-all-welders = all { $count } welders
summary-more = +{ $count } more
summary-tomorrow-one = Tomorrow: 1 test weld at { $time } · { $weldable } weldable · { $site }
summary-tomorrow =
    Tomorrow: { $count } test welds from { $time } · { $weldable } weldable · { $site }
summary-tomorrow-untested =
    Tomorrow: no test weld planned · { $weldable } weldable · { $site }
summary-tomorrow-none = Tomorrow: no welding · { $site }
summary-cancelled = CANCELLED: { $earlier }
description-cancelled =
    No longer in the plan: the forecast or the shift has moved. The other entries of the day hold.

## Descriptions

event-head = { $time }, air { $air }. Why: { $why }.
event-care = Take care: { $reasons }.
event-stale =
    STALE FORECAST of { $read }: the weather service could not be asked since. Watch the thermometer
    and the sky.
evening-head = { $day }: { $start } to { $end } at { $site }.
evening-air = Air { $low } to { $high }.
evening-weldable = Weldable { $work }, between { $first } and { $last }.
evening-no-welding = No welding: the weather holds it for the whole of the shift.
evening-test = { $why }, air { $air }
evening-no-test = None planned. No production weld without one.
evening-span = { $start } to { $end }
evening-missing = Not in this forecast: { $fields }.
evening-gaps = Missing in some hours: { $fields }.
evening-bridged = Air missing and bridged from the hours beside: { $hours }.
evening-issued = Forecast issued { $issued }.
event-source = Weather: { $source }. { $credit }
head-how = How to test
head-cautions = Cautions
head-tests = Test welds
head-weather = Weather that holds or slows the welding
head-notes = Notes
head-advice = Advice

## A hold, on a day that is followed

summary-hold = HOLD until { $end } · { $why }: no welding
hold-head = No welding from { $start } to { $end }: { $reasons }.
hold-resumes = Welding resumes with a test weld, when the sheet is dry.
hold-off-the-roof = Off the roof: what cannot be tied down comes down with you.
