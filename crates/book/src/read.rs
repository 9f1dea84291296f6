//! Questions, answered by one statement each.

use shop::ShopError;
use shop::book::{
    Append, Entry, Id, Listed, Moment, Query, Span, Stage, Store, Subject, SubjectKind, Summary,
    check_limit, key,
};

use crate::book::Book;
use crate::engine::{Fault, Row, Value};
use crate::{rows, sql, write};

/// What the book is doing, for its messages.
const READ: &str = "be read";

impl Book {
    async fn ask(&self, text: &str, values: Vec<Value>) -> Result<Vec<Row>, ShopError> {
        self.engine.rows(text, values).await.map_err(|fault| fault.told(READ))
    }

    async fn entries(&self, text: &str, values: Vec<Value>) -> Result<Vec<Entry>, ShopError> {
        told(rows::entries(&self.ask(text, values).await?))
    }

    async fn number(&self, text: &str, values: Vec<Value>) -> Result<u64, ShopError> {
        let found = self.ask(text, values).await?;
        let number = found.first().map(|row| row.number(0)).transpose();
        told(number.map_err(Fault::from)).map(Option::unwrap_or_default)
    }

    /// When the last entry was written, by the clock of whoever wrote it.
    ///
    /// # Errors
    /// `Store` where the book cannot be read.
    pub async fn last_written(&self) -> Result<Option<Moment>, ShopError> {
        let found = self.ask(sql::LAST_WRITTEN, Vec::new()).await?;
        let last = found.first().map(|row| row.whole(0)).transpose();
        let last = told(last.map_err(Fault::from))?;
        last.map(Moment::from_micros).transpose()
    }

    /// Whether more than a few words begin so, which decides how a list is made.
    async fn is_common(&self, kind: SubjectKind, word: &str) -> Result<bool, ShopError> {
        let values = vec![
            kind.name().into(),
            word.into(),
            format!("{word}{}", sql::LAST_CHARACTER).into(),
            sql::COMMON_FROM.into(),
        ];
        let found = self.number(sql::WORD_IS_COMMON, values).await?;
        Ok(i64::try_from(found).is_ok_and(|found| found >= sql::COMMON_FROM))
    }
}

fn told<T>(outcome: Result<T, Fault>) -> Result<T, ShopError> {
    outcome.map_err(|fault| fault.told(READ))
}

fn first_summary(found: &[Row]) -> Result<Option<Summary>, ShopError> {
    told(found.first().map(rows::summary).transpose())
}

impl Store for Book {
    async fn append(&self, writes: Vec<Append>) -> Result<Vec<Entry>, ShopError> {
        write::append(&self.engine, writes).await
    }

    async fn history(&self, of: &Subject, after: u64, limit: u32) -> Result<Vec<Entry>, ShopError> {
        check_limit(limit)?;
        let mut values = write::named(of);
        values.extend([after.into(), limit.into()]);
        self.entries(sql::HISTORY, values).await
    }

    async fn summary(&self, of: &Subject) -> Result<Option<Summary>, ShopError> {
        first_summary(&self.ask(sql::SUMMARY, write::named(of)).await?)
    }

    async fn find(&self, kind: SubjectKind, number: &str) -> Result<Option<Summary>, ShopError> {
        let values = vec![kind.name().into(), key(number).replace('\0', " ").into()];
        first_summary(&self.ask(sql::FIND, values).await?)
    }

    async fn list(&self, query: &Query) -> Result<Listed, ShopError> {
        let mut words = Vec::new();
        for word in query.sound_words()? {
            let is_common = self.is_common(query.kind, &word).await?;
            words.push((word, is_common));
        }
        let (text, values) = sql::list(query, &words);
        let found = self.ask(&text, values).await?;
        let summaries = told(found.iter().map(rows::summary).collect())?;
        Ok(Listed::cut(summaries, query.limit))
    }

    async fn count(&self, kind: SubjectKind, stage: Stage) -> Result<u64, ShopError> {
        self.number(sql::COUNT, vec![kind.name().into(), stage.name().into()]).await
    }

    async fn written(&self, span: &Span) -> Result<Vec<Entry>, ShopError> {
        check_limit(span.limit)?;
        let (at, id, number) = match &span.after {
            Some((at, id, number)) => (*at, id.as_str(), *number),
            None => (span.from, "", 0),
        };
        let values = vec![
            span.from.micros().into(),
            span.until.micros().into(),
            at.micros().into(),
            id.into(),
            number.into(),
            span.limit.into(),
        ];
        self.entries(sql::WRITTEN, values).await
    }

    async fn ground_with(&self, wheel: &Id, limit: u32) -> Result<Vec<Entry>, ShopError> {
        check_limit(limit)?;
        self.entries(sql::GROUND_WITH, vec![wheel.as_str().into(), limit.into()]).await
    }
}
