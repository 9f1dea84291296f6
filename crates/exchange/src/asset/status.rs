//! The status of a cutter, in a type that can hold no two statuses that must not stand together.
//!
//! MTConnect 2.4 forbids NEW with USED, RECONDITIONED or EXPIRED; UNKNOWN with any other; ALLOCATED
//! with UNALLOCATED; AVAILABLE with UNAVAILABLE; AVAILABLE with EXPIRED, BROKEN or NOT_REGISTERED.
//! Each pair is parted here by a choice, so that no check is needed and none can be forgotten.

/// What is known of a cutter's status.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutterStatus {
    /// Nothing: UNKNOWN stands alone.
    Unknown,
    /// Something.
    Known(KnownStatus),
}

/// The statuses that can stand together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KnownStatus {
    /// Whether it may be asked for, and with it what it has gone through.
    pub service: Service,
    /// Whether it is meant for a process.
    pub allocation: Option<Allocation>,
    /// Whether it was measured.
    pub is_measured: bool,
    /// Whether it is out to be sharpened.
    pub is_tagged_out: bool,
}

/// Whether a cutter may be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Service {
    /// AVAILABLE: nothing that ends its use can stand beside it.
    Available(Past),
    /// UNAVAILABLE.
    Unavailable {
        /// What it has gone through.
        past: PastAtRest,
        /// Whether it is broken.
        is_broken: bool,
        /// Whether it is not registered.
        is_unregistered: bool,
    },
}

/// What a cutter that can be used has gone through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Past {
    /// It is new.
    New,
    /// It is not said to be new.
    Lived {
        /// Whether it was used since it was last sharp.
        is_used: bool,
        /// Whether it was sharpened again.
        is_reconditioned: bool,
    },
}

/// What a cutter that cannot be used has gone through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PastAtRest {
    /// It is new.
    New,
    /// It is not said to be new.
    Lived {
        /// Whether it was used since it was last sharp.
        is_used: bool,
        /// Whether it was sharpened again.
        is_reconditioned: bool,
        /// Whether it will not be used again.
        is_expired: bool,
    },
}

/// Whether a cutter is meant for a process.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allocation {
    /// It is.
    Allocated,
    /// It is not.
    Unallocated,
}

impl CutterStatus {
    /// The words of the standard, at least one.
    pub fn words(self) -> Vec<&'static str> {
        match self {
            Self::Unknown => vec!["UNKNOWN"],
            Self::Known(known) => known.words(),
        }
    }
}

impl KnownStatus {
    fn words(self) -> Vec<&'static str> {
        let mut words = self.service.words();
        words.extend(self.allocation.map(Allocation::word));
        words.extend(self.is_measured.then_some("MEASURED"));
        words.extend(self.is_tagged_out.then_some("TAGGED_OUT"));
        words
    }
}

impl Service {
    fn words(self) -> Vec<&'static str> {
        match self {
            Self::Available(Past::New) => vec!["NEW", "AVAILABLE"],
            Self::Available(Past::Lived { is_used, is_reconditioned }) => {
                told(&[(true, "AVAILABLE"), (is_used, "USED"), (is_reconditioned, "RECONDITIONED")])
            }
            Self::Unavailable { past, is_broken, is_unregistered } => {
                let ends = [(is_broken, "BROKEN"), (is_unregistered, "NOT_REGISTERED")];
                let mut words = past.words();
                words.extend(told(&ends));
                words
            }
        }
    }
}

impl PastAtRest {
    fn words(self) -> Vec<&'static str> {
        match self {
            Self::New => vec!["NEW", "UNAVAILABLE"],
            Self::Lived { is_used, is_reconditioned, is_expired } => told(&[
                (true, "UNAVAILABLE"),
                (is_used, "USED"),
                (is_reconditioned, "RECONDITIONED"),
                (is_expired, "EXPIRED"),
            ]),
        }
    }
}

impl Allocation {
    const fn word(self) -> &'static str {
        match self {
            Self::Allocated => "ALLOCATED",
            Self::Unallocated => "UNALLOCATED",
        }
    }
}

/// The words that hold.
fn told(words: &[(bool, &'static str)]) -> Vec<&'static str> {
    words.iter().filter(|(holds, _)| *holds).map(|(_, word)| *word).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOOLS: [bool; 2] = [false, true];

    fn services() -> Vec<Service> {
        let mut all = vec![Service::Available(Past::New)];
        for is_used in BOOLS {
            for is_reconditioned in BOOLS {
                all.push(Service::Available(Past::Lived { is_used, is_reconditioned }));
            }
        }
        let mut pasts = vec![PastAtRest::New];
        for is_used in BOOLS {
            for is_reconditioned in BOOLS {
                pasts.extend(BOOLS.map(|is_expired| PastAtRest::Lived {
                    is_used,
                    is_reconditioned,
                    is_expired,
                }));
            }
        }
        for past in pasts {
            for is_broken in BOOLS {
                all.extend(BOOLS.map(|is_unregistered| Service::Unavailable {
                    past,
                    is_broken,
                    is_unregistered,
                }));
            }
        }
        all
    }

    /// MTConnectAssets 2.4, documentation of CutterStatus, read in the schema.
    const FORBIDDEN: [(&str, &[&str]); 4] = [
        ("NEW", &["USED", "RECONDITIONED", "EXPIRED"]),
        ("ALLOCATED", &["UNALLOCATED"]),
        ("AVAILABLE", &["UNAVAILABLE", "EXPIRED", "BROKEN", "NOT_REGISTERED"]),
        ("UNALLOCATED", &["ALLOCATED"]),
    ];

    #[test]
    fn no_value_of_the_type_says_a_forbidden_pair() {
        let mut statuses = vec![CutterStatus::Unknown];
        for service in services() {
            for allocation in [None, Some(Allocation::Allocated), Some(Allocation::Unallocated)] {
                statuses.extend(BOOLS.map(|told| {
                    CutterStatus::Known(KnownStatus {
                        service,
                        allocation,
                        is_measured: told,
                        is_tagged_out: !told,
                    })
                }));
            }
        }
        assert_eq!(statuses.len(), 1 + (5 + 9 * 4) * 3 * 2);
        for words in statuses.into_iter().map(CutterStatus::words) {
            assert!(!words.is_empty());
            assert!(words.len() == 1 || !words.contains(&"UNKNOWN"), "{words:?}");
            for (one, others) in FORBIDDEN {
                let both = words.contains(&one) && words.iter().any(|word| others.contains(word));
                assert!(!both, "{words:?}");
            }
        }
    }
}
