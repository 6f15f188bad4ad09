//! Debian and its children: packages, and Debian's own Rust, which brings no wasm32 standard library but its source.

use std::path::PathBuf;

use crate::problem::{Outcome, Problem};
use crate::program::{self, Program};
use crate::project;

use super::wasm_std::{TARGET, library_folder};
use super::{installed_for, step};

const RUST_PACKAGES: &str = "rustc-web cargo-web rust-web-src rust-web-llvm rust-web-clippy rustfmt-web";
const RUST_PROGRAMS: [&str; 7] =
    ["cargo", "rustc", "rustdoc", "rustfmt", "cargo-clippy", "clippy-driver", "cargo-fmt"];

/// Does this system have Debian's packages?
pub(super) fn is_here() -> bool {
    program::find("apt-get").is_some() && program::find("dpkg").is_some()
}

/// Install packages, as root or through `sudo`.
fn install(packages: &str, about: &str) -> Outcome {
    step(packages, about, || {
        as_root("apt-get")?.words("update -qq").run_quietly()?;
        as_root("env")?
            .words("DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends")
            .words(packages)
            .run_quietly()
    })
}

/// Install packages if that works; if not, say why, and leave it to the caller to say what is missing.
pub(super) fn try_install(packages: &str, about: &str) {
    if !is_here() {
        return;
    }
    if let Err(problem) = install(packages, about) {
        println!("{problem}");
    }
}

fn user() -> String {
    Program::new("id").arg("-u").answer().unwrap_or_default()
}

fn as_root(name: &str) -> Outcome<Program> {
    if user() == "0" {
        Ok(Program::new(name))
    } else if let Some(sudo) = program::find("sudo") {
        Ok(Program::new(sudo).arg(name))
    } else {
        Err(Problem::new(format!("`{name}` needs root, and there is no sudo: run me once as root")))
    }
}

/// Debian's Rust programs by name, found in its packages, for another Rust may come first on `PATH`.
pub(super) fn rust_programs() -> Vec<(&'static str, PathBuf)> {
    let listing = Program::new("dpkg")
        .arg("-L")
        .words("rustc-web cargo-web rust-web-clippy rustfmt-web")
        .answer()
        .unwrap_or_default();
    let files: Vec<&str> = listing.lines().collect();
    let find = |name: &str| files.iter().find(|file| file.ends_with(&format!("/bin/{name}")));
    RUST_PROGRAMS.into_iter().filter_map(|name| Some((name, PathBuf::from(find(name)?)))).collect()
}

fn rust_program(name: &str) -> Option<PathBuf> {
    rust_programs().into_iter().find(|(found, _)| *found == name).map(|(_, file)| file)
}

/// Debian's compiler is there with a standard library built for exactly this compiler.
///
/// The note beside the library tells: after an upgrade of the compiler the library is stale.
pub(super) fn has_wasm_std() -> bool {
    let Some(rustc) = rust_program("rustc") else { return false };
    let version = Program::new(&rustc).arg("-vV").answer();
    let library = library_folder(&rustc);
    library.zip(version).is_some_and(|(library, version)| {
        // Not all writers of the note trim it.
        installed_for(&library.join(".built-for"), &version)
            || installed_for(&library.join(".built-for"), &format!("{version}\n"))
    })
}

/// Install Debian's Rust and build the wasm32 standard library once from the source it carries.
pub(super) fn get_wasm_std() -> Outcome {
    let installed = Program::new("dpkg").arg("-s").words(RUST_PACKAGES).answer().is_some();
    let linker_works = Program::new("rust-lld").words("-flavor wasm --version").answer().is_some();
    if !installed || !linker_works {
        install(RUST_PACKAGES, "Debian's Rust, about 1 minute")?;
        if let Some(linker) = linker_package() {
            install(&linker, "its linker, a few seconds")?;
        }
    }
    let [rustc, source] = ["rustc-web", "rust-web-src"].map(package_version);
    if rustc.is_none() || rustc != source {
        return Err(Problem::new(
            "rustc-web and rust-web-src differ in version: install both at one version with apt-get",
        ));
    }
    if has_wasm_std() {
        return Ok(());
    }
    step("wasm32 standard library", "building it once, about 30 seconds", build_std)
}

/// Debian's `rust-lld` is a link to the linker of the compiler's LLVM, a package nothing depends on.
fn linker_package() -> Option<String> {
    let depends = Program::new("apt-cache").words("depends rust-web-llvm").answer()?;
    let llvm = depends.lines().find_map(|line| line.trim().strip_prefix("Depends: llvm-"))?;
    Some(format!("lld-{llvm}"))
}

fn package_version(package: &str) -> Option<String> {
    Program::new("dpkg-query").words("-W -f ${Version}").arg(package).answer()
}

fn build_std() -> Outcome {
    let (Some(rustc), Some(cargo)) = (rust_program("rustc"), rust_program("cargo")) else {
        return Err(Problem::new("Debian's rustc or cargo is missing after its installation"));
    };
    let Some(library) = library_folder(&rustc) else {
        return Err(Problem::new("Debian's rustc does not say where its wasm32 library belongs"));
    };
    // One fixed folder: the hashes in a library's names depend on it, and with the same hashes at every
    // rebuild the target folders stay valid.
    let work = PathBuf::from(format!("/tmp/wasm32-std-{}", user()));
    project::remove_folder(&work)?;
    Program::new("mkdir").words("-m 700").arg(&work).run_quietly()?;
    project::write(&work.join("src/lib.rs"), "#![no_std]\n")?;
    project::write(
        &work.join("Cargo.toml"),
        "[package]\nname = \"empty\"\nversion = \"0.0.0\"\nedition = \"2021\"\n[workspace]\n[profile.release]\nopt-level = 3\ncodegen-units = 1\n",
    )?;
    let mut build = Program::new(cargo)
        .dir(&work)
        .without_env(&["CARGO", "RUSTDOC", "RUSTUP_TOOLCHAIN", "LD_LIBRARY_PATH", "CARGO_BUILD_TARGET"])
        .env("RUSTC", &rustc)
        // For this one build: build-std is not open to a stable compiler, and the source is the compiler's own.
        .env("RUSTC_BOOTSTRAP", "1")
        .env("CARGO_UNSTABLE_BUILD_STD", "std,panic_abort,test")
        // Without it the page cannot be built with lto = "fat".
        .env("RUSTFLAGS", "-Cembed-bitcode=yes")
        .env("CARGO_TARGET_DIR", work.join("t"))
        .words("build -q --release --target")
        .arg(TARGET);
    let sysroot = Program::new(&rustc).words("--print sysroot").answer().unwrap_or_default();
    let vendored = format!("{sysroot}/lib/rustlib/src/rust/library/vendor");
    if PathBuf::from(&vendored).is_dir() {
        build = build
            .words("--offline --config source.crates-io.replace-with=\"v\" --config")
            .arg(format!("source.v.directory=\"{vendored}\""));
    }
    build.run_quietly()?;
    project::write(&work.join("built-for"), &Program::new(&rustc).arg("-vV").answer().unwrap_or_default())?;

    // The note goes last: a copy that was cut short is not taken for a whole library.
    as_root("rm")?.arg("-rf").arg(&library).run_quietly()?;
    as_root("mkdir")?.arg("-p").arg(&library).run_quietly()?;
    let copy = "find \"$1\" -name 'lib*.rlib' ! -name 'libempty-*' -exec cp {} \"$2/\" ';' && cp \"$3\" \"$2/.built-for\"";
    as_root("sh")?
        .arg("-ec")
        .arg(copy)
        .arg("sh")
        .arg(work.join("t").join(TARGET).join("release/deps"))
        .arg(&library)
        .arg(work.join("built-for"))
        .run_quietly()?;
    project::remove_folder(&work)
}
