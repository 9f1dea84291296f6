//! Connections: how many there may be, how long each may take over what it sends, and their end.
//!
//! An answer may take as long as it takes. What is limited is the wait for others: for the head of
//! a request, for its entries, for the next request, and for somebody to take what is answered.

mod io;
mod seats;
#[cfg(test)]
mod tests;

use std::convert::Infallible;
use std::net::SocketAddr;
use std::pin::pin;
use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::Request;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::{Service, service_fn};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;
use tokio::task::JoinSet;
use tokio::time::{sleep, timeout};

use io::{Answered, Patient, Sent};
use seats::{Seat, Seats};

/// How many there may be, and how long each may take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// Connections in all.
    pub(super) in_all: usize,
    /// Connections from one address.
    pub(super) of_peer: usize,
    /// For the head of a request, from the end of the one before.
    pub(super) head: Duration,
    /// Between two pieces of what is sent behind the head.
    pub(super) pause: Duration,
    /// For all that is sent behind the head.
    pub(super) body: Duration,
    /// For a piece of an answer to be taken.
    pub(super) taken: Duration,
    /// For what is under way when the bench is told to stop.
    pub(super) end: Duration,
}

impl Limits {
    /// Room for some hundred tablets, below the thousand files that a program may usually have
    /// open, and time for a slow radio link.
    pub(super) const USUAL: Self = Self {
        in_all: 512,
        of_peer: 64,
        head: Duration::from_secs(20),
        pause: Duration::from_secs(15),
        body: Duration::from_secs(120),
        taken: Duration::from_secs(60),
        end: Duration::from_secs(5),
    };
}

/// After an accept that failed for want of files or memory.
const BREATH: Duration = Duration::from_millis(200);

/// Answers whoever connects until it is told to stop; then what is under way gets a while to end.
pub(super) async fn answered(
    listener: TcpListener,
    router: Router,
    limits: Limits,
    stop: impl Future<Output = ()>,
) {
    let (ending, told) = watch::channel(false);
    let (seats, mut connections) = (Seats::default(), JoinSet::new());
    let mut stop = pin!(stop);
    loop {
        let accepted = tokio::select! {
            accepted = listener.accept() => accepted,
            () = &mut stop => break,
        };
        while connections.try_join_next().is_some() {}
        match accepted {
            Ok((stream, peer)) => {
                // Where every place is taken by work in hand, whoever comes next is not let in.
                if let Some(seat) = seats.take(peer.ip().to_canonical(), limits) {
                    let one = One { peer, seat, limits, told: told.clone() };
                    connections.spawn(one.answered(stream, router.clone()));
                }
            }
            Err(error) if is_of_the_visitor(&error) => {}
            Err(_) => sleep(BREATH).await,
        }
    }
    drop(listener);
    ending.send_replace(true);
    let all = async { while connections.join_next().await.is_some() {} };
    // Whoever is not done by then is cut off with the set.
    drop(timeout(limits.end, all).await);
}

/// Whether somebody went away between knocking and being let in.
fn is_of_the_visitor(error: &std::io::Error) -> bool {
    use std::io::ErrorKind::{ConnectionAborted, ConnectionRefused, ConnectionReset};
    matches!(error.kind(), ConnectionAborted | ConnectionRefused | ConnectionReset)
}

/// One connection.
struct One {
    peer: SocketAddr,
    seat: Seat,
    limits: Limits,
    told: watch::Receiver<bool>,
}

impl One {
    async fn answered(self, stream: TcpStream, router: Router) {
        let Self { peer, seat, limits, mut told } = self;
        let (work, writing) = (seat.work(), seat.work());
        let service = service_fn(move |request: Request<Incoming>| {
            let under_way = work.begun();
            let mut request = request.map(|body| Body::new(Sent::new(body, limits)));
            request.extensions_mut().insert(ConnectInfo(peer));
            let answer = TowerToHyperService::new(router.clone()).call(request);
            async move {
                let answer = answer.await?;
                Ok::<_, Infallible>(answer.map(|body| Answered::new(body, under_way)))
            }
        });
        let mut builder = http1::Builder::new();
        builder.timer(TokioTimer::new()).header_read_timeout(limits.head);
        let stream = TokioIo::new(Patient::new(stream, writing, limits.taken));
        let mut connection = pin!(builder.serve_connection(stream, service));
        let mut is_ending = false;
        loop {
            tokio::select! {
                // Whatever ends it, the other end sees that it has ended.
                _ = connection.as_mut() => return,
                () = seat.asked_to_leave() => return,
                _ = told.wait_for(|told| *told), if !is_ending => {
                    if !seat.is_at_work() {
                        return;
                    }
                    is_ending = true;
                    connection.as_mut().graceful_shutdown();
                }
            }
        }
    }
}
