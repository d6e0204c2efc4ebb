//! What a person has set for themselves, kept beside the database so that the
//! first paint already follows it. Nothing of a job is in here.
use serde::{Deserialize, Serialize};

use crate::ports::marker::Shelf;

const KEY: &str = "countback.prefs";

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Theme {
    /// Dark on light, made for sun; the default.
    #[default]
    Light,
    Dark,
    /// As the phone is set.
    Phone,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hand {
    #[default]
    Right,
    Left,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Prefs {
    /// Who is at work, as it stands in the record.
    pub by: String,
    pub theme: Theme,
    pub hand: Hand,
    /// Where the person was.
    pub route: String,
    /// Torque unit for new jobs, by its stored word.
    pub torque: String,
    /// Per job, how many acts there were when a copy was last saved to a file.
    pub copied: Vec<(String, u32)>,
}

impl Default for Prefs {
    fn default() -> Self {
        Self {
            by: String::new(),
            theme: Theme::Light,
            hand: Hand::Right,
            route: String::new(),
            torque: "N.m".to_owned(),
            copied: Vec::new(),
        }
    }
}

impl Prefs {
    pub fn load(shelf: &dyn Shelf) -> Self {
        shelf
            .get(KEY)
            .and_then(|text| serde_json::from_str(&text).ok())
            .unwrap_or_default()
    }

    pub fn save(&self, shelf: &dyn Shelf) {
        if let Ok(text) = serde_json::to_string(self) {
            shelf.set(KEY, &text);
        }
    }

    /// Puts theme and hand on the page, for the styles.
    pub fn show(&self) {
        let root = web_sys::window()
            .and_then(|w| w.document())
            .and_then(|d| d.document_element());
        let Some(root) = root else { return };
        let _ = match self.theme {
            Theme::Light => root.set_attribute("data-theme", "light"),
            Theme::Dark => root.set_attribute("data-theme", "dark"),
            Theme::Phone => root.remove_attribute("data-theme"),
        };
        let hand = match self.hand {
            Hand::Right => "right",
            Hand::Left => "left",
        };
        let _ = root.set_attribute("data-hand", hand);
    }
}
