//! Scenarios of this folder, read as the program reads them.

use std::path::Path;
use tankday::scenario::{Draft, File};

/// Opens one by its path from the root of the project.
pub(crate) fn draft(path: &str) -> Draft {
    let read = |path: &Path| -> Result<File, String> {
        let name = path.display().to_string();
        Ok(File {
            text: std::fs::read_to_string(path).map_err(|e| e.to_string())?,
            id: name.clone(),
            name,
        })
    };
    let file = read(&Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap();
    Draft::open(file, &|asking, written| {
        read(&Path::new(&asking.name).parent().unwrap().join(written))
    })
    .unwrap_or_else(|found| panic!("{}", found.render(false)))
}

/// Reads one.
pub(crate) fn shop(path: &str) -> tankday::shop::Shop {
    let scenario = draft(path).scenario();
    scenario
        .unwrap_or_else(|found| panic!("{}", found.render(false)))
        .shop
}
