//! The static site: what `cargo xtask dist` writes, and the bare page that
//! start times are compared with, made the same way.

pub mod hash;
mod leaks;
mod pictures;
pub mod shell;
pub mod split;
mod style;
pub mod tree;
pub mod wasm;
mod worker;

use crate::place::Place;
use crate::run::seconds;
use crate::setup::wasm::Toolchain;
use anyhow::{Context, Result};
use shell::{Config, Loadable};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;
use tree::Tree;
use wasm::Part;

/// The app first; the others are loaded when first needed.
const PARTS: [Part; 2] = [
    Part {
        name: "app",
        folder: "web",
        package: "countback-web",
        later: Some("web/later.txt"),
    },
    Part {
        name: "lazy",
        folder: "web/lazy",
        package: "countback-lazy",
        later: None,
    },
];

const HELLO: Part = Part {
    name: "app",
    folder: "tests/hello",
    package: "countback-hello",
    later: None,
};

/// Builds the app's site into target/dist.
pub fn app(place: &Place) -> Result<PathBuf> {
    let start = Instant::now();
    let toolchain = toolchain(place)?;
    let assets = place.root.join("assets");
    let mut tree = Tree::default();
    let parts = add_parts(place, &toolchain, &PARTS, &mut tree)?;
    tree.add_folder(&assets.join("icons"), "icons")?;
    tree.add_folder(&assets.join("translations"), "translations")?;
    tree.add_folder(&place.root.join("demo-jobs"), "demo-jobs")?;
    pictures::pack(&mut tree)?;
    let manifest = assets.join("manifest.webmanifest");
    tree.add(
        "manifest.webmanifest",
        fs::read(&manifest).context("assets/manifest.webmanifest")?,
    );
    let style = style::joined(&assets.join("styles"))?;
    let style = tree.add_hashed("style", ".css", style.into_bytes());

    let index = read(place, "assets/index.html")?;
    let (build, files) = finish(place, tree, &parts, &index, &style, &place.dist())?;
    println!(
        "[dist] build {build}: {files} files in target/dist, in {}",
        seconds(start.elapsed())
    );
    Ok(place.dist())
}

/// Builds the bare Yew page into target/hello-dist: the same boot.js, worker,
/// profile and tools, but no style and no data.
pub fn hello(place: &Place) -> Result<PathBuf> {
    let toolchain = toolchain(place)?;
    let mut tree = Tree::default();
    let parts = add_parts(place, &toolchain, &[HELLO], &mut tree)?;
    tree.add_folder(&place.root.join("assets/icons"), "icons")?;
    let index = read(place, "tests/hello/index.html")?;
    finish(place, tree, &parts, &index, "", &place.hello_dist())?;
    Ok(place.hello_dist())
}

fn toolchain(place: &Place) -> Result<Toolchain> {
    if place.quick {
        Toolchain::ensure(place)
    } else {
        Toolchain::for_shipping(place)
    }
}

/// Adds boot.js, the page and the worker, which name the other files, and
/// writes the site. Answers its build and how many files it has.
fn finish(
    place: &Place,
    mut tree: Tree,
    parts: &[Loadable],
    index: &str,
    style: &str,
    out: &Path,
) -> Result<(String, usize)> {
    let boot = read(place, "assets/boot.js")?;
    let worker = worker::source(place)?;
    let build = shell::build_id(&tree, &[index, &boot, &worker]);
    let config = Config {
        parts,
        worker: "sw.js",
    };
    let boot = shell::boot(&boot, &build, &config)?;
    let boot = tree.add_hashed("boot", ".js", boot.into_bytes());
    let page = shell::index(index, &boot, &parts[0], style)?;
    warn_of_missing(&page, &tree);
    tree.add("index.html", page.into_bytes());
    let script = worker::script(&worker, &build, &tree);
    tree.add("sw.js", script.into_bytes());
    tree.write(out)?;
    Ok((build, tree.0.len()))
}

fn read(place: &Place, path: &str) -> Result<String> {
    fs::read_to_string(place.root.join(path)).with_context(|| path.to_owned())
}

fn add_parts(
    place: &Place,
    toolchain: &Toolchain,
    parts: &[Part],
    tree: &mut Tree,
) -> Result<Vec<Loadable>> {
    let mut loadables = Vec::new();
    for part in parts {
        if !place.root.join(part.folder).join("Cargo.toml").exists() {
            continue;
        }
        let built = wasm::build(place, toolchain, part)?;
        let mut glue = built.glue;
        let mut snippets = Tree::default();
        snippets.add_folder(&built.snippets, "s")?;
        if !snippets.0.is_empty() {
            let id = hash::name_hash(format!("{:?}", snippets.hashes()).as_bytes());
            let folder = format!("snippets-{id}");
            glue = glue.replace("./snippets/", &format!("./{folder}/"));
            for (path, bytes) in snippets.0 {
                tree.add(path.replacen('s', &folder, 1), bytes);
            }
        }
        let wasm = tree.add_hashed(part.name, "_bg.wasm", built.wasm);
        let later = built
            .later
            .map(|bytes| tree.add_hashed(part.name, "_later.wasm", bytes));
        // The glue carries the names of its own WASM, so its hash covers all
        // and one can never be used with another's version.
        let mut glue = glue.replace(&format!("{}_bg.wasm", part.name), &wasm);
        if let Some(later) = &later {
            glue.push_str(&format!("export const LATER = \"./{later}\";\n"));
        }
        let js = tree.add_hashed(part.name, ".js", glue.into_bytes());
        loadables.push(Loadable {
            name: part.name,
            js,
            wasm,
            later,
        });
    }
    Ok(loadables)
}

/// Says which files the page names and the site lacks. The load check of
/// `cargo xtask test` fails on them.
fn warn_of_missing(page: &str, tree: &Tree) {
    for link in shell::own_links(page) {
        if !tree.0.contains_key(link) {
            println!("[dist] warning: index.html names {link}, which is not there");
        }
    }
}
