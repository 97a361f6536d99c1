//! The key itself: made, read as typed, hashed. It is never printed but once, and never kept.

use std::fmt;

use sha2::{Digest, Sha256};

use super::fault::KeysFault;

/// Bytes of randomness in a key.
const BYTES: usize = 32;
/// Signs of a key: five bits each.
const SIGNS: usize = (BYTES * 8).div_ceil(5);
/// Thirty-two signs that are not mistaken for each other when read out or typed: no i, l, o, u.
const ALPHABET: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";

/// A key, to be shown once.
#[derive(Clone, PartialEq, Eq)]
pub struct Secret([u8; BYTES]);

/// What is kept of a key.
///
/// One round of SHA-256 will do: a hash that is slow on purpose protects what a person has thought
/// up, and nobody guesses 256 random bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct KeyHash([u8; 32]);

impl Secret {
    /// A new one.
    ///
    /// # Errors
    /// [`KeysFault::NoRandomness`].
    pub fn make() -> Result<Self, KeysFault> {
        let mut bytes = [0; BYTES];
        getrandom::fill(&mut bytes)
            .map_err(|cause| KeysFault::NoRandomness { cause: cause.to_string() })?;
        Ok(Self(bytes))
    }

    /// As somebody typed or pasted it: blanks and hyphens do not count, nor does case, and the
    /// letters that look like figures are taken for them. `None` where it cannot be a key.
    pub fn read(text: &str) -> Option<Self> {
        // A key with a hyphen after every sign is the longest that is looked at.
        if text.len() > 2 * SIGNS + 16 {
            return None;
        }
        let (mut bits, mut held) = (0_u32, 0_u32);
        let mut bytes = Vec::with_capacity(BYTES);
        let mut signs = 0;
        for sign in text.bytes().filter(|sign| !matches!(sign, b' ' | b'-' | b'\r' | b'\n' | b'\t'))
        {
            let sign = match sign.to_ascii_lowercase() {
                b'o' => b'0',
                b'i' | b'l' => b'1',
                other => other,
            };
            let value = ALPHABET.iter().position(|one| *one == sign)?;
            held = (held << 5 | u32::try_from(value).ok()?) & 0xfff;
            bits += 5;
            signs += 1;
            if bits >= 8 {
                bits -= 8;
                bytes.push(u8::try_from(held >> bits & 0xff).ok()?);
            }
        }
        // The last sign carries four bits that mean nothing: they are zero.
        let rest_is_zero = held & ((1 << bits) - 1) == 0;
        let bytes = <[u8; BYTES]>::try_from(bytes).ok()?;
        (signs == SIGNS && rest_is_zero).then_some(Self(bytes))
    }

    /// In the signs that [`Self::read`] reads. Whoever calls this shows the key.
    pub fn shown(&self) -> String {
        let (mut bits, mut held) = (0_u32, 0_u32);
        let mut text = String::with_capacity(SIGNS);
        let mut push = |value: u32| text.push(char::from(ALPHABET[(value & 31) as usize]));
        for byte in self.0 {
            held = (held << 8 | u32::from(byte)) & 0xfff;
            bits += 8;
            while bits >= 5 {
                bits -= 5;
                push(held >> bits);
            }
        }
        if bits > 0 {
            push(held << (5 - bits));
        }
        text
    }

    /// What is kept of it.
    pub fn hash(&self) -> KeyHash {
        KeyHash(Sha256::digest(self.0).into())
    }
}

/// A key does not get into a log by way of `{:?}`.
impl fmt::Debug for Secret {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("Secret(***)")
    }
}

impl KeyHash {
    /// In hexadecimal digits, as the database has it.
    pub fn hex(&self) -> String {
        self.0.iter().map(|byte| format!("{byte:02x}")).collect()
    }

    /// From those.
    pub fn from_hex(text: &str) -> Option<Self> {
        let mut bytes = [0; 32];
        if text.len() != 64 || !text.is_ascii() {
            return None;
        }
        for (byte, at) in bytes.iter_mut().zip((0..64).step_by(2)) {
            *byte = u8::from_str_radix(text.get(at..at + 2)?, 16).ok()?;
        }
        Some(Self(bytes))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_read_back_however_it_is_typed() {
        for _ in 0..200 {
            let key = Secret::make().unwrap();
            let shown = key.shown();
            assert_eq!(shown.len(), SIGNS);
            assert_eq!(Secret::read(&shown), Some(key.clone()));
            let typed = shown.to_uppercase().replace('0', "O").replace('1', "l");
            let typed: Vec<String> = typed
                .as_bytes()
                .chunks(4)
                .map(|four| String::from_utf8_lossy(four).into())
                .collect();
            assert_eq!(Secret::read(&typed.join("-")), Some(key.clone()));
            assert_eq!(KeyHash::from_hex(&key.hash().hex()), Some(key.hash()));
        }
        // All bits set: 256 bits are fifty-one times five ones, then one bit and four zeros.
        assert_eq!(Secret([0xff; BYTES]).shown(), format!("{}g", "z".repeat(51)));
        assert_eq!(Secret([0; BYTES]).shown(), "0".repeat(52));
    }

    #[test]
    fn what_cannot_be_a_key_is_none() {
        let zeros = "0".repeat(51);
        for wrong in [
            String::new(),
            zeros.clone(),
            format!("{zeros}1"),
            format!("{zeros}u"),
            format!("{zeros}00"),
            format!("{zeros}é"),
            "0".repeat(10_000),
        ] {
            assert_eq!(Secret::read(&wrong), None, "{wrong}");
        }
        assert_eq!(format!("{:?}", Secret([1; BYTES])), "Secret(***)");
    }
}
