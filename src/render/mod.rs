//! A review turned into bytes: words on a terminal, or a machine-readable report.
