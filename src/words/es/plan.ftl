### El plan del día: lo que se dice de pruebas, clima y costura, en papel, en la página y en el teléfono.
### Horas, días y cantidades con su unidad llegan como textos; los números eligen entre formas.

## Veredictos, y lo que detiene o frena la soldadura

verdict = { $verdict ->
    [weld] soldar
    [care] cuidado
   *[hold] alto
}

reason-short-rain = lluvia
reason-short-snow = nieve
reason-short-thunder = truenos
reason-short-wet = membrana mojada
reason-short-frost = escarcha en la membrana
reason-short-wind-stop = viento de tormenta
reason-short-dew = rocío cerca
reason-short-cold = aire frío
reason-short-gust = ráfagas
reason-short-wind = viento
reason-short-heat = calor
reason-short-dark = oscuridad

reason-falls-hourly = { $what }, hasta { $amount } por hora
reason-falls-within = { $what }, { $amount } en algún momento de { $hours } horas
reason-thunder = truenos: bajen del techo
reason-wet = agua o rocío en la membrana, { $depth }
reason-frost = escarcha o hielo en la membrana, { $depth }
reason-wind-stop = viento o ráfagas de { $from } o más
reason-dew = membrana a menos de { $within } del punto de rocío
reason-cold = aire a menos de { $below }
reason-gust = ráfagas de { $from } o más
reason-wind = viento de { $from } o más en el traslape
reason-heat = índice de calor de { $from } o más
reason-dark = oscuridad: antes del amanecer o después del anochecer

## Por qué hay una prueba. because-since sigue a las otras después de un espacio.

because-start = inicio del turno
because-after-break = después de { $name } ({ $minutes } min)
because-air-up = el aire subió { $by }
because-air-down = el aire bajó { $by }
because-air = el aire ha cambiado
because-sheet-warmer = membrana más caliente
because-sheet-cooler = membrana más fría
because-sheet-moves = { $sheet }: el centro se mueve unos { $by } de calor
because-sheet = la membrana ha cambiado
because-elapsed = { $hours } h
because-first-weldable = primer minuto para soldar (antes: { $held })
because-after-hold = se vuelve a soldar (antes: { $held })
because-since = desde la prueba de las { $time }

## Lo que pide una prueba que el plan deja fuera: $cause de note-too-late

cause-start = el inicio del trabajo
cause-after-break = el final de { $name }
cause-air = un cambio del aire
cause-sheet = un cambio de la membrana
cause-elapsed = { $hours } h sin prueba
cause-after-hold = el final de la espera ({ $held })

## Notas

note-no-workday =
    El { weekday } no es día de trabajo de esta cuadrilla; se planeó porque así se pidió.
note-change-waits-air =
    { $due }: el aire habrá cambiado { $change } desde la última prueba. Falta tan poco para
    { $stop } que la prueba espera a la que sigue, a las { $test }.
note-change-waits-sheet =
    { $due }: la membrana habrá cambiado { $change } desde la última prueba. Falta tan poco para
    { $stop } que la prueba espera a la que sigue, a las { $test }.
note-too-late =
    { $due }: { $cause } pide una prueba, pero tan cerca del fin del turno no se planea ninguna.
    Hagan la prueba de todos modos, o no suelden más desde esa hora.
note-held-to-the-end = Desde las { $from } el clima detiene la soldadura hasta el fin del turno.
note-speed-clamped =
    { $welder }: la regla pide una velocidad que esta soldadora no tiene; en el plan está la más
    cercana que sí tiene.
note-rain-unknown =
    Este pronóstico no dice si llueve en todo el turno: miren el cielo y un radar.
note-film-unknown =
    Con este pronóstico no se puede saber si la membrana está seca (para eso hacen falta lluvia,
    nubes o radiación, punto de rocío y viento): sequen el traslape con un trapo y revisen.
note-short-run-up =
    El rocío y la lluvia de antes de las { $from } no están en este pronóstico: se toma la membrana
    como seca a esa hora. Sequen el traslape con un trapo y revisen.
note-clock-longer =
    El reloj cambia durante este turno: dura { $minutes } min más de lo que dice el reloj.
note-clock-shorter =
    El reloj cambia durante este turno: dura { $minutes } min menos de lo que dice el reloj.

## Qué tan segura es una prueba, cuántas, cuándo está seco, cuánta costura

likely-almost-certain = casi seguro, entre las { $earliest } y las { $latest }
likely-percent = { $percent } % probable, entre las { $earliest } y las { $latest }
stand-by =
    { $percent } % de que haga falta una prueba más, como a las { $about } (de { $earliest } a
    { $latest })
tests-one-count = { $count } en ocho de cada diez días como este
tests-between = lo más probable { $count }; de { $low } a { $high } en ocho de cada diez días como este
dry-from = seco desde las { $from } (entre { $earliest } y { $latest })
dry-later = después del turno
seam-up-to = hasta { $seam } descontando pruebas y descansos
seam-target-reached = hasta { $seam }; la meta de { $goal } se alcanza a las { $time }
seam-target-short = hasta { $seam }; faltan { $short } para la meta de { $goal }

## Velocidad y temperaturas de una soldadura de prueba

trial-at-speed = { $speed }, temperaturas { $heats }
trial-by-hand = temperaturas { $heats }
trial-full-range = rango completo
trial-bracket = rango corto
start-no-record =
    no hay soldadura de prueba de los últimos { $days } días en el libro
start-outside-heats =
    el centro anterior está fuera de las temperaturas de esta soldadora
start-book-unreadable = no se pudo leer el libro de soldaduras de prueba
start-too-old =
    la última soldadura de prueba del libro, del { $day }, tiene más de { $days } días
start-other-sheet =
    la última soldadura de prueba del libro, del { $day }, es en otra membrana
start-proved-nothing =
    la última soldadura de prueba del libro, del { $day }, no demostró nada
start-no-setting =
    la última soldadura de prueba del libro, del { $day }, no encontró ajuste
start-center = centro anterior { $heat } ({ $origin })
start-center-at-speed = centro anterior { $heat } a { $speed } ({ $origin })
start-given-by-hand = dado a mano
start-of-day = soldadura de prueba del { $day }
start-speed-middle-moved = el aire pide { $speed }, así que el centro se habrá movido
start-speed-near-enough =
    el aire pide { $speed }, bastante cerca para mantener la velocidad del registro
hint-middle = esperen el centro más cerca de { $heat }
hint-slower = { $step } más lento vale unos { $heat } de calor

## Lo que dice el libro junto a un plan

passed-over = no se tomaron en cuenta: { $trials }
passed-over-more = y { $count } más
passed-over-trial = { $when }, { $why }
why-other-welder = se hizo con otra soldadora
why-other-sheet = se hizo en otra membrana
why-not-conclusive = no demostró nada
why-no-setting = no encontró ajuste: { $why }
why-too-old = tiene { $days } días
why-outside-heats = su centro está fuera de las temperaturas de esta soldadora
why-outside-heats-at =
    su centro, { $heat }, está fuera de las temperaturas de esta soldadora
learned =
    según { $trials } pruebas con esta soldadora el centro está cerca de { $middle }, más o menos
    { $band } (nueve de cada diez), con { $conditions }; hagan la prueba de todos modos
learned-outside =
    según { $trials } pruebas con esta soldadora el centro está cerca de { $middle }, más o menos
    { $band } (nueve de cada diez), con { $conditions }; fuera de las temperaturas de esta
    soldadora; hagan la prueba de todos modos
learned-sheet = la membrana a { $temperature }
learned-air = el aire a { $temperature }
learned-sheet-speed = la membrana a { $temperature } y { $speed }
learned-air-speed = el aire a { $temperature } y { $speed }
known-error =
    Según las { $readings } lecturas del libro en { $days } días, un pronóstico con { $lead } de
    anticipación queda aquí { $bias }, más o menos { $spread } (dos de cada tres días). Las horas
    del plan usan el pronóstico tal como es; qué tan seguras son { $by }.
known-error-by-that = sale de esas lecturas
known-error-by-ensemble = sale de las variantes del propio pronóstico
known-error-low = { $by } bajo
known-error-high = { $by } alto
known-error-right = acertado en promedio
lead-between = { $from } a { $to } h
lead-or-more = { $from } h o más

## De dónde viene el clima

weather-read = Clima: { $source }, leído { $read }
weather-issued-read = Clima: { $source }, emitido { $issued }, leído { $read }
weather-missing = no trae: { $fields }
weather-gaps = con huecos: { $fields }
weather-bridged = aire completado con las horas vecinas a las { $hours }
stale-forecast =
    PRONÓSTICO VIEJO, de hace { $age }: no se pudo consultar el servicio meteorológico.
field = { $field ->
    [air] aire
    [dew_point] punto de rocío
    [humidity] humedad
    [wind] viento
    [gust] ráfagas
    [rain] lluvia
    [snow] nieve
    [cloud_cover] nubes
    [shortwave_radiation] radiación solar
    [precipitation_probability] probabilidad de lluvia
    [thunder] truenos
   *[pressure] presión
}

## Por qué no hay plan

no-plan-no-forecast = no hay ningún pronóstico a la mano
no-plan-air-missing =
    el pronóstico no cubre el turno del { $date }: falta la temperatura del aire en { $missing };
    tiene horas de { $from } a { $to }
no-plan-no-shift =
    no queda turno el { $date } en { $zone }: el cambio de hora se lo lleva entero; se espera un
    `shift.end` después de `shift.start` en tiempo real, elijan otra fecha u otras horas
no-plan-out-of-reach =
    la fecha { $date } está fuera de alcance; se espera una fecha de 1900-01-01 a 2200-12-31
