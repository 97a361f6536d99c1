### A trial judged: setting, window, verdicts, what is odd and what to do next.

## The setting and the window. $setting is setting-at-speed or a heat alone.

setting-run = SET { $welder }: { $setting }
setting-none = DO NOT WELD with { $welder }: { $why }
setting-at-speed = { $heat } at { $speed }
no-setting-nothing-good = no heat was good
no-setting-contradiction = the heats contradict each other
no-setting-not-conclusive = this trial proves nothing
window-head = Window { $window }
window-both = { $bottom } to { $top }, { $width } wide; both ends found
window-bottom = { $bottom } to { $top }, { $width } wide; bottom found, top not
window-top = { $bottom } to { $top }, { $width } wide; top found, bottom not
window-neither = { $bottom } to { $top }, { $width } wide; neither end found

## Headings and labels; labels have at most nine letters

trial-odd = What is odd, and what to do next
trial-heats = Heat by heat
trial-written = As written down
fact-when = When
fact-for = For
fact-machine = Machine
fact-sheet = Sheet
fact-read = Read
fact-note = Note
fact-when-by = { $when } by { $who }
fact-checkpoint = checkpoint { $id }
fact-lot = lot { $lot }
fact-roll = roll { $roll }
fact-weights = weights { $weights }
fact-air-flow = air flow { $flow }
fact-no-speed = no speed
fact-air = air { $air }
fact-air-and-sheet = air { $air }, sheet { $sheet }
welder-kind = { $kind ->
    [automatic] automatic
   *[hand] hand
}
# $what is a list of speed, fact-weights and fact-air-flow.
held-here = here { $what }
list-and = { $before } and { $last }
withdrawn-notice =
    Trial { $id } of { $welder }, made { $when }, is withdrawn by { $by }: { $why }. It counts for
    nothing, and what it said stays readable.
certifies-nothing =
    This tells what the strips showed. It certifies no seam: the peel decides, and the membrane
    maker's instructions, the specification and local codes come first.

## What one heat proves

heat-good = good
heat-cold = cold
heat-burnt = burnt
heat-proves-nothing = proves nothing
strips = { $count ->
    [one] { $count } strip
   *[other] { $count } strips
}
# $strips is the message above wherever it stands below.
good-why = { $strips } tore to the scrim, the narrowest over { $width }
good-short-why =
    { $strips } tore to the scrim, the narrowest over { $width }, short of the width aimed at
burnt-why = { $signs } seen; a burn counts however wide it holds
along-set-aside = { $strips } peeled along the seam set aside
cold-parted = { $strips } parted cold
cold-mixed = { $strips } tore only in part
cold-narrow = { $strips } tore over too little, the narrowest over { $width }
cold-void = { $strips } with a void
cold-no-scrim = { $strips } without scrim in sight
doubt-few-strips = { $strips } peeled across the seam, expected { $needed } or more
doubt-along = { $strips } peeled along the seam, which tells nothing
doubt-outside = the site file gives this machine { $lowest } to { $highest }

## A strip

parted = { $way ->
    [film-tear] film tear
    [cold] cold
   *[mixed] mixed
}
sign = { $sign ->
    [browning] browning
    [yellowing] yellowing
    [char] char
    [heavy-bleed-out] heavy bleed out
    [void] void
   *[scrim-not-reached] scrim not reached
}
strip-along = peeled along the seam
strip-none = no strip

## Why a whole trial proves nothing, and what to do about it

doubt-not-conclusive = Not conclusive: { $doubt }.
doubt-unknown-welder = the site file has no welder `{ $name }`
doubt-other-kind = the record calls this welder { $record }, the site file { $site }
doubt-no-speed = no speed was written down, and a heat window holds for one speed only
doubt-speed-outside =
    the speed is { $speed }, and by the site file this machine travels { $slowest } to { $fastest }
doubt-speed-varied =
    two things were varied, heat and speed: the heats were welded at { $slowest } to { $fastest }
doubt-weights-varied = two things were varied, heat and weights
doubt-air-flow-varied = two things were varied, heat and air flow
# Follows one of the two above.
doubt-changed-at = (changed at { $heats })
next-unknown-welder =
    Correct the name in the record, or write the welder into the site file.
next-other-kind = Correct the record or the site file.
next-no-speed =
    Correct the record with the speed that was held; if nobody knows it, test again.
next-speed-outside =
    Read the dial again and correct the record, or correct the site file.
next-speed-varied = Test again: hold one speed and change only the heat.
next-weights-or-air =
    Test again: set weights and air flow first, leave them, and change only the heat.

## Findings: what was seen

seen-hole =
    { $failed } failed between the good heats { $below } and { $above }: something other than heat
    was at work.
seen-cold-above-good =
    { $cold } was cold above a good { $good }: more heat cannot make a weld colder, so something else
    was at work, or the sheet was overheated and peels.
seen-burnt-below-good =
    { $burnt } was burnt below a good { $good }: less heat cannot burn more, so something else was at
    work.
seen-burnt-below-cold =
    { $burnt } was burnt below a cold { $cold }, and no heat was good: something other than heat was
    at work.
seen-all-cold = No heat was good: cold up to { $heat }, the highest tried.
seen-all-cold-to-maximum = No heat was good: cold up to { $heat }, the machine's maximum.
seen-all-burnt = No heat was good: burnt down to { $heat }, the lowest tried.
seen-all-burnt-to-lowest = No heat was good: burnt down to { $heat }, the machine's first heat.
seen-cold-then-burnt = No heat was good: { $cold } was cold and { $burnt } already burnt.
seen-single = One single heat was good, { $heat }: there is no room around it.
seen-narrow =
    The window is { $width } wide, narrower than a step of { $step }: there is little room for wind,
    cloud or voltage.
seen-top-not-found =
    Good up to { $heat }, the highest tried: the top was not found, and the setting is the middle of
    what is known.
seen-top-at-maximum =
    Good up to { $heat }, the machine's maximum: the top is out of its reach, and the setting is the
    middle of what is known.
seen-bottom-not-found =
    Good down to { $heat }, the lowest tried: the bottom was not found, and the setting is the middle
    of what is known.
seen-bottom-at-lowest =
    Good down to { $heat }, the machine's first heat: the bottom is out of its reach, and the setting
    is the middle of what is known.
seen-outside-machine =
    { $heats } proved nothing: the site file gives this machine { $lowest } to { $highest }.
seen-repeat = { $heats } proved nothing.

## Findings: what to do next. Where to look is common practice.

other-causes = voltage, cord and nozzle, and dirt, water or a lifted sheet in the lap
next-look-and-repeat = Look at { other-causes }. Then repeat { $heats }.
next-look-and-repeat-all = Look at { other-causes }. Then repeat the trial.
next-try = Try { $heat }, at the same speed.
next-nothing-between =
    Nothing is left to try in between at this speed. Change one thing, the speed first, and test
    again.
next-half-steps-between = Try half steps in between: { $heats }, at the same speed.
next-half-steps-done =
    The half steps to each side have been tried or are out of the machine's reach. Test again sooner
    than the plan asks.
next-half-steps-beside = Try half steps beside it: { $heats }, at the same speed.
next-find-top = Try { $heat } to find the top, at the same speed.
next-find-bottom = Try { $heat } to find the bottom, at the same speed.
next-keep-to-heats =
    Keep to the machine's heats; if it has this one, correct `heat_low` or `heat_max` in the site
    file.
next-repeat =
    Repeat { $heats }: three strips or more at each heat, 1 in (25 mm) wide, peeled across the seam.

# $change is speed-slower, speed-faster or one of the two that end with the machine's range.
next-only-speed = Only speed is left. Test again { $change }.
next-no-slower =
    The machine goes no slower than { $speed }: neither heat nor speed is left. Look at
    { other-causes }, or use another welder.
next-no-faster =
    The machine goes no faster than { $speed }: neither heat nor speed is left. Look at
    { other-causes }, or use another welder.
next-hand-slower = Only speed is left, which is your own hand. Move slower and test again.
next-hand-faster = Only speed is left, which is your own hand. Move faster and test again.
next-top-slower = Only a slower speed would show the top: a trial { $change }.
next-bottom-faster = Only a faster speed would show the bottom: a trial { $change }.
next-top-last-speed =
    Only a slower speed would show the top, and { $speed } is this machine's last.
next-bottom-last-speed =
    Only a faster speed would show the bottom, and { $speed } is this machine's last.
next-top-hand = Only a slower hand would show the top.
next-bottom-hand = Only a faster hand would show the bottom.
speed-slower =
    at about { $to } instead of { $from }, { $by } slower: worth about { $worth } of heat (by a
    model; a size for the next trial, never a setting)
speed-slower-to-end =
    at about { $to } instead of { $from }, { $by } slower, as far as this machine goes: worth about
    { $worth } of heat (by a model; a size for the next trial, never a setting)
speed-faster =
    at about { $to } instead of { $from }, { $by } faster: worth about { $worth } of heat (by a
    model; a size for the next trial, never a setting)
speed-faster-to-end =
    at about { $to } instead of { $from }, { $by } faster, as far as this machine goes: worth about
    { $worth } of heat (by a model; a size for the next trial, never a setting)
