//! The bench as a program of its own: how it ends.
#![cfg(unix)]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::Duration;

use crate::bench::{Bench, root};

/// A bench that runs, and where.
struct Running {
    program: Child,
    address: String,
}

impl Running {
    fn on(bench: &Bench) -> Self {
        let mut program = Command::new(env!("CARGO_BIN_EXE_toothrest"))
            .current_dir(root())
            .env("TOOTHREST_BOOK", bench.place())
            .args(["serve", "--listen", "127.0.0.1:0"])
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut first = String::new();
        BufReader::new(program.stdout.as_mut().unwrap()).read_line(&mut first).unwrap();
        let (_, address) = first.trim().split_once("http://").unwrap();
        Self { program, address: address.to_owned() }
    }

    /// A visitor who has sent this much.
    fn visitor(&self, sent: &str) -> TcpStream {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        stream.write_all(sent.as_bytes()).unwrap();
        stream
    }

    /// Asks for a page and gets it whole, so that whoever came before has been let in.
    fn asked(&self) -> String {
        let host = &self.address;
        let request = format!("GET /who HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n");
        let mut answer = String::new();
        self.visitor(&request).read_to_string(&mut answer).unwrap();
        answer
    }

    fn told(&self, signal: &str) {
        let id = self.program.id().to_string();
        assert!(Command::new("kill").args([signal, &id]).status().unwrap().success());
    }

    /// How it ended, and after how long.
    fn ended(&mut self) -> (ExitStatus, Duration) {
        let step = Duration::from_millis(20);
        for steps in 0..3_000 {
            if let Some(status) = self.program.try_wait().unwrap() {
                return (status, steps * step);
            }
            sleep(step);
        }
        self.program.kill().unwrap();
        panic!("it never ends");
    }
}

#[test]
fn half_a_request_does_not_keep_the_bench_from_ending() {
    let bench = Bench::new();
    for signal in ["-TERM", "-INT"] {
        let mut running = Running::on(&bench);
        let _silent = running.visitor("GET / HTTP/1.1\r\nHost: local");
        assert!(running.asked().starts_with("HTTP/1.1 200"));
        running.told(signal);
        let (status, after) = running.ended();
        assert!(status.success() && after < Duration::from_secs(4), "{status} after {after:?}");
    }
}

#[test]
fn told_twice_it_ends_at_once() {
    let bench = Bench::new();
    let mut running = Running::on(&bench);
    let head = format!("POST /who HTTP/1.1\r\nHost: {}\r\n", running.address);
    let origin = format!("Origin: http://{}\r\n", running.address);
    let _working = running.visitor(&format!("{head}{origin}Content-Length: 1000\r\n\r\nabc"));
    assert!(running.asked().starts_with("HTTP/1.1 200"));
    running.told("-TERM");
    sleep(Duration::from_millis(500));
    assert!(running.program.try_wait().unwrap().is_none(), "it waits for work in hand");
    running.told("-TERM");
    let (status, after) = running.ended();
    assert!(status.success() && after < Duration::from_secs(3), "{status} after {after:?}");
}
