//! Keeps the screen on while asked. The browser takes the lock away when the page is hidden; it is
//! asked for again when the page comes back.

use std::{
    cell::{Cell, RefCell},
    rc::Rc,
};

use wasm_bindgen::{JsCast, JsValue, closure::Closure};

use super::js;

/// The screen's stay-awake switch. Clones are the same switch.
#[derive(Clone)]
pub struct Wake(Rc<Inner>);

struct Inner {
    wanted: Cell<bool>,
    lock: RefCell<Option<JsValue>>,
    told: Box<dyn Fn(bool)>,
    events: RefCell<Vec<Closure<dyn Fn()>>>,
}

impl Wake {
    /// `told` is called with true when the screen is being kept on, false when it no longer is.
    pub fn new(told: impl Fn(bool) + 'static) -> Self {
        let inner = Rc::new(Inner {
            wanted: Cell::new(false),
            lock: RefCell::default(),
            told: Box::new(told),
            events: RefCell::default(),
        });
        if let Some(document) = js::window().and_then(|window| window.document()) {
            let (of, page) = (Rc::downgrade(&inner), document.clone());
            let back = Closure::<dyn Fn()>::new(move || {
                if let Some(inner) = of.upgrade().filter(|i| i.wanted.get() && !page.hidden()) {
                    wasm_bindgen_futures::spawn_local(async move {
                        Wake(inner).request().await;
                    });
                }
            });
            let listener = back.as_ref().unchecked_ref();
            let _ = document.add_event_listener_with_callback("visibilitychange", listener);
            inner.events.borrow_mut().push(back);
        }
        Wake(inner)
    }

    /// True when this browser can do it at all.
    pub fn is_possible() -> bool {
        js::window().is_some_and(|window| js::has(&window.navigator(), "wakeLock"))
    }

    /// Keeps the screen on; call from a tap. False when the browser refused.
    pub async fn on(&self) -> bool {
        self.0.wanted.set(true);
        self.request().await
    }

    /// Lets the screen go dark again.
    pub async fn off(&self) {
        self.0.wanted.set(false);
        let lock = self.0.lock.borrow_mut().take();
        if let Some(lock) = lock {
            let _ = js::call(&lock, "release", &[]).await;
        }
        (self.0.told)(false);
    }

    async fn request(&self) -> bool {
        let lock = js::window().and_then(|window| js::get(&window.navigator(), "wakeLock"));
        let Some(lock) = lock else { return false };
        let Ok(lock) = js::call(&lock, "request", &["screen".into()]).await else {
            (self.0.told)(false);
            return false;
        };
        let of = Rc::downgrade(&self.0);
        let released = Closure::once_into_js(move || {
            if let Some(inner) = of.upgrade() {
                (inner.told)(false);
            }
        });
        js::set(&lock, "onrelease", released);
        self.0.lock.replace(Some(lock));
        (self.0.told)(true);
        true
    }
}
