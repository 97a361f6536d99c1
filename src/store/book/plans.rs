//! Plans kept in the book: which one counts for a day, and whether their chain holds.

use chrono::NaiveDate;

use super::chain::ChainBreak;
use super::entry::EntryId;
use super::fault::BookFault;
use super::keeping::BookStore;
use super::plan_seal::SealedPlan;
use super::reading::PAGE;
use super::seal::NO_HASH;
use crate::quality::{KeptPlan, PlanAtHand, plan_that_counts};

/// The plan that counts for each day of a site from `first` to `last`, both included, as far as one
/// was kept.
///
/// # Errors
/// Whatever keeps the book from being read; [`BookFault::Broken`] for a plan that makes no sense.
pub async fn plans_that_count(
    store: &impl BookStore,
    site_key: &str,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<PlanAtHand>, BookFault> {
    let mut days: std::collections::BTreeMap<NaiveDate, Vec<KeptPlan>> =
        std::collections::BTreeMap::new();
    for sealed in store.plans_between(site_key, first, last).await? {
        let plan = opened(&sealed)?;
        days.entry(plan.date).or_default().push(plan);
    }
    Ok(days.into_values().filter_map(plan_that_counts).collect())
}

/// Walks all plans from the first on; returns the first that does not fit.
pub(super) async fn walk(store: &impl BookStore) -> Result<Option<ChainBreak>, BookFault> {
    let (mut after, mut hash) = (0, NO_HASH.to_owned());
    loop {
        let page = store.plan_page(after, PAGE).await?;
        if page.is_empty() {
            return Ok(None);
        }
        for sealed in page {
            let plan = EntryId(sealed.sequence);
            let holds = sealed.sequence == after + 1
                && sealed.previous_hash == hash
                && sealed.computed_hash() == sealed.hash;
            if !holds {
                return Ok(Some(ChainBreak::PlanAltered { plan: EntryId(after + 1) }));
            }
            if let Err(cause) = sealed.open() {
                return Ok(Some(ChainBreak::PlanUnreadable { plan, cause }));
            }
            (after, hash) = (sealed.sequence, sealed.hash);
        }
    }
}

pub(super) fn opened(sealed: &SealedPlan) -> Result<KeptPlan, ChainBreak> {
    let plan = EntryId(sealed.sequence);
    sealed.open().map_err(|cause| ChainBreak::PlanUnreadable { plan, cause })
}
