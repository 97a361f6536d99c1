### La página de la cuadrilla en el teléfono. Lo que dicen sus programas está en la página con
### {variables} que se llenan ahí; por eso ningún mensaje de esa parte puede elegir plurales.

## El día

crew-title = { $site }: soldaduras de prueba
crew-next = Próxima soldadura de prueba
crew-next-none = No quedan soldaduras de prueba ni hoy ni mañana.
crew-no-plan = No hay plan: { $why }
crew-record-next = Anotar esta prueba
crew-record-other = Anotar otra soldadura de prueba
crew-running = Ajuste de ahora
crew-today = Hoy
crew-tomorrow = Mañana
crew-tested = Hechas hoy
crew-tested-none = Ninguna todavía.
crew-notes = Para tener en cuenta
crew-spans = Cuándo se puede soldar
crew-cautions = Advertencias
crew-how = La soldadura de prueba (práctica común)
crew-speed = Velocidad fija
crew-heats = Temperaturas
crew-by-hand = a mano
crew-skip = Ir a las soldaduras de prueba
crew-language = Idioma
crew-leave-device = Las pruebas sin enviar se quedan en este teléfono hasta que se envían.
crew-no-script =
    Esta página necesita programas (scripts) para anotar una prueba. El plan de abajo se lee sin ellos.
crew-enter = Ponga su clave
crew-stale =
    Pronóstico viejo: desde hace { $age } no se pudo consultar el servicio del tiempo. Miren el cielo.
crew-warned = La oficina tiene una nota sobre cómo llegó este pronóstico: pregunten, y miren el cielo.
crew-tested-line = { $time }, { $welder }: { $setting }
crew-by = por { $who }

## Cómo va cada prueba

crew-standing-done = hecha
crew-standing-late = hecha tarde
crew-standing-proved-nothing = se hizo, no demostró nada
crew-standing-missed = faltó
crew-standing-overdue = atrasada
crew-standing-not-due = por hacer
crew-made-here = hecha en este teléfono

## La hora

crew-in = en { $duration }
crew-now = ahora
crew-ago = tocaba hace { $duration }
crew-duration-minutes = { $minutes } min
crew-duration-hours = { $hours } h { $minutes } min
crew-duration-days = { $days } d { $hours } h

## La señal, y lo que falta enviar

crew-signal = Conectado
crew-no-signal = Sin señal: plan de las { $time }
crew-no-key = La clave de este teléfono ya no abre nada: póngala otra vez o pregunte a la oficina
crew-keeps-nothing =
    Este teléfono no guarda nada (ventana privada, o está lleno): anote la prueba en papel
crew-unsent = Falta enviar
crew-unsent-count = Sin enviar: { $count }
crew-unsent-refused = No aceptadas: { $count }
crew-unsent-how =
    Están seguras en este teléfono. Se envían solas cuando haya señal, cada una una sola vez.
crew-send-now = Enviar ahora
crew-not-sent-yet = sin enviar
crew-refused-because = El servidor de la oficina no la aceptó:
crew-open-again = Abrirla otra vez
crew-throw-away = Tirarla
crew-throw-away-sure = ¿Tirarla de veras?
crew-plan-changed = Cambió el plan: próxima prueba a las { $time }.
crew-tested-at = probado a las { $time }
crew-set-words = Pongan { $setting }

## El formulario

crew-step = Paso { $step } de { $steps }
crew-next-step = Siguiente
crew-back = Atrás
crew-leave = Salir
crew-form-leave = Después
crew-to-the-day = Al plan del día
crew-another-trial = Otra soldadura de prueba
crew-half-filled = Hay una prueba a medias
crew-go-on = Seguir con ella
crew-begin-new = Tirarla y empezar otra
crew-ask-welder = ¿Qué soldadora?
crew-ask-who = ¿Quién la manejó?
crew-other-name = Otro nombre
crew-ask-air = Aire, a la sombra
crew-air-hint = Lean su termómetro donde está el trabajo. El pronóstico no cuenta.
crew-ask-sheet = Superficie de la membrana
crew-not-read = No se midió
crew-ask-speed = Velocidad fija
crew-speed-held = Se mantuvo esta velocidad
crew-speed-hint =
    Una sola velocidad para todas las temperaturas. Si cambian dos cosas, el resultado no dice nada.
crew-slower = más lento
crew-faster = más rápido
crew-key-back = borrar la última cifra
crew-key-sign = sobre o bajo cero
crew-key-point = punto
crew-heat-title = { $heat }, temperatura { $number } de { $count }
crew-strip-number = Tira { $number } de { $least }
crew-strip-more = Tira { $number }
crew-half = Hay una prueba a medias: seguir con ella
crew-strip-open = sin terminar
crew-ask-parted = ¿Cómo se separó?
crew-ask-width = ¿Qué ancho aguantó? ({ $unit })
crew-ask-signs = ¿Se ve algo en ella?
crew-parted-film-tear = Desgarre
crew-parted-cold = Fría
crew-parted-mixed = Mixta
crew-sign-browning = café
crew-sign-yellowing = amarillo
crew-sign-char = carbón
crew-sign-heavy-bleed-out = mucho derrame
crew-sign-void = hueco
crew-sign-scrim-not-reached = no se ve la malla
crew-peeled-along = pelada a lo largo de la costura
crew-next-strip = Siguiente tira
crew-same-as-last = Otra igual: { $strip }
crew-heat-done = Temperatura lista
crew-heat-not-welded = Con esta temperatura no se soldó
crew-one-more-strip = Una tira más
crew-take-strip-back = Quitar la última tira
crew-review = El resultado
crew-fill-in = Completarlo
crew-wanted-welder = Falta decir qué soldadora.
crew-wanted-who = Falta decir quién la manejó.
crew-wanted-air = Falta la temperatura del aire.
crew-wanted-speed = Falta la velocidad.
crew-wanted-strips = Todavía no se peló ninguna tira.
crew-write-down = Anotarla
crew-try-heat = Probar { $heat } en esta prueba
crew-other-heat = Otra temperatura
crew-add-heat = Agregar esta temperatura
crew-strips-count = tiras: { $count }
crew-more = Más (lote, rollo, pesas, aire, nota)
crew-more-lot = Lote de la membrana
crew-more-roll = Rollo
crew-more-weights = Pesas
crew-more-air-flow = Flujo de aire
crew-more-ran-heat = Temperatura que de veras se usó después ({ $unit })
crew-more-ran-speed = Velocidad que de veras se usó después ({ $unit })
crew-more-note = Nota
crew-result = Anotada
crew-result-waiting = Segura en este teléfono, sin enviar. El resultado es el del teléfono.
crew-result-sent = En el libro como prueba { $id }. El resultado es el del libro.
crew-result-refused = No aceptada

## El resultado

crew-set = Pongan
crew-do-not-weld = No suelden
crew-why-nothing-good = Ninguna temperatura fue buena.
crew-why-contradiction = Las temperaturas se contradicen.
crew-why-not-conclusive = Esta prueba no demuestra nada.
crew-verdict-good = buena
crew-verdict-cold = fría
crew-verdict-burnt = quemada
crew-verdict-not-conclusive = no demuestra
crew-verdict-none = sin probar
crew-window = Aguanta de { $bottom } a { $top }; { $ends }.
crew-window-one = Aguanta solo con { $top }; { $ends }.
crew-ends-found-found = se hallaron los dos límites
crew-ends-found-open = se halló el de abajo, el de arriba no
crew-ends-open-found = se halló el de arriba, el de abajo no
crew-ends-open-open = no se halló ningún límite
crew-doubt-unknown-welder = El archivo del sitio no tiene esa soldadora: avisen a la oficina.
crew-doubt-other-kind =
    El archivo del sitio tiene esta soldadora como de otro tipo: avisen a la oficina.
crew-doubt-speed-missing =
    Sin velocidad: el resultado vale para una sola velocidad. Repitan la prueba.
crew-doubt-speed-outside-machine =
    El archivo del sitio no da esa velocidad a esta máquina: revisen la cifra y repitan la prueba.
crew-doubt-speed-varied =
    Se cambió la velocidad entre temperaturas. Repitan la prueba con una sola velocidad.
crew-doubt-weights-varied = Se cambiaron las pesas entre temperaturas. Repitan la prueba.
crew-doubt-air-flow-varied = Se cambió el aire entre temperaturas. Repitan la prueba.
crew-other-causes =
    voltaje, extensión y boquilla, y suciedad, agua o membrana levantada en el traslape
crew-finding-hole-in-the-middle =
    Una temperatura falló entre dos buenas: hubo otra causa. Revisen { crew-other-causes }. Luego
    repitan { $heats }.
crew-finding-cold-above-good =
    Fría arriba de una buena: hubo otra causa, o la membrana se sobrecalentó y se pela. Revisen
    { crew-other-causes }. Luego repitan { $heats }.
crew-finding-burnt-below-good =
    Quemada abajo de una buena: hubo otra causa. Revisen { crew-other-causes }. Luego repitan
    { $heats }.
crew-finding-burnt-below-cold =
    Quemada abajo de una fría y ninguna buena: hubo otra causa. Revisen { crew-other-causes }. Luego
    repitan la prueba.
crew-finding-all-cold = Todas frías. Prueben { $heats }, a la misma velocidad.
crew-finding-all-cold-to-maximum =
    Frías hasta el máximo de la máquina. Solo queda la velocidad: otra prueba, más lento.
crew-finding-all-burnt = Todas quemadas. Prueben { $heats }, a la misma velocidad.
crew-finding-all-burnt-to-lowest =
    Quemadas hasta la primera temperatura de la máquina. Solo queda la velocidad: otra prueba, más
    rápido.
crew-finding-cold-then-burnt =
    Frías y luego quemadas. Prueben medios pasos: { $heats }, a la misma velocidad.
crew-finding-cold-then-burnt-none =
    Frías y luego quemadas, y nada queda en medio. Cambien una sola cosa, primero la velocidad, y
    hagan otra prueba.
crew-finding-single-good-heat =
    Una sola temperatura fue buena. Prueben medios pasos a los lados: { $heats }.
crew-finding-single-good-heat-none = Una sola temperatura fue buena: no hay margen.
crew-finding-narrower-than-step =
    Poco margen entre los límites. Prueben medios pasos a los lados: { $heats }.
crew-finding-narrower-than-step-none =
    Poco margen para viento, nubes o voltaje. Hagan pronto otra prueba.
crew-finding-top-not-found =
    No se halló el límite de arriba. Prueben { $heats } para hallarlo, a la misma velocidad.
crew-finding-top-at-maximum =
    Buena hasta el máximo de la máquina: solo más lento se vería el límite de arriba.
crew-finding-bottom-not-found =
    No se halló el límite de abajo. Prueben { $heats } para hallarlo, a la misma velocidad.
crew-finding-bottom-at-lowest =
    Buena hasta la primera temperatura de la máquina: solo más rápido se vería el límite de abajo.
crew-finding-outside-machine =
    Según el archivo del sitio esta máquina no tiene algunas de esas temperaturas, y no demuestran nada.
    Si el archivo está mal, avisen a la oficina.
crew-finding-repeat = { $heats } no demostró nada: repitan.
crew-speed-next = Para esa prueba, cerca de { $speed } según un modelo; nunca es un ajuste.
