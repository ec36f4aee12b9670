//! What people read: sentences, day sheets, pages.

pub mod narrative;
pub mod report;
pub mod sheet;
