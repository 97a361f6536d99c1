//! A kept plan as texts, and the hash that ties it to the plan kept before it.

use super::entry::BookSite;
use super::fault::BookFault;
use super::plan_payload;
use super::refusal::Refusal;
use super::seal::{LARGEST_PAYLOAD, NO_HASH, hash_of, stamp};
use crate::quality::KeptPlan;

/// Begins what is hashed, so that no entry's hash can stand for a plan's.
const DOMAIN: &[u8] = b"fairseam test-weld book, plan, format 1\n";

/// A kept plan as texts, sealed. Its hash covers every other field, that of the plan before included.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SealedPlan {
    /// 1, 2, 3 … over all plans of the book.
    pub sequence: u64,
    /// Key of its site.
    pub site_key: String,
    /// Name of its site.
    pub site: String,
    /// Local day on which the shift starts, `YYYY-MM-DD`.
    pub date: String,
    /// UTC to the microsecond.
    pub made_at: String,
    /// What it says, as JSON.
    pub payload: String,
    /// Hash of the plan before; 64 zeros for the first.
    pub previous_hash: String,
    /// SHA-256 in hexadecimal.
    pub hash: String,
}

impl SealedPlan {
    /// `plan` as the one that follows number and hash `last`.
    pub(super) fn seal(
        site: &BookSite,
        plan: &KeptPlan,
        last: Option<(u64, &str)>,
    ) -> Result<Self, BookFault> {
        let payload = plan_payload::write(plan)
            .map_err(|cause| Refusal::Unwritable { cause: cause.to_string() })?;
        // JSON has no word for a number that is none, and would quietly say `null`.
        if plan_payload::read(&payload).as_ref() != Ok(plan) {
            let cause = "a number of it is none".to_owned();
            return Err(Refusal::Unwritable { cause }.into());
        }
        if payload.len() > LARGEST_PAYLOAD {
            let bytes = payload.len();
            return Err(Refusal::TooLarge { bytes, most: LARGEST_PAYLOAD }.into());
        }
        let mut sealed = Self {
            sequence: last.map_or(0, |(sequence, _)| sequence) + 1,
            site_key: site.key.clone(),
            site: site.name.clone(),
            date: plan.date.to_string(),
            made_at: stamp(plan.made_at),
            payload,
            previous_hash: last.map_or(NO_HASH, |(_, hash)| hash).to_owned(),
            hash: String::new(),
        };
        sealed.hash = sealed.computed_hash();
        Ok(sealed)
    }

    /// The hash that belongs to the other fields.
    pub fn computed_hash(&self) -> String {
        let sequence = self.sequence.to_string();
        let fields = [
            self.previous_hash.as_str(),
            &sequence,
            &self.site_key,
            &self.site,
            &self.date,
            &self.made_at,
            &self.payload,
        ];
        hash_of(DOMAIN, &fields)
    }

    /// The plan that it stands for.
    ///
    /// # Errors
    /// What is wrong with its payload. The hash is not looked at.
    pub fn open(&self) -> Result<KeptPlan, String> {
        plan_payload::read(&self.payload)
    }
}
