//! Asking the person for files through the browser's own picker or camera.

use futures_channel::oneshot;
use wasm_bindgen::{JsCast, closure::Closure};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Event, File, HtmlInputElement};

use super::{bytes::Bytes, js};

/// What to ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted<'a> {
    /// As the `accept` attribute of a file input has it; browsers take it as a hint only.
    pub accept: &'a str,
    /// Open the camera that looks away from the person, where there is one.
    pub camera: bool,
    pub many: bool,
}

/// A question that is on the screen.
pub struct Asking {
    answer: oneshot::Receiver<Vec<Chosen>>,
    input: HtmlInputElement,
    _events: [Closure<dyn Fn(Event)>; 2],
}

/// A file that was chosen and not read yet.
#[derive(Clone, Debug)]
pub struct Chosen(File);

impl Chosen {
    pub fn name(&self) -> String {
        self.0.name()
    }

    /// In bytes.
    pub fn size(&self) -> u64 {
        self.0.size() as u64
    }

    /// Reads it into JavaScript memory. `None` when the browser could not (the file went away).
    pub async fn bytes(&self) -> Option<Bytes> {
        let buffer = JsFuture::from(self.0.array_buffer()).await.ok()?;
        Some(Bytes::from_buffer(buffer.dyn_ref()?))
    }
}

/// Opens the picker at once: call it straight from the tap, or the browser will not open it.
/// `None` when there is no page to do it in.
pub fn ask(wanted: Wanted) -> Option<Asking> {
    let document = js::window()?.document()?;
    let input: HtmlInputElement = document.create_element("input").ok()?.dyn_into().ok()?;
    input.set_type("file");
    input.set_accept(wanted.accept);
    input.set_multiple(wanted.many);
    input.set_hidden(true);
    if wanted.camera {
        input.set_attribute("capture", "environment").ok()?;
    }
    // Some browsers drop an input that is not in the page while the camera is open.
    document.body()?.append_child(&input).ok()?;
    let (tell, answer) = oneshot::channel();
    let tell = std::rc::Rc::new(std::cell::RefCell::new(Some(tell)));
    let (of, first) = (input.clone(), tell.clone());
    let change = Closure::<dyn Fn(Event)>::new(move |_| {
        if let Some(tell) = first.borrow_mut().take() {
            let files = of.files();
            let count = files.as_ref().map_or(0, |files| files.length());
            let file = |at| files.as_ref().and_then(|files| files.get(at));
            let _ = tell.send((0..count).filter_map(file).map(Chosen).collect());
        }
    });
    let cancel = Closure::<dyn Fn(Event)>::new(move |_| {
        if let Some(tell) = tell.borrow_mut().take() {
            let _ = tell.send(Vec::new());
        }
    });
    for (event, closure) in [("change", &change), ("cancel", &cancel)] {
        input
            .add_event_listener_with_callback(event, closure.as_ref().unchecked_ref())
            .ok()?;
    }
    input.click();
    Some(Asking {
        answer,
        input,
        _events: [change, cancel],
    })
}

impl Asking {
    /// What was chosen; empty when the person changed their mind.
    pub async fn chosen(mut self) -> Vec<Chosen> {
        (&mut self.answer).await.unwrap_or_default()
    }
}

impl Drop for Asking {
    fn drop(&mut self) {
        self.input.remove();
    }
}
