//! Showing the page on this computer, rebuilt when its sources change.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::process::Stdio;
use std::thread;
use std::time::Duration;
use std::{env, fs, io};

use crate::page;
use crate::problem::{OrSay, Outcome, Problem};
use crate::program;
use crate::project;

const USUAL_PORT: u16 = 8080;
/// When the usual port is taken and none was asked for, this many after it are tried.
const MORE_PORTS: u16 = 20;
const LOOK_AGAIN: Duration = Duration::from_secs(1);
const PATIENCE: Duration = Duration::from_secs(10);
const LONGEST_REQUEST: u64 = 16 * 1024;

/// Build what has changed, serve it until interrupted.
pub(crate) fn serve(port: Option<u16>, open: bool) -> Outcome {
    // Before the build, not after minutes of it: the port may be taken.
    let (listener, port) = listen(port)?;
    page::build_if_changed()?;
    let address = format!("http://localhost:{port}/");
    println!(
        "\n  Whorl is ready: open {address} in a browser.\n  Ctrl+C ends it; a change to its sources rebuilds it.\n"
    );
    if open {
        open_in_browser(&address);
    }
    thread::spawn(|| {
        if let Err(problem) = rebuild_on_change() {
            println!("Changes are no longer noticed: {problem}");
        }
    });
    for visitor in listener.incoming() {
        let visitor = visitor.or_say("a visitor was lost")?;
        // A browser that goes away in the middle of a file is no trouble of ours.
        thread::spawn(move || answer(&visitor, &project::dist()));
    }
    Ok(())
}

fn listen(wanted: Option<u16>) -> Outcome<(TcpListener, u16)> {
    let mut ports = wanted.map_or(USUAL_PORT..=USUAL_PORT + MORE_PORTS, |port| port..=port);
    // The system picks one when asked for port 0.
    let bind = |port| TcpListener::bind((Ipv4Addr::LOCALHOST, port)).ok();
    let listener = ports.find_map(bind).ok_or_else(|| {
        let taken = wanted.unwrap_or(USUAL_PORT);
        Problem::new(format!(
            "Port {taken} is in use: choose another, as in `cargo xtask serve --port {}`.",
            taken.wrapping_add(100)
        ))
    })?;
    let port = listener.local_addr().or_say("cannot tell the port")?.port();
    Ok((listener, port))
}

fn rebuild_on_change() -> Outcome {
    let mut seen = page::sources()?;
    loop {
        thread::sleep(LOOK_AGAIN);
        let now = page::sources()?;
        if now != seen {
            seen = now;
            match page::build() {
                Ok(()) => println!("\n  Rebuilt: reload the page.\n"),
                Err(problem) => println!("{problem}\n\n  The page is unchanged until this is mended.\n"),
            }
        }
    }
}

/// Ask the desktop to open the address; where there is none, the printed address has to do.
fn open_in_browser(address: &str) {
    let has_desktop = cfg!(any(windows, target_os = "macos"))
        || env::var_os("DISPLAY").is_some()
        || env::var_os("WAYLAND_DISPLAY").is_some();
    let opener = ["xdg-open", "open", "explorer"].into_iter().find_map(program::find);
    if let (true, Some(opener)) = (has_desktop, opener) {
        let opened = std::process::Command::new(opener)
            .arg(address)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn();
        if opened.is_err() {
            println!("  (No browser could be opened from here.)");
        }
    }
}

fn answer(visitor: &TcpStream, folder: &Path) -> io::Result<()> {
    visitor.set_read_timeout(Some(PATIENCE))?;
    visitor.set_write_timeout(Some(PATIENCE))?;
    let mut lines = BufReader::new(visitor.take(LONGEST_REQUEST)).lines();
    let request = lines.next().transpose()?.unwrap_or_default();
    // The rest of the head is read, or closing the connection would cut our answer off.
    for line in lines {
        if line?.is_empty() {
            break;
        }
    }
    let mut words = request.split(' ');
    let (method, target) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
    let file = file_name(target).map(|name| (media_type(&name), folder.join(name)));
    let (status, media, body) = match (method, file) {
        ("GET" | "HEAD", Some((media, file))) => match fs::read(file) {
            Ok(body) => ("200 OK", media, body),
            Err(_) => ("404 Not Found", "text/plain", b"There is no such file.\n".to_vec()),
        },
        ("GET" | "HEAD", None) => ("404 Not Found", "text/plain", b"There is no such file.\n".to_vec()),
        _ => ("405 Method Not Allowed", "text/plain", b"This server only shows files.\n".to_vec()),
    };
    let length = body.len();
    let mut out = visitor;
    write!(
        out,
        "HTTP/1.1 {status}\r\nContent-Type: {media}\r\nContent-Length: {length}\r\nCache-Control: no-cache\r\nConnection: close\r\n\r\n"
    )?;
    if method != "HEAD" {
        out.write_all(&body)?;
    }
    out.flush()
}

/// The file that a request asks for, or `None` when it points outside the page's folder.
fn file_name(target: &str) -> Option<String> {
    let path = target.split(['?', '#']).next()?.strip_prefix('/')?;
    let leaves = path.starts_with(['/', '\\'])
        || path.split(['/', '\\']).any(|part| part == ".." || part.contains(':'));
    // The page's own names need no escapes.
    if leaves || path.contains('%') {
        return None;
    }
    let index = if path.is_empty() || path.ends_with('/') { "index.html" } else { "" };
    Some(format!("{path}{index}"))
}

/// The browser runs a wasm file or a script only under its right type.
fn media_type(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("json" | "webmanifest") => "application/json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("ico") => "image/x-icon",
        Some("woff2") => "font/woff2",
        Some("csv") => "text/csv; charset=utf-8",
        Some("txt" | "md") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a visitor of the project's root folder gets.
    fn ask(request: &str) -> String {
        let (listener, port) = listen(Some(0)).unwrap();
        let server = thread::spawn(move || {
            let (visitor, _) = listener.accept().unwrap();
            answer(&visitor, &project::root()).unwrap();
        });
        let mut visitor = TcpStream::connect((Ipv4Addr::LOCALHOST, port)).unwrap();
        visitor.write_all(request.as_bytes()).unwrap();
        let mut said = String::new();
        visitor.read_to_string(&mut said).unwrap();
        server.join().unwrap();
        said
    }

    #[test]
    fn the_folder_itself_is_its_index() {
        let said = ask("GET /?lab=1 HTTP/1.1\r\nHost: localhost\r\n\r\n");
        assert!(said.starts_with("HTTP/1.1 200 OK\r\nContent-Type: text/html"), "{said}");
        assert!(said.to_lowercase().contains("<!doctype html>"), "{said}");
    }

    #[test]
    fn a_missing_file_and_another_method_are_answered_in_words() {
        assert!(ask("GET /none.css HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 404"));
        assert!(ask("POST / HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 405"));
    }

    #[test]
    fn a_head_request_gets_no_body() {
        let said = ask("HEAD /index.html HTTP/1.1\r\n\r\n");
        assert!(said.starts_with("HTTP/1.1 200 OK"), "{said}");
        assert!(said.ends_with("\r\n\r\n"), "{said}");
    }

    #[test]
    fn no_request_leaves_the_folder() {
        for target in ["/../Cargo.toml", "/a/../../b", "/..\\b", "/%2e%2e/b", "/c:/b", "//etc/hosts", "b"] {
            assert_eq!(file_name(target), None, "{target}");
        }
        assert_eq!(file_name("/fonts/math.woff2").as_deref(), Some("fonts/math.woff2"));
    }

    #[test]
    fn a_taken_port_is_said_so() {
        let (_taken, port) = listen(Some(0)).unwrap();
        let problem = listen(Some(port)).unwrap_err().to_string();
        assert!(problem.contains(&format!("Port {port} is in use")), "{problem}");
    }
}
