//! Each rule with something that breaks it and something that does not.

use super::*;

#[track_caller]
fn check(path: &str, text: &str, complaints: &[&str]) {
    assert_eq!(untidy(path, text), complaints, "{path}");
}

#[test]
fn a_short_module_with_a_head_is_tidy() {
    check("crates/core/src/fit.rs", "//! Fits.\nfn fit() {}\n", &[]);
}

#[test]
fn every_module_says_what_it_is() {
    let complaint = [": starts with no `//!` that says what the module is"];
    check("crates/core/src/fit.rs", "fn fit() {}\n", &complaint);
    check("crates/core/src/fit.rs", "/// Not of the module.\nfn fit() {}\n", &complaint);
}

#[test]
fn a_file_ends_at_400_lines_unless_it_says_why() {
    let of_lines = |n: usize, head: &str| format!("//! Head.\n{head}\n{}", "// line\n".repeat(n - 2));
    check("a.rs", &of_lines(400, ""), &[]);
    check(
        "a.rs",
        &of_lines(401, ""),
        &[": 401 lines; split it by concept, or say `// Long because: …` near its top"],
    );
    check("a.rs", &of_lines(900, "// Long because: one table, in one place."), &[]);
}

#[test]
fn a_reason_for_length_far_from_the_top_does_not_count() {
    let text = format!("//! Head.\n{}// Long because: it is.\n", "// line\n".repeat(450));
    assert_eq!(untidy("a.rs", &text).len(), 1);
}

#[test]
fn names_that_say_nothing_are_found_in_files_and_folders() {
    check("crates/core/src/utils.rs", "//! U.\n", &[": `utils` says nothing; name the concept"]);
    check("tests/browser/helpers/open.mjs", "", &[": `helpers` says nothing; name the concept"]);
    check("crates/core/src/commons.rs", "//! The commons.\n", &[]);
}

#[test]
fn only_the_page_and_its_second_thread_know_the_browser() {
    let text = format!("//! Head.\nuse {}::window;\n", BROWSER_CRATES[0].replace('-', "_"));
    check(
        "crates/charts/src/lib.rs",
        &text,
        &[":2: only crates/app/ and crates/worker/ may know the browser"],
    );
    check("crates/app/src/main.rs", &text, &[]);
    check("crates/worker/src/main.rs", &text, &[]);
    let longer_name = format!("//! Head.\nfn no_{}() {{}}\n", BROWSER_CRATES[0].replace('-', "_"));
    check("crates/charts/src/lib.rs", &longer_name, &[]);
}

#[test]
fn a_test_that_nothing_runs_is_found() {
    let text = "//! Head.\n    #[test]\n    fn adds_up() {}\n";
    let complaint = ": nothing runs a test here; move what it tests into core, or test it in the browser";
    check("crates/app/src/state.rs", text, &[complaint]);
    check("crates/core/src/state.rs", text, &[]);
}

#[test]
fn only_the_page_and_its_second_thread_depend_on_the_browser() {
    let text = "[dependencies]\nweb-sys.workspace = true\n";
    check(
        "crates/core/Cargo.toml",
        text,
        &[":2: only crates/app/ and crates/worker/ may depend on the browser"],
    );
    check("crates/app/Cargo.toml", text, &[]);
    check("crates/worker/Cargo.toml", text, &[]);
    // The workspace's own file lists the versions for all.
    check("Cargo.toml", "web-sys = \"0.3\"\n", &[]);
}

#[test]
fn an_exception_to_a_lint_has_a_reason() {
    let complaint = [":2: `allow` without a reason; better is `expect` with one"];
    check("a.rs", "//! Head.\n#[allow(dead_code)]\nfn a() {}\n", &complaint);
    check("a.rs", "//! Head.\n#![allow(\n    dead_code\n)]\n// reason\n", &complaint);
    check("a.rs", "//! Head.\n#[allow(dead_code, reason = \"the page calls it\")]\nfn a() {}\n", &[]);
    check(
        "a.rs",
        "//! Head.\n#[allow(\n    dead_code,\n    reason = \"the page calls it\"\n)]\nfn a() {}\n",
        &[],
    );
}

#[test]
fn paths_of_one_machine_are_found() {
    for folder in MACHINE_FOLDERS {
        check("README.md", &format!("see /{folder}/ann/notes"), &[":1: a path of one machine"]);
        check("README.md", &format!("see crates/{folder}/notes and ../{folder}/b"), &[]);
    }
}

#[test]
fn hosts_of_registries_are_found() {
    for host in REGISTRIES {
        let host = host.join(".");
        let complaint = [":1: names a package registry's host"];
        check(
            "tests/browser/package-lock.json",
            &format!("\"resolved\": \"https://registry.{host}/a\""),
            &complaint,
        );
        check("README.md", &format!("{host}etc"), &[]);
    }
    let cargos_own = format!("source = \"registry+https://example.org/{}-index\"\n", REGISTRIES[0].join("."));
    check("Cargo.lock", &cargos_own, &[]);
}
