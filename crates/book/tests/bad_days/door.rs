//! A door before a server of PostgreSQL, which can be shut and opened again.

use std::path::{Path, PathBuf};

use book::Place;
use tempfile::TempDir;
use tokio::io::copy_bidirectional;
use tokio::net::{UnixListener, UnixStream};
use tokio::task::{JoinHandle, JoinSet};

/// The name of a server's socket in its folder.
const SOCKET: &str = ".s.PGSQL.5432";

/// A door before a server.
pub(crate) struct Door {
    folder: TempDir,
    server: PathBuf,
    open: Option<JoinHandle<()>>,
}

impl Door {
    /// An open door before the server at a place, and the place behind it.
    pub(crate) fn before(place: &Place) -> Option<(Self, Place)> {
        let Place::Server(address) = place else { return None };
        let (before, host) = address.split_once("?host=")?;
        let (host, more) = host.split_once('&').unwrap_or((host, ""));
        let folder = tempfile::tempdir().unwrap();
        let at = format!("{before}?host={}&{more}", folder.path().display());
        let at = at.trim_end_matches('&');
        let mut door = Self { folder, server: Path::new(host).join(SOCKET), open: None };
        door.opened();
        Some((door, Place::from_text(at).unwrap()))
    }

    pub(crate) fn opened(&mut self) {
        let listener = UnixListener::bind(self.folder.path().join(SOCKET)).unwrap();
        let server = self.server.clone();
        self.open = Some(tokio::spawn(async move {
            // Dropped with this task, it ends whatever goes through the door.
            let mut through = JoinSet::new();
            while let Ok((mut visitor, _)) = listener.accept().await {
                let server = server.clone();
                through.spawn(async move {
                    let mut inside = UnixStream::connect(&server).await.unwrap();
                    drop(copy_bidirectional(&mut visitor, &mut inside).await);
                });
            }
        }));
    }

    pub(crate) async fn shut(&mut self) {
        if let Some(open) = self.open.take() {
            open.abort();
            drop(open.await);
        }
        std::fs::remove_file(self.folder.path().join(SOCKET)).unwrap();
    }
}
