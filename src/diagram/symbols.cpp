// SPDX-License-Identifier: Apache-2.0
// In the manner of IEC 60617, "Graphical symbols for diagrams". Source: from memory; the database
// itself was not read. Each covers the conductor beneath it and draws it again as far as it goes.
#include "symbols.hpp"

namespace housepower::diagram {
namespace {

struct Pen {
  Svg& svg;
  Svg::Stroke stroke;
  Box b;
  double y;  // of the conductor

  void line(std::vector<Point> points) const { svg.line(points, stroke); }
  void cover() const { svg.box(b, Ink::paper); }
  /// A box with paper in it.
  void frame() const {
    cover();
    svg.frame(b, stroke);
  }
  [[nodiscard]] Point at(double x, double dy) const { return {b.x + x * b.width, y + dy}; }
  void letters(double x, double dy, const char* text) const {
    Svg::Text style;
    style.size = 8.0;
    style.anchor = Svg::Text::Anchor::middle;
    svg.text(at(x, dy), text, style);
  }
};

/// Long plate plus, short plate minus.
void battery(const Pen& p) {
  p.cover();
  p.line({p.at(0.25, -6.0), p.at(0.25, 6.0)});
  p.line({p.at(0.5, -3.0), p.at(0.5, 3.0)});
  p.line({p.at(0.75, -6.0), p.at(0.75, 6.0)});
  p.line({p.at(1.0, -3.0), p.at(1.0, 3.0)});
}

/// A box with the conductor through it.
void fuse(const Pen& p) {
  p.frame();
  p.line({p.at(0.0, 0.0), p.at(1.0, 0.0)});
}

/// The open blade of a switch, hinged on the right.
void blade(const Pen& p) {
  p.cover();
  p.line({p.at(0.0, 0.0), p.at(0.25, 0.0)});
  p.line({p.at(0.27, -4.5), p.at(0.75, 0.0), p.at(1.0, 0.0)});
}
void isolator(const Pen& p) {
  blade(p);
  p.line({p.at(0.25, -2.5), p.at(0.25, 2.5)});
}
void circuit_breaker(const Pen& p) {
  blade(p);
  p.line({p.at(0.15, -2.0), p.at(0.35, 2.0)});
  p.line({p.at(0.15, 2.0), p.at(0.35, -2.0)});
}
void contactor(const Pen& p) {
  blade(p);
  p.line({p.at(0.25, 0.0), p.at(0.21, -1.6), p.at(0.12, -1.6), p.at(0.08, 0.0)});
}

/// A resistor with two separate terminals for the voltage.
void shunt(const Pen& p) {
  p.cover();
  const Box body{p.b.x, p.y - 2.5, p.b.width, 5.0};
  p.svg.frame(body, p.stroke);
  p.line({p.at(0.25, -2.5), p.at(0.25, -5.0)});
  p.line({p.at(0.75, -2.5), p.at(0.75, -5.0)});
}

/// The female half as a cup, the male as a bar in it.
void plug(const Pen& p) {
  p.cover();
  p.line({p.at(0.0, 0.0), p.at(0.2, 0.0)});
  p.line({p.at(0.65, -4.0), p.at(0.35, -3.2), p.at(0.2, 0.0), p.at(0.35, 3.2), p.at(0.65, 4.0)});
  Svg::Stroke thick = p.stroke;
  thick.width *= 3.0;
  p.svg.line({p.at(0.4, 0.0), p.at(0.8, 0.0)}, thick);
  p.line({p.at(0.8, 0.0), p.at(1.0, 0.0)});
}

/// A square parted aslant: what comes in above, what goes out below. "=" direct, "~" alternating.
void converter(const Pen& p, const char* in, const char* out) {
  p.frame();
  p.line({p.at(0.0, 9.5), p.at(1.0, -9.5)});
  p.letters(0.28, -1.5, in);
  p.letters(0.72, 7.0, out);
}

/// A cell in a box, and light that falls on it.
void array(const Pen& p) {
  p.frame();
  p.line({p.at(0.5, -5.5), p.at(0.5, 5.5)});
  p.line({p.at(0.68, -2.5), p.at(0.68, 2.5)});
  for (const double dy : {-6.0, -2.5}) {
    p.line({p.at(0.08, dy), p.at(0.36, dy + 3.6)});
    p.line({p.at(0.22, dy + 3.4), p.at(0.36, dy + 3.6), p.at(0.33, dy + 1.6)});
  }
}

void load(const Pen& p) { p.frame(); }

void terminal(const Pen& p) {
  p.svg.dot({p.b.x + p.b.width / 2.0, p.y}, p.b.width / 2.0, Ink::paper);
  p.svg.circle({p.b.x + p.b.width / 2.0, p.y}, p.b.width / 2.0 - 0.5, p.stroke);
}

/// A source outside: a circle with its polarity.
void vehicle(const Pen& p) {
  const Point middle = p.at(0.5, 0.0);
  p.svg.dot(middle, 7.0, Ink::paper);
  p.svg.circle(middle, 7.0, p.stroke);
  p.letters(0.5, 2.8, "G");
}

void chassis(const Pen& p) {
  p.line({p.at(0.0, 0.0), p.at(0.5, 0.0), p.at(0.5, 3.0)});
  p.line({p.at(0.1, 3.0), p.at(0.9, 3.0)});
  for (const double x : {0.2, 0.5, 0.8}) p.line({p.at(x, 3.0), p.at(x - 0.2, 6.0)});
}

/// It goes on elsewhere.
void onward(const Pen& p) {
  p.svg.area({p.at(0.0, -4.0), p.at(1.0, 0.0), p.at(0.0, 4.0)}, Ink::plain);
}

}  // namespace

void draw_symbol(Svg& svg, const DiagramSymbol& s) {
  const bool fails = s.verdict == checks::Verdict::fail;
  const Pen p{svg,
              {fails ? Ink::alarm : Ink::plain, fails ? 2.0 : 0.9, {}},
              s.box,
              s.box.y + s.box.height / 2.0};
  switch (s.symbol) {
  case Symbol::battery: return battery(p);
  case Symbol::fuse: return fuse(p);
  case Symbol::circuit_breaker: return circuit_breaker(p);
  case Symbol::isolator: return isolator(p);
  case Symbol::contactor: return contactor(p);
  case Symbol::shunt: return shunt(p);
  case Symbol::plug: return plug(p);
  case Symbol::converter: return converter(p, "=", "=");
  case Symbol::charger: return converter(p, "~", "=");
  case Symbol::inverter: return converter(p, "=", "~");
  case Symbol::array: return array(p);
  case Symbol::load: return load(p);
  case Symbol::terminal: return terminal(p);
  case Symbol::vehicle: return vehicle(p);
  case Symbol::chassis: return chassis(p);
  case Symbol::onward: return onward(p);
  }
}

}  // namespace housepower::diagram
