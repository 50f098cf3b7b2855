//! Findings as topics for programs that show models.
//!
//! # Source
//! BIM Collaboration Format 3.0, buildingSMART International.

use super::text::printable;
use crate::finding::{Finding, Severity};
use crate::takeoff::{Sight, SurfaceTakeoff, Takeoff, sight_of};
use sha2::{Digest, Sha256};
use std::cmp::Reverse;
use std::collections::HashMap;
use std::io::{self, Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// Topics at most, the gravest findings first: programs show each in a list of its own.
const MOST_TOPICS: usize = 2000;
/// A time that the format asks for. No clock is read, so that the same takeoff gives the same bytes.
const DATE: &str = "2000-01-01T00:00:00Z";
const AUTHOR: &str = "cavitally";
const STATUS: &str = "Open";
const XML: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
/// Field of view in degrees, and width to height of the picture.
const VIEW: (f64, f64) = (60.0, 1.5);

/// One topic for each finding about an element of a model.
///
/// # Errors
/// Those of the writer; writing to memory has none.
pub(super) fn findings_bcf(takeoff: &Takeoff) -> io::Result<Vec<u8>> {
    let mut findings: Vec<&Finding> = takeoff.findings.iter().filter(|finding| global_id(finding).is_some()).collect();
    findings.sort_by_key(|finding| Reverse(finding.severity));
    findings.truncate(MOST_TOPICS);
    let mut surfaces: HashMap<&str, &SurfaceTakeoff> = HashMap::new();
    for surface in &takeoff.surfaces {
        surfaces.entry(&surface.id).or_insert(surface);
    }
    let mut archive = Archive { writer: ZipWriter::new(Cursor::new(Vec::new())) };
    archive.add("bcf.version", &format!("{XML}<Version VersionId=\"3.0\"/>\n"))?;
    archive.add("extensions.xml", &extensions(&findings))?;
    let seed: Vec<&str> = takeoff.inputs.iter().map(|input| input.sha256.as_str()).collect();
    for (index, finding) in findings.iter().enumerate() {
        let Some(id) = global_id(finding) else { continue };
        let surface = surfaces.get(id).copied();
        let guid = |what: &str| guid(&format!("{}\n{index}\n{}\n{what}", seed.join("\n"), finding.message));
        let topic = Topic { finding, id, surface, index, guid: guid("topic"), viewpoint: guid("viewpoint") };
        archive.add(&format!("{}/markup.bcf", topic.guid), &topic.markup(takeoff))?;
        archive.add(&format!("{}/viewpoint.bcfv", topic.guid), &topic.viewpoint())?;
    }
    Ok(archive.writer.finish().map_err(io::Error::from)?.into_inner())
}

struct Archive {
    writer: ZipWriter<Cursor<Vec<u8>>>,
}

impl Archive {
    fn add(&mut self, name: &str, text: &str) -> io::Result<()> {
        self.writer.start_file(name, SimpleFileOptions::default())?;
        self.writer.write_all(text.as_bytes())
    }
}

/// Words that topics use, which the format wants listed.
fn extensions(findings: &[&Finding]) -> String {
    let list = |all: &str, one: &str, mut values: Vec<String>| {
        values.sort();
        values.dedup();
        let values: String = values.iter().fold(String::new(), |text, value| text + &element(one, value));
        format!("<{all}>{values}</{all}>\n")
    };
    let lists = [
        list("TopicTypes", "TopicType", findings.iter().map(|one| severity(one).to_owned()).collect()),
        list("TopicStatuses", "TopicStatus", vec![STATUS.to_owned()]),
        list("Priorities", "Priority", Vec::new()),
        list("TopicLabels", "TopicLabel", findings.iter().map(|one| code(one)).collect()),
        list("Users", "User", vec![AUTHOR.to_owned()]),
        list("SnippetTypes", "SnippetType", Vec::new()),
        list("Stages", "Stage", Vec::new()),
    ];
    format!("{XML}<Extensions>\n{}</Extensions>\n", lists.concat())
}

/// A finding, and what it is about.
struct Topic<'t> {
    finding: &'t Finding,
    id: &'t str,
    surface: Option<&'t SurfaceTakeoff>,
    index: usize,
    guid: String,
    viewpoint: String,
}

impl Topic<'_> {
    fn markup(&self, takeoff: &Takeoff) -> String {
        let finding = self.finding;
        let path = self.surface.map(|surface| surface.source.input.as_str());
        let path = path.or(takeoff.inputs.first().map(|input| input.path.as_str())).unwrap_or_default();
        let file = path.rsplit(['/', '\\']).next().unwrap_or(path);
        let name = self.surface.map_or(self.id, SurfaceTakeoff::label);
        let title = element("Title", &format!("{}: {name}", code(finding)));
        let description = element("Description", &format!("{} ({})", finding.message, finding.r#where));
        format!(
            "{XML}<Markup>\n<Header><Files><File IsExternal=\"true\">{}</File></Files></Header>\n\
             <Topic Guid=\"{}\" TopicType=\"{}\" TopicStatus=\"{STATUS}\">\n{title}\n<Index>{}</Index>\n\
             <Labels>{}</Labels>\n<CreationDate>{DATE}</CreationDate>\n<CreationAuthor>{AUTHOR}</CreationAuthor>\n\
             {description}\n<Viewpoints><ViewPoint Guid=\"{}\"><Viewpoint>viewpoint.bcfv</Viewpoint></ViewPoint></Viewpoints>\n\
             </Topic>\n</Markup>\n",
            element("Filename", file),
            self.guid,
            severity(finding),
            self.index,
            element("Label", &code(finding)),
            self.viewpoint
        )
    }

    /// The element selected among all others, seen from where it can be seen whole.
    fn viewpoint(&self) -> String {
        let camera = self.surface.and_then(sight_of).map(|sight| camera(&sight)).unwrap_or_default();
        format!(
            "{XML}<VisualizationInfo Guid=\"{}\">\n<Components>\n<Selection><Component IfcGuid=\"{}\"/></Selection>\n\
             <Visibility DefaultVisibility=\"true\"/>\n</Components>\n{camera}</VisualizationInfo>\n",
            self.viewpoint, self.id
        )
    }
}

fn camera(sight: &Sight) -> String {
    let vector = |name: &str, [x, y, z]: [f64; 3]| format!("<{name}><X>{x}</X><Y>{y}</Y><Z>{z}</Z></{name}>\n");
    format!(
        "<PerspectiveCamera>\n{}{}{}<FieldOfView>{}</FieldOfView>\n<AspectRatio>{}</AspectRatio>\n</PerspectiveCamera>\n",
        vector("CameraViewPoint", sight.from_m),
        vector("CameraDirection", sight.direction),
        vector("CameraUpVector", sight.up),
        VIEW.0,
        VIEW.1
    )
}

/// The `GlobalId` that a finding is about: 22 digits of the standard's compressed form.
fn global_id(finding: &Finding) -> Option<&str> {
    let is_digit = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '$');
    finding.id.as_deref().filter(|id| id.len() == 22 && id.chars().all(is_digit))
}

fn severity(finding: &Finding) -> &'static str {
    match finding.severity {
        Severity::Note => "Note",
        Severity::Warning => "Warning",
        Severity::Error => "Error",
    }
}

fn code(finding: &Finding) -> String {
    // A code always is a text.
    serde_json::to_value(finding.code).ok().and_then(|code| code.as_str().map(str::to_owned)).unwrap_or_default()
}

/// A name-like identifier that follows from a text, in the form of RFC 9562, version 8.
fn guid(text: &str) -> String {
    let hash = Sha256::digest(text);
    let mut digits = hash.iter().take(16).fold(String::new(), |digits, byte| digits + &format!("{byte:02x}"));
    digits.replace_range(12..13, "8");
    digits.replace_range(16..17, "a");
    let part = |from: usize, to: usize| digits.get(from..to).unwrap_or_default().to_owned();
    [part(0, 8), part(8, 12), part(12, 16), part(16, 20), part(20, 32)].join("-")
}

/// An element with a text, all that means something in XML and all that may not stand in it escaped.
fn element(name: &str, text: &str) -> String {
    let mut out = format!("<{name}>");
    for c in printable(text).chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            // Not a character of XML 1.0.
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            _ => out.push(c),
        }
    }
    out.push_str(&format!("</{name}>"));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_in_a_name_is_text() {
        assert_eq!(element("Title", "<b>A & B</b>\u{7}"), "<Title>&lt;b&gt;A &amp; B&lt;/b&gt;\\u{7}</Title>");
    }

    #[test]
    fn identifiers_follow_from_their_text() {
        let one = guid("a");
        assert_eq!(one, guid("a"));
        assert_ne!(one, guid("b"));
        let lengths: Vec<usize> = one.split('-').map(str::len).collect();
        assert_eq!(lengths, [8, 4, 4, 4, 12]);
        assert!(one.chars().all(|c| c == '-' || c.is_ascii_digit() || ('a'..='f').contains(&c)), "{one}");
    }
}
