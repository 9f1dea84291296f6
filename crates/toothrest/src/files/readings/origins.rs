//! From the fields of a draft back to the places of a file.

use std::collections::BTreeMap;

/// The field by which a draft names its readings as a whole.
pub(super) const WHOLE: &str = "readings";

/// Where each field of a draft was written.
#[derive(Default)]
pub(super) struct Origins {
    paths: BTreeMap<String, String>,
}

impl Origins {
    /// Remembers where a field was written.
    pub(super) fn note(&mut self, field: impl Into<String>, path: impl Into<String>) {
        self.paths.insert(field.into(), path.into());
    }

    /// Where a field was written. What is below a noted field is below its place too, and a field
    /// that was never noted goes by its own name.
    pub(super) fn path(&self, field: &str) -> String {
        let ends = field.rmatch_indices(['.', '[']).map(|(end, _)| end);
        std::iter::once(field.len())
            .chain(ends)
            .find_map(|end| Some(format!("{}{}", self.paths.get(&field[..end])?, &field[end..])))
            .unwrap_or_else(|| field.to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_found_by_itself_by_what_is_around_it_or_by_its_name() {
        let mut origins = Origins::default();
        origins.note("lands[0]", "lands");
        origins.note("lands[0].reading[1].width", "lands.at[0].teeth[2]");
        let path = |field: &str| origins.path(field);
        assert_eq!(path("lands[0].reading[1].width"), "lands.at[0].teeth[2]");
        assert_eq!(path("lands[0].resolution"), "lands.resolution");
        assert_eq!(path("lands[0]"), "lands");
        assert_eq!(path("lands[1].resolution"), "lands[1].resolution");
        assert_eq!(path("ground_order"), "ground_order");
    }
}
