//! What a folder takes and what it keeps.

use super::super::files;
use super::super::settings::Saying;
use super::{Earlier, Folder, LIST, held};
use std::path::Path;

fn names(dir: &Path) -> Vec<String> {
    let name = |e: Result<std::fs::DirEntry, _>| e.unwrap().file_name().into_string().unwrap();
    let mut names: Vec<String> = std::fs::read_dir(dir).unwrap().map(name).collect();
    names.sort();
    names
}

fn set(files: &[(&str, &str)]) -> Vec<(String, Vec<u8>)> {
    let one = |(name, text): &(&str, &str)| ((*name).to_owned(), text.as_bytes().to_vec());
    files.iter().map(one).collect()
}

fn write(dir: &Path, files: &[(&str, &str)]) -> Result<(), String> {
    let folder = Folder::new(dir, false, Saying::Little);
    folder
        .write(&set(files), Earlier::Goes)
        .map_err(|e| e.to_string())
}

fn force(dir: &Path, files: &[(&str, &str)]) -> Result<(), String> {
    let folder = Folder::new(dir, true, Saying::Little);
    folder
        .write(&set(files), Earlier::Goes)
        .map_err(|e| e.to_string())
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap()
}

#[test]
fn what_was_written_is_replaced_and_what_is_no_longer_written_goes() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path().join("a/b");
    write(&dir, &[("x", "1"), ("y", "1")]).unwrap();
    std::fs::write(dir.join("mine"), "mine").unwrap();
    write(&dir, &[("x", "2"), ("z", "2")]).unwrap();
    assert_eq!(names(&dir), ["mine", LIST, "x", "z"]);
    assert_eq!(
        (read(&dir.join("x")), read(&dir.join("mine"))),
        ("2".into(), "mine".into())
    );
    let held = held(&dir).unwrap().unwrap();
    assert_eq!(
        (held.same, held.differs, held.others),
        (2, vec![], vec!["mine".to_owned()])
    );
}

#[test]
fn what_was_changed_stays_whether_it_is_written_again_or_not() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    write(dir, &[("x", "1"), ("y", "1"), ("z", "1")]).unwrap();
    std::fs::write(dir.join("x"), "edited").unwrap();
    std::fs::write(dir.join("y"), "edited").unwrap();
    let before = names(dir);
    let refused = write(dir, &[("x", "2"), ("w", "2")]).unwrap_err();
    for name in ["x", "y"] {
        let line = format!("{}: changed since tankday wrote it", dir.join(name).display());
        assert!(refused.contains(&line), "{refused}");
    }
    assert!(
        !refused.contains(&format!("{}:", dir.join("z").display())),
        "{refused}"
    );
    assert_eq!(names(dir), before);
    assert_eq!(read(&dir.join("z")), "1");
    force(dir, &[("x", "2"), ("w", "2")]).unwrap();
    assert_eq!(names(dir), [LIST, "w", "x"]);
    assert_eq!(read(&dir.join("x")), "2");
}

#[test]
fn what_was_not_written_here_is_never_replaced_nor_taken_over() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    std::fs::write(dir.join("x"), "mine").unwrap();
    std::fs::write(dir.join("y"), "2").unwrap();
    let refused = write(dir, &[("x", "2"), ("y", "2"), ("z", "2")]).unwrap_err();
    assert!(refused.contains("x: tankday did not write it"), "{refused}");
    assert_eq!(names(dir), ["x", "y"]);
    // The same bytes lose nothing; but the file stays the user's, and does not go later.
    write(dir, &[("y", "2"), ("z", "2")]).unwrap();
    write(dir, &[("w", "3")]).unwrap();
    assert_eq!(names(dir), [LIST, "w", "x", "y"]);
}

#[cfg(unix)]
#[test]
fn what_is_read_is_never_written_over_by_whatever_name() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    write(dir, &[("x", "1"), ("y", "1")]).unwrap();
    std::os::unix::fs::symlink(dir, dir.join("detour")).unwrap();
    // Read by another path, and ours until now; not written again, it stays and stays listed.
    files::read_text(&dir.join("detour/x")).unwrap();
    let refused = write(dir, &[("x", "2")]).unwrap_err();
    assert!(refused.contains("x: this command reads it"), "{refused}");
    assert_eq!(names(dir), ["detour", LIST, "x", "y"]);
    write(dir, &[("z", "2")]).unwrap();
    assert_eq!(
        (names(dir).join(" "), read(&dir.join("x"))),
        (format!("detour {LIST} x z"), "1".into())
    );
    // A second name of what is read.
    let mine = home.path().join("mine");
    std::fs::write(&mine, "mine").unwrap();
    files::read_text(&mine).unwrap();
    std::fs::hard_link(&mine, dir.join("w")).unwrap();
    let refused = write(dir, &[("w", "2")]).unwrap_err();
    assert!(refused.contains("w: this command reads it"), "{refused}");
}

#[cfg(unix)]
#[test]
fn a_link_is_not_ours_and_not_followed() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path().join("out");
    write(&dir, &[("x", "1")]).unwrap();
    let mine = home.path().join("mine");
    std::fs::write(&mine, "1").unwrap();
    std::fs::remove_file(dir.join("x")).unwrap();
    std::os::unix::fs::symlink(&mine, dir.join("x")).unwrap();
    assert!(
        write(&dir, &[("x", "2")])
            .unwrap_err()
            .contains("tankday did not write it")
    );
    write(&dir, &[("y", "2")]).unwrap();
    assert_eq!(
        (names(&dir).join(" "), read(&mine)),
        (format!("{LIST} x y"), "1".into())
    );
}

#[test]
fn a_folder_in_the_way_is_not_forced() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    std::fs::create_dir(dir.join("y")).unwrap();
    for write in [write, force] {
        let refused = write(dir, &[("x", "1"), ("y", "1")]).unwrap_err();
        assert!(refused.contains("y: a folder has that name"), "{refused}");
        assert_eq!(names(dir), ["y"]);
    }
}

#[test]
fn a_list_that_cannot_be_read_stops_all() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    std::fs::write(dir.join(LIST), "to do: call the client\n").unwrap();
    let refused = write(dir, &[("x", "1")]).unwrap_err();
    assert!(refused.contains(LIST) && refused.contains("line 1"), "{refused}");
    assert_eq!(names(dir), [LIST]);
}

/// As a power cut leaves it: some files are new, some old, one is not there yet.
#[test]
fn what_a_stopped_command_left_is_written_over_again() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    write(dir, &[("x", "1"), ("y", "1")]).unwrap();
    let old = super::List::of(dir).unwrap().unwrap();
    write(dir, &[("x", "2"), ("y", "2"), ("z", "2")]).unwrap();
    let new = super::List::of(dir).unwrap().unwrap();
    std::fs::write(dir.join(LIST), old.and(&new).text()).unwrap();
    std::fs::write(dir.join("y"), "1").unwrap();
    std::fs::remove_file(dir.join("z")).unwrap();
    let found = held(dir).unwrap().unwrap();
    assert_eq!(found.same, 2);
    assert!(found.differs.join(" ").contains("run it again"), "{found:?}");
    write(dir, &[("x", "2"), ("y", "2"), ("z", "2")]).unwrap();
    let found = held(dir).unwrap().unwrap();
    assert_eq!((found.same, found.differs), (3, vec![]));
}

#[test]
fn what_differs_from_the_list_is_told() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    assert_eq!(held(dir).unwrap(), None);
    write(dir, &[("x", "1"), ("y", "1"), ("z", "1")]).unwrap();
    std::fs::write(dir.join("x"), "2").unwrap();
    std::fs::remove_file(dir.join("y")).unwrap();
    let found = held(dir).unwrap().unwrap();
    assert_eq!(found.same, 1);
    let told = found.differs.join("\n");
    assert!(
        told.contains("x: changed since") && told.contains("y: is missing"),
        "{told}"
    );
}

#[test]
fn drawings_of_several_routes_stay_together() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    let folder = Folder::new(dir, false, Saying::Little);
    folder
        .write(&set(&[("route-a.svg", "1")]), Earlier::Stays)
        .map_err(|e| e.to_string())
        .unwrap();
    folder
        .write(&set(&[("route-b.svg", "1")]), Earlier::Stays)
        .map_err(|e| e.to_string())
        .unwrap();
    assert_eq!(names(dir), ["route-a.svg", "route-b.svg", LIST]);
    assert_eq!(held(dir).unwrap().unwrap().same, 2);
}

#[test]
fn what_was_changed_is_not_forgotten_by_a_drawing() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path();
    write(dir, &[("plan.yaml", "1"), ("sheet.txt", "1")]).unwrap();
    std::fs::write(dir.join("plan.yaml"), "mine").unwrap();
    Folder::new(dir, false, Saying::Little)
        .write(&set(&[("route-a.svg", "1")]), Earlier::Stays)
        .map_err(|e| e.to_string())
        .unwrap();
    let why = write(dir, &[("sheet.txt", "2")]).unwrap_err();
    assert!(why.contains("plan.yaml: changed since"), "{why}");
    assert_eq!(std::fs::read_to_string(dir.join("sheet.txt")).unwrap(), "1");
}
