//! Running other programs: found, started with a clean environment, and heard out.

use std::env;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use crate::problem::{OrSay, Outcome, Problem};
use crate::project;

/// How much of a quiet program's output is shown when it fails.
const LINES_OF_A_FAILURE: usize = 40;

/// Another program about to be run, from the project's folder unless told otherwise.
///
/// It asks nothing: its input is closed, so that a build machine never hangs at a prompt.
pub(crate) struct Program {
    command: Command,
    shown: String,
}

impl Program {
    pub(crate) fn new(program: impl AsRef<OsStr>) -> Self {
        let program = program.as_ref();
        let mut command = Command::new(program);
        command
            .current_dir(project::root())
            .stdin(Stdio::null())
            // Ours, not the child's: a child cargo would otherwise think it builds this very crate.
            .env_remove("CARGO_MANIFEST_DIR")
            .env_remove("CARGO_MANIFEST_PATH");
        for (name, _) in env::vars_os() {
            if name.to_string_lossy().starts_with("CARGO_PKG_") {
                command.env_remove(name);
            }
        }
        let shown = Path::new(program).file_name().unwrap_or(program).to_string_lossy().into_owned();
        Self { command, shown }
    }

    /// The cargo that runs this very program.
    pub(crate) fn cargo() -> Self {
        Self::new(env::var_os("CARGO").unwrap_or_else(|| OsString::from("cargo")))
    }

    pub(crate) fn arg(mut self, arg: impl AsRef<OsStr>) -> Self {
        self.shown.push(' ');
        self.shown.push_str(&arg.as_ref().to_string_lossy());
        self.command.arg(arg);
        self
    }

    /// Arguments as one line of words, as they would be typed.
    pub(crate) fn words(self, words: &str) -> Self {
        words.split_whitespace().fold(self, Self::arg)
    }

    pub(crate) fn env(mut self, name: &str, value: impl AsRef<OsStr>) -> Self {
        self.command.env(name, value);
        self
    }

    pub(crate) fn without_env(mut self, names: &[&str]) -> Self {
        for name in names {
            self.command.env_remove(name);
        }
        self
    }

    pub(crate) fn dir(mut self, dir: &Path) -> Self {
        self.command.current_dir(dir);
        self
    }

    /// Run it in plain sight: the command line first, then its own output.
    pub(crate) fn run(mut self) -> Outcome {
        println!("$ {}", self.shown);
        let status = self.command.status().or_say(format_args!("cannot run {}", self.shown))?;
        if status.success() { Ok(()) } else { Err(Problem::new(format!("`{}` failed", self.shown))) }
    }

    /// Run it without a word; the end of its output is shown when it fails.
    pub(crate) fn run_quietly(mut self) -> Outcome {
        let output = self.command.output().or_say(format_args!("cannot run {}", self.shown))?;
        if output.status.success() {
            return Ok(());
        }
        let said = [output.stdout, output.stderr].concat();
        let said = String::from_utf8_lossy(&said);
        let lines: Vec<&str> = said.lines().collect();
        let tail = lines.len().saturating_sub(LINES_OF_A_FAILURE);
        let tail = lines.get(tail..).unwrap_or_default().join("\n  ");
        Err(Problem::new(format!("`{}` failed:\n  {tail}", self.shown)))
    }

    /// Run it without a word, and end it when it takes longer than it should.
    pub(crate) fn run_within(mut self, seconds: u64) -> Outcome {
        const POLL: Duration = Duration::from_millis(100);
        let mut child = self
            .command
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .or_say(format_args!("cannot run {}", self.shown))?;
        for _ in 0..seconds * 10 {
            match child.try_wait().or_say("cannot wait for it")? {
                Some(status) if status.success() => return Ok(()),
                Some(_) => return Err(Problem::new(format!("`{}` failed", self.shown))),
                None => thread::sleep(POLL),
            }
        }
        child.kill().or_say(format_args!("cannot end {}", self.shown))?;
        child.wait().or_say(format_args!("cannot end {}", self.shown))?;
        Err(Problem::new(format!("`{}` had no answer within {seconds} s", self.shown)))
    }

    /// What it prints, or `None` when it is not there or fails.
    pub(crate) fn answer(mut self) -> Option<String> {
        let output = self.command.output().ok()?;
        let text = String::from_utf8_lossy(&output.stdout);
        output.status.success().then(|| text.trim().to_owned())
    }
}

/// Where a program of this name is, searching `PATH` as a shell would.
pub(crate) fn find(name: &str) -> Option<PathBuf> {
    let endings: &[&str] = if cfg!(windows) { &[".exe", ".cmd"] } else { &[""] };
    env::split_paths(&env::var_os("PATH")?).find_map(|dir| {
        endings.iter().map(|ending| dir.join(format!("{name}{ending}"))).find(|file| file.is_file())
    })
}
