//! A builder's folder in a temporary place: files in, commands run, output read.

use std::cell::RefCell;
use std::ffi::OsString;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Output};
use std::rc::Rc;
use std::time::Duration;

use shophead::cli::{Console, run_on};
use shophead::disk::Watch;
use shophead::job::{Job, resolve};
use shophead::report::Report;
use shophead::spec::{Spec, read_project, read_traveler};
use shophead::text::Files;
use tempfile::TempDir;

/// A temporary project.
pub struct Shop {
    folder: TempDir,
}

/// The root of the repository.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

impl Shop {
    /// An empty folder.
    pub fn empty() -> Self {
        // In memory where there is one: writing entries down to a disk, one by one, takes its time.
        let memory = Path::new("/dev/shm");
        let folder = if memory.is_dir() { TempDir::new_in(memory) } else { TempDir::new() };
        Self { folder: folder.unwrap() }
    }

    /// A project with one small traveler that checks clean.
    pub fn small() -> Self {
        let shop = Self::empty();
        shop.write("build.toml", BUILD);
        shop.write("specs/bracket.toml", TRAVELER);
        shop
    }

    /// A copy of the demo: project file and travelers.
    pub fn demo() -> Self {
        let shop = Self::empty();
        copy(&root().join("specs"), &shop.path("specs"));
        copy(&root().join("demo-data"), &shop.path("demo-data"));
        shop
    }

    /// Another folder with the same files.
    pub fn twin(&self) -> Self {
        let twin = Self::empty();
        copy(&self.path(""), &twin.path(""));
        twin
    }

    /// A path in the folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file, with the folders above it.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }

    /// Changes one piece of text of a file; it must be there exactly once.
    pub fn edit(&self, name: &str, from: &str, to: &str) {
        let text = std::fs::read_to_string(self.path(name)).unwrap();
        assert_eq!(text.matches(from).count(), 1, "`{from}` in {name}");
        self.write(name, text.replacen(from, to, 1));
    }

    /// Starts the program in the folder and lets it run, its streams thrown away.
    pub fn spawn(&self, arguments: &[&str]) -> Running {
        let mut command = Command::new(env!("CARGO_BIN_EXE_shophead"));
        let quiet = || std::process::Stdio::null();
        Running(
            command.current_dir(self.folder.path()).args(arguments).stdout(quiet()).stderr(quiet()).spawn().unwrap(),
        )
    }

    /// Runs the program in this process, every writing step watched; what `{}` stands for in an argument is the folder.
    pub fn run_watched(&self, arguments: &[&str], watch: Watch) -> Ran {
        let (out, err) = (Said::default(), Said::default());
        let mut console = Console::of_writers(out.clone(), err.clone()).watched(watch);
        self.run_in(arguments, &mut console, &out, &err)
    }

    fn run_in(&self, arguments: &[&str], console: &mut Console, out: &Said, err: &Said) -> Ran {
        let folder = self.folder.path().to_str().unwrap();
        let project = self.path("build.toml").into_os_string();
        let own = arguments.iter().map(|argument| argument.replace("{}", folder).into());
        let code = run_on([OsString::from("shophead"), "--project".into(), project].into_iter().chain(own), console);
        let known =
            [0_u8, 1, 2].into_iter().find(|known| format!("{:?}", ExitCode::from(*known)) == format!("{code:?}"));
        Ran { code: known.map_or(-1, i32::from), out: out.text(), err: err.text() }
    }

    /// Runs the program on the folder's project with somebody before the terminal, who types these lines.
    pub fn run_answered(&self, arguments: &[&str], answers: &'static str) -> Ran {
        let (out, err) = (Said::default(), Said::default());
        let mut console = Console::of_writers(out.clone(), err.clone()).answered(answers.as_bytes());
        self.run_in(arguments, &mut console, &out, &err)
    }

    /// Runs the program on the folder's project, which prints with own templates in a process of its own, within a time.
    pub fn run_apart(&self, arguments: &[&str], time: Duration) -> Ran {
        let (out, err) = (Said::default(), Said::default());
        let program = env!("CARGO_BIN_EXE_shophead").into();
        let mut console = Console::of_writers(out.clone(), err.clone()).printing_apart(program, time);
        self.run_in(arguments, &mut console, &out, &err)
    }

    /// Runs the program in the folder.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        let mut command = Command::new(env!("CARGO_BIN_EXE_shophead"));
        command.current_dir(self.folder.path()).args(arguments).env("NO_COLOR", "1");
        Ran::of(&command.output().unwrap())
    }

    /// Runs the program with a variable of the environment.
    pub fn run_with(&self, name: &str, value: &str, arguments: &[&str]) -> Ran {
        let mut command = Command::new(env!("CARGO_BIN_EXE_shophead"));
        command.current_dir(self.folder.path()).args(arguments).env("NO_COLOR", "1").env(name, value);
        Ran::of(&command.output().unwrap())
    }

    /// Runs the program from a shell that sets something up first; `exec "$@"` in the script starts it.
    #[cfg(unix)]
    pub fn run_in_shell(&self, script: &str, arguments: &[&str]) -> Ran {
        let mut command = Command::new("sh");
        command
            .current_dir(self.folder.path())
            .args(["-c", script, "sh", env!("CARGO_BIN_EXE_shophead")])
            .args(arguments);
        Ran::of(&command.env("NO_COLOR", "1").output().unwrap())
    }
}

/// What was written to a stream.
#[derive(Clone, Default)]
struct Said(Rc<RefCell<Vec<u8>>>);

impl Said {
    fn text(&self) -> String {
        String::from_utf8(self.0.borrow().clone()).unwrap()
    }
}

impl Write for Said {
    fn write(&mut self, said: &[u8]) -> std::io::Result<usize> {
        self.0.borrow_mut().extend_from_slice(said);
        Ok(said.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

/// How a run ended.
#[derive(Debug)]
pub struct Ran {
    /// Exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

impl Ran {
    fn of(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        Self { code: output.status.code().unwrap_or(-1), out: text(&output.stdout), err: text(&output.stderr) }
    }
}

/// Resolves a project text and traveler texts.
pub fn job_of(project: &str, travelers: &[impl AsRef<str>]) -> (Job, Files, Report) {
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("build.toml", project);
    let project = read_project(id, &files, &mut report);
    let mut spec = Spec { project, travelers: Vec::new(), unread: 0 };
    for (index, text) in travelers.iter().enumerate() {
        let id = files.add(format!("specs/{index}.toml"), text.as_ref());
        spec.travelers.extend(read_traveler(id, &spec.project, &files, &mut report));
    }
    let job = resolve(spec, &mut report);
    (job, files, report)
}

/// The text of a PDF without white space, where the machine has a program that reads it.
pub fn paper_text_of(pdf: &Path) -> Option<String> {
    let output = Command::new("pdftotext").args(["-layout"]).arg(pdf).arg("-").output().ok()?;
    Some(String::from_utf8_lossy(&output.stdout).chars().filter(|c| !c.is_whitespace()).collect())
}

fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.unwrap();
        let target = to.join(entry.path().strip_prefix(from).unwrap());
        if entry.file_type().is_dir() {
            std::fs::create_dir_all(target).unwrap();
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}

const BUILD: &str = "[aircraft]\nname = \"Dunlin two-seat\"\n";

/// A bracket on a web: every rule is content with it.
pub const TRAVELER: &str = r##"
[traveler]
id = "B-1"
title = "Bracket on web"
revision = "A"

[[part]]
id = "B-2"
name = "Bracket"
material = "2024-T3"
thickness = "0.063"

[[part]]
id = "B-3"
name = "Web"
material = "2024-T3"
thickness = "0.063"

[[joint]]
id = "J1"
stack = ["B-2", "B-3"]
fastener = "MS20470AD4-5"
count = 8
holes = { start = "3/32", final = "#30" }
edge = "0.35"
pitch = "0.75"
structure = "secondary"
access = "both sides"

[[step]]
id = "drill"
title = "Drill to size"
do = "drill"
joints = ["J1"]

[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]

[[step]]
id = "rivet"
title = "Rivet the bracket"
do = "rivet"
joints = ["J1"]
text = "Drive {{ joint.J1.call }}."
"##;

/// A program that runs until it is dropped, also by a test that fails.
pub struct Running(pub std::process::Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}
