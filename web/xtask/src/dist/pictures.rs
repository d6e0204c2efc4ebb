//! The pictures of each example in one file. They are some eighty small ones,
//! and a file by itself costs a phone a request, a place in the cache, and a
//! look at every start; in `demo-jobs/` they stay apart, for a person to see.

use super::tree::Tree;
use anyhow::{Context, Result, ensure};
use serde_json::Value;

/// The list of the examples, with every file's size in bytes.
const INDEX: &str = "demo-jobs/index.json";

/// What the file is called, in the folder of the example.
const PACK: &str = "pictures.bin";

/// Replaces the pictures of each example by one file: their bytes one after
/// another, in the order and of the sizes that the index has.
///
/// # Errors
/// A picture that the index does not name, or of another size there; an
/// index that cannot be read.
pub fn pack(tree: &mut Tree) -> Result<()> {
    let index = tree.0.get(INDEX).context(INDEX)?;
    let index: Value = serde_json::from_slice(index).context(INDEX)?;
    for job in index["jobs"].as_array().context(INDEX)? {
        let name = job["name"].as_str().context(INDEX)?;
        let mut packed = Vec::new();
        for (file, size) in job["files"].as_object().context(INDEX)? {
            if !is_picture(file) {
                continue;
            }
            let path = format!("demo-jobs/{file}");
            let bytes = tree.0.remove(&path).with_context(|| path.clone())?;
            ensure!(
                size.as_u64() == Some(bytes.len() as u64),
                "{path} has {} bytes, and {size} in {INDEX}",
                bytes.len()
            );
            packed.extend(bytes);
        }
        if !packed.is_empty() {
            tree.add(format!("demo-jobs/{name}/{PACK}"), packed);
        }
    }
    let left = tree
        .0
        .keys()
        .find(|path| path.starts_with("demo-jobs/") && is_picture(path));
    ensure!(
        left.is_none(),
        "{} is not in {INDEX}",
        left.map_or("", String::as_str)
    );
    Ok(())
}

fn is_picture(path: &str) -> bool {
    path.ends_with(".png")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(index: &str, files: &[(&str, &str)]) -> Tree {
        let mut tree = Tree::default();
        tree.add(INDEX, index.as_bytes().to_vec());
        for (path, bytes) in files {
            tree.add(*path, bytes.as_bytes().to_vec());
        }
        tree
    }

    const LIST: &str = r#"{"jobs": [{"name": "a", "files": {"a/job.jsonl": 2, "a/photos/p.png": 3, "a/thumbs/t.png": 1}}]}"#;

    #[test]
    fn pictures_are_one_file_in_the_order_of_the_list() {
        let files = [
            ("demo-jobs/a/job.jsonl", "{}"),
            ("demo-jobs/a/photos/p.png", "abc"),
            ("demo-jobs/a/thumbs/t.png", "d"),
        ];
        let mut tree = tree(LIST, &files);
        pack(&mut tree).unwrap();
        let paths: Vec<_> = tree.0.keys().map(String::as_str).collect();
        assert_eq!(
            paths,
            ["demo-jobs/a/job.jsonl", "demo-jobs/a/pictures.bin", INDEX]
        );
        assert_eq!(tree.0["demo-jobs/a/pictures.bin"], b"abcd");
    }

    #[test]
    fn a_picture_of_another_size_or_not_on_the_list_is_refused() {
        let mut files = vec![
            ("demo-jobs/a/photos/p.png", "ab"),
            ("demo-jobs/a/thumbs/t.png", "d"),
        ];
        let said = pack(&mut tree(LIST, &files)).unwrap_err().to_string();
        assert_eq!(
            said,
            "demo-jobs/a/photos/p.png has 2 bytes, and 3 in demo-jobs/index.json"
        );
        files[0].1 = "abc";
        files.push(("demo-jobs/a/photos/q.png", "x"));
        let said = pack(&mut tree(LIST, &files)).unwrap_err().to_string();
        assert_eq!(
            said,
            "demo-jobs/a/photos/q.png is not in demo-jobs/index.json"
        );
    }
}
