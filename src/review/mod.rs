//! Bytes in, a review out: the one pipeline that every command uses.
