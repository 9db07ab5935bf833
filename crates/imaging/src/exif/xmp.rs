//! What an XMP description gives away: that a picture was edited or stitched, and exposure data where nothing else has them.
//!
//! Looks for names in the text and reads no more of it. Not here: Exif ([`super::tiff`]); positions, which are not looked for.

/// A name that is followed by its value has the value within so many bytes.
const REACH: usize = 96;

fn find(text: &[u8], name: &[u8]) -> Option<usize> {
    text.windows(name.len()).position(|window| window == name)
}

/// Whether a name stands in the text.
pub(super) fn has(text: &[u8], name: &str) -> bool {
    find(text, name.as_bytes()).is_some()
}

/// The number or fraction behind a name: `exif:FNumber="18/10"`, or the first in a list.
pub(super) fn number(text: &[u8], name: &str) -> Option<f64> {
    let after = text.get(find(text, name.as_bytes())? + name.len()..)?;
    let after = after.get(..REACH).unwrap_or(after);
    let start = after.iter().position(u8::is_ascii_digit)?;
    let digits: Vec<u8> =
        after.get(start..)?.iter().copied().take_while(|c| c.is_ascii_digit() || matches!(c, b'/' | b'.')).collect();
    fraction(core::str::from_utf8(&digits).ok()?)
}

/// `1/125` or `0.008` as a number; nothing where it is not finite.
pub(super) fn fraction(text: &str) -> Option<f64> {
    let number = |part: &str| part.trim().parse::<f64>().ok();
    let value = match text.split_once('/') {
        None => number(text)?,
        Some((over, under)) => number(over)? / number(under)?,
    };
    value.is_finite().then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_attribute_and_as_list() {
        let text =
            b"<r exif:ExposureTime=\"1/125\" exif:FNumber='18/10'><exif:ISOSpeedRatings><rdf:Seq><rdf:li>50</rdf:li>";
        assert_eq!(number(text, "exif:ExposureTime"), Some(0.008));
        assert_eq!(number(text, "exif:FNumber"), Some(1.8));
        assert_eq!(number(text, "exif:ISOSpeedRatings"), Some(50.0));
        assert_eq!(number(text, "exif:Flash"), None);
        assert_eq!(number(b"exif:FNumber=\"0/0\"", "exif:FNumber"), None);
        assert_eq!((fraction("1/0"), fraction("inf"), fraction("0.5")), (None, None, Some(0.5)));
    }
}
