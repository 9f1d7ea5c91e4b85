//! Fingerprints of bytes: SHA-256 (FIPS 180-4), written in hexadecimal digits.

use sha2::{Digest as _, Sha256};

/// The SHA-256 of bytes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest([u8; 32]);

impl Digest {
    /// The digest of bytes as they are.
    #[must_use]
    pub fn of(bytes: impl AsRef<[u8]>) -> Self {
        Digest(Sha256::digest(bytes.as_ref()).into())
    }

    /// The digest of several texts in order. The length of each goes before it, so that no two lists of
    /// texts run together into the same bytes.
    #[must_use]
    pub fn of_parts<T: AsRef<[u8]>>(parts: impl IntoIterator<Item = T>) -> Self {
        let mut whole = Sha256::new();
        for part in parts {
            let bytes = part.as_ref();
            whole.update((bytes.len() as u64).to_be_bytes());
            whole.update(bytes);
        }
        Digest(whole.finalize().into())
    }

    /// Its first twelve digits: enough to tell the files of one desk apart, not enough to prove anything.
    #[must_use]
    pub fn short(&self) -> String {
        self.to_string().chars().take(12).collect()
    }
}

impl std::fmt::Display for Digest {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let mut text = String::with_capacity(64);
        let halves = self.0.iter().flat_map(|byte| [byte >> 4, byte & 0xf]);
        text.extend(halves.filter_map(|half| char::from_digit(half.into(), 16)));
        out.write_str(&text)
    }
}

impl std::fmt::Debug for Digest {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        std::fmt::Display::fmt(self, out)
    }
}

/// The SHA-256 of bytes, in 64 hexadecimal digits.
#[must_use]
pub fn sha256_hex(bytes: &[u8]) -> String {
    Digest::of(bytes).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Values of "abc" and of no bytes: the examples of FIPS 180-4 as its test vectors print them.
    const ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    const NOTHING: &str = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";

    #[test]
    fn the_published_examples_come_out() {
        assert_eq!(sha256_hex(b"abc"), ABC);
        assert_eq!(sha256_hex(b""), NOTHING);
        assert_eq!(Digest::of("abc").short(), ABC[..12]);
    }

    #[test]
    fn parts_do_not_run_together() {
        assert_ne!(Digest::of_parts(["ab", "c"]), Digest::of_parts(["a", "bc"]));
        assert_ne!(Digest::of_parts(["abc"]), Digest::of("abc"));
        assert_ne!(Digest::of_parts(["", "abc"]), Digest::of_parts(["abc", ""]));
    }
}
