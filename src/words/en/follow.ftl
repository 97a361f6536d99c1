### A hold on a followed day, as the calendar shows it: `src/render/ics/texts.rs`.
### $start and $end are times of day, $why one or several words such as "rain", $reasons the same in full.

hold-summary = HOLD until { $end } · { $why }: no welding
hold-span = No welding from { $start } to { $end }: { $reasons }.
hold-resumes = Welding resumes with a test weld, when the sheet is dry.
hold-off-the-roof = Off the roof: what cannot be tied down comes down with you.
