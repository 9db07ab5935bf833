//! What there is to choose from, as pages take it. Not here: which lists there are, which each room has.

use inspection::tolerance::Choices;

use crate::page::Choice;

/// One choice.
pub(crate) fn choice(key: &str, words: &str, help: &str) -> Choice {
    Choice { key: key.to_owned(), words: words.to_owned(), help: help.to_owned() }
}

/// The tolerances to choose from, one's own last.
pub(crate) fn tolerances(of: &Choices) -> Vec<Choice> {
    let (key, words, help) = of.own();
    let usual = of.kinds.iter().map(|kind| choice(kind.key, kind.words, kind.help));
    usual.chain(std::iter::once(choice(key, words, &help))).collect()
}
