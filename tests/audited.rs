//! Every day that a test makes is audited whole: its record, its safety, and all that its sheet says. Days of the program
//! itself are audited where they were written.

use std::path::Path;
use std::process::Command;
use tankday::audit::{check, check_safety};
use tankday::record::Record;
use tankday::shop::Shop;

/// Asserts that a record adds up, that nobody is hurt in silence, and that the sheet in all its forms says what was done.
pub(crate) fn assert_sound(shop: &Shop, record: &Record) {
    assert_eq!(check(shop, record), []);
    assert_eq!(check_safety(shop, record), []);
    crate::audit_sheet::assert_true(shop, record);
}

/// Asserts that the program audits what a command of it has just written, where it wrote a record.
pub(crate) fn assert_folder_sound(words: &[&str], home: &Path) {
    let out = words
        .iter()
        .position(|w| *w == "--out")
        .and_then(|i| words.get(i + 1));
    let Some(dir) = out
        .map(|dir| home.join(dir))
        .filter(|dir| dir.join("record.csv").exists())
    else {
        return;
    };
    let audit = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .arg("audit")
        .arg(&dir)
        .current_dir(home)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&audit.stderr);
    assert!(audit.status.success(), "{words:?}: {said}");
}
