### Lo que pregunta `record`, y por qué no se acepta una prueba: en la línea de comandos y en la página
### de la cuadrilla.

## Alrededor de las preguntas

record-welcome = Una pregunta a la vez. Enter toma lo que está entre corchetes, `-` es nada,
record-keys = `b` regresa, `?` explica, Ctrl-D para sin escribir nada.
record-nothing-offered = nada
record-stopped = Se paró; no se escribió nada.
record-not-taken = No aceptada: { $why }
record-go-back = Regresen con `b`.
record-once-more = { $why }; otra vez, por favor
record-line-too-long = esa línea es demasiado larga
record-line-no-text = esa línea no es texto UTF-8
record-first-question = esta es la primera pregunta
record-needs-answer = esta pregunta necesita respuesta
record-mend-first = así no se puede aceptar; regresen con `b`
record-yes-or-no = se espera `sí` o `no`
record-one-of-list =
    se espera una de la lista, por su número de 1 a { $most } o por su nombre
record-count-of-heats = se esperan de 1 a { $most } temperaturas, se encontraron { $found }
record-no-forecast = nota: no hay pronóstico a la mano; no se ofrece nada del plan de hoy

## Las preguntas, y lo que dice `?`

ask-checkpoint = Prueba del plan ({ $listed })
help-checkpoint = Cuál soldadura de prueba del plan de hoy es esta: { $listed }.
help-checkpoint-how = Escriban su número o su hora.
ask-welder = Soldadora ({ $listed })
help-welder = La máquina que se probó, por su número o por su nombre en el archivo del sitio.
ask-when = Cuándo
help-when =
    Cuándo se soldaron las tiras: `07:10` si fue hoy, o una fecha y una hora, según el reloj del sitio.
ask-who = Quién la hizo
help-who = Quien manejó la soldadora y peló las tiras.
ask-air = Aire a la sombra, según su termómetro
ask-air-forecast = Aire a la sombra, según su termómetro; entre corchetes el del pronóstico
help-air =
    Léanlo a la sombra donde está el trabajo. Una lectura también enseña cuánto falla el pronóstico
    en este sitio; tomar el del pronóstico no enseña nada.
ask-sheet = Temperatura de la membrana
help-sheet =
    La superficie de la membrana con termómetro infrarrojo, donde está tendida y por donde va la
    soldadura. Déjenla fuera si no se leyó.
ask-lot = Lote de la membrana
help-lot =
    Lo que el fabricante de la membrana imprimió en la envoltura. Un lote nuevo pide otra soldadura de
    prueba.
ask-roll = Rollo
help-roll = El rollo en uso, si la cuadrilla los numera.
ask-weights = Pesas
help-weights =
    En sus palabras: `todas`, `dos placas`. Se ajustan una vez y no se tocan: si cambian entre
    temperaturas, la prueba no demuestra nada.
ask-air-flow = Flujo de aire
help-air-flow =
    En sus palabras: `todo`, `80 %`. Se ajusta una vez y no se toca: si cambia entre temperaturas, la
    prueba no demuestra nada.
ask-speed = Velocidad fija, { $unit }
help-speed =
    La única velocidad que se mantuvo con todas las temperaturas, como en la máquina. Si cambian
    temperatura y velocidad a la vez, el resultado no dice nada.
ask-heats = Temperaturas que se probaron, { $unit }
help-heats =
    Cada temperatura que se probó, como en la máquina, separadas por comas o espacios.
ask-strips = Tiras con { $heat }
help-strips =
    De cada tira, qué ancho aguantó ({ $unit }) y cómo se separó, separadas por comas:
help-strips-how =
    cómo: film-tear (desgarre), cold (fría), mixed (mixta); señales detrás de un `+`: browning
    (café), yellowing (amarillo), char (carbón), heavy-bleed-out (mucho derrame), void (hueco),
    scrim-not-reached (sin llegar a la malla); `along` si se peló a lo largo de la costura (si no se
    dice, a través: across); `x3` si hay tres iguales. Basta el principio de una palabra. `none` si no
    se cortó ninguna tira.
ask-note = Algo más
help-note = Lo que deban saber la oficina o la cuadrilla de mañana.
ask-ran = Ajuste que de veras se usó
help-ran =
    En qué se puso de veras la máquina después de esta prueba, si ya se sabe: `925 at 8`, o `925` con
    una soldadora de mano.
ask-confirm = ¿Anotarla? (sí o no)
help-confirm =
    `sí` anota la prueba en el libro, `no` para sin escribir nada, `b` regresa.
answer-yes = sí
answers-yes = sí si s
answers-no = no n

## Lo que se escribió no se entiende

typed-found = { $expected }, se encontró { $found }
typed-temperature = se espera una temperatura en { $unit }, como `{ $such }`
typed-speed = se espera una velocidad en { $unit }, como `{ $such }`
typed-thickness = se espera un espesor en { $unit }
typed-width-us = se espera un ancho en in, como `1.5` o `1 1/2`
typed-width-metric = se espera un ancho en mm, como `38`
typed-comma =
    { $expected }; escriban los decimales con punto y los miles sin coma
typed-entry = entrada { $entry }: { $why }
typed-most-strips = se esperan como máximo { $most } tiras con una temperatura
typed-width-first = se espera primero el ancho: { $form }; se encontró { $found }
typed-form =
    ANCHO CÓMO[+SEÑAL…] [along] [xN], separadas por comas, como `1.5 film-tear x2, 0.3 cold`
typed-how-missing = se espera detrás del ancho cómo se separó: { $listed }
typed-times = se espera de `x1` a `x{ $most }`, se encontró { $found }
typed-how = se espera cómo se separó: { $listed }; se encontró { $found }
typed-sign = se espera una señal: { $listed }; se encontró { $found }
typed-way = se espera hacia dónde se peló: { $listed }; se encontró { $found }
typed-moment =
    se espera una hora como `YYYY-MM-DD HH:MM` (año-mes-día) o `HH:MM` del reloj del sitio, o como
    RFC 3339; se encontró { $found }
typed-moment-skipped =
    { $found } no existe en el reloj del sitio: el reloj se adelanta por encima de esa hora
typed-checkpoint =
    se espera el nombre de una prueba del plan, como `after-lunch`, de 1 a { $most } letras, se encontró
    { $found }
typed-polymer = se espera `pvc`, `tpo` o `kee`, se encontró { $found }
typed-strips-for-heats =
    se espera un `--strips` por cada `--heat`, se encontraron { $strips } para { $heats }; una
    temperatura sin tiras lleva `--strips none`
typed-trial-unreadable = la prueba no se puede leer; no se escribió nada
typed-and-more = y { $more } más
typed-empty = `{ $flag }` está vacío: escríbanlo con palabras
typed-no-who = se espera el nombre de quien hizo la prueba, no se encontró ninguno
typed-no-air = se espera la temperatura del aire a la sombra, no se encontró ninguna
typed-no-welder = se espera una de las soldadoras del sitio: { $names }

## Una prueba que no entra en el libro

refused-trial = la prueba no se acepta; no se escribió nada
refused-run = el ajuste que de veras se usó no se acepta; no se escribió nada
refusal-no-number = { $field }: no es un número; escríbanlo con cifras
refusal-out-of-range =
    { $field }: se encontró { $found }, se espera { $expected }; revisen la cifra y su unidad
refusal-bounds = de { $low } a { $high } (de { $least } a { $most })
refusal-in-the-future =
    la prueba tiene fecha de { $ahead } después de ahora: revisen la fecha y el reloj
refusal-nameless = { $field }: está vacío; escriban un nombre
refusal-no-heats = la prueba no tiene temperaturas: anoten por lo menos una, con sus tiras
refusal-too-many =
    { $field }: tiene { $found } entradas, se esperan { $most } como máximo; dividan la prueba
refusal-too-long =
    { $field }: tiene { $found } letras, se esperan { $most } como máximo; acórtenlo
refusal-hand-speed =
    se dio una velocidad para una soldadora de mano, que no tiene: quiten la velocidad
record-field = { $field ->
    [who] el nombre de quien la hizo
    [welder] la soldadora
    [lot] el lote
    [roll] el rollo
    [weights] las pesas
    [air-flow] el flujo de aire
    [heat-weights] las pesas con una temperatura
    [heat-air-flow] el flujo de aire con una temperatura
    [note] la nota
    [ambient] el aire
    [sheet] la membrana
    [thickness] el espesor
    [speed] la velocidad
   *[trial] la prueba
}
field-heat = temperatura { $heat }
field-heat-speed = la velocidad con la temperatura { $heat }
field-bond-width = el ancho con la temperatura { $heat }, tira { $strip }

## Qué pasó con ella

record-written = anotada como prueba { $id }
record-corrected = prueba { $id } corregida; lo que decía antes se puede seguir leyendo
record-dry-run = ensayo: no se escribió nada
record-proves-nothing = no es concluyente
record-ran-outside =
    el ajuste que de veras se usó es { $ran }, pero el archivo del sitio da a { $welder } de { $lowest }
    a { $highest }
record-no-such-checkpoint =
    el plan a la mano no tiene la prueba { $id } (tiene { $ids }), así que la prueba cuenta por su hora
record-no-checkpoints = ninguna
record-stopped-early = se paró antes del final; no se escribió nada
record-no-trial =
    no hay prueba { $id } de este sitio en el libro; `fairseam book` las lista
record-sent-otherwise =
    este envío lleva el nombre de otro: abran la prueba y anótenla otra vez
record-put-back = prueba { $id } puesta de nuevo; que se retiró se puede seguir leyendo
record-withdrawn = prueba { $id } retirada; no cuenta para nada y se puede seguir leyendo
record-withdrawn-already =
    la prueba { $id } ya la retiró { $by } el { $on }: no hay nada que retirar
record-no-trial-here = la prueba { $id } no es de este sitio
record-book-busy = alguien más está escribiendo en el libro: prueben otra vez
