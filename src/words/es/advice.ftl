### De qué cuidarse, cómo se hace una soldadura de prueba, y las advertencias. Las fuentes quedan en
### sus paréntesis.

## Consejos

advice-stale =
    Este pronóstico no se pudo renovar. Miren el cielo y vuelvan a planear antes de empezar.
    (práctica común)
advice-lightning =
    Truenos: bajen del techo a un edificio cerrado o a un vehículo de techo duro, y quédense ahí
    hasta { $minutes } min después del último trueno. No empiecen nada que no se pueda parar rápido.
    (OSHA/NOAA FS-3863)
advice-storm-wind =
    Viento o ráfagas de { $from } o más: paren, amarren todo y despejen el techo. Una regla de EE. UU.
    para trabajo en líneas eléctricas llama viento fuerte a más de 40 mph. (29 CFR 1926.968; práctica
    común en techos)
advice-seal =
    Lluvia desde las { $rain }: todo lo abierto, sellado a más tardar a las { $sealed }. No abran más
    techo que eso. (práctica común)
advice-seal-after-work =
    Lluvia desde las { $rain }, después del trabajo: todo lo abierto, sellado a más tardar a las
    { $sealed }. (práctica común)
# $stretches es uno o más de open-seam, open-seam-area y open-seam-rolls.
advice-open =
    Lo que se puede sellar hasta las { $sealed } a las velocidades del plan: { $stretches }.
    Esquinas, detalles y soldaduras a mano van aparte: abran menos. (práctica común)
advice-open-lacks =
    Lo que se puede sellar hasta las { $sealed } a las velocidades del plan: { $stretches }.
    Esquinas, detalles y soldaduras a mano van aparte: abran menos. El archivo del sitio puede decir
    más: agreguen { $keys }. (práctica común)
advice-open-none =
    Ni una costura se puede probar y soldar a más tardar a las { $sealed }: no abran techo antes de esa
    lluvia. (práctica común)
advice-open-by-hand =
    Cuánto se puede sellar no se puede decir: ninguna soldadora del archivo del sitio tiene
    `kind = "automatic"`, y una soldadora de mano no tiene velocidad de avance. Vayan al paso de la
    cuadrilla, y abran menos. (práctica común)
open-seam = { $seam } de costura desde las { $start }
open-seam-area = { $seam } de costura desde las { $start }, { $area } de techo
open-seam-rolls =
    { $seam } de costura desde las { $start }, { $area } de techo, { $rolls ->
        [one] { $rolls } rollo entero
       *[other] { $rolls } rollos enteros
    }
open-area-us = { $feet } sq ft ({ $squares } cuadros)
open-area-metric = { $meters } m²
advice-dusk =
    Oscuro desde las { $dark }: sellen lo abierto mientras se pueda ver, y tengan luz para las
    soldaduras de prueba. (práctica común)
advice-wet =
    Nada mojado se suelda: la humedad en el traslape se vuelve vapor. Sequen y limpien el traslape, y
    hagan otra prueba antes de volver a soldar. (práctica común)
advice-dew =
    Rocío: sequen el traslape con un trapo y revisen antes de la primera soldadura; la práctica en
    recubrimientos pide una superficie por lo menos { $margin } arriba del punto de rocío.
    (ISO 8502-4, como la citan las guías de recubrimientos)
advice-ice =
    Escarcha o hielo: techo resbaloso. No suban hasta que desaparezca, y usen protección contra
    caídas. (29 CFR 1926.451(f)(8) para andamios; práctica común en techos)
advice-heat =
    Índice de calor de hasta { $index } a la sombra, más al sol: agua, sombra, descanso, y que los
    nuevos se acostumbren poco a poco. Un descanso de { $minutes } min o más pide una soldadura de
    prueba después. (índice de calor del NWS; CDC/NIOSH 2017-127)
advice-heat-rest =
    Índice de calor de hasta { $index } a la sombra, más al sol: agua, sombra, descanso, y que los
    nuevos se acostumbren poco a poco. La tabla de CDC/NIOSH para trabajo moderado pide { $rest } min
    de descanso después de { $work } min de trabajo. Un descanso de { $minutes } min o más pide una
    soldadura de prueba después. (índice de calor del NWS; CDC/NIOSH 2017-127)
advice-heat-beyond =
    Índice de calor de hasta { $index } a la sombra, más al sol: agua, sombra, descanso, y que los
    nuevos se acostumbren poco a poco. La tabla de CDC/NIOSH para trabajo moderado no llega más allá
    de este calor: pasen el trabajo a una hora más fresca. Un descanso de { $minutes } min o más pide
    una soldadura de prueba después. (índice de calor del NWS; CDC/NIOSH 2017-127)
advice-cold =
    Aire a menos de { $below }: mantengan los rollos tibios, vayan más lento, hagan pruebas más
    seguido. Muchas especificaciones paran ahí los adhesivos y el trabajo de membrana: revisen la
    suya. (práctica común)
advice-cold-chill =
    Aire a menos de { $below }: mantengan los rollos tibios, vayan más lento, hagan pruebas más
    seguido. Muchas especificaciones paran ahí los adhesivos y el trabajo de membrana: revisen la
    suya. Sensación térmica por viento de hasta { $chill }: con las manos calientes se suelda mejor.
    (práctica común)
advice-gust =
    Las ráfagas enfrían el traslape, desvían el aire caliente y hacen velas de las membranas: cubran
    la soldadora del viento, pongan peso en los rollos, dos personas en cada membrana. (práctica
    común)
advice-shield =
    Viento: cubran la soldadora y hagan la prueba detrás de la misma protección. (práctica común)
advice-generator-short =
    Generador: a esta altura y con este calor no le quedan más de { $available } W; lo conectado pide
    { $wanted } W. Sin voltaje suficiente una soldadora trabaja fría. (práctica común; pérdida de
    potencia como la dan los manuales de generadores)
advice-generator-small =
    Generador: { $rated } W de placa; el oficio pide { $wanted } W o más para una soldadora automática
    sola. (práctica común)
advice-generator-shared =
    Den a la soldadora automática un generador para ella sola: atornilladores y soldadoras de mano se
    conectan en otro. (práctica común)
advice-cord =
    Extensión de { $welder }: en ella se pierde { $drop } % del voltaje y llega { $watts } % de los
    watts. Más corta o más gruesa. (ley de Ohm; 3 % es lo que aconseja el NEC para un ramal)

## Cómo se corta y se pela la prueba. Práctica común.

how-weld =
    Suelden tiras de la membrana de hoy, del rollo en uso, donde está el trabajo. Ajusten primero
    pesas y aire, y ya no los toquen; mantengan la velocidad; cambien solo la temperatura.
how-cut =
    Dejen enfriar cada soldadura. Corten por lo menos tres tiras con cada temperatura, de { $width }
    de ancho, a través de la costura.
how-peel =
    Pelen despacio y parejo, nunca a lo largo de la costura. Buena: la membrana se desgarra hasta la
    malla (scrim) sobre la soldadura, { $widths } de ancho. Fría: las caras se separan. Quemada:
    café, amarillo, carbón o mucho derrame (bleed-out), no importa qué tan ancho aguante.
how-widths = { $units ->
    [us] de 1 a 1½ in
   *[metric] de 25 a 40 mm
}
how-window =
    La temperatura buena más baja es el límite de abajo, la más alta el de arriba: pongan la máquina
    en el centro.
how-none =
    ¿No aguanta con ninguna temperatura? No suelden. Cambien solo la velocidad y hagan otra prueba.

## Advertencias

caution-nozzle =
    El aire de la boquilla quema y provoca incendios: vigilante de incendios y extintor a la mano.
    Ventilen los humos.
caution-generator =
    Generador: monóxido de carbono, no cargar combustible en caliente, con tierra, GFCI donde se
    exija.
caution-edge =
    Borde del techo: protección contra caídas. Truenos: despejen el techo. Calor, frío y viento:
    decide la persona competente de la cuadrilla.
caution-peel-decides =
    Este plan dice dónde empezar; el pelado dice si aguanta. Primero van los códigos locales, la
    especificación del proyecto y las instrucciones del fabricante de la membrana.
