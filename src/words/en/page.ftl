### Headings, labels and short lines of the text page and the web page.

section-glance = At a glance
section-tests = When to test, what to set
section-stand-by = Stand by (not in the plan, but may fall due)
section-picture = Air and sheet
section-hours = Hour by hour
section-spans = When it can be welded
section-notes = Notes
section-advice = Advice
section-how = The test weld (common practice)
section-cautions = Cautions

## At a glance: labels of at most twelve letters, and what stands behind them

glance-shift = Shift
glance-weldable = Weldable
glance-roof = Roof
glance-tests = Test welds
glance-air = Air
glance-sheet = Sheet
glance-seam = Seam
shift-hours = { $start } to { $end }
weldable-hours = from { $first } to { $last }, { $work } of work
weldable-never = not at all in this shift
tests-none = none
tests-at = { $count }, at { $times }
air-range = { $low } to { $high }, a swing of { $swing }
sheet-range = { $low } to { $high }, by the sun, the sky and the wind

## The tests

tests-no-minute = No test weld: there is no minute of this shift in which to weld.
tests-none-planned = No test weld is planned, and no production weld goes without one.
test-air = { $why }; air { $air }
test-air-and-sheet = { $why }; air { $air }, sheet { $sheet }

## Heads of columns

column-time = Time
column-why = Why
column-air = Air
column-sheet = Sheet
# Over three figures on a phone: at most six letters.
column-sheet-short = Sheet
column-dew = Dew
column-wind = Wind
column-gust = Gust
column-rain = Rain
column-tests = Tests
column-welder = Welder
column-speed = Speed
column-heats = Heats
hours-air = air { $unit }
hours-gust = gust { $unit }
hours-rain = rain { $unit }
hours-tests = tests

## The picture

picture-title = Air and sheet, { $start } to { $end }
picture-air = air
picture-sheet = sheet
picture-air-alone = air (the sheet cannot be told from this forecast)
picture-sheet-band = sheet, lowest to highest
picture-break = break
picture-test = test weld
picture-stand-by = stand by
# The signs of the text page's picture: o * @ . ~ # = T stand in it as they are.
signs-curves = o air, * sheet, @ both
signs-air-alone = o air; the sheet cannot be told from this forecast
signs-strip = {". weld, ~ care, # hold, = break; T test weld"}
