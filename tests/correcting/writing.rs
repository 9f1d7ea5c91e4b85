//! Writing a file anew: wholly or not at all.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use undercroft::app::host::disk::Disk;
use undercroft::app::host::{Host, Refusal};

use super::{correct, world};

const CHANGES: &[(&str, &str)] =
    &[("systems.main.runs.ceiling.hangers", "{spacing: 9 ft, fixed_to: building}")];

#[test]
fn what_cannot_be_written_says_so_and_changes_nothing() {
    let mut there = world(CHANGES);
    there.links.push("design.yaml".to_owned());
    let before = there.files["design.yaml"].clone();
    let came = correct(&mut there, &["--choose", "1", "--write"]);
    assert_eq!(came.status, 2);
    assert!(
        came.told.contains("--through-link") && came.told.contains("Nothing was written"),
        "{}",
        came.told
    );
    assert_eq!(there.files["design.yaml"], before);
    let came = correct(&mut there, &["--choose", "1", "--write", "--through-link"]);
    assert_eq!(came.status, 0, "{}", came.told);
    assert_ne!(there.files["design.yaml"], before);
}

#[cfg(unix)]
#[test]
fn mode_and_link_are_kept_and_a_read_only_file_is_left_alone() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let mode = |name: &str| std::fs::metadata(at(name)).unwrap().permissions().mode() & 0o777;
    std::fs::write(at("real"), "old").unwrap();
    std::fs::set_permissions(at("real"), PermissionsExt::from_mode(0o640)).unwrap();
    std::os::unix::fs::symlink("real", at("link")).unwrap();
    let mut disk = Disk::new();
    disk.replace(&at("link"), b"old", b"new").unwrap();
    assert_eq!(std::fs::read(at("real")).unwrap(), b"new");
    assert!(std::fs::symlink_metadata(at("link")).unwrap().file_type().is_symlink());
    assert_eq!(mode("real"), 0o640);
    assert_eq!(disk.replace(&at("real"), b"old", b"newer"), Err(Refusal::Changed));
    std::fs::set_permissions(at("real"), PermissionsExt::from_mode(0o440)).unwrap();
    assert_eq!(disk.replace(&at("real"), b"new", b"newer"), Err(Refusal::Forbidden));
    assert_eq!(std::fs::read(at("real")).unwrap(), b"new");
    let left: Vec<_> = std::fs::read_dir(folder.path()).unwrap().collect();
    assert_eq!(left.len(), 2, "nothing half done is left");
}

/// A disk that takes no more than half a kilobyte of one file stands for one that is full.
#[cfg(unix)]
#[test]
fn a_full_disk_leaves_the_old_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("design.yaml");
    let text = String::from_utf8(world(CHANGES).files["design.yaml"].clone()).unwrap();
    std::fs::write(&file, &text).unwrap();
    for (path, text) in super::FILES {
        let path = folder.path().join("books").join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    let script =
        "trap '' XFSZ; ulimit -f 1; exec \"$0\" correct design.yaml --rulebooks books --choose 1 --write";
    let came = Command::new("sh")
        .args(["-c", script, env!("CARGO_BIN_EXE_undercroft")])
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert_eq!(came.status.code(), Some(2));
    let told = String::from_utf8_lossy(&came.stderr).into_owned();
    assert!(told.contains("could not be read or written") && told.contains("Nothing was written"), "{told}");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2, "nothing half done is left");
}

/// Names the file that a writer of its own is to write over and over.
const WRITER: &str = "UNDERCROFT_WRITES_OVER_AND_OVER";

fn contents(sort: char) -> Vec<u8> {
    sort.to_string().repeat(300_000).into_bytes()
}

/// What the writer does until it is killed.
fn write_over_and_over(file: &str) {
    let mut disk = Disk::new();
    loop {
        for (was, then) in [('a', 'b'), ('b', 'a')] {
            let _ = disk.replace(file, &contents(was), &contents(then));
        }
    }
}

/// Kills a writer at any moment, many times over. `UNDERCROFT_KILLS=1000` does so more often.
#[test]
fn whoever_is_cut_off_while_writing_leaves_the_old_file_or_the_new_one_whole() {
    if let Some(file) = std::env::var_os(WRITER) {
        write_over_and_over(&file.to_string_lossy());
    }
    let many: u64 = std::env::var("UNDERCROFT_KILLS").ok().and_then(|many| many.parse().ok()).unwrap_or(8);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("design.yaml");
    std::fs::write(&file, contents('a')).unwrap();
    let (mut old, mut new, mut written) = (0, 0, 0);
    for turn in 0..many {
        let mut writer = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "correcting::writing::whoever_is_cut_off_while_writing_leaves_the_old_file_or_the_new_one_whole"])
            .env(WRITER, &file)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let modified = || std::fs::metadata(&file).unwrap().modified().unwrap();
        let (before, begun) = (modified(), Instant::now());
        // however long it takes to start, it is cut off while it writes
        while modified() == before && begun.elapsed() < Duration::from_secs(10) {
            std::thread::sleep(Duration::from_millis(1));
        }
        std::thread::sleep(Duration::from_micros(turn * 7_919 % 20_000));
        writer.kill().unwrap();
        writer.wait().unwrap();
        written += u64::from(modified() != before);
        match whole(&file) {
            Some('a') => old += 1,
            Some(_) => new += 1,
            None => panic!("after {turn} kills the file is neither the old one nor the new one"),
        }
    }
    println!(
        "{many} kills, {written} of them after it had begun to write: {old} left the old file, {new} the new one"
    );
    assert!(written > 0, "no writer came to write");
}

/// Which of the two contents a file holds, if it holds one whole.
fn whole(file: &Path) -> Option<char> {
    let bytes = std::fs::read(file).unwrap();
    ['a', 'b'].into_iter().find(|sort| bytes == contents(*sort))
}
