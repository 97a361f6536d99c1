### What to see to, how a test weld is made, and the cautions. Sources stay in their brackets.

## Advice

advice-stale =
    This forecast could not be renewed. Look at the sky, and plan again before work starts. (common
    practice)
advice-lightning =
    Thunder: get off the roof into a closed building or a hard-top vehicle, and stay there until
    { $minutes } min after the last thunder. Start nothing that cannot be stopped fast. (OSHA/NOAA
    FS-3863)
advice-storm-wind =
    Wind or gusts of { $from } or more: stop, tie down and clear the roof. A U.S. rule for line work
    calls more than 40 mph a high wind. (29 CFR 1926.968; common practice on roofs)
advice-seal =
    Rain from { $rain }: everything open sealed by { $sealed }. Open no more roof than that. (common
    practice)
advice-seal-after-work =
    Rain from { $rain } after work: everything open sealed by { $sealed }. (common practice)
# $stretches is one or more of open-seam, open-seam-area and open-seam-rolls.
advice-open =
    What can be sealed by { $sealed } at the plan's speeds: { $stretches }. Corners, details and
    hand welds come on top: open less. (common practice)
advice-open-lacks =
    What can be sealed by { $sealed } at the plan's speeds: { $stretches }. Corners, details and
    hand welds come on top: open less. The site file can say more: add { $keys }. (common practice)
advice-open-none =
    Not a seam can be tested and welded by { $sealed }: open no roof before that rain. (common practice)
advice-open-by-hand =
    How much can be sealed cannot be told: no welder in the site file has `kind = "automatic"`, and a hand
    welder has no travel speed. Go by the crew's own pace, and open less. (common practice)
open-seam = { $seam } of seam from { $start }
open-seam-area = { $seam } of seam from { $start }, { $area } of roof
open-seam-rolls =
    { $seam } of seam from { $start }, { $area } of roof, { $rolls ->
        [one] { $rolls } whole roll
       *[other] { $rolls } whole rolls
    }
open-area-us = { $feet } sq ft ({ $squares } squares)
open-area-metric = { $meters } m²
advice-dusk =
    Dark from { $dark }: seal what is open while it can be seen, and have light for the test welds.
    (common practice)
advice-wet =
    Nothing wet gets welded: moisture in the lap flashes to steam. Dry and wipe the lap, and test
    again before welding resumes. (common practice)
advice-dew =
    Dew: wipe the lap and look before the first weld; coating practice asks for a surface at least
    { $margin } above the dew point. (ISO 8502-4, as coating guides cite it)
advice-ice =
    Frost or ice: a slick roof. Keep off until it has gone, and fall protection on. (29 CFR
    1926.451(f)(8) for scaffolds; common practice on roofs)
advice-heat =
    Heat index up to { $index } in the shade, more in the sun: water, shade, rest, and new hands
    eased in. A rest of { $minutes } min or more asks for a test weld after it. (NWS heat index;
    CDC/NIOSH 2017-127)
advice-heat-rest =
    Heat index up to { $index } in the shade, more in the sun: water, shade, rest, and new hands
    eased in. The CDC/NIOSH schedule for moderate work asks for { $rest } min of rest after { $work }
    min of work. A rest of { $minutes } min or more asks for a test weld after it. (NWS heat index;
    CDC/NIOSH 2017-127)
advice-heat-beyond =
    Heat index up to { $index } in the shade, more in the sun: water, shade, rest, and new hands
    eased in. The CDC/NIOSH schedule for moderate work goes no further than this heat: move the work
    to a cooler hour. A rest of { $minutes } min or more asks for a test weld after it. (NWS heat
    index; CDC/NIOSH 2017-127)
advice-cold =
    Air below { $below }: keep the rolls warm, go slower, test more often. Many specifications stop
    adhesives and membrane work there: look yours up. (common practice)
advice-cold-chill =
    Air below { $below }: keep the rolls warm, go slower, test more often. Many specifications stop
    adhesives and membrane work there: look yours up. Wind chill down to { $chill }: warm hands make
    better welds. (common practice)
advice-gust =
    Gusts cool the lap, steal the air flow and turn sheets into sails: shield the welder, weight the
    rolls, two hands on every sheet. (common practice)
advice-shield =
    Wind: shield the welder and test behind the same shield. (common practice)
advice-generator-short =
    Generator: no more than { $available } W are left of it at this height and heat; what hangs on
    it takes { $wanted } W. Starved of voltage a welder runs cold. (common practice; derating as
    generator manuals print it)
advice-generator-small =
    Generator: rated { $rated } W; the trade wants { $wanted } W or more for an automatic welder
    alone. (common practice)
advice-generator-shared =
    Give the automatic welder a generator to itself: screw guns and hand welders go elsewhere.
    (common practice)
advice-cord =
    Cord of { $welder }: { $drop } % of the voltage is lost on it and { $watts } % of the watts
    arrive. Shorter or heavier. (Ohm's law; 3 % is the NEC's own advice for a branch)

## How the trial is cut and peeled. Common practice.

how-weld =
    Weld strips of today's sheet, off the roll in use, where the work is. Set weights and air first
    and leave them; hold the speed; change only the heat.
# $width is how wide a strip is cut.
how-cut =
    Let each weld cool. Cut at least three strips at each heat, { $width } wide, across the seam.
# $widths is how wide the film tears, as `1 to 1½ in`.
how-peel =
    Peel slowly and steadily, never along the seam. Good: the sheet tears to the scrim over the weld,
    { $widths } wide. Cold: the faces part. Burnt: brown, yellow, char or heavy bleed-out, however
    wide it peels.
how-widths = { $units ->
    [us] 1 to 1½ in
   *[metric] 25 to 40 mm
}
how-window =
    Lowest good heat is the bottom, highest good heat the top: set the machine in the middle.
how-none = No heat holds? Do not weld. Change speed only, and test again.

## Cautions

caution-nozzle =
    Nozzle air burns and starts fires: fire watch and extinguisher at hand. Ventilate the fumes.
caution-generator =
    Generator: carbon monoxide, no hot fueling, grounded, GFCI where required.
caution-edge =
    Roof edge: fall protection. Thunder: clear the roof. Heat, cold and wind: the crew's own
    competent person decides.
caution-peel-decides =
    This plan says where to start; the peel says whether it holds. Local codes, the project
    specification and the membrane maker's instructions come first.
