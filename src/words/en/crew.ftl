### The crew's page on a phone. What its scripts say stands in the page with {variables} to be filled
### in there, so no message of that part may choose between plural forms.

## The day

crew-title = { $site }: test welds
crew-next = Next test weld
crew-next-none = No more test welds today or tomorrow.
crew-no-plan = There is no plan: { $why }
crew-record-next = Record this test
crew-record-other = Record another test weld
crew-running = Set now
crew-today = Today
crew-tomorrow = Tomorrow
crew-tested = Made today
crew-tested-none = None yet.
crew-notes = Good to know
crew-spans = When it can be welded
crew-cautions = Cautions
crew-how = The test weld (common practice)
crew-speed = Speed held
crew-heats = Heats
crew-by-hand = by hand
crew-skip = Go to the test welds
crew-language = Language
crew-leave-device = Unsent trials stay on this phone until they are sent.
crew-no-script = This page needs scripts to record a test weld. The plan below is readable without.
crew-enter = Enter your key
crew-stale =
    Old forecast: the weather service could not be asked for { $age }. Look at the sky.
# In place of what the office is told, for whoever does not read its language.
crew-warned = The office has a note on how this forecast came: ask, and look at the sky.
crew-tested-line = { $time }, { $welder }: { $setting }
crew-by = by { $who }

## How a checkpoint stands

crew-standing-done = done
crew-standing-late = done late
crew-standing-proved-nothing = tested, nothing proved
crew-standing-missed = missed
crew-standing-overdue = overdue
crew-standing-not-due = to do
crew-made-here = made on this phone

## Time

crew-in = in { $duration }
crew-now = now
crew-ago = due { $duration } ago
crew-duration-minutes = { $minutes } min
crew-duration-hours = { $hours } h { $minutes } min
crew-duration-days = { $days } d { $hours } h

## Signal, and what is unsent

crew-signal = Connected
crew-no-signal = No signal: plan of { $time }
crew-no-key = This phone's key no longer opens anything: enter it again, or ask the office
crew-keeps-nothing =
    This phone keeps nothing (a private window, or full): write the trial on paper
crew-unsent = Not sent yet
crew-unsent-count = Not sent: { $count }
crew-unsent-refused = Not taken: { $count }
crew-unsent-how =
    These are safe on this phone. They are sent by themselves when there is signal, each one once.
crew-send-now = Send now
crew-not-sent-yet = not sent yet
crew-refused-because = The office's server did not take it:
crew-open-again = Open it again
crew-throw-away = Throw it away
crew-throw-away-sure = Really throw it away?
crew-plan-changed = The plan has changed: next test at { $time }.
crew-tested-at = tested { $time }
crew-set-words = Set { $setting }

## The form

crew-step = Step { $step } of { $steps }
crew-next-step = Next
crew-back = Back
crew-leave = Leave
crew-form-leave = Later
crew-to-the-day = To the day
crew-another-trial = Another test weld
crew-half-filled = A trial is half filled in
crew-go-on = Go on with it
crew-begin-new = Throw it away, begin a new one
crew-ask-welder = Which welder?
crew-ask-who = Who ran it?
crew-other-name = Another name
crew-ask-air = Air, in the shade
crew-air-hint = Read your thermometer where the work is. The forecast does not count.
crew-ask-sheet = Sheet's surface
crew-not-read = Not read
crew-ask-speed = Speed held
crew-speed-held = Held at this speed
crew-speed-hint = One speed for every heat. Change two things and the result means nothing.
crew-slower = slower
crew-faster = faster
crew-key-back = delete the last figure
crew-key-sign = above or below zero
crew-key-point = point
crew-heat-title = { $heat }, heat { $number } of { $count }
crew-strip-number = Strip { $number } of { $least }
crew-strip-more = Strip { $number }
crew-half = A trial is half filled in: go on with it
crew-strip-open = not finished
crew-ask-parted = How did it part?
crew-ask-width = How wide did it hold? ({ $unit })
crew-ask-signs = Seen on it?
crew-parted-film-tear = Film tear
crew-parted-cold = Cold
crew-parted-mixed = Mixed
crew-sign-browning = browning
crew-sign-yellowing = yellowing
crew-sign-char = char
crew-sign-heavy-bleed-out = heavy bleed-out
crew-sign-void = void
crew-sign-scrim-not-reached = no scrim seen
crew-peeled-along = peeled along the seam
crew-next-strip = Next strip
crew-same-as-last = Same again: { $strip }
crew-heat-done = Heat done
crew-heat-not-welded = This heat was not welded
crew-one-more-strip = One more strip
crew-take-strip-back = Take the last strip back
crew-review = What it comes to
crew-fill-in = Fill it in
crew-wanted-welder = Still missing: which welder.
crew-wanted-who = Still missing: who ran it.
crew-wanted-air = Still missing: the air.
crew-wanted-speed = Still missing: the speed.
crew-wanted-strips = No strip has been peeled yet.
crew-write-down = Write it down
crew-try-heat = Try { $heat } in this trial
crew-other-heat = Another heat
crew-add-heat = Add this heat
crew-strips-count = strips: { $count }
crew-more = More (lot, roll, weights, air flow, note)
crew-more-lot = Lot of the sheet
crew-more-roll = Roll
crew-more-weights = Weights
crew-more-air-flow = Air flow
crew-more-ran-heat = Heat really run afterwards ({ $unit })
crew-more-ran-speed = Speed really run afterwards ({ $unit })
crew-more-note = Note
crew-result = Written down
crew-result-waiting = Safe on this phone, not sent yet. The verdict is the phone's own.
crew-result-sent = In the book as trial { $id }. The verdict is the book's.
crew-result-refused = Not taken

## The verdict

crew-set = Set
crew-do-not-weld = Do not weld
crew-why-nothing-good = No heat was good.
crew-why-contradiction = The heats contradict each other.
crew-why-not-conclusive = This trial proves nothing.
crew-verdict-good = good
crew-verdict-cold = cold
crew-verdict-burnt = burnt
crew-verdict-not-conclusive = proves nothing
crew-verdict-none = not tried
crew-window = Holds from { $bottom } to { $top }; { $ends }.
crew-window-one = Holds at { $top } alone; { $ends }.
crew-ends-found-found = both ends found
crew-ends-found-open = bottom found, top not
crew-ends-open-found = top found, bottom not
crew-ends-open-open = neither end found
crew-doubt-unknown-welder = The site file has no such welder: tell the office.
crew-doubt-other-kind = The site file has this welder as another kind: tell the office.
crew-doubt-speed-missing = No speed: a window holds for one speed only. Make the trial again.
crew-doubt-speed-outside-machine =
    The site file gives this machine no such speed: look at the figure, then make the trial again.
crew-doubt-speed-varied = The speed was changed between heats. Make the trial again at one speed.
crew-doubt-weights-varied = The weights were changed between heats. Make the trial again.
crew-doubt-air-flow-varied = The air flow was changed between heats. Make the trial again.
crew-other-causes = voltage, cord and nozzle, and dirt, water or a lifted sheet in the lap
crew-finding-hole-in-the-middle =
    A heat failed between good ones: something other than heat was at work. Look at
    { crew-other-causes }. Then repeat { $heats }.
crew-finding-cold-above-good =
    Cold above a good heat: something else was at work, or the sheet was overheated and peels. Look
    at { crew-other-causes }. Then repeat { $heats }.
crew-finding-burnt-below-good =
    Burnt below a good heat: something else was at work. Look at { crew-other-causes }. Then repeat
    { $heats }.
crew-finding-burnt-below-cold =
    Burnt below a cold heat and none good: something else was at work. Look at
    { crew-other-causes }. Then repeat the trial.
crew-finding-all-cold = All cold. Try { $heats }, at the same speed.
crew-finding-all-cold-to-maximum =
    Cold up to the machine's maximum. Only speed is left: a new trial, slower.
crew-finding-all-burnt = All burnt. Try { $heats }, at the same speed.
crew-finding-all-burnt-to-lowest =
    Burnt down to the machine's first heat. Only speed is left: a new trial, faster.
crew-finding-cold-then-burnt = Cold, then burnt. Try half steps: { $heats }, at the same speed.
crew-finding-cold-then-burnt-none =
    Cold, then burnt, and nothing left in between. Change one thing, the speed first, and test again.
crew-finding-single-good-heat = One heat alone was good. Try half steps beside it: { $heats }.
crew-finding-single-good-heat-none = One heat alone was good: there is no room around it.
crew-finding-narrower-than-step = A narrow window. Try half steps beside it: { $heats }.
crew-finding-narrower-than-step-none =
    A narrow window: little room for wind, cloud or voltage. Test again soon.
crew-finding-top-not-found = The top was not found. Try { $heats } to find it, at the same speed.
crew-finding-top-at-maximum =
    Good up to the machine's maximum: only a slower speed would show the top.
crew-finding-bottom-not-found =
    The bottom was not found. Try { $heats } to find it, at the same speed.
crew-finding-bottom-at-lowest =
    Good down to the machine's first heat: only a faster speed would show the bottom.
crew-finding-outside-machine =
    Some heats are none of this machine by the site file, and prove nothing. Tell the office if the
    file is wrong.
crew-finding-repeat = { $heats } proved nothing: repeat.
crew-speed-next = About { $speed } is a size for that trial by a model, never a setting.
