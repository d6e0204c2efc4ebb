//! The icons of the app, each one path on a 24 grid, drawn with a round stroke.
//! The drawings are Lucide's (ISC, see assets/icons/LICENSE-lucide.txt), turned into a single path each, except
//! those marked `own`. An icon never stands alone: a word beside it or an accessible name says the same.

use yew::prelude::*;

/// What a drawing stands for. Named by its meaning here, not by its shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Icon {
    Alert,
    Audit,
    Awake,
    Back,
    Bag,
    Balance,
    Battery,
    Blocked,
    Bolt,
    Box,
    Cable,
    Camera,
    Check,
    Clean,
    Clock,
    Close,
    Code,
    Cold,
    Cure,
    Delivery,
    Down,
    Droplet,
    Edit,
    Eye,
    Find,
    Flag,
    Flame,
    Fluid,
    Forward,
    Gasket,
    Gauge,
    Hand,
    Help,
    Hose,
    Info,
    Job,
    Keyboard,
    LeftOff,
    Lock,
    Log,
    Machine,
    Minus,
    Moon,
    More,
    NoTurn,
    Note,
    Nut,
    OpenFile,
    Owed,
    Part,
    People,
    Person,
    Phone,
    Photo,
    Place,
    Plug,
    Plus,
    Print,
    Procedure,
    PutBack,
    Rag,
    Rejoin,
    Renew,
    Repair,
    Ruler,
    SaveCopy,
    Seal,
    SecondCheck,
    Settings,
    Settled,
    Share,
    Shelf,
    Stop,
    SubAssembly,
    Sun,
    Support,
    Tag,
    TakeOff,
    ToBuy,
    Torque,
    Undo,
    Unplug,
    Warning,
    Washer,
    ZoomIn,
    ZoomOut,
}

impl Icon {
    /// Every icon, in alphabetical order.
    pub const ALL: &'static [Icon] = &[
        Icon::Alert,
        Icon::Audit,
        Icon::Awake,
        Icon::Back,
        Icon::Bag,
        Icon::Balance,
        Icon::Battery,
        Icon::Blocked,
        Icon::Bolt,
        Icon::Box,
        Icon::Cable,
        Icon::Camera,
        Icon::Check,
        Icon::Clean,
        Icon::Clock,
        Icon::Close,
        Icon::Code,
        Icon::Cold,
        Icon::Cure,
        Icon::Delivery,
        Icon::Down,
        Icon::Droplet,
        Icon::Edit,
        Icon::Eye,
        Icon::Find,
        Icon::Flag,
        Icon::Flame,
        Icon::Fluid,
        Icon::Forward,
        Icon::Gasket,
        Icon::Gauge,
        Icon::Hand,
        Icon::Help,
        Icon::Hose,
        Icon::Info,
        Icon::Job,
        Icon::Keyboard,
        Icon::LeftOff,
        Icon::Lock,
        Icon::Log,
        Icon::Machine,
        Icon::Minus,
        Icon::Moon,
        Icon::More,
        Icon::NoTurn,
        Icon::Note,
        Icon::Nut,
        Icon::OpenFile,
        Icon::Owed,
        Icon::Part,
        Icon::People,
        Icon::Person,
        Icon::Phone,
        Icon::Photo,
        Icon::Place,
        Icon::Plug,
        Icon::Plus,
        Icon::Print,
        Icon::Procedure,
        Icon::PutBack,
        Icon::Rag,
        Icon::Rejoin,
        Icon::Renew,
        Icon::Repair,
        Icon::Ruler,
        Icon::SaveCopy,
        Icon::Seal,
        Icon::SecondCheck,
        Icon::Settings,
        Icon::Settled,
        Icon::Share,
        Icon::Shelf,
        Icon::Stop,
        Icon::SubAssembly,
        Icon::Sun,
        Icon::Support,
        Icon::Tag,
        Icon::TakeOff,
        Icon::ToBuy,
        Icon::Torque,
        Icon::Undo,
        Icon::Unplug,
        Icon::Warning,
        Icon::Washer,
        Icon::ZoomIn,
        Icon::ZoomOut,
    ];

    /// The path data of the drawing.
    pub const fn path(self) -> &'static str {
        match self {
            Icon::Alert => "M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z M12 8L12 12 M12 16L12.01 16",
            Icon::Audit => "M13 5h8 M13 12h8 M13 19h8 M3 17l2 2 4-4 M3 7l2 2 4-4",
            Icon::Awake => {
                "M15 14c.2-1 .7-1.7 1.5-2.5 1-.9 1.5-2.2 1.5-3.5A6 6 0 0 0 6 8 c0 1 .2 2.2 1.5 3.5.7.7 1.3 1.5 1.5 2.5 M9 18h6 M10 22h4"
            }
            Icon::Back => "M12 19l-7-7 7-7 M19 12H5",
            Icon::Bag => {
                "M16 10a4 4 0 0 1 -8 0 M3.103 6.034h17.794 M3.4 5.467a2 2 0 0 0 -.4 1.2 V20a2 2 0 0 0 2 2 h14a2 2 0 0 0 2 -2 V6.667a2 2 0 0 0 -.4 -1.2 l-2-2.667A2 2 0 0 0 17 2 H7a2 2 0 0 0 -1.6 .8z"
            }
            Icon::Balance => {
                "M12 3v18 M19 8l3 8a5 5 0 0 1 -6 0zV7 M3 7h1a17 17 0 0 0 8 -2 17 17 0 0 0 8 2 h1 M5 8l3 8a5 5 0 0 1 -6 0zV7 M7 21h10"
            }
            Icon::Battery => {
                "M10 17h.01 M10 7v6 M14 6h2a2 2 0 0 1 2 2 v8a2 2 0 0 1 -2 2 h-2 M22 14v-4 M6 18H4a2 2 0 0 1 -2 -2 V8a2 2 0 0 1 2 -2 h2"
            }
            Icon::Blocked => "M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z M4.929 4.929 19.07 19.071",
            // own
            Icon::Bolt => "M4 3h16l-1.5 6h-13z M9 9v12h6V9 M9 13l6-1.5 M9 17l6-1.5",
            Icon::Box => {
                "M11 21.73a2 2 0 0 0 2 0 l7-4A2 2 0 0 0 21 16 V8a2 2 0 0 0 -1 -1.73 l-7-4a2 2 0 0 0 -2 0 l-7 4A2 2 0 0 0 3 8 v8a2 2 0 0 0 1 1.73z M12 22V12 M3.29 7L12 12L20.71 7 M7.5 4.27l9 5.15"
            }
            Icon::Cable => {
                "M17 19a1 1 0 0 1 -1 -1 v-2a2 2 0 0 1 2 -2 h2a2 2 0 0 1 2 2 v2a1 1 0 0 1 -1 1z M17 21v-2 M19 14V6.5a1 1 0 0 0 -7 0 v11a1 1 0 0 1 -7 0 V10 M21 21v-2 M3 5V3 M4 10a2 2 0 0 1 -2 -2 V6a1 1 0 0 1 1 -1 h4a1 1 0 0 1 1 1 v2a2 2 0 0 1 -2 2z M7 5V3"
            }
            Icon::Camera => {
                "M13.997 4a2 2 0 0 1 1.76 1.05 l.486.9A2 2 0 0 0 18.003 7 H20a2 2 0 0 1 2 2 v9a2 2 0 0 1 -2 2 H4a2 2 0 0 1 -2 -2 V9a2 2 0 0 1 2 -2 h1.997a2 2 0 0 0 1.759 -1.048 l.489-.904A2 2 0 0 1 10.004 4z M9 13a3 3 0 1 0 6 0 a3 3 0 1 0 -6 0z"
            }
            Icon::Check => "M20 6 9 17l-5-5",
            Icon::Clean => {
                "M11.017 2.814a1 1 0 0 1 1.966 0 l1.051 5.558a2 2 0 0 0 1.594 1.594 l5.558 1.051a1 1 0 0 1 0 1.966 l-5.558 1.051a2 2 0 0 0 -1.594 1.594 l-1.051 5.558a1 1 0 0 1 -1.966 0 l-1.051-5.558a2 2 0 0 0 -1.594 -1.594 l-5.558-1.051a1 1 0 0 1 0 -1.966 l5.558-1.051a2 2 0 0 0 1.594 -1.594z M20 2v4 M22 4h-4 M2 20a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z"
            }
            Icon::Clock => "M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z M12 6v6l4 2",
            Icon::Close => "M18 6 6 18 M6 6l12 12",
            Icon::Code => {
                "M4 3h3a1 1 0 0 1 1 1 v3a1 1 0 0 1 -1 1 h-3a1 1 0 0 1 -1 -1 v-3a1 1 0 0 1 1 -1z M17 3h3a1 1 0 0 1 1 1 v3a1 1 0 0 1 -1 1 h-3a1 1 0 0 1 -1 -1 v-3a1 1 0 0 1 1 -1z M4 16h3a1 1 0 0 1 1 1 v3a1 1 0 0 1 -1 1 h-3a1 1 0 0 1 -1 -1 v-3a1 1 0 0 1 1 -1z M21 16h-3a2 2 0 0 0 -2 2 v3 M21 21v.01 M12 7v3a2 2 0 0 1 -2 2 H7 M3 12h.01 M12 3h.01 M12 16v.01 M16 12h1 M21 12v.01 M12 21v-1"
            }
            Icon::Cold => {
                "M10 20l-1.25-2.5L6 18 M10 4 8.75 6.5 6 6 M14 20l1.25-2.5L18 18 M14 4l1.25 2.5L18 6 M17 21l-3-6h-4 M17 3l-3 6 1.5 3 M2 12h6.5L10 9 M20 10l-1.5 2 1.5 2 M22 12h-6.5L14 15 M4 10l1.5 2L4 14 M7 21l3-6-1.5-3 M7 3l3 6h4"
            }
            Icon::Cure => {
                "M5 22h14 M5 2h14 M17 22v-4.172a2 2 0 0 0 -.586 -1.414 L12 12l-4.414 4.414A2 2 0 0 0 7 17.828 V22 M7 2v4.172a2 2 0 0 0 .586 1.414 L12 12l4.414-4.414A2 2 0 0 0 17 6.172 V2"
            }
            Icon::Delivery => {
                "M14 18V6a2 2 0 0 0 -2 -2 H4a2 2 0 0 0 -2 2 v11a1 1 0 0 0 1 1 h2 M15 18H9 M19 18h2a1 1 0 0 0 1 -1 v-3.65a1 1 0 0 0 -.22 -.624 l-3.48-4.35A1 1 0 0 0 17.52 8 H14 M15 18a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z M5 18a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z"
            }
            Icon::Down => "M6 9l6 6 6-6",
            Icon::Droplet => {
                "M12 22a7 7 0 0 0 7 -7 c0-2-1-3.9-3-5.5s-3.5-4-4-6.5c-.5 2.5-2 4.9-4 6.5C6 11.1 5 13 5 15a7 7 0 0 0 7 7z"
            }
            Icon::Edit => {
                "M21.174 6.812a1 1 0 0 0 -3.986 -3.987 L3.842 16.174a2 2 0 0 0 -.5 .83 l-1.321 4.352a.5 .5 0 0 0 .623 .622 l4.353-1.32a2 2 0 0 0 .83 -.497z M15 5l4 4"
            }
            Icon::Eye => {
                "M2.062 12.348a1 1 0 0 1 0 -.696 10.75 10.75 0 0 1 19.876 0 1 1 0 0 1 0 .696 10.75 10.75 0 0 1 -19.876 0 M9 12a3 3 0 1 0 6 0 a3 3 0 1 0 -6 0z"
            }
            Icon::Find => "M21 21l-4.34-4.34 M3 11a8 8 0 1 0 16 0 a8 8 0 1 0 -16 0z",
            Icon::Flag => {
                "M4 22V4a1 1 0 0 1 .4 -.8 A6 6 0 0 1 8 2 c3 0 5 2 7.333 2q2 0 3.067-.8A1 1 0 0 1 20 4 v10a1 1 0 0 1 -.4 .8 A6 6 0 0 1 16 16 c-3 0-5-2-8-2a6 6 0 0 0 -4 1.528"
            }
            Icon::Flame => {
                "M12 3q1 4 4 6.5t3 5.5a1 1 0 0 1 -14 0 5 5 0 0 1 1 -3 1 1 0 0 0 5 0 c0-2-1.5-3-1.5-5q0-2 2.5-4"
            }
            Icon::Fluid => {
                "M7 16.3c2.2 0 4-1.83 4-4.05 0-1.16-.57-2.26-1.71-3.19S7.29 6.75 7 5.3c-.29 1.45-1.14 2.84-2.29 3.76S3 11.1 3 12.25c0 2.22 1.8 4.05 4 4.05z M12.56 6.6A10.97 10.97 0 0 0 14 3.02 c.5 2.5 2 4.9 4 6.5s3 3.5 3 5.5a6.98 6.98 0 0 1 -11.91 4.97"
            }
            Icon::Forward => "M9 18l6-6-6-6",
            // own
            Icon::Gasket => {
                "M4 5h16v14H4z M8.5 9h7v6h-7z M6.2 7h.01 M17.800 7h.01 M6.2 17h.01 M17.800 17h.01"
            }
            Icon::Gauge => "M12 14l4-4 M3.34 19a10 10 0 1 1 17.32 0",
            Icon::Hand => {
                "M18 11V6a2 2 0 0 0 -2 -2 a2 2 0 0 0 -2 2 M14 10V4a2 2 0 0 0 -2 -2 a2 2 0 0 0 -2 2 v2 M10 10.5V6a2 2 0 0 0 -2 -2 a2 2 0 0 0 -2 2 v8 M18 8a2 2 0 1 1 4 0 v6a8 8 0 0 1 -8 8 h-2c-2.8 0-4.5-.86-5.99-2.34l-3.6-3.6a2 2 0 0 1 2.83 -2.82 L7 15"
            }
            Icon::Help => {
                "M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z M9.09 9a3 3 0 0 1 5.83 1 c0 2-3 3-3 3 M12 17h.01"
            }
            // own
            Icon::Hose => {
                "M3 3h6a12 12 0 0 1 12 12 v6 M3 8h6a7 7 0 0 1 7 7 v6 M3 3v5 M7 2v7 M15 18h7 M16 21h5"
            }
            Icon::Info => "M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z M12 16v-4 M12 8h.01",
            Icon::Job => {
                "M9 2h6a1 1 0 0 1 1 1 v2a1 1 0 0 1 -1 1 h-6a1 1 0 0 1 -1 -1 v-2a1 1 0 0 1 1 -1z M16 4h2a2 2 0 0 1 2 2 v14a2 2 0 0 1 -2 2 H6a2 2 0 0 1 -2 -2 V6a2 2 0 0 1 2 -2 h2 M12 11h4 M12 16h4 M8 11h.01 M8 16h.01"
            }
            Icon::Keyboard => {
                "M10 8h.01 M12 12h.01 M14 8h.01 M16 12h.01 M18 8h.01 M6 8h.01 M7 16h10 M8 12h.01 M4 4h16a2 2 0 0 1 2 2 v12a2 2 0 0 1 -2 2 h-16a2 2 0 0 1 -2 -2 v-12a2 2 0 0 1 2 -2z"
            }
            Icon::LeftOff => "M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z M22 2 2 22",
            Icon::Lock => {
                "M5 11h14a2 2 0 0 1 2 2 v7a2 2 0 0 1 -2 2 h-14a2 2 0 0 1 -2 -2 v-7a2 2 0 0 1 2 -2z M7 11V7a5 5 0 0 1 10 0 v4"
            }
            Icon::Log => {
                "M15 12h-5 M15 8h-5 M19 17V5a2 2 0 0 0 -2 -2 H4 M8 21h12a2 2 0 0 0 2 -2 v-1a1 1 0 0 0 -1 -1 H11a1 1 0 0 0 -1 1 v1a2 2 0 1 1 -4 0 V5a2 2 0 1 0 -4 0 v2a1 1 0 0 0 1 1 h3"
            }
            Icon::Machine => {
                "M19 17h2c.6 0 1-.4 1-1v-3c0-.9-.7-1.7-1.5-1.9C18.7 10.6 16 10 16 10s-1.3-1.4-2.2-2.3c-.5-.4-1.1-.7-1.8-.7H5c-.6 0-1.1.4-1.4.9l-1.4 2.9A3.7 3.7 0 0 0 2 12 v4c0 .6.4 1 1 1h2 M5 17a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z M9 17h6 M15 17a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z"
            }
            Icon::Minus => "M5 12h14",
            Icon::Moon => {
                "M20.985 12.486a9 9 0 1 1 -9.473 -9.472 c.405-.022.617.46.402.803a6 6 0 0 0 8.268 8.268 c.344-.215.825-.004.803.401"
            }
            Icon::More => {
                "M11 12a1 1 0 1 0 2 0 a1 1 0 1 0 -2 0z M18 12a1 1 0 1 0 2 0 a1 1 0 1 0 -2 0z M4 12a1 1 0 1 0 2 0 a1 1 0 1 0 -2 0z"
            }
            // own
            Icon::NoTurn => "M20 12a8 8 0 1 1 -2.3 -5.600 L20 8.5 M20 3.5v5h-5 M3 21L21 3",
            Icon::Note => {
                "M21 9a2.4 2.4 0 0 0 -.706 -1.706 l-3.588-3.588A2.4 2.4 0 0 0 15 3 H5a2 2 0 0 0 -2 2 v14a2 2 0 0 0 2 2 h14a2 2 0 0 0 2 -2z M15 3v5a1 1 0 0 0 1 1 h5"
            }
            // own
            Icon::Nut => {
                "M7 3.5h10l5 8.5-5 8.5H7L2 12z M8.5 12a3.5 3.5 0 1 0 7 0 a3.5 3.5 0 1 0 -7 0z"
            }
            Icon::OpenFile => {
                "M6 14l1.5-2.9A2 2 0 0 1 9.24 10 H20a2 2 0 0 1 1.94 2.5 l-1.54 6a2 2 0 0 1 -1.95 1.5 H4a2 2 0 0 1 -2 -2 V5a2 2 0 0 1 2 -2 h3.9a2 2 0 0 1 1.69 .9 l.81 1.2a2 2 0 0 0 1.67 .9 H18a2 2 0 0 1 2 2 v2"
            }
            Icon::Owed => {
                "M11 12a1 1 0 1 0 2 0 a1 1 0 1 0 -2 0z M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z"
            }
            Icon::Part => {
                "M11 10.27 7 3.34 M11 13.73l-4 6.93 M12 22v-2 M12 2v2 M14 12h8 M17 20.66l-1-1.73 M17 3.34l-1 1.73 M2 12h2 M20.66 17l-1.73-1 M20.66 7l-1.73 1 M3.34 17l1.73-1 M3.34 7l1.73 1 M10 12a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z M4 12a8 8 0 1 0 16 0 a8 8 0 1 0 -16 0z"
            }
            Icon::People => {
                "M16 21v-2a4 4 0 0 0 -4 -4 H6a4 4 0 0 0 -4 4 v2 M16 3.128a4 4 0 0 1 0 7.744 M22 21v-2a4 4 0 0 0 -3 -3.87 M5 7a4 4 0 1 0 8 0 a4 4 0 1 0 -8 0z"
            }
            Icon::Person => {
                "M19 21v-2a4 4 0 0 0 -4 -4 H9a4 4 0 0 0 -4 4 v2 M8 7a4 4 0 1 0 8 0 a4 4 0 1 0 -8 0z"
            }
            Icon::Phone => {
                "M7 2h10a2 2 0 0 1 2 2 v16a2 2 0 0 1 -2 2 h-10a2 2 0 0 1 -2 -2 v-16a2 2 0 0 1 2 -2z M12 18h.01"
            }
            Icon::Photo => {
                "M5 3h14a2 2 0 0 1 2 2 v14a2 2 0 0 1 -2 2 h-14a2 2 0 0 1 -2 -2 v-14a2 2 0 0 1 2 -2z M7 9a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z M21 15l-3.086-3.086a2 2 0 0 0 -2.828 0 L6 21"
            }
            Icon::Place => {
                "M20 10c0 4.993-5.539 10.193-7.399 11.799a1 1 0 0 1 -1.202 0 C9.539 20.193 4 14.993 4 10a8 8 0 0 1 16 0 M9 10a3 3 0 1 0 6 0 a3 3 0 1 0 -6 0z"
            }
            Icon::Plug => {
                "M12 22v-5 M15 8V2 M17 8a1 1 0 0 1 1 1 v4a4 4 0 0 1 -4 4 h-4a4 4 0 0 1 -4 -4 V9a1 1 0 0 1 1 -1z M9 8V2"
            }
            Icon::Plus => "M5 12h14 M12 5v14",
            Icon::Print => {
                "M6 18H4a2 2 0 0 1 -2 -2 v-5a2 2 0 0 1 2 -2 h16a2 2 0 0 1 2 2 v5a2 2 0 0 1 -2 2 h-2 M6 9V3a1 1 0 0 1 1 -1 h10a1 1 0 0 1 1 1 v6 M7 14h10a1 1 0 0 1 1 1 v6a1 1 0 0 1 -1 1 h-10a1 1 0 0 1 -1 -1 v-6a1 1 0 0 1 1 -1z"
            }
            Icon::Procedure => {
                "M12 5v16 M20.001 19A2 2 0 0 0 22 17 V5a2 2 0 0 0 -1.999 -2 L16 3.002A5 5 0 0 0 12 5 a5 5 0 0 0 -4 -2 H4a2 2 0 0 0 -2 2 v12a2 2 0 0 0 1.999 2 H8a5 5 0 0 1 4 2 5 5 0 0 1 4 -2z"
            }
            Icon::PutBack => "M12 17V3 M6 11l6 6 6-6 M19 21H5",
            // own
            Icon::Rag => {
                "M4 4h16v10c-1.5 2-3-.5-4.5 1.5s-.5 4.5-2.5 4.5-1.5-3-3.5-4-3 .5-5.5-2z M4 8h16 M12 12v3"
            }
            Icon::Rejoin => {
                "M10 13a5 5 0 0 0 7.54 .54 l3-3a5 5 0 0 0 -7.07 -7.07 l-1.72 1.71 M14 11a5 5 0 0 0 -7.54 -.54 l-3 3a5 5 0 0 0 7.07 7.07 l1.71-1.71"
            }
            Icon::Renew => {
                "M3 12a9 9 0 0 1 9 -9 9.75 9.75 0 0 1 6.74 2.74 L21 8 M21 3v5h-5 M21 12a9 9 0 0 1 -9 9 9.75 9.75 0 0 1 -6.74 -2.74 L3 16 M8 16H3v5"
            }
            Icon::Repair => {
                "M14.7 6.3a1 1 0 0 0 0 1.4 l1.6 1.6a1 1 0 0 0 1.4 0 l3.106-3.105c.32-.322.863-.22.983.218a6 6 0 0 1 -8.259 7.057 l-7.91 7.91a1 1 0 0 1 -2.999 -3 l7.91-7.91a6 6 0 0 1 7.057 -8.259 c.438.12.54.662.219.984z"
            }
            Icon::Ruler => {
                "M21.3 15.3a2.4 2.4 0 0 1 0 3.4 l-2.6 2.6a2.4 2.4 0 0 1 -3.4 0 L2.7 8.7a2.41 2.41 0 0 1 0 -3.4 l2.6-2.6a2.41 2.41 0 0 1 3.4 0 Z M14.5 12.5l2-2 M11.5 9.5l2-2 M8.5 6.5l2-2 M17.5 15.5l2-2"
            }
            Icon::SaveCopy => {
                "M12 15V3 M21 15v4a2 2 0 0 1 -2 2 H5a2 2 0 0 1 -2 -2 v-4 M7 10l5 5 5-5"
            }
            // own
            Icon::Seal => {
                "M2 12a10 6.5 0 1 0 20 0 a10 6.5 0 1 0 -20 0z M6 12a6 3 0 1 0 12 0 a6 3 0 1 0 -12 0z"
            }
            Icon::SecondCheck => {
                "M20 13c0 5-3.5 7.5-7.66 8.95a1 1 0 0 1 -.67 -.01 C7.5 20.5 4 18 4 13V6a1 1 0 0 1 1 -1 c2 0 4.5-1.2 6.24-2.72a1.17 1.17 0 0 1 1.52 0 C14.51 3.81 17 5 19 5a1 1 0 0 1 1 1z M9 12l2 2 4-4"
            }
            Icon::Settings => {
                "M9.671 4.136a2.34 2.34 0 0 1 4.659 0 2.34 2.34 0 0 0 3.319 1.915 2.34 2.34 0 0 1 2.33 4.033 2.34 2.34 0 0 0 0 3.831 2.34 2.34 0 0 1 -2.33 4.033 2.34 2.34 0 0 0 -3.319 1.915 2.34 2.34 0 0 1 -4.659 0 2.34 2.34 0 0 0 -3.32 -1.915 2.34 2.34 0 0 1 -2.33 -4.033 2.34 2.34 0 0 0 0 -3.831 A2.34 2.34 0 0 1 6.35 6.051 a2.34 2.34 0 0 0 3.319 -1.915 M9 12a3 3 0 1 0 6 0 a3 3 0 1 0 -6 0z"
            }
            Icon::Settled => "M2 12a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0z M16 9l-5.5 5.5L8 12",
            Icon::Share => {
                "M15 5a3 3 0 1 0 6 0 a3 3 0 1 0 -6 0z M3 12a3 3 0 1 0 6 0 a3 3 0 1 0 -6 0z M15 19a3 3 0 1 0 6 0 a3 3 0 1 0 -6 0z M8.59 13.51L15.42 17.49 M15.41 6.51L8.59 10.49"
            }
            Icon::Shelf => {
                "M12.83 2.18a2 2 0 0 0 -1.66 0 L2.6 6.08a1 1 0 0 0 0 1.83 l8.58 3.91a2 2 0 0 0 1.66 0 l8.58-3.9a1 1 0 0 0 0 -1.83z M2 12a1 1 0 0 0 .58 .91 l8.6 3.91a2 2 0 0 0 1.65 0 l8.58-3.9A1 1 0 0 0 22 12 M2 17a1 1 0 0 0 .58 .91 l8.6 3.91a2 2 0 0 0 1.65 0 l8.58-3.9A1 1 0 0 0 22 17"
            }
            Icon::Stop => {
                "M15 9l-6 6 M2.586 16.726A2 2 0 0 1 2 15.312 V8.688a2 2 0 0 1 .586 -1.414 l4.688-4.688A2 2 0 0 1 8.688 2 h6.624a2 2 0 0 1 1.414 .586 l4.688 4.688A2 2 0 0 1 22 8.688 v6.624a2 2 0 0 1 -.586 1.414 l-4.688 4.688a2 2 0 0 1 -1.414 .586 H8.688a2 2 0 0 1 -1.414 -.586z M9 9l6 6"
            }
            Icon::SubAssembly => {
                "M13 13.74a2 2 0 0 1 -2 0 L2.5 8.87a1 1 0 0 1 0 -1.74 L11 2.26a2 2 0 0 1 2 0 l8.5 4.87a1 1 0 0 1 0 1.74z M20 14.285l1.5.845a1 1 0 0 1 0 1.74 L13 21.74a2 2 0 0 1 -2 0 l-8.5-4.87a1 1 0 0 1 0 -1.74 l1.5-.845"
            }
            Icon::Sun => {
                "M8 12a4 4 0 1 0 8 0 a4 4 0 1 0 -8 0z M12 2v2 M12 20v2 M4.93 4.93l1.41 1.41 M17.66 17.66l1.41 1.41 M2 12h2 M20 12h2 M6.34 17.66l-1.41 1.41 M19.07 4.93l-1.41 1.41"
            }
            Icon::Support => "M5 3h14 M18 13l-6-6-6 6 M12 7v14",
            Icon::Tag => {
                "M12.586 2.586A2 2 0 0 0 11.172 2 H4a2 2 0 0 0 -2 2 v7.172a2 2 0 0 0 .586 1.414 l8.704 8.704a2.426 2.426 0 0 0 3.42 0 l6.58-6.58a2.426 2.426 0 0 0 0 -3.42z M7 7.5a0.5 0.5 0 1 0 1 0 a0.5 0.5 0 1 0 -1 0z"
            }
            Icon::TakeOff => "M18 9l-6-6-6 6 M12 3v14 M5 21h14",
            Icon::ToBuy => {
                "M2.05 2.05l1.099-.028a1 1 0 0 1 1.008 .815 l2.69 14.347A1 1 0 0 0 7.83 18 H18 M4.563 5h16.435a1 1 0 0 1 .981 1.204 l-1.026 6.226A2 2 0 0 1 18.962 14 H6.25 M16 20a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z M6 20a2 2 0 1 0 4 0 a2 2 0 1 0 -4 0z"
            }
            // own
            Icon::Torque => {
                "M3 12l11-5.5a3 3 0 1 1 1.3 2.7 L5 14.5a1.400 1.400 0 0 1 -2 -2.5z M13 21a8 8 0 0 0 7 -8 M17.5 15l2.5-2.5 2.5 2.5"
            }
            Icon::Undo => {
                "M9 14 4 9l5-5 M4 9h10.5a5.5 5.5 0 0 1 5.5 5.5 a5.5 5.5 0 0 1 -5.5 5.5 H11"
            }
            Icon::Unplug => {
                "M19 5l3-3 M2 22l3-3 M6.3 20.3a2.4 2.4 0 0 0 3.4 0 L12 18l-6-6-2.3 2.3a2.4 2.4 0 0 0 0 3.4 Z M7.5 13.5 10 11 M10.5 16.5 13 14 M12 6l6 6 2.3-2.3a2.4 2.4 0 0 0 0 -3.4 l-2.6-2.6a2.4 2.4 0 0 0 -3.4 0 Z"
            }
            Icon::Warning => {
                "M21.73 18l-8-14a2 2 0 0 0 -3.48 0 l-8 14A2 2 0 0 0 4 21 h16a2 2 0 0 0 1.73 -3 M12 9v4 M12 17h.01"
            }
            // own
            Icon::Washer => {
                "M3 12a9 9 0 1 0 18 0 a9 9 0 1 0 -18 0z M8 12a4 4 0 1 0 8 0 a4 4 0 1 0 -8 0z"
            }
            Icon::ZoomIn => {
                "M3 11a8 8 0 1 0 16 0 a8 8 0 1 0 -16 0z M21 21L16.65 16.65 M11 8L11 14 M8 11L14 11"
            }
            Icon::ZoomOut => {
                "M3 11a8 8 0 1 0 16 0 a8 8 0 1 0 -16 0z M21 21L16.65 16.65 M8 11L14 11"
            }
        }
    }
}

/// Properties of [`Glyph`].
#[derive(Properties, PartialEq)]
pub struct Glyph {
    pub icon: Icon,
    #[prop_or_default]
    pub size: GlyphSize,
}

/// How large an icon is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum GlyphSize {
    /// Beside a word.
    #[default]
    Text,
    /// At the head of an empty page.
    Large,
}

/// An icon, hidden from readers of the screen: the word beside it speaks.
impl Glyph {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let class = match props.size {
            GlyphSize::Text => "glyph",
            GlyphSize::Large => "glyph glyph--large",
        };
        html! {
            <svg {class} viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d={props.icon.path()} /></svg>
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;

    /// The numbers after each command of a path: letter and how many.
    fn commands(path: &str) -> Vec<(char, usize)> {
        let mut commands: Vec<(char, usize)> = Vec::new();
        let mut number = String::new();
        let finish = |number: &mut String, commands: &mut Vec<(char, usize)>| {
            if !number.is_empty() {
                number
                    .parse::<f64>()
                    .unwrap_or_else(|_| panic!("{number} is no number"));
                number.clear();
                commands.last_mut().unwrap().1 += 1;
            }
        };
        for it in path.chars() {
            // A sign, or a second point, begins the next number without a space.
            if it == '-'
                || it == ' '
                || it == ','
                || it.is_ascii_alphabetic()
                || (it == '.' && number.contains('.'))
            {
                finish(&mut number, &mut commands);
            }
            match it {
                ' ' | ',' => {}
                it if it.is_ascii_alphabetic() => commands.push((it, 0)),
                it => number.push(it),
            }
        }
        finish(&mut number, &mut commands);
        commands
    }

    #[test]
    fn every_path_is_well_formed() {
        for icon in Icon::ALL {
            let commands = commands(icon.path());
            assert_eq!(
                commands.first().map(|it| it.0),
                Some('M'),
                "{icon:?} must start where the pen is set down"
            );
            for (letter, numbers) in commands {
                let each = match letter.to_ascii_lowercase() {
                    'm' | 'l' | 't' => 2,
                    'h' | 'v' => 1,
                    'c' => 6,
                    's' | 'q' => 4,
                    'a' => 7,
                    'z' => 0,
                    other => panic!("{icon:?}: {other} is no command"),
                };
                let whole = if each == 0 {
                    numbers == 0
                } else {
                    numbers > 0 && numbers % each == 0
                };
                assert!(whole, "{icon:?}: {letter} with {numbers} numbers");
            }
        }
    }

    #[test]
    fn every_icon_has_a_drawing_of_its_own() {
        for (index, icon) in Icon::ALL.iter().enumerate() {
            assert!(
                Icon::ALL
                    .iter()
                    .skip(index + 1)
                    .all(|other| other.path() != icon.path()),
                "{icon:?} is drawn twice"
            );
        }
    }
}
