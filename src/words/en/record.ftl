### What `record` asks, and why a trial is not taken in: at the command line and on the crew's page.

## Around the questions

record-welcome = One question at a time. Enter takes what stands in brackets, `-` is none,
record-keys = `b` goes back, `?` explains, Ctrl-D stops and writes nothing.
record-nothing-offered = none
record-stopped = Stopped; nothing was written.
record-not-taken = Not taken in: { $why }
record-go-back = Go back with `b`.
record-once-more = { $why }; once more, please
record-line-too-long = that line is too long
record-line-no-text = that line is not UTF-8 text
record-first-question = this is the first question
record-needs-answer = this needs an answer
record-mend-first = it cannot be taken in like this; go back with `b`
record-yes-or-no = expected `yes` or `no`
record-one-of-list = expected one of the list, by its number from 1 to { $most } or its name
record-count-of-heats = expected 1 to { $most } heats, found { $found }
record-no-forecast = note: there is no forecast at hand; nothing of today's plan is offered

## The questions, and what `?` says

ask-checkpoint = Checkpoint ({ $listed })
help-checkpoint = Which test weld of today's plan this is: { $listed }.
help-checkpoint-how = Type its number or time.
ask-welder = Welder ({ $listed })
help-welder = The machine that was tested, by its number or its name in the site file.
ask-when = When
help-when =
    When the strips were welded: `07:10` for today, or a date and a time of day, on the site's clock.
ask-who = Who made it
help-who = Whoever ran the welder and peeled the strips.
ask-air = Air in the shade, by your thermometer
ask-air-forecast = Air in the shade, by your thermometer; in brackets the forecast
help-air =
    Read it in the shade where the work is. A reading also teaches how far the forecast is off at
    this site; the forecast taken over does not.
ask-sheet = Sheet temperature
help-sheet =
    The sheet's own surface by infrared thermometer, where it lies and where the weld goes. Leave it
    out if it was not read.
ask-lot = Lot of the sheet
help-lot =
    What the membrane maker printed on the wrapping. A new lot asks for a new test weld.
ask-roll = Roll
help-roll = The roll in use, if the crew numbers them.
ask-weights = Weights
help-weights =
    In your words: `all`, `two plates`. Set once and left: a change between heats makes the trial
    prove nothing.
ask-air-flow = Air flow
help-air-flow =
    In your words: `full`, `80 %`. Set once and left: a change between heats makes the trial prove
    nothing.
ask-speed = Speed held, { $unit }
help-speed =
    The one speed held at every heat, as on the machine. Vary heat and speed at once and the result
    means nothing.
ask-heats = Heats tried, { $unit }
help-heats =
    Every heat that was tried, as on the machine, separated by commas or blanks.
ask-strips = Strips at { $heat }
help-strips =
    For each strip how wide the weld held ({ $unit }) and how it parted, separated by commas:
# The words that are typed are the same in every language; each is explained here.
help-strips-how =
    how: film-tear, cold, mixed; signs behind a `+`: browning, yellowing, char, heavy-bleed-out, void,
    scrim-not-reached; `along` if it was peeled along the seam (else across it); `x3` for three like
    it. The beginning of a word will do. `none` if no strip was cut.
ask-note = Anything else
help-note = Whatever the office or tomorrow's crew should know.
ask-ran = Setting really run
help-ran =
    What the machine was really set to after this trial, if it is known already: `925 at 8`, or `925`
    for a hand welder.
ask-confirm = Write it down (yes or no)
help-confirm =
    `yes` writes the trial into the book, `no` stops and writes nothing, `b` goes back.
answer-yes = yes
# What is taken for yes and for no, besides `y`, `yes`, `n` and `no`: small letters, blanks between.
answers-yes = yes y
answers-no = no n

## What was typed cannot be read

typed-found = { $expected }, found { $found }
typed-temperature = expected a temperature in { $unit }, such as `{ $such }`
typed-speed = expected a speed in { $unit }, such as `{ $such }`
typed-thickness = expected a thickness in { $unit }
typed-width-us = expected a width in in, such as `1.5` or `1 1/2`
typed-width-metric = expected a width in mm, such as `38`
typed-comma =
    { $expected }; write decimals with a point and thousands without a comma
typed-entry = entry { $entry }: { $why }
typed-most-strips = expected at most { $most } strips at one heat
typed-width-first = expected the width first: { $form }; found { $found }
typed-form =
    WIDTH HOW[+SIGN…] [along] [xN], separated by commas, such as `1.5 film-tear x2, 0.3 cold`
typed-how-missing = expected how it parted behind the width: { $listed }
typed-times = expected `x1` to `x{ $most }`, found { $found }
typed-how = expected how it parted: { $listed }; found { $found }
typed-sign = expected a sign: { $listed }; found { $found }
typed-way = expected which way it was peeled: { $listed }; found { $found }
typed-moment =
    expected a time as `YYYY-MM-DD HH:MM` or `HH:MM` on the site's clock, or as RFC 3339; found
    { $found }
typed-moment-skipped =
    { $found } does not exist on the site's clock: it is set forward over that time
typed-checkpoint =
    expected the id of a checkpoint such as `after-lunch`, 1 to { $most } characters, found { $found }
typed-polymer = expected `pvc`, `tpo` or `kee`, found { $found }
typed-strips-for-heats =
    expected one `--strips` for each `--heat`, found { $strips } for { $heats }; a heat without strips
    has `--strips none`
typed-trial-unreadable = the trial cannot be read; nothing was written
typed-and-more = and { $more } more
typed-empty = `{ $flag }` is empty: write it in words
typed-no-who = expected the name of who made the trial, found none
typed-no-air = expected the air temperature in the shade, found none
typed-no-welder = expected one of the site's welders: { $names }

## A record that is not taken into the book

refused-trial = the trial is refused; nothing was written
refused-run = the setting really run is refused; nothing was written
refusal-no-number = { $field } is not a number: write it in figures
refusal-out-of-range =
    { $field } is { $found }, expected { $expected }: check the figure and its unit
refusal-bounds = { $low } to { $high } ({ $least } to { $most })
refusal-in-the-future =
    the trial is dated { $ahead } after now: check the date and the clock
refusal-nameless = { $field } is empty: write a name
refusal-no-heats = the trial has no heat: write at least one heat with its strips
refusal-too-many =
    { $field } has { $found } entries, expected at most { $most }: split the record
refusal-too-long =
    { $field } has { $found } characters, expected at most { $most }: shorten it
refusal-hand-speed =
    a speed is given for a hand welder, which has none: leave the speed out
record-field = { $field ->
    [who] the name of who made it
    [welder] the welder
    [lot] the lot
    [roll] the roll
    [weights] the weights
    [air-flow] the air flow
    [heat-weights] a heat's weights
    [heat-air-flow] a heat's air flow
    [note] the note
    [ambient] the air
    [sheet] the sheet
    [thickness] the thickness
    [speed] the speed
   *[trial] the trial
}
field-heat = heat { $heat }
field-heat-speed = the speed of heat { $heat }
field-bond-width = the bond width of heat { $heat }, strip { $strip }

## What became of it

record-written = written down as trial { $id }
record-corrected = trial { $id } corrected; what it said before stays readable
record-dry-run = dry run: nothing was written
record-proves-nothing = it is not conclusive
record-ran-outside =
    the setting really run is { $ran }, but the site file gives { $welder } { $lowest } to { $highest }
record-no-such-checkpoint =
    the plan at hand has no checkpoint { $id } (it has { $ids }), so the trial counts by its time
record-no-checkpoints = none
record-stopped-early = stopped before the end; nothing was written
record-no-trial =
    there is no trial { $id } of this site in the book; `fairseam book` lists them
record-sent-otherwise =
    this sending has the name of another one: open the trial again and write it down once more
record-put-back = trial { $id } put back; that it was withdrawn stays readable
record-withdrawn = trial { $id } withdrawn; it counts for nothing and stays readable
record-withdrawn-already =
    trial { $id } was withdrawn already, by { $by } on { $on }: there is nothing to withdraw
record-no-trial-here = trial { $id } is no trial of this site
record-book-busy = somebody else is writing into the test-weld book: try again
