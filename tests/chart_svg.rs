//! Reads what matters off an SVG picture, for the tests of the pictures.

use tankday::chart::Svg;

/// One element: its tag, its attributes as written, its text.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Element<'a> {
    pub(crate) tag: &'a str,
    attributes: &'a str,
    pub(crate) text: &'a str,
}

impl<'a> Element<'a> {
    pub(crate) fn get(&self, key: &str) -> Option<&'a str> {
        let start = format!(" {key}=\"");
        let at = self.attributes.find(&start)? + start.len();
        self.attributes[at..].split('"').next()
    }

    pub(crate) fn number(&self, key: &str) -> f64 {
        self.get(key)
            .and_then(|v| v.parse().ok())
            .unwrap_or_else(|| panic!("{key} in {self:?}"))
    }
}

/// All elements in order, the outermost first.
pub(crate) fn elements(svg: &Svg) -> Vec<Element<'_>> {
    let starts = svg
        .as_str()
        .split('<')
        .filter(|part| !part.is_empty() && !part.starts_with('/'));
    starts
        .map(|part| {
            let (head, text) = part
                .split_once('>')
                .unwrap_or_else(|| panic!("an open tag: {part}"));
            let tag = head.split([' ', '/']).next().unwrap_or_default();
            Element {
                tag,
                attributes: &head[tag.len()..],
                text: text.trim_end_matches('\n'),
            }
        })
        .collect()
}

/// Every colour that is written, as `#RRGGBB`.
pub(crate) fn colours(svg: &Svg) -> Vec<&str> {
    let all = elements(svg);
    let mut found: Vec<&str> = all
        .iter()
        .flat_map(|e| [e.get("fill"), e.get("stroke")])
        .flatten()
        .filter(|c| *c != "none")
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// A text as read: entities resolved.
pub(crate) fn read(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&apos;", "'")
        .replace("&amp;", "&")
}
