### Títulos, rótulos y líneas cortas de la página de texto y de la página web.

section-glance = De un vistazo
section-tests = Cuándo probar, qué ajustar
section-stand-by = En espera (no están en el plan, pero pueden hacer falta)
section-picture = Aire y membrana
section-hours = Hora por hora
section-spans = Cuándo se puede soldar
section-notes = Notas
section-advice = Consejos
section-how = La soldadura de prueba (práctica común)
section-cautions = Advertencias

## De un vistazo: rótulos de doce letras como máximo, y lo que va detrás

glance-shift = Turno
glance-weldable = Se suelda
glance-roof = Techo
glance-tests = Pruebas
glance-air = Aire
glance-sheet = Membrana
glance-seam = Costura
shift-hours = { $start } a { $end }
weldable-hours = de { $first } a { $last }, { $work } de trabajo
weldable-never = nada en este turno
tests-none = ninguna
tests-at = { $count }, a las { $times }
air-range = de { $low } a { $high }, un cambio de { $swing }
sheet-range = de { $low } a { $high }, por el sol, el cielo y el viento

## Las pruebas

tests-no-minute = Sin soldadura de prueba: no hay minuto de este turno para soldar.
tests-none-planned =
    No hay soldadura de prueba en el plan, y sin ella no se suelda producción.
test-air = { $why }; aire { $air }
test-air-and-sheet = { $why }; aire { $air }, membrana { $sheet }

## Títulos de columnas

column-time = Hora
column-why = Por qué
column-air = Aire
column-sheet = Membrana
column-sheet-short = Memb
column-dew = Rocío
column-wind = Viento
column-gust = Ráf.
column-rain = Lluvia
column-tests = Pruebas
column-welder = Soldadora
column-speed = Velocidad
column-heats = Temperaturas
hours-air = aire { $unit }
hours-gust = ráf. { $unit }
hours-rain = lluvia { $unit }
hours-tests = pruebas

## El dibujo

picture-title = Aire y membrana, de { $start } a { $end }
picture-air = aire
picture-sheet = membrana
picture-air-alone = aire (con este pronóstico no se puede saber la membrana)
picture-sheet-band = membrana, de la más baja a la más alta
picture-break = descanso
picture-test = soldadura de prueba
picture-stand-by = en espera
signs-curves = o aire, * membrana, @ ambos
signs-air-alone = o aire; con este pronóstico no se puede saber la membrana
signs-strip = {". soldar, ~ cuidado, # alto, = descanso; T soldadura de prueba"}
