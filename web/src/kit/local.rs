//! Parts that hold state of their own. All of them are one component: Yew makes
//! some six kilobytes of code for every component type, so there is but one,
//! and what it draws is a closure that it is given.

use std::any::Any;
use std::cell::RefCell;
use std::ops::Deref;
use std::rc::Rc;

use yew::functional::{Hook, HookContext};
use yew::prelude::*;
use yew::virtual_dom::{Key, VChild, VList};

type Draw = Rc<dyn Fn(&mut HookContext) -> Html>;

/// Properties of the one component.
#[derive(Properties)]
pub struct LocalProps {
    draw: Draw,
}

/// Closures cannot be compared, and what is around a part is drawn anew only
/// when something has changed: so the part is drawn anew with it.
impl PartialEq for LocalProps {
    fn eq(&self, _: &Self) -> bool {
        false
    }
}

struct Drawing<'a>(&'a Draw);

impl Hook for Drawing<'_> {
    type Output = Html;

    fn run(self, ctx: &mut HookContext) -> Html {
        (self.0)(ctx)
    }
}

fn use_drawing(draw: &Draw) -> Drawing<'_> {
    Drawing(draw)
}

/// The one component.
#[component]
fn Local(props: &LocalProps) -> Html {
    use_drawing(&props.draw)
}

/// A part with state. `kind` tells it from every other kind of part, whose
/// state it must not take over.
pub fn local(kind: &'static str, draw: impl Fn(&mut HookContext) -> Html + 'static) -> Html {
    boxed(kind, Rc::new(draw))
}

fn boxed(kind: &'static str, draw: Draw) -> Html {
    let part = VChild::<Local>::new(LocalProps { draw }, Some(Key::from(kind)));
    // The list keeps the key from the siblings, which may be of the same kind.
    VList::with_children(vec![part.into()], None).into()
}

/// The same with a key that tells it from its siblings.
pub fn keyed(key: impl Into<Key>, node: Html) -> Html {
    VList::with_children(vec![node], Some(key.into())).into()
}

/// Gives a part with state its `draw`: `$draw` is a hook that takes the part.
#[macro_export]
macro_rules! live {
    ($part:ident, $draw:ident) => {
        impl $part {
            /// Draws it.
            pub fn draw(self) -> ::yew::Html {
                $crate::kit::local(concat!(module_path!(), stringify!($part)), move |ctx| {
                    ::yew::functional::Hook::run($draw(&self), ctx)
                })
            }
        }
    };
}

/// Gives a part without state its `draw`.
#[macro_export]
macro_rules! plain {
    ($part:ident, $draw:ident) => {
        impl $part {
            /// Draws it.
            pub fn draw(&self) -> ::yew::Html {
                $draw(self)
            }
        }
    };
}

/// Where a state lives between two drawings.
struct Slot {
    value: RefCell<Rc<dyn Any>>,
    redraw: UseForceUpdateHandle,
}

/// A state as it was when the part was drawn.
pub struct State<T> {
    seen: Rc<T>,
    slot: Rc<Slot>,
}

impl<T> Clone for State<T> {
    fn clone(&self) -> Self {
        Self {
            seen: self.seen.clone(),
            slot: self.slot.clone(),
        }
    }
}

impl<T> Deref for State<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.seen
    }
}

impl<T: 'static> State<T> {
    /// Puts another in its place and has the part drawn anew.
    pub fn set(&self, value: T) {
        self.slot.put(Rc::new(value));
    }
}

impl Slot {
    fn put(&self, value: Rc<dyn Any>) {
        self.value.replace(value);
        self.redraw.force_update();
    }
}

#[hook]
fn use_slot() -> Rc<Slot> {
    let redraw = use_force_update();
    let slot = use_mut_ref(|| None::<Rc<Slot>>);
    slot.borrow_mut()
        .get_or_insert_with(|| {
            Rc::new(Slot {
                value: RefCell::new(Rc::new(())),
                redraw,
            })
        })
        .clone()
}

/// A state of the part. Not Yew's own, whose code is made anew for every type.
#[hook]
pub fn use_local<T: 'static>(first: impl FnOnce() -> T) -> State<T> {
    let slot = use_slot();
    let kept = slot.value.borrow().clone().downcast::<T>();
    let seen = kept.unwrap_or_else(|_| {
        let seen = Rc::new(first());
        slot.value.replace(seen.clone());
        seen
    });
    State { seen, slot }
}
