//! Tells the linker to keep what the page's program is split by; see `DEVELOPERS.md`, “Parts loaded later”.

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    if std::env::var("CARGO_CFG_TARGET_FAMILY").is_ok_and(|family| family == "wasm") {
        println!("cargo::rustc-link-arg-bins=--emit-relocs");
        // Half of the usual stack, below the data: addresses of data are then a byte shorter.
        println!("cargo::rustc-link-arg-bins=-zstack-size=524288");
    }
}
