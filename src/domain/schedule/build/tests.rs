//! The problem that a card makes, row by row.
