pub fn ahead_page(
    _: &[crate::season::SiteAhead],
    _: &[crate::season::Failed],
    _: chrono::DateTime<chrono::Utc>,
) -> String {
    String::new()
}
pub fn years_page(
    _: &[crate::season::SiteYears],
    _: &[crate::season::Failed],
    _: chrono::DateTime<chrono::Utc>,
) -> String {
    String::new()
}
