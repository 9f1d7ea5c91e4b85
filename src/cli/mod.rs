//! Arguments, exit status, and what the terminal can show.
