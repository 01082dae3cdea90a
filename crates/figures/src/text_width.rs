//! How wide a text will be, near enough to keep labels apart.
//!
//! No back end used here can measure text, so widths of a common sans-serif font are assumed;
//! they are on the wide side, so that a real font fits.

/// Width of a text in the unit of its size.
#[must_use]
pub fn text_width(text: &str, size: f64) -> f64 {
    text.chars().map(advance).sum::<f64>() * size
}

/// The text in lines no wider than asked, broken at spaces.
#[must_use]
pub fn wrap(text: &str, size: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line)
                if text_width(line, size) + text_width(word, size) + 0.3 * size
                    <= width =>
            {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Advance of a character in em.
fn advance(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '\'' | '|' | '.' | ',' | ':' | ';' | 'I' | '·' => 0.31,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '/' | '-' | ' ' => 0.38,
        'm' | 'w' | 'M' | 'W' | '%' | '—' => 0.92,
        '⁰'..='⁹' | '¹' | '²' | '³' | '⁻' => 0.42,
        '\u{202f}' => 0.2,
        'A'..='Z' => 0.70,
        '×' | '±' | '−' | '<' | '>' | '=' | '+' | '≈' | '→' => 0.75,
        _ => 0.60,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_keep_within_the_width_and_lose_no_word() {
        let text = "outside the published range of the model, read as a guess";
        let lines = wrap(text, 14.0, 160.0);
        assert!(2 <= lines.len());
        assert_eq!(lines.join(" "), text);
        for line in lines {
            assert!(text_width(&line, 14.0) <= 160.0, "{line}");
        }
    }
}
