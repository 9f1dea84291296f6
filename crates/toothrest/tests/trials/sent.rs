//! The forms that give a record, as any browser may send them, without a book behind them.

use std::sync::LazyLock;

use tokio::runtime::{Builder, Runtime};
use toothrest::trials::Forms;

use super::each::{Outcome, is_short};
use super::forms::coded;

/// The forms, of the plan whose answer is the first of the seeds.
static FORMS: LazyLock<Forms> = LazyLock::new(|| {
    let answers = super::seeds::plan_answers();
    Forms::of(&answers[0]).expect("the example can be planned")
});

thread_local! {
    static RUNTIME: Runtime = Builder::new_current_thread().build().expect("a runtime");
}

/// Each form as a sound record fills it, behind the byte that chooses it.
pub(crate) fn seeds() -> Vec<String> {
    let one = |which: usize| {
        let pair = |(name, value): (String, String)| format!("{}={}", coded(&name), coded(&value));
        let pairs: Vec<String> = FORMS.filled(which).into_iter().map(pair).collect();
        format!("{which}{}", pairs.join("&"))
    };
    (0..Forms::COUNT).map(one).collect()
}

/// Whether a form gives a record, and not what is wrong with it.
pub(crate) fn is_read(bytes: &[u8]) -> bool {
    let which = usize::from(bytes[0].wrapping_sub(b'0'));
    let sent = FORMS.read(which, bytes[1..].to_vec());
    RUNTIME.with(|runtime| runtime.block_on(sent)).is_ok()
}

/// The first byte chooses the form, the rest is sent.
pub(crate) fn form(bytes: &[u8]) -> Outcome {
    let [which, sent @ ..] = bytes else { return Ok(()) };
    let which = usize::from(which.wrapping_sub(b'0'));
    match RUNTIME.with(|runtime| runtime.block_on(FORMS.read(which, sent.to_vec()))) {
        Ok(text) => match FORMS.read_file(which, &text) {
            Ok(again) if again == text => Ok(()),
            Ok(again) => Err(format!("was\n{text}\nis\n{again}")),
            Err(told) => Err(format!("what a form gave does not read: {told}\n{text}")),
        },
        Err(told) if told.is_empty() => Err("refused without a word".to_owned()),
        Err(told) => told.iter().try_for_each(|words| is_short(words)),
    }
}
