//! The project's files, without what git ignores.

use std::fs;
use std::path::{Path, PathBuf};

use crate::problem::{OrSay, Outcome};
use crate::project;

/// All files of the project, in order, as paths from its root with `/` between the parts.
pub(crate) fn project_files() -> Outcome<Vec<String>> {
    let root = project::root();
    let ignored = Ignored::parse(&project::read(&root.join(".gitignore"))?);
    let mut found = Vec::new();
    collect(&root, "", &ignored, &mut found)?;
    found.sort();
    Ok(found)
}

/// All files under any folder, in order.
pub(crate) fn files_under(folder: &Path) -> Outcome<Vec<String>> {
    let mut found = Vec::new();
    collect(folder, "", &Ignored::default(), &mut found)?;
    found.sort();
    Ok(found)
}

fn collect(base: &Path, inside: &str, ignored: &Ignored, found: &mut Vec<String>) -> Outcome {
    let folder: PathBuf = base.join(inside);
    let cannot = format!("cannot list {}", folder.display());
    for entry in fs::read_dir(&folder).or_say(&cannot)? {
        let entry = entry.or_say(&cannot)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = if inside.is_empty() { name.clone() } else { format!("{inside}/{name}") };
        if !entry.file_type().or_say(&cannot)?.is_dir() {
            found.push(path);
        } else if !ignored.covers(&path, &name) {
            collect(base, &path, ignored, found)?;
        }
    }
    Ok(())
}

/// The folders of a .gitignore: `/path/` is one place, `name/` is any folder of that name.
#[derive(Default)]
struct Ignored {
    paths: Vec<String>,
    names: Vec<String>,
}

impl Ignored {
    fn parse(gitignore: &str) -> Self {
        let mut ignored = Self { paths: Vec::new(), names: vec![".git".into()] };
        for line in gitignore.lines() {
            let Some(folder) = line.trim().strip_suffix('/') else { continue };
            match folder.strip_prefix('/') {
                Some(path) => ignored.paths.push(path.to_owned()),
                None => ignored.names.push(folder.to_owned()),
            }
        }
        ignored
    }

    fn covers(&self, path: &str, name: &str) -> bool {
        self.paths.iter().any(|ignored| ignored == path) || self.names.iter().any(|ignored| ignored == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ignored_folders_are_known_by_place_or_by_name() {
        let ignored = Ignored::parse("/target/\nnode_modules/\n");
        assert!(ignored.covers("target", "target"));
        assert!(!ignored.covers("crates/app/target", "target"));
        assert!(ignored.covers("tests/browser/node_modules", "node_modules"));
        assert!(!ignored.covers("crates", "crates"));
    }

    #[test]
    fn the_walk_finds_this_file_and_nothing_built() {
        let files = project_files().unwrap();
        assert!(files.iter().any(|file| file == "crates/xtask/src/walk.rs"));
        assert!(!files.iter().any(|file| file.starts_with("target/") || file.starts_with(".git/")));
    }
}
