//! A bitmap of four tones with shapes drawn on it. Whole-number arithmetic
//! only, so that every machine draws the same.

/// Tones, as indices of the palette.
pub const PAPER: u8 = 0;
pub const BODY: u8 = 1;
pub const SHADE: u8 = 2;
pub const INK: u8 = 3;

/// Coordinates are in quarter pixels, so that a slanted line can be drawn
/// finer than the grid.
pub const FINE: i32 = 4;

pub struct Canvas {
    pub width: usize,
    pub height: usize,
    pub tones: Vec<u8>,
}

impl Canvas {
    pub fn new(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            tones: vec![PAPER; width * height],
        }
    }

    /// Sets each pixel of a box to the tone that `shape` gives for its middle.
    fn paint(&mut self, x: (i32, i32), y: (i32, i32), shape: impl Fn(i32, i32) -> Option<u8>) {
        let clip = |n: i32, most: usize| n.div_euclid(FINE).clamp(0, most as i32) as usize;
        for py in clip(y.0, self.height)..clip(y.1 + FINE, self.height) {
            for px in clip(x.0, self.width)..clip(x.1 + FINE, self.width) {
                let middle = |p: usize| p as i32 * FINE + FINE / 2;
                if let Some(tone) = shape(middle(px), middle(py)) {
                    self.tones[py * self.width + px] = tone;
                }
            }
        }
    }

    /// A disc with a rim of ink `rim` wide inside its edge.
    pub fn disc(&mut self, cx: i32, cy: i32, r: i32, rim: i32, fill: Option<u8>) {
        let (outer, inner) = (r * r, (r - rim).max(0) * (r - rim).max(0));
        self.paint((cx - r, cx + r), (cy - r, cy + r), |x, y| {
            let d = (x - cx) * (x - cx) + (y - cy) * (y - cy);
            if d > outer {
                None
            } else if d >= inner {
                Some(INK)
            } else {
                fill
            }
        });
    }

    /// A box with round corners of radius `r`.
    pub fn plate(&mut self, from: (i32, i32), size: (i32, i32), r: i32, rim: i32, fill: u8) {
        let (x0, y0) = from;
        let (x1, y1) = (x0 + size.0, y0 + size.1);
        self.paint((x0, x1), (y0, y1), |x, y| {
            // How far inside the edge a point lies, the corners rounded off.
            let dx = (x0 + r - x).max(x - (x1 - r)).max(0);
            let dy = (y0 + r - y).max(y - (y1 - r)).max(0);
            let far = |limit: i32| dx * dx + dy * dy > limit * limit;
            let edge = (x - x0).min(x1 - x).min(y - y0).min(y1 - y);
            if edge < 0 || far(r) {
                None
            } else if edge < rim || (dx > 0 && dy > 0 && far((r - rim).max(0))) {
                Some(INK)
            } else {
                Some(fill)
            }
        });
    }

    /// A filled outline, by the even-odd rule, and its edge.
    pub fn outline(&mut self, points: &[(i32, i32)], rim: i32, fill: u8) {
        let xs = points.iter().map(|p| p.0);
        let ys = points.iter().map(|p| p.1);
        let span = |it: &mut dyn Iterator<Item = i32>| {
            it.fold((i32::MAX, i32::MIN), |(a, b), n| (a.min(n), b.max(n)))
        };
        let (x, y) = (span(&mut { xs }), span(&mut { ys }));
        self.paint(x, y, |px, py| {
            let mut inside = false;
            for (n, &(ax, ay)) in points.iter().enumerate() {
                let (bx, by) = points[(n + 1) % points.len()];
                if (ay > py) != (by > py) {
                    let (along, across) = (i64::from(py - ay), i64::from(by - ay));
                    let at = i64::from(ax) + i64::from(bx - ax) * along / across;
                    inside ^= i64::from(px) < at;
                }
            }
            inside.then_some(fill)
        });
        for (n, &a) in points.iter().enumerate() {
            self.line(a, points[(n + 1) % points.len()], rim, INK);
        }
    }

    /// A straight line with round ends.
    pub fn line(&mut self, a: (i32, i32), b: (i32, i32), width: i32, tone: u8) {
        let (dx, dy) = (i64::from(b.0 - a.0), i64::from(b.1 - a.1));
        let length = dx * dx + dy * dy;
        let half = i64::from(width * width) / 4;
        let x = (a.0.min(b.0) - width, a.0.max(b.0) + width);
        let y = (a.1.min(b.1) - width, a.1.max(b.1) + width);
        self.paint(x, y, |px, py| {
            let (x, y) = (i64::from(px - a.0), i64::from(py - a.1));
            let along = (x * dx + y * dy).clamp(0, length);
            let near = if along == 0 {
                x * x + y * y
            } else if along == length {
                (x - dx) * (x - dx) + (y - dy) * (y - dy)
            } else {
                let off = x * dy - y * dx;
                off * off / length
            };
            (near <= half).then_some(tone)
        });
    }

    /// The picture made smaller by a whole number: each pixel takes the darkest
    /// tone that fills a fair share of what it stands for, so that lines stay.
    pub fn smaller(&self, by: usize) -> Self {
        let mut small = Self::new(self.width / by, self.height / by);
        for y in 0..small.height {
            for x in 0..small.width {
                let mut counts = [0_usize; 4];
                for row in 0..by {
                    let from = (y * by + row) * self.width + x * by;
                    for &tone in &self.tones[from..from + by] {
                        counts[usize::from(tone)] += 1;
                    }
                }
                let ink = counts[usize::from(INK)];
                let tone = if ink * 8 >= by * by * 3 {
                    INK
                } else if (ink + counts[usize::from(SHADE)]) * 6 >= by * by {
                    SHADE
                } else if counts[usize::from(BODY)] > counts[usize::from(PAPER)] {
                    BODY
                } else {
                    PAPER
                };
                small.tones[y * small.width + x] = tone;
            }
        }
        small
    }
}
