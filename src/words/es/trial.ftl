### Una prueba juzgada: ajuste, ventana, veredictos, qué hay de raro y qué sigue.

## El ajuste y la ventana. $setting es setting-at-speed o una temperatura sola.

setting-run = AJUSTE { $welder }: { $setting }
setting-none = NO SUELDEN con { $welder }: { $why }
setting-at-speed = { $heat } a { $speed }
no-setting-nothing-good = ninguna temperatura fue buena
no-setting-contradiction = las temperaturas se contradicen
no-setting-not-conclusive = esta prueba no demuestra nada
window-head = Ventana de { $window }
window-both = { $bottom } a { $top }, { $width } de ancho; los dos límites encontrados
window-bottom = { $bottom } a { $top }, { $width } de ancho; límite de abajo encontrado, el de arriba no
window-top = { $bottom } a { $top }, { $width } de ancho; límite de arriba encontrado, el de abajo no
window-neither = { $bottom } a { $top }, { $width } de ancho; ningún límite encontrado

## Títulos y rótulos; los rótulos tienen nueve letras como máximo

trial-odd = Qué hay de raro, y qué sigue
trial-heats = Temperatura por temperatura
trial-written = Como se anotó
fact-when = Cuándo
fact-for = Para
fact-machine = Máquina
fact-sheet = Membrana
fact-read = Medido
fact-note = Nota
fact-when-by = { $when } por { $who }
fact-checkpoint = prueba del plan { $id }
fact-lot = lote { $lot }
fact-roll = rollo { $roll }
fact-weights = pesas { $weights }
fact-air-flow = flujo de aire { $flow }
fact-no-speed = sin velocidad
fact-air = aire { $air }
fact-air-and-sheet = aire { $air }, membrana { $sheet }
welder-kind = { $kind ->
    [automatic] automática
   *[hand] de mano
}
held-here = aquí { $what }
list-and = { $before } y { $last }
withdrawn-notice =
    La prueba { $id } de { $welder }, hecha el { $when }, queda retirada por { $by }: { $why }. No
    cuenta para nada, y lo que decía se puede seguir leyendo.
certifies-nothing =
    Esto dice lo que mostraron las tiras. No certifica ninguna costura: decide el pelado, y primero
    van las instrucciones del fabricante de la membrana, la especificación y los códigos locales.

## Lo que demuestra una temperatura

heat-good = buena
heat-cold = fría
heat-burnt = quemada
heat-proves-nothing = no demuestra
strips = { $count ->
    [one] { $count } tira
   *[other] { $count } tiras
}
good-why = { $strips } con desgarre hasta la malla (scrim), la más angosta de { $width }
good-short-why =
    { $strips } con desgarre hasta la malla (scrim), la más angosta de { $width }, menos del ancho
    que se busca
burnt-why = se vio { $signs }; lo quemado cuenta, no importa qué tan ancho aguante
along-set-aside = { $strips } a lo largo de la costura sin contar
cold-parted = { $strips } con separación en frío
cold-mixed = { $strips } con desgarre solo en parte
cold-narrow = { $strips } con desgarre muy angosto, la más angosta de { $width }
cold-void = { $strips } con un hueco
cold-no-scrim = { $strips } sin malla (scrim) a la vista
doubt-few-strips = { $strips } de pelado a través de la costura, se esperan { $needed } o más
doubt-along = { $strips } de pelado a lo largo de la costura, lo que no dice nada
doubt-outside = el archivo del sitio da a esta máquina de { $lowest } a { $highest }

## Una tira

parted = { $way ->
    [film-tear] desgarre de película
    [cold] fría
   *[mixed] mixta
}
sign = { $sign ->
    [browning] café
    [yellowing] amarillo
    [char] carbón
    [heavy-bleed-out] mucho derrame (bleed-out)
    [void] hueco
   *[scrim-not-reached] sin llegar a la malla (scrim)
}
strip-along = pelada a lo largo de la costura
strip-none = sin tiras

## Por qué una prueba entera no demuestra nada, y qué hacer

doubt-not-conclusive = No es concluyente: { $doubt }.
doubt-unknown-welder = el archivo del sitio no tiene la soldadora `{ $name }`
doubt-other-kind = el registro dice que esta soldadora es { $record }, el archivo del sitio que es { $site }
doubt-no-speed =
    no se anotó la velocidad, y una ventana de temperatura vale para una sola velocidad
doubt-speed-outside =
    la velocidad es { $speed }, y según el archivo del sitio esta máquina va de { $slowest } a
    { $fastest }
doubt-speed-varied =
    se cambiaron dos cosas, temperatura y velocidad: se soldó de { $slowest } a { $fastest }
doubt-weights-varied = se cambiaron dos cosas, temperatura y pesas
doubt-air-flow-varied = se cambiaron dos cosas, temperatura y flujo de aire
doubt-changed-at = (cambio en { $heats })
next-unknown-welder =
    Corrijan el nombre en el registro, o pongan la soldadora en el archivo del sitio.
next-other-kind = Corrijan el registro o el archivo del sitio.
next-no-speed =
    Corrijan el registro con la velocidad que se mantuvo; si nadie la sabe, hagan otra prueba.
next-speed-outside =
    Lean otra vez la perilla y corrijan el registro, o corrijan el archivo del sitio.
next-speed-varied = Hagan otra prueba: mantengan una velocidad y cambien solo la temperatura.
next-weights-or-air =
    Hagan otra prueba: ajusten primero pesas y flujo de aire, ya no los toquen, y cambien solo la
    temperatura.

## Hallazgos: lo que se vio

seen-hole =
    Falló { $failed } entre las temperaturas buenas { $below } y { $above }: influyó algo que no es
    la temperatura.
seen-cold-above-good =
    { $cold } salió fría arriba de { $good }, que fue buena: más calor no puede hacer una soldadura
    más fría, así que influyó otra cosa, o la membrana se sobrecalentó y se despega.
seen-burnt-below-good =
    { $burnt } salió quemada abajo de { $good }, que fue buena: menos calor no puede quemar más, así
    que influyó otra cosa.
seen-burnt-below-cold =
    { $burnt } salió quemada abajo de { $cold }, que salió fría, y ninguna temperatura fue buena:
    influyó algo que no es la temperatura.
seen-all-cold =
    Ninguna temperatura fue buena: fría hasta { $heat }, la más alta que se probó.
seen-all-cold-to-maximum =
    Ninguna temperatura fue buena: fría hasta { $heat }, el máximo de la máquina.
seen-all-burnt =
    Ninguna temperatura fue buena: quemada desde { $heat }, la más baja que se probó.
seen-all-burnt-to-lowest =
    Ninguna temperatura fue buena: quemada desde { $heat }, la primera temperatura de la máquina.
seen-cold-then-burnt =
    Ninguna temperatura fue buena: { $cold } salió fría y { $burnt } ya quemada.
seen-single =
    Una sola temperatura fue buena, { $heat }: no hay margen a los lados.
seen-narrow =
    La ventana tiene { $width } de ancho, menos que un paso de { $step }: queda poco margen para
    viento, nubes o voltaje.
seen-top-not-found =
    Buena hasta { $heat }, la más alta que se probó: no se encontró el límite de arriba, y el ajuste
    es el centro de lo que se sabe.
seen-top-at-maximum =
    Buena hasta { $heat }, el máximo de la máquina: el límite de arriba queda fuera de su alcance, y
    el ajuste es el centro de lo que se sabe.
seen-bottom-not-found =
    Buena desde { $heat }, la más baja que se probó: no se encontró el límite de abajo, y el ajuste es
    el centro de lo que se sabe.
seen-bottom-at-lowest =
    Buena desde { $heat }, la primera temperatura de la máquina: el límite de abajo queda fuera de su
    alcance, y el ajuste es el centro de lo que se sabe.
seen-outside-machine =
    { $heats } no demuestra nada: el archivo del sitio da a esta máquina de { $lowest } a { $highest }.
seen-repeat = { $heats } no demuestra nada.

## Hallazgos: qué sigue. Dónde revisar es práctica común.

other-causes =
    voltaje, extensión y boquilla, y mugre, agua o membrana levantada en el traslape
next-look-and-repeat = Revisen { other-causes }. Luego repitan { $heats }.
next-look-and-repeat-all = Revisen { other-causes }. Luego repitan la prueba.
next-try = Prueben { $heat }, a la misma velocidad.
next-nothing-between =
    A esta velocidad ya no queda nada que probar en medio. Cambien una sola cosa, primero la
    velocidad, y hagan otra prueba.
next-half-steps-between = Prueben medios pasos en medio: { $heats }, a la misma velocidad.
next-half-steps-done =
    Los medios pasos a cada lado ya se probaron o quedan fuera del alcance de la máquina. Hagan otra
    prueba antes de lo que pide el plan.
next-half-steps-beside = Prueben medios pasos a los lados: { $heats }, a la misma velocidad.
next-find-top = Prueben { $heat } para encontrar el límite de arriba, a la misma velocidad.
next-find-bottom = Prueben { $heat } para encontrar el límite de abajo, a la misma velocidad.
next-keep-to-heats =
    Quédense en las temperaturas de la máquina; si tiene esta, corrijan `heat_low` o `heat_max` en el
    archivo del sitio.
next-repeat =
    Repitan { $heats }: tres tiras o más con cada temperatura, de 1 in (25 mm) de ancho, de pelado a
    través de la costura.

next-only-speed = Solo queda la velocidad. Hagan otra prueba { $change }.
next-no-slower =
    La máquina no va más lento que { $speed }: ya no quedan ni temperatura ni velocidad. Revisen
    { other-causes }, o usen otra soldadora.
next-no-faster =
    La máquina no va más rápido que { $speed }: ya no quedan ni temperatura ni velocidad. Revisen
    { other-causes }, o usen otra soldadora.
next-hand-slower =
    Solo queda la velocidad, que es la de su mano. Vayan más lento y hagan otra prueba.
next-hand-faster =
    Solo queda la velocidad, que es la de su mano. Vayan más rápido y hagan otra prueba.
next-top-slower = Solo más lento se vería el límite de arriba: una prueba { $change }.
next-bottom-faster = Solo más rápido se vería el límite de abajo: una prueba { $change }.
next-top-last-speed =
    Solo más lento se vería el límite de arriba, y { $speed } es lo último de esta máquina.
next-bottom-last-speed =
    Solo más rápido se vería el límite de abajo, y { $speed } es lo último de esta máquina.
next-top-hand = Solo con la mano más lenta se vería el límite de arriba.
next-bottom-hand = Solo con la mano más rápida se vería el límite de abajo.
speed-slower =
    a unos { $to } en lugar de { $from }, { $by } más lento: vale unos { $worth } de calor (según un
    modelo; una medida para la siguiente prueba, nunca un ajuste)
speed-slower-to-end =
    a unos { $to } en lugar de { $from }, { $by } más lento, hasta donde llega esta máquina: vale unos
    { $worth } de calor (según un modelo; una medida para la siguiente prueba, nunca un ajuste)
speed-faster =
    a unos { $to } en lugar de { $from }, { $by } más rápido: vale unos { $worth } de calor (según un
    modelo; una medida para la siguiente prueba, nunca un ajuste)
speed-faster-to-end =
    a unos { $to } en lugar de { $from }, { $by } más rápido, hasta donde llega esta máquina: vale unos
    { $worth } de calor (según un modelo; una medida para la siguiente prueba, nunca un ajuste)
