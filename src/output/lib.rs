//! What people read: sentences, day sheets, pages.

pub mod report;
pub mod sheet;
pub mod narrative;
