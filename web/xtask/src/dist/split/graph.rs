//! What refers to what in a WASM file as the linker left it with its
//! relocations: calls, addresses of functions, addresses of data. Nothing is
//! guessed: an address that has no relocation is no address.

use anyhow::{Context, Result};
use std::collections::HashMap;
use std::ops::Range;
use wasmparser::{
    DataKind, ExternalKind, KnownCustom, Linking, Name, Operator, Parser, Payload, RelocationEntry,
    RelocationType, SymbolFlags, SymbolInfo, TypeRef,
};

/// A function or a piece of data.
pub struct Node {
    /// As the linker has it, for people to read.
    pub name: String,
    /// Its other names.
    pub aliases: Vec<String>,
    /// Bytes in the file.
    pub size: usize,
    /// Where it lies in memory and whether it may be written to; none for a
    /// function.
    pub data: Option<Place>,
    /// What it refers to.
    pub to: Vec<usize>,
}

/// A piece of data in memory.
#[derive(Clone)]
pub struct Place {
    pub bytes: Range<u32>,
    /// Where these bytes are in the WASM file.
    pub file: Range<usize>,
    pub constant: bool,
}

/// All of it; the functions come first, by their index.
pub struct Graph {
    pub nodes: Vec<Node>,
    /// What may be called from outside.
    pub roots: Vec<usize>,
}

/// A segment of data: where its bytes lie in the file, and in memory.
struct Segment {
    file: Range<usize>,
    memory: u32,
}

/// A file's parts, before they are joined.
#[derive(Default)]
struct Parts<'a> {
    imports: usize,
    code: usize,
    bodies: Vec<Range<usize>>,
    data: usize,
    segments: Vec<Segment>,
    constant: Vec<bool>,
    symbols: Vec<SymbolInfo<'a>>,
    code_relocs: Vec<RelocationEntry>,
    data_relocs: Vec<RelocationEntry>,
    names: HashMap<u32, &'a str>,
    exports: Vec<(&'a str, u32)>,
    start: Option<u32>,
}

impl Graph {
    /// Reads a file that was linked with `--emit-relocs`.
    pub fn read(wasm: &[u8]) -> Result<Self> {
        let parts = Parts::read(wasm)?;
        let functions = parts.imports + parts.bodies.len();
        let mut nodes: Vec<Node> = (0..functions)
            .map(|index| Node {
                name: parts.name(index),
                aliases: Vec::new(),
                size: index
                    .checked_sub(parts.imports)
                    .map_or(0, |own| parts.bodies[own].len()),
                data: None,
                to: Vec::new(),
            })
            .collect();
        // From a symbol to its node.
        let mut of_symbol = vec![None; parts.symbols.len()];
        for (symbol, node) in parts.symbols.iter().zip(&mut of_symbol) {
            match symbol {
                SymbolInfo::Func { index, name, .. } => {
                    *node = Some(*index as usize);
                    if let (Some(name), Some(known)) = (name, nodes.get_mut(*index as usize)) {
                        known.aliases.push((*name).to_owned());
                    }
                }
                SymbolInfo::Data {
                    name,
                    symbol: Some(at),
                    flags,
                } if !flags.contains(SymbolFlags::ABSOLUTE) => {
                    let Some(segment) = parts.segments.get(at.index as usize) else {
                        continue;
                    };
                    let start = segment.memory + at.offset;
                    *node = Some(nodes.len());
                    nodes.push(Node {
                        name: (*name).to_owned(),
                        aliases: Vec::new(),
                        size: at.size as usize,
                        data: Some(Place {
                            bytes: start..start + at.size,
                            file: segment.file.start + at.offset as usize
                                ..segment.file.start + (at.offset + at.size) as usize,
                            constant: parts.constant.get(at.index as usize) == Some(&true),
                        }),
                        to: Vec::new(),
                    });
                }
                _ => {}
            }
        }
        let target = |entry: &RelocationEntry| {
            use RelocationType::{
                FunctionIndexLeb, MemoryAddrI32, MemoryAddrLeb, MemoryAddrSleb, TableIndexI32,
                TableIndexSleb,
            };
            match entry.ty {
                FunctionIndexLeb | TableIndexSleb | TableIndexI32 | MemoryAddrLeb
                | MemoryAddrSleb | MemoryAddrI32 => {
                    of_symbol.get(entry.index as usize).copied().flatten()
                }
                _ => None,
            }
        };
        for entry in &parts.code_relocs {
            let at = parts.code + entry.offset as usize;
            let body = parts.bodies.partition_point(|body| body.end <= at);
            if let Some(to) = target(entry)
                && parts.bodies.get(body).is_some_and(|b| b.contains(&at))
            {
                nodes[parts.imports + body].to.push(to);
            }
        }
        parts.link_data(&mut nodes, functions, target)?;
        let roots = parts
            .exports
            .iter()
            // What only describes an export to wasm-bindgen is gone afterwards.
            .filter(|(name, _)| !name.starts_with("__wbindgen_describe"))
            .map(|(_, index)| *index as usize)
            .chain(parts.start.map(|index| index as usize))
            .collect();
        Ok(Self { nodes, roots })
    }
}

impl<'a> Parts<'a> {
    fn read(wasm: &'a [u8]) -> Result<Self> {
        let mut parts = Self::default();
        // The sections that relocations may be for, by their number.
        let (mut count, mut code_section, mut data_section) = (0, None, None);
        for payload in Parser::new(0).parse_all(wasm) {
            let payload = payload?;
            let numbered = !matches!(
                payload,
                Payload::Version { .. } | Payload::CodeSectionEntry(_) | Payload::End(_)
            );
            match payload {
                Payload::ImportSection(imports) => {
                    for import in imports.into_imports() {
                        parts.imports += usize::from(matches!(import?.ty, TypeRef::Func(_)));
                    }
                }
                Payload::ExportSection(exports) => {
                    for export in exports {
                        let export = export?;
                        if export.kind == ExternalKind::Func {
                            parts.exports.push((export.name, export.index));
                        }
                    }
                }
                Payload::StartSection { func, .. } => parts.start = Some(func),
                Payload::CodeSectionStart { range, .. } => {
                    parts.code = range.start;
                    code_section = Some(count);
                }
                Payload::CodeSectionEntry(body) => parts.bodies.push(body.range()),
                Payload::DataSection(data) => {
                    parts.data = data.range().start;
                    data_section = Some(count);
                    for segment in data {
                        parts.segments.push(Segment::read(&segment?)?);
                    }
                }
                Payload::CustomSection(section) => match section.as_known() {
                    KnownCustom::Linking(linking) => {
                        for part in linking.subsections() {
                            match part? {
                                Linking::SymbolTable(all) => {
                                    parts.symbols = all.into_iter().collect::<Result<_, _>>()?;
                                }
                                Linking::SegmentInfo(all) => {
                                    for segment in all {
                                        let name = segment?.name;
                                        parts.constant.push(name.starts_with(".rodata"));
                                    }
                                }
                                _ => {}
                            }
                        }
                    }
                    KnownCustom::Reloc(relocs) => {
                        let section = Some(relocs.section_index());
                        let into = if section == code_section {
                            &mut parts.code_relocs
                        } else if section == data_section {
                            &mut parts.data_relocs
                        } else {
                            continue;
                        };
                        *into = relocs.entries().into_iter().collect::<Result<_, _>>()?;
                    }
                    KnownCustom::Name(names) => {
                        for part in names {
                            if let Name::Function(all) = part? {
                                for name in all {
                                    let name = name?;
                                    parts.names.insert(name.index, name.name);
                                }
                            }
                        }
                    }
                    _ => {}
                },
                _ => {}
            }
            count += u32::from(numbered);
        }
        if parts.symbols.is_empty() || parts.code_relocs.is_empty() {
            anyhow::bail!("the linker left no relocations");
        }
        Ok(parts)
    }

    fn name(&self, index: usize) -> String {
        let name = u32::try_from(index).ok().and_then(|i| self.names.get(&i));
        name.map_or_else(|| format!("#{index}"), |&name| name.to_owned())
    }

    /// Gives each reference in data to the pieces of data that hold it.
    fn link_data(
        &self,
        nodes: &mut [Node],
        functions: usize,
        target: impl Fn(&RelocationEntry) -> Option<usize>,
    ) -> Result<()> {
        let mut pieces: Vec<(Range<u32>, usize)> = nodes[functions..]
            .iter()
            .enumerate()
            .filter_map(|(i, node)| Some((node.data.clone()?.bytes, functions + i)))
            .collect();
        pieces.sort_by_key(|(bytes, _)| (bytes.start, bytes.end));
        for entry in &self.data_relocs {
            let at = self.data + entry.offset as usize;
            let segment = self
                .segments
                .iter()
                .find(|segment| segment.file.contains(&at))
                .context("a relocation outside of all data")?;
            let address = segment.memory + u32::try_from(at - segment.file.start)?;
            let Some(to) = target(entry) else { continue };
            let end = pieces.partition_point(|(bytes, _)| bytes.start <= address);
            let mut held = false;
            for (bytes, node) in pieces[..end].iter().rev().take(8) {
                if bytes.contains(&address) {
                    nodes[*node].to.push(to);
                    held = true;
                }
            }
            if !held {
                anyhow::bail!("an address at {address} lies in no piece of data");
            }
        }
        Ok(())
    }
}

impl Segment {
    fn read(data: &wasmparser::Data) -> Result<Self> {
        let DataKind::Active { offset_expr, .. } = &data.kind else {
            anyhow::bail!("a segment of data without a place");
        };
        let first = offset_expr.get_operators_reader().read()?;
        let Operator::I32Const { value } = first else {
            anyhow::bail!("a segment of data without a fixed place");
        };
        Ok(Self {
            file: data.range.end - data.data.len()..data.range.end,
            memory: value.cast_unsigned(),
        })
    }
}
