//! What was found at a point: its condition and the person's own words.
//!
//! Not here: which points there are ([`crate::catalogue`]) and what follows from them ([`crate::outcome`]).

use crate::catalogue::Point;

/// The condition of a point. Not checked is the default and is never hidden.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Condition {
    /// As it should be.
    Sound,
    /// Aged, and still doing its work.
    Worn,
    /// Not doing its work as it should.
    Faulty,
    /// Not doing its work at all.
    Failed,
    /// The camera has no such thing.
    NotFitted,
    /// Nobody looked.
    #[default]
    NotChecked,
}

impl Condition {
    /// Every condition, in the order in which they are offered.
    pub const ALL: [Condition; 6] = [
        Condition::Sound,
        Condition::Worn,
        Condition::Faulty,
        Condition::Failed,
        Condition::NotFitted,
        Condition::NotChecked,
    ];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Condition::Sound => "sound",
            Condition::Worn => "worn",
            Condition::Faulty => "faulty",
            Condition::Failed => "failed",
            Condition::NotFitted => "not_fitted",
            Condition::NotChecked => "not_checked",
        }
    }

    /// The word at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            Condition::Sound => "sound",
            Condition::Worn => "worn",
            Condition::Faulty => "faulty",
            Condition::Failed => "failed",
            Condition::NotFitted => "not fitted",
            Condition::NotChecked => "not checked",
        }
    }

    /// The condition with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|condition| condition.key() == key)
    }

    /// Whether it does not do its work.
    pub const fn is_bad(self) -> bool {
        matches!(self, Condition::Faulty | Condition::Failed)
    }

    /// Whether somebody looked.
    pub const fn is_checked(self) -> bool {
        !matches!(self, Condition::NotChecked)
    }
}

/// A point with what was found there.
#[derive(Clone, Debug)]
pub struct Finding {
    /// The point.
    pub point: &'static Point,
    /// Its condition.
    pub condition: Condition,
    /// The person's own words.
    pub note: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn not_checked_is_the_default_and_keys_lead_back() {
        assert_eq!(Condition::default(), Condition::NotChecked);
        for condition in Condition::ALL {
            assert_eq!(Condition::from_key(condition.key()), Some(condition));
        }
        assert_eq!(Condition::from_key("mint"), None);
    }
}
