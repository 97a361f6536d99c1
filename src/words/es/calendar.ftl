### Lo que dicen los recordatorios: SUMMARY, DESCRIPTION, CATEGORIES y el nombre del calendario.

calendar-name = Soldaduras de prueba: { $site }
category-test = Soldadura de prueba
category-evening = Plan de soldaduras de prueba
category-hold = Alto a la soldadura

## La línea que suena: partes unidas por un punto. Caben unas cuarenta letras: lo más corto posible.

summary-test = Prueba
summary-heats = { $low }–{ $high } { $unit } cada { $step }
summary-all-welders = las { $count } soldadoras
summary-more = +{ $count } más
summary-tomorrow-one =
    Mañana: 1 soldadura de prueba a las { $time } · { $weldable } para soldar · { $site }
summary-tomorrow =
    Mañana: { $count } soldaduras de prueba desde las { $time } · { $weldable } para soldar · { $site }
summary-tomorrow-untested =
    Mañana: sin soldadura de prueba en el plan · { $weldable } para soldar · { $site }
summary-tomorrow-none = Mañana: no se suelda · { $site }
summary-cancelled = CANCELADA: { $earlier }
description-cancelled =
    Ya no está en el plan: cambió el pronóstico o el turno. Lo demás del día sigue en pie.

## Descripciones

event-head = { $time }, aire { $air }. Por qué: { $why }.
event-care = Cuidado: { $reasons }.
event-stale =
    PRONÓSTICO VIEJO del { $read }: desde entonces no se pudo consultar el servicio meteorológico.
    Vigilen el termómetro y el cielo.
evening-head = { $day }: de { $start } a { $end } en { $site }.
evening-air = Aire de { $low } a { $high }.
evening-weldable = Para soldar { $work }, entre las { $first } y las { $last }.
evening-no-welding = No se suelda: el clima lo detiene todo el turno.
evening-test = { $why }, aire { $air }
evening-no-test = Ninguna en el plan. Sin ella no se suelda producción.
evening-span = { $start } a { $end }
evening-missing = No está en este pronóstico: { $fields }.
evening-gaps = Falta en algunas horas: { $fields }.
evening-bridged = Aire que falta, completado con las horas vecinas: { $hours }.
evening-issued = Pronóstico emitido el { $issued }.
event-source = Clima: { $source }. { $credit }
head-how = Cómo hacer la prueba
head-cautions = Advertencias
head-tests = Soldaduras de prueba
head-weather = Clima que detiene o frena la soldadura
head-notes = Notas
head-advice = Consejos

## Un alto, en un día que se sigue

summary-hold = ALTO hasta las { $end } · { $why }: no suelden
hold-head = No suelden de las { $start } a las { $end }: { $reasons }.
hold-resumes = Se vuelve a soldar con una soldadura de prueba, con la membrana seca.
hold-off-the-roof = Bajen del techo: lo que no se pueda amarrar, baja con ustedes.
