//! This device's number, which makes event ids unique across devices: random, made once, kept in the
//! settings.

use super::{
    js,
    store::{Fault, Store},
};

/// The setting that keeps it.
pub const SETTING: &str = "device";

/// The number, from the setting as it was `found`. Where none was, one is drawn: two tabs that start
/// at once agree, because the first to be stored wins.
pub async fn device_id(store: &dyn Store, found: Option<String>) -> Result<u64, Fault> {
    let kept = match found {
        Some(kept) => kept,
        None => {
            let fresh = random_u64().ok_or_else(|| Fault::Refused {
                name: "NoRandom".into(),
            })?;
            store.setting_or(SETTING, &format!("{fresh:016x}")).await?
        }
    };
    u64::from_str_radix(&kept, 16).map_err(|_| Fault::Corrupt {
        what: super::store::Damaged::Row {
            store: "settings",
            key: SETTING.into(),
        },
    })
}

/// 64 bits from the browser's generator for keys.
pub fn random_u64() -> Option<u64> {
    let mut bytes = [0u8; 8];
    let crypto = js::window()?.crypto().ok()?;
    crypto.get_random_values_with_u8_array(&mut bytes).ok()?;
    Some(u64::from_le_bytes(bytes))
}
