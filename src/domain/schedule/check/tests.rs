//! Every kind of limit broken on purpose, one at a time.
