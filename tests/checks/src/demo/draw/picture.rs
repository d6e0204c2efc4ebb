//! From a canvas to the bytes of a PNG of four colours.
use super::canvas::Canvas;
use super::{SIZE, THUMB, sketch};
use countback_core::jobfile::sha256_hex;

/// A drawing with its thumbnail, and the hashes they go by.
#[derive(Clone, Debug)]
pub struct Picture {
    pub png: Vec<u8>,
    pub hash: String,
    pub thumb_png: Vec<u8>,
    pub thumb_hash: String,
    /// In pixels.
    pub width: u32,
    pub height: u32,
}

/// Paper, body, shade and ink, as red, green and blue.
const PALETTE: [u8; 12] = [
    0xfb, 0xf8, 0xf0, 0xdd, 0xe5, 0xec, 0x8c, 0x9f, 0xb4, 0x18, 0x2a, 0x3c,
];

/// Draws a sketch.
pub fn draw(sketch: &str) -> Picture {
    let canvas = sketch::draw(sketch);
    let (png, thumb_png) = (encode(&canvas), encode(&canvas.smaller(THUMB)));
    Picture {
        hash: sha256_hex(&png),
        thumb_hash: sha256_hex(&thumb_png),
        png,
        thumb_png,
        width: SIZE.0 as u32,
        height: SIZE.1 as u32,
    }
}

fn encode(canvas: &Canvas) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, canvas.width as u32, canvas.height as u32);
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Two);
    encoder.set_palette(PALETTE.as_slice());
    encoder.set_compression(png::Compression::High);
    encoder.set_filter(png::Filter::NoFilter);
    let mut writer = encoder.write_header().expect("a canvas has a size");
    let packed: Vec<u8> = canvas
        .tones
        .chunks(4)
        .map(|four| four.iter().fold(0, |byte, tone| byte << 2 | tone))
        .collect();
    writer
        .write_image_data(&packed)
        .expect("bytes go to memory");
    writer.finish().expect("bytes go to memory");
    bytes
}
