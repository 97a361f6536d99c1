### The plan of a day: what is said of tests, weather and seam, on text page, web page and phones.
### Clock times, days and amounts with their units come in as texts; numbers choose between forms.

## Verdicts, and what holds or slows the welding

verdict = { $verdict ->
    [weld] weld
    [care] care
   *[hold] hold
}

reason-short-rain = rain
reason-short-snow = snow
reason-short-thunder = thunder
reason-short-wet = wet sheet
reason-short-frost = frost on the sheet
reason-short-wind-stop = storm wind
reason-short-dew = dew near
reason-short-cold = cold air
reason-short-gust = gusts
reason-short-wind = wind
reason-short-heat = heat
reason-short-dark = dark

# $what is reason-short-rain or reason-short-snow.
reason-falls-hourly = { $what }, up to { $amount } per hour
reason-falls-within = { $what }, { $amount } somewhere within { $hours } hours
reason-thunder = thunder: off the roof
reason-wet = water or dew on the sheet, { $depth }
reason-frost = frost or ice on the sheet, { $depth }
reason-wind-stop = wind or gusts of { $from } or more
reason-dew = sheet within { $within } of the dew point
reason-cold = air below { $below }
reason-gust = gusts of { $from } or more
reason-wind = wind of { $from } or more at the lap
reason-heat = heat index of { $from } or more
reason-dark = dark: before dawn or after dusk

## Why a test is there. because-since follows the others after a blank.

because-start = start of shift
because-after-break = after { $name } ({ $minutes } min)
because-air-up = air up { $by }
because-air-down = air down { $by }
because-air = air has changed
because-sheet-warmer = sheet warmer
because-sheet-cooler = sheet cooler
# $sheet is because-sheet-warmer or because-sheet-cooler, with because-since.
because-sheet-moves = { $sheet }: the middle moves by about { $by } of heat
because-sheet = sheet has changed
because-elapsed = { $hours } h
because-first-weldable = first weldable minute, after { $held }
because-after-hold = welding resumes after { $held }
because-since = since the { $time } test

## What asks for a test that the plan leaves out: $cause of note-too-late

cause-start = the start of work
cause-after-break = the end of { $name }
cause-air = a change of the air
cause-sheet = a change of the sheet
cause-elapsed = { $hours } h without a test
cause-after-hold = the end of { $held }

## Notes

note-no-workday = { weekday } is not a workday of this crew; planned because it was asked for.
note-change-waits-air =
    { $due }: the air will have moved { $change } since the last test. That is so close before
    { $stop } that the test waits for the one after it, at { $test }.
note-change-waits-sheet =
    { $due }: the sheet will have moved { $change } since the last test. That is so close before
    { $stop } that the test waits for the one after it, at { $test }.
note-too-late =
    { $due }: { $cause } asks for a test, but so close to the end of the shift none is planned.
    Test anyway, or weld no more from then on.
note-held-to-the-end = From { $from } the weather holds the welding to the end of the shift.
note-speed-clamped =
    { $welder }: the rule asks for a speed that this welder does not run at; the nearest that it
    does stands in the plan.
note-rain-unknown =
    Rain is not in this forecast for the whole of the shift: look at the sky and a radar.
note-film-unknown =
    Whether the sheet is dry cannot be told from this forecast (that takes rain, cloud or
    radiation, dew point and wind): wipe the lap and look.
note-short-run-up =
    Dew and rain before { $from } are not in this forecast: the sheet is taken as dry there. Wipe
    the lap and look.
note-clock-longer =
    The clock changes during this shift: it is { $minutes } min longer than the wall clock says.
note-clock-shorter =
    The clock changes during this shift: it is { $minutes } min shorter than the wall clock says.

## How sure a test is, how many, when dry, how much seam

likely-almost-certain = almost certain, between { $earliest } and { $latest }
likely-percent = { $percent } % likely, between { $earliest } and { $latest }
stand-by =
    { $percent } % that one more test is needed about { $about } ({ $earliest } to { $latest })
tests-one-count = { $count } on eight days of ten like this
tests-between = most likely { $count }; { $low } to { $high } on eight days of ten like this
# $latest is a clock time or dry-later.
dry-from = dry from { $from } (between { $earliest } and { $latest })
dry-later = later than the shift
seam-up-to = up to { $seam } after tests and breaks
seam-target-reached = up to { $seam }; the target of { $goal } is reached at { $time }
seam-target-short = up to { $seam }; { $short } short of the target of { $goal }

## Speed and heats of a test weld

trial-at-speed = { $speed }, heats { $heats }
trial-by-hand = heats { $heats }
trial-full-range = full range
trial-bracket = bracket
start-no-record = no test weld of the last { $days } days in the book
start-outside-heats = the earlier center lies outside this welder's heats
start-book-unreadable = the test-weld book could not be read
start-too-old = the last test weld in the book, of { $day }, is older than { $days } days
start-other-sheet = the last test weld in the book, of { $day }, is on another sheet
start-proved-nothing = the last test weld in the book, of { $day }, proved nothing
start-no-setting = the last test weld in the book, of { $day }, found no setting
# $origin is start-given-by-hand or start-of-day.
start-center = earlier center { $heat } ({ $origin })
start-center-at-speed = earlier center { $heat } at { $speed } ({ $origin })
start-given-by-hand = given by hand
start-of-day = test weld of { $day }
start-speed-middle-moved = the air asks for { $speed }, so the middle will have moved
start-speed-near-enough = the air asks for { $speed }, near enough to hold the record's speed
hint-middle = expect the middle nearer { $heat }
hint-slower = { $step } slower is worth about { $heat } of heat

## What the book says beside a plan

passed-over = passed over: { $trials }
# Follows the last of three trials that are named.
passed-over-more = and { $count } more
passed-over-trial = { $when }, { $why }
why-other-welder = it was made on another welder
why-other-sheet = it was made on another sheet
why-not-conclusive = it proved nothing
why-no-setting = it found no setting: { $why }
why-too-old = it is { $days } days old
why-outside-heats = its center lies outside this welder's heats
why-outside-heats-at = its center, { $heat }, lies outside this welder's heats
# $conditions is learned-sheet, learned-air, learned-sheet-speed or learned-air-speed.
learned =
    { $trials } trials at this welder expect the middle near { $middle }, give or take { $band }
    (nine in ten), with { $conditions }; test all the same
learned-outside =
    { $trials } trials at this welder expect the middle near { $middle }, give or take { $band }
    (nine in ten), with { $conditions }; outside this welder's heats; test all the same
learned-sheet = the sheet at { $temperature }
learned-air = the air at { $temperature }
learned-sheet-speed = the sheet at { $temperature } and { $speed }
learned-air-speed = the air at { $temperature } and { $speed }
# $bias is one of known-error-low, -high and -right; $by is known-error-by-that or known-error-by-ensemble.
known-error =
    The book's { $readings } readings on { $days } days put a forecast of { $lead } ahead { $bias }
    here, give or take { $spread } (two days in three). The planned times stand on the forecast as
    it is; how sure they are { $by }.
known-error-by-that = goes by that
known-error-by-ensemble = goes by the forecast's own ensemble
known-error-low = { $by } low
known-error-high = { $by } high
known-error-right = right on average
lead-between = { $from } to { $to } h
lead-or-more = { $from } h or more

## Where the weather comes from

weather-read = Weather: { $source }, read { $read }
weather-issued-read = Weather: { $source }, issued { $issued }, read { $read }
weather-missing = not in it: { $fields }
weather-gaps = with gaps: { $fields }
weather-bridged = air bridged from the hours beside it at { $hours }
stale-forecast = STALE FORECAST, { $age } old: the weather service could not be asked.
field = { $field ->
    [air] air
    [dew_point] dew point
    [humidity] humidity
    [wind] wind
    [gust] gust
    [rain] rain
    [snow] snow
    [cloud_cover] cloud cover
    [shortwave_radiation] shortwave radiation
    [precipitation_probability] precipitation probability
    [thunder] thunder
   *[pressure] pressure
}

## Why there is no plan

no-plan-no-forecast = there is no forecast at hand
# $missing is one or more evening-span or clock times.
no-plan-air-missing =
    the forecast does not cover the shift of { $date }: no air temperature at { $missing }; it has
    hours from { $from } to { $to }
no-plan-no-shift =
    no shift is left on { $date } in { $zone }: the clock change swallows it; expected a `shift.end`
    after `shift.start` in real time, choose another date or hours
no-plan-out-of-reach =
    the date { $date } is out of reach; expected a date from 1900-01-01 to 2200-12-31
