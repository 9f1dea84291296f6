//! What comes in and goes out, with an end to the wait for either.

use std::io::{self, ErrorKind, IoSlice};
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;

use axum::body::{Body, Bytes, HttpBody};
use hyper::body::{Frame, Incoming, SizeHint};
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::time::{Instant, Sleep, sleep};

use super::Limits;
use super::seats::{UnderWay, Work};

/// What is sent behind the head of a request.
pub(super) struct Sent {
    body: Incoming,
    pause: Duration,
    next: Pin<Box<Sleep>>,
    whole: Pin<Box<Sleep>>,
}

impl Sent {
    pub(super) fn new(body: Incoming, limits: Limits) -> Self {
        let (next, whole) = (Box::pin(sleep(limits.pause)), Box::pin(sleep(limits.body)));
        Self { body, pause: limits.pause, next, whole }
    }
}

impl HttpBody for Sent {
    type Data = Bytes;
    type Error = axum::BoxError;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Self::Error>>> {
        let has_ended = self.whole.as_mut().poll(cx).is_ready();
        if !has_ended && let Poll::Ready(frame) = Pin::new(&mut self.body).poll_frame(cx) {
            let until = Instant::now() + self.pause;
            self.next.as_mut().reset(until);
            return Poll::Ready(frame.map(|frame| frame.map_err(Into::into)));
        }
        if has_ended || self.next.as_mut().poll(cx).is_ready() {
            let late = io::Error::new(ErrorKind::TimedOut, "the rest did not come in time");
            return Poll::Ready(Some(Err(late.into())));
        }
        Poll::Pending
    }

    fn is_end_stream(&self) -> bool {
        self.body.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.body.size_hint()
    }
}

/// What is answered; the request is under way until all of it is handed on.
pub(super) struct Answered {
    body: Body,
    _under_way: UnderWay,
}

impl Answered {
    pub(super) fn new(body: Body, under_way: UnderWay) -> Self {
        Self { body, _under_way: under_way }
    }
}

impl HttpBody for Answered {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Self::Error>>> {
        Pin::new(&mut self.body).poll_frame(cx)
    }

    fn is_end_stream(&self) -> bool {
        self.body.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.body.size_hint()
    }
}

/// A connection whose other end must take what it asked for, some of it at least, in time.
pub(super) struct Patient<S> {
    stream: S,
    work: Work,
    wait: Duration,
    until: Option<Pin<Box<Sleep>>>,
}

impl<S> Patient<S> {
    pub(super) const fn new(stream: S, work: Work, wait: Duration) -> Self {
        Self { stream, work, wait, until: None }
    }

    /// What writing came to; a failure where nothing was taken for too long.
    fn in_time<T>(
        &mut self,
        cx: &mut Context<'_>,
        written: Poll<io::Result<T>>,
    ) -> Poll<io::Result<T>> {
        self.work.set_unsent(written.is_pending());
        if written.is_ready() {
            self.until = None;
            return written;
        }
        let wait = self.wait;
        let until = self.until.get_or_insert_with(|| Box::pin(sleep(wait)));
        until.as_mut().poll(cx).map(|()| Err(ErrorKind::TimedOut.into()))
    }
}

impl<S: AsyncRead + Unpin> AsyncRead for Patient<S> {
    fn poll_read(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        into: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(cx, into)
    }
}

impl<S: AsyncWrite + Unpin> AsyncWrite for Patient<S> {
    fn poll_write(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write(cx, bytes);
        self.in_time(cx, written)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        pieces: &[IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write_vectored(cx, pieces);
        self.in_time(cx, written)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_flush(cx)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(cx)
    }
}
