//! Style sheets that come with a part of the program.

use super::worker::of_this_page;
use crate::dom::{document, el};
use js_sys::Promise;
use wasm_bindgen_futures::JsFuture;

/// Loads a style sheet unless it is there; whether it then is. A file of the page's own.
pub(crate) async fn load(file: &str) -> bool {
    let address = of_this_page(file);
    let there = |link: &web_sys::Element| link.get_attribute("href").as_ref() == Some(&address);
    let links = document().get_elements_by_tag_name("link");
    if (0..links.length()).filter_map(|index| links.item(index)).any(|link| there(&link)) {
        return true;
    }
    let Some(head) = document().head() else { return false };
    let link = el("link").attr("rel", "stylesheet").attr("href", &address);
    let loaded = Promise::new(&mut |done, failed| {
        let _ = link.node().add_event_listener_with_callback("load", &done);
        let _ = link.node().add_event_listener_with_callback("error", &failed);
    });
    // What is printed has the last word.
    let print = document().query_selector("link[href*=print]").ok().flatten();
    let _ = head.insert_before(link.node(), print.as_deref());
    let loaded = JsFuture::from(loaded).await.is_ok();
    if !loaded {
        // The next try asks anew.
        link.node().remove();
    }
    loaded
}
