//! (coming)
