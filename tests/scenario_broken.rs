//! Broken scenarios: each file in `tests/broken` is refused or warned about with the words kept beside it.
//! `TANKDAY_BLESS=1 cargo test` writes the words anew; read them aloud before you commit them.

use std::path::{Path, PathBuf};
use tankday::scenario::{Draft, File, Severity};

fn files() -> Vec<PathBuf> {
    let entries = std::fs::read_dir("tests/broken").unwrap();
    let paths = entries.map(|e| e.unwrap().path());
    let mut all: Vec<PathBuf> = paths
        .filter(|p| p.extension().is_some_and(|e| e == "yaml"))
        .collect();
    all.sort();
    all
}

/// The file that another names; `..` in it is followed, so that one file has one name.
fn beside(asking: &File, written: &str) -> Result<File, String> {
    let folder = Path::new(&asking.name).parent().unwrap();
    let path = folder.join(written);
    let name = path.display().to_string().replace("below/../", "");
    let text = std::fs::read_to_string(Path::new("tests/broken").join(&name));
    Ok(File {
        text: text.map_err(|_| "there is no such file or folder".to_owned())?,
        id: name.clone(),
        name,
    })
}

/// What a file gets to hear.
fn words(path: &Path) -> String {
    let name = path.file_name().unwrap().to_str().unwrap();
    let text = std::fs::read_to_string(path).unwrap();
    let file = File {
        name: name.to_owned(),
        id: name.to_owned(),
        text,
    };
    match Draft::open(file, &beside).and_then(|draft| draft.scenario()) {
        Ok(read) => {
            assert!(!read.warnings.is_empty(), "{name} reads without a finding");
            read.warnings.render(false)
        }
        Err(found) => {
            assert!(
                found.list.iter().any(|f| f.weight == Severity::Error),
                "{name} is refused without a mistake"
            );
            found.render(false)
        }
    }
}

#[test]
fn broken_files_get_the_words_kept_beside_them() {
    let bless = std::env::var_os("TANKDAY_BLESS").is_some();
    let all = files();
    assert!(all.len() >= 40, "only {} broken files", all.len());
    let mut differ = Vec::new();
    for path in all {
        let kept = path.with_extension("txt");
        let now = words(&path);
        if bless {
            std::fs::write(&kept, &now).unwrap();
        } else if std::fs::read_to_string(&kept).ok().as_deref() != Some(now.as_str()) {
            differ.push(format!("{}:\n{now}", path.display()));
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
}
