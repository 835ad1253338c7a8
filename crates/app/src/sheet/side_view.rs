//! The car from its left on its ground line, to scale, for print: black on white, in the stance that was measured.

use super::outline::{Place, at, through};
use super::side_shape::{FRAME, Shape, shape};
use crate::wire::{SideView, WheelView};
use maud::{Markup, html};
use std::fmt::Write as _;

/// Half width of a wheel opening, height of the rocker edge, lower edge at nose and tail; thousandths of the wheelbase.
const OPENING: (f64, f64, f64) = (139.0, 14.0, 22.0);
const WIDTH: f64 = 680.0;
const MARGIN: f64 = 16.0;

/// Where things stand in the picture.
#[derive(Clone, Copy)]
struct Stage<'a> {
    side: &'a SideView,
    k: f64,
    x0: f64,
    ground: f64,
}

impl Stage<'_> {
    /// mm behind the front axle and above level ground.
    fn place(&self, s_mm: f64, z_mm: f64) -> Place {
        (self.x0 + s_mm * self.k, self.ground - z_mm * self.k)
    }

    fn rail(&self, s_mm: f64) -> f64 {
        let side = self.side;
        side.rail_front_mm + (side.rail_rear_mm - side.rail_front_mm) * s_mm / side.wheelbase_mm
    }

    /// Thousandths of the wheelbase behind the front axle and above the rail line.
    fn ride(&self, (s, h): Place) -> Place {
        let unit = self.side.wheelbase_mm / 1000.0;
        self.place(s * unit, self.rail(s * unit) + h * unit)
    }

    fn smooth(&self, anchors: &[(Place, bool)], start: char) -> String {
        let mut out = String::new();
        let Some(((first, _), _)) = anchors.split_first() else { return out };
        let _ = write!(out, "{start}{}", at(self.ride(*first)));
        let mut run = vec![self.ride(*first)];
        for (anchor, corner) in &anchors[1..] {
            run.push(self.ride(*anchor));
            if *corner {
                through(&run, &mut out);
                run = vec![self.ride(*anchor)];
            }
        }
        through(&run, &mut out);
        out
    }

    fn curve(&self, notation: &str, start: char) -> String {
        self.smooth(&anchors(notation), start)
    }

    /// Height of the lip above the rail line; where none was read, just above the tire.
    fn lip(&self, read: Option<f64>, wheel: &WheelView, s_mm: f64) -> f64 {
        let z = read.unwrap_or(wheel.loaded_radius_mm + wheel.free_radius_mm * 0.9);
        ((z - self.rail(s_mm)) * 1000.0 / self.side.wheelbase_mm).clamp(60.0, 190.0)
    }

    fn lips(&self) -> (f64, f64) {
        let side = self.side;
        (
            self.lip(side.lip_front_mm, &side.front_wheel, 0.0),
            self.lip(side.lip_rear_mm, &side.rear_wheel, side.wheelbase_mm),
        )
    }

    /// The car's own parts.
    fn body(&self, drawn: &Shape) -> Parts {
        let side = self.side;
        let lower = self.lower_edge([OPENING.2, OPENING.1, OPENING.1, OPENING.2]);
        let shell = html! {
            @if let Some((s, h, r)) = drawn.lamp {
                @let (x, y) = self.ride((s, h));
                circle.body cx=(px(x)) cy=(px(y)) r=(px(r * side.wheelbase_mm * self.k / 1000.0)) {}
            }
            @if !drawn.body.is_empty() {
                path.body d=(self.curve(drawn.body, 'M') + if drawn.closed { &lower } else { "Z" }) {}
            }
            @for piece in drawn.pieces { path.body d=(self.curve(piece, 'M') + "Z") {} }
            @for line in drawn.details { path.detail d=(self.curve(line, 'M')) {} }
            @for line in drawn.strokes { path.stroke d=(self.curve(line, 'M')) {} }
        };
        Parts {
            closed: drawn.closed,
            frame: self.curve(FRAME[0], 'M') + &self.curve(FRAME[1], 'L') + "Z",
            shell,
            wheels: html! { (self.wheel(&side.front_wheel, 0.0)) (self.wheel(&side.rear_wheel, side.wheelbase_mm)) },
            fenders: drawn.fenders.map(|(front, rear)| self.fenders(front, rear)),
        }
    }

    /// A wheel opening from its rear edge over the lip to its front edge.
    fn arch(&self, s: f64, top: f64, from: f64, to: f64) -> String {
        let half = OPENING.0;
        let bend = |points: [Place; 3]| {
            let [a, b, c] = points.map(|point| at(self.ride(point)));
            format!("C{a} {b} {c}")
        };
        bend([(s + half, from + 0.72 * (top - from)), (s + 0.62 * half, top), (s, top)])
            + &bend([(s - 0.62 * half, top), (s - half, to + 0.72 * (top - to)), (s - half, to)])
    }

    /// From the tail to the nose with two wheel openings; the four heights are the edges' from tail to nose.
    fn lower_edge(&self, [tail, rear, front, nose]: [f64; 4]) -> String {
        let ((front_lip, rear_lip), half) = (self.lips(), OPENING.0);
        let line = |place: Place| format!("L{}", at(self.ride(place)));
        line((1000.0 + half, tail))
            + &self.arch(1000.0, rear_lip, tail, rear)
            + &line((half, front))
            + &self.arch(0.0, front_lip, front, nose)
            + "Z"
    }

    fn fenders(&self, front: &str, rear: &str) -> String {
        let (front_lip, rear_lip) = self.lips();
        let lifted = |notation: &str, top: f64, drawn: f64| -> Vec<(Place, bool)> {
            let lift = |h: f64| if h <= 62.0 { h } else { h + top + 30.0 - drawn };
            anchors(notation).into_iter().map(|((s, h), corner)| ((s, lift(h)), corner)).collect()
        };
        self.smooth(&lifted(front, front_lip, 149.0), 'M')
            + &self.smooth(&lifted(rear, rear_lip, 145.0), 'L')
            + &self.lower_edge([30.0, 24.0, 24.0, 34.0])
    }

    /// From mark to mark where the marks are on the frame, else between the wheels.
    fn rail_line(&self, marks: [Place; 2]) -> [Place; 2] {
        if self.side.kind == "frame_rail" {
            return marks;
        }
        [0.13, 0.86].map(|part| self.place(part * self.side.wheelbase_mm, self.rail(part * self.side.wheelbase_mm)))
    }

    fn marks(&self) -> [Place; 2] {
        let side = self.side;
        let mark = |s: f64, read: Option<f64>| self.place(s, read.unwrap_or_else(|| self.rail(s)));
        [mark(side.front_s_mm, side.front_mm.value), mark(side.rear_s_mm, side.rear_mm.value)]
    }

    fn wheel(&self, wheel: &WheelView, s_mm: f64) -> Markup {
        let (x, y) = self.place(s_mm, wheel.loaded_radius_mm);
        let radius = wheel.free_radius_mm * self.k;
        let drop = (wheel.loaded_radius_mm * self.k).min(radius);
        let half = (radius * radius - drop * drop).max(0.0).sqrt();
        let (from, to) = (at((x - half, y + drop)), at((x + half, y + drop)));
        let rim = wheel.rim_radius_mm * self.k;
        html! {
            path.tire d=(format!("M{from}A{radius:.1},{radius:.1} 0 1 1 {to}Z")) {}
            circle.body cx=(px(x)) cy=(px(y)) r=(px(rim)) {}
            circle.detail cx=(px(x)) cy=(px(y)) r=(px(rim * 0.8)) {}
            circle.detail cx=(px(x)) cy=(px(y)) r=(px(rim * 0.42)) {}
            circle.tire cx=(px(x)) cy=(px(y)) r="1.6" {}
        }
    }
}

/// The car's own parts, in the order in which they cover each other.
struct Parts {
    closed: bool,
    frame: String,
    shell: Markup,
    wheels: Markup,
    fenders: Option<String>,
}

impl Parts {
    /// With the lines of another stance between them.
    fn over(&self, under: &Markup, outline: &Markup) -> Markup {
        html! {
            path.frame d=(self.frame) {}
            @if self.closed {
                (under) (self.wheels) (self.shell) (outline)
            } @else {
                (self.shell) (under) (outline) (self.wheels)
                @if let Some(fenders) = &self.fenders { path.body d=(fenders) {} }
            }
        }
    }
}

/// "4,262c 120,272": places, and whether each is a corner.
fn anchors(notation: &str) -> Vec<(Place, bool)> {
    let anchor = |word: &str| {
        let corner = word.ends_with('c');
        let (s, h) = word.trim_end_matches('c').split_once(',')?;
        Some(((s.parse().ok()?, h.parse().ok()?), corner))
    };
    notation.split_whitespace().filter_map(anchor).collect()
}

fn px(value: f64) -> String {
    format!("{value:.1}")
}

/// Another stance on the same wheels: its lines only, in black.
pub(super) struct Over<'a> {
    /// Where it is drawn.
    pub(super) side: &'a SideView,
    /// `target`, `earlier`, `predicted`: the class of its lines.
    pub(super) line: &'static str,
    /// In words.
    pub(super) text: &'a str,
}

/// The car alone at `k` px a mm, its front wheel's foot at the origin, and how far it reaches ahead of and behind its axles, mm.
pub(super) fn car(side: &SideView, k: f64) -> (Markup, [f64; 2]) {
    let drawn = shape(side.outline);
    let stage = Stage { side, k, x0: 0.0, ground: 0.0 };
    let [from, to] = stage.rail_line(stage.marks()).map(at);
    let none = Markup::default();
    let picture = html! { (stage.body(&drawn).over(&none, &none)) path.rail d=(format!("M{from}L{to}")) {} };
    let (before, behind) = drawn.overhang;
    (picture, [before, behind].map(|part| part * side.wheelbase_mm))
}

/// The picture; under the two marks is room for their numbers at the places that are handed back, px of 680.
pub(super) fn side_view(side: &SideView) -> (Markup, [f64; 2]) {
    with_over(side, None)
}

/// The same with another stance over it.
pub(super) fn with_over(side: &SideView, over: Option<&Over<'_>>) -> (Markup, [f64; 2]) {
    let drawn = shape(side.outline);
    let (before, behind) = drawn.overhang;
    let k = (WIDTH - 2.0 * MARGIN) / (side.wheelbase_mm * (before + 1.0 + behind));
    let top = |wheel: &WheelView| wheel.loaded_radius_mm + wheel.free_radius_mm;
    let highest = |side: &SideView| side.rail_front_mm.max(side.rail_rear_mm);
    let rails = over.map_or(highest(side), |over| highest(side).max(highest(over.side)));
    let roof = rails + drawn.top * side.wheelbase_mm / 1000.0;
    let rise = roof.max(top(&side.front_wheel)).max(top(&side.rear_wheel)) * k;
    let ground = rise + 8.0;
    let stage = Stage { side, k, x0: MARGIN + before * side.wheelbase_mm * k, ground };
    let marks = stage.marks();
    let body = stage.body(&drawn);
    let pitch = 100.0 * k;
    let ticks =
        (-(stage.x0 / pitch) as i32..=((WIDTH - stage.x0) / pitch) as i32).fold(String::new(), |mut ticks, n| {
            let _ = write!(
                ticks,
                "M{:.1},{ground:.1}v{}",
                stage.x0 + f64::from(n) * pitch,
                if n % 5 == 0 { 11 } else { 6 }
            );
            ticks
        });
    let rail = stage.rail_line(marks);
    let (under, outline, other_marks) = over.map_or_else(Default::default, |over| lines_over(&stage, over));
    let picture = html! {
        svg width=(WIDTH) height=(px(ground + 34.0)) viewBox=(format!("0 0 {WIDTH} {:.1}", ground + 34.0)) role="img" aria-label=(over.map_or(side.text.as_str(), |over| over.text)) {
            (body.over(&under, &outline))
            path.rail d=(format!("M{}L{}", at(rail[0]), at(rail[1]))) {}
            path.ground d=(format!("M0,{ground:.1}H{WIDTH}")) {}
            path.tick d=(ticks) {}
            @for (x, y) in marks {
                path.leader d=(format!("M{x:.1},{y:.1}V{:.1}", ground + 34.0)) {}
                circle.tire cx=(px(x)) cy=(px(y)) r="5.5" {}
            }
            (other_marks)
        }
    };
    (picture, marks.map(|(x, _)| x))
}

/// The other stance's rail, its outline, and its two marks.
fn lines_over(stage: &Stage<'_>, over: &Over<'_>) -> (Markup, Markup, Markup) {
    let drawn = shape(over.side.outline);
    let other = Stage { side: over.side, ..*stage };
    let marks = other.marks();
    let [from, to] = other.rail_line(marks).map(at);
    let lower = other.lower_edge([OPENING.2, OPENING.1, OPENING.1, OPENING.2]);
    let outline = if drawn.body.is_empty() {
        other.curve(FRAME[0], 'M') + &other.curve(FRAME[1], 'L') + "Z"
    } else {
        other.curve(drawn.body, 'M') + if drawn.closed { &lower } else { "Z" }
    };
    let stroke = |d: &str, class: &str| {
        html! {
            path class=(format!("over {} {class}", over.line)) d=(d) {}
            @if over.line == "predicted" { path class=(format!("between {class}")) d=(d) {} }
        }
    };
    let symbols = html! { @for (x, y) in marks { (symbol(over.line, x, y)) } };
    (stroke(&format!("M{from}L{to}"), "rail"), stroke(&outline, "outline"), symbols)
}

/// A stance's mark in print: open diamond, open square, double ring.
pub(super) fn symbol(line: &str, x: f64, y: f64) -> Markup {
    html! {
        @match line {
            "target" => path.symbol d=(format!("M{x:.1},{:.1}l6.5,6.5l-6.5,6.5l-6.5,-6.5Z", y - 6.5)) {},
            "earlier" => rect.symbol x=(px(x - 4.5)) y=(px(y - 4.5)) width="9" height="9" {},
            "now" => circle.tire cx=(px(x)) cy=(px(y)) r="5.5" {},
            _ => { circle.symbol cx=(px(x)) cy=(px(y)) r="5.4" {} circle.symbol cx=(px(x)) cy=(px(y)) r="2.6" {} }
        }
    }
}
