//! What a course page holds to show an assignment: a frame, and a script that lets it grow as high as it needs to be.
//! The messages it hears are described in DEVELOPERS.md.

/// The snippet. The title is the instructor's, and goes into another page's HTML: what would end the attribute or
/// begin an element there is written as characters.
pub(super) fn snippet(title: &str, link: &str) -> String {
    let [title, link] = [title, link].map(escaped);
    format!(
        r#"<iframe title="{title}" src="{link}" style="width: 100%; height: 900px; border: 0" allow="clipboard-write"></iframe>
<script>
{{
  const frame = document.currentScript.previousElementSibling;
  addEventListener("message", ({{ source, data }}) => {{
    if (source === frame.contentWindow && data?.type === "whorl-height" && data.version === 1) {{
      frame.style.height = `${{Number(data.px)}}px`;
    }}
  }});
}}
</script>
"#
    )
}

/// Text for an attribute in double quotes (HTML, 13.1.2.3).
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('"', "&quot;").replace('<', "&lt;").replace('>', "&gt;")
}
