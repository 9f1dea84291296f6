//! Starting and stopping the bench app.

use std::net::{IpAddr, SocketAddr};
use std::path::PathBuf;

use axum::extract::DefaultBodyLimit;
use axum::{Router, middleware};
use book::{Book, Place};
use shop::ShopError;
use tokio::net::TcpListener;
use tokio::time::timeout;

use super::connections::{self, Limits};
use super::state::{Bench, Settings};
use super::{copies, demo, fault, guard, interface, pages};
use crate::cli::Failure;
use crate::desk::Desk;

/// The longest form that is read, in bytes: a shop's own tables with room to spare.
pub(super) const BODY_BYTES_MAX: usize = 2 << 20;

/// What `toothrest serve` was asked for.
pub(crate) struct Serve {
    /// Where the book lies.
    pub(crate) place: Place,
    /// Where to listen.
    pub(crate) address: SocketAddr,
    /// Names by which others call this machine.
    pub(crate) names: Vec<String>,
    /// Whether to begin with the demo shop set up.
    pub(crate) has_demo: bool,
}

/// Opens the book and serves the bench until it is told to stop; `ready` gets the address and what
/// a hand should know of the book.
pub(crate) async fn serve(
    wanted: Serve,
    ready: impl FnOnce(SocketAddr, &[String]),
) -> Result<(), Failure> {
    let book = Book::open(&wanted.place).await?;
    let listener = TcpListener::bind(wanted.address).await.map_err(|source| Failure::Write {
        what: format!("listening at {}; give another with --listen", wanted.address),
        source,
    })?;
    let told = |source| Failure::Write { what: "the address".to_owned(), source };
    let address = listener.local_addr().map_err(told)?;
    let bench = Bench::new(Desk::new(book.clone()), settings(&wanted));
    if wanted.has_demo {
        demo::set_up(&bench).await?;
    }
    ready(address, &bench.desk().remarks(bench.zone()).await?);
    let jobs = bench.clone();
    let work = async {
        connections::answered(listener, router(bench), Limits::USUAL, asked_to_stop()).await;
        jobs.jobs().stop_all();
        // A book whose server is away loses nothing when it is left without a word.
        drop(timeout(Limits::USUAL.end, book.close()).await);
    };
    tokio::select! {
        () = work => {}
        () = asked_twice() => {}
    }
    Ok(())
}

fn settings(wanted: &Serve) -> Settings {
    let has_sign_in = !wanted.address.ip().is_loopback();
    let copies = copies_of_server(&wanted.place);
    Settings { has_sign_in, hosts: hosts(wanted.address.ip(), &wanted.names), copies }
}

/// A book on a server has no folder to lie beside, so its copies go where a file would lie.
fn copies_of_server(place: &Place) -> Option<PathBuf> {
    let Place::Server(_) = place else { return None };
    Place::usual(|name| std::env::var_os(name)).ok().and_then(|usual| copies::folder_of(&usual))
}

/// The names by which a browser may call this bench, so that no page of another site can reach it
/// under a name of its own.
fn hosts(listens_at: IpAddr, names: &[String]) -> Vec<String> {
    let own = ["localhost", "127.0.0.1", "[::1]"].map(str::to_owned);
    match listens_at {
        _ if listens_at.is_unspecified() && names.is_empty() => Vec::new(),
        IpAddr::V4(at) => own.into_iter().chain([at.to_string()]).chain(names.to_vec()).collect(),
        IpAddr::V6(at) => {
            own.into_iter().chain([format!("[{at}]")]).chain(names.to_vec()).collect()
        }
    }
}

/// All pages, with what every request passes.
pub(crate) fn router(bench: Bench) -> Router {
    pages::routes()
        .merge(interface::routes(&bench))
        .fallback(async || fault::Fault::NoPage)
        .layer(middleware::from_fn_with_state(bench.clone(), pages::signed_in))
        .layer(middleware::from_fn_with_state(bench.clone(), guard::guarded))
        .layer(DefaultBodyLimit::max(BODY_BYTES_MAX))
        .with_state(bench)
}

/// Ends when the program is told to stop a second time: whoever says it twice means at once.
async fn asked_twice() {
    asked_to_stop().await;
    asked_to_stop().await;
}

/// Ends when the program is told to stop.
async fn asked_to_stop() {
    let interrupted = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        let Ok(mut terminated) = signal(SignalKind::terminate()) else {
            drop(interrupted.await);
            return;
        };
        tokio::select! {
            _ = interrupted => {}
            _ = terminated.recv() => {}
        }
    }
    #[cfg(not(unix))]
    drop(interrupted.await);
}

/// The address at which the bench listens where nothing else is said.
pub(crate) fn usual_address() -> SocketAddr {
    SocketAddr::from(([127, 0, 0, 1], USUAL_PORT))
}

/// A port that nothing else is known to use.
const USUAL_PORT: u16 = 8817;

/// An address as written: a port, a host, or both.
pub(crate) fn address(text: &str) -> Result<SocketAddr, ShopError> {
    let usual = usual_address();
    let port = || text.parse::<u16>().ok().map(|port| SocketAddr::new(usual.ip(), port));
    let host = || text.parse::<IpAddr>().ok().map(|host| SocketAddr::new(host, usual.port()));
    let both = || text.parse::<SocketAddr>().ok();
    let named = || {
        let (host, port) = text.split_once(':').unwrap_or((text, "8817"));
        (host == "localhost")
            .then(|| port.parse().ok())
            .flatten()
            .map(|port: u16| SocketAddr::new(usual.ip(), port))
    };
    port().or_else(host).or_else(both).or_else(named).ok_or_else(|| {
        let reason = "write a port, an address of this machine, or both, such as 0.0.0.0:8817";
        ShopError::invalid("--listen", format!("{text:?}: {reason}"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_read_as_people_write_them() {
        for (text, read) in [
            ("9000", "127.0.0.1:9000"),
            ("0.0.0.0", "0.0.0.0:8817"),
            ("192.168.1.4:80", "192.168.1.4:80"),
            ("[::1]:9000", "[::1]:9000"),
            ("localhost", "127.0.0.1:8817"),
            ("localhost:9000", "127.0.0.1:9000"),
        ] {
            assert_eq!(address(text).unwrap().to_string(), read);
        }
        for wrong in ["", "bench", "1.2.3", "1.2.3.4:x", "70000"] {
            assert!(address(wrong).is_err(), "{wrong}");
        }
    }
}
