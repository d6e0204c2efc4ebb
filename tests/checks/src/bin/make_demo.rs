//! Writes the demo jobs anew into the folder given, `demo-jobs` by default.
//! What was there before is taken away first.
use std::path::PathBuf;
use std::{env, fs, io};

use countback_checks::demo;

fn main() -> io::Result<()> {
    let folder = env::args().nth(1).unwrap_or_else(|| "demo-jobs".to_owned());
    let folder = PathBuf::from(folder);
    for part in ["workboat", "tiller", "procedures"] {
        match fs::remove_dir_all(folder.join(part)) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => return Err(why),
            _ => {}
        }
    }
    let files = demo::files();
    let bytes: usize = files.iter().map(|f| f.bytes.len()).sum();
    for file in &files {
        let path = folder.join(&file.path);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent)?;
        }
        fs::write(path, &file.bytes)?;
    }
    println!(
        "{} files, {bytes} bytes, in {}",
        files.len(),
        folder.display()
    );
    Ok(())
}
