//! Visitors who send half of something and wait, on a bench with little room and short limits.

use axum::routing::{get, post};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::sync::oneshot;
use tokio::task::JoinHandle;
use tokio::time::Instant;

use super::*;

const SHORT: Limits = Limits {
    in_all: 6,
    of_peer: 4,
    head: Duration::from_millis(700),
    pause: Duration::from_millis(400),
    body: Duration::from_secs(2),
    taken: Duration::from_millis(700),
    end: Duration::from_millis(600),
};

const ASKED: &[u8] = b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n";

/// A bench that runs until it is told to stop.
struct Running {
    address: SocketAddr,
    stop: oneshot::Sender<()>,
    task: JoinHandle<()>,
}

/// Longer than every limit of the test.
const LONG: Duration = Duration::from_millis(1_500);

async fn running(limits: Limits) -> Running {
    let router = Router::new()
        .route("/", get(async || "here"))
        .route("/kept", post(async |sent: axum::body::Bytes| format!("took {}", sent.len())))
        .route(
            "/long",
            get(async || {
                sleep(LONG).await;
                "it took long"
            }),
        )
        .route("/much", get(async || vec![b'x'; 64 << 20]));
    let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let address = listener.local_addr().unwrap();
    let (stop, told) = oneshot::channel::<()>();
    let stopped = async { drop(told.await) };
    let task = tokio::spawn(answered(listener, router, limits, stopped));
    Running { address, stop, task }
}

/// A visitor who has sent this much.
async fn visitor(at: &Running, sent: &[u8]) -> TcpStream {
    let mut stream = TcpStream::connect(at.address).await.unwrap();
    stream.write_all(sent).await.unwrap();
    stream
}

/// All that comes back until the bench closes; it must do so in time.
async fn until_closed(mut stream: TcpStream) -> String {
    let mut bytes = Vec::new();
    let read = timeout(Duration::from_secs(20), stream.read_to_end(&mut bytes)).await;
    // One that is cut off may be told so with an error.
    drop(read.expect("the bench never closes"));
    String::from_utf8_lossy(&bytes).into_owned()
}

/// What a visitor gets who asks once and says so.
async fn asked(at: &Running, path: &str) -> String {
    let request = format!("GET {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
    until_closed(visitor(at, request.as_bytes()).await).await
}

#[tokio::test]
async fn half_a_head_and_a_silent_visitor_are_not_waited_for() {
    let bench = running(SHORT).await;
    for sent in [&b""[..], b"GET / HT", b"GET / HTTP/1.1\r\nHost: localhost\r\nX: "] {
        let silent = visitor(&bench, sent).await;
        assert!(!until_closed(silent).await.contains("200 OK"));
    }
    // One that goes on asking may stay between its requests only so long.
    let kept = visitor(&bench, ASKED).await;
    assert!(until_closed(kept).await.ends_with("here"));
}

#[tokio::test]
async fn half_a_form_is_not_waited_for() {
    let bench = running(SHORT).await;
    let head = "POST /kept HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000\r\n\r\n";
    let answer = until_closed(visitor(&bench, format!("{head}abc").as_bytes()).await).await;
    assert!(answer.starts_with("HTTP/1.1 400") && !answer.contains("took"), "{answer}");
    // Somebody who sends a byte now and then stays below the pause and not below the whole.
    let mut dripping = visitor(&bench, head.as_bytes()).await;
    let begun = Instant::now();
    while dripping.write_all(b"x").await.is_ok() && begun.elapsed() < 4 * SHORT.body {
        sleep(SHORT.pause / 4).await;
    }
    assert!(begun.elapsed() < 3 * SHORT.body, "it drips on for {:?}", begun.elapsed());
}

#[tokio::test]
async fn silent_visitors_keep_nobody_out() {
    let patient = Limits { head: Duration::from_secs(60), ..SHORT };
    let bench = running(patient).await;
    let mut silent = Vec::new();
    for _ in 0..40 {
        silent.push(visitor(&bench, b"GET / HTTP/1.1\r\nHost:").await);
    }
    assert!(asked(&bench, "/").await.ends_with("here"));
    let left = patient.of_peer;
    let mut closed = 0;
    for mut one in silent {
        let read = timeout(Duration::from_millis(100), one.read(&mut [0; 8])).await;
        closed += usize::from(matches!(read, Ok(Ok(0) | Err(_))));
    }
    assert!(closed >= 40 - left, "only {closed} gave way");
}

#[tokio::test]
async fn work_in_hand_does_not_give_way() {
    let bench = running(SHORT).await;
    let request = b"GET /long HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n";
    let mut working = Vec::new();
    for _ in 0..SHORT.of_peer {
        working.push(visitor(&bench, request).await);
    }
    sleep(Duration::from_millis(300)).await;
    assert_eq!(asked(&bench, "/").await, "", "there is no place for one more");
    for one in working {
        assert!(until_closed(one).await.ends_with("it took long"));
    }
    assert!(asked(&bench, "/").await.ends_with("here"));
}

#[tokio::test]
async fn a_long_answer_is_whole_and_one_that_nobody_takes_ends() {
    let bench = running(SHORT).await;
    let mut slow = visitor(&bench, b"GET /much HTTP/1.1\r\nHost: localhost\r\n\r\n").await;
    let (mut got, mut piece) = (0, vec![0; 1 << 20]);
    while got < 64 << 20 {
        sleep(Duration::from_millis(10)).await;
        got += slow.read(&mut piece).await.unwrap();
    }
    drop(slow);
    let kept = running(Limits { of_peer: 1, ..SHORT }).await;
    let _idle = visitor(&kept, b"GET /much HTTP/1.1\r\nHost: localhost\r\n\r\n").await;
    sleep(Duration::from_millis(200)).await;
    assert_eq!(asked(&kept, "/").await, "");
    sleep(2 * SHORT.taken).await;
    assert!(asked(&kept, "/").await.ends_with("here"));
}

#[tokio::test]
async fn the_end_waits_for_work_a_while_and_for_silence_not_at_all() {
    let patient = Limits { head: Duration::from_secs(60), end: 3 * LONG, ..SHORT };
    let bench = running(patient).await;
    let _silent = visitor(&bench, b"GET / HT").await;
    let working = visitor(&bench, b"GET /long HTTP/1.1\r\nHost: localhost\r\n\r\n").await;
    sleep(Duration::from_millis(200)).await;
    bench.stop.send(()).unwrap();
    let begun = Instant::now();
    assert!(until_closed(working).await.ends_with("it took long"));
    timeout(LONG, bench.task).await.expect("it ends with its last work").unwrap();
    assert!(begun.elapsed() < 2 * LONG, "silence is waited for");

    let hurried = running(SHORT).await;
    let _working = visitor(&hurried, b"GET /long HTTP/1.1\r\nHost: localhost\r\n\r\n").await;
    sleep(Duration::from_millis(200)).await;
    hurried.stop.send(()).unwrap();
    timeout(LONG, hurried.task).await.expect("it ends in time").unwrap();
}
