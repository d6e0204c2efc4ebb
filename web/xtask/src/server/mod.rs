//! A static file server on this machine only, with the headers a real host
//! should send, a log of what was asked, and faults that tests can switch on.
//!
//! It is written on the standard library because it must be what no ready
//! server is: stopped at once with all its connections, made to hang, or to
//! answer one file wrongly; and because an async one would add a minute to
//! every first build.

pub mod faults;
mod files;
mod http;

use anyhow::{Context, Result};
use faults::{Fault, Kind};
use std::collections::HashMap;
use std::io::{BufReader, Write};
use std::net::{Ipv4Addr, Shutdown, SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// One request that was answered, or left hanging (status 0).
#[derive(Clone, Debug)]
pub struct Hit {
    pub path: String,
    pub status: u16,
}

/// A running server; dropping it stops it.
pub struct Server {
    address: SocketAddr,
    shared: Arc<Shared>,
    accepting: Option<JoinHandle<()>>,
}

struct Shared {
    folder: Mutex<PathBuf>,
    faults: Mutex<Vec<Fault>>,
    hits: Mutex<Vec<Hit>>,
    open: Mutex<HashMap<u64, TcpStream>>,
    next: AtomicU64,
    stopping: AtomicBool,
}

impl Server {
    /// Serves `folder` on 127.0.0.1; port 0 takes any free one.
    pub fn start(folder: &Path, port: u16) -> Result<Self> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port)).with_context(|| {
            format!("port {port} is taken; choose another with --port, or end what uses it")
        })?;
        let address = listener.local_addr()?;
        let shared = Arc::new(Shared {
            folder: Mutex::new(folder.to_owned()),
            faults: Mutex::default(),
            hits: Mutex::default(),
            open: Mutex::default(),
            next: AtomicU64::new(0),
            stopping: AtomicBool::new(false),
        });
        let accepting = thread::spawn({
            let shared = Arc::clone(&shared);
            move || accept(&listener, &shared)
        });
        Ok(Self {
            address,
            shared,
            accepting: Some(accepting),
        })
    }

    /// Where it listens.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Serves another folder from now on, as a new version would be put up.
    pub fn set_folder(&self, folder: &Path) {
        folder.clone_into(&mut lock(&self.shared.folder));
    }

    /// Adds a fault; several may be on.
    pub fn add_fault(&self, fault: Fault) {
        lock(&self.shared.faults).push(fault);
    }

    /// Switches every fault off.
    pub fn clear_faults(&self) {
        lock(&self.shared.faults).clear();
    }

    /// What was asked since the start or the last `reset_hits`.
    pub fn hits(&self) -> Vec<Hit> {
        lock(&self.shared.hits).clone()
    }

    pub fn reset_hits(&self) {
        lock(&self.shared.hits).clear();
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.shared.stopping.store(true, Ordering::SeqCst);
        // Wakes the accepting thread, which then sees that it must stop.
        let _ = TcpStream::connect(self.address);
        if let Some(accepting) = self.accepting.take() {
            let _ = accepting.join();
        }
        for stream in lock(&self.shared.open).values() {
            let _ = stream.shutdown(Shutdown::Both);
        }
    }
}

/// A thread that panicked leaves plain data behind, which is still good.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex
        .lock()
        .unwrap_or_else(std::sync::PoisonError::into_inner)
}

fn accept(listener: &TcpListener, shared: &Arc<Shared>) {
    for stream in listener.incoming() {
        if shared.stopping.load(Ordering::SeqCst) {
            return;
        }
        let Ok(stream) = stream else { continue };
        // Small answers must not wait for an acknowledgement.
        let _ = stream.set_nodelay(true);
        let id = shared.next.fetch_add(1, Ordering::Relaxed);
        if let Ok(copy) = stream.try_clone() {
            lock(&shared.open).insert(id, copy);
        }
        let shared = Arc::clone(shared);
        thread::spawn(move || {
            let _ = converse(&stream, &shared);
            lock(&shared.open).remove(&id);
            let _ = stream.shutdown(Shutdown::Both);
        });
    }
}

/// Answers requests on one connection until the other side has enough.
fn converse(stream: &TcpStream, shared: &Shared) -> std::io::Result<()> {
    let mut reader = BufReader::new(stream);
    let mut writer = stream;
    while let Some(request) = http::read(&mut reader)? {
        let folder = lock(&shared.folder).clone();
        let fault = lock(&shared.faults)
            .iter()
            .find(|fault| request.path.contains(&fault.pattern))
            .map(|fault| fault.kind.clone());
        let mut answer = files::answer(&folder, &request);
        if let Some(kind) = fault {
            if let Kind::Hang = kind {
                note(shared, &request.path, 0);
                while !shared.stopping.load(Ordering::SeqCst) {
                    thread::sleep(Duration::from_millis(50));
                }
                return Ok(());
            }
            kind.spoil(&mut answer);
        }
        note(shared, &request.path, answer.status);
        writer.write_all(&answer.bytes(request.head_only))?;
        if request.last {
            return Ok(());
        }
    }
    Ok(())
}

fn note(shared: &Shared, path: &str, status: u16) {
    lock(&shared.hits).push(Hit {
        path: path.to_owned(),
        status,
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read;

    fn get(address: SocketAddr, path: &str) -> std::io::Result<String> {
        let mut stream = TcpStream::connect(address)?;
        stream.set_read_timeout(Some(Duration::from_millis(500)))?;
        write!(
            stream,
            "GET {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
        )?;
        let mut text = String::new();
        stream.read_to_string(&mut text)?;
        Ok(text)
    }

    fn site(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("countback-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join("index.html"), "page").unwrap();
        std::fs::write(folder.join("a-0123456789abcdef_bg.wasm"), "\0asm").unwrap();
        folder
    }

    #[test]
    fn files_come_with_their_type_the_policy_and_the_right_age() {
        let server = Server::start(&site("types"), 0).unwrap();
        let page = get(server.address(), "/").unwrap();
        assert!(page.starts_with("HTTP/1.1 200"), "{page}");
        assert!(page.contains("text/html; charset=utf-8") && page.ends_with("page"));
        assert!(page.contains("Cache-Control: no-cache"));
        assert!(page.contains("frame-ancestors 'none'") && !page.contains("unsafe-inline"));
        let wasm = get(server.address(), "/a-0123456789abcdef_bg.wasm?x").unwrap();
        assert!(wasm.contains("Content-Type: application/wasm") && wasm.contains("immutable"));
        assert!(
            get(server.address(), "/none")
                .unwrap()
                .starts_with("HTTP/1.1 404")
        );
        assert!(
            get(server.address(), "/../Cargo.toml")
                .unwrap()
                .starts_with("HTTP/1.1 404")
        );
        assert!(
            get(server.address(), "/%2e%2e/Cargo.toml")
                .unwrap()
                .starts_with("HTTP/1.1 404")
        );
        assert_eq!(server.hits().len(), 5);
        server.reset_hits();
        assert!(server.hits().is_empty());
    }

    #[test]
    fn faults_spoil_only_what_they_name() {
        let folder = site("faults");
        let server = Server::start(&folder, 0).unwrap();
        for (line, sign) in [
            ("status 500 wasm", "HTTP/1.1 500"),
            ("mime text/plain wasm", "Content-Type: text/plain"),
            ("age 60 wasm", "Cache-Control: max-age=60"),
        ] {
            server.clear_faults();
            server.add_fault(line.parse().unwrap());
            let spoilt = get(server.address(), "/a-0123456789abcdef_bg.wasm").unwrap();
            assert!(spoilt.contains(sign), "{line}: {spoilt}");
            assert!(get(server.address(), "/").unwrap().contains("200"));
        }
        server.add_fault("hang index".parse().unwrap());
        assert!(get(server.address(), "/index.html").is_err());
    }

    #[test]
    fn a_stopped_server_leaves_no_connection_and_its_port_is_free() {
        let folder = site("stop");
        let server = Server::start(&folder, 0).unwrap();
        let address = server.address();
        let mut kept = TcpStream::connect(address).unwrap();
        write!(kept, "GET / HTTP/1.1\r\nHost: x\r\n\r\n").unwrap();
        drop(server);
        assert!(get(address, "/").is_err());
        let again = Server::start(&folder, address.port()).unwrap();
        assert!(get(again.address(), "/").unwrap().contains("200"));
    }
}
