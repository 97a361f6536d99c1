### Los días, como los dice `src/words/dates.rs`.
### $weekday va de 1 (lunes) a 7 (domingo), $month de 1 (enero) a 12, $day es el día del mes.

date-full = { weekday }, { $day } de { month } de { $year }
date-of-this-year = { weekday }, { $day } de { month }
date-short = { $day } { month-short }

weekday = { $weekday ->
    [1] lunes
    [2] martes
    [3] miércoles
    [4] jueves
    [5] viernes
    [6] sábado
   *[7] domingo
}
month = { $month ->
    [1] enero
    [2] febrero
    [3] marzo
    [4] abril
    [5] mayo
    [6] junio
    [7] julio
    [8] agosto
    [9] septiembre
    [10] octubre
    [11] noviembre
   *[12] diciembre
}
month-short = { $month ->
    [1] ene
    [2] feb
    [3] mar
    [4] abr
    [5] may
    [6] jun
    [7] jul
    [8] ago
    [9] sep
    [10] oct
    [11] nov
   *[12] dic
}
