//! What texts are told apart by.

/// The FNV-1a hash, 64 bits, of some texts in their order, as 16 digits.
#[must_use]
pub fn of<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for text in texts {
        // The length goes in, too: the same letters divided otherwise are other texts.
        let length = text.len().to_le_bytes();
        for byte in length.iter().chain(text.as_bytes()) {
            hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
    format!("{hash:016x}")
}
