//! Reads the committed tables of numbers.

/// Every row of `text` after its heading; panics when one does not hold `N` numbers.
pub(crate) fn rows<const N: usize>(text: &str) -> Vec<[f64; N]> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<[f64; N]> = reader
        .records()
        .map(|record| {
            let numbers: Vec<f64> =
                record.unwrap().iter().map(|field| field.parse().unwrap()).collect();
            numbers.try_into().unwrap()
        })
        .collect();
    assert!(rows.len() > 10, "the table is all but empty");
    rows
}
