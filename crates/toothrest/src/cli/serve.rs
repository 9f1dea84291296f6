//! `toothrest serve`.

use std::net::SocketAddr;
use std::process::ExitCode;

use super::args::ServeArguments;
use super::failure::Failure;
use super::output::print;
use super::place::runtime;
use crate::surroundings::SystemClock;
use crate::web::{self, Serve};

/// Serves the bench until it is told to stop.
pub(super) fn run(arguments: &ServeArguments) -> Result<String, Failure> {
    // No answer can say such a date either.
    SystemClock.check()?;
    let place = arguments.book.place()?;
    let address = match &arguments.listen {
        Some(text) => web::address(text)?,
        None => web::usual_address(),
    };
    let told = format!("The book: {place}\n");
    let wanted = Serve { place, address, names: arguments.name.clone(), has_demo: arguments.demo };
    let ready = |address: SocketAddr, remarks: &[String]| tell(address, &told, remarks);
    let runtime = runtime()?;
    let served = runtime.block_on(web::serve(wanted, ready));
    // What is still being reckoned is for nobody any more.
    runtime.shutdown_background();
    served.map(|()| String::new())
}

/// Says where the bench is to be found.
fn tell(address: SocketAddr, told: &str, remarks: &[String]) {
    let mut text = format!("The bench is open at http://{address}\n{told}");
    for remark in remarks {
        text += &format!("Mind: {remark}\n");
    }
    if !address.ip().is_loopback() {
        text += "Others can reach it, so everybody signs in. Give each person a PIN:\n  \
                 toothrest book pin INITIALS\n";
    }
    text += "Stop it with Ctrl-C; nothing that was entered is lost.\n";
    let _: ExitCode = print(&text);
}
