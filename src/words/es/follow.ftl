### Un alto en un día seguido, como lo muestra el calendario: `src/render/ics/texts.rs`.

hold-summary = ALTO hasta las { $end } · { $why }: no soldar
hold-span = No se suelda de { $start } a { $end }: { $reasons }.
hold-resumes = Se vuelve a soldar con una soldadura de prueba, cuando la membrana esté seca.
hold-off-the-roof = Bájese del techo: lo que no se pueda amarrar baja con usted.
