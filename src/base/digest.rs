//! A short name for the whole of some bytes: the same bytes give the same name, others another.

use std::fmt::Write as _;

use sha2::{Digest as _, Sha256};

/// The SHA-256 digest of some bytes, in 64 small hexadecimal digits.
#[must_use]
pub fn sha256_hex(bytes: &[u8]) -> String {
    let mut name = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
        let _ = write!(name, "{byte:02x}");
    }
    name
}

#[cfg(test)]
mod tests {
    /// FIPS 180-2 (2002), appendix B.1: the digest of "abc".
    #[test]
    fn the_digest_of_abc_is_the_one_of_the_standard() {
        let name = super::sha256_hex(b"abc");
        assert_eq!(name, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
